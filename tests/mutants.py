"""The changes that ``mutation.py`` makes on purpose, kind by kind; each is put in place in a living, imported book.

- formula: a constant, operator, comparison or min/max in the body of a function
- order: the first two arguments of a call change places
- verdict: a check is forced to OK, is left out, or loses that it is the engineer's
- caution: a caution is left out, in a chapter or for a chapter of the table
- table: a number of a table is moved by 3 %
- limit: a limit of a formula's argument or of a field is moved by 30 %
- unit: a decorator names another unit
- citation: a formula or a check cites another place
"""

import ast
import copy
import functools
import importlib
import types
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

TESTS = Path(__file__).parent
CALCBOOK = TESTS.parent / "calcbook"
BY_CODE = ("formula", "order", "verdict", "caution", "citation")
# calls whose arguments may change places, and those of which nothing but a crash would come
_EITHER_WAY = {"minimum", "maximum", "min", "max", "hypot", "logaddexp", "isclose", "same"}
_PLAIN = {"Q", "cite", "arg", "result", "number", "with_unit", "show", "range", "cast", "isinstance", "getattr"}  # fmt: skip
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
    """One change: its kind, where, what was changed into what, and how it is put in place."""

    kind: str
    module: str
    place: str
    change: str
    apply: Callable[[], None] = field(compare=False, repr=False)
    tests: tuple[str, ...] = ()

    def __str__(self):
        return f"{self.kind}: {self.module}.{self.place}: {self.change}"


def dotted(path):
    """The name of a module inside the package: ``bolts.anchors``."""
    return ".".join(path.relative_to(CALCBOOK).with_suffix("").parts)


@functools.cache
def texts():
    """The text of every module of the package, by its name."""
    return {dotted(p): p.read_text(encoding="utf-8") for p in sorted(CALCBOOK.rglob("*.py"))}


def formula_modules():
    """Names of the modules that hold checked formulas or routines."""
    marks = "@formula(", "@procedure("
    return [n for n, text in texts().items() if n != "basis.formula" and any(m in text for m in marks)]


@functools.cache
def chapter_modules():
    """Names of the modules that enter checks or cautions."""
    calls = ".check(", ".verdict(", ".ask_engineer(", ".not_worked_out(", ".caution("
    left_out = "basis.calculation", "paper.exercise", "price.quote"  # these hold no chapter's checks
    return [n for n, text in texts().items() if n not in left_out and any(c in text for c in calls)]


# --- changes of a function's code ------------------------------------------------------------------


def _other(value):
    return value + 1 if isinstance(value, int) else value * 1.1 + (value == 0)


def _formula_sites(node):
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        if 0 < abs(node.value) < 1e-6:
            return  # slack against the noise of floating point: a tenth more is the same
        yield f"{node.value} -> {_other(node.value)}", ("value", _other(node.value))
    elif isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in _SWAPS:
        other = _SWAPS[type(node.op)]
        yield f"{type(node.op).__name__} -> {other.__name__}", ("op", other())
    elif isinstance(node, ast.Compare) and type(node.ops[0]) in _SWAPS:
        other = _SWAPS[type(node.ops[0])]
        yield f"{type(node.ops[0]).__name__} -> {other.__name__}", ("ops", [other(), *node.ops[1:]])
    elif isinstance(node, ast.Name) and node.id in _NAMES:
        yield f"{node.id} -> {_NAMES[node.id]}", ("id", _NAMES[node.id])


def _called(node):
    return getattr(node.func, "attr", getattr(node.func, "id", ""))


def _statement(node):
    """What a statement that is nothing but a call calls; "" for all else."""
    called = isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)
    return _called(node.value) if called else ""


def _order_sites(node):
    if isinstance(node, ast.Call) and len(node.args) > 1 and _called(node) not in _EITHER_WAY | _PLAIN:
        first, second, *rest = node.args
        if not any(isinstance(a, ast.Constant | ast.Starred) for a in (first, second)):
            words = f"{_called(node)}({ast.unparse(first)}, {ast.unparse(second)}) turned round"
            yield words[:90], ("args", [second, first, *rest])


