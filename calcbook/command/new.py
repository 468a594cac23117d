"""``calcbook new``: a job file by questions in the terminal, or a commented one to fill in."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show, show_length
from calcbook.basis.sources import TABLES
from calcbook.command.asking import ask, ask_yes, need_terminal, say
from calcbook.command.outputs import inputs_of, picture_mark, write_out
from calcbook.job.file import Job
from calcbook.job.files import JobError, write_whole
from calcbook.job.own import own_path, read_own
from calcbook.job.questions import OUTLINE, QUESTIONS, Question, edge_depth
from calcbook.job.starting import corners_text, job_text, outline_fields, raw_of
from calcbook.plan.text_plan import text_plan
from calcbook.plan.walk import (
    Leg,
    WalkError,
    corners,
    gap,
    l_walk,
    leg_text,
    read_length,
    read_walk,
    rectangle_walk,
    sides,
)

if TYPE_CHECKING:
    from argparse import Namespace

    from calcbook.job.own import Own

_SHAPES = {"1": "rectangle", "2": "l", "3": "walk", "rectangle": "rectangle", "r": "rectangle", "l": "l",
           "l-shape": "l", "walk": "walk", "w": "walk"}  # fmt: skip


def run_new(arguments: Namespace) -> int:
    """Write a job file that is not there yet. Returns the exit status."""
    path = Path(arguments.file)
    if path.exists():
        raise JobError(f"{path} is already there; choose another name or remove it first")
    if arguments.blank:
        write_whole(path, TABLES.joinpath("starter.toml").read_text("utf-8"))
        print(f"{path} is written. Fill it in, then: calcbook check {path}")
        return 0
    need_terminal(f"calcbook new {path} --blank writes a commented file to fill in")
    own = read_own(own_path()) if own_path().is_file() else None
    job = Job(_asked(own), path)
    write_whole(path, job_text(job.raw))
    if arguments.picture:
        _draw(job, Path(arguments.picture))
    _next_steps(path, own)
    return 0


def _next_steps(path: Path, own: Own | None) -> None:
    print(f"\n{path} is written.")
    if own:
        print(f"What it leaves out is taken from {own.path}, your own file.")
    else:
        print(f"Prices, kept once for all jobs:  calcbook prices {path} --ask")
    print(
        f"Checks:  calcbook check {path}\nPrice:   calcbook quote {path} --client {path.stem}-quote.pdf"
    )


def _asked(own: Own | None) -> dict[str, Any]:
    """The data of a job file, by questions."""
    say(
        'Enter takes what stands in brackets; "?" tells why it is asked; Ctrl-C stops and writes nothing.'
    )
    answers: dict[str, Any] = {}
    for question in QUESTIONS:
        system = answers.get("job.units") or (own and own.values.get("job", {}).get("units")) or "us"
        if question.place == OUTLINE:
            answers |= _outline(question, system)
        else:
            answers[question.place] = _answer(question, system, answers, own)
    return raw_of(answers, own is not None)


def _answer(question: Question, system: str, answers: dict[str, Any], own: Own | None) -> Any:
    """The answer to one question; None where the field stays open or follows the own file."""
    section, _, key = question.place.partition(".")
    kept = own.values.get(section, {}).get(key) if own else None
    usual = edge_depth(answers, system) if question.place == "edge.depth" else question.usual(system)
    why = f"{question.why} Your own file says {_as_answer(kept)}." if kept is not None else question.why
    default = _as_answer(kept) if kept is not None else usual

    def read(answer: str) -> Any:
        if kept is not None and answer == default:
            return None
        value = question.read(answer, system) if answer or not question.open else None
        if isinstance(value, str):
            told = question.meta["told"](value) if "told" in question.meta else ""
            if told or value != answer:
                say(told or f"read as {value}")
        return value

    return ask(question.words, default, why, read)


def _as_answer(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


# --- the outline -----------------------------------------------------------------------------------


def _outline(question: Question, system: str) -> dict[str, Any]:
    """The fields of the slab's outline, shown and agreed to."""
    while True:
        shape = ask(question.words, question.us, question.why, _shape)
        try:
            legs = {"rectangle": _rectangle, "l": _l_shape, "walk": _walk}[shape](system)
            points = corners(legs)
            _show(points, system)
        except (WalkError, JobError) as error:
            say(str(error))
            continue
        if ask_yes("Is that the slab?", True, "No asks for the outline once more."):
            return outline_fields(points, shape, system)


