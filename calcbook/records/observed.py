"""What records say of each figure: one outcome for each job, on the scale on which it is learned."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.reading import read
from calcbook.basis.units import UnitError, number_in
from calcbook.records.learned import (
    cost_against,
    depth_off,
    hours_against,
    log_outcome,
    lost_share,
    pace,
    set_against_band,
    strength_against,
    time_between,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.records.figures import Figure
    from calcbook.records.file import Record
    from calcbook.records.schema import PromisedLine

Inputs = dict[str, float]
# what no slab does: beyond, a number was mistyped, and the job is left out of the figure
_TWENTY_EIGHT = (26.0, 32.0)  # days of a test that counts as one at 28
_DEPTHS, _WASTES, TIMES = (-2.0, 6.0), (-0.1, 0.5), (0.2, 5.0)


@dataclass(frozen=True)
class Outcomes:
    """Outcomes of a figure: ``y`` of each of ``records``, by the day of the pour; ``problems``: what was left out."""

    figure: Figure
    records: tuple[Record, ...]
    y: NDArray
    problems: tuple[str, ...]


def outcomes(records: Sequence[Record], figure: Figure, start: float) -> Outcomes:
    """The outcomes of a figure in records. start: the figure in use, in its trade unit."""
    gather, work = _HOW.get(figure.name, (functools.partial(_rate, place=figure.place), pace))
    kept = [
        (record, found)
        for record in records
        if not record.file.record.leaves_out(figure.name)
        and (found := gather(record, start, figure.unit)) is not None
    ]
    if not kept:
        return Outcomes(figure, (), np.zeros(0), ())
    found = work.bulk(**{key: np.array([row[key] for _, row in kept]) for key in kept[0][1]})
    low, high = {"depth": _DEPTHS, "waste": _WASTES}.get(figure.name, TIMES)
    fits = (found >= low) & (found <= high)
    problems = [_absurd(kept[n][0], figure, found[n]) for n in np.flatnonzero(~fits)]
    there = tuple(kept[n][0] for n in np.flatnonzero(fits))
    y = log_outcome.bulk(r=found[fits]) if figure.log else found[fits]
    return Outcomes(figure, there, y, tuple(problems))


def _absurd(record: Record, figure: Figure, found: float) -> str:
    seen = (
        f"{found:.3g} times the figure in use"
        if figure.log
        else f"{found:.3g} {figure.unit}".removesuffix(" 1")
    )
    return (
        f"{record.path.name}: {figure.name} ({figure.words}) comes to {seen}, which no slab does; look for a mistyped "
        "number. The record is left out of this figure"
    )  # fmt: skip


def number(value: Quantity | None, unit: str) -> float | None:
    """A value as a plain number; None where it was not measured."""
    return None if value is None else float(number_in(value, unit))


def _whole(**found: float | None) -> Inputs | None:
    """The inputs, where none is missing."""
    there = {key: value for key, value in found.items() if value is not None}
    return there if len(there) == len(found) else None


def _depth(record: Record, start: float, unit: str) -> Inputs | None:
    depths = record.file.base.depths
    if not depths:
        return None
    mean = sum(float(number_in(d, "in")) for d in depths) / len(depths)
    return _whole(h_m=mean, h=number(record.file.promised.thickness, "in"))


def _waste(record: Record, start: float, unit: str) -> Inputs | None:
    base, concrete, promised = _depth(record, start, "in"), record.file.concrete, record.file.promised
    if base is None:
        return None
    d = float(depth_off.bulk(**base))
    if not _DEPTHS[0] <= d <= _DEPTHS[1]:
        return None  # told with the depth
    return _whole(
        V_d=number(concrete.delivered, "yd3"), V_r=number(concrete.left_over, "yd3"),
        V=number(promised.volume, "yd3"), A=number(promised.area, "ft2"), d=d,
        V_l=number(promised.line_loss, "yd3") or 0.0,
    )  # fmt: skip


def _set(record: Record, start: float, unit: str) -> Inputs | None:
    """The first footprint that holds, or where that was not noted, the machine going on."""
    signs = record.file.set
    return _against_band(record, signs.foot_print or signs.machine_on, start)


def _machine(record: Record, start: float, unit: str) -> Inputs | None:
    return _against_band(record, record.file.set.machine_on, start)


def _against_band(record: Record, clock: str, start: float) -> Inputs | None:
    """A time of the clock against the band; what an admixture does is in the band that was promised."""
    promised = record.file.promised
    return _whole(
        t=record.after_start(clock) or None, t_1=number(promised.float_early, "h"),
        t_2=number(promised.float_late, "h"), f=promised.own_set.m / start,
    )  # fmt: skip


def _trucks(record: Record, start: float, unit: str) -> Inputs | None:
    """Mean time from one truck's arrival to the next, over what is in use."""
    spacing = record.truck_spacing
    return None if spacing is None else {"t": spacing, "t_0": start}


def _rate(record: Record, start: float, unit: str, place: str) -> Inputs | None:
    """The hours of all lines that rest on a field of the job file."""
    done = [one for one in record.lines_done["hours"] if one[0].field == place]
    if not done:
        return None
    return _sums(done) | {"f": _rate_of(done[0][0].rate, unit, start) / start}


def _sums(done: Sequence[tuple[PromisedLine, float, float]]) -> Inputs:
    """Hours promised, and hours as they came out, of some lines."""
    return {"H_p": sum(before for _, before, _ in done), "H": sum(after for *_, after in done)}


def _strength(record: Record, start: float, unit: str) -> Inputs | None:
    """Tests at about 28 days; a hammer's reading is none."""
    tests = [
        float(number_in(t.strength, "psi"))
        for t in record.file.strengths
        if t.by != "hammer" and _TWENTY_EIGHT[0] <= number_in(t.age, "day") <= _TWENTY_EIGHT[1]
    ]
    return _whole(
        S=sum(tests) / len(tests) if tests else None, f_c=number(record.file.promised.strength, "psi")
    )


def _hours(record: Record, start: float, unit: str) -> Inputs | None:
    done = record.lines_done["hours"]
    return _sums(done) if done else None


def _cost(record: Record, start: float, unit: str) -> Inputs | None:
    promised = number(record.file.promised.direct, "$")
    return _whole(C=number(record.file.money.spent, "$"), C_p=promised or None)


@functools.lru_cache(maxsize=256)
def _rate_of(text: str, unit: str, start: float) -> float:
    """A rate as a number; the one in use where the record does not say it."""
    try:
        return float(number_in(read(text, unit), unit)) or start
    except UnitError:
        return start


_HOW: dict[str, tuple[Callable[..., Inputs | None], Any]] = {
    "depth": (_depth, depth_off),
    "waste": (_waste, lost_share),
    "set": (_set, set_against_band),
    "machine": (_machine, set_against_band),
    "trucks": (_trucks, time_between),
    "strength": (_strength, strength_against),
    "hours": (_hours, hours_against),
    "cost": (_cost, cost_against),
}
