"""Loads on the slab and how they are combined."""
