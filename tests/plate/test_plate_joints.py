"""Joints: hinges that pass shear by a spring.

Source of the fit: Crovetti 1994, LTE = 1 / (1 + 1.2 (AGG / (k l))^-0.849), from memory; the share of the
edge's stress in design: UFC 3-260-03.
"""

import numpy as np
import pytest
from shapely import box

from calcbook.plate.front import plate_of, prepared
from calcbook.plate.model import Area, Case, Joint, Patch, Plate, PlateError, joint_spring

REACH = (4e6 * 6**3 / (12 * (1 - 0.15**2)) / 100) ** 0.25 / 12  # ft
SIDE = 8 * REACH
EVEN = Area(20_000.0)
LOAD = Patch(box(SIDE - 1.0, SIDE / 2 - 0.5, SIDE, SIDE / 2 + 0.5), 9000.0)


def two_slabs(spring, weight=0.0):
    """Two slabs that meet along x = SIDE."""
    joint = Joint(((SIDE, 0.0), (SIDE, SIDE)), spring)
    outlines = (box(0, 0, SIDE, SIDE), box(SIDE, 0, 2 * SIDE, SIDE))
    return Plate(outlines, 6.0, 100.0, 4e6, 0.15, weight, joints=(joint,))


def beside(spring):
    """Both sides of the joint under the load: (deflections, stresses), the even part left out."""
    result = prepared(two_slabs(spring), (LOAD,)).solve(Case("", (LOAD, EVEN), 0.0))
    found = result.at(np.array([SIDE - 1e-3, SIDE + 1e-3]), np.full(2, SIDE / 2))
    return found.deflection - 20_000 / 144 / 100, found.bottom


def test_an_isolation_joint_leaves_the_other_slab_alone():
    down, stress = beside(0.0)
    assert down[0] > 0.01 and abs(down[1]) < 1e-9 and stress[1] < 1e-4


def test_a_stiff_joint_lets_both_sides_down_alike_and_takes_up_to_half_of_the_stress():
    free, held = beside(0.0), beside(1e9)
    assert held[0][1] == pytest.approx(held[0][0], rel=2e-3)
    assert 0.5 <= held[1][0] / free[1][0] < 0.65


@pytest.mark.parametrize("efficiency", [0.2, 0.5, 0.8, 0.9])
def test_a_joint_s_spring_gives_its_share_of_deflection_within_5_points(efficiency):
    """The fit is for one size of print; the plate works it out for the print at hand."""
    down, _ = beside(joint_spring(efficiency, 100.0, REACH * 12))
    assert down[1] / down[0] == pytest.approx(efficiency, abs=0.05)


def test_the_25_percent_of_design_is_about_three_quarters_by_deflection():
    """UFC 3-260-03 takes a quarter of the free edge's stress off at a joint that passes load."""
    free = beside(0.0)[1][0]
    off = [1 - beside(joint_spring(e, 100.0, REACH * 12))[1][0] / free for e in (0.6, 0.9)]
    assert off[0] < 0.25 < off[1]


def test_a_joint_passes_no_bending_across():
    result = prepared(two_slabs(1e9), (LOAD,)).solve(Case("", (LOAD, EVEN), 0.0))
    across = result.at(np.full(9, SIDE + 1e-3), np.linspace(0.3, 0.7, 9) * SIDE)
    assert np.abs(across.m_x).max() < 0.02 * across.m_y.max()


def test_one_slab_cut_by_a_joint_is_two_slabs_with_it():
    joint = Joint(((SIDE, -1.0), (SIDE, SIDE + 1)), 50_000.0)
    one = Plate((box(0, 0, 2 * SIDE, SIDE),), 6.0, 100.0, 4e6, 0.15, joints=(joint,))
    case = Case("", (LOAD,))
    both = one, two_slabs(50_000.0, 150.0)
    a, b = (
        prepared(p, (LOAD,), step=12.0, rough=True).solve(case).at([SIDE - 1, SIDE + 1], [4.0, 4.0])
        for p in both
    )
    assert a.deflection == pytest.approx(b.deflection, rel=1e-6)


def test_a_slanted_joint_is_followed_and_holds_both_sides_level():
    joint = Joint(((-1.0, -1.0), (13.0, 13.0)), 1e9)
    plate = Plate((box(0, 0, 12, 12),), 6.0, 100.0, 4e6, joints=(joint,))
    load = Patch(box(6.5, 4.5, 7.5, 5.5), 5000.0)
    result = plate_of(plate, Case("", (load,)))
    assert len(result.space.pieces) == 2 and result.unbalanced < 1e-8
    assert result.shear_passed(((0.0, 0.0), (12.0, 12.0))) < 0.02 * result.worst["deflection"].value


def test_a_joint_that_ends_inside_the_slab_is_told():
    joint = Joint(((5.0, 0.0), (5.0, 6.0)), 1000.0, "saw cut 1")
    plate = Plate((box(0, 0, 12, 12),), 6.0, 100.0, 4e6, joints=(joint,))
    told = plate_of(plate, Case("")).told
    assert len(told) == 1 and told[0].startswith("saw cut 1: 6.0 ft of it end inside the slab")


@pytest.mark.parametrize("efficiency", [0.0, 1.0, -0.2, float("nan")])
def test_a_share_that_no_joint_has_is_refused(efficiency):
    with pytest.raises(PlateError, match="above 0 and below 1"):
        joint_spring(efficiency, 100.0, 25.0)
