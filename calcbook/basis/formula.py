"""What makes a plain function a checked formula.

A formula's body is a short run of assignments that reads like the hand calculation and ends in
``return name``. The decorator adds the title, the published source, the unit and range of every
argument, and a place in ``FORMULAS``. Calling it checks what goes in and out; ``lines`` gives the
intermediate values for showing; ``bulk`` runs the very same body on numpy arrays.
"""

from __future__ import annotations

import ast
import contextlib
import functools
import inspect
import linecache
import math
import textwrap
import types
import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any, Generic, ParamSpec, TypeVar

import numpy as np

from calcbook.basis.reading import read
from calcbook.basis.showing import show
from calcbook.basis.sources import Citation, cite
from calcbook.basis.units import TRADE_UNITS, Q, Quantity, UnitError, factor, unit, ureg

FORMULAS: dict[str, Entry] = {}
Made = TypeVar("Made", bound="Formula | Choice | Procedure")
Takes = ParamSpec("Takes")
Gives = TypeVar("Gives")


class FormulaError(ValueError):
    """A formula was given something it cannot use; the message names the argument."""


class OutsideRange(UserWarning):
    """A formula was used outside the range its source covers."""


@dataclass(frozen=True)
class Argument:
    """One argument or result of a formula: unit, meaning, limits.

    above, low, high, below: hard limits (exclusive, inclusive, inclusive, exclusive) in ``unit``,
    refused when broken. valid: (low, high) that the source covers, flagged when left.
    """

    unit: str
    meaning: str
    above: float | None = None
    low: float | None = None
    high: float | None = None
    below: float | None = None
    valid: tuple[float, float] | None = None
    symbol: str | None = None
    digits: int = 3
    choices: tuple[str, ...] | None = None

    def allowed(self) -> str:
        """The hard limits in words, such as ``above 0 psi and at most 10,000 psi``."""
        parts = [
            f"{word} {show(Q(limit, self.unit), self.unit)}"
            for word, limit in (
                ("above", self.above),
                ("at least", self.low),
                ("at most", self.high),
                ("below", self.below),
            )
            if limit is not None
        ]
        return " and ".join(parts)

    def breaks(self, value: Any) -> bool:
        """True where a number (or any of an array) in this unit lies outside the hard limits."""
        if isinstance(value, float):
            return self._refuses(value)
        value = np.asarray(value)
        if not value.size:
            return False
        ends = float(value.min()), float(value.max())  # what is no number passes through both
        return any(map(self._refuses, ends))

    def _refuses(self, value: float) -> bool:
        slack = 1e-9 * max(abs(value), 1e-12)
        return (
            not math.isfinite(value)
            or (self.above is not None and value <= self.above)
            or (self.low is not None and value < self.low - slack)
            or (self.high is not None and value > self.high + slack)
            or (self.below is not None and value >= self.below)
        )

    def leaves_source(self, value: Any) -> bool:
        """True where a number (or any of an array) in this unit lies outside the range that the source covers."""
        if self.valid is None:
            return False
        low, high = self.valid
        slack = 1e-9 * max(abs(low), abs(high))
        return bool(np.any(np.asarray(value) < low - slack) or np.any(np.asarray(value) > high + slack))


def arg(unit_name: str, meaning: str, **limits: Any) -> Argument:
    """An argument: trade-unit name (``"1"`` for a plain number), meaning, limits."""
    if unit_name not in TRADE_UNITS:
        raise KeyError(f"{unit_name} is not a trade unit; enter it in TRADE_UNITS of units.py")
    return Argument(unit_name, meaning, **limits)


result = arg  # the same words describe what a formula gives back


