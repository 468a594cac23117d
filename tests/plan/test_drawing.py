"""Drawings: true scale, every side dimensioned, no text over another or off the paper."""

import io

import drawn
import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.patches import PathPatch
from shapes import C_SHAPE, CUT_CORNER, EDGE, L_SHAPE, NAMED, T_SHAPE, U_SHAPE, demo_like

from calcbook.basis.units import Q
from calcbook.plan.dimensions import chain, dimension, fits, outer_dimensions
from calcbook.plan.drawing import (
    canvas,
    chart,
    leader,
    length_text,
    scale_bar,
    text_width,
    trim,
)
from calcbook.plan.outline import EdgeRing, Plan, Thickening, read_outline, rectangle
from calcbook.plan.section_drawing import section_drawing
from calcbook.plan.sheet_drawing import retarder_drawing
from calcbook.plan.sheets import sheet_layout
from calcbook.plan.slab_drawing import plan_drawing, plan_sketch


def texts(figure):
    """Every text of a figure with its box in points of paper."""
    renderer = FigureCanvasAgg(figure).get_renderer()
    figure.draw_without_rendering()
    scale = 72 / figure.dpi
    return [
        (t.get_text(), t.get_window_extent(renderer).get_points() * scale)
        for t in drawn.texts(figure)
        if t.get_text()
    ]


def words(figure):
    return [text for text, _ in texts(figure)]


def check_texts(figure, slack=1.0):
    """No text stands over another, and all are on the paper."""
    found = texts(figure)
    width, height = figure.get_size_inches() * 72
    for k, (text, ((x0, y0), (x1, y1))) in enumerate(found):
        assert x0 >= -slack and y0 >= -slack and x1 <= width + slack and y1 <= height + slack, (
            f"{text} is cut off"
        )
        for other, ((u0, v0), (u1, v1)) in found[k + 1 :]:
            apart = x1 - slack < u0 or u1 - slack < x0 or y1 - slack < v0 or v1 - slack < y0
            assert apart, f"{text} stands over {other}"


# --- the canvas ------------------------------------------------------------------------------


def test_a_canvas_is_drawn_to_its_scale():
    on = canvas((0, 0, 40, 28), (50, 60, 40, 40))
    assert on.scale == '1/8" = 1\'-0"'
    inches_per_foot = on.figure.get_size_inches()[0] / on.paper.width
    assert inches_per_foot == pytest.approx(1 / 8)
    assert on.figure.get_size_inches()[1] / on.paper.height == pytest.approx(1 / 8)
    assert on.point == pytest.approx(1 / (72 / 8))
    assert (on.figure.get_size_inches() <= (6.5, 6.0)).all()


@pytest.mark.parametrize(("size", "scale"), [
    (40, "1 : 100"), (12, "1 : 50"), (500, "1 : 2500"), (300, "1 : 1000"), (2, "1 : 5"),
])  # fmt: skip
def test_metric_scales(size, scale):
    on = canvas((0, 0, size, size / 2), system="si")
    assert on.scale == scale
    paper_per_world = on.figure.get_size_inches()[0] / (on.paper.width * 12)
    assert paper_per_world == pytest.approx(1 / float(scale.removeprefix("1 : ")))


def test_the_largest_scale_that_fits_is_taken():
    for system in ("us", "si"):
        for size in (1, 3, 10, 33, 100, 333, 1000):
            on = canvas((0, 0, size, size), (20, 20, 20, 20), 5, 5, system)
            assert (on.figure.get_size_inches() <= 5 + 1e-9).all()
            assert on.figure.get_size_inches()[0] > 2.2
            assert on.scale != "not to a trade scale"


def test_trimming_keeps_the_scale():
    on = canvas((0, 0, 40, 28))
    before = on.point
    trim(on, (-1, -2, 41, 30), "A title")
    width, height = on.figure.get_size_inches()
    assert width / on.paper.width == pytest.approx(1 / 72 / before)
    assert height / on.paper.height == pytest.approx(1 / 72 / before)
    assert words(on.figure) == ["A title"]
    check_texts(on.figure)


def test_a_title_and_a_scale_bar():
    on = canvas((0, 0, 40, 28), title="Plan")
    scale_bar(on, (0, -20 * on.point))
    assert words(on.figure) == ["Plan", "0", "10 ft", 'scale 1/8" = 1\'-0"']
    check_texts(on.figure)
    metric = canvas((0, 0, 40, 28), system="si")
    scale_bar(metric, (0, -20 * metric.point), "si")
    assert "5 m" in words(metric.figure)


# --- dimension lines -------------------------------------------------------------------------


def strokes(on):
    return [path.vertices for paths in on.strokes.values() for path in paths]


