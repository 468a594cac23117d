"""Letters of a drawing on a page stand where matplotlib sets them, and are written once each."""

import re

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from calcbook.paper.lettering import svg
from calcbook.paper.letters import UNITS, shape
from calcbook.plan.drawing import FONT

_PARTS = re.compile(r"([Mmlqcz])([-\d ]*)")


def _places(outline):
    """The places that a path goes through, from its relative commands."""
    here, begun, found = np.zeros(2), np.zeros(2), []
    for command, numbers in _PARTS.findall(outline):
        if command == "z":
            here = begun
            continue
        ends = np.array(numbers.split(), dtype=float).reshape(-1, 2)
        if command == "M":  # where a letter stands; nothing is drawn there
            here = begun = ends[-1]
            continue
        found += (ends + here).tolist()
        here = ends[-1] + here
        begun = here if command == "m" else begun
    return np.array(found)


@pytest.mark.parametrize("text", ["Ag 24'-6 1/2\"", "φ8 % i.j", "²½"])
def test_an_outline_goes_through_the_places_of_matplotlibs_text(text):
    font = FontProperties(family=FONT, size=8)
    places, codes = text_to_path.get_text_path(font, text)
    wanted = np.asarray(places)[np.asarray(codes) != 79] * 2048 / text_to_path.FONT_SCALE
    assert (
        np.abs(_places(shape(text, font).path) - wanted).max() <= 1 + 1e-9
    )  # of letter and place, rounded each


def test_a_text_stands_at_its_place_in_its_color_and_angle():
    figure = Figure(figsize=(2, 1))
    figure.text(0.5, 0.25, "edge", color="#9a3d12", rotation=90, fontsize=10, va="bottom", ha="left")
    written = svg(figure)
    x, y, angle = re.search(r"translate\(([\d.]+) ([\d.]+)\) rotate\((-?[\d.]+)\)", written).groups()
    assert float(angle) == -90 and 'fill="#9a3d12"' in written
    assert 72 <= float(x) <= 72 + 10 and float(y) == pytest.approx(54)  # of 144 by 72 points, y down
    assert svg(figure) == written


def test_mathematics_is_left_to_matplotlib():
    figure = Figure(figsize=(2, 1))
    figure.text(0.5, 0.5, "$x^2$")
    assert "<use" in svg(figure)


@pytest.mark.parametrize("weight", ["normal", "bold"])
@pytest.mark.parametrize(
    "text",
    ["12:30 – 14:20", "first floor office", " a b ", "AV To. P.T,", '#4 @ 18"', "7.5√f'c ≤ µ", "i"],
)
def test_a_text_is_as_large_as_matplotlib_measures_it(text, weight):
    """Outside check: the font itself, by matplotlib. A pair that the font draws as one letter is one here, too."""
    font = FontProperties(family=FONT, size=UNITS, weight=weight)
    wide, high, below = text_to_path.get_text_width_height_descent(text, font, False)
    found = shape(text, font)
    assert (found.wide, found.above + found.below, found.below) == pytest.approx(
        (wide, high, below), abs=1
    )
