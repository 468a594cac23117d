"""Walls: sides of the outline, pieces of plate, studs, doors, bars."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.bolts.walls import (
    bar_places,
    layout_rules,
    plate_pieces,
    stud_places,
    wall_blocks,
    wall_layout,
)
from calcbook.job.schema.sections import Slab
from calcbook.job.schema.walls import Wall
from calcbook.job.wall_lines import WallError, door_spans, side_points, wall_line

SLAB = Slab(
    points=[
        ["0 ft", "0 ft"],
        ["40 ft", "0 ft"],
        ["40 ft", "18 ft"],
        ["28 ft", "18 ft"],
        ["28 ft", "28 ft"],
        ["0 ft", "28 ft"],
    ]
)
TURNED = Slab(
    points=[["0 ft", "0 ft"], ["0 ft", "20 ft"], ["30 ft", "20 ft"], ["30 ft", "0 ft"]]
)  # clockwise


def sill(**values):
    return Wall(**{"name": "w", "side": 1, **values})


def test_sides_of_a_rectangle():
    slab = Slab(length="30 ft", width="20 ft")
    assert side_points(slab) == [(0, 0), (30, 0), (30, 20), (0, 20)]
    line = wall_line(slab, sill(side=3))
    assert (line.origin, line.along, line.length) == ((30, 20), (-1, 0), 30)
    assert line.inward == pytest.approx((0, -1))


def test_inward_is_into_the_slab_either_way_round():
    assert wall_line(SLAB, sill()).inward == pytest.approx((0, 1))
    assert wall_line(TURNED, sill()).inward == pytest.approx((1, 0))
    assert wall_line(TURNED, sill()).at(5, 2) == pytest.approx((2, 5))


def test_part_of_a_side():
    line = wall_line(SLAB, sill(side=2, start="2 ft", end="10 ft"))
    assert line.origin == pytest.approx((40, 2))
    assert (line.length, line.before, line.after) == pytest.approx((8, 2, 8))


def test_where_the_slab_ends():
    """The notch turns inward at the fourth corner, (28, 18)."""
    assert wall_line(SLAB, sill(side=1)).free_ends == (True, True)
    assert wall_line(SLAB, sill(side=3)).free_ends == (True, False)
    assert wall_line(SLAB, sill(side=4)).free_ends == (False, True)
    assert wall_line(TURNED, sill()).free_ends == (True, True)


@pytest.mark.parametrize(
    ("values", "words", "key"),
    [
        ({"side": 7}, "side 7 is not there; the outline has 6 sides", "side"),
        ({"end": "41 ft"}, 'it runs from 0" to 41\'-0", but side 1 is 40\'-0" long', "end"),
        ({"side": 2, "start": "20 ft"}, "but side 2 is 18'-0\" long", "start"),
    ],
)
def test_walls_that_do_not_fit(values, words, key):
    with pytest.raises(WallError, match=words) as told:
        wall_line(SLAB, sill(**values))
    assert told.value.key == key


def test_doors_must_fit():
    twice = sill(openings=[{"start": "4 ft", "width": "3 ft"}, {"start": "6 ft", "width": "3 ft"}])
    with pytest.raises(WallError, match="two openings overlap") as told:
        door_spans(twice, Q(20, "ft"))
    assert told.value.key == "openings.1"
    with pytest.raises(WallError, match="an opening reaches beyond its end") as told:
        door_spans(sill(openings=[{"start": "18 ft", "width": "3 ft"}]), Q(20, "ft"))
    assert told.value.key == "openings.0"
    both = sill(openings=[{"start": "10 ft", "width": "3 ft"}, {"start": "4 ft", "width": "3 ft"}])
    assert door_spans(both, Q(20, "ft")) == [(768, 1344), (1920, 2496)]


FT = 192


def test_pieces_of_plate():
    """16 ft pieces; the last is never under 4 ft, where the one before can give way."""
    assert plate_pieces(sill(), Q(40, "ft")) == [(0, 16 * FT), (16 * FT, 32 * FT), (32 * FT, 40 * FT)]
    assert plate_pieces(sill(), Q(34, "ft")) == [(0, 16 * FT), (16 * FT, 30 * FT), (30 * FT, 34 * FT)]
    assert plate_pieces(sill(), Q(17, "ft")) == [(0, 13 * FT), (13 * FT, 17 * FT)]
    assert plate_pieces(sill(), Q(16, "ft")) == [(0, 16 * FT)]
    assert plate_pieces(sill(piece="3 ft"), Q(4, "ft")) == [(0, 4 * FT)]


def test_pieces_are_cut_at_doors():
    wall = sill(openings=[{"start": "10 ft", "width": "3 ft"}])
    assert plate_pieces(wall, Q(24, "ft")) == [(0, 10 * FT), (13 * FT, 24 * FT)]
    at_end = sill(openings=[{"start": "0 ft", "width": "3 ft"}])
    assert plate_pieces(at_end, Q(10, "ft")) == [(3 * FT, 10 * FT)]


def test_given_splices():
    wall = sill(openings=[{"start": "10 ft", "width": "3 ft"}])
    joints = [Q(20, "ft"), Q(5, "ft"), Q(11, "ft")]
    assert plate_pieces(wall, Q(24, "ft"), joints=joints) == [
        (0, 5 * FT), (5 * FT, 10 * FT), (13 * FT, 20 * FT), (20 * FT, 24 * FT),
    ]  # fmt: skip


def test_upper_ply_starts_with_half_a_piece():
    assert plate_pieces(sill(), Q(30, "ft"), first=0.5) == [
        (0, 8 * FT),
        (8 * FT, 24 * FT),
        (24 * FT, 30 * FT),
    ]


def test_studs():
    """One flush at each end, the others on the layout; none in a door or its jacks."""
    assert stud_places(sill(), Q(6, "ft")) == [12, 256, 512, 768, 1024, 1140]
    wall = sill(openings=[{"start": "3 ft", "width": "3 ft"}])
    assert stud_places(wall, Q(10, "ft")) == [12, 256, 512, 1280, 1536, 1792, 1908]
    assert stud_places(sill(stud_spacing="24 in"), Q(6, "ft")) == [12, 384, 768, 1140]
    assert stud_places(sill(), Q(65, "in")) == [12, 256, 512, 768, 1028]


def test_bars():
    assert bar_places(sill(), Q(10, "ft")) == []
    assert bar_places(sill(bar_spacing="48 in", bar_start="12 in"), Q(10, "ft")) == [192, 960, 1728]
    assert bar_places(sill(bar_spacing="48 in", bar_start="200 in"), Q(10, "ft")) == []


def blocks(wall, feet=10, **values):
    line = wall_line(Slab(length=f"{feet} ft", width="20 ft"), wall)
    return {
        (b.low, b.high): b.name
        for b in wall_blocks(wall, line, Q(1.625, "in"), Q(0.625, "in"), 70, **values)
    }


def test_what_bolts_must_miss():
    """A stud blocks half of 1.5 in. and 1-5/8 in. more on each side."""
    found = blocks(sill())
    assert found[(256 - 38, 256 + 38)] == "on a stud"
    door = blocks(sill(openings=[{"start": "4 ft", "width": "3 ft"}]))
    assert door[(768 - 48 - 26, 768)] == door[(1344, 1344 + 48 + 26)] == "on king or jack studs"
    three = blocks(sill(jacks=2, openings=[{"start": "4 ft", "width": "3 ft"}]))
    assert (768 - 72 - 26, 768) in three
    ends = blocks(
        sill(openings=[{"start": "0 ft", "width": "3 ft"}, {"start": "7 ft", "width": "3 ft"}])
    )
    assert [n for n in ends.values()].count("on king or jack studs") == 2


def test_bars_and_upper_joints_and_the_slab_s_end():
    barred = blocks(sill(bar_spacing="48 in", bar_start="24 in"))
    assert barred[(384 - 13, 384 + 13)] == "on a vertical bar"
    doubled = blocks(sill(plies=2, upper_splices=["5 ft"]))
    assert doubled[(960 - 70, 960 + 70)] == "at a joint of the upper ply"
    cornered = blocks(sill(start="3 in"), corner=Q(9.375, "in"))
    assert cornered[(-1, 102)] == "too near the end of the slab"
    assert cornered[(1872 - 150, 1873)] == "too near the end of the slab"
    assert (
        "too near the end of the slab"
        not in blocks(sill(start="10 in", end="9 ft 2 in"), corner=Q(9.375, "in")).values()
    )


def test_rules_of_a_wall():
    """7 and 4 diameters of 5/8 in.; 12 in. at most, or half the spacing where that is less."""
    rules = layout_rules(Q(0.625, "in"), Q(72, "in"))
    assert (rules.most, rules.least, rules.end_least, rules.end_most, rules.comfort) == (
        1152,
        40,
        70,
        192,
        24,
    )
    assert layout_rules(Q(0.625, "in"), Q(20, "in")).end_most == 160
    assert layout_rules(Q(0.625, "in"), Q(8, "in")).end_most == 134
    assert layout_rules(Q(0.625, "in"), Q(8, "in"), even_shares=False).end_most == 192
    assert layout_rules(Q(0.625, "in"), Q(72, "in"), "si").most == 1828


def test_close_bolts_fall_back_on_the_code_s_end_distance():
    """Half of 18 in. is nearer to the end of the slab than a bolt may be there; 12 in. is allowed."""
    wall = sill(stud_spacing="24 in")
    line = wall_line(Slab(length="10 ft", width="20 ft"), wall)
    layout = wall_layout(wall, line, Q(0.75, "in"), Q(18, "in"), Q(1.625, "in"), Q(11.25, "in"))
    assert not layout.problems
    assert 180 <= layout.bolts[0].place <= 192


def test_bolts_beside_bars():
    """A bolt tied to a No. 4 bar stands 1/4 + 5/16 + 1/4 in. from it, rounded up to a sixteenth."""
    wall = sill(bar_spacing="50 in", bar_start="10 in")
    line = wall_line(Slab(length="14 ft", width="20 ft"), wall)
    args = (wall, line, Q(0.625, "in"), Q(48, "in"), Q(1.625, "in"))
    tied = wall_layout(*args)
    free = wall_layout(*args, beside_bars=False)
    beside = {160 + 800 * k + s for k in range(4) for s in (-13, 13)}
    assert any(b.place in beside for b in tied.bolts) and not any(b.place in beside for b in free.bolts)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(5, 60), st.sampled_from([12, 16, 24]), st.integers(14, 72), st.sampled_from([0.5, 0.625, 0.75]), st.integers(1, 2),
    st.lists(st.tuples(st.integers(2, 50), st.integers(2, 9)), max_size=2), st.sampled_from([None, 24, 48]), st.booleans(),
    st.sampled_from(["us", "si"]), st.integers(0, 3),
)  # fmt: skip
def test_every_wall_is_bolted_by_the_rules_or_says_which_cannot_be(
    feet, stud, spacing, d, plies, doors, bars, joint, system, jacks
):
    """Every bolt is measured in plain inches against what stands in the wall; a piece without bolts has a sentence."""
    doors = sorted(doors)
    if len(doors) == 2 and doors[0][0] + doors[0][1] > doors[1][0]:
        doors = doors[:1]
    doors = [(a, w) for a, w in doors if a + w <= feet]
    wall = sill(
        stud_spacing=f"{stud} in", plies=plies, jacks=jacks, bar_spacing=bars and f"{bars} in", bar_start="10 in",
        openings=[{"start": f"{a} ft", "width": f"{w} ft"} for a, w in doors], splices=["7 ft"] if joint and feet > 8 else None,
    )  # fmt: skip
    line = wall_line(Slab(length=f"{feet} ft", width="20 ft"), wall)
    room, corner = 1.5 + 0.125, 15 * d
    layout = wall_layout(
        wall, line, Q(d, "in"), Q(spacing, "in"), Q(room, "in"), Q(corner, "in"), system=system
    )
    inch, near = {"us": (16, 1 / 16), "si": (25.4, 1 / 25.4)}[system]
    pieces = [(a / inch, b / inch) for a, b in layout.pieces]
    assert sum(b - a for a, b in pieces) == pytest.approx(
        12 * (feet - sum(w for _, w in doors)), abs=0.5
    )
    assert len({b.piece for b in layout.bolts}) + len(layout.problems) == len(pieces)
    for number, (start, end) in enumerate(pieces, 1):
        places = [b.place / inch for b in layout.bolts if b.piece == number]
        if not places:
            continue
        assert len(places) >= 2
        for outer in (places[0] - start, end - places[-1]):
            assert 7 * d - near <= outer <= 12 + near
        assert all(
            4 * d - near <= b - a <= spacing + near for a, b in zip(places, places[1:], strict=False)
        )
    for p in (b.place / inch for b in layout.bolts):
        assert corner - near <= p <= 12 * feet - corner + near
        for a, w in doors:
            trim = 1.5 * (jacks + 1) + room - 2 * near
            assert p <= 12 * a - trim * (a > 0) or p >= 12 * (a + w) + trim * (a + w < feet)
        for k in range(1, 12 * feet // stud):
            by_door = any(
                12 * a - 1.5 * (jacks + 2) < k * stud < 12 * (a + w) + 1.5 * (jacks + 2)
                for a, w in doors
            )
            assert by_door or abs(p - k * stud) >= 0.75 + room - 2 * near
        for bar in range(10, 12 * feet, bars) if bars else ():
            assert abs(p - bar) >= 0.25 + d / 2 + 0.25 - 2 * near
