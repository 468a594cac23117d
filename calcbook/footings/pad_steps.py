"""The steps of every pad: in full for one, as columns of numbers for the others.

Pads with the same sizes and loads share one set of steps. Each row of the table is a step of the
pad shown in full, whose formula stands there; its numbers are the other pads'.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q
from calcbook.footings.pads import check_pad, plain_inputs, shown_in, unshown

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Quantity
    from calcbook.footings.pads import Demand
    from calcbook.job.file import Job

_COLUMNS = 4  # that fit on paper


@dataclass(frozen=True)
class Group:
    """Pads alike: their places in the job, what ``check_pad`` was asked, its checks and its steps.

    steps: (formula, words, number of the coherent set) in order.
    """

    pads: tuple[int, ...]
    inputs: dict[str, Any]
    checks: list[Demand]
    steps: list[tuple[Formula, str, float]]

    @property
    def worst(self) -> float:
        """The greatest ratio of its checks."""
        return max(float(check.ratio) for check in self.checks)


def group_checks(loaded: dict[int, dict[str, Quantity | None]]) -> list[Group]:
    """Check every pad once, pads alike together. loaded: inputs of ``check_pad`` by place in the job.

    Returns a list of Group.
    """
    alike: dict[tuple[Any, ...], list[int]] = {}
    for index, inputs in loaded.items():
        alike.setdefault(tuple(plain_inputs(inputs).items()), []).append(index)
    return [_group(tuple(pads), dict(key), loaded[pads[0]]) for key, pads in alike.items()]


def _group(pads: tuple[int, ...], numbers: dict[str, Any], inputs: dict[str, Any]) -> Group:
    steps = []

    def run(formula: Formula, words: str, **given: float) -> Any:
        value = unshown(formula, words, **given)
        steps.append((formula, words, float(value)))
        return value

    return Group(pads, inputs, check_pad(run, **numbers), steps)


def names_of(job: Job, group: Group) -> str:
    """The names of a group's pads: ``P1, P2 and P3``."""
    pads = job.pads
    *first, last = (pads[index].name for index in group.pads)
    return f"{', '.join(first)} and {last}" if first else last


def checks_in_full(calc: Calculation, group: Group) -> None:
    """Enter all steps of a group's pads into a calculation."""
    check_pad(shown_in(calc), **plain_inputs(group.inputs))


def steps_tables(
    calc: Calculation, job: Job, shown: Group, others: Sequence[Group]
) -> Iterator[tuple[str, list[dict[str, int | str]]]]:
    """(title, rows) for the pads not shown in full, a few columns each.

    calc: a Calculation whose last steps are those of ``shown``.
    """
    whole = len(calc.steps) - len(shown.steps) + 1
    numbers = {formula.name: whole + i for i, (formula, _, _) in enumerate(shown.steps)}
    for start in range(0, len(others), _COLUMNS):
        some = others[start : start + _COLUMNS]
        heads, columns = [names_of(job, g) for g in some], [_column(g, job) for g in some]
        rows = [
            {"step": numbers.get(name, ""), "": words}
            | {head: c.get((name, words), "") for head, c in zip(heads, columns, strict=True)}
            for name, words in dict.fromkeys(key for column in columns for key in column)
        ]
        yield "The same steps for the other pads", rows


def _column(group: Group, job: Job) -> dict[tuple[str, str], str]:
    """Text of every number of a group, by (name of the formula, words)."""
    given, system = group.inputs, job.system
    size = " × ".join(show_length(given[name], system, True) for name in ("L", "B", "d"))
    found = {
        ("size", "Length × width × depth"): size,
        ("P_a", "Unfactored load"): show(given["P_a"], "lbf", system),
        ("P_u", "Factored load"): show(given["P_u"], "lbf", system),
    }
    for formula, _words, number in group.steps:
        name = formula.returns.unit
        value = Q(from_coherent(number, name), name)
        found[formula.name, formula.title] = show(value, name, system, formula.returns.digits)
    return found


def enter_posts(calc: Calculation, job: Job) -> None:
    """Enter the sizes of the posts; those that are assumed are alike and stand once."""
    seen = set()
    places = [
        (f"pads.{index}" if post is pad else f"pads.{index}.posts.{n - 1}", post)
        for index, pad in enumerate(job.pads)
        for n, post in enumerate(pad.standing)
    ]
    for place, post in places:
        for key, symbol, axis in (("post_length", "c_1", "x"), ("post_width", "c_2", "y")):
            assumed = job.field(f"{place}.{key}").assumed
            if assumed and key in seen:
                continue
            who = "post" if assumed else post.name
            calc.given(job, f"{place}.{key}", symbol, f"{who}, size along {axis}")
            seen |= {key} if assumed else set()
