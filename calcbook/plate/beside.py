"""The plate beside the hand formulas: the same question answered twice, which one governs, and why they differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shapely import Point

from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.plate.model import SOIL, Patch
from calcbook.plate.moving import is_wheel
from calcbook.plate.worked import stress, worst_stress
from calcbook.slab.check import PLACES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edges import EdgesFound
    from calcbook.footings.pad_check import PadsFound
    from calcbook.job.file import Job
    from calcbook.plate.result import PlateResult
    from calcbook.plate.worked import Worked
    from calcbook.slab.check import SlabFound

# kind of place of the plate -> that of the hand formula
KINDS = dict(zip(("inside", "at a joint", "at an edge", "at a corner"), PLACES, strict=True))
_NEAR = 0.05  # closer than this, two ways agree
ALIKE = "both alike"
_ELSEWHERE = "The greatest stress of this case is not at the wheel, which brings less: another load or place governs it."
_AT_WHEEL = 3.0  # of the reach of a load: farther off a wheel does next to nothing


def beside_hand(
    calc: Calculation, job: Job, worked: Worked, slab: SlabFound, pads: PadsFound, edges: EdgesFound
) -> None:
    """Enter the table of both ways."""
    rows = [
        [
            question, show(hand, unit, calc.system), show(plate, unit, calc.system), _governs(hand, plate),
            "" if _governs(hand, plate) == ALIKE else why,
        ]
        for question, hand, plate, unit, why in _pairs(job, worked, slab, pads, edges)
    ]  # fmt: skip
    columns = ["Question", "By hand", "By the plate", "Governs", "Why they differ"]
    calc.table("Both ways side by side; each is checked in its own chapter", records(columns, rows))


def _governs(hand: Quantity, plate: Quantity) -> str:
    a, b = hand.m_as(hand.units), plate.to(hand.units).magnitude
    if abs(a - b) <= _NEAR * max(a, b):
        return ALIKE
    return "hand" if a > b else "plate"


def _pairs(
    job: Job, worked: Worked, slab: SlabFound, pads: PadsFound, edges: EdgesFound
) -> Iterable[tuple[str, Quantity, Quantity, str, str]]:
    for kind, (_, result) in worked.wheel.items():
        hand = slab.stresses[KINDS[kind]]
        why = _why_wheel(stress(result) < hand.m_as("psi"), kind) if _at_wheel(result) else _ELSEWHERE
        yield f"wheel {KINDS[kind]}", hand, Q(stress(result), "psi"), "psi", why
    down = worked.down
    if down is None:
        return
    if edges.pressures:
        name = max(edges.pressures, key=lambda n: edges.pressures[n].m_as("psf"))
        hand, plate = edges.pressures[name], Q(down.worst[SOIL].value, "psf")
        yield (
            f"soil under the edge or strip ({name} by hand)", hand, plate, "psf",
            "The slab beside takes a part of the wall's load." if plate < hand else
            "The plate reads the one worst point, where walls meet or stand off the edge's middle; by hand it is the "
            "mean over the width.",
        )  # fmt: skip
    for n, hand in pads.pressures.items():
        name = job.pads[n].name
        shape = next((r.shape for r in worked.job.plate.regions if r.name == name), None)
        if shape is not None:
            plate = Q(down.soil_under(shape) / shape.area, "psf")
            yield (
                f"soil under the pad {name}, mean", hand, plate, "psf",
                "The slab carries a part of the load away from its pad: the soil gets less, the slab bends more."
                if plate < hand else "Walls and loads beside press on the pad's ground too.",
            )  # fmt: skip


def _at_wheel(result: PlateResult) -> bool:
    """Whether the greatest stress of a case is near a wheel."""
    at, far = worst_stress(result), _AT_WHEEL * result.plate.reach / 12
    place = Point(at.x, at.y)
    return any(
        p.shape.distance(place) < far for p in result.case.loads if isinstance(p, Patch) and is_wheel(p)
    )


def _why_wheel(less: bool, kind: str) -> str:
    if less and kind in ("at an edge", "at a corner"):
        return "The hand formula takes a free side of plain slab; here a thickened edge or a joint holds it."
    if less:
        return "The hand formula takes an endless plain slab; here edges, joints and the other wheel share."
    return "The plate also has walls, weight and the other wheel, and openings and joints near."
