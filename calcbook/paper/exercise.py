"""Exercises for the apprentice: a question, a typed answer, and what went wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Any

import ipywidgets as widgets

from calcbook.basis.reading import read
from calcbook.basis.showing import show, unit_text
from calcbook.basis.units import UnitError, unit
from calcbook.paper.panels import show_widget
from calcbook.paper.screen import page


class Exercise:
    """A question with a number for an answer.

    question: text; answer: a quantity (or a plain number with unit ``"1"``), computed by a
    formula of the book; unit_name: trade unit of the answer; because: one sentence said with the
    right answer; misses: pairs (wrong value, what that mistake was); within: relative tolerance.
    """

    def __init__(
        self,
        question: str,
        answer: Any,
        unit_name: str,
        because: str,
        misses: Iterable[tuple[Any, str]] = (),
        within: float = 0.01,
    ) -> None:
        self.question, self.unit_name, self.because, self.within = question, unit_name, because, within
        self.answer = self._number(answer)
        self.misses = [(self._number(value), why) for value, why in misses]

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
        """Display the question with a field for the answer."""
        field = widgets.Text(
            description="Your answer",
            placeholder=f"a number and its unit, {self.written_unit}"
            if self.written_unit
            else "a number",
            continuous_update=False,
            style={"description_width": "initial"},
            layout=widgets.Layout(width="22em"),
        )
        verdict = widgets.HTML("")
        field.observe(lambda change: self._answer(change["new"], verdict), names="value")
        self.field, self.verdict = field, verdict
        question = page(f"<p>{escape(self.question)}</p>")
        answer = widgets.HBox([field, verdict])
        answer.add_class("cb-ask")
        show_widget(widgets.VBox([widgets.HTML(question), answer]), question)

    def _answer(self, typed: str, verdict: widgets.HTML) -> None:
        if not typed.strip():
            verdict.value = ""
            return
        right, sentence = self.check(typed)
        mark, color = ("✓", "#111") if right else ("✗", "#8a3b12")
        verdict.value = f"<span style='color:{color}' role='status'>{mark} {escape(sentence)}</span>"
