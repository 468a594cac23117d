"""The book: which calculations there are, in the order the job is done, and running them.

To add a subject, write its module with ``calculation(job)`` and enter it in ``SUBJECTS``.
"""

from __future__ import annotations

import functools
import importlib
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, OK
from calcbook.job.problems import JobError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calcbook.basis.calculation import Calculation, Check
    from calcbook.basis.formula import Entry
    from calcbook.job.file import Job
    from calcbook.price.quote import Quote

# name of the calculation -> module that holds its ``calculation(job)``
SUBJECTS = {
    "slab": "calcbook.slab.check",
    "pads": "calcbook.footings.pad_check",
    "edges": "calcbook.footings.edges",
    "joints": "calcbook.joints.layout",
    "reinforcement": "calcbook.reinforcement.choice",
    "volume": "calcbook.concrete.volume",
    "base": "calcbook.ground.base",
    "retarder": "calcbook.ground.retarder",
    "bolts": "calcbook.bolts.design",
    "mix": "calcbook.pour.mix_order",
    "pour_day": "calcbook.pour.day",
    "first_week": "calcbook.pour.first_week",
    "go": "calcbook.pour.go_no_go",
}

# calculation that begins a part of the printout -> title of the part
PARTS = {
    "slab": "The slab under its loads",
    "volume": "What is ordered, laid and set",
    "pour_day": "The pour and the nights after it",
    "quote": "The price",
}

# (calculation, result) that a builder is asked for first
HEADLINES = (
    ("volume", "order"),
    ("volume", "loads"),
    ("base", "stone_order"),
    ("retarder", "rolls"),
    ("bolts", "bolts"),
    ("mix", "spacing"),
    ("quote", "total"),
)

# every module that holds formulas, for the registry behind `calcbook value`
FORMULA_MODULES = (
    *SUBJECTS.values(),
    "calcbook.loads.statics",
    "calcbook.slab.westergaard",
    "calcbook.slab.properties",
    "calcbook.slab.wall_load",
    "calcbook.footings.plain",
    "calcbook.footings.footing",
    "calcbook.footings.eccentric",
    "calcbook.footings.pads",
    "calcbook.joints.spacing",
    "calcbook.reinforcement.steel",
    "calcbook.reinforcement.mesh",
    "calcbook.reinforcement.fiber",
    "calcbook.concrete.mix",
    "calcbook.pour.weather",
    "calcbook.pour.surface",
    "calcbook.pour.sun_position",
    "calcbook.pour.sun",
    "calcbook.concrete.maturity",
    "calcbook.concrete.hydration",
    "calcbook.concrete.setting",
    "calcbook.concrete.curing",
    "calcbook.concrete.crew",
    "calcbook.pour.slab_heat",
    "calcbook.pour.weather_risk",
    "calcbook.weigh.risk",
    "calcbook.weigh.odds",
)


def load_formulas() -> dict[str, Entry]:
    """Import every formula module and return the registry of formulas."""
    from calcbook.basis.formula import FORMULAS

    for module in FORMULA_MODULES:
        importlib.import_module(module)
    return FORMULAS


def find_formula(name: str) -> Entry | None:
    """One formula by its name, importing no more than the module it stands in; None without it."""
    from calcbook.basis.formula import FORMULAS

    package = Path(__file__).parents[1]
    for path in sorted(package.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        named = f"def {name}(" in text or f'"{name}"' in text
        if named and "from calcbook.basis.formula import" in text:
            importlib.import_module(
                ".".join(("calcbook", *path.relative_to(package).with_suffix("").parts))
            )
            if name in FORMULAS:
                return FORMULAS[name]
    return load_formulas().get(name)


class Book:
    """All calculations of one job, each run once when first asked for."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._run: dict[str, Calculation] = {}

    @property
    def calculations(self) -> dict[str, Calculation]:
        """Calculations by name, in order; without the quote, which rests on them."""
        return {name: self._calculation(name) for name in SUBJECTS}

    def _calculation(self, name: str) -> Calculation:
        if name not in self._run:
            self._run[name] = run(name, self.job)
        return self._run[name]

    @functools.cached_property
    def quote(self) -> Quote:
        """The priced takeoff (quote.Quote)."""
        from calcbook.price.quote import Quote

        return Quote(self.job, self.calculations)

    @property
    def chapters(self) -> list[Calculation]:
        """Every calculation that the printout shows, the quote last."""
        return [*self.calculations.values(), self.quote.calculation]

    def parts(self) -> Iterator[list[Calculation]]:
        """The chapters of each of ``PARTS``; those of a part are run when it is come to."""
        part: list[Calculation] = []
        for name in SUBJECTS:
            if name in PARTS and part:
                yield part
                part = []
            part.append(self._calculation(name))
        yield part
        yield [self.quote.calculation]

    @property
    def headlines(self) -> list[tuple[str, str]]:
        """Pairs of (label, text) of the figures asked for first, of those that this job has."""
        chapters = {chapter.name: chapter for chapter in self.chapters}
        return [
            (result.label, result.step.result_text)
            for chapter, name in HEADLINES
            for result in chapters[chapter].shown_results
            if result.name == name
        ]

    @property
    def checks(self) -> list[tuple[Calculation, Check]]:
        """Pairs of (calculation, check), the failed ones first."""
        order = {NOT_OK: 0, NEEDS_ENGINEER: 1, OK: 2}
        pairs = [(c, check) for c in self.calculations.values() for check in c.checks]
        return sorted(pairs, key=lambda pair: order[pair[1].status])

    @property
    def status(self) -> str:
        """The worst verdict of all checks."""
        return next((check.status for _, check in self.checks), OK)


def run(name: str, job: Job) -> Calculation:
    """Run one calculation of the book by its name.

    Raises JobError, which names the file and the calculation, where the job asks for what the
    calculation refuses.
    """
    try:
        return importlib.import_module(SUBJECTS[name]).calculation(job)
    except JobError:
        raise
    except ValueError as error:
        file = job.path.name if job.path else "job"
        raise JobError(f"{file}: {name.replace('_', ' ')} cannot be worked out: {error}") from error