def _verdict_sites(node):
    if isinstance(node, ast.Call) and _called(node) in ("check", "verdict") and len(node.args) > 2:
        forced = node.args[2] if _called(node) == "check" else ast.Constant(True)
        yield "forced to OK", ("args", [node.args[0], forced, *node.args[2:]])
        for word in node.keywords:
            if word.arg == "needs_engineer":
                kept = [k for k in node.keywords if k is not word]
                yield "NEEDS ENGINEER -> NOT OK", ("keywords", kept)
    elif _statement(node) in ("ask_engineer", "not_worked_out"):
        yield f"{_statement(node)} left out", ("value", ast.Constant(None))


def _caution_sites(node):
    if _statement(node) == "caution":
        yield "caution left out", ("value", ast.Constant(None))


def _citation_sites(node):
    if isinstance(node, ast.Call) and _called(node) == "cite":
        key, *place = node.args
        if place:
            yield f"another place of {ast.unparse(key)}", ("args", [key, ast.Constant("page 1")])
        else:
            other = _other_source(getattr(key, "value", ""))
            yield f"{other} for {ast.unparse(key)}", ("args", [ast.Constant(other)])


def _other_source(key):
    """A document that is not the one that stands there."""
    return "common practice" if key == "mechanics" else "mechanics"


_SITES = {
    "formula": _formula_sites, "order": _order_sites, "verdict": _verdict_sites, "caution": _caution_sites,
    "citation": _citation_sites,
}  # fmt: skip


def _sites(kind, function):
    """Every (node, words, change) of a kind in a function, its docstring left out."""
    for node in ast.walk(ast.Module(function.body, [])):
        for words, change in _SITES[kind](node):
            yield node, words, change


def code_mutants(kind, name) -> Iterator[Mutant]:
    """The mutants of a kind in the code of a module."""
    for function in [n for n in ast.parse(texts()[name]).body if isinstance(n, ast.FunctionDef)]:
        if kind in ("formula", "order") and (
            function.name in ("calculation", "draw") or function.name.endswith(("_drawing", "_chart"))
        ):
            continue  # these show; what they show is checked by the notebooks
        for index, (node, words, _) in enumerate(_sites(kind, function)):
            yield Mutant(
                kind, name, f"{function.name} line {node.lineno}", words,
                functools.partial(_change_code, kind, name, function.name, index),
            )  # fmt: skip


def _change_code(kind, name, function_name, index):
    """Put the changed code into the living function, wherever it is referred to."""
    module = importlib.import_module(f"calcbook.{name}")
    tree = ast.parse(texts()[name])
    function = copy.deepcopy(next(n for n in tree.body if getattr(n, "name", "") == function_name))
    node, _, (attribute, value) = list(_sites(kind, function))[index]
    setattr(node, attribute, value)
    function.decorator_list = []
    code = compile(ast.fix_missing_locations(ast.Module([function], [])), module.__file__, "exec")
    new = next(
        c for c in code.co_consts if isinstance(c, types.CodeType) and c.co_name == function_name
    )
    living = getattr(module, function_name)
    getattr(living, "body", getattr(living, "__wrapped__", living)).__code__ = new
    for swapped in _NAMES:  # a swapped name must exist where the function looks for it
        import numpy

        module.__dict__.setdefault(swapped, getattr(numpy, swapped, None))


# --- changes of what formulas, fields and tables say -----------------------------------------------


def _set(target, name, value):
    object.__setattr__(target, name, value)


def _entries():
    """(module, name, formula or routine) of the registry, choices left out."""
    from calcbook.basis.formula import Choice
    from calcbook.book.registry import load_formulas

    for name, entry in sorted(load_formulas().items()):
        if not isinstance(entry, Choice):
            yield entry.body.__module__.removeprefix("calcbook."), name, entry


def _fields(model=None, at="") -> Iterator[tuple[str, object]]:
    """(place, its Argument) of every field of a job file that has one."""
    from calcbook.job.fields import Section
    from calcbook.job.schema.sections import JobFile

    for key, info in (model or JobFile).model_fields.items():
        inner = getattr(info.annotation, "__args__", (info.annotation,))[0]
        if isinstance(inner, type) and issubclass(inner, Section):
            yield from _fields(inner, f"{at}{key}.")
        elif spec := (info.json_schema_extra or {}).get("spec"):
            yield f"{at}{key}", spec


