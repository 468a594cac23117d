"""Sill bolts: places, strength of wood, steel and concrete, cast now or drilled later."""
