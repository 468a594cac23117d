"""The pictures of a job's plate: one map for each case that governs, a section, and the deflected shape."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.plate.worked import BOTTOM, SOIL, worst_stress

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Calculation
    from calcbook.plate.result import PlateResult, Reading
    from calcbook.plate.worked import Worked

_NOTE = (
    "Dashed gray: thickened places. Dash and dot: joints. Dashed in color: walls. Black: wheels and posts. "
    "Hatched: hollow below. The cross marks the worst place."
)


def enter_figures(calc: Calculation, worked: Worked) -> None:
    """Enter the pictures; each is drawn when it is wanted."""
    system, most = calc.system, worked.bends_most
    shown = [(most, face_of(worst_stress(most)))]
    if worked.worst_wheel and worked.worst_wheel[1] is not most:
        shown.append((worked.worst_wheel[1], face_of(worst_stress(worked.worst_wheel[1]))))
    shown.append((max(worked.loaded, key=lambda result: result.worst[SOIL].value), "pressure"))
    if worked.lift:
        shown.append((worked.lift, "deflection"))
    shown.append((worked.sun, face_of(worst_stress(worked.sun))))
    for result, kind in shown:
        calc.figure(
            f"{_WORDS[kind]}, {result.case.name}", functools.partial(_map, result, kind, system), _NOTE
        )
    a, b = through(most, worst_stress(most))
    for n, words in enumerate(("Deflection", "Stress")):
        calc.figure(
            f"{words} along a line through the worst place",
            functools.partial(_section, most, a, b, system, n),
        )
    calc.figure("Deflected shape", functools.partial(_shape, most, system))


_WORDS = {
    "bottom": "Stress at the bottom", "top": "Stress at the top", "deflection": "Deflection",
    "pressure": "Pressure on the soil",
}  # fmt: skip


def face_of(reading: Reading) -> str:
    """Which map shows a stress."""
    return "bottom" if reading.what == BOTTOM else "top"


def through(result: PlateResult, reading: Reading) -> tuple[tuple[float, float], tuple[float, float]]:
    """The line along x through a place, from side to side of the plan, ft."""
    x0, _, x1, _ = result.plate.outlines[0].bounds
    return (x0, reading.y), (x1, reading.y)


def _map(result: PlateResult, kind: str, system: str) -> Figure:
    from calcbook.plate.maps import plate_map

    return plate_map(result, kind, system)


def _section(
    result: PlateResult, a: tuple[float, float], b: tuple[float, float], system: str, n: int
) -> Figure:
    from calcbook.plate.maps import section_chart

    return section_chart(result, a, b, system)[n]


def _shape(result: PlateResult, system: str) -> Figure:
    from calcbook.plate.maps import deflected_shape

    return deflected_shape(result, system)
