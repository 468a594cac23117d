"""Every check and caution is watched: what the jobs of verdict_jobs.py say is kept, and each is seen both ways."""

import ast
import functools
import re
import sys
from pathlib import Path
from unittest import mock

import pytest
from verdict_jobs import CHAPTERS, rows, written

import calcbook
from calcbook.basis.calculation import NO_BETTER, NOT_OK, OK, Calculation
from calcbook.job.catalog import catalog

PACKAGE = Path(calcbook.__file__).parent
ENTERED = ("check", "verdict", "ask_engineer", "not_worked_out")
ONE_WAY = {  # file and start of a title, as the code says it: why no job shows it the other way
    "checks.py: 'Diameter of the sill bolts'": "the fields allow no thinner bolt than the rule",
    "checks.py: 'Spacing of torqued cast bolts'": "bolts of a plate are laid out further apart than the rule",
    "closing.py: 'Load of the walls that reaches no bolt": "the load path closes by its making",
    "volume.py: 'Probability of coming up short'": "the order is raised until it holds",
    "pad_check.py: f'Uplift and overturning of pad": "a post so far out stands beside its pad, which is refused before",
    "check.py: 'Least thickness for the wheels'": "the thickest slab of the fields carries the heaviest axle",
    "pad_wall.py: f'Bearing pressure with the wall": "where the pad's edge presses too hard, the slab is asked instead",
    "held_level.py: title": "where the toe presses too hard, the slab is asked instead",
    "chapter.py: worked.reason": "a slab too large for the plate takes minutes to refuse",
    "between.py: ": "joints of several slabs are watched in tests/joints, with jobs of their own",
    "hands.py: f'Placing beside": "two pours of a day are watched in tests/pour, with jobs of their own",
    "hands.py: f'Hours of finishing here": "two pours of a day are watched in tests/pour, with jobs of their own",
    "chapter.py: f'Price that is to keep": "records have jobs of their own, in tests/records",
    "measured.py: 'Slab where measured": "records have jobs of their own, in tests/records",
    "day.py: 'It is colder or hotter": "in such weather the slab of the demo does not set, which is said instead",
}


@functools.cache
def seen(chapter):
    """The lines of a chapter, (file, line, verdict) of each call that entered a check, (verdict, title, what to do)."""
    sites, told = set(), set()

    def watching(name):
        original = getattr(Calculation, name)

        def entered(self, *args, **kwargs):
            value = original(self, *args, **kwargs)
            caller = sys._getframe(1)
            entry = self.checks[-1]
            sites.add((caller.f_code.co_filename, caller.f_lineno, entry.status))
            told.add((entry.status, entry.title, entry.to_do))
            return value

        return mock.patch.object(Calculation, name, entered)

    with watching("check"), watching("verdict"), watching("ask_engineer"), watching("not_worked_out"):
        return list(rows(chapter)), sites, told


@pytest.mark.parametrize("chapter", CHAPTERS)
def test_every_verdict_caution_and_clause_is_the_one_that_is_kept(chapter):
    """Own output, frozen; ``python tests/verdict_jobs.py`` writes it anew."""
    kept = [row for row in written() if row[0] == chapter]
    assert seen(chapter)[0] == kept, (
        "a verdict, caution or clause changed: run tests/verdict_jobs.py and read the difference"
    )


def calls():
    """(file, line, kind, first argument, whether the verdict is fixed) of every call that enters a check."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") in ENTERED and node.args:
                fixed = len(node.args) > 1 and isinstance(node.args[1], ast.Constant)
                yield str(path), node.lineno, node.func.attr, ast.unparse(node.args[0]), fixed


def test_every_open_check_says_what_to_do_and_names_fields_that_are_there():
    told = set().union(*(seen(chapter)[2] for chapter in CHAPTERS))
    nothing = {
        title for status, title, to_do in told if status == NOT_OK and to_do == NO_BETTER[NOT_OK]
    }
    assert not nothing, nothing
    assert all(bool(to_do) == (status != OK) for status, _, to_do in told)
    named = {name for *_, to_do in told for name in re.findall(r"\b([a-z_]+\.[a-z_]+)\b", to_do)}
    known = {row.place for row in catalog()} | {row.section for row in catalog()}
    assert len(named) > 20 and named <= known, named - known


def test_every_check_is_seen_passing_and_failing():
    found = {}
    for chapter in CHAPTERS:
        for file, line, verdict in seen(chapter)[1]:
            found.setdefault((file, line), set()).add(verdict)
    missed = []
    for file, line, kind, question, fixed in calls():
        if Path(file).name in ("calculation.py", "exercise.py", "quote.py"):
            continue  # these enter what others ask; the quote's own is in its tests
        verdicts = found.get((file, line), set())
        both = OK in verdicts and verdicts != {OK}
        enough = both if kind in ("check", "verdict") and not fixed else verdicts
        told = f"{Path(file).name}: {question}"
        if not enough and not any(told.startswith(words) for words in ONE_WAY):
            missed.append((Path(file).name, line, question, verdicts))
    assert not missed, "\n".join(map(str, missed))
