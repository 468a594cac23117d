"""The design basis of a job: what the building is designed by, and what of it is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calcbook.job.file import Job

ROWS = (  # field of [design], words, symbol
    ("code", "governing code and edition", ""),
    ("risk", "risk category", ""),
    ("wind", "design wind speed", "V"),
    ("exposure", "wind exposure", ""),
    ("snow", "ground snow load", "p_g"),
    ("seismic", "seismic design category", ""),
    ("soils_report", "soils report", ""),
    ("soils_date", "date of the soils report", ""),
    ("loads_by", "who gave the loads", ""),
    ("loads_date", "date of the loads", ""),
)


def given(job: Job, key: str) -> bool:
    """Whether a field of [design] is given."""
    return getattr(job.design, key) not in (None, "")


def missing(job: Job) -> list[str]:
    """What of the design basis is not given, in words; the frost depth stands under [soil]."""
    frost = ["frost depth"] if job.soil.frost_depth is None else []
    return [words for key, words, _ in ROWS if not given(job, key)] + frost


def on_one_line(job: Job) -> list[tuple[str, str]]:
    """The design basis for a cover: pairs of words, with what is missing said."""
    design = job.design
    told = [job.field(f"design.{key}").text for key in ("code", "risk", "wind", "exposure", "snow", "seismic")
            if given(job, key)]  # fmt: skip
    names = ("", "risk category ", "wind ", "exposure ", "snow ", "seismic category ")
    keys = [k for k in ("code", "risk", "wind", "exposure", "snow", "seismic") if given(job, k)]
    labels = dict(zip(("code", "risk", "wind", "exposure", "snow", "seismic"), names, strict=True))
    words = ", ".join(labels[k] + t for k, t in zip(keys, told, strict=True))
    rows = [("Design basis", words)] if words else []
    for label, who, when in (
        ("Soils report", design.soils_report, design.soils_date), ("Loads by", design.loads_by, design.loads_date),
    ):  # fmt: skip
        if who:
            rows.append((label, ", ".join(filter(None, (who, when)))))
    lacking = missing(job)
    return [*rows, ("Not given", ", ".join(lacking))] if lacking else rows
