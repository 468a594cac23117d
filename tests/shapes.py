"""Outlines for tests: named ones, and random ones for hypothesis."""

import math

from hypothesis import strategies as st
from shapely import affinity

from calcbook.plan.outline import EdgeRing, Plan, Thickening, disc, read_outline, rectangle

L_SHAPE = read_outline([(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)])
T_SHAPE = read_outline([(0, 0), (10, 0), (10, 12), (25, 12), (25, 20), (-15, 20), (-15, 12), (0, 12)])
U_SHAPE = read_outline([(0, 0), (40, 0), (40, 30), (28, 30), (28, 12), (12, 12), (12, 26), (0, 26)])
CUT_CORNER = read_outline([(0, 0), (36, 0), (40, 4), (40, 24), (30, 24), (24, 30), (0, 30)])
C_SHAPE = read_outline([(0, 0), (33, 0), (33, 20), (0, 20), (0, 14), (8, 14), (8, 8), (0, 8)])
RECTANGLE = rectangle(24, 30)
NAMED = {
    "L": L_SHAPE,
    "T": T_SHAPE,
    "U": U_SHAPE,
    "cut": CUT_CORNER,
    "C": C_SHAPE,
    "rectangle": RECTANGLE,
}

EDGE = EdgeRing(11 / 12, 1.0, 1.0)


def demo_like(edge=EDGE):
    """The L with drain, trench, three posts and a pad at the edge."""
    return Plan(
        L_SHAPE,
        [("drain", disc(20, 9, 1)), ("trench", rectangle(6, 1.5, 2, 21))],
        [
            Thickening.pad("P1", 14, 14, 3, 3, 0.75),
            Thickening.pad("P2", 28, 9, 2.5, 2.5, 0.75),
            Thickening.pad("P3", 20, 20, 2.5, 2.5, 0.75),
            Thickening.pad("ridge", 1, 14, 3, 3.5, 11 / 12),
        ],
        edge,
    )


@st.composite
def skylines(draw, bars=4):
    """Outlines of right angles: bars side by side, each reaching from its bottom to its top."""
    count = draw(st.integers(1, bars))
    widths = draw(st.lists(st.integers(4, 15), min_size=count, max_size=count))
    bottoms = draw(st.lists(st.integers(0, 8), min_size=count, max_size=count))
    tops = draw(st.lists(st.integers(14, 30), min_size=count, max_size=count))
    x, lower, upper = 0, [], []
    for width, bottom, top in zip(widths, bottoms, tops, strict=True):
        lower += [(x, bottom), (x + width, bottom)]
        upper += [(x, top), (x + width, top)]
        x += width
    return read_outline(_tidy(lower + upper[::-1]))


def _tidy(points):
    found = [p for k, p in enumerate(points) if p != points[k - 1]]
    return found


@st.composite
def stars(draw):
    """Outlines of slanted sides: corners at growing angles about a centre."""
    count = draw(st.integers(4, 9))
    reach = draw(st.lists(st.floats(10, 20), min_size=count, max_size=count))
    turn = draw(st.floats(0, 1))
    angles = [2 * math.pi * (k + turn) / count for k in range(count)]
    return read_outline(
        [(r * math.cos(a), r * math.sin(a)) for r, a in zip(reach, angles, strict=True)]
    )


outlines = st.one_of(skylines(), stars())


def moved(plan, change):
    """A plan with every shape of it changed in one way; change: a function of a shapely polygon."""
    return Plan(
        change(plan.outline),
        [(name, change(shape)) for name, shape in plan.openings],
        [Thickening(t.name, change(t.bottom), t.depth, t.slope, t.kind) for t in plan.thickenings],
        plan.edge,
    )


def turned(shape, angle=33.0, dx=7.25, dy=-3.5):
    return affinity.translate(affinity.rotate(shape, angle, origin=(0, 0)), dx, dy)
