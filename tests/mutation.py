"""Breaks the book on purpose, one place at a time, and sees whether its tests notice.

``python tests/mutation.py`` runs every change of every kind (``mutants.py`` names the kinds), ``python
tests/mutation.py concrete.volume --kind formula --sample 30`` a part. Each runs in a process of its own, forked
after everything is imported, so a change costs only the run of the tests that are meant for it: those of the
lists first, then those of its module.
"""

import argparse
import ast
import functools
import importlib
import os
import random
import signal
import sys
from concurrent.futures import ThreadPoolExecutor

from mutants import CALCBOOK, KINDS, TESTS, Mutant, chapter_modules, dotted, mutants

SECONDS, WAITING = 90, 900  # of the processor, and by the clock
EQUAL = {  # the start of a change that leaves everything as it was -> why no test can notice it
    "verdict: concrete.volume._odds": "the order is raised until the check holds",
    "verdict: bolts.closing": "the load path closes by its making",
    "order: pour.sun.sun_zenith": "a number clipped between limits, or the limit between the number and the other",
    "order: ground.levels.form_heights": "the middle of three numbers, in any order",
    "verdict: reinforcement.choice._basis": "it says on what the choice rests; it is always true",
}


def survives(mutant):
    """True where all tests meant for it still pass with the mutant in place."""
    child = os.fork()
    if child == 0:
        os.setsid()
        # one that never ends is noticed too; of the processor's time, as others may work beside
        signal.setitimer(signal.ITIMER_PROF, SECONDS)
        signal.alarm(WAITING)
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1), os.dup2(quiet, 2)
        os._exit(_trial(mutant))
    status = os.waitpid(child, 0)[1]
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, 1, -signal.SIGPROF, -signal.SIGALRM):
        raise RuntimeError(f"{mutant}: the tests could not run (status {code})")
    return code == 0


def _trial(mutant):
    """Exit status of the tests: 0 passed, 1 failed, 90 where the mutant could not be put in."""
    try:
        mutant.apply()
    except BaseException:
        return 90
    import pytest

    options = ["-x", "-q", "-p", "no:cacheprovider"]
    options += ["-o", "addopts="]  # the usual options ask for plug-ins that are left out here
    try:
        return int(pytest.main([*options, *tests_for(mutant)]))
    except BaseException:
        return 1


def tests_for(mutant):
    """The tests meant for a mutant: those of lists and tables by their kind, else those of its module."""
    if mutant.tests:
        return [str(TESTS / name) for name in mutant.tests]
    verdicts = str(TESTS / "book" / "test_verdicts.py")
    kept = [f"{verdicts}::{_KEPT}[{name}]" for name in _chapters(mutant.module)]
    if mutant.kind in ("verdict", "caution", "citation"):
        return kept or tests_of(mutant.module)
    proofs = _proofs().get(mutant.place.split(" ")[0], [])
    of_chapter = kept if mutant.module in chapter_modules() else []
    return list(dict.fromkeys([*tests_of(mutant.module), *proofs, *of_chapter]))


@functools.cache
def _proofs():
    """The test files that prove a formula, by the table of proofs."""
    from calcbook.basis.table import table

    found = {}
    for row in table("evidence"):
        file = str(TESTS / row["test"].split("::")[0])
        found[row["formula"]] = list(dict.fromkeys([*found.get(row["formula"], []), file]))
    return found


_KEPT = "test_every_verdict_caution_and_clause_is_the_one_that_is_kept"


@functools.cache
def _chapters(module):
    """The chapters in whose module, or in what they import, a module stands: nearest first."""
    from calcbook.book.registry import SUBJECTS

    def reach(name, depth=3):
        if not depth:
            return set()
        path = CALCBOOK.joinpath(*name.split(".")).with_suffix(".py")
        near = {
            n for n in _imported(path) if CALCBOOK.joinpath(*n.split(".")).with_suffix(".py").exists()
        }
        return near.union(*(reach(n, depth - 1) for n in near if n.split(".")[0] == name.split(".")[0]))

    subjects = {
        name: place.removeprefix("calcbook.") for name, place in SUBJECTS.items() if name != "laws"
    }
    own = [name for name, place in subjects.items() if place == module]
    return own or [name for name, place in subjects.items() if module in reach(place)]


