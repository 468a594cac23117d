"""The job file: reading, the values in use, and saving.

A job file is TOML and is data only. Reading gives a ``Job`` or a ``JobError`` whose message is one
clear sentence for each mistake, with file, line, section and key (``problems.py``).
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import Units, money_mark
from calcbook.job.fields import meta_of, show_field
from calcbook.job.files import JobChanged, JobError, locked, read_text, write_whole
from calcbook.job.metric import left_out
from calcbook.job.money import job_currency
from calcbook.job.own import own_of
from calcbook.job.places import placed, with_places
from calcbook.job.problems import named_line, parsed, shown_place, validated
from calcbook.job.raw import known, plain, value_at, with_changes, written
from calcbook.job.schema.sections import JobFile
from calcbook.job.seen import Reads, SeenSection
from calcbook.job.slabs import OWN, checked_of, poured_together, raw_of
from calcbook.job.together import Contact, contacts_of, lying_apart, named_in

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from calcbook.basis.units import Quantity
    from calcbook.plan.outline import Plan


@dataclass(frozen=True)
class Entry:
    """A field in use: value, printed text, meaning, why it was assumed ("" where given).

    ``written`` is the text as it stands in the job file, or would stand there; ``jobs``: own jobs it was learned from.
    """

    place: str
    value: Any
    text: str
    meaning: str
    assumed: str
    written: str
    jobs: int = 0


class Job:
    """A slab job: the checked contents of a job file.

    Sections are attributes (``job.slab.thickness``); ``plan`` is the geometry; ``system`` the
    units shown ("us" or "si"). A Job does not change: ``changed`` gives a new one.

    >>> job = Job({"slab": {"length": "24 ft", "width": "30 ft"}})
    >>> job.field("slab.thickness").text, job.field("slab.thickness").assumed
    ('4 in.', 'usual house slab; common practice, no source')
    >>> job.changed({"slab.thickness": "6 in"}).field("slab.thickness").text
    '6 in.'
    """

    def __init__(
        self, raw: dict[str, Any], path: str | Path | None = None, text: str = "", known: Any = None
    ) -> None:
        self.raw, self.path, self.source_text = raw, Path(path) if path else None, text
        self.own = own_of(raw, self.path)
        self._filled = self.own.under(raw) if self.own else raw
        checked = self.own.under(known) if self.own and known else known
        self.file = validated(with_places(checked or self._filled), self._where)
        placed(self.file, raw, self.place_of, self._where)
        try:
            self.currency = job_currency(self._filled)  # code, as "EUR"; "$" without another
        except ValueError as error:
            raise JobError(f"{self._where('prices')}: {error}") from None

    @classmethod
    def read(cls, path: str | Path, own: str | None = None) -> Job:
        """Read and check a job file. own: a file of the builder's own in place of the one it names. Raises JobError."""
        path = Path(path)
        text = _text(path)
        raw = parsed(path, text)
        if own is not None and isinstance(raw.setdefault("job", {}), dict):
            raw["job"]["own"] = str(Path(own).expanduser().resolve())
        job = cls(raw, path, text)
        _ = job.plan, job.others  # a shape that cannot be built is a mistake of the file
        return job

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_") or name == "file":
            raise AttributeError(name)
        return getattr(self.file, name)

    @functools.cached_property
    def system(self) -> str:
        """The units shown: "us" or "si", with the mark of the job's money."""
        return Units.of(self.file.job.units, self.currency)

    @property
    def _path(self) -> Path:
        if self.path is None:
            raise JobError("this job was not read from a file; say where to save it")
        return self.path

    def _where(self, place: str) -> str:
        if self.own and self._taken_over(place):
            return self.own.where(place)
        return named_line(self.path.name if self.path else "job", self.source_text, place)

    @functools.cached_property
    def plan(self) -> Plan:
        """The plan geometry (outline.Plan). Raises JobError for a shape that cannot be built."""
        from calcbook.job.shape import build_plan
        from calcbook.plan.outline import OutlineError

        self._plan_reads = Reads()
        try:
            return build_plan(SeenSection(self.file, self._plan_reads))
        except OutlineError as error:
            where = self._where(error.place)
            place = self.place_of(error.place).split(".")
            raise JobError(f"{where}: {shown_place(place)} {error}") from None

    # --- several slabs: this is the first of them ---
    @functools.cached_property
    def others(self) -> tuple[FurtherJob, ...]:
        """The further slabs, each as a Job of its own (a FurtherJob). Raises JobError where two overlap."""
        return self._others_after((), True)

    def _others_after(self, before: tuple[FurtherJob, ...], anew: bool) -> tuple[FurtherJob, ...]:
        """The further slabs; before: those of an earlier version; anew: whether all of them is checked again."""
        if not self.file.slabs:
            return ()
        checked = (*(() if anew else before), *(None for _ in self.file.slabs))
        found = tuple(FurtherJob(self, n, checked[n]) for n in range(len(self.file.slabs)))
        for one, earlier in zip(found, before, strict=False):
            one._keep_plan(earlier)
        lying_apart(self, found)
        return found

    def _keep_plan(self, before: Job) -> None:
        """Take the plan of an earlier version over, where all that it was built from is the same."""
        if "plan" in before.__dict__ and before._plan_reads.hold(self.file):
            self.__dict__ |= {"plan": before.plan, "_plan_reads": before._plan_reads}

    @property
    def count(self) -> int:
        """How many further slabs there are: noted by name where they are gone through."""
        return len(self.others)

    @functools.cached_property
    def contacts(self) -> tuple[Contact, ...]:
        """Where this slab touches others (together.Contact)."""
        return contacts_of(self, self) if self.others else ()

    @functools.cached_property
    def beside(self) -> tuple[Job, ...]:
        """The slabs that this one touches, in the order of ``contacts``."""
        return named_in(self.contacts, self.others)

    @functools.cached_property
    def follows(self) -> str:
        """The slab whose order of concrete this one shares; "" for the first of a pour."""
        return ""

    @functools.cached_property
    def poured_with(self) -> tuple[Job, ...]:
        """The further slabs that come from the order of this one."""
        return tuple(other for other in self.others if other.follows == self.slab.called)

    @property
    def poured_area(self) -> Quantity:
        """Area of all that is poured from this slab's order, ft2."""
        return sum((other.plan.area for other in self.poured_with), self.plan.area)

    def place_of(self, place: str) -> str:
        """Where a place stands in the job file, which for a further slab is within its entry."""
        return place

    def field(self, place: str) -> Entry:
        """The Entry of a field such as ``"slab.thickness"``, ``"pads.0.width"`` or ``"slabs.0.edge.depth"``."""
        outer, number, rest = (*place.split(".", 2), "", "")[:3]
        if outer == "slabs" and "." in rest:
            return self.others[int(number)].field_here(rest, place)
        section, raw, key = self._find(place)
        info = type(section).model_fields[key]
        value, meta = getattr(section, key), meta_of(info)
        text = show_field(value, meta, self.system)
        written = str(raw[key]) if key in raw else text
        assumed = "" if key in raw else meta.get("why") or "default"
        if key in ("x", "y") and "from_side" in raw:
            assumed = ""  # it follows from what is given
        if assumed and meta.get("si") is not None and self.system == "si":
            assumed = "a round metric figure near the US default; " + assumed
        jobs = 0
        if self.own and self._taken_over(place):
            assumed, jobs = self.own.origin(place), self.own.jobs_behind(place)
        return Entry(place, value, text, info.description, assumed, written, jobs)

    def answer(self, title: str) -> str:
        """What an engineer answered to the check of this title, with name and day; "" without an answer.

        Of several answers to one check the last one written holds.
        """
        said = [a for a in self.file.answers if plain(a.check) == plain(title)]
        return f"Answered by {said[-1].by} on {said[-1].date}: {said[-1].words}" if said else ""

    def _taken_over(self, place: str) -> bool:
        """Whether a field stands in the builder's own file and not in the job."""
        return self.own is not None and self.own.gives(place) and value_at(self.raw, place) is None

    def schema_of(self, place: str) -> FieldInfo:
        """The declaration of a field (a pydantic FieldInfo)."""
        section, _, key = self._find(place)
        return type(section).model_fields[key]

    def _find(self, place: str) -> tuple[Any, Any, str]:
        *path, key = place.split(".")
        section: Any = self.file
        raw: Any = self.raw
        for part in path:
            if part.isdigit():
                section, raw = section[int(part)], raw[int(part)]
            else:
                section, raw = getattr(section, part), raw.get(part, {})
        return section, raw, key

    def taken(self) -> list[str]:
        """One sentence for each value that was taken for something else than it says, such as ``lb`` for lbf."""
        mark = money_mark(self.system)
        return [
            f"{shown_place(place.split('.'))}: {words.replace('$', mark)}"
            for place, value, meta in written(self.file, self._filled)
            if "told" in meta and isinstance(value, str) and (words := meta["told"](value))
        ]

    def assumptions(self) -> list[Entry]:
        """Every default that the printout rests on, as a list of Entry, in the order of the sections.

        The spreads of [risk] are not among them, which are listed with the odds that use them, and what
        rests on no calculation: [terms] and [[suppliers]].
        """
        found = []
        for name in (n for n in JobFile.model_fields if n not in ("risk", "terms", "suppliers")):
            section = getattr(self.file, name)
            many = isinstance(section, list)
            for index, one in enumerate(section if many else [section]):
                place = f"{name}.{index}" if many else name
                found += [
                    self.field(f"{place}.{key}")
                    for key, info in type(one).model_fields.items()
                    if (key not in one.model_fields_set or self._taken_over(f"{place}.{key}"))
                    and getattr(one, key) not in (None, "")
                    and meta_of(info).get("why")
                ]
        return found + [entry for other in self.others for entry in other.own_assumptions()]

    def changed(self, changes: dict[str, Any]) -> Job:
        """A new Job with some fields set: ``job.changed({"slab.thickness": "6 in"})``.

        None takes a field out: its default holds. Raises JobError where a value is not allowed.
        """
        raw = with_changes(self.raw, changes)
        touched = [place.split(".") for place in changes]
        anew = "job" in changes or "job.own" in changes  # what is left out may come from elsewhere
        job = Job(raw, self.path, self.source_text, None if anew else known(raw, self.file, touched))
        job._keep_plan(self)
        _ = job.plan
        job.__dict__["others"] = job._others_after(self.others, anew)
        return job

    def shown_in(self, system: str) -> Job:
        """The same job with the same figures, shown in the units of a system: "us" or "si"."""
        if system == self.system:
            return self
        return self.changed({**left_out(self.file, self.system), "job.units": system})

    def save(self, changes: dict[str, Any], path: str | Path | None = None) -> Job:
        """Write changed fields into the job file, keeping its comments and order.

        changes: as in ``changed``; path: another file to write. The file is replaced in one step, so it is whole at
        any moment. Where the file on disk was changed meanwhile, what stands there is kept and only these fields are
        written into it; raises JobChanged where one of them was itself changed there. Returns the Job as saved.
        """
        import tomlkit

        from calcbook.job.merging import set_at

        target = Path(path or self._path)
        with locked(target):  # two who save at once are both kept
            base = self if path else self._on_disk(changes)
            base.changed(changes)
            document = tomlkit.parse(base.source_text)
            for place, value in changes.items():
                set_at(document, place.split("."), value)
            write_whole(target, tomlkit.dumps(document))
            return Job.read(target)

    def _on_disk(self, changes: dict[str, Any]) -> Job:
        """The job as it stands on disk, where none of the fields to be changed differs from here."""
        if _text(self._path) == self.source_text:
            return self
        fresh = Job.read(self._path)
        for place in changes:
            there, here = (value_at(job.raw, place) for job in (fresh, self))
            if there != here:
                raise JobChanged(
                    f"{self._path.name}: {place} was changed to {there!r} by someone else since it was "
                    "read; nothing was saved: read the file again, then repeat the change"
                )
        return fresh


