"""Cutting pieces from what is sold in one length; long runs of sheet from rolls: fewest rolls, then fewest end laps, then
the longest rest.

A run that is longer than what is left of a roll may go on from the next one with an end lap, so
offcuts are used up. While the runs are few, every order of laying them and every choice of dividing
or not is weighed (states that another one beats in all respects are dropped). For many runs the
longest come first; the lower bound then tells how far that is from the best.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

SEARCHED = 8  # runs up to which every order is weighed
_EPS = 1e-9


class Piece(NamedTuple):
    """A piece of a run: which run, which roll (both from 0) and its length in feet."""

    run: int
    roll: int
    length: float


class _State(NamedTuple):
    rolls: int
    laps: int
    used: float  # of the last roll


def whole_from(lengths: Iterable[float], stock: float) -> int:
    """How many of one length the pieces are cut from, the longest first, each from the shortest cut-off that it fits into.

    lengths: none longer than stock; both in feet.
    """
    left: list[float] = []
    count = 0
    for need in sorted(lengths, reverse=True):
        fits = [v for v in left if v >= need - _EPS]
        if fits:
            left.remove(min(fits))
            left.append(min(fits) - need)
        else:
            count += 1
            left.append(stock - need)
    return count


@dataclass(frozen=True)
class Cutting:
    """How runs are cut from rolls.

    pieces: in the order they are cut; rolls: how many; end_laps: joints within runs; fewest: no way
    needs fewer rolls than this; rest: the longest offcut, in feet; searched: True where every order was
    weighed.
    """

    pieces: tuple[Piece, ...]
    rolls: int
    end_laps: int
    fewest: int
    rest: float
    searched: bool

    @property
    def proved(self) -> bool:
        """True where it is certain that no way needs fewer rolls."""
        return self.searched or self.rolls == self.fewest


@functools.lru_cache(maxsize=512)
def cut_rolls(runs: tuple[float, ...], roll: float, lap: float, least: float) -> Cutting:
    """Cut runs from rolls of one length.

    runs: tuple of lengths in feet; roll: length of a roll; lap: what an end lap takes; least: no
    piece of a divided run is shorter. All plain feet. Returns a Cutting. Raises ValueError where
    a roll is too short for that.
    """
    if roll < 2 * least or least <= lap:
        raise ValueError(
            f"a roll of {roll:g} ft is too short for pieces of at least {least:g} ft with laps of {lap:g} ft"
        )
    forced = [max(0, math.ceil((run - lap) / (roll - lap) - _EPS) - 1) for run in runs]
    fewest = math.ceil((sum(runs) + lap * sum(forced)) / roll - _EPS)
    searched = len(runs) <= SEARCHED
    state, pieces = (_search if searched else _long_first)(runs, roll, lap, least)
    used = [0.0] * state.rolls
    for piece in pieces:
        used[piece.roll] += piece.length
    rest = max((roll - u for u in used), default=0.0)
    return Cutting(tuple(pieces), state.rolls, state.laps, fewest, rest, searched)


def _ways(
    state: _State, length: float, roll: float, lap: float, least: float
) -> list[tuple[_State, list[tuple[int, float]]]]:
    """The ways to lay one run behind the others: pairs of (state, [(roll, length), ...])."""
    left = roll - state.used if state.rolls else 0.0
    if length <= left + _EPS:
        return [(state._replace(used=state.used + length), [(state.rolls - 1, length)])]
    found = [_from_fresh(state, length, roll, lap, least)]
    first = min(left, length + lap - least)
    if first >= least - _EPS:
        after, pieces = _from_fresh(state, length + lap - first, roll, lap, least)
        found.append((after._replace(laps=after.laps + 1), [(state.rolls - 1, first), *pieces]))
    return found


def _from_fresh(
    state: _State, length: float, roll: float, lap: float, least: float
) -> tuple[_State, list[tuple[int, float]]]:
    """Lay a run from a new roll on, over as many rolls as it takes."""
    rolls, laps, pieces = state.rolls, state.laps, []
    while length > roll + _EPS:
        first = min(roll, length + lap - least)
        pieces.append((rolls, first))
        length += lap - first
        rolls, laps = rolls + 1, laps + 1
    return _State(rolls + 1, laps, length), [*pieces, (rolls, length)]


def _search(
    runs: Sequence[float], roll: float, lap: float, least: float
) -> tuple[_State, tuple[Piece, ...]]:
    """The best of all orders, by subsets of runs laid so far."""
    fronts: dict[int, list[tuple[_State, tuple[Piece, ...]]]] = {0: [(_State(0, 0, 0.0), ())]}
    everything = (1 << len(runs)) - 1
    for mask in range(everything):
        for state, trail in fronts.pop(mask, ()):
            for run in _next_runs(runs, mask):
                for after, pieces in _ways(state, runs[run], roll, lap, least):
                    step = (*trail, *(Piece(run, number, length) for number, length in pieces))
                    _keep(fronts.setdefault(mask | 1 << run, []), after, step)
    return min(fronts[everything], key=lambda pair: pair[0])


def _next_runs(runs: Sequence[float], mask: int) -> Iterable[int]:
    """Runs not yet laid; of equal ones only the first."""
    found: dict[float, int] = {}
    for run, length in enumerate(runs):
        if not mask >> run & 1:
            found.setdefault(round(length, 6), run)
    return found.values()


def _keep(
    front: list[tuple[_State, tuple[Piece, ...]]], state: _State, trail: tuple[Piece, ...]
) -> None:
    """Enter a state unless another beats it in rolls, laps and use; drop those that it beats."""

    if any(_beats(other, state) for other, _ in front):
        return
    front[:] = [(other, way) for other, way in front if not _beats(state, other)]
    front.append((state, trail))


def _beats(a: _State, b: _State) -> bool:
    fuller = a.rolls < b.rolls or (a.rolls == b.rolls and a.used <= b.used + _EPS)
    return fuller and a.laps <= b.laps


def _long_first(
    runs: Sequence[float], roll: float, lap: float, least: float
) -> tuple[_State, Sequence[Piece]]:
    """Longest runs first: whole into the roll that they fill best, and divided one after another;
    the better of the two."""
    order = sorted(range(len(runs)), key=lambda run: -runs[run])
    state, pieces = _State(0, 0, 0.0), []
    for run in order:
        state, laid = _ways(state, runs[run], roll, lap, least)[-1]
        pieces += [Piece(run, number, length) for number, length in laid]
    return min([(state, pieces), _whole(runs, order, roll, lap, least)], key=lambda pair: pair[0])


def _whole(
    runs: Sequence[float], order: Iterable[int], roll: float, lap: float, least: float
) -> tuple[_State, list[Piece]]:
    left: list[float] = []
    pieces, laps = [], 0
    for run in order:
        fits = [number for number, room in enumerate(left) if runs[run] <= room + _EPS]
        if fits:
            number = min(fits, key=left.__getitem__)
            left[number] -= runs[run]
            pieces.append(Piece(run, number, runs[run]))
            continue
        after, laid = _from_fresh(_State(len(left), laps, 0.0), runs[run], roll, lap, least)
        pieces += [Piece(run, number, length) for number, length in laid]
        laps = after.laps
        left += [roll - length for _, length in laid]
    return _State(len(left), laps, roll - max(left)), pieces
