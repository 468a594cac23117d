"""Letters of a drawing on a page are those of matplotlib, and stand where it puts them."""

import base64
import io
import re

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from calcbook.paper.letters import _letters
from calcbook.paper.pictures import written


def drawn():
    figure = Figure(figsize=(4, 3))
    figure.text(0.2, 0.7, "1/2 in. & more", fontsize=9, color="#9a3d12")
    figure.text(0.5, 0.3, "24'-6\"", fontsize=7, rotation=90, ha="center", va="center", weight="bold")
    figure.text(0.5, 0.3, "two\nlines", alpha=0.5)
    return figure


def places(svg):
    """Of each line of text: place, turn and size in points, from how the letters are moved."""
    found = re.findall(
        r"translate\(([-\d.]+) ([-\d.]+)\)( rotate\(-?[\d.]+\))? scale\(([\d.]+) -[\d.]+\)", svg
    )
    return [(float(x), float(y), turn.strip(), float(size)) for x, y, turn, size in found]


def test_each_text_stands_where_matplotlib_puts_it():
    """Outside check: the SVG that matplotlib writes, whose letters are a hundred units high; here they are a thousand."""
    buffer = io.StringIO()
    drawn().savefig(buffer, format="svg", metadata={"Date": None})
    theirs = places(buffer.getvalue())
    ours = places(base64.b64decode(written(drawn()).split("base64,")[1].rstrip('"')).decode())
    assert len(ours) == len(theirs) == 4
    for (x, y, turn, size), (x_0, y_0, turn_0, size_0) in zip(ours, theirs, strict=True):
        assert (x, y) == pytest.approx((x_0, y_0), abs=1e-3)
        assert turn == turn_0.replace(".0", "") and 10 * size == pytest.approx(size_0)


@pytest.mark.parametrize("words", ["06:00 – 10:10", "lb/(ft²·h), ½ °F", "%"])
@pytest.mark.parametrize("weight", ["normal", "bold"])
def test_letters_are_those_of_the_font(words, weight):
    """Outside check: matplotlib's outlines; what is rounded off is a thousandth of the size."""
    prop = FontProperties(family="DejaVu Sans", weight=weight)
    outline, codes = text_to_path.get_text_path(prop, words)
    numbers = [float(n) for n in re.findall(r"-?\d+", _letters(words, prop))]
    kept = [at for at, code in zip(outline, codes, strict=True) if code != 79]
    assert np.reshape(numbers, (-1, 2)) / 10 == pytest.approx(np.array(kept), abs=0.0501)
    assert re.sub(r"[^MLQCZ]", "", _letters(words, prop)).count("Z") == codes.count(79)


def test_a_picture_is_the_same_whenever_it_is_written():
    assert written(drawn()) == written(drawn())
