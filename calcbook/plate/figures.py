"""The pictures of a job's plate: one map for each case that governs, a section, and the deflected shape."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.plate.model import BOTTOM, SOIL
from calcbook.plate.section import line_of
from calcbook.plate.worked import worst_stress

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.plate.result import PlateResult, Reading
    from calcbook.plate.section import Ends
    from calcbook.plate.worked import Worked

_NOTE = (
    "Dashed gray: thickened places. Dash and dot: joints. Dashed in color: walls. Black: wheels and posts. "
    "Hatched: hollow below. The cross marks the worst place."
)
_LINE = "A-A: the section shown below; slab.section_line sets another line."
_SECTION = (
    "The moment bends the slab along the line, for each foot of its width, and is drawn on the side that it pulls. No line "
    "where there is no concrete."
)


def enter_figures(calc: Calculation, job: Job, worked: Worked) -> None:
    """Enter the pictures; each is drawn when it is wanted."""
    system, most = calc.system, worked.bends_most
    line, told = line_of(job, worst_stress(most).x, worst_stress(most).y)
    if told:
        calc.note(told)
    shown = [(most, face_of(worst_stress(most)))]
    if worked.worst_wheel and worked.worst_wheel[1] is not most:
        shown.append((worked.worst_wheel[1], face_of(worst_stress(worked.worst_wheel[1]))))
    shown.append((max(worked.loaded, key=lambda result: result.worst[SOIL].value), "pressure"))
    if worked.lift:
        shown.append((worked.lift, "deflection"))
    shown += [(result, face_of(worst_stress(result))) for result in worked.warped]
    for result, kind in shown:
        at = line if result is most else None
        calc.figure(
            f"{_WORDS[kind]}, {result.case.name}",
            functools.partial(_map, result, kind, system, at),
            f"{_NOTE} {_LINE}" if at else _NOTE,
        )
    calc.figure("Section along the line A-A", functools.partial(_section, most, line, system), _SECTION)
    calc.figure("Deflected shape", functools.partial(_shape, most, system))


_WORDS = {
    "bottom": "Stress at the bottom", "top": "Stress at the top", "deflection": "Deflection",
    "pressure": "Pressure on the soil",
}  # fmt: skip


def face_of(reading: Reading) -> str:
    """Which map shows a stress."""
    return "bottom" if reading.what == BOTTOM else "top"


def _map(result: PlateResult, kind: str, system: str, line: Ends | None) -> Figure:
    from calcbook.plate.maps import plate_map

    return plate_map(result, kind, system, section=line)


def _section(result: PlateResult, line: Ends, system: str) -> Figure:
    from calcbook.plate.section import section_chart

    return section_chart(result, line, system)


def _shape(result: PlateResult, system: str) -> Figure:
    from calcbook.plate.maps import deflected_shape

    return deflected_shape(result, system)
