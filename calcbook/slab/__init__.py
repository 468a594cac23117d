"""The slab under wheels, posts, racks and walls, on its soil."""
