"""A plate worked out: from what it is made of and what stands on it to what it does.

``prepared`` meshes a plate once for all its loads and factors it; each case is then a matter of a
fraction of a second. ``plate_of`` does both for a single case.
"""

from __future__ import annotations

import copy
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.forces import own_weight, sound_amount, temperature_forces, unit_forces
from calcbook.plate.joints import joint_matrix
from calcbook.plate.lines import kinks, mesh_lines
from calcbook.plate.model import Case, LiftError, Load, Plate, amount, place
from calcbook.plate.readings import Places, joined, places_of_loads, places_to_read
from calcbook.plate.reserve import uplift_reserve
from calcbook.plate.result import PlateResult, Reader, values_at, worst_of
from calcbook.plate.solver import Contact, Settled
from calcbook.plate.space import Space
from calcbook.plate.stiffness import stiffness

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from scipy import sparse


@dataclass
class Prepared:
    """A plate meshed and factored, ready for any of its cases."""

    plate: Plate
    loads: tuple[Load, ...]
    space: Space
    contact: Contact
    told: tuple[str, ...]
    read_at: Places
    joints: sparse.csr_matrix = field(repr=False)
    _known: dict[Hashable, NDArray] = field(default_factory=dict, repr=False)

    def forces(self, case: Case) -> NDArray:
        """All forces of a case on the unknowns; what stands in several cases is summed up once."""
        total = self.weight * case.own_weight
        for load in case.loads:
            total = total + self.force_of(load)
        return total + temperature_forces(self.space, case) if case.warmer_top else total

    @cached_property
    def reader(self) -> Reader:
        """What reads any case at the places of the plan."""
        return Reader(self.space, self.read_at)

    @cached_property
    def weight(self) -> NDArray:
        """The concrete's own weight on the unknowns."""
        return own_weight(self.space)

    def force_of(self, load: Load) -> NDArray:
        """One load on the unknowns; what stands at one place is summed up once, however much it is."""
        size, at = sound_amount(load), place(load)
        if at not in self._known:
            self._known[at] = unit_forces(self.space, load)
        return size * self._known[at]

    def solve(self, case: Case, start: PlateResult | None = None) -> PlateResult:
        """One case; start: another one, near which it may lie. Raises PlateError where the plate finds no balance."""
        reserve = self._reserve(case)
        if not reserve >= 1:
            raise LiftError(self._too_much(case, reserve))
        force = self.forces(case)
        settled = self.contact.settle(force, start.solution if start else None)
        return self._result(case, reserve, force, settled)

    def nearly(self, case: Case, start: PlateResult) -> PlateResult:
        """One case with the springs that another case presses: near enough to choose among many."""
        force = self.forces(case)
        return self._result(case, np.inf, force, self.contact.nearly(force, start.solution))

    def _result(self, case: Case, reserve: float, force: NDArray, settled: Settled) -> PlateResult:
        space, u = self.space, settled.unknowns
        at, values = self.read_at, self.reader.values(self.plate, u, case)
        known = {place(load) for load in self.loads}
        new = {place(load): load for load in case.loads if place(load) not in known}
        if new:
            there = places_of_loads(space, new.values())
            values = values.joined(values_at(space, u, case, there))
            at = joined(at, there)
        w = space.at_places(u)
        soil = space.from_places(self.contact.springs * np.maximum(w, 0))
        off = w < 0
        return PlateResult(
            plate=self.plate,
            case=case,
            load=float(_whole(space, force)[0]),
            soil=float(_whole(space, soil)[0]),
            unbalanced=_unbalanced(space, force, soil),
            lifted_area=float(space.weight[off].sum()) / 144,
            lifted_weight=float((space.weight * space.thickness)[off].sum()) * self.plate.weight / 1728,
            reserve=reserve,
            worst=worst_of(at, values),
            unknowns=space.size,
            rounds=settled.rounds,
            told=self.told,
            space=space,
            solution=u,
            read_at=at,
            values=values,
        )

    def _reserve(self, case: Case) -> float:
        if not any(amount(load) < 0 for load in case.loads):
            return np.inf  # what only presses stands within the slab, and the ground holds it
        up, steady = np.zeros(self.space.size), self.weight * case.own_weight
        for load in case.loads:
            if amount(load) < 0:
                up = up + self.force_of(load)
            else:
                steady = steady + self.force_of(load)
        return uplift_reserve(self.space, steady, up)

    def _too_much(self, case: Case, reserve: float) -> str:
        down, up = _whole(self.space, self.weight)[0] * case.own_weight, 0.0
        for load in case.loads:
            force = float(_whole(self.space, self.force_of(load))[0])
            up, down = (up - force, down) if amount(load) < 0 else (up, down + force)
        if up > down:
            return (
                f"{case.name}: the uplift of {up:,.0f} lbf is more than the {down:,.0f} lbf that hold the slab "
                "down; it needs weight or anchors in the ground."
            )
        return (
            f"{case.name}: the uplift tips the slab, or a part of it between joints, though all of it weighs "
            f"{down:,.0f} lbf against {up:,.0f} lbf; it holds {reserve:.2f} of that uplift."
        )

    def of(self, plate: Plate) -> Prepared:
        """The same concrete on the same mesh, with other soil or other springs in its joints."""
        space = copy.copy(self.space)
        space.plate = plate
        joints, joined = self.joints, None
        if plate.joints != self.plate.joints:
            joints = joint_matrix(space)[0]
            joined = joints - self.joints
        contact = self.contact.of(space, joined)
        other = replace(self, plate=plate, space=space, contact=contact, joints=joints)
        other.reader = self.reader
        return other


def prepared(
    plate: Plate,
    loads: Sequence[Load] = (),
    finer: int = 1,
    step: float | None = None,
    rough: bool = False,
) -> Prepared:
    """Mesh and factor a plate. loads: all that will stand on it in any case; finer: 2 for a mesh twice as
    fine; step: widest element, in., or None for one that suits the slab; rough: True for a mesh that is
    no finer than that anywhere."""
    loads = tuple(dict.fromkeys(loads))
    space = Space(plate, *mesh_lines(plate, loads, finer, step, rough), kinks(loads))
    joints, told = joint_matrix(space)
    contact = Contact(space, stiffness(space, joints))
    return Prepared(plate, loads, space, contact, tuple(told), places_to_read(space, loads), joints)


def plate_of(plate: Plate, case: Case, finer: int = 1, step: float | None = None) -> PlateResult:
    """A plate under one case. finer, step: of the mesh, as ``prepared`` takes them (step in in.)."""
    return prepared(plate, case.loads, finer, step).solve(case)


# --- balance as a whole ------------------------------------------------------------------------


def _whole(space: Space, force: NDArray) -> NDArray:
    """Force (lbf) and moments about both axes (lbf in) of all pieces together."""
    return (space.rigid @ force).reshape(-1, 3).sum(0)


def _unbalanced(space: Space, force: NDArray, soil: NDArray) -> float:
    rest = _whole(space, force - soil)
    size = np.abs(_whole(space, force)[0]) + 1e-9
    across = max(float(np.ptp(space.xs)), float(np.ptp(space.ys)))
    return float(np.abs(rest / (size, size * across, size * across)).max())
