"""The slab as it is: the whole plan as a thin plate on springs that push and cannot pull.

``model`` says what a plate and its loads are, ``front`` works them out. Nothing here is imported
by the rest of the book until a plate is asked for.
"""
