"""The change order: what is changed in the client's words, and what that does to the price."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.pricing import cents
from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import money_text
from calcbook.basis.typeset import pdf
from calcbook.job.files import JobError
from calcbook.price.client import cover_rows, payments, scope, signed

if TYPE_CHECKING:
    from calcbook.book.chapters import Book

LAYOUT = Path(__file__).with_name("change.typ")
NOTHING = "Nothing changes in the work as it was described."


def change_pdf(old: Book, new: Book) -> bytes:
    """The change from one version of a job to another as PDF bytes. Raises JobError where a price is missing."""
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        return pdf(LAYOUT, change_data(old, new), Path(made))


def change_data(old: Book, new: Book) -> dict[str, Any]:
    """What the change order says, as plain data."""
    for book in (old, new):
        if not book.quote.complete:
            name = book.job.path.name if book.job.path else "the job"
            raise JobError(
                f"a change order needs every price of both versions; {name}: {book.quote.lacking}"[:299]
            )
    job = new.job
    before, after = (cents(book.quote.calculation.results["total"]) for book in (old, new))
    was, now = scope(old.quote), scope(new.quote)
    return {
        "title": job.job.name,
        "preparer": job.job.preparer,
        "paper": "a4" if job.system == "si" else "us-letter",
        "cover": cover_rows(job),
        "deferral": DEFERRAL,
        "was": [words for words in was if words not in now],
        "now": [words for words in now if words not in was] or ([NOTHING] if was == now else []),
        "before": money_text(before, job.system),
        "difference": signed(after - before, job.system),
        "after": money_text(after, job.system),
        "payments": [
            [name, share, money_text(amount, job.system)]
            for name, share, amount in payments(job, after)
        ],
    }
