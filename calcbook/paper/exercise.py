"""Exercises for the apprentice: a question, a typed answer, and what went wrong with it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from types import MappingProxyType
from typing import Any

import ipywidgets as widgets

from calcbook.basis.calculation import Calculation
from calcbook.basis.formula import Choice, Formula
from calcbook.basis.reading import read
from calcbook.basis.showing import show, unit_text
from calcbook.basis.units import TRADE_UNITS, UnitError, unit
from calcbook.paper.learning import keep_solved
from calcbook.paper.panels import show_widget
from calcbook.paper.screen import page, step_html
from calcbook.plan.drawing import ACCENT

TRIES = 2  # wrong answers after which the solution is shown


class Exercise:
    """A question with a number for an answer.

    question: text, with ``{name}`` where a drawn number stands; answer: a quantity (or a plain number with
    unit ``"1"``), or the formula that gives it; unit_name: trade unit of the answer; because: one
    sentence said with the right answer; misses: pairs (wrong value, or a function of the drawn numbers that
    gives it; what that mistake was); within: relative tolerance; key: its place in ``learning.LESSONS``; given:
    for a formula, each of its arguments with the values that are drawn for it in turn, the first one first.
    """

    def __init__(
        self,
        question: str,
        answer: Any,
        unit_name: str,
        because: str,
        misses: Iterable[tuple[Any, str]] = (),
        within: float = 0.01,
        key: str = "",
        given: Mapping[str, Sequence[Any]] = MappingProxyType({}),
    ) -> None:
        self.template, self.unit_name, self.because, self.within = question, unit_name, because, within
        self.formula = answer if given else None
        self.key, self.given, self._fixed, self._misses = key, given, answer, list(misses)
        self.round = self.tries = 0
        self._draw()

    def _draw(self) -> None:
        """The numbers of this round: every list goes on at its own pace, by which it comes to each of its values."""
        self.numbers = {
            name: values[(self.round * _pace(1 + n, len(values))) % len(values)]
            for n, (name, values) in enumerate(self.given.items())
        }
        shown = {name: _shown(value) for name, value in self.numbers.items()}
        self.question = self.template.format(**shown) if self.given else self.template
        self.answer = self._number(self.formula(**self.numbers) if self.formula else self._fixed)
        misses = [
            (self._number(value(**self.numbers) if callable(value) else value), why)
            for value, why in self._misses
        ]  # with some numbers a wrong way comes to the right answer
        self.misses = [miss for miss in misses if not self._near(miss[0], self.answer, self.within)]

    def again(self) -> None:
        """New numbers, for another go."""
        self.round, self.tries = self.round + 1, 0
        self._draw()

    def solution(self) -> str:
        """The worked solution, as HTML: the formula with its numbers, and why."""
        parts = [f"<p><b>Worked out: {escape(self._text(self.answer))}.</b> {escape(self.because)}</p>"]
        if isinstance(self.formula, Formula | Choice):
            work = Calculation("solution", "Worked solution", self.question)
            work.step(self.formula, **self.numbers)
            parts.append(step_html(work.steps[0], 1))
        return page(*parts)

    @property
    def written_unit(self) -> str:
        """The unit of the answer as it may be typed; empty for a plain number."""
        return "" if self.unit_name == "1" else unit_text(self.unit_name)

    def _number(self, value: Any) -> float:
        return float(value.m_as(unit(self.unit_name)) if hasattr(value, "m_as") else value)

    def check(self, typed: str) -> tuple[bool, str]:
        """Judge a typed answer: ``(right?, sentence)``."""
        try:
            given = read(typed.strip(), self.unit_name).m_as(unit(self.unit_name))
        except UnitError as error:
            return False, f"That cannot be read: {error}."
        if self._near(given, self.answer, self.within):
            return True, f"Right, {self._text(self.answer).removesuffix('.')}. {self.because}"
        for value, why in self.misses:
            if self._near(given, value, self.within):
                return False, f"Not yet. {why}"
        if self._near(given, self.answer, 5 * self.within):
            return False, "Close, but more than rounding apart. Keep more digits on the way."
        side = "large" if given > self.answer else "small"
        return (
            False,
            f"Not yet: {self._text(given)} is too {side}. Go through the steps above once more.",
        )

    def _near(self, value: float, target: float, within: float) -> bool:
        return abs(value - target) <= within * max(abs(target), 1e-12)

    def _text(self, value: float) -> str:
        return show(value * unit(self.unit_name) if self.unit_name != "1" else value, self.unit_name)

    def show(self) -> None:
        """Display the question with a field for the answer; the solution follows after two tries."""
        self.field = widgets.Text(
            description="Your answer",
            placeholder=f"a number and its unit, {self.written_unit}"
            if self.written_unit
            else "a number",
            continuous_update=False,
            style={"description_width": "initial"},
            layout=widgets.Layout(width="22em"),
        )
        self.asked, self.verdict = widgets.HTML(self._asked()), widgets.HTML("")
        self.worked = widgets.HTMLMath("")
        self.field.observe(lambda change: self._answer(change["new"]), names="value")
        answer = widgets.HBox([self.field, self.verdict])
        answer.add_class("cb-ask")
        parts = [self.asked, answer, self.worked]
        if self.given:
            new = widgets.Button(description="New numbers")
            new.on_click(lambda _: self._new())
            answer.children = [self.field, new, self.verdict]
        show_widget(widgets.VBox(parts), self._asked())

    def _asked(self) -> str:
        return page(f"<p>{escape(self.question)}</p>")

    def _new(self) -> None:
        self.again()
        self.asked.value, self.verdict.value, self.worked.value = self._asked(), "", ""
        self.field.value = ""

    def _answer(self, typed: str) -> None:
        if not typed.strip():
            return
        right, sentence = self.check(typed)
        self.tries += not right
        mark, color = ("✓", "#111") if right else ("✗", ACCENT)
        self.verdict.value = (
            f"<span style='color:{color}' role='status'>{mark} {escape(sentence)}</span>"
        )
        if right and self.key and not self.worked.value:
            keep_solved(self.key)
        if self.tries >= TRIES:
            self.worked.value = self.solution()


def _pace(wanted: int, length: int) -> int:
    """The least step from the wanted one on that goes through a whole list."""
    return next(step for step in itertools.count(wanted) if math.gcd(step, length) == 1)


def _shown(value: Any) -> str:
    """A drawn number as it stands in the question."""
    if hasattr(value, "units"):
        return show(value, next(n for n in TRADE_UNITS if unit(n) == value.units))
    return value if isinstance(value, str) else f"{value:g}"
