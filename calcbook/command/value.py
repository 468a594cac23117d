"""One formula on its own: read its inputs from text, evaluate it, show steps, result and source."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from calcbook.basis import by_hand
from calcbook.basis.arguments import quantity
from calcbook.basis.formula import Choice, Formula, FormulaError
from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import magnitude, show

if TYPE_CHECKING:
    from calcbook.basis.formula import Argument, Entry, Procedure


@dataclass
class Answer:
    """The value of one formula, with everything that explains it."""

    name: str
    title: str
    source: str
    value: object
    unit: str
    digits: int = 3
    inputs: dict[str, Any] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)
    flags: list[str] = field(default_factory=list)

    def result(self) -> str:
        """The value as text, with its unit."""
        if not self.unit:
            return str(self.value)
        return show(self.value, self.unit, digits=self.digits)

    def data(self) -> dict[str, Any]:
        """As plain data for ``--json``: the full number and its unit."""
        return {
            "name": self.name, "title": self.title, "source": self.source,
            "inputs": self.inputs, "value": self._number(), "unit": self.unit,
            "steps": self.lines, "flags": self.flags, "note": DEFERRAL,
        }  # fmt: skip

    def _number(self) -> float | str:
        return magnitude(self.value, self.unit) if self.unit else str(self.value)

    def text(self) -> str:
        """For the terminal: title, inputs, steps, result, flags and source."""
        given = [f"  {name} = {value}" for name, value in self.inputs.items()]
        flagged = [f"  outside its range: {f}" for f in self.flags]
        steps = [f"  {line}" for line in self.lines]
        return "\n".join([
            self.title, *given, *steps, f"{self.name} = {self.result()}", *flagged, f"source: {self.source}", DEFERRAL,
        ])  # fmt: skip


def evaluate(entry: Entry, inputs: dict[str, str]) -> Answer:
    """Evaluate an entry of the registry on text inputs. Raises FormulaError in one sentence."""
    if isinstance(entry, Choice):
        entry = entry.pick(inputs)
    if isinstance(entry, Formula):
        return _formula(entry, inputs)
    return _procedure(entry, inputs)


def _formula(entry: Formula, inputs: dict[str, str]) -> Answer:
    for name in inputs:
        if name not in entry.arguments:
            known = ", ".join(entry.arguments)
            raise FormulaError(f"{entry.name} has no argument {name!r}; it takes {known}")
    bound = entry.bind(
        **{name: _number_or_text(text, entry.arguments.get(name)) for name, text in inputs.items()}
    )
    lines = [by_hand.plain_line(entry, line) for line in entry.lines(bound)]
    return Answer(
        entry.name, entry.title, str(entry.source), entry.evaluate(bound), entry.returns.unit,
        entry.returns.digits, {n: _input_text(entry, n, v) for n, v in bound.items()}, lines, entry.flags(**bound),
    )  # fmt: skip


def _number_or_text(text: str, spec: Argument | None) -> float | str:
    """Plain numbers are read as such where the unit allows it; all else stays text."""
    if spec is not None and spec.unit == "1" and spec.choices is None:
        try:
            return float(text)
        except ValueError:
            return text
    return text


def _input_text(entry: Formula, name: str, value: Any) -> str:
    spec = entry.arguments[name]
    return value if isinstance(value, str) else show(value, spec.unit, digits=4)


def _procedure(entry: Procedure, inputs: dict[str, str]) -> Answer:
    try:
        entry.signature.bind(**inputs)
    except TypeError as error:
        takes = ", ".join(entry.signature.parameters)
        raise FormulaError(f"{entry.name}: {error}; it takes {takes}") from None
    readable = {*entry.arguments, "job"}
    if not readable >= set(inputs):
        unreadable = ", ".join(n for n in inputs if n not in readable)
        raise FormulaError(
            f"{entry.name} takes drawn shapes or lists ({unreadable}), which cannot be typed here; "
            "see the notebooks, or calcbook print FILE"
        )
    value = entry(**{name: _read(entry, name, text) for name, text in inputs.items()})
    unit_name = entry.returns.unit if entry.returns else ""
    return Answer(
        entry.name, entry.title, str(entry.source), value, unit_name, 3, dict(inputs), [entry.words]
    )


def _read(entry: Procedure, name: str, text: str) -> Any:
    if name == "job":
        from calcbook.job.file import Job

        return Job.read(text)
    spec = entry.arguments[name]
    return quantity(entry.name, name, _number_or_text(text, spec), spec)