def _test_file(module):
    *folders, name = module.split(".")
    return TESTS.joinpath(*folders, f"test_{name}.py")


def tests_of(module):
    """The test file named after a module; without one, those that import it or a user of it."""
    asked, seen = [module], {module}
    while asked:
        found = [p for p in (_test_file(name) for name in asked) if p.exists()]
        found = found or [p for p in TESTS.rglob("test_*.py") if set(asked) & _imported(p)]
        if found:
            return sorted({str(p) for p in found})
        asked = [
            dotted(p)
            for p in CALCBOOK.rglob("*.py")
            if set(asked) & _imported(p) and dotted(p) not in seen
        ]
        seen |= set(asked)
    raise SystemExit(f"no test file stands for calcbook.{module}")


@functools.cache
def _imported(path):
    """Names of the modules of calcbook that a file imports."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("calcbook."):
            module = node.module.removeprefix("calcbook.")
            found |= {module, *(f"{module}.{alias.name}" for alias in node.names)}
    return found


def _preload():
    """Import once, before the forks, what every run of the tests would import again."""
    sys.path.insert(0, str(TESTS))
    import hypothesis  # noqa: F401
    import pytest  # noqa: F401

    from calcbook.book.registry import load_formulas

    load_formulas()
    importlib.import_module("calcbook.book.chapters")
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"


def _unchanged(tests):
    return Mutant("nothing", "", "", "nothing changed", lambda: None, tests)


def _check_sound(chosen, pool):
    """Stop where tests fail before anything is changed."""
    sets = dict.fromkeys(tuple(tests_for(m)) for m in chosen)
    for tests, passed in zip(sets, pool.map(lambda t: survives(_unchanged(t)), sets), strict=True):
        if not passed:
            raise SystemExit(f"these tests fail as they stand: {' '.join(tests)}")


def _chosen(arguments):
    """The mutants asked for; of a sample each kind has its share, and the same ones every time."""
    kinds = arguments.kind or KINDS
    found = {kind: mutants(kind, arguments.modules) for kind in kinds}
    if not arguments.sample:
        return [m for kind in kinds for m in found[kind]]
    draw, share = random.Random(7), {kind: 1.0 for kind in kinds} | {"formula": 3.0}
    whole = sum(share[kind] for kind in kinds)
    numbers = {kind: round(arguments.sample * share[kind] / whole) for kind in kinds}
    return [m for kind in kinds for m in draw.sample(found[kind], min(numbers[kind], len(found[kind])))]


def main(argv=None):
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="*")
    parser.add_argument("--kind", action="append", choices=KINDS, help="only these kinds of change")
    parser.add_argument("--sample", type=int, help="only so many, chosen at random but always the same")
    arguments = parser.parse_args(argv)
    _preload()
    chosen = _chosen(arguments)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        _check_sound(chosen, pool)
        living = [m for m, alive in zip(chosen, pool.map(survives, chosen), strict=True) if alive]
    equal = [m for m in living if any(str(m).startswith(start) for start in EQUAL)]
    for kind in dict.fromkeys(m.kind for m in chosen):
        of_kind, left = (
            [m for m in some if m.kind == kind and m not in equal] for some in (chosen, living)
        )
        print(f"{kind}: {len(of_kind) - len(left)} of {len(of_kind)} killed")
    for mutant in living:
        print(f"{'the same' if mutant in equal else 'survived'}: {mutant}")
    counted = len(chosen) - len(equal)
    killed = len(chosen) - len(living)
    print(f"{killed} of {counted} mutants killed ({100 * killed / max(1, counted):.1f} %)")
    return 0 if killed >= 0.95 * counted else 1


if __name__ == "__main__":
    sys.exit(main())
