"""Hand-calculation mathematics of a formula, as LaTeX.

Each formula is a row of templates (``templates.py``, made by handcalcs from the function's own
source). The values of each use are set into them here, so that no value is ever printed in a unit
or with digits that the book did not choose.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import magnitude, money_text, number_text, show
from calcbook.basis.templates import shown_expression, template_line, tokens_of
from calcbook.basis.units import TRADE_UNITS

if TYPE_CHECKING:
    from calcbook.basis.formula import Formula, Line

_GREEK = {
    "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "kappa", "mu", "nu",
    "pi", "rho", "sigma", "tau", "phi", "psi", "omega", "Delta", "Sigma", "Phi", "Omega",
}  # fmt: skip
_SPECIAL = {"lam": r"\lambda", "f_c": "f'_{\\mathrm{c}}", "l": r"\ell", "eps": r"\varepsilon"}


@functools.cache
def symbol_latex(name: str) -> str:
    """LaTeX of a symbol from its name in the code: ``f_c``, ``phi``, ``A_s``, ``c_a1``."""
    if name in _SPECIAL:
        return _SPECIAL[name]
    head, *subscripts = name.split("_")
    shown = _head_latex(head)
    if subscripts:
        inside = ",".join(rf"\{s}" if s in _GREEK else rf"\mathrm{{{s}}}" for s in subscripts)
        shown += f"_{{{inside}}}"
    return shown


def _head_latex(head: str) -> str:
    if head in _SPECIAL:
        return _SPECIAL[head]
    if head in _GREEK:
        return rf"\{head}"
    for greek in _GREEK:
        if head.startswith(greek) and head[len(greek) :][:1].isupper():
            return rf"\{greek} {_head_latex(head[len(greek) :])}"
    match = re.fullmatch(r"([A-Za-z])(\d+)", head)
    if match:
        return f"{match[1]}_{{{match[2]}}}"
    return head if len(head) == 1 else rf"\mathrm{{{head}}}"


def text_latex(text: str) -> str:
    """Plain text inside mathematics, with its special characters made safe."""
    safe = re.sub(r"([#$%&_{}])", r"\\\1", text.replace("\\", "/"))
    return rf"\text{{{safe}}}"


_POWERS = {"²": "2", "³": "3", "⁴": "4"}


def quantity_latex(value: Any, unit_name: str, system: str = "us", digits: int = 3) -> str:
    """LaTeX of a quantity in a trade unit of the system: upright, commas, powers raised."""
    if isinstance(value, str):
        return text_latex(value)
    label = TRADE_UNITS[unit_name].label_for(system)
    number = magnitude(value, unit_name, system)
    if label.startswith("$"):
        shown, label = money_text(number), label[1:]
    else:
        shown = number_text(number, digits)
    gap = "" if label in ("", "°", "%") or label.startswith("/") else " "
    shown = re.sub(r"×10\^(-?\d+)", r"}\\times 10^{\1}\\text{", shown)
    text = shown.replace("$", r"\$") + gap + label.replace("%", r"\%")
    for mark, power in _POWERS.items():
        text = text.replace(mark, rf"}}^{{{power}}}\text{{")
    return rf"\text{{{text}}}".replace(r"\text{}", "")


@dataclass(frozen=True)
class LineTemplate:
    """One line: its name, the symbolic right side, and the same with places for values."""

    name: str
    symbolic: str
    numeric: str


@functools.cache
def templates(formula: Formula) -> tuple[LineTemplate, ...]:
    """The lines of a formula as templates; rendered once by handcalcs, then kept."""
    tokens = tokens_of(formula)
    found = []
    for name, expression in formula.assignments:
        symbolic, numeric = template_line(shown_expression(expression, tokens), set(tokens.values()))
        found.append(
            LineTemplate(name, *(_fill_names(t, tokens, formula) for t in (symbolic, numeric)))
        )
    return tuple(found)


def _fill_names(template: str, tokens: dict[str, str], formula: Formula) -> str:
    for name, token in tokens.items():
        spec = formula.arguments.get(name)
        shown = (spec.symbol if spec else None) or symbol_latex(name)
        template = template.replace(rf"\mathrm{{{token}}}", shown)
        template = template.replace(f"@{token}@", f"@{name}@")
    return template


@dataclass(frozen=True)
class ShownLine:
    """A finished line of hand calculation: four pieces of LaTeX."""

    symbol: str
    symbolic: str
    substituted: str
    result: str

    def latex(self) -> str:
        """``symbol = symbolic = substituted = result`` on one line, or broken at the signs."""
        middle = [self.symbolic, self.substituted]
        if re.sub(r"\s", "", self.substituted) in (self.result.replace(" ", ""),):
            middle = middle[:1]
        if self.symbolic == self.substituted:
            middle = middle[:1]
        if middle[-1] == self.result:
            middle = middle[:-1]
        parts = [*middle, self.result]
        if sum(_width(p) for p in parts) + _width(self.symbol) <= 72:
            return f"{self.symbol} &= " + " = ".join(parts)
        if len(parts) == 3 and _width(parts[1]) + _width(parts[2]) <= 66:
            parts = [parts[0], f"{parts[1]} = {parts[2]}"]
        return f"{self.symbol} &= " + r" \\ &= ".join(parts)


@functools.lru_cache(maxsize=4096)
def _width(latex: str) -> int:
    """About how many characters wide a piece of LaTeX prints; a fraction counts its wider part."""
    fraction = re.search(r"\\frac\{((?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*)\}\{((?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*)\}", latex)  # fmt: skip
    if fraction:
        rest = latex[: fraction.start()] + latex[fraction.end() :]
        return max(_width(fraction[1]), _width(fraction[2])) + _width(rest)
    plain = re.sub(r"\\(left|right|text|mathrm)\b|[{}_^\\]|\s(?![a-z])", "", latex)
    return len(re.sub(r"\b(cdot|operatorname|alpha|beta|sigma|lambda|sqrt|gamma)\b", "x", plain))


def widest(latex: str) -> int:
    """About how many characters wide the widest row of a hand calculation's LaTeX prints."""
    return max(map(_width, latex.split(r"\\")))


