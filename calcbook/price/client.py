"""The one-page quote for the client: the work in words, one price and how it is paid, nothing of costs inside."""

from __future__ import annotations

import datetime
import io
import tempfile
from collections.abc import Iterable, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matplotlib import rc_context

from calcbook.basis.pricing import cents
from calcbook.basis.showing import fall_text, money_text, show, show_length, to_cents
from calcbook.basis.table import lookup
from calcbook.basis.typeset import pdf
from calcbook.basis.units import Q
from calcbook.job.edges import sides_alike, sides_text
from calcbook.job.files import JobError
from calcbook.job.schema.curbs import STEPS
from calcbook.job.top import top_of
from calcbook.plan.slab_drawing import plan_sketch
from calcbook.price.quote import wanted

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.calculation import TakeoffLine
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.price.quote import Quote

LAYOUT = Path(__file__).with_name("client.typ")
EXCLUDED = (
    "Permits, survey, engineer's fees and testing, unless named above.",
    "Clearing, digging, and sawing or sealing of joints, unless named above.",
    "Rock, groundwater, buried lines and soft ground found when digging.",
    "Protection from the weather beyond what is named above.",
)
TERMS = (
    "Quantities follow the outline and thicknesses given; changes are priced before the work is done. "
    "Concrete shrinks and cracks as it dries; joints guide where. "
    "The adopted local code and the building's licensed engineer go before this quote."
)
WE_SUPPLY = "We supply: materials, crew and machines for the work above."
REST = (
    "when forms, base and reinforcement are ready for the pour",
    "when the slab is poured and cured, and the site is left clean",
)
Alternate = tuple[str, Decimal]
_OURS = ("Waiting for set",)  # work that says nothing to a client
_DESCRIBED = {"concrete", "short_load_fee", "pump", "stone", "spoil", "retarder", "tape", "forms", "blanket", "wage"}  # fmt: skip
_LONGEST = 500  # characters of a sentence that lists things, so that the page stays one page


def client_pdf(quote: Quote, alternates: Sequence[Alternate] = ()) -> bytes:
    """The client's page of a complete Quote as PDF bytes. Raises JobError for one that is not.

    alternates: pairs of (words, what they add to the price), to choose from.
    """
    if not quote.complete:
        raise JobError(f"the client's quote needs every price; {quote.lacking}")
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        folder = Path(made)
        drawn, buffer = _sketch(quote.job), io.StringIO()
        with rc_context({"svg.fonttype": "none"}):
            drawn.savefig(buffer, format="svg", metadata={"Date": None})
        (folder / "plan.svg").write_text(buffer.getvalue(), encoding="utf-8")
        plan = {"file": "plan.svg", "width": f"{drawn.get_size_inches()[0]:.4f}in"}
        return pdf(LAYOUT, client_data(quote, alternates) | {"plan": plan}, folder)


def _sketch(job: Job) -> Figure:
    return plan_sketch(job.plan, job.system, 2.6, 1.9, [other.plan for other in job.others])


def cover_rows(job: Job) -> list[tuple[str, str]]:
    """Who, where and when, of those that the job says."""
    info = job.job
    rows = [("For", info.client), ("Where", info.address), ("From", info.preparer), ("Contact", info.contact), ("Date", info.date)]  # fmt: skip
    return [row for row in rows if row[1]]


def client_data(quote: Quote, alternates: Sequence[Alternate] = ()) -> dict[str, Any]:
    """What the client's page says, as plain data."""
    job = quote.job
    info, terms = job.job, job.terms
    total = cents(quote.calculation.results["total"])
    return {
        "title": info.name,
        "preparer": info.preparer,
        "paper": "a4" if job.system == "si" else "us-letter",
        "cover": cover_rows(job),
        "scope": scope(quote),
        "supplies": [WE_SUPPLY, f"You supply: {terms.client_supplies}."],
        "alternates": [[words, signed(more, job.system)] for words, more in alternates],
        "payments": [
            [name, share, money_text(amount, job.system)]
            for name, share, amount in payments(job, total)
        ],
        "excluded": [*EXCLUDED, *([f"{terms.excluded}."] if terms.excluded else [])],
        "price": quote.calculation.text("total"),
        "tax": _tax_words(job),
        "terms": f"{_holds(info.date, job.prices.valid_days)} {TERMS}",
    }


