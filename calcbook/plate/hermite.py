"""The bicubic plate element (Bogner, Fox and Schmit): cubic beams both ways, one smooth surface.

A node carries the deflection w, its slopes w_x and w_y, and its twist w_xy. Slopes match across
every side, so what is computed is bound to the plate's energy: refining only makes it softer.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

# value and slope at 0, value and slope at 1: coefficients of 1, t, t^2, t^3
_CUBICS = np.array([[1, 0, -3, 2], [0, 1, -2, 1], [0, 0, 3, -2], [0, 0, -1, 1]], float)
_DERIVED = [_CUBICS.T]  # and of their derivatives
for _ in range(3):
    _DERIVED.append(np.vstack([_DERIVED[-1][1:] * [[1], [2], [3]], np.zeros(4)]))
_SLOPE = np.array([0, 1, 0, 1])  # which of the four are slopes

_nodes, _weights = np.polynomial.legendre.leggauss(4)  # exact for the square of a cubic
GAUSS, WEIGHTS = (_nodes + 1) / 2, _weights / 2


def cubics(t: NDArray, derivative: int = 0) -> NDArray:
    """The four cubics at places t from 0 to 1, or a derivative of them: an array (places, 4)."""
    t = np.asarray(t, float)
    powers = np.ones((len(t), 4))
    powers[:, 1], powers[:, 2] = t, t * t
    powers[:, 3] = powers[:, 2] * t
    return powers @ _DERIVED[derivative]


def along(t: NDArray, side: NDArray, derivative: int = 0) -> NDArray:
    """The same by inch. t: places from 0 to 1; side: length of the element at each place, in."""
    found, side = cubics(t, derivative), np.asarray(side, float)
    if derivative:
        found /= side[:, None] ** derivative
    found[:, 1::2] *= side[:, None]
    return found


def surface(t: NDArray, s: NDArray, a: NDArray, b: NDArray, dx: int = 0, dy: int = 0) -> NDArray:
    """The sixteen functions of an element, or a derivative of them: an array (places, 16).

    t, s: places from 0 to 1 along x and y; a, b: sides of the element there, in.; dx, dy: how often
    they are derived by x and y.
    """
    both = along(t, a, dx)[:, :, None] * along(s, b, dy)[:, None, :]
    return both.reshape(len(both), 16)


def grams() -> dict[tuple[int, int], NDArray]:
    """Integrals from 0 to 1 of the products of the cubics' derivatives, by their two orders."""
    at = [cubics(GAUSS, d) for d in range(3)]
    return {(p, q): at[p].T @ (WEIGHTS[:, None] * at[q]) for p in range(3) for q in range(3)}


@functools.cache
def _energies(nu: float) -> NDArray:
    """Energy of the unit square by what it grows with: bending with b / a^3, a / b^3 and 1 / (a b), springs with a b."""
    g = grams()

    def product(x: tuple[int, int], y: tuple[int, int]) -> NDArray:
        return np.einsum("ik,jl->ijkl", g[x], g[y]).reshape(16, 16)

    twist = nu * (product((2, 0), (0, 2)) + product((0, 2), (2, 0)))
    twist = twist + 2 * (1 - nu) * product((1, 1), (1, 1))
    plain = product((0, 0), (0, 0))
    return np.array([product((2, 2), (0, 0)), product((0, 0), (2, 2)), twist, plain]).reshape(4, 256)


def energies(a: NDArray, b: NDArray, nu: float, rigid: NDArray, k: NDArray) -> NDArray:
    """Energy of whole elements: matrices (elements, 16, 16).

    a, b: sides along x and y, in.; nu: Poisson's ratio; rigid: bending stiffness for each inch of width, lbf in;
    k: of the springs below, pci.
    """
    grown = np.stack([rigid * b / a**3, rigid * a / b**3, rigid / (a * b), k * a * b], axis=1)
    scale = scales(a, b)
    found = (grown @ _energies(nu)).reshape(-1, 16, 16)
    found *= scale[:, :, None] * scale[:, None, :]
    return found


def scales(a: NDArray, b: NDArray) -> NDArray:
    """What turns the functions of the unit square into those of an element: (elements, 16). a, b: sides, in."""
    across = np.asarray(a, float)[:, None] ** _SLOPE
    up = np.asarray(b, float)[:, None] ** _SLOPE
    return (across[:, :, None] * up[:, None, :]).reshape(len(across), 16)


def unit_points() -> tuple[NDArray, NDArray, NDArray]:
    """Sixteen places of the unit square and their weights: (t, s, weight)."""
    t, s = np.repeat(GAUSS, 4), np.tile(GAUSS, 4)
    return t, s, np.repeat(WEIGHTS, 4) * np.tile(WEIGHTS, 4)
