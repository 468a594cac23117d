"""What to load the evening before: tools by people and work, machines, cover, water, first aid."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.rounding import ceil
from calcbook.basis.showing import show
from calcbook.basis.table import table

if TYPE_CHECKING:
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job

DARK = 17.0  # hour of the clock after which lamps are loaded


def load_list(book: Book, last_hour: float | None) -> dict[str, list[str]]:
    """What is loaded, by kind of work.

    last_hour: hour of the clock at which finishing may end, counted on over midnight; None where it is not known.
    """
    job = book.job
    counts = _counts(book)
    slabs = [job, *(other for other in job.others if other.pour.date == job.pour.date)]
    holds = {
        "chute": not all(slab.pour.pump for slab in slabs),
        "hand screed": job.crew.screed == "hand",
        "edge": job.plan.edge is not None,
        "drilled": any(w.method == "drilled" for w in job.bolted_walls),
        "machines": job.crew.power_trowels > 0 or job.crew.screed == "power",
        "blanket": job.pour.blanket != "none",
        "dark": last_hour is None or last_hour > DARK,
        "": True,
    }
    found: dict[str, list[str]] = {}
    for row in table("evening"):
        number = int(ceil(row["number"] * counts[row["for_each"]]))
        if number and holds[row["when"]]:
            words = row["item"] if number == 1 else f"{number} × {row['item']}"
            found.setdefault(row["kind"], []).append(words)
    if job.pour.blanket != "none":
        covered = [one.plan.gross_area for one in slabs if one.pour.blanket == job.pour.blanket]
        area = show(sum(covered[1:], covered[0]), "ft2", job.system)
        found.setdefault("Cover", []).insert(
            0, f"{job.pour.blanket}, {area} and more for laps and double edges"
        )
    found.setdefault("Machines", [])[:0] = machines(job)
    return found


def _counts(book: Book) -> dict[str, float]:
    crew = book.job.crew
    cast, anchors = (
        sum(
            line.amount
            for line in book.calculation("bolts").takeoff
            if line.price == price and line.amount
        )
        for price in ("bolt", "hold_down_anchor")
    )
    return {
        "job": 1, "person": max(crew.size, crew.finishers), "finisher": crew.finishers,
        "trowel": crew.power_trowels, "cast bolt": cast, "hold-down anchor": anchors,
    }  # fmt: skip


def machines(job: Job) -> list[str]:
    """The machines that come along: hired, with pickup, and the crew's own."""
    found, hired = [], " ".join(r.name.lower() for r in job.prices.rental)
    for rental in job.prices.rental:
        source = rental.source or "supplier not named"
        pick_up = rental.pick_up or "time and place not given"
        found.append(f"hired: {rental.name}, from {source}; pickup: {pick_up}")
    if job.crew.machines:
        found.append(f"own: {job.crew.machines}")
    else:
        own = (
            [f"{job.crew.power_trowels} × power trowel"]
            if job.crew.power_trowels and "trowel" not in hired
            else []
        )
        own += ["power screed"] if job.crew.screed == "power" and "screed" not in hired else []
        found += [f"own, or still to be hired: {name}" for name in own]
    return found
