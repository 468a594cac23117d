"""The plate along a line: how deep it goes, how hard it presses the soil, and what bends it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from shapely import LineString

from calcbook.plan import drawing
from calcbook.plan.drawing import GREY, INK, SMALL, TEXT, THIN

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.job.file import Job
    from calcbook.plate.result import PlateResult

Ends = tuple[tuple[float, float], tuple[float, float]]

NO_LINE = "The line of slab.section_line does not cross the slab, so the section runs through the worst place."
# what is drawn of a section: words, then factor and unit in US and SI
_SHOWN = (
    ("deflection", "deflection", (1.0, "in."), (25.4, "mm")),
    ("pressure", "soil pressure", (1.0, "psf"), (0.0478803, "kPa")),
    ("moment", "moment", (1.0, "lbf ft/ft"), (0.00444822, "kN m/m")),
)
_WIDE, _HIGH = 6.5, 5.0
_LEFT, _BOTTOM, _TOP, _BETWEEN = 58, 36, 40, 12  # points


@dataclass(frozen=True)
class Section:
    """A plate along a line: ``along`` it from its first end, ft; deflection, in., downward; pressure of the soil, psf;
    moment of each foot of width that bends the slab along the line, lbf ft/ft, tension at the bottom positive. Not a
    number where there is no concrete."""

    along: NDArray
    deflection: NDArray
    pressure: NDArray
    moment: NDArray


def section_of(result: PlateResult, ends: Ends) -> Section:
    """A plate along the line from one place to another, ft."""
    along, v = result.section(*ends)
    x, y = np.subtract(ends[1], ends[0]) / np.hypot(*np.subtract(ends[1], ends[0]))
    # lbf in/in is lbf ft/ft
    return Section(along, v.deflection, v.pressure, v.m_x * x * x + v.m_y * y * y + 2 * v.m_xy * x * y)


def line_of(job: Job, x: float, y: float) -> tuple[Ends, str]:
    """The line that a job asks for, or else the one along x at a height y (ft), and what is to be told of it."""
    x0, _, x1, _ = job.plan.outline.bounds
    usual = (x0, y), (x1, y)
    if job.slab.section_line is None:
        return usual, ""
    a, b = (tuple(v.m_as("foot") for v in point) for point in job.slab.section_line)
    crosses = LineString([a, b]).intersection(job.plan.slab).length > 0
    return ((a, b), "") if crosses else (usual, NO_LINE)


def section_chart(result: PlateResult, ends: Ends, system: str = "us") -> Figure:
    """Three charts one above the other: deflection, pressure on the soil, moment, along a line. ends: ft."""
    section = section_of(result, ends)
    foot, unit = (1.0, "ft") if system == "us" else (0.3048, "m")
    a, b = (", ".join(drawing.length_text(v, system) for v in end) for end in ends)
    title = f"{result.case.name}\nSection A-A from ({a}) to ({b})"
    figure, lowest = drawing.chart(_WIDE, _HIGH, "", f"from A, along the line, {unit}")
    places = _places()
    lowest.set_position(places[-1])
    axes = [*(figure.add_axes(place, sharex=lowest) for place in places[:-1]), lowest]
    axes[0].set_title(title, fontsize=drawing.TITLE - 1, loc="left", weight="bold")
    for ax, (field, words, us, si) in zip(axes, _SHOWN, strict=True):
        factor, name = us if system == "us" else si
        ax.plot(section.along * foot, getattr(section, field) * factor, color=INK, lw=1.1)
        ax.axhline(0, color=GREY, lw=THIN)
        ax.set_ylabel(f"{words},\n{name}", fontsize=TEXT - 1)
        if ax is not lowest:
            _plain(ax)
    axes[0].invert_yaxis()
    axes[2].invert_yaxis()  # drawn on the side in tension
    return figure


def _places() -> list[tuple[float, float, float, float]]:
    """Where the charts stand on the figure, from the highest."""
    wide, high = 72 * _WIDE, 72 * _HIGH
    each = (high - _BOTTOM - _TOP - 2 * _BETWEEN) / 3
    return [
        (_LEFT / wide, (_BOTTOM + n * (each + _BETWEEN)) / high, 1 - (_LEFT + 12) / wide, each / high)
        for n in (2, 1, 0)
    ]


def _plain(ax: Axes) -> None:
    """A chart whose places are told by the one below."""
    ax.tick_params(labelsize=SMALL, width=THIN, length=3, labelbottom=False)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        ax.spines[side].set_linewidth(THIN)
