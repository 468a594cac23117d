"""Loads of the building on the slab: walls, posts, combinations, and the path to the plate's bolts."""
