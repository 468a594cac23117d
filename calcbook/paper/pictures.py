"""Drawings as a notebook and a page show them: as dots for the one, as lines that stay sharp for the other."""

from __future__ import annotations

import base64
import io
from html import escape
from typing import TYPE_CHECKING, Any

from IPython.display import HTML, display

from calcbook.paper.served import on_pages

if TYPE_CHECKING:
    from matplotlib.figure import Figure as MplFigure


def picture(figure: MplFigure) -> dict[str, str]:
    """A drawing as data to display, the same to the byte whenever it is drawn."""
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=144, metadata={"Software": None})
    return {"image/png": base64.b64encode(buffer.getvalue()).decode(), "text/plain": "drawing"}


def image(figure: MplFigure, words: str) -> str:
    """A drawing as an element of a page, sharp at any size; words: what it shows, for who cannot see it."""
    return element(written(figure), words)


def written(figure: MplFigure) -> str:
    """A drawing written down as part of an element: its size, so that it has its room at once, and its lines."""
    from calcbook.paper.lettering import svg  # matplotlib is loaded when something is drawn

    data = base64.b64encode(svg(figure).encode()).decode()
    width, height = (figure.get_size_inches() * 96).astype(int)
    return f'width="{width}" height="{height}" src="data:image/svg+xml;base64,{data}"'


def element(written: str, words: str) -> str:
    """The element of a drawing that was written down, with words for who cannot see it."""
    return f'<img alt="{escape(words)}" {written}>'


def sharp(figure: MplFigure) -> dict[str, Any]:
    """Of a drawing as dots: the width at which it stands on a page."""
    return {"image/png": {"width": int(figure.get_size_inches()[0] * 96)}}


def display_figure(figure: MplFigure, **options: Any) -> Any:
    """Display a drawing; options: as for ``display``."""
    return display(picture(figure), raw=True, metadata=sharp(figure), **options)


def show_figure(figure: MplFigure) -> None:
    """Display a drawing at its own size."""
    if on_pages():
        display(HTML(image(figure, _title(figure))))
    else:
        display_figure(figure)


def _title(figure: MplFigure) -> str:
    return next(
        (
            axes.get_title(loc)
            for axes in figure.axes
            for loc in ("left", "center")
            if axes.get_title(loc)
        ),
        "drawing",
    )
