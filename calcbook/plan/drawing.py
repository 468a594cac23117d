"""The one drawing style of the book.

Every drawing starts on a ``canvas``: a figure whose scale on paper is known before anything is
drawn, so that ticks, gaps and text are set in points and never collide by accident. Plain
``Figure`` objects are used, not pyplot: no state, and nothing opens a window.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

import numpy as np
from shapely import Polygon, get_parts

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.text import Text
    from matplotlib.transforms import Bbox, Transform
    from numpy.typing import NDArray
    from shapely.geometry import CoordinateSequence, MultiPolygon

INK, GREY, PALE, ACCENT = "#111111", "#6b6b6b", "#ececec", "#9a3d12"
HEAVY, LINE, THIN = 1.6, 0.9, 0.5  # line widths in points
TEXT, SMALL, TITLE = 8.0, 7.0, 9.5  # type sizes in points
FONT = "DejaVu Sans"  # comes with matplotlib, so every machine draws the same
LETTER = 0.60  # mean width of a character of FONT, in type sizes
GAP = 14.0  # between neighbouring dimension lines, in points

_STYLE: Any = {
    "font.family": FONT,
    "font.size": TEXT,
    "hatch.linewidth": 0.4,
    "svg.hashsalt": "calcbook",  # the same drawing gives the same file
}

# (paper inches for one foot, how a builder says it), largest first
US_SCALES = (
    (3.0, '3" = 1\'-0"'), (1.5, '1 1/2" = 1\'-0"'), (1.0, '1" = 1\'-0"'), (0.75, '3/4" = 1\'-0"'),
    (0.5, '1/2" = 1\'-0"'), (0.375, '3/8" = 1\'-0"'), (0.25, '1/4" = 1\'-0"'), (0.1875, '3/16" = 1\'-0"'),
    (0.125, '1/8" = 1\'-0"'), (0.09375, '3/32" = 1\'-0"'), (0.0625, '1/16" = 1\'-0"'),
    (0.05, '1" = 20\''), (0.025, '1" = 40\''), (0.0125, '1" = 80\''), (0.005, '1" = 200\''), (0.0025, '1" = 400\''),
)  # fmt: skip
SI_SCALES = tuple(
    (12 / n, f"1 : {n}")
    for n in (5, 10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 1000, 2500, 5000)
)

LineStyle: TypeAlias = (
    "str | tuple[float, tuple[float, ...]]"  # by name, or (start, (dash, gap, ...)) in points
)


@dataclass(frozen=True)
class Canvas:
    """A figure that is drawn on in feet, with the scale known.

    figure: the matplotlib object; point: feet to one point of paper; scale: its name; paper: what it shows, in feet.
    What is drawn belongs to the figure itself: axes, with their ticks and their frame to cut at, take a third of the time.
    """

    figure: Figure
    point: float
    scale: str
    paper: Bbox
    texts: list[Text] = field(default_factory=list)
    strokes: dict[Any, Any] = field(default_factory=dict)  # paths by style, drawn together: faster

    @functools.cached_property
    def place(self) -> Transform:
        """From feet to where the figure draws."""
        from matplotlib.transforms import BboxTransformFrom, BboxTransformTo

        return BboxTransformFrom(self.paper) + BboxTransformTo(self.figure.bbox)

    def add(self, artist: Artist) -> None:
        """Add what matplotlib draws, its places in feet."""
        artist.set_transform(self.place)
        self.figure.add_artist(artist)

    @functools.cached_property
    def ax(self) -> Axes:
        """Axes in feet as large as the paper, for what is drawn by axes alone, such as contours; no higher than an area."""
        ax = self.figure.add_axes((0, 0, 1, 1), zorder=2)
        ax.set_axis_off()
        self.fit_axes()
        return ax

    def fit_axes(self) -> None:
        """Let the axes, where there are any, show the paper as it is."""
        for ax in self.figure.axes:
            ax.set(xlim=self.paper.intervalx, ylim=self.paper.intervaly)


def _new_figure(width: float, height: float) -> Figure:
    """An empty figure. matplotlib is loaded here: it takes longer than the sums of a whole job."""
    from matplotlib import rcParams
    from matplotlib.figure import Figure

    rcParams.update(_STYLE)
    return Figure(figsize=(width, height), facecolor="white")


def canvas(
    bounds: tuple[float, float, float, float],
    margins: tuple[float, float, float, float] = (40, 40, 40, 40),
    width: float = 6.5,
    height: float = 6.0,
    system: str = "us",
    title: str = "",
    trade: bool = True,
) -> Canvas:
    """A blank drawing of a given part of the world, at the largest trade scale that fits.

    bounds: (x0, y0, x1, y1) of what is drawn, in feet; margins: left, bottom, right, top around
    it, in points; width, height: the most paper it may take, in inches; system: "us" or "si"
    scales; title: set above the drawing; trade: False for no trade scale, as large as it fits. Returns a Canvas.
    """
    x0, y0, x1, y1 = bounds
    left, bottom, right, top = margins
    top += 1.8 * TITLE if title else 0
    span_x, span_y = max(x1 - x0, 1e-6), max(y1 - y0, 1e-6)
    fit = min((width - (left + right) / 72) / span_x, (height - (bottom + top) / 72) / span_y)
    scales = (SI_SCALES if system == "si" else US_SCALES) if trade else ()
    per_foot, scale = next(
        (s for s in scales if s[0] <= fit * (1 + 1e-9)), (fit, "not to a trade scale" if trade else "")
    )
    point = 1 / (72 * per_foot)
    box = (x0 - left * point, x1 + right * point, y0 - bottom * point, y1 + top * point)
    from matplotlib.transforms import Bbox

    figure = _new_figure((box[1] - box[0]) * per_foot, (box[3] - box[2]) * per_foot)
    made = Canvas(figure, point, scale, Bbox.from_extents(box[0], box[2], box[1], box[3]))
    if title:
        _caption(made, title)
    return made


def trim(on: Canvas, bounds: tuple[float, float, float, float], title: str = "") -> None:
    """Cut a drawing to what was drawn, at the same scale, and set its title.

    on: a Canvas made without a title; bounds: (x0, y0, x1, y1) of the paper kept, in feet.
    """
    x0, y0, x1, y1 = bounds
    y1 += 2.0 * TITLE * on.point if title else 0
    x1 = max(x1, x0 + (text_width(title, TITLE) * 1.15 + 8) * on.point)
    on.figure.set_size_inches((x1 - x0) / on.point / 72, (y1 - y0) / on.point / 72)
    on.paper.set_points(np.array([(x0, y0), (x1, y1)]))
    on.fit_axes()
    if title:
        _caption(on, title)


def _caption(on: Canvas, title: str) -> None:
    at = on.paper.x0 + 4 * on.point, on.paper.y1 - 0.9 * TITLE * on.point
    label(on, at, title, size=TITLE, ha="left", weight="bold")


def label(
    on: Canvas,
    at: NDArray | tuple[float, float],
    text: str,
    size: float = TEXT,
    color: str = INK,
    angle: float = 0.0,
    ha: str = "center",
    va: str = "center",
    weight: str = "normal",
    ground: bool = False,
) -> Text:
    """Text on a drawing.

    at: (x, y) in feet; size: of the letters, in points; angle: degrees; ground: True sets white paper behind it.
    """
    from calcbook.plan.words import Words

    made = Words(
        at[0], at[1], text, ground, fontsize=size, color=color, rotation=angle, ha=ha, va=va, weight=weight, zorder=6
    )  # fmt: skip
    on.add(made)
    on.texts.append(made)
    return made


def text_width(text: str, size: float = TEXT) -> float:
    """About how wide a text prints in letters of a size, both in points."""
    return LETTER * size * len(text)


def stroke(
    on: Canvas,
    points: Sequence[Any],
    color: str,
    width: float,
    cap: Literal["butt", "projecting"] = "butt",
    zorder: int = 5,
) -> None:
    """A line along points (x, y) in feet; color, width in points, cap of its ends, zorder: as matplotlib has them."""
    from matplotlib.collections import LineCollection
    from matplotlib.path import Path

    style = color, width, cap, zorder
    if style not in on.strokes:
        drawn = LineCollection(
            [], colors=color, linewidths=width, capstyle=cap, joinstyle="miter", zorder=zorder
        )
        on.add(drawn)
        on.strokes[style] = drawn.get_paths()
    on.strokes[style].append(Path(points))


def line(
    on: Canvas,
    points: CoordinateSequence | Sequence[tuple[float, float]],
    color: str = INK,
    width: float = LINE,
    style: LineStyle = "-",
) -> None:
    """A line through points in feet. width: in points."""
    if style == "-":
        stroke(on, points, color, width, "projecting", 4)
        return
    from matplotlib.lines import Line2D

    xs, ys = zip(*points, strict=True)
    on.add(Line2D(xs, ys, color=color, lw=width, ls=style, solid_joinstyle="miter", zorder=4))


def area(
    on: Canvas,
    shape: MultiPolygon | Polygon,
    edge: str = INK,
    fill: str = "none",
    width: float = LINE,
    style: LineStyle = "-",
    hatch: str | None = None,
    zorder: int = 2,
) -> None:
    """A shape (shapely polygon or several, in feet), with its holes left open. width: of its edge, in points."""
    parts = [part for part in get_parts(shape) if isinstance(part, Polygon) and not part.is_empty]
    if parts:
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        rings = [
            Path(r.coords, closed=True) for part in parts for r in (part.exterior, *part.interiors)
        ]
        patch = PathPatch(
            Path.make_compound_path(*rings), facecolor=fill, edgecolor=edge, lw=width, ls=style,
            hatch=hatch, zorder=zorder, joinstyle="miter",
        )  # fmt: skip
        on.add(patch)


def leader(
    on: Canvas,
    at: tuple[float, float],
    to: tuple[float, float],
    text: str,
    size: float = SMALL,
    ha: str = "left",
    color: str = INK,
) -> None:
    """A note with a thin line to what it names.

    at: the thing; to: where the text stands, both (x, y) in feet; size: of the letters, in points.
    """
    from matplotlib.lines import Line2D

    stroke(on, (at, to), color, THIN)
    on.add(Line2D(*([value] for value in at), marker="o", ms=2, color=color, zorder=5))
    gap = 3 * on.point * (1 if ha == "left" else -1)
    label(on, (to[0] + gap, to[1]), text, size, color, ha=ha, ground=True)


def arrow(
    on: Canvas,
    start: Any,
    tip: Any,
    color: str = INK,
    width: float = LINE,
    zorder: int = 3,
    gap: float = 0,
) -> None:
    """An arrow between two places, (x, y) in feet. width: in points; gap: at both ends, in points."""
    from matplotlib.patches import FancyArrowPatch

    drawn = FancyArrowPatch(
        tuple(start), tuple(tip), arrowstyle="-|>", mutation_scale=TEXT, lw=width, color=color, shrinkA=gap, shrinkB=gap,
        zorder=zorder,
    )  # fmt: skip
    on.add(drawn)


def scale_bar(on: Canvas, at: tuple[float, float], system: str = "us") -> float:
    """A scale bar with the name of the scale; at: its left end in feet. Returns where it ends, in feet."""
    steps = (1, 2, 5, 10, 20, 50, 100) if system == "us" else (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50)
    foot = 1.0 if system == "us" else 1 / 0.3048
    length = next((s for s in steps if s * foot / on.point >= 60), steps[-1])
    x, y = at
    half, height = length * foot / 2, 3 * on.point
    for start, fill in ((x, INK), (x + half, "white")):
        box = Polygon([(start, y), (start + half, y), (start + half, y + height), (start, y + height)])
        area(on, box, fill=fill, width=THIN)
    name = f"{length} ft" if system == "us" else f"{length:g} m"
    below = y - 1.0 * SMALL * on.point
    label(on, (x, below), "0", SMALL)
    label(on, (x + 2 * half, below), name, SMALL)
    beside = x + 2 * half + (14 + text_width(name, SMALL)) * on.point
    scale = f"scale {on.scale}" if on.scale else ""
    label(on, (beside, y), scale, SMALL, GREY, ha="left")
    return beside + text_width(scale, SMALL) * on.point


def length_text(feet: float, system: str = "us", small: bool = False) -> str:
    """A length given in plain feet, as the drawing writes it."""
    return show_length(Q(float(feet), "ft"), system, small)


def chart(
    width: float = 6.5,
    height: float = 3.4,
    title: str = "",
    x: str = "",
    y: str = "",
    left: float = 46,
    bottom: float = 36,
    numbers: float = SMALL,
) -> tuple[Figure, Axes]:
    """A blank chart in the book's style: title, axes labelled with units. Returns (figure, ax).

    width, height: in inches; left, bottom: room for the labels beside and below, in points (given,
    because measuring the labels takes longer than drawing the chart); numbers: size of those along the axes, in points.
    """
    from calcbook.plan.scales import BareAxes, Scales

    figure = _new_figure(width, height)
    across, up = 72 * width, 72 * height
    room = left / across, bottom / up, 1 - (left + 12) / across, 1 - (bottom + 2.4 * TITLE) / up
    ax = BareAxes(figure, room)
    figure.add_axes(ax)
    ax.set_title(title, fontsize=TITLE, loc="left", weight="bold", y=1.0)  # placed: not measured
    ax.set_xlabel(x, fontsize=TEXT)
    ax.set_ylabel(y, fontsize=TEXT)
    Scales(ax, numbers, 3, THIN)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        ax.spines[side].set_linewidth(THIN)
    return figure, ax
