"""A plate so large that its load does not feel the other sides: the published solutions of slabs.

Sources: Westergaard's and Ioannides' solutions as in TRR 1043 (Ioannides, Thompson, Barenberg, 1985).
A weight that presses all soil alike keeps it in contact, as those solutions let it pull too.
"""

import math

import numpy as np
import pytest
from shapely import Point, box

from calcbook.plate.front import prepared
from calcbook.plate.model import Area, Case, Patch, Plate, print_at
from calcbook.slab.westergaard import (
    corner_deflection_ioannides,
    corner_stress_ioannides,
    edge_deflection_circle,
    edge_stress_circle,
    interior_deflection,
    interior_stress,
)  # fmt: skip

E_C, NU, P = 4e6, 0.15, 10_000.0  # psi, -, lbf
SLABS = [(6.0, 10.0, 100.0), (4.0, 5.0, 100.0), (7.0, 4.0, 50.0)]  # a in., h in., k pci
PRESS = 20_000.0  # psf, evenly


def given(a, h, k):
    return {"P": P, "a": a, "h": h, "E_c": E_C, "nu": NU, "k": k}


def slab(h, k, reaches=16):
    side = reaches * (E_C * h**3 / (12 * (1 - NU**2)) / k) ** 0.25 / 12
    return Plate((box(0, 0, side, side),), h, k, E_C, NU, 0.0), side


def circle(x, y, a):
    """A load circle as a polygon of its area. x, y: ft; a: in."""
    round_ = Point(x, y).buffer(a / 12, quad_segs=16)
    grown = math.sqrt(math.pi * (a / 12) ** 2 / round_.area)
    return Patch(Point(x, y).buffer(a / 12 * grown, quad_segs=16), P)


def solved(plate, load):
    """The plate under a load, without what presses it evenly: (result, that deflection)."""
    even = Area(PRESS)
    return prepared(plate, (load,)).solve(Case("", (load, even), 0.0)), PRESS / 144 / plate.k


def at(result, x, y):
    return result.at(np.array([x]), np.array([y]))


@pytest.mark.parametrize(("a", "h", "k"), SLABS)
def test_deflection_inside_is_westergaard_s_within_1_percent(a, h, k):
    """Against the closed form of TRR 1043, named at the head."""
    plate, side = slab(h, k)
    result, even = solved(plate, circle(side / 2, side / 2, a))
    found = at(result, side / 2, side / 2).deflection[0] - even
    assert found == pytest.approx(interior_deflection.bulk(**given(a, h, k)), rel=0.01)


def test_stress_under_a_wide_circle_inside_is_westergaard_s_within_1_percent():
    a, h, k = SLABS[2]  # wider than 1.724 h: b = a, so thin-plate theory is the formula's own
    plate, side = slab(h, k)
    result, _ = solved(plate, circle(side / 2, side / 2, a))
    assert at(result, side / 2, side / 2).bottom[0] == pytest.approx(
        interior_stress.bulk(**given(a, h, k)), rel=0.01
    )


@pytest.mark.parametrize(("a", "h", "k"), SLABS)
def test_stress_under_a_print_inside_is_westergaard_s_with_his_equivalent_radius_within_2_percent(
    a, h, k
):
    """Against the closed form of TRR 1043, named at the head."""
    plate, side = slab(h, k)
    result, _ = solved(plate, print_at(side / 2, side / 2, P, math.pi * a**2, h))
    assert at(result, side / 2, side / 2).bottom[0] == pytest.approx(
        interior_stress.bulk(**given(a, h, k)), rel=0.02
    )


@pytest.mark.parametrize(("a", "h", "k"), SLABS)
def test_a_circle_that_touches_a_free_edge_is_westergaard_s_within_2_percent(a, h, k):
    """The deflection formula drops terms of (a/l)^2, which show where the load is wide beside l."""
    plate, side = slab(h, k)
    result, even = solved(plate, circle(side / 2, a / 12, a))
    edge = at(result, side / 2, 0.0)
    assert edge.bottom[0] == pytest.approx(edge_stress_circle.bulk(**given(a, h, k)), rel=0.02)
    assert edge.deflection[0] - even == pytest.approx(
        edge_deflection_circle.bulk(**given(a, h, k)), rel=0.02
    )


@pytest.mark.parametrize(("a", "h", "k", "within"), [(6.0, 10.0, 100.0, 0.03), (4.0, 5.0, 100.0, 0.04)])
def test_a_square_at_a_corner_is_near_ioannides_fit(a, h, k, within):
    """A fit to finite elements, not a solution; the tension at the top is read on the diagonal."""
    plate, _ = slab(h, k)
    c = math.sqrt(math.pi) * a / 12
    result, even = solved(plate, Patch(box(0, 0, c, c), P))
    diagonal = np.linspace(0, 4 * plate.reach / 12, 200)
    top = result.at(diagonal, diagonal).top.max()
    assert top == pytest.approx(corner_stress_ioannides.bulk(**given(a, h, k)), rel=within)
    assert at(result, 0, 0).deflection[0] - even == pytest.approx(
        corner_deflection_ioannides.bulk(**given(a, h, k)), rel=0.01
    )
