"""Pictures of a plate: what they say is what the result says."""

import io

import numpy as np
import pytest
from drawn import words
from shapely import Point, box

from calcbook.plate.front import plate_of
from calcbook.plate.maps import KINDS, deflected_shape, plate_map
from calcbook.plate.model import Case, Joint, Line, Patch, Plate, Region
from calcbook.plate.section import section_chart, section_of


@pytest.fixture(scope="module")
def result():
    plate = Plate(
        (box(0, 0, 20, 14),), 5.0, 150.0, 3.6e6,
        openings=(Point(14, 4).buffer(0.5),), regions=(Region(box(3, 3, 6, 6), 14.0, "P1"),),
        joints=(Joint(((10, 0), (10, 14)), 2000.0),),
    )  # fmt: skip
    loads = (Patch(box(4.2, 4.2, 4.8, 4.8), 6000.0), Line(((0.3, 0.3), (0.3, 13.7)), -200.0))
    return plate_of(plate, Case("wind", loads))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("system", ["us", "si"])
def test_a_map_shows_the_worst_value_at_its_place(result, kind, system):
    shown = KINDS[kind]
    factor, unit, digits = getattr(shown, system)
    figure = plate_map(result, kind, system)
    assert f"{result.worst[shown.reading].value * factor:.{digits}f} {unit}" in words(figure)
    assert f"{shown.title}, {unit}" in words(figure) and "Case: wind" in words(figure)


def test_a_map_is_a_small_vector_file(result):
    for kind in KINDS:
        kept = io.BytesIO()
        plate_map(result, kind).savefig(kept, format="pdf")
        assert len(kept.getvalue()) < 250_000


def test_the_deflected_shape_tells_how_much_it_is_overdrawn(result):
    assert any("times too large" in text for text in words(deflected_shape(result)))


def test_a_section_shows_what_the_plate_has_along_the_line_and_the_map_marks_its_ends(result):
    ends = ((0.0, 4.2), (20.0, 4.2))
    x, values = result.section(*ends)
    found = section_of(result, ends)
    drawn = [
        ax.lines[0].get_xydata() for ax in sorted(section_chart(result, ends).axes, key=_from_the_top)
    ]
    for own, field in zip(drawn, ("deflection", "pressure", "m_x"), strict=True):  # along x
        expected = np.column_stack([x, getattr(values, field)])
        assert np.nan_to_num(own) == pytest.approx(np.nan_to_num(expected))
    assert np.isnan(found.moment[(x > 13.7) & (x < 14.0)]).all()  # the opening
    assert words(plate_map(result, section=ends)).count("A") == 2


def _from_the_top(ax):
    return -ax.get_position().y0


def test_moment_along_a_slanted_line_is_that_of_bending_in_its_own_direction(result):
    """A line of slope 1 turned by 90 degrees has the rest of the sum of both moments, which no turn changes."""
    one, other = (section_of(result, ((a, 6.0), (b, 8.0))) for a, b in ((2.0, 4.0), (4.0, 2.0)))
    _, at = result.section((3.0, 7.0), (3.0, 7.001), 2)
    middle = [np.interp(2**0.5, s.along, s.moment) for s in (one, other)]
    assert sum(middle) == pytest.approx(at.m_x[0] + at.m_y[0], rel=1e-3)
    assert middle[0] - middle[1] == pytest.approx(2 * at.m_xy[0], rel=1e-2)
