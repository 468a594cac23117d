"""Charts of the pour: the day's timeline, drying by the hour, and the slab's first week."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.coherent import from_coherent
from calcbook.basis.table import lookup, table
from calcbook.plan.charted import key, marks, note
from calcbook.plan.drawing import ACCENT, GREY, HEAVY, INK, LINE, PALE, SMALL, THIN, chart, text_width
from calcbook.pour.slab_heat import FREEZING
from calcbook.pour.weather import evaporation_levels

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from calcbook.concrete.crew import PourPlan
    from calcbook.pour.evaporation import Drying
    from calcbook.pour.plan import Day
    from calcbook.pour.slab_heat import Cover, Week
    from calcbook.pour.week import FirstWeek

READ = 9.0  # points: read at arm's length, on paper and on the screen
SIDE_WORDS = {"sun": "sunny side", "shade": "shaded side", "": ""}

_Span = tuple[float, float]  # start and end, in hours


def clock_text(begin: datetime.datetime, hours: float) -> str:
    """The clock at hours after ``begin``: ``14:35``, with the day where it is another."""
    moment = begin + datetime.timedelta(minutes=round(hours * 60))
    text = moment.strftime("%H:%M")
    days = (moment.date() - begin.date()).days
    return f"{text} (+{days} d)" if days else text


def clock_between(begin: datetime.datetime, early: float, late: float) -> str:
    """From when to when, in clock time; one time where both are the same. early, late: hours after ``begin``."""
    a, b = clock_text(begin, early), clock_text(begin, late)
    return a if a == b else f"{a} to {b}"


def _clock_axis(
    ax: Axes, begin: datetime.datetime, last: float, step: int, size: float = SMALL
) -> None:
    """Ticks at whole clock hours, labelled with the clock; a bar of the day below midnight."""
    first = begin.hour + begin.minute / 60
    at = np.arange(np.ceil(first / step) * step, first + last + 1e-9, step)
    marks(ax.xaxis, at - first, [f"{int(h % 24):02d}:00" for h in at])
    ax.set_xlim(-0.02 * last, last)
    for midnight in np.arange(24, first + last, 24):
        ax.axvline(midnight - first, color=GREY, lw=THIN, ls=(0, (1, 2)))
        if midnight - first > 0.88 * last:
            continue  # no room for the date
        date = (
            (begin + datetime.timedelta(hours=float(midnight - first)))
            .strftime("%a %b %d")
            .replace(" 0", " ")
        )
        note(ax, midnight - first, 1.0, date, 3, -2, "y", fontsize=size, color=GREY, va="top")


def timeline(day: Day, begin: datetime.datetime, saw: Sequence[_Span] | None = None) -> Figure:
    """The day on the clock: trucks, placing, passes by side, sawing. To be read at arm's length.

    day: pour_plan.Day; begin: clock time of the first truck; saw: ((early), (late)) windows of
    sawing, each (first, last) hour. Solid bars are the early set, dashed frames the late one.
    """
    from matplotlib.collections import PolyCollection

    rows = _bars(day.plan, saw)
    last = max(end for _, early, late in rows for _, end in (*early, *late))
    beside = 12 + max(text_width(name, READ) for name, _, _ in rows)
    figure, ax = chart(
        6.5, 1.1 + 0.42 * len(rows), "The day on the clock", left=beside, bottom=44, numbers=READ
    )
    filled = [
        _bar(n + (0.17 if late else 0), span)
        for n, (_, early, late) in enumerate(rows)
        for span in early
    ]
    dashed = [_bar(n - 0.19, span) for n, (_, _, late) in enumerate(rows) for span in late]
    for bars in (
        PolyCollection(filled, fc=PALE, ec=INK, lw=LINE, joinstyle="miter"),
        PolyCollection(dashed, fc="none", ec=ACCENT, lw=1.2, ls=(0, (3, 1.5)), joinstyle="miter"),
    ):
        ax.add_collection(bars, autolim=False)
    for n, (_, early, late) in enumerate(rows[1:], 1):  # the trucks stand in the row of placing
        _times(ax, n, early, late, begin, last)
    marks(ax.yaxis, range(len(rows)), [name for name, _, _ in rows])
    ax.set_ylim(len(rows) - 0.4, -0.75)
    _clock_axis(ax, begin, last * 1.02, 2 if last < 14 else 3 if last < 26 else 6, READ)
    ax.set_xlabel("filled: earliest published set; dashed: latest published set", fontsize=READ)
    return figure


def _bar(at: float, span: _Span) -> list[tuple[float, float]]:
    """Corners of a bar over a span of hours, in a row at a height."""
    return [(hour, at + up) for up, hours in ((-0.17, span), (0.17, span[::-1])) for hour in hours]


def _bars(plan: PourPlan, saw: Sequence[_Span] | None) -> list[tuple[str, list[_Span], list[_Span]]]:
    """Rows of the timeline: (name, early bars, late bars)."""
    rows: list[tuple[str, list[_Span], list[_Span]]] = [
        ("trucks", [(t.begins, t.ends) for t in plan.trucks], [])
    ]
    for task in plan.tasks:
        name = f"{task.name}, {SIDE_WORDS[task.side]}" if task.side else task.name
        rows.append((name, [task.early], [task.late] if task.late != task.early else []))
    return [*rows, ("sawing", [saw[0]], [saw[1]])] if saw else rows


def _times(
    ax: Axes,
    n: int,
    early: Sequence[tuple[float, float]],
    late: Sequence[tuple[float, float]],
    begin: datetime.datetime,
    last: float,
) -> None:
    """The clock times of a row beside its bars: the early ones level with theirs, the late ones above."""
    first = min(start for start, _ in (*early, *late))
    right = max(end for _, end in (*early, *late))
    room = right < 0.66 * last
    for bars, up, color in ((early, 0.17 if late else 0, INK), (late, -0.23, ACCENT)):
        if bars:
            note(ax, right if room else first, n + up, _span(begin, *bars[0]), 5 if room else -5, fontsize=READ,
                 va="center", color=color, ha="left" if room else "right")  # fmt: skip


def _span(begin: datetime.datetime, start: float, end: float) -> str:
    return f"{clock_text(begin, start)} – {clock_text(begin, end)}"


def drying_chart(drying: Drying, begin: datetime.datetime, system: str = "us") -> Figure:
    """Evaporation by the hour against the published limits."""
    factor, unit = (1.0, "lb/(ft²·h)") if system == "us" else (4.8824, "kg/(m²·h)")
    figure, ax = chart(6.5, 2.8, "Drying of the fresh surface", "clock time", f"evaporation, {unit}")
    ax.plot(drying.hours, drying.menzel * factor, color=INK, lw=HEAVY, label="Menzel")
    ax.plot(
        drying.hours,
        drying.uno * factor,
        color=GREY,
        lw=LINE,
        ls="--",
        label="Uno (too high in the cold)",
    )
    top = max(0.24, 1.15 * float(np.max(drying.menzel)), 1.15 * float(np.max(drying.uno))) * factor
    for row in evaporation_levels():
        level = row["limit"].m * factor
        ax.axhline(level, color=ACCENT, lw=LINE, ls=":")
        words = "precautions at once" if row["limit"].m > 0.15 else "watch: low-bleed mixes can crack"
        at, side = _clear_end(drying, level / factor, top / factor)
        note(ax, at, level, f"{level:.2g}: {words}", 0, 2, "x", fontsize=SMALL, color=ACCENT, ha=side, va="bottom")  # fmt: skip
    ax.set_ylim(0, top)
    _clock_axis(ax, begin, drying.hours[-1], 1 if drying.hours[-1] < 14 else 2)
    key(ax, (0.01, 0.8))
    return figure


# where words over a level may stand, best first: share of the width, their side there, and the shares that they take
_PLACES: tuple[tuple[float, str, float, float], ...] = (
    (0.995, "right", 0.62, 1.0), (0.005, "left", 0.0, 0.38),
    *((low + 0.19, "center", low, low + 0.38) for low in (0.56, 0.48, 0.4, 0.32, 0.24, 0.16, 0.08)),
)  # fmt: skip
_KEY = 0.3  # of the width, below the key of the chart


def _clear_end(drying: Drying, level: float, top: float) -> tuple[float, str]:
    """Where no curve runs through the words over a level, and not in the key: at the right, at the left, or between."""
    for at, side, low, high in _PLACES:
        along = (low * drying.hours[-1] <= drying.hours) & (drying.hours <= high * drying.hours[-1])
        over = [
            np.any((level <= curve) & (curve <= level + 0.07 * top) & along)
            for curve in (drying.menzel, drying.uno)
        ]
        if not any(over) and (low > _KEY or level < 0.45 * top):
            return at, side
    return _PLACES[0][:2]


def week_chart(
    week: Week,
    case: int,
    begin: datetime.datetime,
    safe: float,
    system: str = "us",
    title: str = "The slab's first nights",
) -> Figure:
    """Temperatures of slab and air, the cover, and the moment from which a freeze is survived.

    week: slab_heat.Week; case: which; safe: hours (inf where it is not reached).
    """
    us = system == "us"
    figure, ax = chart(
        6.5, 4.3, title, "", f"temperature, {'°F' if us else '°C'}", left=50, bottom=52, numbers=READ
    )
    march, hours = week.march, week.hours
    degree = "degF" if us else "degC"
    air = np.interp(hours, week.site.hours, week.site.air)
    for values, name, style, width, color in (
        (march.top[case], "slab top", "-", 2.0, INK),
        (march.middle[case], "middle", "--", 1.1, INK),
        (march.bottom[case], "bottom", ":", 1.3, INK),
        (air, "air", "-", 1.1, GREY),
    ):
        ax.plot(hours, from_coherent(values, degree), ls=style, lw=width, color=color, label=name)
    freezing = from_coherent(FREEZING, degree)
    ax.axhline(freezing, color=ACCENT, lw=1.2, ls=(0, (4, 2)))
    note(ax, 0.995, freezing, "freezing", 0, -3, "x", fontsize=READ, color=ACCENT, ha="right", va="top")
    low, high = ax.get_ylim()
    low, room = min(low, freezing - (6 if us else 3)), high - low
    ax.set_ylim(low, high + 0.42 * room)
    _cover_bar(ax, week.cases[case].cover, hours[-1], high + 0.27 * room)
    if np.isfinite(safe) and safe < hours[-1]:
        ax.plot([safe, safe], [low, high + 0.12 * room], color=INK, lw=LINE)
        left = safe > 0.55 * hours[-1]
        note(ax, safe, high + 0.12 * room, "from here one freezing is survived", -5 if left else 5, fontsize=READ,
             va="top", ha="right" if left else "left")  # fmt: skip
    _clock_axis(ax, begin, hours[-1], 12 if hours[-1] < 110 else 24, READ)
    ax.yaxis.label.set_fontsize(READ)
    key(ax, (0.5, -0.11), 4, size=READ, ha="center")
    return figure


def _cover_bar(ax: Axes, cover: Cover, last: float, height: float) -> None:
    """A bar over the hours in which the slab is covered."""
    if not np.isfinite(cover.on):
        return
    ax.plot([cover.on, min(cover.off, last)], [height] * 2, color=INK, lw=4, solid_capstyle="butt")
    note(ax, cover.on, height, f"under {cover.blanket}", 0, -5, fontsize=READ, va="top")


def strength_chart(found: FirstWeek, begin: datetime.datetime, system: str = "us") -> Figure:
    """Strength of the slab by maturity: the ACI 209 line within the band of published curves."""
    us = system == "us"
    factor, unit = (1.0, "psi") if us else (0.00689476, "MPa")
    figure, ax = chart(
        6.5, 2.8, "Strength in the coldest part of the slab", "clock time", f"strength, {unit}"
    )
    hours, outcome = found.week.hours, found.planned
    ax.fill_between(
        hours, outcome.low * factor, outcome.high * factor, color=PALE, lw=0, label="published curves"
    )
    ax.plot(hours, outcome.low * factor, color=INK, lw=LINE, ls="--", label="lowest")
    ax.plot(hours, outcome.mid * factor, color=INK, lw=HEAVY, label="ACI 209")
    level = lookup("freezing", rule="single freezing")["strength_psi"] * factor
    ax.axhline(level, color=ACCENT, lw=LINE, ls=":")
    note(ax, 0.995, level, f"{level:.3g} {unit}: one freezing is survived", 0, 3, "x", fontsize=SMALL, color=ACCENT,
         ha="right")  # fmt: skip
    ax.set_ylim(0, None)
    _clock_axis(ax, begin, hours[-1], 12)
    key(ax, (0.01, 0.9))
    return figure


def water_chart(added: float, system: str = "us") -> Figure:
    """Strength lost to added water by each published range. added: gal/yd3 of the step, marked."""
    us = system == "us"
    water, strength = (1.0, 1.0) if us else (4.951, 0.00689476)
    figure, ax = chart(
        6.5, 2.6, "Strength lost to added water", "water added, gal/yd³" if us else "water added, L/m³",
        "strength lost, psi" if us else "strength lost, MPa",
    )  # fmt: skip
    gallons = np.array([0.0, 3.0])
    for row, hatch in zip(table("added_water"), ("", "////"), strict=True):
        low, high = (gallons * row[key] * strength for key in ("loss_low_psi", "loss_high_psi"))
        ax.fill_between(gallons * water, low, high, facecolor="none" if hatch else PALE, edgecolor=GREY,
                        hatch=hatch, lw=THIN, label=row["source"].place)  # fmt: skip
    ax.set_xlim(0, 3 * water)
    ax.set_ylim(0, 1.35 * ax.dataLim.y1)  # room for the key above the bands
    ax.axvline(added * water, color=ACCENT, lw=LINE, ls=":")
    for line, words in enumerate(("a truck at the low end", "of its tolerance")):
        note(
            ax,
            added * water,
            ax.get_ylim()[1],
            words,
            4,
            -2 - 1.2 * SMALL * line,
            fontsize=SMALL,
            color=ACCENT,
            va="top",
        )
    key(ax, (0.99, 1.01), ha="right", title="Concrete Construction")
    return figure
