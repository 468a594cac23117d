"""A strength curve of the builder's own tests, after ASTM C1074: hyperbola of strength over equivalent age, and its band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.formula import cite, procedure
from calcbook.basis.units import Q
from calcbook.concrete.curing import strength_hyperbolic

if TYPE_CHECKING:
    from numpy.typing import NDArray

LEAST_TESTS, LEAST_AGES = 3, 2
WITHIN_TEST = 0.05  # least spread of a test about the curve, share: from memory, ACI 214R calls 5 to 6 % fair control
HAMMER = (
    2.0  # a hammer's reading scatters about twice as much as a cylinder: common practice, no source
)
_ROUNDS = 60


@dataclass(frozen=True)
class Curve:
    """A fitted curve: f_u in psi, k by day, t_0 in days; spread: of a test about it, share; freedom: tests over
    constants; known: covariance of the logarithms of f_u and k."""

    f_u: float
    k: float
    t_0: float
    spread: float
    freedom: int
    known: NDArray
    reach: float  # days of the oldest test: beyond, it proves nothing

    def strength(self, days: Any) -> Any:
        """Strength at an equivalent age, psi; numbers or arrays."""
        return strength_hyperbolic.bulk(
            t_e=days, f_u=self.f_u, k=Q(self.k, "1/day"), t_0=Q(self.t_0, "day")
        )

    def band(self, days: Any, share: float = 0.8) -> tuple[Any, Any]:
        """Lowest and highest strength between which a next test lies in that share of tests, psi."""
        from scipy.special import stdtrit

        slope = _slopes(np.atleast_1d(days), self.k, self.t_0)
        about = np.sqrt(self.spread**2 + np.einsum("ij,jk,ik->i", slope, self.known, slope))
        wide = stdtrit(self.freedom, (1 + share) / 2) * about.reshape(np.shape(days))
        middle = self.strength(days)
        return middle * np.exp(-wide), middle * np.exp(wide)


def _slopes(days: NDArray, k: float, t_0: float) -> NDArray:
    """How the logarithm of the strength moves with those of f_u and k."""
    x = k * np.maximum(days - t_0, 1e-6)
    return np.stack([np.ones_like(x), 1 / (1 + x)], axis=-1)


@procedure(
    "Strength curve of own tests",
    cite("ASTM C1074", "appendix X1, hyperbola fitted to tests by least squares"),
    "Limiting strength and rate constant are those that leave the least squares of the logarithms; the age at which "
    "strength starts is that of final set. A hammer counts a quarter of a cylinder.",
)
def fitted(
    days: Sequence[float], psi: Sequence[float], t_0: float, hammer: Sequence[bool] = ()
) -> Curve | None:
    """The curve of tests: a Curve; None where there are too few (three, at two ages), or none after t_0.

    days: equivalent ages; psi: strengths; t_0: equivalent age of final set, days; hammer: which were by hammer.
    """
    t, f = np.asarray(days, float), np.asarray(psi, float)
    by_hammer = np.asarray(hammer, bool) if len(hammer) else np.zeros(len(t), bool)
    after = t > t_0
    t, f, weight = t[after], f[after], np.where(by_hammer[after], 1 / HAMMER, 1.0)
    if len(t) < LEAST_TESTS or len(np.unique(np.round(t, 3))) < LEAST_AGES:
        return None
    a = np.array([np.log(1.2 * f.max()), np.log(0.3)])  # logarithms of f_u and k, to begin with
    for _ in range(_ROUNDS):
        off = np.log(f) - a[0] - np.log(_share(t, np.exp(a[1]), t_0))
        rows = _slopes(t, float(np.exp(a[1])), t_0) * weight[:, None]
        step = np.linalg.lstsq(rows, off * weight, rcond=None)[0]
        a = a + np.clip(step, -0.5, 0.5)
        a[1] = np.clip(a[1], np.log(0.01), np.log(5.0))  # beyond, tests cannot tell a curve
        if np.abs(step).max() < 1e-10:
            break
    off = np.log(f) - a[0] - np.log(_share(t, float(np.exp(a[1])), t_0))
    freedom = len(t) - 2
    spread = max(float(np.sqrt(np.sum((off * weight) ** 2) / freedom)), WITHIN_TEST)
    rows = _slopes(t, float(np.exp(a[1])), t_0) * weight[:, None]
    known = spread**2 * np.linalg.pinv(rows.T @ rows)
    return Curve(float(np.exp(a[0])), float(np.exp(a[1])), t_0, spread, freedom, known, float(t.max()))


def _share(t: NDArray, k: float, t_0: float) -> NDArray:
    """Strength as a share of the limiting one."""
    return strength_hyperbolic.bulk(t_e=t, f_u=1.0, k=Q(k, "1/day"), t_0=Q(t_0, "day"))
