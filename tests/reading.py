"""Reads printed mathematics back: the substituted side of a hand calculation, evaluated as it stands.

An independent reading of the page: only what is printed counts, never the code that made it.
"""

import math
import re
import statistics

import numpy as np
from scipy.stats import t as student

from calcbook.basis.formula import FORMULAS
from calcbook.basis.units import TRADE_UNITS, ureg

_NORMAL = statistics.NormalDist()
_LABELS = {row.label_for(s): row.pint_for(s) for row in TRADE_UNITS.values() for s in ("us", "si")}
_TOKEN = re.compile(
    r"\s+|\\[ ,;]|\\operatorname\{(?P<named>\w+)\}|\\(?P<command>[A-Za-z]+)|Q(?P<quantity>\d+);"
    r"|(?P<number>\d+\.?\d*(?:e[-+]?\d+)?)|(?P<sign>[-+^(){},])"
)


def _plain(x):
    return x.m_as("") if isinstance(x, ureg.Quantity) else x


_FUNCTIONS = {
    "sqrt": lambda x: x**0.5,
    "ln": lambda x: math.log(_plain(x)),
    "display": lambda x: x,
    "exp": lambda x: math.exp(_plain(x)),
    "ceil": lambda x: float(math.ceil(_plain(x) - 1e-9)),
    "floor": lambda x: float(math.floor(_plain(x) + 1e-9)),
    "Phi": lambda x: _NORMAL.cdf(_plain(x)),
    "probit": lambda x: _NORMAL.inv_cdf(_plain(x)),
    "esat": lambda T: FORMULAS["saturation_pressure"](T),  # a formula of the book, named in another
    **{
        name: (lambda f: lambda x: float(f(_plain(x))))(getattr(np, name))
        for name in ("sin", "cos", "tan", "sinh", "cosh", "tanh", "abs")
    },
}


def read_back(latex, units=True):
    """The value of a piece of LaTeX: a quantity or a number. units: False drops every unit."""
    return _Reader(latex, units).value()


def read_typst(text, units=True):
    """The same for a piece of Typst."""
    return _TypstReader(text, units).value()


class _Reader:
    """A reader of sums: + and -, products and fractions, powers, functions, brackets."""

    def __init__(self, latex, units):
        for written, name in (("\\Phi^{-1}", "probit"), ("t^{-1}", "tinv")):  # inverses, not powers
            latex = latex.replace(written, rf"\operatorname{{{name}}}")
        self.units, self.found = units, []
        self.tokens = list(self._split(self._keep(latex)))

    def fraction(self):
        return self.group() / self.group()

    def _keep(self, latex):
        """Printed quantities set aside, so that their units are not taken for symbols."""
        latex = re.sub(r"\}\^\{([234])\}\\text\{", lambda m: "⁰¹²³⁴"[int(m[1])], latex)
        latex = re.sub(r"\}\^\{([234])\}", lambda m: "⁰¹²³⁴"[int(m[1])] + "}", latex)
        latex = re.sub(
            r"\}\\times 10\^\{(-?\d+)\}(\\text\{)?", lambda m: f"e{m[1]}{'' if m[2] else '}'}", latex
        )
        return re.sub(r"\\text\{([^{}]*)\}", self._quantity, latex)

    def _quantity(self, match):
        return self._kept(match[1].replace("\\$", "$").replace("\\%", "%"))

    def _kept(self, text):
        sign, money, number, label = re.fullmatch(
            r"([-−]?)(\$?)([\d.,]+(?:e[-+]?\d+)?)\s*(.*)", text
        ).groups()
        value = float(number.replace(",", "")) * (-1 if sign else 1)
        unit = _LABELS[f"{money}{label}"]
        self.found.append(
            ureg.Quantity(value, unit) if self.units and unit != "dimensionless" else value
        )
        return f" Q{len(self.found) - 1}; "

    def _split(self, text):
        at = 0
        while at < len(text):
            match = _TOKEN.match(text, at)
            if not match:
                raise ValueError(f"cannot read {text[at : at + 20]!r} in {text!r}")
            at = match.end()
            kind = match.lastgroup
            if kind and match[kind] not in ("left", "right"):
                yield kind, match[kind]
        yield "end", ""

    # --- one token ahead ---
    def peek(self, *wanted):
        return self.tokens[0][1] in wanted and self.tokens[0][0] != "number"

    def take(self):
        return self.tokens.pop(0)

    def expect(self, sign):
        if self.take()[1] != sign:
            raise ValueError(f"{sign} expected")

    # --- the grammar ---
    def value(self):
        total = self.sum()
        if self.tokens[0][0] != "end":
            raise ValueError(f"what is {self.tokens[:4]}?")
        return total

    def sum(self):
        total = self.product()
        while self.peek("+", "-"):
            sign = self.take()[1]
            term = self.product()
            total = total + term if sign == "+" else total - term
        return total

    def product(self):
        total = self.signed()
        while self.peek("cdot", "times", "slash"):
            sign = self.take()[1]
            factor = self.signed()
            total = total / factor if sign == "slash" else total * factor
        return total

    def signed(self):
        if self.peek("-"):
            self.take()
            return -self.signed()
        return self.power()

    def power(self):
        base = self.atom()
        while self.peek("{"):  # an empty group is no factor
            self.group()
        if self.peek("^"):
            self.take()
            return base ** _plain(self.group() if self.peek("{") else self.atom())
        return base

    def group(self):
        self.expect("{")
        if self.peek("}"):
            self.take()
            return None
        inside = self.sum()
        while self.peek("{"):
            self.group()
        self.expect("}")
        return inside

    def atom(self):
        kind, text = self.take()
        if kind == "quantity":
            return self.found[int(text)]
        if kind == "number":
            return float(text)
        if text == "(":
            inside = self.sum()
            self.expect(")")
            return inside
        if text == "pi":
            return math.pi
        if text == "frac":
            return self.fraction()
        if text in ("lceil", "lfloor"):
            inside = self.sum()
            self.take()  # the other half of the bracket
            return _FUNCTIONS[text[1:]](inside)
        if text in ("min", "max"):
            return self.of_several(min if text == "min" else max)
        if text == "tinv":
            return self.of_several(lambda given: float(student.ppf(*map(_plain, given))))
        if text in _FUNCTIONS:
            return _FUNCTIONS[text](self.group() if self.peek("{") else self.atom())
        raise ValueError(f"what is {text!r}?")

    def of_several(self, pick):
        self.expect("(")
        values = [self.sum()]
        while self.peek(","):
            self.take()
            values.append(self.sum())
        self.expect(")")
        return pick(values)


class _TypstReader(_Reader):
    """The same sums as Typst writes them: functions and fractions take their parts in brackets."""

    def _keep(self, text):
        text = text.replace("Φ^(-1)", "probit").replace("t^(-1)", "tinv").replace('"esat"', "esat")
        text = text.replace("dot.op", "cdot").replace("Φ", "Phi").replace("π", "pi")
        text = re.sub(r'"[^"]*"(?:"[^"]*"|\^[234]| times 10\^\(-?\d+\))*', self._quantity, text)
        return re.sub(r"\b([A-Za-z]+)\b", r"\\\1", text)

    def _quantity(self, match):
        text = re.sub(r"\^([234])", lambda m: "⁰¹²³⁴"[int(m[1])], match[0])
        return self._kept(re.sub(r" times 10\^\((-?\d+)\)", r"e\1", text).replace('"', ""))

    def fraction(self):
        self.expect("(")
        above = self.sum()
        self.expect(",")
        below = self.sum()
        self.expect(")")
        return above / below
