"""All calculations of a job bound into one PDF, for the builder; and any chapter alone.

The numbers and the mathematics are those of the calculations; this module only gathers them for
the page layout in ``printout.typ``. Nothing needs a network, a browser or a LaTeX installation.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook import __version__
from calcbook.basis.calculation import OK, Finding, Note, Step, Table
from calcbook.basis.markup import TYPST
from calcbook.basis.safety import cautions_of
from calcbook.basis.showing import ratio_text
from calcbook.basis.sources import STATUSES, sources
from calcbook.basis.typeset import pdf
from calcbook.book.chapters import PARTS, Book
from calcbook.book.evidence import MEANING, used_by_kind
from calcbook.job.assumptions import gathered_assumptions
from calcbook.loads.basis import on_one_line
from calcbook.paper.figures import begin_figures
from calcbook.paper.set_table import table_data
from calcbook.pour.go_no_go import NO_GO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation, Check
    from calcbook.job.file import Job
    from calcbook.weigh.compare import Comparison

LAYOUT = Path(__file__).with_name("printout.typ")
STANDING = (
    "A builder's calculation, made with checked formulas and handed to a licensed engineer for "
    "review. It is not a sealed design and does not replace one. Local codes, the building "
    "official and the engineer of record come first."
)
WIDE = 85  # characters, about, from which a row of mathematics may not fit the page
CAUTIONS = (
    "The soil, the loads and the frost depth are the user's statements. Nothing here was measured on site.",
    "Where a check says NEEDS ENGINEER, the work must not go on before a licensed engineer has answered it.",
    "Values marked “from memory” must be compared with the document named before anyone relies on them.",
)


def compile_pdf(book: Book, since: Comparison | None = None) -> bytes:
    """The printout of a Book as PDF bytes; since: a Comparison with an earlier version, for a page of changes."""
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        folder = Path(made)
        return pdf(LAYOUT, document(book, folder, since), folder)


def compile_chapter(book: Book, name: str) -> bytes:
    """One chapter of a Book alone, as PDF bytes."""
    chapter = book.calculation(name)
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        folder = Path(made)
        drawn = begin_figures([chapter], folder)()
        shown = chapter_data(chapter, number_of(book, name)) | {"figures": drawn.get(name, [])}
        data = cover_data(book.job) | {"standing": STANDING, "calculation": shown}
        return pdf(LAYOUT.with_name("chapter.typ"), data, folder)


def number_of(book: Book, name: str) -> int:
    """The number of a chapter, the same in every paper."""
    return book.names.index(name) + 1


def document(book: Book, folder: Path, since: Comparison | None = None) -> dict[str, Any]:
    """Everything the layout shows, as plain data; figures are written to the folder as SVG."""
    # the figures of a part are drawn while the next one is calculated
    drawings = [
        begin_figures(part, folder, cover=None if number else book.job)
        for number, part in enumerate(book.parts())
    ]
    chapters = book.chapters
    data = {
        **cover_data(book.job),
        "standing": STANDING,
        "revision": since.data() if since else None,
        **verdict_data(book.checks, "checks", _more(book)),
        "checks": [check_data(check) for _, check in book.checks],
        "results": _results(chapters),
        "calculations": say_cautions_once([chapter_data(c, n) for n, c in enumerate(chapters, 1)]),
        "assumptions": assumptions_data(book.job),
        "references": references_data(chapters),
        "proofs": proofs_data(chapters),
        "reference_note": " ".join(f"{word}: {meaning}." for word, meaning in STATUSES.items()),
        "cautions": [*CAUTIONS, *cautions_of("printout")],
    }
    drawn = {group: files for finish in drawings for group, files in finish().items()}
    data["cover_figure"] = drawn["cover"][0]
    for chapter, shown in zip(chapters, data["calculations"], strict=True):
        shown["figures"] = drawn.get(chapter.name, [])
    return data


def cover_data(job: Job) -> dict[str, Any]:
    """What a cover says of a job and its paper."""
    info = job.job
    rows = [
        ("Address", info.address), ("Client", info.client), ("Prepared by", info.preparer),
        ("Contact", info.contact), ("Date", info.date), ("Revision", info.revision), ("Remark", info.note),
        *on_one_line(job),
        ("Units", _units(job)), ("Worked out with", f"calcbook {__version__}"),
    ]  # fmt: skip
    return {
        "title": info.name,
        "preparer": info.preparer,
        "date": info.date,
        "paper": "a4" if job.system == "si" else "us-letter",
        "cover": [row for row in rows if row[1]],
    }


def _units(job: Job) -> str:
    if job.system == "us":
        return "US customary"
    return "SI throughout; US codes judge all the same, their limits converted"


def verdict_data(
    pairs: Sequence[tuple[Calculation, Check]], what: str, more: str = ""
) -> dict[str, Any]:
    """What a first page says of the checks: how many are open, and of each verdict how many in which chapter.

    pairs: the worst first; what: the words for all of them; more: a sentence that follows.
    """
    found: dict[str, dict[str, int]] = {}
    for chapter, check in pairs:
        if check.status != OK:
            by_chapter = found.setdefault(check.status, {})
            by_chapter[chapter.title] = by_chapter.get(chapter.title, 0) + 1
    count = sum(sum(by_chapter.values()) for by_chapter in found.values())
    told = (
        f"{count} of {len(pairs)} {what} {'is' if count == 1 else 'are'} open."
        if count
        else f"All {len(pairs)} {what} are OK."
    )
    return {
        "verdict": f"{told} {more}".strip(),
        "verdicts": [
            (
                f"{sum(by_chapter.values())} {status}",
                ", ".join(f"{title} {n}" for title, n in by_chapter.items()),
            )
            for status, by_chapter in found.items()
        ],
    }


def _more(book: Book) -> str:
    """What a builder must know besides the checks: of the morning, and of a price that lacks something."""
    price = (
        ""
        if book.quote.complete
        else f"The price is not complete (chapter {number_of(book, 'quote')})."
    )
    return " ".join(filter(None, (NO_GO if book.no_go else "", price)))


def say_cautions_once(chapters: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The same chapters, each caution once in each part of the paper: later chapters name the one that says it.

    Parts are handed out apart, so each says its own.
    """
    said: dict[str, str] = {}
    for chapter in chapters:
        if chapter["part"]:
            said = {}
        before = dict.fromkeys(said[words] for words in chapter["cautions"] if words in said)
        own = [words for words in chapter["cautions"] if words not in said]
        said |= dict.fromkeys(own, chapter["number"])
        if before:
            own.append(
                f"The cautions of chapter{'s' if len(before) > 1 else ''} {' and '.join(before)} hold here too."
            )
        chapter["cautions"] = own
    return chapters


