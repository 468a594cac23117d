"""The load path from header to bolts: benchmarks by statics, and laws that hold for every wall."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from load_walls import bolted, walls

from calcbook.loads.closing import LIFT, LIFT_STRENGTH, close, combination, combinations
from calcbook.loads.path import Jamb, OnPlate, bolt_forces, on_plate, upward
from calcbook.loads.statics import (
    far_reaction,
    header_reaction,
    lever_tension,
    net_uplift,
    wall_weight,
    wind_behind,
)
from calcbook.loads.wall import Loads, Opening, Point, Wall

UP = {"D": 1.0, "L": 0.0, "S": 0.0, "W": 1.0, "name": "W - D", "kind": "allowable"}


def wall_up(u, openings=(), length=24.0):
    return Wall("wall", length, 9.0, tuple(openings), Loads(W=u))


# --- derived benchmarks: each number follows from statics by hand ------------------------------


def test_net_uplift_of_a_roof_at_service_and_at_strength_level():
    """Derived: truss 28 ft and 1 ft overhang, D 15, W 25 psf, wall 90 plf: 225 + 90 and 375 plf."""
    loads, own = Loads(D=225, S=450, W=375), 90
    assert upward(loads, combination(LIFT), own) == pytest.approx(36)
    assert upward(loads, combination(LIFT_STRENGTH), own) == pytest.approx(91.5)
    assert net_uplift("375 plf", "315 plf", 0.6, 0.6).m_as("plf") == pytest.approx(36)


@pytest.mark.form("FEMA P-55", "0.6 D + 0.6 W", "net_uplift", "wind_behind")
def test_wind_behind_a_net_uplift_gives_that_uplift_back_and_more_at_strength_level():
    w_W = wind_behind("36 plf", "315 plf")
    assert net_uplift(w_W, "315 plf", 0.6, 0.6).m_as("plf") == pytest.approx(36)
    assert net_uplift(w_W, "315 plf", 1.0, 0.9).m_as("plf") == pytest.approx(91.5)
    assert 91.5 > 36 / 0.6  # dead load that helps makes service over 0.6 unsafe


@pytest.mark.worked("header_reaction")
@pytest.mark.parametrize(("start", "end", "jamb"), [(6, 15, 1350), (4, 20, 2400)])
def test_header_gives_half_to_each_jamb(start, end, jamb):
    """Derived: 300 plf over 9 ft and over 16 ft of a 24 ft wall; both sum to 7,200 lb."""
    on = on_plate(wall_up(300, [Opening(start, end)]), UP)
    assert [p.load for p in on.points] == pytest.approx([jamb, jamb])
    assert on.total == pytest.approx(7200)
    assert header_reaction("300 plf", f"{end - start} ft").m_as("lbf") == pytest.approx(jamb)


@pytest.mark.worked("lever_tension")
def test_jamb_beyond_the_last_bolt_loads_it_by_lever():
    """Derived: 1,350 lb at 6 ft, bolts at 1 and 5 ft: 1,687.5 and -337.5; 300 plf adds 900 each."""
    jamb = OnPlate((), (Jamb("jamb", 6.0, 1350.0),))
    first, last = bolt_forces(jamb, [(0, 6)], [(0, 1.0), (0, 5.0)])[0]
    assert (first.reaction, last.reaction) == pytest.approx((-337.5, 1687.5))
    assert (first.tension, last.tension) == pytest.approx((0, 1687.5))
    both = OnPlate(((0.0, 6.0, 300.0),), jamb.points)
    first, last = bolt_forces(both, [(0, 6)], [(0, 1.0), (0, 5.0)])[0]
    assert (first.reaction, last.reaction) == pytest.approx((562.5, 2587.5))
    assert last.tension == pytest.approx(2587.5) and last.by_points == pytest.approx(1687.5)
    assert first.tension == pytest.approx(900)  # by its own length; the lever relieves nothing
    assert lever_tension("1350 lbf", "12 in", "48 in").m_as("lbf") == pytest.approx(1687.5)
    assert lever_tension("1350 lbf", "24 in", "36 in").m_as("lbf") == pytest.approx(2250)


def test_inner_bolts_take_what_stands_between_them():
    on = OnPlate((), (Jamb("post", 3.0, 1000.0),))
    forces = bolt_forces(on, [(0, 10)], [(0, 1.0), (0, 5.0), (0, 9.0)])[0]
    assert [f.reaction for f in forces] == pytest.approx([500, 500, 0])
    assert forces[0].tension == 1000  # half way: the larger reading, the whole at the nearest
    assert sum(f.share for f in forces) == 10


@pytest.mark.worked("far_reaction")
def test_point_on_a_header_goes_to_its_jambs_by_statics():
    wall = Wall("w", 20, openings=(Opening(5, 15),), points=(Point("beam", 7, Loads(W=1000)),))
    assert [(p.at, p.load) for p in on_plate(wall, UP).points] == [(5, 800), (15, 200)]


def test_window_keeps_its_plate_and_a_door_does_not():
    windows = Wall("w", 20, openings=(Opening(5, 9, door=False),))
    doors = Wall("w", 20, openings=(Opening(5, 9),))
    assert windows.plated == [(0, 20)] and doors.plated == [(0, 5), (9, 20)]
    assert windows.full == doors.full == [(0, 5), (9, 20)]


def test_jamb_without_plate_is_told_as_loose():
    """An opening that begins at the wall's end: its outer jamb stands on no plate of this wall."""
    wall = wall_up(100, [Opening(0, 6)], 12)
    closing, _ = close(wall, UP, [(6, 12)], [(0, 7), (0, 11)])
    assert closing.loose == pytest.approx(300) and closing.remainder == pytest.approx(0)


