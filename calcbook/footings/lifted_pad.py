"""A stiff pad that posts lift: what the soil still gives, and moment and shear at every section, by statics.

Plain inches and pounds. The pad's weight lies on it evenly; the soil pushes by a plane where all of the pad presses, by a
triangle where one side has left the ground, and never pulls.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.footings.rigid_pad import Pattern, beam

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.footings.rigid_pad import Bent, Stands

_NEAR = 1e-9


def lifted_pattern(posts: Sequence[Stands], name: str, share: float, service: float) -> Pattern:
    """Posts in the factored combination of wind upward: those that lift count upward, the others with a share of their dead
    load. share: of dead load; service: of wind at service level.

    A net uplift N at service level is service x (W - D), so at strength level W - share x D = N / service + (1 - share) D.
    """
    loads = tuple(
        -(p.W / service + (1 - share) * p.loads[0]) if p.W else share * p.loads[0] for p in posts
    )
    return Pattern(name, loads)


def resultant(
    pattern: Pattern, posts: Sequence[Stands], weight: float
) -> tuple[float, tuple[float, float]]:
    """(what the soil gives, lbf; how far that is off the middle along x and y, in.); weight: of the pad, that counts."""
    R = weight + pattern.P
    if R <= 0:
        return R, (0.0, 0.0)
    return R, (pattern.turned(posts, 0) / R, pattern.turned(posts, 1) / R)


def lifted_beam(
    pattern: Pattern, posts: Sequence[Stands], sides: tuple[float, float], weight: float, axis: int
) -> Bent | None:
    """Shear and moment of a lifted pad along an axis (0: x, 1: y), bottom in tension positive; None where the soil's push
    is out of these formulas' reach: none is left, or the pad tips over a corner. sides: along x and y, in.; weight: lbf."""
    R, e = resultant(pattern, posts, weight)
    if R <= 0:
        return None
    if sum(abs(e[n]) / sides[n] for n in (0, 1)) <= 1 / 6 + _NEAR:
        return beam(pattern, posts, sides, axis)  # the weight lies right on the soil that bears it
    L, off = sides[axis], e[axis]
    if abs(e[1 - axis]) > _NEAR * sides[1 - axis]:
        tips = abs(e[axis]) > _NEAR * L or abs(e[1 - axis]) >= sides[1 - axis] / 2
        # tipped along the other axis alone, it still presses evenly along this one
        return None if tips else beam(pattern, posts, sides, axis)
    if abs(off) >= L / 2:
        return None

    def push(s: NDArray) -> tuple[NDArray, NDArray]:
        V, M = _triangle(s, L, R, off)
        return V - weight / L * s, M - weight / L * s**2 / 2

    return beam(pattern, posts, sides, axis, push)


def _triangle(s: NDArray, L: float, R: float, e: float) -> tuple[NDArray, NDArray]:
    """Shear and moment of the soil's push R alone, at e off the middle, under a pad of which a part presses; s: from one end."""
    a = 3 * (L / 2 - abs(e))
    q = 2 * R / a
    if e > 0:  # it presses at the far end
        u = np.maximum(s - (L - a), 0.0)
        return q * u**2 / (2 * a), q * u**3 / (6 * a)
    u = np.minimum(s, a)
    V = q * u - q * u**2 / (2 * a)
    M = q * u**2 / 2 - q * u**3 / (6 * a) + R * np.maximum(s - a, 0.0)
    return V, M