def check_data(check: Check) -> dict[str, str]:
    """A check as finished text."""
    return {
        "claim": check.claim,
        "ratio": "" if check.ratio is None else ratio_text(check.ratio),
        "status": check.status,
        "clause": str(check.clause),
        "remark": check.remark,
        "to_do": check.to_do,
    }


def _results(chapters: Sequence[Calculation]) -> list[dict[str, str]]:
    return [
        {
            "words": result.label,
            "value": result.step.result_text,
            "step": f"{number}.{result.number}",
            "target": f"step-{number}-{result.number}",
        }
        for number, chapter in enumerate(chapters, 1)
        for result in chapter.shown_results
    ]


def chapter_data(chapter: Calculation, number: int, business: bool = True) -> dict[str, Any]:
    """A chapter as finished text; business: with what is the builder's own. Its steps keep their numbers."""

    def shown(entered: Any) -> bool:
        return business or not chapter.is_for_builder(entered)

    blocks, index = [], 0
    for block in chapter.blocks:
        index += isinstance(block, Step | Finding)
        if not shown(block):
            continue
        if isinstance(block, Step | Finding):
            blocks.append(_step(block, number, index))
        elif isinstance(block, Note):
            blocks.append({"kind": "note", "words": block.words})
        elif isinstance(block, Table):
            blocks.append(table_data(block))
    return {
        "part": chapter.part or PARTS.get(chapter.name, ""),
        "number": str(number),
        "title": chapter.title,
        "question": chapter.question,
        "inputs": [
            {
                "symbol": f"${TYPST.symbol(i.symbol)}$" if i.symbol else "",
                "meaning": i.meaning,
                "value": i.text,
                "origin": f"assumed: {i.assumed}" if i.assumed else f"given: {i.place}",
            }
            for i in chapter.inputs
            if shown(i)
        ],
        "blocks": blocks,
        "checks": [check_data(c) for c in chapter.checks if shown(c)],
        "cautions": chapter.cautions,
    }


def _step(block: Step | Finding, number: int, index: int) -> dict[str, Any]:
    in_words = isinstance(block, Finding) and isinstance(block.value, str)
    return {
        "kind": "step",
        "number": f"{number}.{index}",
        "target": f"step-{number}-{index}",
        "term": block.term,
        "symbol": f"${TYPST.symbol(block.called)}$" if block.term and block.called else "",
        "words": "" if block.words.rstrip(".") == block.term else block.words,
        "source": str(block.source),
        "math": "" if in_words else block.typst,
        "text": block.value if in_words else "",
        "flags": list(getattr(block, "flags", ())),
        "wide": isinstance(block, Step) and max(line.widest for line in block.shown) >= WIDE,
        "long": isinstance(block, Step) and len(block.shown) > 4,
    }


def assumptions_data(job: Job) -> list[dict[str, str]]:
    """The defaults in use as finished text."""
    return [
        dict(zip(("place", "meaning", "value", "why"), row, strict=True))
        for row in gathered_assumptions(job)
    ]


def references_data(chapters: Sequence[Calculation]) -> list[dict[str, str]]:
    """The documents that chapters cite, as finished text."""
    places: dict[str, dict[str, None]] = {}
    for chapter in chapters:
        for citation in chapter.sources:
            places.setdefault(citation.key, dict.fromkeys(()))[citation.place] = None
    return [
        {
            "key": key,
            "title": source.title,
            "status": source.status,
            "places": "; ".join(p for p in places[key] if p),
        }
        for key, source in sources().items()
        if key in places
    ]


def proofs_data(chapters: Sequence[Calculation]) -> list[dict[str, str]]:
    """The formulas used, by the strongest kind of proof that a test gives them."""
    found = []
    for kind, titles in used_by_kind(chapters).items():
        if titles:
            found.append(
                {
                    "kind": kind,
                    "meaning": MEANING[kind],
                    "count": str(len(titles)),
                    "formulas": "; ".join(titles),
                }
            )
    return found
