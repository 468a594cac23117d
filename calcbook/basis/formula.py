"""What makes a plain function a checked formula.

A formula's body is a short run of assignments that reads like the hand calculation and ends in
``return name``. The decorator adds the title, the published source, the unit and range of every
argument, and a place in ``FORMULAS``. Calling it checks what goes in and out; ``lines`` gives the
intermediate values for showing; ``bulk`` takes and gives numbers and numpy arrays.

All run the body on plain numbers of one coherent set of units (``coherent.py``); units are put on
at the edges. That this is right is proved once, when the body runs on quantities too: of a step when
it is shown, else at the first use.
"""

from __future__ import annotations

import ast
import functools
import inspect
import linecache
import textwrap
import types
import warnings
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Generic, ParamSpec, TypeVar

import numpy as np
import pint

from calcbook.basis.arguments import (
    Argument,
    FormulaError,
    OutsideRange,
    arg,
    measures,
    natural_unit,
    result,
)
from calcbook.basis.coherent import number, plain, root, to_coherent, with_unit
from calcbook.basis.sources import Citation, cite
from calcbook.basis.units import Q, factor

FORMULAS: dict[str, Entry] = {}
Made = TypeVar("Made", bound="Formula | Choice | Procedure")
Takes = ParamSpec("Takes")
Gives = TypeVar("Gives")


@dataclass(frozen=True)
class Line:
    """One shown line of a hand calculation."""

    name: str
    unit: str
    value: Any


