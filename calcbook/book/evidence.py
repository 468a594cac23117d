"""What proves each formula, read from the marks on its tests; tables/evidence.csv keeps it for the papers.

A test says what it proves by one of the marks of ``MARKS``: document (or library), place, and the formulas
meant; without names, every formula that the test uses. ``python -m calcbook.book.references`` writes the table.
"""

from __future__ import annotations

import ast
import csv
import functools
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.basis.blocks import Step
from calcbook.basis.formula import Choice
from calcbook.basis.sources import TABLES, Citation, sources
from calcbook.basis.table import table
from calcbook.book.registry import load_formulas

if TYPE_CHECKING:
    from collections.abc import Iterable

    from calcbook.basis.calculation import Calculation

KINDS = (
    "published number",
    "independent library",
    "published form",
    "derivation",
    "only memory",
)  # strongest first
MARKS = {  # mark on a test -> kind of proof; "worked" takes it from where the formula's form comes from
    "published": "published number",
    "library": "independent library",
    "form": "published form",
    "remembered": "only memory",
    "worked": "",
}
MEANING = {
    "published number": "a number printed in a document that was read, by the status of that document, comes out",
    "independent library": "an open general-purpose library, run beside the book, gives the same",
    "published form": "the formula's form was read; the numbers of its tests are our own arithmetic",
    "derivation": "it follows from geometry, statics or a fact of the trade; the tests work it out in another way",
    "only memory": "the document was not read; the tests hold the code to what is remembered of it",
}
# formulas that work behind pages without being a step there: the parameters of the heat model's mix
BEHIND = dict.fromkeys(
    ("pour_day", "first_week", "laws", "measured"),
    ("hydration_time", "hydration_slope", "hydration_energy", "cement_heat", "total_heat"),
)
WRITTEN = TABLES / "evidence.csv"
TESTS = Path(__file__).parents[2] / "tests"
READ = ("pages read", "read in a reprint", "read in another library's tests", "read in another library")


@dataclass(frozen=True)
class Proof:
    """One test that proves a formula: by what kind, where it is published, and the test's name."""

    formula: str
    kind: str
    source: str
    place: str
    test: str

    @property
    def rank(self) -> int:
        """0 for the strongest kind."""
        return KINDS.index(self.kind)


def collect(tests: Path = TESTS) -> list[Proof]:
    """All proofs, by formula and the strongest first. Raises ValueError for a mark that says too little."""
    names = _names()
    found = [p for path in sorted(tests.rglob("test_*.py")) for p in _of_file(path, tests, names)]
    return sorted(dict.fromkeys(found), key=lambda p: (p.formula, p.rank, p.source, p.test))


def _names() -> dict[str, tuple[str, ...]]:
    """Every name in the registry, with the formulas it stands for: a choice stands for all of its own."""
    return {
        name: tuple(f.name for f in entry.formulas.values()) if isinstance(entry, Choice) else (name,)
        for name, entry in load_formulas().items()
    }


def _of_file(path: Path, tests: Path, names: dict[str, tuple[str, ...]]) -> Iterator[Proof]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    defined = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    for node in defined.values():
        for mark, words in _marks(node):
            where = f"{path.relative_to(tests).as_posix()}::{node.name}"
            document, place, meant = _checked(where, mark, words, names)
            for name in meant or sorted(_used(node, defined) & set(names)):
                for formula in names[name]:
                    own = _source_of(formula)
                    kind = MARKS[mark] or _by_form(sources()[own.key].status)
                    yield Proof(formula, kind, document or own.key, place, where)


def _source_of(formula: str) -> Citation:
    entry = load_formulas()[formula]
    if isinstance(entry, Choice):
        raise TypeError(f"{formula} stands for several formulas")
    return entry.source


def _checked(
    where: str, mark: str, words: tuple[str, ...], names: dict[str, tuple[str, ...]]
) -> tuple[str, str, tuple[str, ...]]:
    """(document, place, formulas meant) of a mark. Raises ValueError for one that says too little or too much."""
    document, place, *meant = (
        ("", "", *words) if mark == "worked" else (*words, "", "")[: max(2, len(words))]
    )
    if unknown := set(meant) - set(names):
        raise ValueError(f"{where}: no formula is named {', '.join(sorted(unknown))}")
    if mark != "worked":
        if document not in sources():
            raise ValueError(f"{where}: {document!r} is not in tables/sources.toml")
        status = sources()[document].status
        if mark in ("published", "form", "remembered") and (mark != "remembered") != (status in READ):
            raise ValueError(f"{where}: {mark} does not go with {document}, which is {status}")
    return document, place, tuple(meant)


def _by_form(status: str) -> str:
    """What own arithmetic proves of a formula whose source has this status."""
    if status in READ:
        return "published form"
    return "only memory" if status.startswith("from memory") else "derivation"


def _marks(node: ast.FunctionDef) -> Iterator[tuple[str, tuple[str, ...]]]:
    """(mark, its words) of every mark of ``MARKS`` on a test."""
    for decorator in node.decorator_list:
        match decorator:
            case ast.Call(func=ast.Attribute(attr=mark), args=words) if mark in MARKS:
                yield mark, tuple(ast.literal_eval(word) for word in words)


def _used(node: ast.AST, defined: dict[str, ast.FunctionDef], depth: int = 2) -> set[str]:
    """Names that a test uses, also those of helpers of its own file that it calls."""
    found = {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}
    found |= {n.attr for n in ast.walk(node) if isinstance(n, ast.Attribute)}
    if depth:
        for name in found & set(defined):
            found |= _used(defined[name], defined, depth - 1)
    return found


def strongest(proofs: list[Proof]) -> dict[str, Proof]:
    """The strongest proof of each formula that has one."""
    found: dict[str, Proof] = {}
    for proof in proofs:
        found.setdefault(proof.formula, proof)
    return found


@functools.cache
def kept() -> dict[str, str]:
    """The strongest kind of proof of each formula, from the written table."""
    best: dict[str, str] = {}
    for row in table("evidence"):  # the strongest of a formula comes first
        best.setdefault(row["formula"], row["kind"])
    return best


def used_by_kind(chapters: Iterable[Calculation]) -> dict[str, list[str]]:
    """Titles of the formulas that calculations use, shown or behind, under the strongest kind of proof of each."""
    used: dict[str, str] = {}
    for c in chapters:
        used |= {s.formula.name: s.formula.title for s in c.steps if isinstance(s, Step)}
        used |= {name: _titled(name) for name in BEHIND.get(c.name, ()) if c.blocks}
    found: dict[str, list[str]] = {kind: [] for kind in KINDS}
    for name, title in used.items():
        if name in kept():
            found[kept()[name]].append(title)
    return found


def _titled(name: str) -> str:
    entry = load_formulas()[name]
    return "" if isinstance(entry, Choice) else entry.title


def without_proof(proofs: list[Proof]) -> list[str]:
    """Formulas of the registry that no test proves in any way."""
    every = {name for names in _names().values() for name in names}
    return sorted(every - {proof.formula for proof in proofs})


def written(proofs: list[Proof]) -> str:
    """The table as text: one row for each formula and kind, the strongest source of each."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("formula", "kind", "test", "source", "place"))
    kept: dict[tuple[str, str], Proof] = {}
    for proof in proofs:
        kept.setdefault((proof.formula, proof.kind), proof)
    writer.writerows((p.formula, p.kind, p.test, p.source, p.place) for p in kept.values())
    return out.getvalue()