def _text(path: Path) -> str:
    return read_text(path, "job file").replace("\r\n", "\n")


class FurtherJob(Job):
    """A further slab as a Job: its own sections, and those of the whole job for the rest.

    whole: the Job it belongs to; number: of its entry, from 0; before: the same in an earlier version of the job.
    """

    def __init__(self, whole: Job, number: int, before: FurtherJob | None = None) -> None:
        self.whole, self.number = whole, number
        self._entry: dict[str, Any] = whole._filled["slabs"][number]
        raw = raw_of(whole, number)
        try:
            super().__init__(raw, whole.path, whole.source_text, checked_of(whole, number, raw, before))
        except JobError as error:
            name = self._entry.get("name")
            raise JobError([f"slab {name!r}: {problem}" for problem in error.problems]) from None

    def place_of(self, place: str) -> str:
        """Where a place of this slab stands in the job file: ``slabs.0.edge.depth``."""
        head, _, rest = place.partition(".")
        given = self._entry.get(head)
        if head == "slab":
            return f"slabs.{self.number}.{rest}".rstrip(".")
        if head in OWN or (isinstance(given, dict) and rest.partition(".")[0] in given):
            return f"slabs.{self.number}.{place}"
        return place

    def _where(self, place: str) -> str:
        return super()._where(self.place_of(place))

    def field(self, place: str) -> Entry:
        """The Entry of a field, its place that of the whole job's file."""
        if place.startswith("between."):
            return self.whole.field(place)
        return replace(super().field(place), place=self.place_of(place))

    def field_here(self, place: str, stands_at: str) -> Entry:
        """The Entry of a field of this slab, its place as asked; what the slab leaves to the whole job says so."""
        entry = self.field(place)
        inherited = entry.place == place and not entry.assumed
        return replace(
            entry, place=stands_at, assumed="as in the whole job" if inherited else entry.assumed
        )

    def own_assumptions(self) -> list[Entry]:
        """The defaults of the sections that only this slab has; its plain fields are listed with the job."""
        return [e for e in super().assumptions() if e.place.startswith(f"slabs.{self.number}.")
                and e.place.partition(f"slabs.{self.number}.")[2].partition(".")[0] in OWN]  # fmt: skip

    @functools.cached_property
    def contacts(self) -> tuple[Contact, ...]:
        """Where this slab touches others."""
        return contacts_of(self.whole, self)

    @functools.cached_property
    def beside(self) -> tuple[Job, ...]:
        """The slabs that this one touches."""
        return named_in(self.contacts, (self.whole, *self.whole.others))

    @functools.cached_property
    def follows(self) -> str:
        """The slab whose order of concrete this one shares; "" where it is the first of its pour."""
        before = (self.whole, *self.whole.others[: self.number])
        return next((one.slab.called for one in before if poured_together(one, self)), "")

    @functools.cached_property
    def poured_with(self) -> tuple[Job, ...]:
        """The later slabs that share its order."""
        after = self.whole.others[self.number + 1 :]
        return () if self.follows else tuple(o for o in after if poured_together(self, o))


__all__ = ["Entry", "Job", "JobChanged", "JobError"]
