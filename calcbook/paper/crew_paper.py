"""The crew's page as PDF of one or two pages in large type, and as one page for the telephone."""

from __future__ import annotations

import html
import io
import re
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from matplotlib import rc_context

from calcbook.basis.typeset import page_count, pdf
from calcbook.paper.crew import crew_data, crew_plan

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from matplotlib.figure import Figure

    from calcbook.book.chapters import Book

LAYOUT = Path(__file__).with_name("crew.typ")
STYLE = Path(__file__).with_name("crew.css")
# points, and whether the day begins a page of its own; the first in which it fits
SIZES = (12.0, True), (11.0, True), (10.0, True), (9.0, True), (9.0, False), (8.0, True), (8.0, False)
MOST_PAGES = 2
COLUMNS = 3  # of the tape lists of bolts
HEAD = 4  # lines that the head of a list takes
FEWEST = 4  # bolts that may stand apart from the rest of their wall
S = TypeVar("S")


def crew_pdf(book: Book, data: dict[str, Any] | None = None) -> bytes:
    """The crew's page as PDF bytes, in the largest letters that need two pages; data: of ``crew_data``."""
    data = data or crew_data(book)
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        folder = Path(made)
        drawn = crew_plan(book, 4.3, 3.7)
        (folder / "plan.svg").write_text(_svg(drawn, letters=True), encoding="utf-8")
        plan = {"file": "plan.svg", "width": f"{drawn.get_size_inches()[0]:.4f}in"}

        def of_size(setting: tuple[float, bool]) -> tuple[bool, bytes]:
            size, parted = setting
            look = {"size": size, "parted": parted, "plan": plan, "bolts": bolt_columns(data["bolts"])}
            paper = pdf(LAYOUT, data | look, folder)
            return page_count(paper) <= MOST_PAGES, paper

        return largest_that_fits(SIZES, of_size)


def largest_that_fits(sizes: Sequence[S], of_size: Callable[[S], tuple[bool, bytes]]) -> bytes:
    """The paper in the first of falling sizes that fits, else in the last: by halving, as each is set anew.

    of_size: sets the paper in a size, and says whether it fits.
    """
    low, high, best = 0, len(sizes) - 1, b""
    while low < high:
        middle = (low + high) // 2
        fits, paper = of_size(sizes[middle])
        if fits:
            high, best = middle, paper
        else:
            low = middle + 1
    return best or of_size(sizes[low])[1]


