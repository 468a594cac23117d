"""Hand-calculation mathematics of a formula, as LaTeX.

The only file that touches handcalcs. Its renderer is run once for each line, on the source of the
very function that computes, with placeholders for names and values; the values of each use are
then set into that template. So a calculation shows in well under a millisecond, and no value is
ever printed in a unit or with digits that the book did not choose.

Rendering a line takes several milliseconds, so ``tables/templates.json`` keeps what handcalcs made
of every line of the book. A line that is not in it is rendered on the spot; a test renders all of
them anew and compares. ``python -m calcbook.handcalc`` rewrites the file.
"""

import ast
import functools
import json
import re
from dataclasses import dataclass

import numpy as np

from calcbook.sources import TABLES
from calcbook.units import TRADE_UNITS, magnitude, money_text, number_text, show, ureg

KEPT = TABLES / "templates.json"
_GREEK = {
    "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "kappa", "mu", "nu",
    "pi", "rho", "sigma", "tau", "phi", "psi", "omega", "Delta", "Sigma", "Phi", "Omega",
}  # fmt: skip
_SPECIAL = {"lam": r"\lambda", "f_c": "f'_{\\mathrm{c}}", "l": r"\ell", "eps": r"\varepsilon"}
_SHOWN_NAMES = {
    "minimum": "min", "maximum": "max", "root": "sqrt", "log": "log", "absolute": "abs",
}  # fmt: skip
_TRANSPARENT = {"number", "with_unit", "to", "m_as", "float"}


def symbol_latex(name):
    """LaTeX of a symbol from its name in the code: ``f_c``, ``phi``, ``A_s``, ``c_a1``."""
    if name in _SPECIAL:
        return _SPECIAL[name]
    head, *subscripts = name.split("_")
    shown = _head_latex(head)
    if subscripts:
        inside = ",".join(rf"\{s}" if s in _GREEK else rf"\mathrm{{{s}}}" for s in subscripts)
        shown += f"_{{{inside}}}"
    return shown


def _head_latex(head):
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


def text_latex(text):
    """Plain text inside mathematics, with its special characters made safe."""
    safe = re.sub(r"([#$%&_{}])", r"\\\1", text.replace("\\", "/"))
    return rf"\text{{{safe}}}"


_POWERS = {"²": "2", "³": "3", "⁴": "4"}


def quantity_latex(value, unit_name, system="us", digits=3):
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
def templates(formula):
    """The lines of a formula as templates; rendered once by handcalcs, then kept."""
    tokens = _tokens(formula)
    found = []
    for name, expression in formula.assignments:
        symbolic, numeric = _render_line(_shown_expression(expression, tokens), set(tokens.values()))
        found.append(
            LineTemplate(name, *(_fill_names(t, tokens, formula) for t in (symbolic, numeric)))
        )
    return tuple(found)


def _tokens(formula):
    """A token for every name of a formula, in alphabetical order."""
    assignments = formula.assignments
    names = sorted(
        set(formula.arguments)
        | {n.id for _, e in assignments for n in ast.walk(e) if isinstance(n, ast.Name)}
        | {name for name, _ in assignments}
    )
    return {name: f"V{_letters(i)}" for i, name in enumerate(names)}


def _letters(index):
    return chr(97 + index // 26) + chr(97 + index % 26)


class _Shown(ast.NodeTransformer):
    """Rewrites an expression to what a hand calculation shows: no unit conversions, plain names."""

    def __init__(self, tokens):
        self.tokens = tokens

    def visit_Name(self, node):
        if node.id == "pi":
            return node
        return ast.Name(self.tokens.get(node.id, node.id), node.ctx)

    def visit_Call(self, node):
        function = node.func
        name = function.attr if isinstance(function, ast.Attribute) else function.id
        if name in _TRANSPARENT:
            inner = function.value if isinstance(function, ast.Attribute) else node.args[0]
            return self.visit(inner)
        arguments = [self.visit(a) for a in node.args]
        return ast.Call(ast.Name(_SHOWN_NAMES.get(name, name), ast.Load()), arguments, [])

    def visit_Attribute(self, node):
        return self.visit(node.value)


def _shown_expression(expression, tokens):
    return ast.unparse(_Shown(tokens).visit(ast.parse(ast.unparse(expression), mode="eval").body))


class _Placeholder:
    def __init__(self, token):
        self.token = token

    def _repr_latex_(self):
        return f"@{self.token}@"

    __str__ = __repr__ = _repr_latex_


@functools.cache
def _kept():
    return json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}


def _render_line(expression, tokens):
    """(symbolic, numeric) LaTeX of an expression: as kept, or rendered now."""
    return tuple(_kept().get(expression) or render_line(expression, tokens))


