"""Control joints: spacing, depth, layout."""
