"""The engineer's copy: a short form first, then the engineering chapters with the step numbers of the book.

Nothing of the builder's own business stands in it: no price, wage, margin, crew or order.
"""

from __future__ import annotations

import copy
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import OK, UNKNOWN, WORST_FIRST, Calculation, Table
from calcbook.basis.safety import cautions_of
from calcbook.basis.showing import money_mark, show
from calcbook.basis.sources import STATUSES
from calcbook.basis.typeset import pdf
from calcbook.basis.units import Quantity
from calcbook.book.registry import LATE
from calcbook.footings.edge_drawing import enter_sections
from calcbook.job.together import all_joints, all_slabs
from calcbook.paper.figures import begin_figures
from calcbook.paper.path_table import governing_links
from calcbook.paper.printout import (
    CAUTIONS,
    STANDING,
    assumptions_data,
    chapter_data,
    check_data,
    cover_data,
    number_of,
    proofs_data,
    references_data,
    say_cautions_once,
    verdict_data,
)
from calcbook.paper.rests_on import assumed_below
from calcbook.paper.set_table import table_data
from calcbook.plan.several_drawing import several_drawing
from calcbook.plan.slab_drawing import plan_drawing
from calcbook.weigh.compare_fields import fields_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Check
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job
    from calcbook.weigh.compare import Comparison
    from calcbook.weigh.compare_fields import Field

LAYOUT = Path(__file__).with_name("engineer.typ")
CHAPTERS = (
    "loads",
    "slab",
    "plate",
    "pads",
    "edges",
    "joints",
    "reinforcement",
    "bolts",
    "mix",
    "first_week",
)
ALSO_CHECKED = ("base", "retarder")  # of these only the checks are shown
GOVERNS = 0.5  # ratio from which a check stands in the short form
NOT_CHECKED = (
    "The building above the plates: framing, diaphragms, shear walls, hold-downs, headers, and its whole stability.",
    "Settlement of the soil, swelling clay, fill, slopes, groundwater, and soil that differs from what is stated.",
    "Earthquake forces: those of the walls are taken as given.",
    "Attack of sulfates, salts and acids on concrete and steel (ACI 318 exposure classes S, W and C).",
    "Lines and drains in and under the slab, and what they cut through.",
)
NOT_IN_SHORT = (
    "The whole plan as a plate: worked out in the engineer's whole copy only, which takes longer."
)
_BUSINESS = ("prices", "crew", "risk", "terms", "suppliers", "answers")
_BUSINESS_KEYS = {
    "concrete.order_step", "concrete.short_risk", "pour.truck_capacity", "pour.minimum_load", "pour.truck_spacing",
    "pour.line_loss", "job.own", "job.contact",
}  # fmt: skip


def engineer_pdf(book: Book, since: Comparison | None = None, appendix: bool = True) -> bytes:
    """The engineer's copy of a Book as PDF bytes.

    since: a Comparison with an earlier version, for a page of what changed; appendix: False for the short
    form alone.
    """
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        folder = Path(made)
        return pdf(LAYOUT, engineer_data(book, folder, since, appendix), folder)


def engineer_data(
    book: Book, folder: Path, since: Comparison | None = None, appendix: bool = True
) -> dict[str, Any]:
    """Everything the layout shows, as plain data; figures are written to the folder as SVG."""
    job = book.job
    names = book.named_so(name for name in CHAPTERS if appendix or name not in LATE)
    chapters = [_without_business(book.calculation(name)) for name in names]
    shown = [_plans(book), *(chapters if appendix else ())]
    finish = begin_figures(shown, folder, cover=job)
    checks = list(engineering_checks(book, names))
    data = {
        **cover_data(job),
        "standing": STANDING,
        "appendix": appendix,
        "revision": _changes(since) if since else None,
        **verdict_data(checks, "checks of the engineering chapters"),
        "open": [_with_chapter(c, k) for c, k in checks if k.status != OK],
        "governing": [
            _with_chapter(c, k) | {"assumed": ", ".join(assumed_below(c, k))}
            for c, k in _by_ratio(checks)
            if (k.ratio or 0) >= GOVERNS
        ],
        "walls": governing_links(job, checks, book.calculation("bolts")),
        "least": f"{GOVERNS:g}",
        "not_checked": [
            *(f"{c.title}: {k.title}. {k.to_do}" for c, k in checks if k.status == UNKNOWN),
            *NOT_CHECKED,
            *((NOT_IN_SHORT,) if not appendix else ()),
        ],
        "inputs": list(inputs_echoed(job).items()),
        "assumptions": [row for row in assumptions_data(job) if not _is_business(row["place"])],
        "loads": [table_data(b) for b in chapters[0].blocks if isinstance(b, Table)],
        "calculations": say_cautions_once(
            [
                chapter_data(book.calculation(c.name), number_of(book, c.name), business=False)
                for c in (chapters if appendix else ())
            ]
        ),
        "references": references_data(chapters),
        "proofs": proofs_data(chapters),
        "reference_note": " ".join(f"{word}: {meaning}." for word, meaning in STATUSES.items()),
        "cautions": [*CAUTIONS, *cautions_of("printout")],
    }
    drawn = finish()
    data["cover_figure"] = drawn["cover"][0]
    data["plans"] = drawn["plans"]
    for calculation, chapter in zip(data["calculations"], chapters, strict=False):
        calculation["figures"] = drawn.get(chapter.name, [])
    return data


