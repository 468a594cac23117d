"""What the book promises for a job, as it goes into the record: by this the outcome is measured later."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import money_mark
from calcbook.basis.units import TRADE_UNITS, Q, unit
from calcbook.book.chapters import Book
from calcbook.concrete.labor import FINISHING, finishing_inputs
from calcbook.concrete.shortfall import left_in_pump
from calcbook.job.catalog import field_at
from calcbook.job.fields import meta_of
from calcbook.job.files import JobError
from calcbook.pour.site import Missing
from calcbook.records.figures import BY_HAND, LINE_FIELDS
from calcbook.records.file import begun
from calcbook.weigh.odds import odds_of

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.price.quote import QuoteLine

_DRAWS = 20_000  # of the odds: the price for four jobs in five moves by less than a tenth of a percent


def record_start(job: Job) -> str:
    """The text that the record of a job begins with: whose it is, and what the book promises."""
    assert job.path is not None
    head = {
        "name": job.job.name, "units": job.job.units, "currency": job.currency, "date": job.pour.date,
        "by": job.job.preparer,
    }  # fmt: skip
    return begun(job.path, head, promise(Book(job)))


def promise(book: Book) -> dict[str, Any]:
    """The section [promised] of a job's record, as it is written."""
    job, quote, volume = book.job, book.quote, book.volume
    found: dict[str, Any] = {
        **({"date": job.pour.date} if job.pour.date else {}),
        "volume": _text(volume.net, "yd3", job.system),
        "area": _text(job.poured_area, "ft2", job.system),
        "thickness": _text(job.slab.thickness, "in", job.system),
        "strength": _text(job.concrete.strength, "psi", job.system),
        "line_loss": _text(left_in_pump(job), "yd3", job.system),
        "order": _text(volume.trucks.total, "yd3", job.system),
        **_floating(book),
        **_cracking(book),
        "own_set": job.pour.own_set.m_as(""),
    }
    if quote.complete:
        results = quote.calculation.results
        found |= {
            "direct": _money(results["direct"].m, job.system),
            "price": _money(results["total"].m, job.system),
            **_sure(book),
        }
    prices = job.prices
    found |= {"overhead": prices.overhead.m_as(""), "margin": prices.margin.m_as("")}
    return found | {"lines": _lines(job, quote.lines)}


def _text(value: Quantity, name: str, system: str) -> str:
    row = TRADE_UNITS[name]
    return f"{value.m_as(unit(name, system)):.6g} {row.si if system.startswith('si') else name}"


def _money(dollars: float, system: str) -> str:
    return f"{money_mark(system)}{dollars:.2f}"


def _floating(book: Book) -> dict[str, str]:
    """When floating can start at the earliest and at the latest, on the side that sets first."""
    day = book.day
    if isinstance(day, Missing) or not day.sets:
        return {}
    bands = [band["initial"] for band in day.bands.values()]
    return {
        "float_early": f"{min(float(b.early) for b in bands):.3g} h",
        "float_late": f"{min(float(b.late) for b in bands):.3g} h",
    }


def _cracking(book: Book) -> dict[str, Any]:
    """What cracks are counted against: the longest panel, the mix, and how fast the surface was to dry."""
    job, day = book.job, book.day
    found: dict[str, Any] = {"w_cm": round(float(book.mix.mix.w_cm), 3)}
    found["panel"] = _text(book.joint_plan.layout.longest, "ft", job.system)
    if not isinstance(day, Missing) and day.sets:
        found["drying"] = _text(
            Q(float(day.drying.menzel[day.drying.peak]), "lb/ft2/h"), "lb/ft2/h", job.system
        )
    return found


def _sure(book: Book) -> dict[str, Any]:
    """The price that keeps the margin as surely as the job wants; nothing where the odds are not worked out."""
    confidence = book.job.risk.confidence.m_as("")
    try:
        price = odds_of(book.quote, _DRAWS).at(confidence)
    except JobError:
        return {}
    return {"sure": _money(price, book.job.system), "confidence": confidence}


def _lines(job: Job, lines: list[QuoteLine]) -> list[dict[str, str]]:
    """The lines of the quote whose amount and price are known, those of all slabs together."""
    sums: dict[tuple[str, bool], float] = {}
    prices: dict[str, str] = {}
    for line in lines:
        work = line.kind == "labor"
        if not line.known or (not work and line.cost is None):
            continue  # nothing was promised
        amount = line.number if work else float(line.cost or 0)
        name = line.words.removesuffix(f", {line.taken.slab}") if line.taken.slab else line.words
        sums[name, work] = sums.get((name, work), 0.0) + amount
        prices[name] = line.taken.price
    return [_line(job, name, work, amount, prices[name]) for (name, work), amount in sums.items()]


def _line(job: Job, name: str, work: bool, amount: float, price: str) -> dict[str, str]:
    if not work:
        field = {"field": f"prices.{price}"} if price else {}
        return {"line": name, "cost": _money(amount, job.system), **field}
    made = {"line": name, "hours": f"{amount:.4g} h"}
    place = field_of(job, name)
    if not place:
        return made
    unit_name = meta_of(field_at(place))["unit"]
    return {**made, "field": place, "rate": _text(job.field(place).value, unit_name, job.system)}


def field_of(job: Job, line: str) -> str:
    """The field of the job file that the hours of a line rest on; "" where it is not known."""
    if line == FINISHING and not finishing_inputs(job)["n_m"]:
        return BY_HAND
    return LINE_FIELDS.get(line, "")
