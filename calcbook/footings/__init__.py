"""Pads under posts and thickened edges under walls."""
