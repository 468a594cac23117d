"""Legs and posts on the bare slab that stand near each other: what all others add under the hardest leg of one."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calcbook.basis.units import Q, number_in
from calcbook.slab.together import added_stress

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job


def _near(job: Job, index: int) -> list[list[tuple[float, float]]]:
    """For each leg of a post: (load, lbf; distance, in.) of every other leg, and of other posts whose place is given."""
    post, own = job.posts[index], job.posts[index].legs_at
    assert post.load is not None
    P = float(number_in(post.load, "lbf"))
    elsewhere = [
        (float(number_in(other.load, "lbf")), x + dx, y + dy)
        for n, other in enumerate(job.posts)
        if n != index and other.load is not None and post.x is not None and other.x is not None
        for x, y in [(number_in(other.x - post.x, "in"), number_in(other.y - post.y, "in"))]
        for dx, dy in other.legs_at
    ]
    return [
        [(P, math.dist(a, b)) for k, b in enumerate(own) if k != n]
        + [(load, math.dist(a, (x, y))) for load, x, y in elsewhere]
        for n, a in enumerate(own)
    ]


def hardest_leg(
    job: Job, index: int, h: Quantity, length: Quantity, a: Quantity, nu: float
) -> tuple[int, Quantity, int] | None:
    """(number from 1 of the leg under which the others add most, what they add, how many they are); None for one alone.

    h: thickness; length: radius of relative stiffness; a: radius of its print, nearer than which no other counts; nu: plain.
    """
    least = float(number_in(a, "in"))
    sums = [
        sum(
            float(number_in(added_stress(Q(P, "lbf"), h, Q(max(s, least), "in"), length, nu), "psi"))
            for P, s in others
        )
        for others in _near(job, index)
    ]
    count = len(_near(job, index)[0])
    if not count:
        return None
    k = max(range(len(sums)), key=sums.__getitem__)
    return k + 1, Q(sums[k], "psi"), count
