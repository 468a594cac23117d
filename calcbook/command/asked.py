"""What one formula asks for: its inputs with units and limits, and an example line that works."""

from __future__ import annotations

import inspect
import itertools
import math
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.formula import Choice, Procedure
from calcbook.basis.showing import show, unit_text
from calcbook.basis.text_table import aligned
from calcbook.basis.units import Quantity, ureg
from calcbook.book.formulas import title
from calcbook.command.value import evaluate

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calcbook.basis.formula import Argument, Entry, Formula

# figures of an ordinary slab, tried in an example before anything else
_USUAL = {
    ("in", "h"): "5", ("in", "t"): "5", ("in", "B"): "30", ("in", "L"): "30", ("in", "d"): "8", ("in", "l"): "30",
    ("in", "h_ef"): "7", ("in", "d_a"): "0.5", ("in", "D"): "0.5", ("in", "c_a1"): "2.75", ("psi", "E_c"): "3.12e6",
    ("psi", "f_r"): "490", ("psi", "f_y"): "60000", ("psi", "f_uta"): "58000", ("1", "nu"): "0.15", ("1", "w_cm"): "0.5",
    ("1", "style"): "6x6-W2.9xW2.9", ("1", "size"): "#3", ("psi", "F_yb"): "45000", ("in2/ft", "A_s"): "0.06",
    ("in", "d_hole"): "0.5625", ("in", "d_bolt"): "0.5", ("1/in", "n_t"): "13", ("in2", "A_c"): "25", ("psi", "p"): "50",
    ("psf", "w"): "60", ("psf", "q_over"): "60", ("psi", "f_s"): "40000", ("psi", "f_ya"): "36000", ("psi", "tau"): "1000",
}  # fmt: skip
_OF_UNIT = {
    "in": ("4", "1.5", "12", "48"), "ft": ("24",), "ft2": ("1120",), "yd3": ("17", "9", "4"), "lbf": ("6500",),
    "psi": ("3000", "100"), "psf": ("1500",), "plf": ("450",), "pcf": ("145",), "pci": ("100",),
    "F": ("60",), "C": ("15",), "K": ("290", "300"), "delta_degF": ("20",), "1": ("0.5", "1", "2", "12"), "h": ("6", "24"), "day": ("7",),
    "min": ("40",), "$": ("168",), "lb/yd3": ("560",), "mph": ("11",), "$/h": ("46",), "ft2/h": ("100",), "J/g": ("450",),
    "lb/ft2/h": ("0.1",), "lb": ("5",), "in2": ("2",), "MJ/m3": ("100",), "lbf*in/in": ("1000",), "W/m2": ("300",),
}  # fmt: skip
_MOST_TRIED = 400


@dataclass
class Asked:
    """What an entry of the registry takes; ``example`` is a line for the terminal, or ""."""

    name: str
    title: str
    source: str
    gives: str
    arguments: list[dict[str, str]]
    example: str

    def data(self) -> dict[str, Any]:
        """As plain data for ``--json``."""
        return dict(vars(self))

    def text(self) -> str:
        """For the terminal."""
        rows = [tuple(row.values()) for row in self.arguments]
        table = aligned(["takes", "unit", "meaning", "allowed"], rows) if rows else []
        example = [f"example: {self.example}"] if self.example else []
        return "\n".join(
            [self.title, f"gives {self.gives}", "", *table, "", *example, f"source: {self.source}"]
        )


def asked(name: str, entry: Entry) -> Asked:
    """What an entry of the registry takes, by the name it was asked for."""
    one = next(iter(entry.formulas.values())) if isinstance(entry, Choice) else entry
    rows = [_choice_row(entry)] if isinstance(entry, Choice) else []
    rows += [_row(one, argument) for argument in one.signature.parameters]
    return Asked(name, title(entry), str(one.source), _gives(one), rows, _example(name, entry, one))


def _gives(one: Formula | Procedure[..., Any]) -> str:
    if one.returns is None:
        return getattr(one, "words", "a table")
    label = unit_text(one.returns.unit)
    return f"{one.returns.meaning}{f', in {label}' if label else ''}"


def _choice_row(entry: Choice) -> dict[str, str]:
    return _cells(
        entry.keyword, "", "which formula", f"{' or '.join(entry.formulas)}; else {entry.default}"
    )