def _shape(answer: str) -> str:
    try:
        return _SHAPES[answer.lower()]
    except KeyError:
        raise ValueError("answer rectangle, L or walk") from None


def _length(words: str, default: str, system: str) -> float:
    """A length asked for, in feet."""
    why = "A length such as 24 ft 6 1/2 in or 7.48 m; a bare number is in feet, or in meters in a metric job."
    return ask(words, default, why, functools.partial(read_length, system=system))


def _rectangle(system: str) -> list[Leg]:
    usual = ("24 ft", "30 ft") if system == "us" else ("7.2 m", "9 m")
    length = _length("  Length, to the right", usual[0], system)
    return rectangle_walk(length, _length("  Width, up the page", usual[1], system))


def _l_shape(system: str) -> list[Leg]:
    usual = (
        ("40 ft", "28 ft", "12 ft", "10 ft") if system == "us" else ("12 m", "8.4 m", "3.6 m", "3 m")
    )
    words = ("  Whole length, to the right", "  Whole width, up the page",
             "  Notch at the far right corner: its length", "  and its width")  # fmt: skip
    return l_walk(*(_length(w, d, system) for w, d in zip(words, usual, strict=True)))


def _walk(system: str) -> list[Leg]:
    """Legs until the walk is closed."""
    say("From one corner, such as: right 24 ft, up 30 ft, left 24 ft. Also: undo, start over, close.")
    legs: list[Leg] = []
    why = "Each leg is a way (right, left, up, down) and a length. A slanting side: right 4 ft and up 3 ft."
    while True:
        legs = ask(f"  side {len(legs) + 1}", "", why, functools.partial(_walked, legs, system))
        left = gap(legs)
        if legs and left == (0.0, 0.0):
            return legs
        if legs:
            say(
                f"You are {leg_text(left, system)} of the start; back goes {leg_text((-left[0], -left[1]), system)}."
            )


def _walked(legs: list[Leg], system: str, answer: str) -> list[Leg]:
    """The legs after one more answer."""
    word = answer.lower()
    if word in ("undo", "start over"):
        return legs[:-1] if word == "undo" else []
    if word in ("", "close", "done"):
        return _closed(legs, system)
    return [*legs, *read_walk(answer, system)]


def _closed(legs: list[Leg], system: str) -> list[Leg]:
    """The legs with a last straight one back to the start; refused where that would slant."""
    left = gap(legs)
    if len(legs) < 2:
        raise WalkError("the walk has not gone round anything yet; give its sides")
    if left[0] and left[1]:
        back = leg_text((-left[0], -left[1]), system)
        raise WalkError(
            f"it does not close: the start lies {back} from here. Give the sides that are missing, mend one by undo, or "
            f"type {back} for a slanting last side"
        )
    return [*legs, (-left[0], -left[1])]


def _show(points: list[tuple[float, float]], system: str) -> None:
    """Area, perimeter, sides and drawing of an outline. Raises JobError where it cannot be built."""
    plan = Job({"slab": {"points": corners_text(points, system)}, "job": {"units": system}}).plan
    print(
        f"\n   Area {show(plan.area, 'ft2', system)}, perimeter {show_length(plan.perimeter, system)}"
    )
    for number, side in enumerate(sides(points, system), 1):
        print(f"   side {number}: {side}")
    print("\n" + "\n".join(f"   {line}" for line in text_plan(points).splitlines()) + "\n")


def _draw(job: Job, path: Path) -> None:
    """The plan as a picture file, PNG or SVG."""
    import io

    from calcbook.plan.slab_drawing import plan_drawing

    kind = path.suffix.lower().removeprefix(".")
    if kind not in ("png", "svg"):
        raise JobError(f"{path}: a picture is written as PNG or SVG; end its name in .png or .svg")
    data = io.BytesIO()
    plan_drawing(job.plan, job.system).savefig(data, format=kind, dpi=144, metadata=picture_mark(kind))
    write_out(path, data.getvalue(), inputs_of(job))
    print(f"Plan: {path.resolve()}")