def shown_lines(
    formula: Formula,
    bound: dict[str, Any],
    lines: Sequence[Line],
    system: str = "us",
    symbol: str | None = None,
) -> list[ShownLine]:
    """The hand calculation of one use of a formula, ready to print.

    formula: a Formula; bound: its checked arguments; lines: ``formula.lines(bound)``;
    symbol: LaTeX that replaces the last symbol. Returns a list of ShownLine. A formula bound to
    psi and inches (a code's square root of strength) keeps them in an SI job, and its result is
    converted at the end, so that the substitution can be followed with a pocket calculator.
    """
    converted = formula.unit_bound and system == "si"
    shown_system = "us" if converted else system
    values = {
        name: quantity_latex(value, spec.unit, shown_system, spec.digits)
        for (name, spec), value in zip(formula.arguments.items(), bound.values(), strict=True)
    }
    found = []
    for template, line in zip(templates(formula), lines, strict=True):
        digits = formula.returns.digits if line.name == formula.symbol else 3
        result = quantity_latex(line.value, line.unit, shown_system, digits)
        left = symbol if symbol and line.name == formula.symbol else symbol_latex(line.name)
        substituted = re.sub(r"@(\w+?)@", lambda m: _operand(values.get(m[1], m[1])), template.numeric)
        substituted = re.sub(r"\\left\( (\\text\{[\d.,]+\}) \\right\)", r"\1", substituted)
        values[line.name] = result
        if converted and line.name == formula.symbol and TRADE_UNITS[line.unit].si != line.unit:
            result += f" = {quantity_latex(line.value, line.unit, system, digits)}"
        found.append(ShownLine(left, template.symbolic, substituted, result))
    return found


def _operand(latex: str) -> str:
    return rf"\left({latex}\right)" if latex.startswith((r"\text{-", r"\text{−")) else latex


def plain_line(formula: Formula, line: Line) -> str:
    """One line of a hand calculation as plain text, for the terminal: ``V = A·t = 15.4 yd³``."""
    names = dict(formula.assignments)
    expression = shown_expression(names[line.name], {}).replace("**", "^").replace("*", "·")
    digits = formula.returns.digits if line.name == formula.symbol else 3
    return f"{line.name} = {expression} = {show(line.value, line.unit, digits=digits)}"


def aligned(lines: Iterable[ShownLine]) -> str:
    """LaTeX of several shown lines under each other, signs aligned."""
    return (
        "\\begin{aligned}\n" + " \\\\[4pt]\n".join(line.latex() for line in lines) + "\n\\end{aligned}"
    )
