"""A derivation as a reader follows it: each line of mathematics below the sentence that leads to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from IPython.display import Markdown, display


def derive(steps: Sequence[tuple[str, Any]]) -> None:
    """Display the steps in their order, numbered; steps: pairs of (sentence, sympy expression or equation)."""
    display(Markdown(derivation(steps)))


def derivation(steps: Sequence[tuple[str, Any]]) -> str:
    """The steps as Markdown with mathematics."""
    import sympy

    return "\n\n".join(
        f"{number}. {words}\n\n   $${sympy.latex(found, ln_notation=True)}$$"
        for number, (words, found) in enumerate(steps, 1)
    )
