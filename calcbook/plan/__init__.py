"""Geometry of a slab in plan and section, and the drawings of it."""
