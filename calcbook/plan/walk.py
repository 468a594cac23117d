"""An outline told by walking round the slab: "right 24 ft, up 30 ft, left 24 ft, down 30 ft"."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Sequence

from calcbook.basis.reading import read
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, UnitError

Corner = tuple[float, float]  # x to the right and y up, in feet
Leg = tuple[float, float]  # how far right and how far up, in feet

_WAYS = {"right": (1, 0), "left": (-1, 0), "up": (0, 1), "down": (0, -1)}
_ALSO = {
    "r": "right", "l": "left", "u": "up", "d": "down", "east": "right", "west": "left", "north": "up",
    "south": "down", "e": "right", "w": "left", "n": "up", "s": "down",
}  # fmt: skip
_WORD = re.compile(
    rf"(?<![A-Za-z])({'|'.join(sorted((*_WAYS, *_ALSO), key=len, reverse=True))})(?![A-Za-z])", re.I
)
# a comma between digits is a decimal comma
_BETWEEN_LEGS = re.compile(r"[;\n]|,(?![0-9])|\bthen\b", re.I)
_CLOSED = 1 / 384  # ft, half of 1/16 in.


class WalkError(ValueError):
    """A walk that cannot be followed; the message says which leg."""


def read_walk(text: str, system: str = "us") -> list[Leg]:
    """The legs of a walk. Raises WalkError.

    text: ways and lengths, the way first or last: ``right 24 ft`` or ``24 ft right``; ``right 4 ft and
    up 3 ft`` is one slanting leg; a bare number is in feet, or in meters where ``system`` is "si".
    """
    return [
        leg for part in _BETWEEN_LEGS.split(text) if part.strip() for leg in _legs(part.strip(), system)
    ]


def _legs(part: str, system: str) -> list[Leg]:
    pieces = re.split(r"\band\b", part, flags=re.I)
    found = [leg for piece in pieces for leg in _straight(piece.strip(), system)]
    if len(pieces) == 1:
        return found
    return [(math.fsum(x for x, _ in found), math.fsum(y for _, y in found))]


def _straight(piece: str, system: str) -> list[Leg]:
    """Legs that stand in a row without a comma between them."""
    words = list(_WORD.finditer(piece))
    if not words:
        raise WalkError(f"{piece[:40]!r} names no way; say right, left, up or down and how far")
    first = not piece[: words[0].start()].strip()  # the way stands before its length
    cuts = [w.end() for w in words] if first else [0, *(w.end() for w in words)]
    ends = [*(w.start() for w in words[1:]), len(piece)] if first else [w.start() for w in words]
    if not first and piece[words[-1].end() :].strip():
        raise WalkError(f"{piece[:40]!r}: write each leg alike, such as right 24 ft")
    found = []
    for word, begin, end in zip(words, cuts, ends, strict=False):
        name = word[1].lower()
        x, y = _WAYS[_ALSO.get(name, name)]
        feet = _feet(piece[begin:end].strip(" ,"), word[1], system)
        found.append((x * feet, y * feet))
    return found


def _feet(text: str, way: str, system: str) -> float:
    try:
        return read_length(text, system)
    except WalkError as error:
        raise WalkError(f"{way}: {error}") from None


def read_length(text: str, system: str = "us") -> float:
    """A length in feet from a text; a bare number is in feet, or in meters in "si". Raises WalkError."""
    if re.fullmatch(r"[0-9.,]+", text):
        text = f"{text} {'m' if system == 'si' else 'ft'}"
    try:
        found = float(read(text, "ft").m_as("foot"))
    except UnitError as error:
        raise WalkError(str(error)) from None
    if found <= 0:
        raise WalkError(f"{text[:40]!r} is no length to go; it must be more than 0")
    return found


def corners(legs: Iterable[Leg]) -> list[Corner]:
    """The corner points of a walk from (0, 0), without coming back to the start."""
    xs, ys = (list(itertools.accumulate(column, initial=0.0)) for column in zip(*legs, strict=True))
    found = [(round(x, 6), round(y, 6)) for x, y in zip(xs, ys, strict=True)]
    return found[:-1] if math.dist(found[-1], found[0]) <= _CLOSED else found


def gap(legs: Iterable[Leg]) -> Leg:
    """How far right and up, in feet, the end of a walk lies from its start: its closing error."""
    legs = list(legs)
    x, y = (math.fsum(column) for column in zip(*legs, strict=True)) if legs else (0.0, 0.0)
    return (x, y) if math.hypot(x, y) > _CLOSED else (0.0, 0.0)


def leg_text(leg: Leg, system: str = "us") -> str:
    """A leg in words that can be typed again: ``right 24'-0"``."""
    ways = (("right", "left", leg[0]), ("up", "down", leg[1]))
    parts = [
        f"{ahead if value > 0 else back} {show_length(Q(abs(value), 'ft'), system)}"
        for ahead, back, value in ways
        if abs(value) > _CLOSED
    ]
    return " and ".join(parts)


def sides(points: Sequence[Corner], system: str = "us") -> list[str]:
    """Every side of an outline in words, in order: its way and its length."""
    found = []
    for (x, y), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True):
        leg = (x2 - x, y2 - y)
        slant = all(abs(v) > _CLOSED for v in leg)
        length = f", {show_length(Q(math.hypot(*leg), 'ft'), system)} long" if slant else ""
        found.append(leg_text(leg, system) + length)
    return found


def rectangle_walk(length: float, width: float) -> list[Leg]:
    """The legs round a rectangle, in feet: length to the right, width up."""
    return [(length, 0.0), (0.0, width), (-length, 0.0), (0.0, -width)]


def l_walk(length: float, width: float, notch_length: float, notch_width: float) -> list[Leg]:
    """The legs round an L: a rectangle with a notch at its far right corner.

    length, width: of the whole; notch_length, notch_width: of what is left out; all in feet. Raises WalkError where the notch takes the whole of a side.
    """
    if notch_length >= length or notch_width >= width:
        raise WalkError("the notch is as large as the slab; give its length and width smaller")
    return [
        (length, 0.0), (0.0, width - notch_width), (-notch_length, 0.0), (0.0, notch_width),
        (notch_length - length, 0.0), (0.0, -width),
    ]  # fmt: skip