def _row(one: Formula | Procedure[..., Any], name: str) -> dict[str, str]:
    spec, parameter = one.arguments.get(name), one.signature.parameters[name]
    if spec is None:
        told = "path of a job file" if name == "job" else "from Python only"
        return _cells(name, "", told, _else(parameter.default, None))
    allowed = " or ".join(spec.choices) if spec.choices else spec.allowed()
    parts = (allowed, _else(parameter.default, spec))
    return _cells(name, unit_text(spec.unit), spec.meaning, "; ".join(filter(None, parts)))


def _cells(name: str, unit_label: str, meaning: str, allowed: str) -> dict[str, str]:
    return {"name": name, "unit": unit_label, "meaning": meaning, "allowed": allowed}


def _else(default: Any, spec: Argument | None) -> str:
    """The default of an argument in words, or nothing."""
    if default in (inspect.Parameter.empty, None):
        return ""
    if spec is not None and isinstance(default, Quantity | int | float) and not spec.choices:
        return f"else {show(default, spec.unit, digits=4)}"
    return f"else {default}" if isinstance(default, str | int | float) else ""


# --- an example ------------------------------------------------------------------------------------


def _example(name: str, entry: Entry, one: Formula | Procedure[..., Any]) -> str:
    """A line that works; "" where an argument cannot be typed."""
    needed = [k for k, p in one.signature.parameters.items() if p.default is inspect.Parameter.empty]
    typed = [k for k in needed if k in one.arguments]
    if needed == ["job"]:
        return f"calcbook value {name} job=demo.toml"
    if typed != needed:
        return ""
    for inputs in itertools.islice(_tries(one, typed), _MOST_TRIED):
        if _works(entry, dict(zip(typed, inputs, strict=True))):
            pairs = zip(typed, inputs, strict=True)
            return " ".join([f"calcbook value {name}", *(_pair(k, v) for k, v in pairs)])
    return ""


def _pair(name: str, value: str) -> str:
    return f'{name}="{value}"' if any(c in value for c in " #") else f"{name}={value}"


def _tries(one: Formula | Procedure[..., Any], names: list[str]) -> Iterator[tuple[str, ...]]:
    """Sets of inputs: the likeliest of each first, then one changed at a time, then all mixed."""
    lists = [_candidates(name, one.arguments[name]) for name in names]
    first = tuple(column[0] for column in lists)
    yield first
    for place, column in enumerate(lists):
        for other in column[1:]:
            yield (*first[:place], other, *first[place + 1 :])
    yield from itertools.product(*lists)


def _candidates(name: str, spec: Argument) -> list[str]:
    """Values in words that an argument may take by itself, the likeliest first."""
    if spec.choices:
        return list(spec.choices)
    usual = _USUAL.get((spec.unit, name))
    if usual and not usual[0].isdigit():
        return [usual]
    word = {"1": "", "degF": "F", "degC": "C"}.get(spec.unit, spec.unit)
    numbers = [usual, *_OF_UNIT.get(word or "1", ("10", "1", "0.1")), *_between(spec)]
    fit = [n for n in numbers if n and not spec.breaks(float(n)) and not spec.leaves_source(float(n))]
    return [f"{n} {word}".strip() for n in dict.fromkeys(fit)] or ["1"]


def _between(spec: Argument) -> list[str]:
    """Numbers inside the range that the source covers, or inside the limits."""
    low, high = spec.valid or (
        spec.low if spec.low is not None else spec.above, spec.high if spec.high is not None else spec.below,
    )  # fmt: skip
    ends = [x for x in (low, high) if x is not None]
    middle = [(low + high) / 2] if low is not None and high is not None else [x * 2 for x in ends if x]
    return [f"{x:.4g}" for x in (*middle, *ends)]


def _works(entry: Entry, inputs: dict[str, str]) -> bool:
    """Whether inputs give a finite answer inside the range of the source."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            answer = evaluate(entry, dict(inputs))
        except (ValueError, ArithmeticError):
            return False
    value: Any = answer.value
    number = value.magnitude if isinstance(value, ureg.Quantity) else value
    finite = not isinstance(number, float) or math.isfinite(number)
    return finite and not answer.flags