@pytest.mark.parametrize(("p", "q", "angle"), [
    ((0, 0), (20, 0), 0), ((20, 0), (0, 0), 0), ((0, 0), (0, 20), 90), ((0, 20), (0, 0), 90),
    ((0, 0), (10, 10), 45), ((10, 10), (0, 0), 45), ((0, 10), (10, 0), -45),
])  # fmt: skip
@pytest.mark.parametrize("offset", [-20, 20])
def test_a_dimension_stands_beside_what_it_measures_and_reads_upright(p, q, angle, offset):
    on = canvas((0, 0, 20, 20), (60, 60, 60, 60))
    dimension(on, p, q, offset, "text")
    (text,) = drawn.texts(on.figure)
    assert text.get_rotation() % 360 == pytest.approx(angle % 360)
    p, q = np.array(p, float), np.array(q, float)
    along = (q - p) / np.hypot(*(q - p))
    left = np.array([-along[1], along[0]])
    line = min(strokes(on), key=lambda s: abs(np.hypot(*(s[1] - s[0])) - np.hypot(*(q - p))))
    assert (line[0] - p) @ left / on.point == pytest.approx(offset)
    assert np.hypot(*(line[1] - line[0])) == pytest.approx(np.hypot(*(q - p)))
    away = (np.array(text.get_position()) - p) @ left / on.point
    assert 3 < abs(away - offset) < 8  # beside the line, not on it


def test_extension_lines_come_from_the_feet():
    on = canvas((0, 0, 20, 20), (60, 60, 60, 60))
    dimension(on, (0, 20), (8, 20), 20, "8", feet=((0, 20), (8, 12)))
    longest = max((s for s in strokes(on) if s[0][0] == s[1][0]), key=lambda s: s[1][1] - s[0][1])
    assert longest[0] == pytest.approx((8, 12 + 2.5 * on.point))
    assert longest[1] == pytest.approx((8, 20 + 22.5 * on.point))


def test_short_dimensions_put_their_text_outside():
    on = canvas((0, 0, 40, 28), (60, 80, 60, 60))
    assert fits(on, 20, "20'-0\"") and not fits(on, 1, "1'-0\"")
    for step in (0, 1):
        dimension(on, (0, 0), (1, 0), -20, "1'-0\"", step=step)
    first, second = (t.get_position()[1] / on.point for t in drawn.texts(on.figure))
    assert first == pytest.approx(-20 - 0.85 * 7)
    assert second == pytest.approx(-20 - 2.05 * 7)


def test_a_chain_measures_from_station_to_station():
    on = canvas((0, 0, 40, 28), (80, 80, 60, 60))
    reach = chain(on, [(0, 0), (1, 0), (2, 0), (14, 0), (40, 0)], 0, -16)
    assert words(on.figure) == ["1'-0\"", "1'-0\"", "12'-0\"", "26'-0\""]
    assert reach == pytest.approx(16 + 2.7 * 7)
    check_texts(on.figure)
    upright = canvas((0, 0, 40, 28), (80, 80, 60, 60))
    assert chain(upright, [(0, 0), (28, 0)], 0, -16, "y") == pytest.approx(16 + 1.3 * 7)
    assert drawn.texts(upright.figure)[0].get_position()[0] < 0


def test_text_widths_are_estimated_wide_enough():
    on = canvas((0, 0, 40, 28))
    for text in ("12'-10 13/16\"", "vapor retarder", "36 × 36 × 9"):
        leader(on, (1, 1), (5, 5), text)
    for text, box in texts(on.figure):
        assert text_width(text, 7) >= 0.97 * (box[1][0] - box[0][0])


def test_lengths_are_written_in_the_units_of_the_job():
    assert length_text(24.5) == "24'-6\""
    assert length_text(10, "si") == "3.048 m"
    assert length_text(1, "si", True) == "305 mm"


# --- plans -----------------------------------------------------------------------------------

SIDES = {
    "L": (L_SHAPE, ["40'-0\"", "28'-0\"", "28'-0\"", "12'-0\"", "10'-0\"", "18'-0\""]),
    "T": (T_SHAPE, ["15'-0\"", "10'-0\"", "15'-0\"", "40'-0\"", "8'-0\"", "12'-0\"", "20'-0\"", "8'-0\"", "12'-0\""]),
    "U": (U_SHAPE, ["40'-0\"", "30'-0\"", "26'-0\"", "12'-0\"", "16'-0\"", "12'-0\"", "14'-0\"", "18'-0\""]),
    "C": (C_SHAPE, ["33'-0\"", "20'-0\"", "8'-0\"", "6'-0\"", "6'-0\"", "8'-0\""]),
    "cut": (CUT_CORNER, ["40'-0\"", "30'-0\"", "36'-0\"", "4'-0\"", "20'-0\"", "6'-0\"", "24'-0\"", "6'-0\"",
                         "10'-0\"", "5'-7 7/8\"", "8'-5 13/16\"", "4'-0\""]),
    "rectangle": (rectangle(24, 30), ["24'-0\"", "30'-0\""]),
}  # fmt: skip


