"""Where the texts of a drawing lie on each other."""

import itertools

_SHARED = (
    0.12  # of the smaller text that another may cover: boxes are a little larger than their letters
)


def boxes(figure):
    """(text, box in pixels) of every text that is written on a figure."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    renderer = FigureCanvasAgg(figure).get_renderer()
    texts = [t for ax in figure.axes for t in ax.texts if t.get_text().strip() and t.get_visible()]
    return [
        (t.get_text(), t.get_window_extent(renderer)) for t in texts if t.get_rotation() in (0, 90, 270)
    ]


def overlaps(figure):
    """Pairs of texts of a figure of which one covers more than its share of the other."""
    found = []
    for (one, a), (two, b) in itertools.combinations(boxes(figure), 2):
        wide, high = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        if (
            wide > 0
            and high > 0
            and wide * high > _SHARED * min(a.width * a.height, b.width * b.height)
        ):
            found.append((one, two))
    return found