def render_line(expression, tokens):
    """(symbolic, numeric) LaTeX of an expression over tokens, rendered by handcalcs."""
    import handcalcs.global_config  # noqa: F401  (sets the renderer up outside a notebook)
    from handcalcs.handcalcs import LatexRenderer

    if re.fullmatch(r"\w+|[\d.]+", expression):  # a bare name or number is no sum to show
        symbolic = rf"\mathrm{{{expression}}}" if expression in tokens else expression
        return symbolic, f"@{expression}@" if expression in tokens else expression
    tree = ast.parse(expression, mode="eval").body
    if isinstance(tree, ast.UnaryOp):  # handcalcs takes a whole line with a sign for a bare value
        inner = render_line(ast.unparse(tree.operand), tokens)
        wrap = r"- \left( {} \right)" if isinstance(tree.operand, ast.BinOp) else "- {}"
        return tuple(wrap.replace("{}", part, 1) for part in inner)
    scope = {token: _Placeholder(token) for token in tokens} | {"Result": _Placeholder("Result")}
    options = {"override": "long", "precision": 3, "sci_not": None}
    rendered = LatexRenderer(f"Result = {expression}\n", scope, options).render()
    inside = rendered.split(r"\begin{aligned}")[1].split(r"\end{aligned}")[0]
    parts = [p.strip().removesuffix("\\\\").strip() for p in inside.split("&=")]
    symbolic, numeric = _tidy(parts[1]), _tidy(parts[2])
    return symbolic, symbolic if numeric == "@Result@" else numeric  # no symbols: shown once


def _tidy(latex):
    """Drop parentheses that handcalcs sets around a single symbol or number."""
    latex = re.sub(r"\\left\( (\\mathrm\{V\w\w\}|[\d.]+) \\right\) ?\^", r"\1 ^", latex)
    # an empty group keeps pandoc from writing a fraction as a/b, which it nests wrongly in Typst
    latex = latex.replace(" }{ ", " {} }{ ").replace(r"\frac{1} {", r"\frac{ 1 {} }{")
    latex = re.sub(r"\\operatorname\{(min|max)\}", r"\\\1", latex)
    latex = re.sub(r"\^\{ \\left\( ((?:(?!\\left|\\right).)*) \\right\) \}", r"^{ \1 }", latex)
    latex = re.sub(
        r"\\left\( \\left\( ((?:(?!\\left|\\right).)*) \\right\) \\right\)",
        r"\\left( \1 \\right)",
        latex,
    )
    return latex


def _fill_names(template, tokens, formula):
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

    def latex(self):
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


def _width(latex):
    """About how many characters wide a piece of LaTeX prints; a fraction counts its wider part."""
    fraction = re.search(r"\\frac\{((?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*)\}\{((?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*)\}", latex)  # fmt: skip
    if fraction:
        rest = latex[: fraction.start()] + latex[fraction.end() :]
        return max(_width(fraction[1]), _width(fraction[2])) + _width(rest)
    plain = re.sub(r"\\(left|right|text|mathrm)\b|[{}_^\\]|\s(?![a-z])", "", latex)
    return len(re.sub(r"\b(cdot|operatorname|alpha|beta|sigma|lambda|sqrt|gamma)\b", "x", plain))


def shown_lines(formula, bound, lines, system="us", symbol=None):
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


def _operand(latex):
    return rf"\left({latex}\right)" if latex.startswith((r"\text{-", r"\text{−")) else latex


def plain_line(formula, line):
    """One line of a hand calculation as plain text, for the terminal: ``V = A·t = 15.4 yd³``."""
    names = dict(formula.assignments)
    expression = _shown_expression(names[line.name], {}).replace("**", "^").replace("*", "·")
    digits = formula.returns.digits if line.name == formula.symbol else 3
    return f"{line.name} = {expression} = {show(line.value, line.unit, digits=digits)}"


def aligned(lines):
    """LaTeX of several shown lines under each other, signs aligned."""
    return (
        "\\begin{aligned}\n" + " \\\\[4pt]\n".join(line.latex() for line in lines) + "\n\\end{aligned}"
    )


def is_scalar(value):
    """True for anything that can stand in a hand calculation (no arrays)."""
    return np.ndim(value.magnitude if isinstance(value, ureg.Quantity) else value) == 0


def all_lines():
    """(expression, tokens) of every line of every formula in the book."""
    from calcbook.book import load_formulas
    from calcbook.formula import Formula

    for entry in load_formulas().values():
        if isinstance(entry, Formula):
            tokens = _tokens(entry)
            for _, expression in entry.assignments:
                yield _shown_expression(expression, tokens), set(tokens.values())


def keep_templates():
    """Render every line of the book and rewrite ``tables/templates.json``."""
    kept = {expression: render_line(expression, tokens) for expression, tokens in all_lines()}
    KEPT.write_text(json.dumps(dict(sorted(kept.items())), indent=0) + "\n", encoding="utf-8")


if __name__ == "__main__":
    keep_templates()
