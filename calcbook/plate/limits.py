"""How near the numbers of a plate are, what the soil's stiffness does to them, and what is not in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.plate.model import AGREE, BOTTOM, TOP
from calcbook.plate.readings import SPACING
from calcbook.plate.worked import worst_stress

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.plate.model import Joint
    from calcbook.plate.result import PlateResult
    from calcbook.plate.worked import Worked

# what every answer of a plate leaves out
NOT_KNOWN = (
    "The soil is taken as springs side by side: ground beside the slab does not help, and a soft spot is "
    "not known.",
    "Settlement over months and soil that swells or shrinks at the edges are not in it.",
    "Sun and a cold night act on the plate with the dead load alone. The chapter on the slab adds them to a wheel by hand.",
    "A top that dries more than the bottom curls edges and corners up over months: it is not in the plate.",
    "The concrete is taken as uncracked and of one stiffness; a cracked slab spreads a load less.",
    "Thickened places are taken as centered on the slab's middle plane: deflection and stress of the slab "
    "beside come out too high, and what the thickening takes on itself too low.",
    "Shear and the print's own depth are not in a thin plate: prints are widened by Westergaard's rule.",
    f"Stress is read at places about {SPACING:.0f} in. ({25 * SPACING:.0f} mm) apart, and not nearer than one slab thickness "
    "to an inner corner or a corner of a thickening. Right there a plate's stress has no limit, and a crack may begin.",
)


def enter_limits(calc: Calculation, worked: Worked) -> None:
    """How near the numbers are, what the soil's stiffness does, and what is not in them."""
    results = worked.cases
    left = max(r.unbalanced for r in results)
    calc.note(
        f"How near: all cases stand on one mesh of {worked.sun.unknowns:,} unknowns; load and soil balance to "
        f"{'better than 1e-8' if left < 1e-8 else f'{left:.0e}'} of the load. The surroundings of each stress above were "
        f"then worked out on a fine mesh of their own, and on others twice as fine each (but one of a face that has less than "
        f"a twentieth of the other's). {_differ(results)}"
    )
    _, *others = worked.spread
    told = [
        f"on soil {'half' if n < 1 else 'twice'} as stiff "
        f"{show(Q(worst_stress(result).value, 'psi'), 'psi', calc.system)}" for n, result in others
    ]  # fmt: skip
    same = show(Q(worst_stress(worked.spread[0][1]).value, "psi"), "psi", calc.system)
    calc.note(
        f"No one knows the soil's stiffness nearer than half to double. {worked.spread[0][1].case.name}: as taken {same}, "
        f"{', '.join(told)}. Check the base where that matters."
    )
    for words in (
        *worked.job.told,
        *dict.fromkeys(t for r in results for t in r.told),
    ):
        calc.note(words)
    sawn = [joint for joint in worked.job.plate.joints if joint.sawn]
    if sawn:
        calc.note(_joints(sawn))
    if worked.wheel:
        calc.note(
            "The axle is tried at places about 3 ft (0.9 m) apart both ways round, with dead load and posts; the other axle is too "
            f"far off to count. {_with_others(worked)}"
        )
    for words in NOT_KNOWN:
        calc.note(words)


def _with_others(worked: Worked) -> str:
    """Which floor and roof loads the wheel was tried with."""
    names = [
        f"{case.name}, of the wheel as well" if share < 1 else case.name
        for case, share in worked.job.with_wheel
    ]
    if not names:
        return "No floor or roof load is named that could act with it."
    return (
        f"At each place it is a live load (ASCE 7-16, 2.4.1): with D alone it counts whole, and it is tried with "
        f"{' and '.join(names)}; the case that brings most is told."
    )


def _differ(results: Sequence[PlateResult]) -> str:
    """How far the two meshes are from each other where the stresses are read."""
    read = [(r, r.worst[name]) for r in results for name in (BOTTOM, TOP) if not r.faint(name)]
    off = [(r, reading, reading.error) for r, reading in read if reading.error is not None]
    most = max((error for _, _, error in off), default=0.0)
    words = (
        f"The last two differ by {f'at most {100 * most:.1f}' if most >= 5e-4 else 'less than 0.1'} %."
    )
    far = [
        f"{r.case.name}, {reading.what.removeprefix('stress ')} ({100 * error:.0f} %)"
        for r, reading, error in off if error > AGREE
    ]  # fmt: skip
    if far:
        words += f" Those over {100 * AGREE:.0f} % are estimates: {'; '.join(far)}."
    unread = [f"{r.case.name}, {reading.what.removeprefix('stress ')}" for r, reading in read
              if reading.error is None]  # fmt: skip
    if unread:
        words += f" Read on the mesh of all cases alone, and an estimate: {'; '.join(unread)}."
    return words


def _joints(sawn: Sequence[Joint]) -> str:
    if not any(joint.spring for joint in sawn):
        return (
            "Joints bend freely and pass no shear, also through the thickened edge, as vehicle.transfer is 0: both sides "
            "are free edges. A shallow cut may not crack a thickened edge through; it then holds both sides level, and the "
            "hardest case is checked that way too."
        )
    return (
        "Joints bend freely, also through the thickened edge, and pass shear by a spring (Crovetti 1994, from memory): "
        "25 % off a free edge's stress is 60 to 90 % by deflection; 75 % is taken, and for a smaller vehicle.transfer "
        "less in proportion."
    )
