"""The drawings of results that follow each other on a page: one that must come out as it is, is not made again."""

from __future__ import annotations

import functools
from types import FunctionType
from typing import TYPE_CHECKING, Any

from calcbook.job.seen import same
from calcbook.paper.pictures import element, written

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplotlib.figure import Figure as MplFigure

    from calcbook.basis.calculation import Figure


class Drawings:
    """Drawings by their numbers, as elements of a page."""

    def __init__(self) -> None:
        self._made: dict[int, tuple[Callable[..., MplFigure], MplFigure | str]] = {}

    def begin(self, n: int, figure: Figure) -> None:
        """Draw the n-th where it is another one than before; to write it down then is about as much again."""
        if n not in self._made or not alike(self._made[n][0], figure.draw):
            self._made[n] = figure.draw, figure.draw()

    def shown(self, n: int, figure: Figure, words: str) -> str:
        """The n-th as an element of a page; words: what it shows, for who cannot see it."""
        self.begin(n, figure)
        draw, made = self._made[n]
        if not isinstance(made, str):
            made = written(made)
            self._made[n] = draw, made
        return element(made, words)


def alike(draw: Callable[..., Any], other: Callable[..., Any]) -> bool:
    """True where two functions must draw the same: the same code over the same values."""
    if isinstance(draw, functools.partial) and isinstance(other, functools.partial):
        return draw.func is other.func and same(
            (draw.args, draw.keywords), (other.args, other.keywords)
        )
    if not (isinstance(draw, FunctionType) and isinstance(other, FunctionType)):
        return draw is other
    return draw.__code__ is other.__code__ and same(_values(draw), _values(other))


def _values(draw: FunctionType) -> tuple[Any, ...]:
    held = [cell.cell_contents for cell in draw.__closure__ or ()]
    return held, draw.__defaults__, draw.__kwdefaults__
