"""A stiff pad under several posts: which loads act at once, pressure under it, moment and shear at every section.

Plain inches and pounds. The soil presses by a plane under the pad, as under any stiff footing; each post may stand
with its dead load alone while the others are full. Where the pad would lift off the soil nothing is worked out.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.table import table
from calcbook.loads.combinations import combined_load

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    Push = Callable[[NDArray], tuple[NDArray, NDArray]]

_SECTIONS = 801  # looked at along a pad, besides those at the faces of the posts


@dataclass(frozen=True)
class Stands:
    """A post on a pad: place from the middle of its concrete along x and y, sizes, dead, floor and roof load, uplift; or the
    share of a wall, runs: the axis along which it stands all over the pad, and so has no face there."""

    name: str
    at: tuple[float, float]
    size: tuple[float, float]
    loads: tuple[float, float, float]
    W: float = 0.0
    runs: int | None = None


@dataclass(frozen=True)
class Pattern:
    """One combination with some posts full and the others with their dead load alone: its name and each post's load."""

    name: str
    loads: tuple[float, ...]

    @property
    def P(self) -> float:
        """All of it."""
        return sum(self.loads)

    def offset(self, posts: Sequence[Stands], axis: int) -> float:
        """How far the resultant is off the middle of the pad along an axis (0: x, 1: y), with its sign."""
        return self.turned(posts, axis) / self.P if self.P else 0.0

    def turned(self, posts: Sequence[Stands], axis: int) -> float:
        """Moment of all of it about the middle of the pad along an axis (0: x, 1: y), lbf in."""
        return sum(P * p.at[axis] for P, p in zip(self.loads, posts, strict=True))


def patterns(kind: str, posts: Sequence[Stands]) -> list[Pattern]:
    """Every combination of a kind ("allowable" or "strength") without wind, with every choice of posts that are full."""
    rows = [row for row in table("combinations") if row["kind"] == kind and not row["W"]]
    found: dict[tuple[float, ...], Pattern] = {}
    for row, full in itertools.product(rows, itertools.product((True, False), repeat=len(posts))):
        loads = tuple(_load(row, p, on) for p, on in zip(posts, full, strict=True))
        light = [p.name for p, on in zip(posts, full, strict=True) if not on and any(p.loads[1:])]
        words = f", {', '.join(light)} with dead load alone" if light else ""
        found.setdefault(loads, Pattern(f"{row['name']}{words}", loads))
    return list(found.values())


def _load(row: dict[str, Any], post: Stands, full: bool) -> float:
    D, L, S = post.loads if full else (post.loads[0], 0.0, 0.0)
    return float(combined_load.body(D, L, S, row["D"], row["L"], row["S"]))


def in_contact(pattern: Pattern, posts: Sequence[Stands], sides: tuple[float, float]) -> bool:
    """Whether the whole pad presses on the soil: its resultant inside the kern. sides: of the pad along x and y, in."""
    return sum(abs(pattern.offset(posts, n)) / sides[n] for n in (0, 1)) <= 1 / 6 + 1e-12


@dataclass(frozen=True)
class Bent:
    """A pad as a beam along an axis in one pattern: sections (from its middle), shear and moment of the whole width."""

    at: NDArray
    V: NDArray
    M: NDArray


def beam(
    pattern: Pattern, posts: Sequence[Stands], sides: tuple[float, float], axis: int, push: Push | None = None
) -> Bent:  # fmt: skip
    """Shear and moment of a pad along an axis (0: x, 1: y), by statics; bottom in tension counts positive.

    sides: of the pad along x and y, in. The soil's pressure is a plane, each post presses evenly over its own size.
    push: shear and moment of what pushes the pad from below, at places from one end, where it is no plane.
    """
    L = sides[axis]
    faces = [p.at[axis] + s * p.size[axis] / 2 for p in posts for s in (-1, 1)]
    # no np.unique, which loads numpy's masked arrays
    x = np.array(sorted({*np.linspace(-L / 2, L / 2, _SECTIONS).tolist(), *faces}))
    s = x + L / 2
    if push is None:
        w_0 = pattern.P / L
        w_1 = 12 * pattern.turned(posts, axis) / L**3
        V = w_0 * s + w_1 * (x**2 - L**2 / 4) / 2
        M = w_0 * s**2 / 2 + w_1 * ((x**3 + L**3 / 8) / 6 - L**2 * s / 8)
    else:
        V, M = push(s)
    for P, post in zip(pattern.loads, posts, strict=True):
        c = post.size[axis]
        near = x - (post.at[axis] - c / 2)
        u = np.clip(near, 0, c)
        V = V - P * u / c
        M = M - P * (u**2 / (2 * c) + np.maximum(near - c, 0))
    return Bent(x, V, M)


