"""Pictures of a plate: what they say is what the result says."""

import io

import numpy as np
import pytest
from shapely import Point, box

from calcbook.plate.front import plate_of
from calcbook.plate.maps import KINDS, deflected_shape, plate_map, section_chart
from calcbook.plate.model import Case, Joint, Line, Patch, Plate, Region


@pytest.fixture(scope="module")
def result():
    plate = Plate(
        (box(0, 0, 20, 14),), 5.0, 150.0, 3.6e6,
        openings=(Point(14, 4).buffer(0.5),), regions=(Region(box(3, 3, 6, 6), 14.0, "P1"),),
        joints=(Joint(((10, 0), (10, 14)), 2000.0),),
    )  # fmt: skip
    loads = (Patch(box(4.2, 4.2, 4.8, 4.8), 6000.0), Line(((0.3, 0.3), (0.3, 13.7)), -200.0))
    return plate_of(plate, Case("wind", loads))


def words(figure):
    return [t.get_text() for t in figure.axes[0].texts]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("system", ["us", "si"])
def test_a_map_shows_the_worst_value_at_its_place(result, kind, system):
    shown = KINDS[kind]
    factor, unit, digits = getattr(shown, system)
    figure = plate_map(result, kind, system)
    assert f"{result.worst[shown.reading].value * factor:.{digits}f} {unit}" in words(figure)
    assert any("wind" in text and unit in text for text in words(figure))


def test_a_map_is_a_small_vector_file(result):
    for kind in KINDS:
        kept = io.BytesIO()
        plate_map(result, kind).savefig(kept, format="pdf")
        assert len(kept.getvalue()) < 250_000


def test_the_deflected_shape_tells_how_much_it_is_overdrawn(result):
    assert any("times too large" in text for text in words(deflected_shape(result)))


def test_a_section_shows_what_the_plate_has_along_the_line(result):
    deflection, stress = section_chart(result, (0, 4.5), (20, 4.5))
    x, values = result.section((0, 4.5), (20, 4.5))
    drawn = deflection.axes[0].lines[0].get_xydata()
    assert np.nan_to_num(drawn) == pytest.approx(np.nan_to_num(np.column_stack([x, values.deflection])))
    assert {t.get_text() for t in stress.axes[0].get_legend().get_texts()} == {"bottom", "top"}
