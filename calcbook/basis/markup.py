"""Symbols and values as they stand in mathematics, in LaTeX for the screen and in Typst for paper.

A symbol is given by its name in the code: ``f_c``, ``phi``, ``A_s``, ``c_a1``. A name with a space is
read word by word, ``Delta V``; a prime is a prime, ``Z'_par``. A value is given as the book prints it:
``17.28 yd³``.
"""

from __future__ import annotations

import functools
import itertools
import json
import re
from collections.abc import Callable
from dataclasses import dataclass

_SIGNS = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "varepsilon": "ε", "zeta": "ζ", "eta": "η",
    "theta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "pi": "π", "rho": "ρ", "sigma": "σ",
    "tau": "τ", "phi": "ϕ", "psi": "ψ", "omega": "ω", "Delta": "Δ", "Sigma": "Σ", "Phi": "Φ", "Omega": "Ω",
    "ell": "ℓ", "perp": "⊥", "parallel": "∥", "pm": "±",
}  # fmt: skip
_NAMES = {
    "f_c": "f'_c", "lam": "lambda", "l": "ell", "eps": "varepsilon", "epsilon": "varepsilon", "par": "parallel",
    "dT": "Delta T", "w_cm": "w/cm",
}  # fmt: skip
_POWERS = {"²": "2", "³": "3", "⁴": "4"}
_PARTS = re.compile(r"([²³⁴])|×10\^(-?\d+)|([^²³⁴×]+|×)")
_BARE = re.compile(r"[\d.,]+")


@dataclass(frozen=True)
class Operand:
    """What stands for a name in an expression; compound: needs brackets under a power."""

    text: str
    compound: bool = False


@dataclass(frozen=True, eq=False)  # told apart by itself, which is quick
class Markup:
    """A language of mathematics: how it writes the parts of symbols and values."""

    sign: Callable[[str], str]
    word: Callable[[str], str]
    text: Callable[[str], str]
    lowered: str
    raised: str
    times: str
    brackets: str

    @functools.cache  # noqa: B019  (there are three of them)
    def symbol(self, name: str) -> str:
        """A symbol from its name in the code."""
        return " ".join(map(self._atom, _NAMES.get(name, name).split(" ")))

    def _atom(self, word: str) -> str:
        head, *lowered = word.split("_")
        *before, head = _words(_NAMES.get(head, head))
        shown = " ".join([*map(self._head, before), self._head(head)])
        if not lowered:
            return shown
        subscripts = (_NAMES.get(name, name) if name != "l" else name for name in lowered)
        parts = (
            "".join(map(self.sign, names)) if are_signs else self.word(",".join(names))
            for are_signs, names in itertools.groupby(subscripts, key=_SIGNS.__contains__)
        )
        return self.lowered.format(shown, "".join(parts))

    def _head(self, text: str) -> str:
        plain = text.rstrip("'")
        primes = text[len(plain) :]
        if plain in _SIGNS:
            return self.sign(plain) + primes
        if re.fullmatch(r"[A-Za-z]\d*", plain):
            return (self.lowered.format(plain[0], plain[1:]) if plain[1:] else plain) + primes
        found = ""
        for letters, digits in re.findall(r"(\D+)(\d*)", plain):  # C3A, a compound of the cement
            part = self.word(letters)
            found += self.lowered.format(part, digits) if digits else part
        return found + primes

    def value(self, text: str) -> str:
        """A number with its unit, or words: upright, powers raised."""
        found = ""
        for power, of_ten, plain in _PARTS.findall(text):
            if plain:
                found += self.text(plain)
            else:
                found += self.raised.format(_POWERS[power]) if power else self.times.format(of_ten)
        return found

    def operand(self, text: str) -> Operand:
        """A value where an expression has a name; a negative one stands in brackets."""
        shown = self.value(text)
        if text[:1] in ("-", "−"):
            return Operand(self.brackets.format(shown))
        return Operand(shown, compound=not _BARE.fullmatch(text))


def _words(head: str) -> list[str]:
    """``phiM`` is a factor and a symbol: phi M."""
    greek = next((g for g in _SIGNS if head.startswith(g) and head[len(g) :][:1].isupper()), None)
    return [greek, head[len(greek) :]] if greek else head.split(" ")


def _latex_text(text: str) -> str:
    safe = re.sub(r"([#$%&_{}])", r"\\\1", text.replace("\\", "/"))
    return rf"\text{{{safe}}}"


LATEX = Markup(
    sign=lambda name: rf"\{name}", word=lambda text: rf"\mathrm{{{text}}}", text=_latex_text,
    lowered="{}_{{{}}}", raised="^{{{}}}", times=r"\times 10^{{{}}}", brackets=r"\left({}\right)",
)  # fmt: skip
TYPST = Markup(
    sign=_SIGNS.__getitem__, word=lambda text: f'"{text}"', text=lambda text: json.dumps(text, ensure_ascii=False),
    lowered="{}_({})", raised="^{}", times=" times 10^({})", brackets="({})",
)  # fmt: skip
PLAIN = Markup(  # for the terminal, and to see how wide a line will be
    sign=_SIGNS.__getitem__, word=str, text=str,
    lowered="{}_{}", raised="^{}", times="×10^{}", brackets="({})",
)  # fmt: skip