@pytest.mark.parametrize(("outline", "wanted"), SIDES.values(), ids=SIDES)
def test_every_side_is_dimensioned_once(outline, wanted):
    on = canvas(outline.bounds, (90, 90, 60, 60))
    outer_dimensions(on, outline)
    assert sorted(words(on.figure)) == sorted(wanted)
    check_texts(on.figure)


PLANS = {name: Plan(outline, edge=EDGE) for name, outline in NAMED.items()} | {"demo": demo_like()}


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_plans_are_readable(plan, system):
    figure = plan_drawing(plan, system, "Plan of the slab")
    check_texts(figure)
    assert (figure.get_size_inches() <= (6.5, 7.0)).all()
    said = words(figure)
    assert "Plan of the slab" in said
    assert {"x", "y"} <= set(said)


def test_pads_and_openings_are_named_with_sizes():
    said = words(plan_drawing(demo_like()))
    for text in (
        "P1",
        "36 × 36 × 9 in. deep",
        "ridge",
        "drain",
        "1'-0\" round",
        "trench",
        "6'-0\" × 1'-6\"",
    ):
        assert text in said
    # places of pads and openings along x: 1, 2, 8, 14, 20 and 28 ft, then the end at 40
    assert [said.count(f"{n}'-0\"") for n in (6, 8)] >= [3, 1]


def test_many_pads_lose_their_chain_but_stay_readable_names():
    pads = [Thickening.pad(f"P{k}", 4 + 6 * (k % 6), 4 + 7 * (k // 6), 2, 2, 1) for k in range(18)]
    said = words(plan_drawing(Plan(rectangle(38, 24), [], pads)))
    assert {f"P{k}" for k in range(18)} <= set(said)


def test_a_sketch_may_be_drawn_at_any_size_as_it_says_no_scale_and_no_dimension():
    figure = plan_sketch(demo_like())
    assert words(figure) == [] and figure.findobj(PathPatch)


def test_small_jogs_keep_their_texts_apart():
    jogs = read_outline([
        (0, 0), (30, 0), (30, 1 / 3), (33, 1 / 3), (33, 20), (20, 20), (20, 20.5), (19, 20.5), (19, 20), (0, 20),
    ])  # fmt: skip
    figure = plan_drawing(Plan(jogs))
    check_texts(figure)
    assert {'4"', '6"', "1'-0\"", "19'-8\""} <= set(words(figure))


def test_drawing_twice_gives_the_same_file():
    files = []
    for _ in range(2):
        buffer = io.StringIO()
        plan_drawing(demo_like()).savefig(buffer, format="svg", metadata={"Date": None})
        files.append(buffer.getvalue())
    assert files[0] == files[1]


# --- sections and sheets ---------------------------------------------------------------------

SECTIONS = {
    "demo": (5, 4, EDGE, 6), "no edge": (4, 4, None, 2), "deep": (4, 4, EdgeRing(2, 1, 0), 14),
    "no stone": (6, 0, EdgeRing(1, 1.5, 1), 6), "level": (4, 4, EDGE, 0),
}  # fmt: skip


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize(("t", "base", "edge", "above"), SECTIONS.values(), ids=SECTIONS)
def test_sections_are_readable(t, base, edge, above, system):
    figure = section_drawing(Q(t, "in"), Q(base, "in"), edge, Q(above, "in"), system)
    check_texts(figure)
    said = words(figure)
    assert length_text(t / 12, system, True) in said
    assert ("stone" in said) == (base > 0)
    if edge:
        assert length_text(edge.depth + t / 12, system, True) in said
        assert length_text(edge.width, system, True) in said
    assert "fill" in said if above > t + base else "fill" not in said


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("outline", NAMED.values(), ids=NAMED)
def test_sheet_drawings_are_readable(outline, system):
    layout = sheet_layout(outline, Q(10, "ft"), Q(60, "ft"), Q(6, "in"), Q(6, "in"))
    figure = retarder_drawing(layout, system=system)
    check_texts(figure)
    said = words(figure)
    for sheet in layout.sheets:
        assert any(text == str(sheet.number) or text.startswith(f"{sheet.number}: ") for text in said)


def test_a_chart_is_named_on_both_axes():
    figure, ax = chart(title="Odds", x="ordered, yd³", y="odds, %")
    assert (ax.get_title(loc="left"), ax.get_xlabel(), ax.get_ylabel()) == (
        "Odds",
        "ordered, yd³",
        "odds, %",
    )
    assert figure.get_size_inches() == pytest.approx((6.5, 3.4))
