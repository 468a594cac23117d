"""Where the bolts of a wall go: the fewest that satisfy every rule, on places a tape can read.

Each piece of plate is solved exactly: the places that a first, second, third bolt can reach are kept
as unions of intervals, so a layout is found if one exists.
"""

from __future__ import annotations

import contextlib
import functools
from typing import TYPE_CHECKING

from calcbook.plan.tape import Block, Bolt, Layout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.plan.tape import Rules

# --- unions of intervals -------------------------------------------------------------------


def _free(low: int, high: int, blocks: Sequence[Block], room: int = 0) -> list[tuple[int, int]]:
    """Closed intervals of [low, high] that no block covers, with room beside it; blocks sorted by their start."""
    found = []
    for block in blocks:
        start, end = block.low - room, block.high + room
        if end <= low:
            continue
        if start >= high:
            break
        if start >= low:
            found.append((low, start))
        low = max(low, end)
    if low <= high:
        found.append((low, high))
    return found


def _meet(first: Sequence[tuple[int, int]], second: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Intersection of two sorted unions of closed intervals."""
    found, i, j = [], 0, 0
    while i < len(first) and j < len(second):
        low, high = max(first[i][0], second[j][0]), min(first[i][1], second[j][1])
        if low <= high:
            found.append((low, high))
        if first[i][1] < second[j][1]:
            i += 1
        else:
            j += 1
    return found


def _holds(union: Sequence[tuple[int, int]], place: int) -> bool:
    return any(low <= place <= high for low, high in union)


def _spread(union: Sequence[tuple[int, int]], least: int, most: int) -> list[tuple[int, int]]:
    """Every place that lies least to most beyond a place of the union, merged."""
    found: list[tuple[int, int]] = []
    for low, high in union:
        low, high = low + least, high + most
        if found and low <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _nearest(union: Sequence[tuple[int, int]], target: int, rules: Rules) -> int:
    """The place of a union nearest to a target; round figures of the tape win within half of one."""
    round_to = rules.round_to
    best = min((abs(min(max(target, a), b) - target), min(max(target, a), b)) for a, b in union)[1]
    figure = round((best + rules.origin) / round_to) * round_to - rules.origin
    for step in (figure, figure - round_to, figure + round_to):
        if abs(step - best) < round_to and _holds(union, step):
            return step
    return best


# --- one piece of plate --------------------------------------------------------------------


class Blocked(ValueError):
    """A piece of plate that no layout can bolt by the rules; the message names the rule and the cure."""


def bolt_piece(
    start: int, end: int, blocks: Sequence[Block], rules: Rules, wanted: Sequence[int] = ()
) -> list[tuple[int, int]]:
    """Places of the fewest bolts, at least two, for one piece of plate.

    start, end: of the piece, in steps; blocks: sorted Blocks; rules: Rules; wanted: places beside
    vertical bars that are taken where they fit. Returns a list of (place, even place). Raises Blocked.
    """
    if end - start < 2 * rules.end_least + rules.least:
        raise Blocked(
            f"it is {rules.text(end - start)} long; two bolts {rules.text(rules.end_least)} from its ends and "
            f"{rules.text(rules.least)} apart need {rules.text(2 * rules.end_least + rules.least)}: make the piece "
            "longer, or let an engineer anchor it another way"
        )
    reach = _reach(start, end, tuple(blocks), rules)
    return _chosen(start, end, reach, _roomy(start, end, blocks, rules), rules, wanted)


def _roomy(start: int, end: int, blocks: Sequence[Block], rules: Rules) -> list[list[tuple[int, int]]]:
    """Unions of places with some room beside them: the full comfort first, then less of it."""
    return [
        _free(start, end, blocks, room)
        for room in (rules.comfort * share // 4 for share in (4, 3, 2, 1))
    ]


def _reach(start: int, end: int, blocks: Sequence[Block], rules: Rules) -> list[list[tuple[int, int]]]:
    """For the first, second ... bolt, where it can stand; the last entry is where the last one can."""
    free = _free(start + rules.end_least, end - rules.end_least, blocks)
    first = _meet(free, [(start, start + rules.end_most)])
    last = _meet(free, [(end - rules.end_most, end)])
    for zone, which in ((first, "start"), (last, "end")):
        if not zone:
            raise Blocked(_no_end_place(start, end, blocks, rules, which))
    reach = [first]
    while True:
        following = _meet(_spread(reach[-1], rules.least, rules.most), free)
        ended = _meet(following, last)
        if ended:
            return [*reach, ended]
        if not following:
            raise Blocked(_no_next_place(reach[-1], rules))
        reach.append(following)


def _no_end_place(start: int, end: int, blocks: Sequence[Block], rules: Rules, which: str) -> str:
    low, high = (
        (start + rules.end_least, start + rules.end_most)
        if which == "start"
        else (end - rules.end_most, end - rules.end_least)
    )
    names = ", ".join(dict.fromkeys(b.name for b in blocks if b.low < high and b.high > low))
    return (
        f"every place {rules.text(rules.end_least)} to {rules.text(rules.end_most)} from its {which} is "
        f"{names or 'too near its other end'}: move the joint or that framing, or use a smaller washer"
    )


def _no_next_place(union: Sequence[tuple[int, int]], rules: Rules) -> str:
    return (
        f"beyond {rules.at(union[-1][1])} no free place lies {rules.text(rules.least)} to "
        f"{rules.text(rules.most)} from the bolt before: move that framing, or allow a wider spacing with a "
        "stronger bolt"
    )


def _chosen(
    start: int,
    end: int,
    reach: Sequence[list[tuple[int, int]]],
    roomy: Sequence[list[tuple[int, int]]],
    rules: Rules,
    wanted: Sequence[int],
) -> list[tuple[int, int]]:
    """Places picked backward from the last bolt, each as near to even spacing as the rules allow; places
    with room beside them (``roomy``, the most first) are taken where there are any."""
    inset = (rules.end_least + rules.end_most) // 2
    first, last = start + inset, end - inset
    count = len(reach)
    even = [first + round((last - first) * k / (count - 1)) for k in range(count)]
    places, union = [0] * count, reach[-1]
    for k in range(count - 1, -1, -1):
        if k < count - 1:
            union = _meet(reach[k], [(places[k + 1] - rules.most, places[k + 1] - rules.least)])
        near = [w for w in wanted if abs(w - even[k]) <= rules.most // 4 and _holds(union, w)]
        if near:
            places[k] = min(near, key=lambda w: abs(w - even[k]))
        else:
            best = next(filter(None, (_meet(union, places_of) for places_of in roomy)), union)
            places[k] = _nearest(best, even[k], rules)
    return list(zip(places, even, strict=True))


# --- a whole wall --------------------------------------------------------------------------


def lay_out(
    pieces: Sequence[tuple[int, int]],
    blocks: Sequence[Block],
    rules: Rules,
    wanted: Sequence[int] = (),
    rather: Sequence[Sequence[Block]] = (),
) -> Layout:
    """Bolt every piece of a wall's plate.

    pieces: (start, end) in steps; blocks: what bolts must miss; rules: Rules; wanted: places beside
    vertical bars; rather: what bolts miss where a piece can be bolted so, the widest first. Returns a
    Layout; a piece that cannot be bolted is a sentence in ``problems``.
    """
    bolts, problems, kept = [], [], list(blocks)
    for number, (start, end) in enumerate(pieces, 1):
        try:
            found, missed = _bolted(start, end, blocks, rules, wanted, rather)
        except Blocked as problem:
            span = f"{rules.at(start)} to {rules.at(end)}"
            problems.append(f"the piece of plate from {span} cannot be bolted by the rules: {problem}")
            continue
        kept += missed
        there = sorted([*blocks, *missed], key=lambda b: b.low)
        bolts += [Bolt(p, e, _in_the_way(e, p, there), number, p in wanted) for p, e in found]
    return Layout(bolts, list(pieces), sorted(kept, key=lambda b: b.low), rules, problems)


def _bolted(
    start: int,
    end: int,
    blocks: Sequence[Block],
    rules: Rules,
    wanted: Sequence[int],
    rather: Sequence[Sequence[Block]],
) -> tuple[list[tuple[int, int]], list[Block]]:
    """(places of a piece, what its bolts miss beyond the blocks). Raises Blocked."""
    for some in rather:
        own = [
            Block(max(b.low, start), min(b.high, end), b.name)
            for b in some
            if b.low < end and b.high > start
        ]
        if own:
            with contextlib.suppress(Blocked):
                there = sorted([*blocks, *own], key=lambda b: b.low)
                return bolt_piece(start, end, there, rules, wanted), own
    return bolt_piece(start, end, sorted(blocks, key=lambda b: b.low), rules, wanted), []


def _in_the_way(even: int, place: int, blocks: Sequence[Block]) -> str:
    """What a bolt at the even place would have hit, where it was moved."""
    if even == place:
        return ""
    return next((b.name for b in blocks if b.low < even < b.high), "")


@functools.lru_cache(maxsize=256)
def cached_layout(
    pieces: tuple[tuple[int, int], ...],
    blocks: tuple[Block, ...],
    rules: Rules,
    wanted: tuple[int, ...],
    rather: tuple[tuple[Block, ...], ...] = (),
) -> Layout:
    """``lay_out`` of hashable arguments, kept: panels and printout ask for the same wall again."""
    return lay_out(pieces, list(blocks), rules, wanted, rather)
