"""Parts that rest on each other and on a job: each is worked out once, and again only where it must be."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Generic, TypeVar, overload

from calcbook.job.file import Job
from calcbook.job.seen import Reads, same

if TYPE_CHECKING:
    from calcbook.job.file import Entry

T = TypeVar("T")


class part(Generic[T]):  # used as a decorator, in the way of ``property``
    """A part of a Flow: ``make(flow, job)``, which reads the job and takes other parts of the flow."""

    def __init__(self, make: Callable[[Any, Job], T]) -> None:
        self.make, self.name, self.__doc__ = make, make.__name__, make.__doc__

    @overload
    def __get__(self, flow: None, owner: type) -> part[T]: ...

    @overload
    def __get__(self, flow: Flow, owner: type) -> T: ...

    def __get__(self, flow: Flow | None, owner: type) -> T | part[T]:
        return self if flow is None else flow.take(self)


class SeenJob(Job):
    """A Job as one part reads it, which notes what it reads; of a further slab, by its place in the whole job."""

    def __init__(self, job: Job, reads: Reads | None = None, place: tuple[str, ...] = ()) -> None:
        self._job, self._reads, self._place = job, reads or Reads(), place

    @property
    def reads(self) -> Reads:
        """All that was read of it."""
        return self._reads

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        self.__dict__[name] = found = self._noted(name)  # once: the next reader finds it there
        return found

    def _noted(self, name: str) -> Any:
        return self._reads.note((*self._place, name), getattr(self._job, name))

    # as for a Job
    system = functools.cached_property(lambda self: self._noted("system"))
    plan = property(lambda self: self._noted("plan"))  # type: ignore[assignment]

    # of a job of several slabs, as for a Job
    @property
    def others(self) -> tuple[Job, ...]:  # type: ignore[override]
        """The further slabs, each noting what is read of it."""
        self._noted("count")
        return tuple(
            SeenJob(one, self._reads, ("others", str(n))) for n, one in enumerate(self._job.others)
        )

    @property
    def poured_with(self) -> tuple[Job, ...]:  # type: ignore[override]
        """Those of them that come from the order of this one."""
        if self._job.others:
            return tuple(other for other in self.others if other.follows == self.slab.called)
        return self._noted("poured_with")

    contacts = property(lambda self: self._noted("contacts"))  # type: ignore[assignment]
    follows = property(lambda self: self._noted("follows"))  # type: ignore[assignment]
    poured_area = property(lambda self: self._noted("poured_area"))  # type: ignore[assignment]

    def field(self, place: str) -> Entry:
        """The Entry of a field, as for a Job."""
        entry, (*section, key) = self._job.field(place), place.split(".")
        for at, value in ((key, entry.value), (f"?{key}", not entry.assumed)):
            self._reads.note((*self._place, *section, at), value)
        _ = self.system  # in which its text is written
        return entry

    @property
    def beside(self) -> tuple[Job, ...]:  # type: ignore[override]
        """The slabs that this one touches, each noting what is read of it."""
        self._noted("contacts")  # how many there are
        place = *self._place, "beside"
        return tuple(
            SeenJob(one, self._reads, (*place, str(n))) for n, one in enumerate(self._job.beside)
        )


@dataclass
class _Made:
    """What a part came to, and all that it was seen to rest on: of the job, and of other parts."""

    reads: Reads
    taken: dict[str, Any] = field(default_factory=dict)
    value: Any = None


class Flow:
    """The parts of a job, each made when it is first asked for.

    before: the Flow of an earlier version of the job; a part that would come out the same is taken from it.
    """

    def __init__(self, job: Job, before: Flow | None = None) -> None:
        self.job = job
        self._made: dict[str, _Made] = {}
        self._before: dict[str, _Made] = {} if before is None else {**before._before, **before._made}
        self._open: list[_Made] = []

    def take(self, part: part[T]) -> T:
        """The value of a part; whoever is being made now is noted to rest on it."""
        resting = self._open[-1] if self._open else None
        if part.name not in self._made:
            earlier = self._before.get(part.name)
            self._made[part.name] = earlier if earlier and self._holds(earlier) else self._make(part)
        value = self._made[part.name].value
        if resting:
            resting.taken[part.name] = value
        return value

    def _holds(self, earlier: _Made) -> bool:
        """True where a part would come out as it did in an earlier version of the job."""
        if not earlier.reads.hold(self.job):
            return False
        self._open.append(_Made(earlier.reads))  # what is looked up here is no one's
        try:
            held = all(same(value, getattr(self, name)) for name, value in earlier.taken.items())
        finally:
            self._open.pop()
        if held:
            earlier.reads.taken_over(self.job)
        return held

    def _make(self, part: part[T]) -> _Made:
        seen = SeenJob(self.job)
        made = _Made(seen.reads)
        self._open.append(made)
        try:
            made.value = self.finished(part.name, part.make(self, seen), seen)
        except ValueError as error:
            told = self.refused(part.name, error)
            if told is error:
                raise
            raise told from error
        finally:
            self._open.pop()
        return made

    def touched(self, job: Job) -> int:
        """How many of the parts made so far read something that is otherwise in another version of the job."""
        return sum(not made.reads.hold(job) for made in self._made.values())

    def finished(self, name: str, value: T, job: Job) -> T:
        """The value of a part that was just made, with what every part of its kind ends with."""
        return value

    def refused(self, name: str, error: ValueError) -> ValueError:
        """The error to raise where a part cannot be made."""
        return error