def payments(job: Job, total: Decimal) -> list[tuple[str, str, Decimal]]:
    """(when, share in words, amount) of each payment; they add up to the total to the cent.

    Without stages of its own, a job asks for what the deposit leaves in two halves.
    """
    terms = job.terms
    deposit = terms.deposit.m_as("")
    stages = [(stage.name, stage.share.m_as("")) for stage in terms.stages]
    stages = stages or [(name, (1 - deposit) / len(REST)) for name in REST if deposit < 1]
    shares = [*([("deposit, at signing", deposit)] if deposit else []), *stages]
    amounts = [to_cents(float(total) * share) for _, share in shares]
    amounts[-1] = total - sum(amounts[:-1], Decimal(0))
    return [
        (name, f"{100 * share:.4g} %", amount)
        for (name, share), amount in zip(shares, amounts, strict=True)
    ]


def signed(more: Decimal, system: str) -> str:
    """What is added to or taken off a price."""
    return f"{'+' if more >= 0 else ''}{money_text(more, system)}"


def scope(quote: Quote) -> list[str]:
    """The work in sentences: what the job file describes and the takeoff holds, nothing else."""
    job, system = quote.job, quote.job.system
    taken = [line for c in quote.calculations.values() for line in c.takeoff]
    taken = [line for line in taken if wanted(line)]
    kinds = {line.price for line in taken}
    found = [
        f"Concrete slab on grade, {show(job.plan.area, 'ft2', system)}, "
        f"{_small(job, job.slab.thickness)} thick, "
        f"concrete of {show(job.concrete.strength, 'psi', system)}."
    ]
    top = top_of(job)
    if top.plane is not None:
        where = f"to {job.slope.drain}" if job.slope.drain else "as drawn"
        found.append(f"Top sloped {where}, {_fall(job)}"
                     + ("." if top.even else f"; the greatest thickness is {_small(job, top.greatest)}."))  # fmt: skip
    found += _edge_words(job)
    if job.pads:
        names = _listed([pad.name for pad in job.pads])
        found.append(f"{_pads(job)}: {names}.")
    found += [_covering(one) for one in (job, *job.others) if one.slab.covering is not None]
    found += [_further(job, other) for other in job.others]
    if "stone" in kinds:
        found.append(f"Base of {job.base.material}, {_small(job, job.base.thickness)} compacted.")
    if "retarder" in kinds:
        found.append(f"Vapor retarder: {job.retarder.product}, {job.retarder.ends}, laps taped.")
    if "spoil" in kinds:
        found.append("Dug soil hauled away.")
    if "concrete" in kinds:
        found.append(f"Concrete delivered and placed {'by pump' if 'pump' in kinds else 'by chute'}.")
    if "blanket" in kinds:
        days = show(job.pour.blanket_days, "day").replace(" d", " days")
        found.append(f"Cover after the pour: {job.pour.blanket}, {days}.")
    work = [_bare(line) for line in taken if line.kind == "labor" and _bare(line) not in _OURS]
    if work:
        said = dict.fromkeys(w[0].lower() + w[1:] for w in work)  # of several slabs the same work once
        found.append(f"Work of the crew: {_listed(said)}.")
    more = list(dict.fromkeys(_bare(line) for line in taken if line.price not in _DESCRIBED))
    more += [extra.name for extra in job.prices.extra]
    if more:
        found.append(f"Also: {_listed(more)}.")
    return found


def _bare(line: TakeoffLine) -> str:
    """The words of a line without the slab that they end with."""
    return line.words.removesuffix(f", {line.slab}")


