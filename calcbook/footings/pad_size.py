"""The size of a pad that the job file leaves to its loads, under one post or several."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.footings.pad_fit import EdgeWalls, designed
from calcbook.footings.shared_design import shared_size

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.job.schema.sections import JobFile
    from calcbook.plan.outline import Edging


def pad_for(pad: Pad, file: JobFile | Job, edging: Edging) -> tuple[Quantity, Quantity, Quantity]:
    """(length, width, depth) of a pad, in inches.

    pad: its [[pads]] entry; file: the whole job file; edging: of the slab. What is given of the size is kept. Raises FormulaError where loads or soil are not
    given, or nothing that fits there passes.
    """
    if pad.posts:
        found = shared_size(pad, file, edging.outline)
        return found.L, found.B, found.d
    return designed(pad, file, edging, EdgeWalls(file))[0]