# --- laws ----------------------------------------------------------------------------------


@given(walls(), st.sampled_from(combinations()))
def test_sums_close_in_every_combination(wall, row):
    closing, _ = close(wall, row, *bolted(wall))
    assert abs(closing.remainder) <= 1e-9 * closing.scale


@given(walls(), st.sampled_from(combinations()), st.floats(0, 3000))
def test_more_uplift_never_helps_a_bolt(wall, row, more):
    lifted = dataclasses.replace(wall, top=dataclasses.replace(wall.top, W=wall.top.W + more))
    before, after = (close(w, row, *bolted(wall))[1] for w in (wall, lifted))
    for one, other in zip(before, after, strict=True):
        assert other.tension >= one.tension - 1e-9 * max(1, one.tension)


@settings(max_examples=60)
@given(
    st.integers(4, 20), st.integers(3, 16), st.integers(1, 10), st.floats(0, 2000), st.floats(0, 400)
)
def test_wider_opening_never_helps_the_bolts_beside_it_nor_its_jambs(a, width, more, W, D):
    """The far jamb moves out: the near one carries more, and no bolt of the near piece less."""
    forces, jambs = [], []
    for b in (a + width, a + width + more):
        wall = Wall("w", 60, 9, (Opening(a, b),), Loads(D=D, W=W))
        on = on_plate(wall, combination(LIFT))
        near = [f for f in bolt_forces(on, *bolted(wall))[0] if f.piece == 0]
        forces.append([f.tension for f in near])
        jambs.append(max(on.points[0].load, 0))
    assert jambs[1] >= jambs[0]
    assert all(y >= x - 1e-9 for x, y in zip(*forces, strict=True))


@settings(max_examples=60)
@given(st.integers(3, 16), st.integers(1, 8), st.floats(0, 2000), st.floats(0.3, 3), st.floats(1, 6))
def test_wider_opening_never_helps_a_last_bolt_that_keeps_its_distance(width, more, W, c, s):
    """Both jambs move out and the bolts with them."""
    found = []
    for half in (width / 2, (width + more) / 2):
        wall = Wall("w", 60, 9, (Opening(30 - half, 30 + half),), Loads(W=W))
        last = 30 - half - c
        forces = bolt_forces(
            on_plate(wall, UP), [(0, 30 - half)], [(0, 1.0), (0, last - s), (0, last)]
        )[0]
        found.append(forces[-1].by_points)
    assert found[1] >= found[0]


@given(walls(door=True), st.sampled_from(combinations()))
def test_splitting_a_wall_in_two_at_a_joint_of_its_plate_changes_no_bolt(wall, row):
    pieces, bolts = bolted(wall)
    at = next(((a + b) / 2 for a, b in pieces if b - a > 2), None)
    if at is None or any(abs(p.at - at) < 1e-6 for p in wall.points):
        return
    pieces = [q for a, b in pieces for q in ([(a, at), (at, b)] if a < at < b else [(a, b)])]
    bolts = [(n, x) for n, (a, b) in enumerate(pieces) for x in (a + (b - a) / 5, b - (b - a) / 5)]
    whole = close(wall, row, pieces, bolts)[1]
    halves = []
    for low, high in ((0, at), (at, wall.length)):
        part = dataclasses.replace(
            wall, length=high - low,
            openings=tuple(Opening(o.start - low, o.end - low) for o in wall.openings if low <= o.start < high),
            points=tuple(dataclasses.replace(p, at=p.at - low) for p in wall.points
                         if low <= p.at < high or p.at == high == wall.length),
        )  # fmt: skip
        mine = [q for q in pieces if low <= q[0] < high]
        own = [
            (n, x - low) for n, (a, b) in enumerate(mine) for x in (a + (b - a) / 5, b - (b - a) / 5)
        ]
        halves += close(part, row, [(a - low, b - low) for a, b in mine], own)[1]
    assert [f.tension for f in halves] == pytest.approx([f.tension for f in whole], rel=1e-9, abs=1e-6)


@pytest.mark.worked("far_reaction", "wall_weight")
def test_reaction_and_weight_by_hand():
    """Derived: 1,000 lb at 3 ft of 12 ft gives 250 lb at the far end; 10 psf of a 9 ft wall 90 plf."""
    assert far_reaction("1000 lbf", "3 ft", "12 ft").m_as("lbf") == pytest.approx(250)
    assert wall_weight("10 psf", "9 ft").m_as("plf") == pytest.approx(90)
