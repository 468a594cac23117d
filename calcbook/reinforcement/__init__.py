"""Fiber, mesh and bars in the slab."""
