"""Sheets over a plan: every place covered, laps kept, fewest rolls; closed forms for rectangles."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapes import C_SHAPE, CUT_CORNER, L_SHAPE, NAMED, U_SHAPE, demo_like, outlines, skylines

from calcbook.basis.units import Q
from calcbook.plan.outline import rectangle
from calcbook.plan.sheets import SheetError, cut_together, sheet_layout


def lay(outline, width=14, length=140, lap=6, turn_up=0):
    return sheet_layout(outline, Q(width, "ft"), Q(length, "ft"), Q(lap, "in"), Q(turn_up, "in"))


def checked(layout, lap=0.5):
    """What any layout must do: cover the region, lap where one sheet takes over, use whole rolls."""
    region, shapes = layout.region, [s.shape for s in layout.sheets]
    assert region.difference(shapely.union_all(shapes).buffer(1e-6)).area < 1e-6
    used = {}
    for sheet in layout.sheets:
        x0, y0, x1, y1 = sheet.shape.bounds
        along, across = (x1 - x0, y1 - y0) if layout.direction == "x" else (y1 - y0, x1 - x0)
        assert along == pytest.approx(sheet.length)
        assert across == pytest.approx(layout.roll_width)
        used[sheet.roll] = used.get(sheet.roll, 0) + sheet.length
    assert set(used) == set(range(1, layout.rolls + 1))
    assert max(used.values()) <= layout.roll_length + 1e-6
    assert [s.number for s in layout.sheets] == list(range(1, len(layout.sheets) + 1))
    for k, shape in enumerate(shapes):
        # what lies within half a lap of a sheet's side, inside the region, lies on another sheet too
        others = shapely.union_all([*shapes[:k], *shapes[k + 1 :], shapely.Polygon()])
        sides = shape.boundary & region.buffer(-1e-3)
        taken_over = [
            p for p in shapely.get_parts(sides) if p.length > 1e-2 and not _ends_here(p, shape, region)
        ]
        for part in taken_over:
            strip = part.buffer(lap * 0.98, cap_style="flat", single_sided=False) & shape & region
            assert strip.difference(others.buffer(1e-6)).area < 1e-3
    return layout


def _ends_here(side, shape, region):
    """True where the region does not go on beyond a side of a sheet."""
    beyond = side.buffer(0.01, cap_style="flat") - shape
    return (beyond & region).area < 1e-4


# --- closed forms ----------------------------------------------------------------------------


@pytest.mark.worked("sheet_layout")
@pytest.mark.parametrize(
    ("x", "y", "strips"), [(30, 10, 1), (30, 19.5, 2), (30, 19.6, 3), (30, 29, 3), (50, 38.5, 4)]
)
def test_strips_of_ten_feet_cover_nine_and_a_half_each(x, y, strips):
    """10 ft sheets lapped 6 in. cover 9.5 ft net; strips cost their number x length."""
    layout = checked(lay(rectangle(x, y), width=10, length=1000))
    best = layout if layout.direction == "x" else layout.other
    assert len(best.sheets) == strips
    assert best.lap_length.m == pytest.approx((strips - 1) * x)


def test_lap_loss_is_five_percent():
    """10 ft rolls and 6 in. laps: 0.5 / 9.5 = 5.3 % more sheet than ground (recomputed here)."""
    layout = lay(rectangle(100, 95 + 0.5), width=10, length=1000)
    laid = sum(s.length for s in layout.sheets) * 10
    assert laid / (100 * 95.5) - 1 == pytest.approx(9 * 0.5 / 95.5, abs=1e-9)
    assert pytest.approx(0.053, abs=0.0005) == 0.5 / 9.5


def test_turn_up_is_covered_on_all_sides():
    """Own arithmetic: 6 in. more on each side."""
    layout = checked(lay(rectangle(39, 27), turn_up=6))
    assert layout.region.bounds == pytest.approx((-0.5, -0.5, 39.5, 27.5))
    assert layout.area_covered.m == pytest.approx(40 * 28)
    assert lay(rectangle(39, 27)).area_covered.m == pytest.approx(39 * 27)


def test_one_sheet_without_a_lap():
    layout = checked(lay(rectangle(100, 14)))
    assert (layout.rolls, layout.end_laps, layout.lap_length.m) == (1, 0, 0)
    assert layout.direction == "x"
    assert [s.length for s in layout.sheets] == [100]


def test_the_demo_by_hand():
    """Along y: 41 ft with turn-up is just three strips of 14 ft, 29 ft each; both seams 29 ft."""
    layout = checked(lay(demo_like(), turn_up=6))
    assert layout.direction == "y"
    assert layout.rolls == 1
    assert [s.length for s in layout.sheets] == pytest.approx([29, 29, 29])
    assert layout.lap_length.m == pytest.approx(58)
    assert layout.cutting.rest == pytest.approx(53)
    assert layout.why() == (
        "Sheets run along y: 1 roll and 58 ft of lap to tape. Along x it would be 1 roll and 70 ft of lap to tape."
    )


def test_the_arms_of_a_u_get_sheets_of_their_own():
    layout = checked(lay(U_SHAPE, width=10, length=50, turn_up=6))
    lengths = sorted(s.length for s in layout.sheets)
    assert layout.direction == "x"
    assert lengths == pytest.approx([13, 13, 13, 41, 41])
    # the arms' sheets: 13 ft of lap each where they take over, and the foot's one of 41 ft
    assert layout.lap_length.m == pytest.approx(41 + 13 + 13 + 13)


def test_the_first_sheet_moves_where_that_saves():
    """A tongue of 10 x 12 ft below a part of 60 x 13 ft: flush, both strips would be 60 ft; moved out
    2 ft 6 in., the upper one takes the whole wide part, one roll of 75 ft is enough, and only the
    tongue has a seam."""
    shape = shapely.union_all([rectangle(10, 12), rectangle(60, 13, 0, 12)])
    layout = checked(lay(shape, width=14, length=75))
    assert (layout.direction, layout.rolls) == ("x", 1)
    assert sorted(s.length for s in layout.sheets) == pytest.approx([10, 60])
    assert layout.shift == pytest.approx(2.5)
    assert layout.lap_length.m == pytest.approx(10)


def test_long_runs_are_lapped_end_to_end():
    """Own arithmetic: 100 ft and one lap of 6 in."""
    layout = checked(lay(rectangle(100, 14), length=60))
    assert layout.end_laps == 1
    assert layout.rolls == 2
    assert layout.lap_length.m == pytest.approx(14)
    assert sum(s.length for s in layout.sheets) == pytest.approx(100.5)


def test_reasons_are_given_in_the_units_of_the_job():
    layout = lay(rectangle(30, 30))
    assert "with 90 ft of sheet laid instead of 90 ft" in layout.why()
    assert " m of lap to tape" in layout.why("si")
    assert "30'-0\" of roll 1" in str(layout)


@pytest.mark.parametrize("outline", NAMED.values(), ids=NAMED)
@pytest.mark.parametrize(
    ("width", "length", "turn_up"), [(14, 140, 6), (10, 50, 6), (6, 20, 0), (20, 100, 12)]
)
def test_named_shapes_are_covered(outline, width, length, turn_up):
    layout = checked(lay(outline, width, length, turn_up=turn_up))
    assert {layout.direction, layout.other.direction} == {"x", "y"}
    assert layout.key <= layout.other.key
    checked(layout.other)


# --- laws ------------------------------------------------------------------------------------


@settings(max_examples=50, deadline=None)
@given(
    outlines, st.floats(3, 20), st.floats(12, 150), st.sampled_from([6, 12]), st.sampled_from([0, 6])
)
def test_any_outline_is_covered(outline, width, length, lap, turn_up):
    layout = checked(lay(outline, width, length, lap, turn_up), lap / 12)
    assert layout.rolls * width * length >= layout.region.area - 1e-6
    assert layout.region.area >= outline.area - 1e-9


@settings(max_examples=30, deadline=None)
@given(skylines(), st.floats(5, 20), st.floats(20, 80), st.floats(0, 100))
def test_a_longer_roll_never_needs_more_rolls(outline, width, length, more):
    assert lay(outline, width, length + more).rolls <= lay(outline, width, length).rolls


@settings(max_examples=30, deadline=None)
@given(st.floats(5, 60), st.floats(5, 60), st.floats(5, 15), st.floats(0, 10))
def test_a_wider_roll_never_needs_more_rolls_on_a_rectangle(x, y, width, more):
    assert lay(rectangle(x, y), width + more).rolls <= lay(rectangle(x, y), width).rolls


@settings(max_examples=25, deadline=None)
@given(skylines(), st.integers(-40, 40))
def test_place_and_mirror_do_not_matter(outline, way):
    layout = lay(outline, 9, 60, turn_up=6)
    other = lay(affinity.translate(outline, way, -way), 9, 60, turn_up=6)
    assert (other.rolls, other.direction) == (layout.rolls, layout.direction)
    assert other.lap_length.m == pytest.approx(layout.lap_length.m, abs=1e-3)
    flipped = lay(shapely.transform(outline, lambda xy: xy[:, ::-1]), 9, 60, turn_up=6)
    assert flipped.rolls == layout.rolls
    assert flipped.lap_length.m == pytest.approx(layout.lap_length.m, abs=1e-3)


@settings(max_examples=15, deadline=None)
@given(st.integers(5, 28), st.integers(5, 28), st.integers(6, 12), st.integers(20, 45))
def test_rectangles_against_counting(x, y, width, length):
    """Fewest rolls of a rectangle: no fewer than area, no more than whole runs one after another."""
    layout = lay(rectangle(x, y), width, length)
    bounds = []
    for along, across in ((x, y), (y, x)):
        strips = max(1, math.ceil((across - 0.5) / (width - 0.5) - 1e-9))
        bounds.append((math.ceil(strips * along / length - 1e-9), strips, along))
    least = min(bound for bound, *_ in bounds)
    most = (
        min(math.ceil(n / max(1, length // along)) for _, n, along in bounds if along <= length)
        if min(x, y) <= length
        else 99
    )
    assert least <= layout.rolls <= most


def test_openings_get_no_credit():
    plan = demo_like()
    assert str(lay(plan)) == str(lay(plan.outline))


def test_turned_shapes_are_covered_too():
    for outline in (L_SHAPE, C_SHAPE, CUT_CORNER):
        checked(lay(affinity.rotate(outline, 31), 7, 40, turn_up=6))


# --- refusals --------------------------------------------------------------------------------


def test_rolls_that_cannot_be_laid_are_refused():
    with pytest.raises(SheetError, match=r"lap of 1'-0\" leaves nothing of a roll 2'-0\" wide"):
        lay(rectangle(10, 10), width=2, lap=12)
    with pytest.raises(SheetError, match=r"roll of 5'-0\" with laps of 6\" cannot be laid"):
        lay(rectangle(10, 10), length=5)
    with pytest.raises(SheetError, match="cannot be laid"):
        lay(rectangle(10, 10), width=10, lap=36)
    assert lay(rectangle(10, 10), width=2.1, lap=12).rolls == 1
    assert lay(rectangle(5, 5), length=6).rolls == 1


@given(st.lists(st.tuples(st.integers(4, 40), st.integers(4, 30)), min_size=2, max_size=4))
@settings(max_examples=25, deadline=None)
def test_slabs_that_share_rolls_keep_their_sheets_and_no_roll_is_used_twice(sizes):
    alone = [lay(rectangle(x, y), length=60) for x, y in sizes]
    shared = cut_together(alone)
    assert {one.rolls for one in shared} == {shared[0].rolls}
    assert shared[0].rolls <= sum(one.rolls for one in alone)
    used = {}
    for before, after in zip(alone, shared, strict=True):
        assert (
            after.region.difference(
                shapely.union_all([s.shape for s in after.sheets]).buffer(1e-6)
            ).area
            < 1e-6
        )
        assert after.runs == before.runs
        for sheet in after.sheets:
            used[sheet.roll] = used.get(sheet.roll, 0) + sheet.length
    assert set(used) == set(range(1, shared[0].rolls + 1))
    assert max(used.values()) <= 60 + 1e-6


def test_two_small_slabs_share_one_roll():
    """Own arithmetic: 2 strips of 30 ft and 1 of 20 ft are 80 ft of a roll of 90 ft."""
    shared = cut_together([lay(rectangle(30, 20), length=90), lay(rectangle(20, 10), length=90)])
    assert shared[0].rolls == 1
    assert shared[0].cutting.rest == pytest.approx(10)