@dataclass(eq=False)
class Formula:
    """A checked formula. Call it like the function it wraps."""

    body: Callable[..., Any]
    title: str
    source: Citation
    returns: Argument
    arguments: dict[str, Argument]
    shows: dict[str, str] = field(default_factory=dict)
    note: str = ""

    def __post_init__(self) -> None:
        functools.update_wrapper(self, self.body)
        self.name, code = self.body.__name__, self.body.__code__
        names = code.co_varnames[: code.co_argcount]
        if names != tuple(self.arguments):
            raise TypeError(f"{self.name}: describe exactly the arguments {', '.join(names)}")
        omitted = self.body.__defaults__ or ()
        self.defaults = dict(zip(names[len(names) - len(omitted) :], omitted, strict=True))
        self._proved = False
        self._line_units: dict[str, str] = {}

    @functools.cached_property
    def signature(self) -> inspect.Signature:
        """The arguments of the body, as Python describes them."""
        return inspect.signature(self.body)

    # --- computing ---
    def bind(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """Check the arguments and return them by name, each in its declared unit."""
        return self.dressed(self.numbers(*args, **kwargs))

    def numbers(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """The same as plain numbers, which is what the body computes on."""
        return self._read(args, kwargs, bare=False)

    def dressed(self, numbers: dict[str, Any]) -> dict[str, Any]:
        """Numbers in the declared units as quantities."""
        return {name: self.arguments[name].dress(number) for name, number in numbers.items()}

    def _read(self, args: Any, kwargs: dict[str, Any], bare: bool) -> dict[str, Any]:
        """The number of what was given for each argument, or of its default, by name."""
        named = dict(zip(self.arguments, args, strict=False)) | kwargs if args else kwargs
        omitted = self._omitted
        if (
            len(named) < len(args) + len(kwargs)
            or omitted.keys() | named.keys() != self.arguments.keys()
        ):
            raise FormulaError(
                f"{self.name}: {self._unfit(args, kwargs)}; it takes {', '.join(self.arguments)}"
            )
        return {
            name: spec.read(self.name, name, named[name], bare) if name in named else omitted[name]
            for name, spec in self.arguments.items()
        }

    @functools.cached_property
    def _omitted(self) -> dict[str, Any]:
        """The defaults of the arguments as numbers, each in its declared unit."""
        return {
            name: self.arguments[name].read(self.name, name, value)
            for name, value in self.defaults.items()
        }

    def _unfit(self, args: Any, kwargs: dict[str, Any]) -> str:
        """Why these cannot be its arguments, in Python's words."""
        try:
            self.signature.bind(*args, **kwargs)
        except TypeError as error:
            return str(error)
        return ""

    def flags(self, **bound: Any) -> list[str]:
        """One sentence for every argument that lies outside the range the source covers."""
        found = []
        for name, spec, valid in self._covered:
            if spec.leaves_source(number := spec.strip(bound[name])):
                low, high = map(spec.text, valid)
                found.append(
                    f"{spec.meaning} {spec.text(number)} is outside {low} to {high}, "
                    f"the range of {self.source}"
                )
        return found

    @functools.cached_property
    def _covered(self) -> list[tuple[str, Argument, tuple[float, float]]]:
        """The arguments of which the source covers a range, with name and range."""
        return [(name, spec, spec.valid) for name, spec in self.arguments.items() if spec.valid]

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        numbers = self.numbers(*args, **kwargs)
        for flag in self.flags(**numbers):
            warnings.warn(flag, OutsideRange, stacklevel=2)
        return self.evaluate(numbers)

    def evaluate(self, bound: dict[str, Any]) -> Any:
        """The value for checked arguments (quantities or their numbers), as a quantity in the declared unit."""
        return self.returns.dress(self._value(bound))

    def of_step(self, numbers: dict[str, Any]) -> Any:
        """The same for a step: its dimensions are proved with its ``lines``, where it is shown."""
        return self.returns.dress(self._computed(numbers))

    def bulk(self, *args: Any, **kwargs: Any) -> Any:
        """The value for whole numpy arrays, as plain numbers in the declared unit of the result.

        Arguments are quantities (or arrays of them); numbers stand for the declared unit. Limits
        are checked over the whole array.
        """
        return self._value(self._read(args, kwargs, bare=True))

    def raw(self, **numbers: Any) -> Any:
        """The body on numbers of the coherent set, for the inside of a search or a march.

        Nothing is read and no limit checked: that is the caller's.
        """
        return self.body(**(self._defaults | numbers))

    @functools.cached_property
    def _defaults(self) -> dict[str, Any]:
        """The defaults of the arguments as numbers of the coherent set."""
        return self._coherent(self._omitted)

    def _coherent(self, bound: dict[str, Any]) -> dict[str, Any]:
        """Checked arguments (as for ``evaluate``) as numbers of the coherent set; a word stays as it is."""
        specs = self.arguments
        return {
            name: to_coherent(specs[name].strip(value), specs[name].unit)
            for name, value in bound.items()
        }

    def _strip(self, bound: dict[str, Any]) -> dict[str, Any]:
        return {name: self.arguments[name].strip(value) for name, value in bound.items()}

    def _value(self, bound: dict[str, Any]) -> Any:
        if not self._proved:
            self._prove(self._strip(bound))
        return self._computed(bound)

    def _computed(self, bound: dict[str, Any]) -> Any:
        return plain(self._run(self.body, self._coherent(bound)), self.returns.unit)

    def _run(self, work: Callable[..., Any], values: dict[str, Any]) -> Any:
        """Turn what numbers cannot hold, and what units do not allow, into a refusal."""
        try:
            return work(**values)
        except (OverflowError, ZeroDivisionError):
            raise FormulaError(
                f"{self.name}: these inputs lead to a number too large to write; check their units"
            ) from None
        except pint.PintError as error:
            raise FormulaError(f"{self.name}: its lines do not agree in their units: {error}") from None

    # --- dimensions: what holds for one set of quantities holds for all ---
    def _prove(self, numbers: dict[str, Any]) -> None:
        """Run the body once with units and look what its result is."""
        if all(map(np.size, numbers.values())):
            value = self._on_quantities(self.body, numbers)
            if not measures(value, self.returns.unit):
                raise FormulaError(f"{self.name} gave {value}, not a quantity in {self.returns.unit}")
            self._proved = True

    def _on_quantities(self, work: Callable[..., Any], numbers: dict[str, Any]) -> Any:
        """The body, or all its lines, on quantities; of an array the first number stands for all."""
        first = {n: np.ravel(v)[0].item() if np.ndim(v) else v for n, v in numbers.items()}
        with np.errstate(all="ignore"):
            return self._run(work, self.dressed(first))

    def _units(self, numbers: dict[str, Any]) -> dict[str, str]:
        """The trade unit of every line, by running them once with units."""
        if not self._line_units:
            scope = self._on_quantities(self._scope, numbers)
            known = self.shows | {self.symbol: self.returns.unit}
            units = {name: known.get(name) or natural_unit(scope[name]) for name, _ in self.assignments}
            for name, unit_name in units.items():
                if not measures(scope[name], unit_name):
                    raise FormulaError(f"{self.name}: {name} is {scope[name]}, not in {unit_name}")
            self._line_units, self._proved = units, True
        return self._line_units

    # --- showing ---
    @functools.cached_property
    def assignments(self) -> list[tuple[str, ast.expr]]:
        """The body as a list of (name, ast expression), without docstring and return."""
        tree: Any = ast.parse(_source(self.body)).body[0]
        found = []
        for node in tree.body:
            if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
                found.append((node.targets[0].id, node.value))
            elif isinstance(node, ast.Return):
                if not isinstance(node.value, ast.Name):
                    raise TypeError(f"{self.name}: end the body with 'return name'")
                self.symbol = node.value.id
            elif not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
                raise TypeError(f"{self.name}: a formula's body holds assignments only")
        return found

    @functools.cached_property
    def unit_bound(self) -> bool:
        """True where the numbers in the body hold only in the declared units."""
        calls = [n for _, e in self.assignments for n in ast.walk(e) if isinstance(n, ast.Call)]
        return any(getattr(c.func, "id", "") in ("number", "with_unit", "root") for c in calls)

    @functools.cached_property
    def _code(self) -> types.CodeType:
        module = ast.Module(
            [
                ast.Assign([ast.Name(name, ast.Store())], value, lineno=1, col_offset=0)
                for name, value in self.assignments
            ],
            [],
        )
        return compile(ast.fix_missing_locations(module), f"<{self.name}>", "exec")

    def lines(self, bound: dict[str, Any]) -> list[Line]:
        """The shown lines, in order: every assignment of the body with its value and unit."""
        numbers = self._strip(bound)
        scope, units = self._run(self._scope, self._coherent(numbers)), self._units(numbers)
        return [
            Line(name, units[name], _dressed(plain(scope[name], units[name]), units[name]))
            for name, _ in self.assignments
        ]

    def _scope(self, **values: Any) -> dict[str, Any]:
        exec(self._code, self.body.__globals__, values)  # the formula's own source, nothing else
        return values


def _source(function: Callable[..., Any]) -> str:
    """Source of a function by the lines of its code; inspect would split the whole file in tokens."""
    code = function.__code__
    last = max(line for _, _, line in code.co_lines() if line)
    lines = linecache.getlines(code.co_filename)[code.co_firstlineno - 1 : last]
    return textwrap.dedent("".join(lines))


def formula(
    title: str,
    source: Citation,
    returns: Argument,
    shows: dict[str, str] | Any = None,
    note: str | Any = "",  # Any: mypy takes each for a place that **arguments may fill
    **arguments: Any,
) -> Callable[[Callable[..., Any]], Formula]:
    """Make a function a checked formula and enter it in ``FORMULAS``.

    title: what it computes; source: ``cite(key, place)``; returns: ``result(unit, meaning)``;
    shows: units for intermediate lines, by name; note: a plain remark printed with the step;
    arguments: ``arg(unit, meaning, limits...)`` under the name of each parameter.
    """

    def wrap(function: Callable[..., Any]) -> Formula:
        return _enter(Formula(function, title, source, returns, arguments, shows or {}, note))

    return wrap


@dataclass(eq=False)
class Choice:
    """One public name for several formulas, told apart by a keyword such as ``method``."""

    name: str
    keyword: str
    formulas: dict[str, Formula]
    default: str

    def pick(self, kwargs: dict[str, Any]) -> Formula:
        """The Formula that the keyword names, which is taken out of ``kwargs``. Raises FormulaError."""
        key = kwargs.pop(self.keyword, self.default)
        if key not in self.formulas:
            raise FormulaError(
                f"{self.name}: {self.keyword} = {key!r}; choose {' or '.join(self.formulas)}"
            )
        return self.formulas[key]

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        return self.pick(kwargs)(*args, **kwargs)


def choice(name: str, keyword: str, default: str, **formulas: Formula) -> Choice:
    """Enter a ``Choice`` in the registry: ``choice("corner_stress", "method", "a", a=f, b=g)``."""
    return _enter(Choice(name, keyword, formulas, default))


@dataclass(eq=False)
class Procedure(Generic[Takes, Gives]):
    """A checked routine that is not a one-line formula (a layout, an integral, a search).

    arguments: ``arg(...)`` for those that can be typed as text; returns: ``result(...)`` where it
    gives one quantity. A parameter named ``job`` takes a job file.
    """

    body: Callable[Takes, Gives]
    title: str
    source: Citation
    words: str
    returns: Argument | None = None
    arguments: dict[str, Argument] = field(default_factory=dict)

    def __post_init__(self) -> None:
        functools.update_wrapper(self, self.body)
        self.name = self.body.__name__
        self.signature = inspect.signature(self.body)
        unknown = set(self.arguments) - set(self.signature.parameters)
        if unknown:
            raise TypeError(f"{self.name} has no argument {', '.join(unknown)}")

    def __call__(self, *args: Takes.args, **kwargs: Takes.kwargs) -> Gives:
        return self.body(*args, **kwargs)


def procedure(
    title: str, source: Citation, words: str, returns: Argument | None = None, **arguments: Any
) -> Callable[[Callable[Takes, Gives]], Procedure[Takes, Gives]]:
    """Enter a routine in the registry: title, source and how it works in plain words.

    returns and arguments: as for ``formula``, for those that ``calcbook value`` can read as text.
    """
    return lambda function: _enter(Procedure(function, title, source, words, returns, arguments))


Entry = Formula | Choice | Procedure


def _enter(entry: Made) -> Made:
    if entry.name in FORMULAS:
        raise TypeError(f"two formulas are named {entry.name}")
    FORMULAS[entry.name] = entry
    return entry


def _dressed(number: Any, unit_name: str) -> Any:
    return number if unit_name == "1" else Q(number, unit_name)


__all__ = [
    "FORMULAS", "Argument", "Choice", "Formula", "FormulaError", "OutsideRange", "Procedure", "arg", "choice",
    "cite", "factor", "formula", "number", "procedure", "result", "root", "with_unit",
]  # fmt: skip
