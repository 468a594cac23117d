"""Texts of a drawing stand where matplotlib sets its own, and the key of a chart shows what is labelled."""

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.text import Text

from calcbook.paper.lettering import svg
from calcbook.plan.drawing import FONT, canvas, chart
from calcbook.plan.key import Key
from calcbook.plan.words import ABOVE, BELOW, Words


def placed(kind, **style):
    """Where a text is drawn by a kind of text, as SVG says it."""
    figure = Figure(figsize=(3, 2))
    text = kind(
        0.4, 0.6, "4'-6 1/2\" gap", fontsize=9, family=FONT, transform=figure.transFigure, **style
    )
    figure.add_artist(text)
    written = svg(figure).split('transform="translate(')[1]
    return [float(n) for n in written.split(")")[0].split()]


@pytest.mark.parametrize("va", ["top", "center", "center_baseline", "baseline", "bottom"])
@pytest.mark.parametrize("ha", ["left", "center", "right"])
@pytest.mark.parametrize("angle", [0, 37, 90])
def test_words_stand_where_matplotlib_sets_a_text(ha, va, angle):
    """Outside check: matplotlib's own text, turned about its place."""
    style = {"ha": ha, "va": va, "rotation": angle}
    assert placed(Words, **style) == pytest.approx(
        placed(Text, rotation_mode="anchor", **style), abs=0.002
    )


@pytest.mark.parametrize("weight", ["normal", "bold"])
def test_the_reach_of_letters_is_that_of_the_font(weight):
    font = get_font(findfont(FontProperties(family=FONT, weight=weight)))
    told, unit = font.get_sfnt_table("OS/2"), font.get_sfnt_table("head")["unitsPerEm"]
    assert (told["sTypoAscender"], -told["sTypoDescender"]) == (ABOVE * unit, BELOW * unit)


def test_white_paper_behind_a_text_hides_what_was_there():
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    from calcbook.plan.drawing import label, line

    def ink(ground):
        on = canvas((0, 0, 4, 1), trade=False)
        line(on, [(0, 0.5), (4, 0.5)])
        label(on, (2, 0.5), "i", ground=ground)
        drawn = FigureCanvasAgg(on.figure)
        drawn.draw()
        return np.sum(np.asarray(drawn.buffer_rgba())[..., 0] < 128)

    assert ink(ground=True) < ink(ground=False)


def test_a_key_shows_each_label_once_below_the_other_or_beside():
    def places(columns):
        figure, ax = chart(5, 3)
        ax.plot([0, 1], [0, 1], label="slab top")
        ax.fill_between([0, 1], 0, 1, label="published curves")
        ax.bar([0.5], [1], label="jobs")
        ax.plot([0, 1], [1, 0])  # no label: not in the key
        Key(ax, (0, 1), columns)
        bare, _ = chart(5, 3)
        before = svg(bare).count("translate(")
        said = [part.split(")")[0].split() for part in svg(figure).split('transform="translate(')[1:]]
        return [(float(x), float(y)) for x, y in said[-3:]], len(said) - before

    below, many = places(1)
    assert many == 3 and len({x for x, _ in below}) == 1
    steps = np.diff([y for _, y in below])
    assert steps == pytest.approx([1.5 * 7, 1.5 * 7])  # rows of 1.5 type sizes
    beside, _ = places(3)
    assert len({y for _, y in beside}) == 1 and len({x for x, _ in beside}) == 3