def beside(bent: Bent, posts: Sequence[Stands], axis: int, off: float) -> NDArray:
    """Which sections are at least so far off the face of every post: 0 for bending, the counted thickness for shear."""
    clear = np.ones(bent.at.shape, bool)
    for p in (p for p in posts if p.runs != axis):
        clear &= np.abs(bent.at - p.at[axis]) >= p.size[axis] / 2 + off - 1e-9
    return clear


def greatest_moment(
    found: Sequence[Pattern], posts: Sequence[Stands], sides: tuple[float, float], axis: int
) -> tuple[float, float, Pattern]:
    """(moment of the whole width, where, in which pattern) that is greatest at or beyond the faces of the posts.

    sides: of the pad along x and y, in.
    """
    best = (0.0, 0.0, found[0])
    for pattern in found:
        M, x = moment_of(beam(pattern, posts, sides, axis), posts, axis)
        best = max(best, (M, x, pattern), key=lambda b: abs(b[0]))
    return best


def moment_of(bent: Bent, posts: Sequence[Stands], axis: int) -> tuple[float, float]:
    """(moment of the whole width, where) that is greatest at or beyond the faces of the posts."""
    M = np.where(beside(bent, posts, axis, 0.0), bent.M, 0.0)
    k = int(np.argmax(np.abs(M)))
    return float(M[k]), float(bent.at[k])


def greatest_shear(
    found: Sequence[Pattern], posts: Sequence[Stands], sides: tuple[float, float], axis: int, h: float
) -> tuple[float, float, Pattern]:
    """The same of the shear at the counted thickness h from the faces, and beyond. sides: as above, h: in."""
    best = (0.0, 0.0, found[0])
    for pattern in found:
        V, x = shear_of(beam(pattern, posts, sides, axis), posts, sides, axis, h)
        best = max(best, (V, x, pattern), key=lambda b: abs(b[0]))
    return best


def shear_of(
    bent: Bent, posts: Sequence[Stands], sides: tuple[float, float], axis: int, h: float
) -> tuple[float, float]:
    """(shear of the whole width, where) that is greatest at h from the faces of the posts, or beyond. sides, h: in."""
    V = np.where(beside(bent, posts, axis, h), bent.V, 0.0)
    faces = [p.at[axis] + s * (p.size[axis] / 2 + h) for p in posts if p.runs != axis for s in (-1, 1)]
    inside = [x for x in faces if abs(x) < sides[axis] / 2]
    at = np.concatenate([bent.at, inside])
    V = np.concatenate([V, np.interp(inside, bent.at, bent.V)])
    k = int(np.argmax(np.abs(V)))
    return float(V[k]), float(at[k])


def cell(
    post: Stands, posts: Sequence[Stands], sides: tuple[float, float]
) -> list[tuple[float, float]]:
    """What of a pad is nearest to a post: (from, to) along x and along y, halfway to the posts beside it. sides: in."""
    ends = [[-side / 2, side / 2] for side in sides]
    for other in posts:
        if other is post:
            continue
        far = [other.at[n] - post.at[n] for n in (0, 1)]
        n = int(abs(far[1]) > abs(far[0]))
        middle = (other.at[n] + post.at[n]) / 2
        if far[n] > 0:
            ends[n][1] = min(ends[n][1], middle)
        else:
            ends[n][0] = max(ends[n][0], middle)
    return [(a, b) for a, b in ends]


def spread_apart(posts: Sequence[Stands], axis: int) -> bool:
    """Whether the posts stand apart along an axis, so that each bends the pad across it in a strip of its own."""
    places = [p.at[axis] for p in posts]
    return max(places) - min(places) > max(p.size[axis] for p in posts)
