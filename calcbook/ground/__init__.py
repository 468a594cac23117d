"""Below the slab: stone, forms, vapor retarder."""
