"""The order sheet: what is read out to the dispatcher of the ready-mix producer."""

from __future__ import annotations

import calendar
import datetime
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.safety import DEFERRAL, cautions_of
from calcbook.basis.showing import feet_inches, show, show_length
from calcbook.basis.table import records, table
from calcbook.basis.units import Q, number_in
from calcbook.concrete.mix import slump_tolerance
from calcbook.pour.charts import clock_text

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.concrete.trucks import TruckPlan
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job


_TITLE = "Order for the dispatcher"


@dataclass(frozen=True)
class OrderSheet:
    """The order of a job. ``lines`` are pairs of words; ``text()`` is the slip to read out.

    job: a Job; calculations: name -> Calculation, of which any may add lines of its own
    (``order_lines``), such as a fiber and its dosage; plan: what each truck brings; volume: the concrete ordered.
    """

    job: Job
    calculations: dict[str, Calculation]
    plan: TruckPlan
    volume: VolumeFound | None = None

    @property
    def title(self) -> str:
        """Its heading, which names the slab where that is not the first of the job."""
        return f"{_TITLE}: {self.job.slab.called}" if self.job.place_of("slab") != "slab" else _TITLE

    def _slabs(self) -> Iterator[tuple[str, str]]:
        """Which slabs it is for, where the job has several."""
        if self.job.others or self.job.place_of("slab") != "slab":
            yield "For", " and ".join(one.slab.called for one in (self.job, *self.job.poured_with))

    @property
    def lines(self) -> list[tuple[str, str]]:
        """Pairs of (name, words), as they are read out."""
        return [
            ("Job", self.job.job.name),
            *self._slabs(),
            ("Deliver to", self.job.job.address or "address to be given"),
            ("On", self._day()),
            *self._concrete(),
            *(line for c in self.calculations.values() for line in c.order_lines),
            *self._trucks(),
            ("Placing", "by pump" if self.job.pour.pump else "by chute, off the truck"),
            ("Contact", self.job.job.contact or "to be given"),
            *self._remarks(),
            *self._safety(),
            ("Review", DEFERRAL),
        ]

    def _day(self) -> str:
        moment = self.job.pour.moment()
        if moment is None:
            return f"date to be given, first truck on site at {self.job.pour.start}"
        weekday = calendar.day_name[moment.weekday()]
        return f"{weekday}, {moment:%Y-%m-%d}, first truck on site at {moment:%H:%M}"

    def _concrete(self) -> list[tuple[str, str]]:
        """Amount, strength, slump, air, aggregate, and the mix as far as the job prescribes it."""
        concrete, system = self.job.concrete, self.job.system
        slump, off = (
            _spoken_slump(q, system) for q in (concrete.slump, slump_tolerance(concrete.slump))
        )
        found = [
            (
                "Concrete",
                f"{show(self.plan.total, 'yd3', system)}, "
                f"{show(concrete.strength, 'psi', system)} at 28 days",
            ),
            ("Slump", f"{slump}, plus or minus {off}"),
            ("Air", _air(number_in(concrete.air, "%"))),
            ("Aggregate", f"up to {_size(concrete.aggregate, system)}"),
        ]
        if concrete.w_cm is not None:
            found.append(("Water", f"w/cm {concrete.w_cm.m_as(''):.2f} at most, by mass"))
        prescribed = "cement" in concrete.model_fields_set or concrete.cement_content is not None
        words = [f"type {concrete.cement}"] if prescribed else []
        if concrete.cement_content is not None:
            words.append(show(concrete.cement_content, "lb/yd3", system))
        ash = number_in(concrete.fly_ash, "%")
        if ash:
            words.append(f"{ash:.3g} % of the cementitious mass as fly ash")
        if words:  # else the producer's own mix
            found.append(("Cement", ", ".join(words)))
        slowing = number_in(self.job.pour.slowing, "1")
        if slowing != 1:
            what = "accelerator" if slowing < 1 else "retarder"
            found.append(
                ("Admixture", f"{what}: sets in {slowing:.3g} times the hours of the plain mix")
            )
        arriving = _spoken_degrees(self.job.pour.concrete_temperature, system)
        return [*found, ("Temperature", f"{arriving} as it arrives")]

    def _trucks(self) -> list[tuple[str, str]]:
        pour, plan = self.job.pour, self.plan
        loads = f"{len(plan.loads)}: {plan.text(self.job.system)}"
        if len(plan.loads) == 1:
            return [("Trucks", loads)]
        spacing = number_in(pour.truck_spacing, "h")
        first = datetime.datetime.combine(datetime.date.min, datetime.time.fromisoformat(pour.start))
        times = ", ".join(clock_text(first, n * spacing) for n in range(len(plan.loads)))
        return [
            ("Trucks", loads),
            ("Spacing", f"{show(pour.truck_spacing, 'min')} apart, on site at {times}"),
        ]

    def _remarks(self) -> Iterator[tuple[str, str]]:
        plan = self.plan
        if len(plan.loads) > 1:
            yield (
                "Balance",
                f"hold the last load: we call after truck {len(plan.loads) - 1} and say how much",
            )
        if plan.remedy:
            yield "Note", plan.words

    def _safety(self) -> Iterator[tuple[str, str]]:
        """What harms where a truck or pump comes: said with the order that brings them."""
        for number, words in enumerate(cautions_of("order")):
            yield "" if number else "Safety", words

    @property
    def rows(self) -> list[dict[str, str]]:
        """The order as rows of finished text."""
        return records(("", "order"), self.lines)

    def text(self) -> str:
        """The slip, for the terminal and the telephone."""
        width = max(len(name) for name, _ in self.lines)
        rows = [f"{name:<{width}}  {words}" for name, words in self.lines]
        return "\n".join([self.title, "", *rows]) + "\n"


def _air(percent: float) -> str:
    if not percent:
        return "none entrained"
    tolerance = table("air_tolerance")[0]["tolerance_percent"]
    return f"{percent:.2g} %, plus or minus {tolerance:g} %"


def _spoken_slump(slump: Quantity, system: str) -> str:
    """A slump as it is asked for: in the trade's inches, or in steps of 5 mm."""
    return show(slump, "in") if system == "us" else f"{5 * round(slump.m_as('mm') / 5)} mm"


def _spoken_degrees(temperature: Quantity, system: str) -> str:
    """A temperature as it is asked for: in whole degrees."""
    name = "degF" if system == "us" else "degC"
    return show(Q(round(temperature.to(name).m), name), "degF", system)


def _size(length: Quantity, system: str) -> str:
    """A size of stone as it is spoken of: ``3/4 in.``"""
    if system == "si":
        return show_length(length, system, small=True)
    return feet_inches(length).replace('"', " in.")
