"""Temperatures of a slab: as planned, as logged, and as the model goes on from there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.coherent import from_coherent
from calcbook.plan.charted import key, note
from calcbook.plan.drawing import ACCENT, GREY, HEAVY, INK, LINE, SMALL, chart
from calcbook.pour.slab_heat import FREEZING

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.records.logger import Logged


def measured_chart(
    logs: Sequence[Logged],
    place: str,
    hours: NDArray,
    planned: NDArray,
    kelvin: NDArray,
    now: float,
    begin: datetime.datetime,
    system: str,
) -> Figure:
    """Temperatures at a place of the slab, K by hours after ``begin``.

    planned: by the model before the pour; kelvin: logged until ``now``, then by the model set to the logger.
    """
    us = not system.startswith("si")
    degree = "degF" if us else "degC"
    figure, ax = chart(6.5, 3.4, f"The slab as measured, {place}", f"hours after placing began, {begin:%Y-%m-%d %H:%M}",
                       f"temperature, {'°F' if us else '°C'}", left=50, bottom=66)  # fmt: skip
    ax.plot(hours, from_coherent(planned, degree), color=GREY, lw=LINE, ls="--", label="as planned")
    after = hours >= now
    ax.plot(hours[after], from_coherent(kelvin[after], degree), color=INK, lw=HEAVY, label="model, set by the logger")  # fmt: skip
    for log in logs:
        if log.place == place:
            seen = log.hourly()
            ax.plot(seen.hours, from_coherent(seen.kelvin, degree), ".", color=INK, ms=5, label="logged, hourly")  # fmt: skip
    ax.axvline(now, color=ACCENT, lw=LINE)
    note(ax, now, 1, f"now, hour {now:.0f}", 4, -4, "y", fontsize=SMALL, color=ACCENT, va="top")
    ax.axhline(from_coherent(FREEZING, degree), color=ACCENT, lw=LINE, ls=":")
    key(ax, (0, -0.2), 3)
    return figure
