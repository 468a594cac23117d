"""What one bolt may be asked to hold, by each thing that could fail, and where the bolt stands."""

from __future__ import annotations

import functools
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from numpy import minimum

from calcbook.basis.table import lookup
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.bolts.anchors import design_strength

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.basis.formula import Formula
    from calcbook.job.file import Job

ALPHA = {"wind": 0.6, "earthquake": 0.7}  # ASCE 7-16 2.4: 0.6 W and 0.7 E against 1.0 W and 1.0 E
_ALONE = Q(0.0, "in")  # extent of a row of one


@dataclass(frozen=True)
class Place:
    """Where a bolt or a row of bolts stands (lengths; or arrays of them, one for each row).

    c_1: nearest edge, across the row; c_2: other side; c_3, c_4: along the row, both ways; h_a: depth of
    the concrete; s_2: extent of the row; n: bolts in it; s_1: extent across, of a group of two rows; end: what c_3 goes to.
    """

    c_1: Quantity
    c_2: Quantity
    c_3: Quantity
    c_4: Quantity
    h_a: Quantity
    s_2: Quantity = _ALONE
    n: float | NDArray = 1.0
    s_1: Quantity = _ALONE
    end: str = "the slab's end"

    @property
    def pulled(self) -> dict[str, Any]:
        """Arguments of the formulas for tension."""
        found = {k: getattr(self, k) for k in ("c_1", "c_2", "c_3", "c_4", "s_2", "n")}
        return found if self.s_1 is _ALONE else found | {"s_1": self.s_1}

    @property
    def sheared(self) -> dict[str, Any]:
        """Arguments of the formulas for shear towards or along the nearest edge."""
        return {
            "c_a1": self.c_1, "c_2": self.c_3, "c_3": self.c_4, "h_a": self.h_a, "s_2": self.s_2, "n": self.n
        }  # fmt: skip

    @property
    def key(self) -> tuple[Any, ...]:
        """All as plain numbers, to group by."""
        return tuple(plain(v) for v in vars(self).values())

    @property
    def nearest(self) -> Quantity:
        """The least of all edge distances."""
        sides: Any = (self.c_1, self.c_2, self.c_3, self.c_4)  # numpy knows no quantities
        return functools.reduce(minimum, sides)


@dataclass
class Capacity:
    """Allowable loads of one bolt by what could fail, at service level: uplift, shear along, shear out.

    exempt: whether the code asks for no concrete check of shear along the wall.
    """

    uplift: dict[str, Quantity] = field(default_factory=dict)
    along: dict[str, Quantity] = field(default_factory=dict)
    out: dict[str, Quantity] = field(default_factory=dict)
    exempt: bool = False

    def with_part(self, part: Capacity) -> Capacity:
        """This and the modes of another Capacity."""
        return Capacity(
            self.uplift | part.uplift, self.along | part.along, self.out | part.out, self.exempt or part.exempt
        )  # fmt: skip

    def least(self, direction: str) -> tuple[str, Quantity]:
        """(what governs, allowable load) of ``uplift``, ``along`` or ``out``."""
        found = getattr(self, direction)
        name = min(found, key=lambda k: number_in(found[k], "lbf"))
        return name, found[name]


def bolt_row(job: Job) -> dict[str, Any]:
    """Row of tables/bolts.csv for the job's bolt."""
    return lookup("bolts", size=job.bolts.size)


def allowed(
    call: Callable[..., Any], job: Job, R_n: Quantity, mode: str, words: str, symbol: str
) -> Quantity:
    """Allowable load from a nominal strength, by the mode's row of tables/anchor_phi.csv.

    call: enters a step, or is ``unshown``; R_n: nominal strength; words, symbol: of the step.
    """
    category = job.bolts.category if mode in ("bond", "drilled breakout") else 1
    row = lookup("anchor_phi", mode=mode, category=category)
    return call(
        design_strength, f"{words}, at service level ({row['source']}).", symbol=symbol, R_n=R_n, phi=row["phi"],
        alpha=ALPHA[job.bolts.load],
    )  # fmt: skip


def unshown(formula: Formula, words: str, symbol: str | None = None, **inputs: Any) -> Any:
    """Use a formula, also on whole arrays, in the place of a step."""
    return formula.evaluate(formula.numbers(**inputs))


def plain(value: Any) -> Any:
    """A value to group by, quick to compare: a quantity as its number in root units, the rest as it is."""
    if isinstance(value, Place):
        return value.key
    return round(value.magnitude * _to_root(value.units), 9) if hasattr(value, "units") else value


@functools.cache
def _to_root(units: Any) -> Any:
    return Quantity(1.0, units).to_root_units().magnitude
