"""What stands on a figure, be it a drawing or a chart."""

from matplotlib.text import Text


def texts(figure):
    """Every text: on a drawing itself, and in the axes of a chart."""
    return [a for a in figure.artists if isinstance(a, Text)] + [
        t for ax in figure.axes for t in ax.texts
    ]


def words(figure):
    """What the texts say."""
    return [text.get_text() for text in texts(figure)]