def bolt_columns(walls: Sequence[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """The tape lists of the walls in columns as even as their order allows; a long list goes on in the next.

    walls: each with its title ("wall: where the tape is held") and its rows. Returns columns of lists with the head
    in two parts and the rows.
    """
    if not walls:
        return []
    height = -(-sum(HEAD + len(wall["rows"]) for wall in walls) // COLUMNS)
    while len(columns := _filled(walls, height)) > COLUMNS:
        height += 1
    return columns


def _filled(walls: Sequence[dict[str, Any]], height: int) -> list[list[dict[str, Any]]]:
    """Columns of a height in lines, filled in order."""
    columns: list[list[dict[str, Any]]] = [[]]
    room = height
    for wall in walls:
        name, _, where = wall["title"].partition(":")
        head, rows = (f"{name}:", where), wall["rows"]
        while rows:
            fits = len(rows) if HEAD + len(rows) <= room else room - HEAD
            if fits < min(len(rows), FEWEST) or 0 < len(rows) - fits < FEWEST:
                if columns[-1]:  # too little of it would stand alone on either side
                    columns.append([])
                    room = height
                    continue
                fits = max(min(len(rows), height - HEAD), 1)
            columns[-1].append({"head": head, "rows": rows[:fits]})
            rows, room = rows[fits:], room - HEAD - fits
            head = (f"{name},", " goes on")
    return columns


def _svg(figure: Figure, letters: bool) -> str:
    """A figure as SVG; letters: as text, else as shapes, which look the same on every telephone."""
    buffer = io.StringIO()
    with rc_context({"svg.fonttype": "none" if letters else "path"}):
        figure.savefig(buffer, format="svg", metadata={"Date": None})
    return buffer.getvalue()


def crew_html(book: Book, data: dict[str, Any] | None = None) -> str:
    """The crew's page as one page of HTML that needs no network and reads on a narrow screen."""
    data = data or crew_data(book)
    drawn = _svg(phone_plan(book), letters=False)
    drawn = re.sub(
        r'width="[\d.]+pt" height="[\d.]+pt"', 'width="100%"', drawn[drawn.index("<svg") :], count=1
    )
    parts = [
        f"<h1>{_(data['title'])}</h1>", f"<p><b>{_(data['when'])}</b><br>{_(data['where'])}</p>", _table(data["calls"]),
        f'<p class="open"><b>{_(" ".join(filter(None, (data["no_go"], "Still open:"))))}</b> {_("; ".join(data["open"]))}</p>' if data["open"] else "",
        "<h2>The day</h2>", f'<p class="open">{_(data["no_clock"])}</p>' if data["no_clock"] else "", _table(data["clock"]),
        *_pours(data["pours"]),
        "<p>The clock is a forecast; the slab's own signs count more:</p>", _table(data["signs"]),
        "<h2>If it does not come</h2>", f"<p><b>{_(data['decide'])}</b></p>",
        _table([[name, f"needed at {at}" if at else "", words] for name, at, words in data["missing"]]),
        "<h2>Plan</h2>", f'<div class="plan" role="img" aria-label="Plan of the slab">{drawn}</div>',
        "<h2>Concrete</h2>", _table(data["concrete"]), "<h2>Down from the top of the forms</h2>", _table(data["grades"]),
        *_tables(data["tables"]), "<h2>Joints to snap</h2>", _list(data["joints"]),
        *_bolts(data["bolts"]), *_tables(data["anchors"]),
        "<h2>Load the evening before</h2>", *(f"<h3>{_(kind)}</h3>{_list(things)}" for kind, things in data["load"]),
        "<h2>Cautions</h2>", _list(data["cautions"]),
    ]  # fmt: skip
    style = STYLE.read_text(encoding="utf-8")
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><meta name="generator" content="calcbook">'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><title>{_(data["title"])}</title>'
        f"<style>{style}</style></head><body><main>\n{chr(10).join(filter(None, parts))}\n"
        f"<footer>{_(data['deferral'])}</footer></main></body></html>\n"
    )


def phone_plan(book: Book) -> Figure:
    """The plan so small that its letters are large on a narrow screen."""
    return crew_plan(book, 2.7, 5.0)


def _(words: str) -> str:
    return html.escape(words)


def _list(things: Iterable[str]) -> str:
    return "<ul>" + "".join(f"<li>{_(thing)}</li>" for thing in things) + "</ul>"


def _table(rows: Iterable[Iterable[str]]) -> str:
    """Rows of cells, the first a heading; on a narrow screen the last ones go below."""
    made = (
        f'<div class="row"><b>{_(first)}</b>'
        + "".join(f"<span>{_(cell)}</span>" for cell in rest if cell)
        + "</div>"
        for first, *rest in rows
    )
    return f'<div class="rows">{"".join(made)}</div>'


def _tables(tables: list[dict[str, Any]]) -> Iterable[str]:
    for table in tables:
        yield f"<h2>{_(table['title'])}</h2>" + (
            f"<p>{_(words)}</p>" if (words := table.get("words")) else ""
        )
        yield _table(
            [
                row[0],
                *(f"{name} {cell}" for name, cell in zip(table["columns"][1:], row[1:], strict=True)),
            ]
            for row in table["rows"]
        )


def _pours(pours: list[dict[str, Any]]) -> Iterable[str]:
    """The pours from other orders than the first."""
    for pour in pours:
        yield f"<h2>The pour of {_(pour['name'])}: {_(pour['when'])}</h2>"
        if pour["no_clock"]:
            yield f'<p class="open">{_(pour["no_clock"])}</p>'
        yield _table(pour["concrete"]) + _table(pour["clock"])


def _bolts(walls: list[dict[str, Any]]) -> Iterable[str]:
    if walls:
        yield "<h2>Bolts: where the tape reads, and how far each may stray</h2>"
    for wall in walls:
        name, _gap, how = wall["title"].partition(":")
        cells = "".join(
            f"<tr><td>{_(n)}</td><td><b>{_(at)}</b></td><td>± {_(stray)}</td></tr>"
            for n, at, stray in wall["rows"]
        )
        yield f"<h3>Wall {_(name)}</h3><p>{_(how.strip())}</p><table>{cells}</table>"
