"""What is worked out of a further slab of a job, under its own names in the book."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.book.flow import part
from calcbook.book.parts import Parts
from calcbook.book.registry import LATE, OF_ORDER, SUBJECTS
from calcbook.concrete import volume
from calcbook.job.together import slug_of
from calcbook.pour import mix_order, plan
from calcbook.pour.site import Missing

if TYPE_CHECKING:
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job
    from calcbook.pour.mix_order import MixFound
    from calcbook.pour.plan import Day


class FurtherBook(Parts):
    """The calculations of a further slab of a job, each under its own name in the Book.

    job: a FurtherJob; head: what is worked out of the slab whose order it shares; None where it has its own.
    """

    def __init__(self, job: Job, head: Parts | None) -> None:
        super().__init__(job)
        self.head = head

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

    @property
    def priced(self) -> dict[str, Calculation]:
        """Those that a quote rests on."""
        return {name: self.named(name) for name, subject in self.names.items() if subject not in LATE}

    # what a slab takes from the one whose order it shares
    @part
    def volume(self, job: Job) -> VolumeFound:
        """Concrete of the slab, with its order where it has its own."""
        if self.head is None:
            return volume.chapter(job, self.dug, self.beside)
        return volume.follower(job, self.dug, self.head.volume)

    @part
    def mix(self, job: Job) -> MixFound:
        """Mix and order."""
        return mix_order.chapter(job, self.volume) if self.head is None else self.head.mix

    @part
    def day(self, job: Job) -> Day | Missing:
        """The pour that it is part of."""
        if self.head is not None:
            return self.head.day
        setting = self.setting
        return setting if isinstance(setting, Missing) else plan.day_of(job, setting, self.volume)
