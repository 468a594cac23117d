"""How the chapter on the slab as a plate begins, and all of it where the job asks for none.

Apart from the rest, which a job without a plate does not load.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found

if TYPE_CHECKING:
    from calcbook.job.file import Job


def begun(job: Job) -> Calculation:
    """The chapter with its question, and what the job asks."""
    calc = Calculation(
        "plate", "The slab as a plate on the ground",
        "Does the slab, with its edges, openings and joints, bear all that stands on it at once?", job.system,
    )  # fmt: skip
    calc.given(job, "slab.plate")
    return calc


def not_asked(job: Job) -> Found:
    """The chapter of a job that asks for no plate."""
    calc = begun(job)
    calc.note("The job asks for no plate ([slab] plate = false), so none is worked out.")
    return Found(calc)