def engineering_checks(book: Book, names: Sequence[str] = ()) -> list[tuple[Calculation, Check]]:
    """Pairs of (calculation, check) that an engineer judges, the worst verdict first; names: of chapters."""
    shown = names or book.named_so(CHAPTERS)
    chapters = [book.calculation(name) for name in (*shown, *book.named_so(ALSO_CHECKED))]
    pairs = [(c, k) for c in chapters for k in c.checks if not c.is_for_builder(k)]
    return sorted(pairs, key=lambda pair: WORST_FIRST.index(pair[1].status))


def inputs_echoed(job: Job) -> dict[str, list[tuple[str, str]]]:
    """Everything the job file gives, but for the builder's own business: section -> (key, value) pairs."""
    found: dict[str, list[tuple[str, str]]] = {}
    for field in fields_of(job).values():
        if field.given and field.text not in ("", "there") and not _is_business(field.place):
            section, _, key = field.place.rpartition(".")
            found.setdefault(section, []).append((key.replace("_", " "), _as_given(field, job.system)))
    return found


def _as_given(field: Field, system: str) -> str:
    """A quantity to five figures: what is given is not rounded as a result is."""
    if isinstance(field.value, Quantity) and field.unit:
        return show(field.value, field.unit, system, digits=5)
    return field.text


def _is_business(place: str) -> bool:
    section, _, rest = place.replace(" ", ".").partition(".")
    key = rest.rpartition(".")[2]
    return section in _BUSINESS or key.endswith("_rate") or f"{section}.{key}" in _BUSINESS_KEYS


def _without_business(chapter: Calculation) -> Calculation:
    """The chapter without the figures that are the builder's own; its steps are left out where it is shown."""
    shown = copy.copy(chapter)
    shown.figures = [f for f in chapter.figures if not chapter.is_for_builder(f)]
    shown.blocks = [b for b in chapter.blocks if not chapter.is_for_builder(b)]
    shown.checks = [c for c in chapter.checks if not chapter.is_for_builder(c)]
    return shown


def _plans(book: Book) -> Calculation:
    """Plan and section of a job as figures of their own."""
    job = book.job
    made = Calculation("plans", "Plan and section", "What is built?", job.system)
    plan, system = job.plan, job.system
    made.figure("Plan", lambda: plan_drawing(plan, system, height=5.6))
    if job.others:
        slabs, joints = all_slabs(job), all_joints(job)
        made.figure("Plan of all slabs", lambda: several_drawing(slabs, joints, system, height=5.6))
        for other in job.others:
            made.figure(f"Plan: {other.slab.called}", _plan_of(other))
    enter_sections(made, job)
    return made


def _plan_of(job: Job) -> Callable[[], Figure]:
    plan, title = job.plan, f"Plan: {job.slab.called}"
    return lambda: plan_drawing(plan, job.system, title, height=5.6)


def _by_ratio(checks: list[tuple[Calculation, Check]]) -> list[tuple[Calculation, Check]]:
    return sorted(checks, key=lambda pair: -(pair[1].ratio or 0.0))


def _with_chapter(chapter: Calculation, check: Check) -> dict[str, str]:
    return check_data(check) | {"chapter": chapter.title}


def _changes(since: Comparison) -> dict[str, Any]:
    """What changed, without price and crew."""
    told = since.data()
    titles = {
        book_calculation.title
        for book_calculation in map(since.new_book.calculation, since.new_book.named_so(CHAPTERS))
    }
    parts, money = [], money_mark(since.new.system).strip()
    for part in told["parts"]:
        if part["title"] == "Inputs":
            rows = [row for row in part["rows"] if not _is_business(row[0])]
        else:
            rows = [row for row in part["rows"] if row[0] in titles and money not in "".join(row)]
        if rows:
            parts.append({"title": part["title"], "rows": rows})
    return {"title": told["title"], "summary": [], "parts": parts}
