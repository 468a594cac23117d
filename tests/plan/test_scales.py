"""Marks, numbers and labels of a chart stand where matplotlib's own axes put them."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from calcbook.plan.charted import marks, note
from calcbook.plan.drawing import chart
from calcbook.plan.scales import Scales


def dots(figure):
    """The picture as an array of dots."""
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    return np.asarray(canvas.buffer_rgba())


def plotted(change, size):
    figure, ax = chart(4, 2, "Title", "hours", "strength, psi", numbers=size)
    ax.plot([0, 3.3, 7.1], [-120, 2600, 1900])
    change(ax)
    return figure, ax


def as_they_are(ax):
    """Nothing is set."""


def by_hand(ax):
    marks(ax.xaxis, [0, 2, 5, 9], ["06:00", "", "11:00", "past the end"])
    ax.set_xlim(-0.5, 6)
    ax.invert_yaxis()


def without_numbers(ax):
    ax.tick_params(labelbottom=False)
    ax.tick_params(axis="y", length=0)
    ax.set_ylabel("")


@pytest.mark.parametrize("size", [7, 9])
@pytest.mark.parametrize("change", [as_they_are, by_hand, without_numbers])
def test_marks_and_numbers_are_those_of_matplotlib(change, size):
    """Outside check: the same axes, drawn by matplotlib itself."""
    ours, _ = plotted(change, size)
    theirs, ax = plotted(change, size)
    next(a for a in ax.artists if isinstance(a, Scales)).remove()
    bare = dots(theirs)
    for axis in (ax.xaxis, ax.yaxis):
        axis.set_visible(True)
    assert not np.array_equal(dots(ours), bare)
    assert np.array_equal(dots(ours), dots(theirs))


def test_a_large_number_is_written_whole():
    """matplotlib would write 2 beside the mark, and 1e6 at the end of the axis; here it would have been lost."""
    _, ax = chart(4, 2, "", "", "$")
    ax.plot([0, 1], [0, 3e6])
    assert "2000000" in ax.yaxis.get_major_formatter().format_ticks([0, 2e6])


@pytest.mark.parametrize(("across", "share"), [("", None), ("x", (1, 0.5)), ("y", (5, 1))])
def test_a_note_stands_beside_its_place_by_points(across, share):
    """Where a number is a share of the width or height, 1 is the right or the upper end of the axes."""
    figure, ax = chart(4, 2)
    ax.set(xlim=(0, 10), ylim=(0, 1))
    note(ax, *(share or (5, 0.5)), "here", 9, -4, across)
    (text,) = figure.artists
    at = text.get_transform().transform(text.get_position()) - figure.dpi / 72 * np.array([9, -4])
    place = {"": (5, 0.5), "x": (10, 0.5), "y": (5, 1)}[across]
    assert at == pytest.approx(ax.transData.transform(place))
