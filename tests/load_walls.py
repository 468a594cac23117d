"""Walls for the tests of the load path, by hand and at random."""

from hypothesis import strategies as st

from calcbook.loads.wall import Loads, Opening, Point, Wall

plf = st.floats(0, 2000)
loads = st.builds(Loads, D=plf, L=plf, S=plf, W=plf)


@st.composite
def walls(draw, door=None):
    """A wall of whole feet with up to three openings that do not touch, and points on it."""
    length = draw(st.integers(12, 60))
    cuts = sorted(draw(st.sets(st.integers(1, length - 1), max_size=6)))
    pairs = list(zip(cuts[::2], cuts[1::2], strict=False))
    openings = tuple(Opening(a, b, draw(st.booleans()) if door is None else door) for a, b in pairs)
    points = tuple(
        Point(f"post {k}", draw(st.floats(0, length)), draw(loads))
        for k in range(draw(st.integers(0, 2)))
    )
    return Wall(
        "wall", length, draw(st.floats(7, 12)), openings, draw(loads), draw(st.floats(0, 150)), points,
        draw(plf), draw(plf),
    )  # fmt: skip


def bolted(wall, spacing=4.0):
    """(pieces, bolts) of a wall: the plate between its doors, bolts a foot (or a fifth) from its ends."""
    bolts = []
    for number, (a, b) in enumerate(wall.plated):
        inset = min(1.0, (b - a) / 5)
        n = max(2, int((b - a - 2 * inset) / spacing) + 1)
        bolts += [(number, a + inset + k * (b - a - 2 * inset) / (n - 1)) for k in range(n)]
    return wall.plated, bolts
