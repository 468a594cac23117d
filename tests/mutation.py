"""Breaks the formula modules on purpose, one place at a time, and sees whether their tests notice.

``python tests/mutation.py`` runs all modules with formulas, ``python tests/mutation.py volume
--sample 30`` a part. A mutant changes one constant, operator, exponent, comparison or min/max in
one function. Each runs in a process of its own, forked after everything is imported, so a mutant
costs only the run of the tests of its module (``tests/test_<module>.py``, else every test file
that imports it).
"""

import argparse
import ast
import copy
import functools
import importlib
import os
import random
import signal
import sys
import types
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

TESTS = Path(__file__).parent
CALCBOOK = TESTS.parent / "calcbook"
SECONDS = 60
_SWAPS = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.Lt: ast.GtE, ast.GtE: ast.Lt, ast.Gt: ast.LtE, ast.LtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
}  # fmt: skip
_NAMES = {
    "minimum": "maximum", "maximum": "minimum", "min": "max", "max": "min", "sin": "cos", "cos": "sin",
    "ceil": "floor", "floor": "ceil", "exp": "log", "log": "exp", "sqrt": "abs",
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: module, function, line and what was changed into what."""

    module: str
    function: str
    line: int
    change: str
    index: int

    def __str__(self):
        return f"{self.module}.{self.function} line {self.line}: {self.change}"


def _sites(function):
    """Every (node, description, change) of a function, docstrings and messages left out."""
    for node in ast.walk(function):
        if isinstance(node, ast.Constant) and type(node.value) in (int, float):
            if 0 < abs(node.value) < 1e-6:
                continue  # slack against the noise of floating point: a tenth more is the same
            yield node, f"{node.value} -> {_other(node.value)}", ("value", _other(node.value))
        elif isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in _SWAPS:
            other = _SWAPS[type(node.op)]
            yield node, f"{type(node.op).__name__} -> {other.__name__}", ("op", other())
        elif isinstance(node, ast.Compare) and type(node.ops[0]) in _SWAPS:
            other = _SWAPS[type(node.ops[0])]
            yield (
                node,
                f"{type(node.ops[0]).__name__} -> {other.__name__}",
                ("ops", [other(), *node.ops[1:]]),
            )
        elif isinstance(node, ast.Name) and node.id in _NAMES:
            yield node, f"{node.id} -> {_NAMES[node.id]}", ("id", _NAMES[node.id])


def _other(value):
    return value + 1 if isinstance(value, int) else value * 1.1 + (value == 0)


def dotted(path):
    """The name of a module inside the package: ``bolts.anchors``."""
    return ".".join(path.relative_to(CALCBOOK).with_suffix("").parts)


def formula_modules():
    """Names of the modules that hold checked formulas or routines."""
    marks = "@formula(", "@procedure("
    texts = {dotted(p): p.read_text(encoding="utf-8") for p in sorted(CALCBOOK.rglob("*.py"))}
    return [n for n, text in texts.items() if n != "basis.formula" and any(m in text for m in marks)]


def mutants(name):
    """All mutants of a module of calcbook, in order."""
    module = importlib.import_module(f"calcbook.{name}")
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    found = []
    for function in [n for n in tree.body if isinstance(n, ast.FunctionDef)]:
        if function.name in ("calculation", "draw") or function.name.endswith("_drawing"):
            continue  # these show; what they show is checked by the notebooks
        body = ast.Module(function.body, [])
        for index, (node, change, _) in enumerate(_sites(body)):
            found.append(Mutant(name, function.name, node.lineno, change, index))
    return found


def _apply(mutant):
    """Put the mutant's code into the living function, wherever it is referred to."""
    module = importlib.import_module(f"calcbook.{mutant.module}")
    if mutant.index < 0:
        return
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    function = copy.deepcopy(next(n for n in tree.body if getattr(n, "name", "") == mutant.function))
    node, _, (field, value) = list(_sites(ast.Module(function.body, [])))[mutant.index]
    setattr(node, field, value)
    function.decorator_list = []
    code = compile(ast.fix_missing_locations(ast.Module([function], [])), module.__file__, "exec")
    new = next(
        c for c in code.co_consts if isinstance(c, types.CodeType) and c.co_name == mutant.function
    )
    living = getattr(module, mutant.function)
    getattr(living, "body", getattr(living, "__wrapped__", living)).__code__ = new
    for name in _NAMES:  # a swapped name must exist where the function looks for it
        import numpy

        module.__dict__.setdefault(name, getattr(numpy, name, None))


def survives(mutant):
    """True where all tests of the module still pass with the mutant in place."""
    child = os.fork()
    if child == 0:
        os.setsid()
        signal.alarm(SECONDS)  # a mutant that never ends is noticed too
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1), os.dup2(quiet, 2)
        os._exit(_trial(mutant))
    status = os.waitpid(child, 0)[1]
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, 1, -signal.SIGALRM):
        raise RuntimeError(f"{mutant}: the tests could not run (status {code})")
    return code == 0


def _trial(mutant):
    """Exit status of the tests: 0 passed, 1 failed, 90 where the mutant could not be put in."""
    try:
        _apply(mutant)
    except BaseException:
        return 90
    import pytest

    options = ["-x", "-q", "-p", "no:cacheprovider"]
    options += ["-o", "addopts="]  # the usual options ask for plug-ins that are left out here
    try:
        return int(pytest.main([*options, *tests_of(mutant.module)]))
    except BaseException:
        return 1


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
    import hypothesis  # noqa: F401
    import pytest  # noqa: F401

    from calcbook.book.registry import load_formulas

    load_formulas()
    importlib.import_module("calcbook.price.quote")
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"


def _check_sound(names):
    """Stop where the tests of a module fail before anything is changed."""
    for name in names:
        if not survives(Mutant(name, "", 0, "nothing", -1)):
            raise SystemExit(f"the tests of {name} fail as they stand")


def main(argv=None):
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="*")
    parser.add_argument("--sample", type=int, help="only so many, chosen at random but always the same")
    arguments = parser.parse_args(argv)
    os.environ["CALCBOOK_EXAMPLES"] = "8"
    chosen = [m for name in arguments.modules or formula_modules() for m in mutants(name)]
    if arguments.sample and arguments.sample < len(chosen):
        chosen = random.Random(7).sample(chosen, arguments.sample)
    _preload()
    _check_sound(dict.fromkeys(m.module for m in chosen))
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        living = [m for m, alive in zip(chosen, pool.map(survives, chosen), strict=True) if alive]
    for mutant in living:
        print(f"survived: {mutant}")
    killed = len(chosen) - len(living)
    print(f"{killed} of {len(chosen)} mutants killed ({100 * killed / max(1, len(chosen)):.1f} %)")
    return 0 if killed >= 0.95 * len(chosen) else 1


if __name__ == "__main__":
    sys.exit(main())
