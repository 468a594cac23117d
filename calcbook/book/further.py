"""What is worked out of a further slab of a job, under its own names in the book."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.book.flow import Flow, part
from calcbook.book.parts import Parts
from calcbook.book.registry import OF_ORDER, SUBJECTS, UNPRICED
from calcbook.concrete import volume
from calcbook.ground import retarder
from calcbook.job.slabs import ADHESIVE, MESH, ROLLS, STONE, sharing
from calcbook.job.together import slug_of
from calcbook.pour import day, go_no_go, mix_order, plan
from calcbook.pour.site import Missing

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job
    from calcbook.plan.sheets import Layout
    from calcbook.pour.mix_order import MixFound
    from calcbook.pour.plan import Day
    from calcbook.reinforcement.mesh import MeshSheets


# parts that may come from the book of another slab, and so are asked for anew in each version of a job
_SHARED = (
    "stone_shared",
    "sheets",
    "mesh_shared",
    "adhesive_before",
    "pours_before",
    "pump_of_the_day",
)
_OF_ORDER = ("volume", "mix", "day")  # the same, but only where a slab shares the order of another


class FurtherBook(Parts):
    """The calculations of a further slab of a job, each under its own name in the Book.

    job: a FurtherJob; known: what is worked out of the slabs before it, by name, of which it may share an order;
    before: what was worked out of it in an earlier version of the job.
    """

    def __init__(self, job: Job, known: dict[str, Parts], before: Flow | None = None) -> None:
        super().__init__(job, before)
        self.known, self.head = (
            known,
            known.get(job.follows),
        )  # None where the concrete is an order of its own
        own_order = self.head is None and before is not None and not before.job.follows
        for name in _SHARED if own_order else _SHARED + _OF_ORDER:
            self._before.pop(name, None)

    @functools.cached_property
    def names(self) -> dict[str, str]:
        """The names of its calculations in the Book -> their subjects."""
        job = self.job
        left_out = set(OF_ORDER) if self.head else set()
        if not (job.walls or job.pads or job.posts):
            left_out.add("loads")
        if not job.bolted_walls:
            left_out.add("bolts")
        slug = slug_of(job.slab.called)
        return {f"{slug}-{subject}": subject for subject in SUBJECTS if subject not in left_out}

    def named(self, name: str) -> Calculation:
        """One of its calculations."""
        found: Found = getattr(self, self.names[name])
        slab = self.job.slab.called
        part = f"Further slab: {slab}" if name == next(iter(self.names)) else ""
        return found.calculation.of_slab(slab, name, part)

    @functools.cached_property
    def calculations(self) -> dict[str, Calculation]:
        """Calculations by name."""
        return {name: self.named(name) for name in self.names}

    @functools.cached_property
    def priced(self) -> dict[str, Calculation]:
        """Those that a quote rests on."""
        return {
            name: self.named(name) for name, subject in self.names.items() if subject not in UNPRICED
        }

    # what a slab takes from the one whose order it shares
    @part
    def volume(self, job: Job) -> VolumeFound:
        """Concrete of the slab, with its order where it has its own."""
        if self.head is None:
            return volume.chapter(job, self.dug, self.beside, self.pump_of_the_day)
        return volume.follower(job, self.dug, self.head.volume)

    @part
    def pump_of_the_day(self, job: Job) -> str:
        """The slab before it whose pump comes on its day; "" where there is none, or the day is not known yet."""
        others = [one.job.slab.called for one in self._same_day(job) if one.job.pour.pump]
        return others[0] if others and job.pour.date else ""

    def _same_day(self, job: Job) -> list[Parts]:
        """Of the slabs before it, those with an order of their own that are poured on its day."""
        return [
            one
            for one in self.known.values()
            if not one.job.follows and one.job.pour.date == job.pour.date
        ]

    @part
    def stone_shared(self, job: Job) -> tuple[tuple[str, Quantity], ...]:
        """Stone of the slabs of one order, as the first of them found it."""
        first = sharing(job, STONE)[0].slab.called
        return (
            self.known[first].stone_shared
            if first in self.known
            else Parts.stone_shared.make(self, job)
        )

    @part
    def sheets(self, job: Job) -> tuple[Layout, ...]:
        """Sheets of the slabs that share their rolls, as they were cut for the first of them."""
        first = sharing(job, ROLLS)[0].slab.called
        return self.known[first].sheets if first in self.known else retarder.sheets_of(job)

    @part
    def mesh_shared(self, job: Job) -> tuple[tuple[str, MeshSheets], ...]:
        """Sheets of mesh that are bought at once, as they were cut for the first of their slabs."""
        first = sharing(job, MESH)[0].slab.called
        return (
            self.known[first].mesh_shared if first in self.known else Parts.mesh_shared.make(self, job)
        )

    @part
    def adhesive_before(self, job: Job) -> tuple[tuple[str, Quantity], ...]:
        """Adhesive of the slabs before it of one purchase, each as its own chapter found it."""
        names = [one.slab.called for one in sharing(job, ADHESIVE)]
        found = (
            (name, self.known[name].bolts.calculation.results) for name in names if name in self.known
        )
        return tuple((name, results["adhesive"]) for name, results in found if "adhesive" in results)

    @part
    def mix(self, job: Job) -> MixFound:
        """Mix and order."""
        return mix_order.chapter(job, self.volume) if self.head is None else self.head.mix

    @part
    def pour_day(self, job: Job) -> Found:
        """Pour day; what the crew does at another pour of the day is not counted again."""
        return day.chapter(job, self.mix.mix, self.day, self.pours_before)

    @part
    def go(self, job: Job) -> Found:
        """Go or no-go; the same crew cannot be at two pours at once."""
        return go_no_go.chapter(job, self.volume, self.day, self.nights, self.pours_before)

    @part
    def pours_before(self, job: Job) -> tuple[plan.PourBefore, ...]:
        """Other pours of its day, of the slabs before it."""
        return tuple(
            plan.PourBefore(one.job.slab.called, one.job.pour.moment(), one.day)
            for one in self._same_day(job)
        )

    @part
    def day(self, job: Job) -> Day | Missing:
        """The pour that it is part of."""
        if self.head is not None:
            return self.head.day
        setting = self.setting
        return setting if isinstance(setting, Missing) else plan.day_of(job, setting, self.volume)
