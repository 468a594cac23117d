"""The plate of a job worked out: a few cases on one mesh, and the one that bends most on a finer mesh of its own."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.model import LiftError, PlateError

if TYPE_CHECKING:
    from calcbook.plate.from_job import PlateJob
    from calcbook.plate.model import Plate
    from calcbook.plate.moving import Ranked, Wheel
    from calcbook.plate.result import PlateResult, Reading

PART = 0.5  # of the reach of a load: elements of the mesh of all cases
FINER = 0.8  # of those: elements of the mesh of the case that bends most, which are small under loads
MOST = 20000  # unknowns, about: a large slab gets wider elements
SPREAD = (0.5, 2.0)  # times the soil's stiffness
TRIED = 2  # places of each kind that are worked out
APART = 3.0  # ft between the places at which a wheel is tried
TRACK, DUAL = 5.0, 1.0  # ft between the wheels of an axle, and between two on one side
BOTTOM, TOP, SOIL = "stress at the bottom", "stress at the top", "soil pressure"


@dataclass(frozen=True, eq=False)
class Worked:
    """What a plate does.

    down, lift, sun: results, or None where nothing acts so; wheel: by kind of place, the place and the
    result; too_much: why the uplift has no balance, "" where it has; spread: (times the soil's stiffness,
    result) of the case that bends most. That case stands on a mesh of its own, and its readings tell how
    far the mesh of all cases is from them.
    """

    job: PlateJob
    down: PlateResult | None
    lift: PlateResult | None
    sun: PlateResult
    wheel: dict[str, tuple[Ranked, PlateResult]]
    too_much: str
    spread: tuple[tuple[float, PlateResult], ...]

    @property
    def loaded(self) -> list[PlateResult]:
        """The cases of loads: all but the one with the sun."""
        wheels = [result for _, result in self.wheel.values()]
        return [r for r in (self.down, *wheels, self.lift) if r is not None]

    @property
    def bends_most(self) -> PlateResult:
        """The case of the greatest stress."""
        return max(self.loaded, key=stress)

    @property
    def worst_wheel(self) -> tuple[Ranked, PlateResult] | None:
        """The worst place of a wheel and the plate with it there; None without a vehicle."""
        return max(self.wheel.values(), key=lambda pair: stress(pair[1]), default=None)


@dataclass(frozen=True)
class NotWorked:
    """Why a plate could not be worked out, in a sentence."""

    reason: str


def stress(result: PlateResult) -> float:
    """The greater stress of both faces, psi."""
    return worst_stress(result).value


def worst_stress(result: PlateResult) -> Reading:
    """The reading of the greater stress of both faces."""
    return max((result.worst[BOTTOM], result.worst[TOP]), key=lambda reading: reading.value)


def axle_wheels(load: float, wheels: float, pressure: float) -> tuple[Wheel, ...]:
    """The wheels of an axle side by side. load: lbf; wheels: how many, 1 to 4; pressure: of the tires, psi."""
    from calcbook.plate.moving import Wheel

    n = max(1, round(wheels))
    at = {1: (0.0,), 2: (0.0, TRACK), 3: (0.0, DUAL, TRACK), 4: (0.0, DUAL, TRACK, TRACK + DUAL)}[n]
    force = load / wheels
    return tuple(Wheel(force, force / pressure, x) for x in at)


def worked_out(job: PlateJob, wheels: tuple[Wheel, ...], warmer: float) -> Worked | NotWorked:
    """Work a plate out. wheels: of the vehicle, none without one; warmer: the top in the sun, degrees F."""
    try:
        return _worked(job, wheels, warmer)
    except PlateError as error:
        return NotWorked(str(error))
    except MemoryError:
        return NotWorked("plate: the slab is too large for the memory of this computer.")


def _worked(job: PlateJob, wheels: tuple[Wheel, ...], warmer: float) -> Worked:
    from calcbook.plate.front import prepared, with_errors
    from calcbook.plate.moving import ranked_over, standing, worst_places

    plate, step = job.plate, element(job.plate)
    ranked = ranked_over(plate, wheels, job.steady, APART, step) if wheels else []
    moving = [(r, standing(plate, wheels, job.steady, r)) for r in worst_places(ranked, TRIED)]
    sun = replace(job.steady, name=f"{job.steady.name}, sun on it", warmer_top=warmer)
    cases = [c for c in (job.down, job.lift, *(case for _, case in moving)) if c is not None]
    ready = prepared(
        plate, [load for case in (*cases, sun) for load in case.loads], step=step, rough=True
    )
    too_much, lift = "", None
    try:
        lift = ready.solve(job.lift) if job.lift else None
    except LiftError as error:
        too_much = str(error)
    found = Worked(
        job, ready.solve(job.down) if job.down else None, lift, ready.solve(sun),
        _worst_of_each([(r, ready.solve(case)) for r, case in moving]), too_much, (),
    )  # fmt: skip
    if not found.loaded:
        return found
    most = found.bends_most
    fine = prepared(plate, most.case.loads, step=step * FINER).solve(most.case)
    stiff = [
        (n, prepared(replace(plate, k=plate.k * n), most.case.loads, step=step, rough=True))
        for n in SPREAD
    ]
    spread = ((1.0, most), *((n, other.solve(most.case)) for n, other in stiff))
    return _with_fine(replace(found, spread=spread), most, with_errors(fine, most))


def _worst_of_each(tried: list[tuple[Ranked, PlateResult]]) -> dict[str, tuple[Ranked, PlateResult]]:
    """By kind of place, the one where the slab bends most: the ranking alone is too rough to tell."""
    return {
        kind: max((pair for pair in tried if pair[0].where == kind), key=lambda pair: stress(pair[1]))
        for kind in dict.fromkeys(r.where for r, _ in tried)
    }


def _with_fine(found: Worked, most: PlateResult, fine: PlateResult) -> Worked:
    """The case that bends most as the finer mesh has it, in its place."""

    def better(result: PlateResult | None) -> PlateResult | None:
        return fine if result is most else result

    wheel = {where: (best, fine if r is most else r) for where, (best, r) in found.wheel.items()}
    return replace(found, down=better(found.down), lift=better(found.lift), wheel=wheel)


def element(plate: Plate) -> float:
    """The widest element, in.: a part of the reach of a load, wider where the slab is large."""
    area = 144 * sum(outline.area for outline in plate.outlines)
    return float(max(PART * plate.reach, np.sqrt(4 * area / MOST)))