def _covering(job: Job) -> str:
    """What comes on top, and how flat the slab is made for it."""
    row = lookup("toppings", kind=job.slab.covering)
    gap, under = _small(job, Q(row["gap_in"], "in")), show(Q(10, "ft"), "ft", job.system)
    wait = (
        "; it is covered only when it is measured to be dry enough" if row["moisture"] == "yes" else ""
    )
    return f"Surface for: {job.slab.covering}, {gap} or less under a straightedge of {under}{wait}."


def _further(main: Job, job: Job) -> str:
    """A further slab in one sentence, with what of concrete, base and sheet differs from the main slab's."""
    name, top = job.slab.called, top_of(job)
    words = [f"{show(job.plan.area, 'ft2', job.system)}, {_small(job, job.slab.thickness)} thick"]
    if top.plane is not None:
        words.append(f"top sloped {_fall(job)}")
    words += [said.removesuffix(".").lower() for said in _edge_words(job)]
    if job.pads:
        words.append(_pads(job))
    if job.concrete.strength != main.concrete.strength:
        words.append(f"concrete of {show(job.concrete.strength, 'psi', job.system)}")
    if job.pour.pump != main.pour.pump:
        words.append(f"placed by {'pump' if job.pour.pump else 'chute'}")
    if (job.base.material, job.base.thickness) != (main.base.material, main.base.thickness):
        words.append(f"base of {job.base.material}, {_small(job, job.base.thickness)}")
    if main.retarder.laid and not job.retarder.laid:
        words.append("no vapor retarder")
    words += [f"{c.joint.kind} joint to {c.other}" for c in job.contacts]
    return f"Further slab, {name}: {'; '.join(words)}."


def _edge_words(job: Job) -> list[str]:
    """The thickened edge: all round, or side by side; then door sills and ledges, curbs, walls and steps."""
    alike, found = sides_alike(job), []
    for sides, edge in alike:
        where = "all round" if len(alike) == 1 else f"along {sides_text(sides)}"
        if edge.depth.magnitude:
            found.append(
                f"Thickened edge {where}, {_small(job, job.slab.thickness + edge.depth)} deep in all."
            )
        elif edge.against:
            found.append(f"Plain edge with an isolation strip against the wall {where}.")
    for ledge in job.plan.ledges:
        drop, width = (_small(job, Q(v, "ft")) for v in (ledge.drop, ledge.width))
        found.append(f"{ledge.name[:1].upper()}{ledge.name[1:]}: {drop} lower, {width} wide.")
    for one in job.plan.raised:
        height, width, length = (_small(job, Q(v, "ft")) for v in (one.height, one.width, one.length))
        what = f"{one.count} step{'s' * (one.count != 1)}" if one.kind == STEPS else one.kind
        named = "" if one.name.startswith(what) else f"{one.name[:1].upper()}{one.name[1:]}: "
        found.append(
            f"{named}{what} along side {one.side}, {height} high, {width} wide, {length} long."
        )
    return found


def _pads(job: Job) -> str:
    return f"{len(job.pads)} pad{'s' * (len(job.pads) != 1)} under posts"


def _fall(job: Job) -> str:
    assert job.slope.fall is not None  # nothing else slopes a top
    return fall_text(job.slope.fall, job.system)


def _small(job: Job, length: Quantity) -> str:
    return show_length(length, job.system, small=True)


def _listed(names: Iterable[str]) -> str:
    """Names in a row; what would not fit is counted."""
    waiting = list(names)
    shown: list[str] = []
    while waiting and len("; ".join([*shown, waiting[0]])) <= _LONGEST:
        shown.append(waiting.pop(0))
    return "; ".join(shown) + (f"; and {len(waiting)} more" if waiting else "")


def _holds(date: str, days: int) -> str:
    """Until when the price holds: a date where the calculation has one, else a number of days."""
    try:
        last = datetime.date.fromisoformat(date) + datetime.timedelta(days=days)
    except (ValueError, OverflowError):
        return f"This price holds for {days} days from its date."
    return f"This price holds until {last:%Y-%m-%d} ({days} days)."


def _tax_words(job: Job) -> str:
    rate = job.prices.tax.m_as("")
    return (
        f"Includes sales tax of {rate * 100:.4g} % on materials."
        if rate
        else "No sales tax is included."
    )