@dataclass(frozen=True)
class Line:
    """One shown line of a hand calculation: name, unit, value."""

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
        self.name = self.body.__name__
        self.signature = inspect.signature(self.body)
        names = list(self.signature.parameters)
        if names != list(self.arguments):
            raise TypeError(f"{self.name}: describe exactly the arguments {names}")

    # --- computing ---
    def bind(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """Check the arguments and return them by name, each in its declared unit."""
        try:
            bound = self.signature.bind(*args, **kwargs)
        except TypeError as error:
            raise FormulaError(f"{self.name}: {error}; it takes {', '.join(self.arguments)}") from None
        bound.apply_defaults()
        return {name: self._checked(name, value) for name, value in bound.arguments.items()}

    def _checked(self, name: str, value: Any) -> Any:
        spec = self.arguments[name]
        if spec.choices is not None:
            if value not in spec.choices:
                raise FormulaError(
                    f"{self.name}: {name} = {value!r}; choose {' or '.join(spec.choices)}"
                )
            return value
        quantity = _as_quantity(self.name, name, value, spec)
        if spec.breaks(quantity.magnitude):
            raise FormulaError(
                f"{self.name}: {name} ({spec.meaning}) is {_shown(quantity, spec)}; "
                f"it must be {spec.allowed() or 'a finite number'}"
            )
        return quantity.magnitude if spec.unit == "1" else quantity

    def flags(self, **bound: Any) -> list[str]:
        """One sentence for every argument that lies outside the range the source covers."""
        found = []
        for name, spec in self.arguments.items():
            value = bound[name]
            number = value.magnitude if isinstance(value, ureg.Quantity) else value
            if spec.valid is not None and spec.leaves_source(number):
                low, high = (show(Q(x, spec.unit), spec.unit) for x in spec.valid)
                found.append(
                    f"{spec.meaning} {_shown(value, spec)} is outside {low} to {high}, "
                    f"the range of {self.source}"
                )
        return found

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        bound = self.bind(*args, **kwargs)
        for flag in self.flags(**bound):
            warnings.warn(flag, OutsideRange, stacklevel=2)
        return self.evaluate(bound)

    def evaluate(self, bound: dict[str, Any]) -> Any:
        """Run the body on checked arguments and check the dimension of the result."""
        with self._arithmetic():
            return self._out(self.body(**bound))

    @contextlib.contextmanager
    def _arithmetic(self) -> Iterator[None]:
        """Turn what plain numbers cannot hold into a refusal."""
        try:
            yield
        except (OverflowError, ZeroDivisionError):
            raise FormulaError(
                f"{self.name}: these inputs lead to a number too large to write; check their units"
            ) from None

    def _out(self, value: Any) -> Any:
        if self.returns.unit == "1":
            return value.m_as("") if isinstance(value, ureg.Quantity) else value
        if not isinstance(value, ureg.Quantity) or not value.is_compatible_with(
            unit(self.returns.unit)
        ):
            raise FormulaError(f"{self.name} gave {value}, not a quantity in {self.returns.unit}")
        return value.to(unit(self.returns.unit))

    def bulk(self, **kwargs: Any) -> Any:
        """The same body on whole numpy arrays, without units inside, for sweeps and risk runs.

        Arguments are quantities (or arrays of them); numbers stand for the declared unit.
        Inside, all are plain numbers of one coherent set (inch, pound-force, hour, kelvin,
        dollar). Returns plain numbers in the declared unit of the result. Limits are
        checked over the whole array.
        """
        plain = {}
        for name, parameter in self.signature.parameters.items():
            spec = self.arguments[name]
            value = kwargs.pop(name, parameter.default)
            if value is inspect.Parameter.empty:
                raise FormulaError(f"{self.name}: {name} ({spec.meaning}) is missing")
            if spec.choices is not None:
                plain[name] = value
                continue
            number = value.m_as(unit(spec.unit)) if isinstance(value, ureg.Quantity) else value
            if spec.breaks(number):
                raise FormulaError(f"{self.name}: {name} must be {spec.allowed() or 'finite'}")
            plain[name] = to_coherent(number, spec.unit)
        if kwargs:
            raise FormulaError(f"{self.name} has no argument {', '.join(kwargs)}")
        return from_coherent(self.body(**plain), self.returns.unit)

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
        scope = dict(bound)
        with self._arithmetic():
            exec(self._code, self.body.__globals__, scope)  # the formula's own source, nothing else
        return [self._line(name, scope[name]) for name, _ in self.assignments]

    def _line(self, name: str, value: Any) -> Line:
        if name == self.symbol:
            return Line(name, self.returns.unit, self._out(value))
        return Line(name, self.shows.get(name) or natural_unit(value), value)


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
        made = Formula(function, title, source, returns, arguments, shows or {}, note)
        return _enter(made)

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


# --- helpers for bodies: they take quantities, or plain numbers of the coherent set ---------

_COHERENT = {"[length]": "inch", "[time]": "hour", "[temperature]": "kelvin", "[money]": "dollar"}


@functools.cache
def _coherent(name: str) -> tuple[Any, float | None]:
    """(pint unit of the coherent set, multiplier) for a trade unit.

    Base units are pound-force, inch, hour, kelvin and dollar; a mass is force times time squared
    over length, so that stresses, masses and energies may meet in one formula.
    """
    dims = dict(unit(name).dimensionality)
    mass = dims.pop("[mass]", 0)
    dims["[length]"] = dims.get("[length]", 0) - mass
    dims["[time]"] = dims.get("[time]", 0) + 2 * mass
    expression = ureg.lbf**mass
    for dimension, power in dims.items():
        base = _COHERENT.get(dimension) or dimension.strip("[]").replace("substance", "mole")
        expression *= ureg.Unit(base) ** power
    offset = TRADE_UNITS[name].pint_name in ("degF", "degC")
    return expression, None if offset else ureg.Quantity(1.0, unit(name)).m_as(expression)


def to_coherent(number: Any, name: str) -> Any:
    """A plain number in a trade unit, as a number of the coherent set."""
    _, multiplier = _coherent(name)
    if multiplier is None:
        return number + 273.15 if name == "degC" else (number + 459.67) / 1.8
    return number if multiplier == 1.0 else number * multiplier


def from_coherent(number: Any, name: str) -> Any:
    """A number of the coherent set, as a plain number in a trade unit."""
    _, multiplier = _coherent(name)
    if multiplier is None:
        return number - 273.15 if name == "degC" else number * 1.8 - 459.67
    return number if multiplier == 1.0 else number / multiplier


def number(value: Any, name: str) -> Any:
    """The number of a quantity in a unit, for an empirical formula; shown as the bare symbol."""
    if isinstance(value, ureg.Quantity):
        return value.m_as(unit(name))
    return from_coherent(value, name)


def with_unit(value: Any, name: str, like: Any) -> Any:
    """Give an empirical formula's number its unit back, where ``like`` carries units itself."""
    if isinstance(like, ureg.Quantity):
        return ureg.Quantity(value, unit(name))
    return to_coherent(value, name)


def root(f_c: Any) -> Any:
    """Square root of a strength in psi, given back in psi, as every such code formula means it."""
    return with_unit(np.sqrt(number(f_c, "psi")), "psi", f_c)


_NATURAL = ("1", "in", "in2", "in3", "in4", "psi", "lbf", "lbf*in", "pcf", "plf", "lb", "h", "$",
            "lb/ft3", "lb/ft2", "lb/ft2/h", "degF", "mph", "1/h", "yd3/h", "bag", "roll", "J/mol")  # fmt: skip


def natural_unit(value: Any) -> str:
    """A trade unit for a value that no one gave a unit: the first one of its dimension."""
    if not isinstance(value, ureg.Quantity):
        return "1"
    for name in _NATURAL:
        if unit(name).dimensionality == value.dimensionality:
            return name
    for name in TRADE_UNITS:
        if unit(name).dimensionality == value.dimensionality:
            return name
    raise FormulaError(f"no trade unit for {value:~}: add one to TRADE_UNITS")


def _as_quantity(formula_name: str, name: str, value: Any, spec: Argument) -> Quantity:
    if isinstance(value, ureg.Quantity):
        if value.dimensionality == unit(spec.unit).dimensionality:
            return value.to(unit(spec.unit))
    elif spec.unit == "1" and isinstance(value, (int, float, np.ndarray, np.number)):
        return ureg.Quantity(value, "dimensionless")
    try:
        return read(value, spec.unit).to(unit(spec.unit))
    except UnitError as error:
        raise FormulaError(f"{formula_name}: {name} ({spec.meaning}): {error}") from None


def _shown(value: Any, spec: Argument) -> str:
    if isinstance(value, ureg.Quantity) and np.ndim(value.magnitude):
        return "an array with a value"
    return show(value, spec.unit)


__all__ = [
    "FORMULAS", "Choice", "Formula", "FormulaError", "OutsideRange", "Procedure", "arg", "choice",
    "cite", "factor", "formula", "number", "procedure", "result", "root", "with_unit",
]  # fmt: skip
