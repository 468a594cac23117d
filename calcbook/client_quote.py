"""The one-page quote for the client: the work in words and one price, nothing of costs inside."""

import json
import tempfile
from pathlib import Path

from calcbook.job import JobError
from calcbook.units import show, show_length

LAYOUT = Path(__file__).with_name("client_quote.typ")
EXCLUDED = (
    "Permits, survey, engineer's fees and testing, unless named above.",
    "Rock, groundwater, buried lines and soft ground found when digging.",
    "Winter protection beyond what is named above.",
)
TERMS = (
    "This price holds for 30 days from its date. Quantities follow the outline and thicknesses given; "
    "changes are priced before the work is done. Concrete cracks; joints are placed to guide where."
)


def client_pdf(quote):
    """The client's page of a complete Quote as PDF bytes. Raises JobError while prices are missing."""
    import typst

    if not quote.complete:
        missing = ", ".join(line.words for line in quote.lines if line.cost is None)
        raise JobError(
            f"the client's quote needs every price; missing: {missing}. Add them to [prices]"
        )
    with tempfile.TemporaryDirectory(prefix="calcbook-") as folder:
        folder = Path(folder)
        (folder / "data.json").write_text(json.dumps(client_data(quote)), encoding="utf-8")
        (folder / "main.typ").write_text(LAYOUT.read_text(encoding="utf-8"), encoding="utf-8")
        return typst.compile(str(folder / "main.typ"), root=str(folder))


def client_data(quote):
    """What the client's page says, as plain data."""
    job = quote.job
    info = job.job
    rows = [("For", info.client), ("Where", info.address), ("From", info.preparer), ("Contact", info.contact), ("Date", info.date)]  # fmt: skip
    return {
        "title": info.name,
        "preparer": info.preparer,
        "paper": "a4" if job.system == "si" else "us-letter",
        "cover": [row for row in rows if row[1]],
        "scope": scope(job),
        "excluded": list(EXCLUDED),
        "price": quote.calculation.text("total"),
        "tax": _tax_words(job),
        "terms": TERMS,
    }


def scope(job):
    """The work in sentences, from the job file."""
    system = job.system
    thick = show_length(job.slab.thickness, system, small=True)
    found = [
        f"Concrete slab on grade, {show(job.plan.area, 'ft2', system)}, {thick} thick, "
        f"concrete of {show(job.concrete.strength, 'psi', system)}.",
        f"Base of {job.base.material}, {show_length(job.base.thickness, system, small=True)} compacted.",
        f"Vapor retarder: {job.retarder.product}, laps taped.",
    ]
    if job.plan.edge:
        total = job.slab.thickness + job.edge.depth
        found.append(f"Thickened edge all round, {show_length(total, system, small=True)} deep in all.")
    if job.pads:
        found.append(f"{len(job.pads)} pads under posts, as the drawings name them.")
    found.append("Forms, placing, finishing by machine, and sawn joints.")
    return found


def _tax_words(job):
    rate = job.prices.tax.m_as("")
    return (
        f"Includes sales tax of {rate * 100:.4g} % on materials."
        if rate
        else "No sales tax is included."
    )
