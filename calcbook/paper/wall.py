"""A wall to play with: sliders for its door and its loads, and the path from header to ground that follows them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import display

from calcbook.basis.reading import read
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.job.file import Job
from calcbook.loads.closing import LIFT, combination
from calcbook.loads.path import on_plate
from calcbook.paper.pictures import display_figure, image, picture
from calcbook.paper.play import played_beside
from calcbook.paper.screen import MARKS, page, table
from calcbook.paper.served import on_pages
from calcbook.paper.views import show_widget, wrong

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.book.chapters import Book

# words, unit, lowest, highest, at first, step, for a US job and for a metric one
_SLIDERS = {
    "width": (("width of the door", "ft", 3, 18, 9, 0.5), ("width of the door", "m", 1, 5.5, 2.7, 0.1)),
    "uplift": (("uplift of the roof", "plf", 0, 600, 250, 10), ("uplift of the roof", "kN/m", 0, 9, 3.6, 0.2)),
    "dead": (("dead load of the roof", "plf", 0, 600, 150, 10), ("dead load of the roof", "kN/m", 0, 9, 2.2, 0.2)),
    "depth": (("depth of the edge", "in", 6, 30, 16, 1), ("depth of the edge", "mm", 150, 750, 400, 25)),
}  # fmt: skip
_LENGTH, _MIDDLE = 24.0, 12.0  # feet
# what is shown of the checks: how the title begins, chapter, and which link of the path it is
_LINKS = (
    ("Uplift on the governing bolt", "bolts", "the bolt that is pulled most"),
    ("Length of edge beside the governing jamb", "edges", "length of edge that a jamb lifts"),
    (
        "Length of edge in one piece beside the governing jamb",
        "edges",
        "length of edge without a joint",
    ),
    ("Bending moment of the edge at the governing jamb", "edges", "the edge, bent over the jamb"),
    ("Uplift on edge and slab", "edges", "weight of edge and slab"),
    ("Bearing pressure under the jamb", "edges", "the ground, on a day without wind"),
)


class WallToPlay:
    """A wall of 24 ft with one door in its middle, on a slab of its own. system: "us" or "si".

    ``show()`` displays it; ``at(width=..., uplift=..., dead=..., depth=...)`` sets the sliders and returns its Book.
    """

    def __init__(self, system: str = "us") -> None:
        self.system = system
        self._book: Book | None = None
        self.sliders: dict[str, widgets.FloatSlider] = {}
        self.units: dict[str, str] = {}
        for key, pair in _SLIDERS.items():
            words, unit, low, high, first, step = pair[system == "si"]
            self.units[key] = unit
            self.sliders[key] = widgets.FloatSlider(
                description=f"{words}, {unit.replace('plf', 'lbf/ft')}", min=low, max=high, value=first, step=step,
                readout_format=".1f" if step < 1 else ".0f", continuous_update=on_pages(),
                style={"description_width": "15em"}, layout=widgets.Layout(width="34em"),
            )  # fmt: skip
        self.told, self.drawing = widgets.HTML(""), widgets.HTML("")
        self.drawing.add_class("cb-figure")
        self._handle: Any = None

    def at(self, **values: float) -> Book:
        """The Book of the wall, with sliders set to ``values`` in their units."""
        from calcbook.book.chapters import Book

        for key, value in values.items():
            self.sliders[key].value = value
        self._book = Book(Job(self._data()), self._book)
        return self._book

    def _data(self) -> dict[str, Any]:
        """The job of the wall: one side of a small slab, all that the sliders do not set kept fixed (invented)."""
        now = {key: f"{slider.value:.6g} {self.units[key]}" for key, slider in self.sliders.items()}
        width = number_in(read(now["width"], "ft"), "ft")
        return {
            "job": {"name": "a wall to play with (invented)", "units": self.system},
            "slab": {"length": f"{_LENGTH} ft", "width": "20 ft", "thickness": "5 in", "plate": False},
            "edge": {"depth": now["depth"], "width": "16 in"},
            "soil": {"bearing": "2000 psf", "frost_depth": "0 in"},
            "walls": [{
                "name": "south", "side": 1, "height": "9 ft", "dead": now["dead"], "roof": "300 plf", "uplift": now["uplift"],
                "uplift_is": "gross", "weight": "10 psf",
                "openings": [{"start": f"{_MIDDLE - width / 2:.6g} ft", "width": now["width"]}],
            }],
        }  # fmt: skip

    def show(self) -> None:
        """Display sliders, links and drawing."""
        for slider in self.sliders.values():
            slider.observe(lambda _: self._moved(), names="value")
        sliders = list(self.sliders.values())
        self.told.value, figure = self.seen()
        if on_pages():
            self.drawing.value = "" if figure is None else image(figure, "path of the load")
            display(played_beside(sliders, [self.drawing, self.told]))
            return
        show_widget(widgets.VBox([*sliders, self.told]), self.told.value)
        if figure is not None:
            self._handle = display_figure(figure, display_id=True)

    def _moved(self) -> None:
        self.told.value, figure = self.seen()
        if figure is None:
            return
        if on_pages():
            self.drawing.value = image(figure, "path of the load")
        elif self._handle is not None:
            self._handle.update(picture(figure), raw=True)

    def seen(self) -> tuple[str, Figure | None]:
        """The links of the path as a table, and the drawing of the wall; a sentence and None where it is refused."""
        try:
            book = self.at()
            rows = [*self._loads(book), *_links(book)]
        except ValueError as error:
            return page(wrong(str(error))), None
        closes = next(
            c for c in book.bolts.calculation.checks if c.title.startswith("Load of the walls")
        )
        words = f"<p>{MARKS[closes.status]} What comes in and reaches no bolt and no concrete: {closes.demand}.</p>"
        columns = ("where the load goes", "what comes", "what it may be", "ratio")
        figure = book.bolts.calculation.figures[0].draw()
        return page(table(columns, rows, numeric=(1, 2, 3)), words), figure

    def _loads(self, book: Book) -> list[tuple[str, str, str, str]]:
        """Net uplift by length and at the door's jambs, by the combination that lifts most at service level."""
        on = on_plate(book.path.walls[0].model, combination(LIFT))
        lifts = (
            (max(w for _, _, w in on.lines), "plf"),
            (max(p.load for p in on.points), "lbf"),
        )
        line, post = (show(Q(round(max(v, 0.0), 9), unit), unit, self.system) for v, unit in lifts)
        return [(f"plate between the doors, {LIFT}", line, "", ""), (f"each jamb of the door, {LIFT}", post, "", "")]  # fmt: skip


def _links(book: Book) -> list[tuple[str, str, str, str]]:
    """The checks along the path, each as one row."""
    found = []
    for begin, chapter, words in _LINKS:
        for check in book.calculation(chapter).checks:
            if check.title.startswith(begin) and check.ratio is not None:
                ratio = f"{MARKS[check.status]} {check.ratio:.2f}"
                found.append((words, check.demand, check.capacity, ratio))
    return found