_FIELDS = ("command/test_new.py::test_the_page_of_fields_is_as_the_book_writes_it",)
_LISTED = ("book/test_listing.py", "book/test_symbols.py")


def limit_mutants() -> Iterator[Mutant]:
    """Limits moved by 30 %; a limit of 0 stays where it is."""
    seen = set()
    specs = [(m, f"{n}({k})", s, _LISTED) for m, n, e in _entries() for k, s in e.arguments.items()]
    specs += [("job.schema", place, spec, _FIELDS) for place, spec in _fields()]
    for module, place, spec, tests in specs:
        if id(spec) in seen:
            continue
        seen.add(id(spec))
        for name in ("above", "low", "high", "below"):
            if limit := getattr(spec, name):
                moved = functools.partial(_set, spec, name, limit * 1.3)
                yield Mutant("limit", module, place, f"{name} {limit:g} by 30 %", moved, tests)
        if spec.valid:
            moved = functools.partial(_set, spec, "valid", (spec.valid[0], spec.valid[1] * 1.3))
            yield Mutant("limit", module, place, "range of the source by 30 %", moved, tests)


def unit_mutants() -> Iterator[Mutant]:
    """Another unit of the same kind in a decorator, where there is one."""
    from calcbook.basis.units import TRADE_UNITS, unit

    seen = set()
    for module, name, entry in _entries():
        for key, spec in [*entry.arguments.items(), ("result", entry.returns)]:
            if spec is None or id(spec) in seen:
                continue
            seen.add(id(spec))
            kind = unit(spec.unit).dimensionality
            others = [u for u in TRADE_UNITS if u != spec.unit and unit(u).dimensionality == kind]
            if others:
                moved = functools.partial(_set, spec, "unit", others[0])
                yield Mutant(
                    "unit", module, f"{name}({key})", f"{spec.unit} -> {others[0]}", moved, _LISTED
                )


def source_mutants() -> Iterator[Mutant]:
    """Another place, or another document, under a formula."""
    from calcbook.basis.sources import Citation

    for module, name, entry in _entries():
        own = entry.source
        other = Citation(own.key, "page 1") if own.place else Citation(_other_source(own.key), "")
        moved = functools.partial(_set, entry, "source", other)
        yield Mutant("citation", module, name, f"{own} -> {other}", moved, _LISTED[:1])


def table_mutants() -> Iterator[Mutant]:
    """A number of a table moved by 3 %; and a chapter taken out of a caution's row."""
    from calcbook.basis.sources import TABLES
    from calcbook.basis.table import table

    for name in sorted(path.stem for path in TABLES.glob("*.csv") if path.stem != "evidence"):
        for number, row in enumerate(table(name)):
            for column, value in row.items():
                if isinstance(value, float) and value:
                    moved = functools.partial(row.__setitem__, column, value * 1.03)
                    words = f"row {number + 1} {column} {value:g} by 3 %"
                    yield Mutant(
                        "table", "basis.table", name, words, moved, ("basis/test_table_cells.py",)
                    )
    for row in table("safety"):
        chapters = row["chapters"].split()
        for chapter in chapters:
            kept = " ".join(c for c in chapters if c != chapter)
            moved = functools.partial(row.__setitem__, "chapters", kept)
            tests = (
                "basis/test_safety.py::test_each_rule_stands_where_its_work_is_done_and_nowhere_is_work_left_out",
            )
            yield Mutant("caution", "basis.safety", row["rule"], f"not for {chapter}", moved, tests)


KINDS = ("formula", "order", "verdict", "caution", "table", "limit", "unit", "citation")


def mutants(kind, modules=()) -> list[Mutant]:
    """All mutants of a kind, in order; modules: only of these."""
    names = formula_modules() if kind in ("formula", "order") else chapter_modules()
    found = [m for n in names for m in code_mutants(kind, n)] if kind in BY_CODE else []
    by_kind = {
        "caution": [table_mutants], "table": [table_mutants], "limit": [limit_mutants],
        "unit": [unit_mutants], "citation": [source_mutants],
    }  # fmt: skip
    found += [m for make in by_kind.get(kind, []) for m in make() if m.kind == kind]
    return [m for m in found if not modules or m.module in modules]
