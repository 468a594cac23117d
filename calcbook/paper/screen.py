"""Calculations as HTML for the notebooks: quiet black on white, one accent.

MathJax looks for dollar signs in all text, so everything is marked to be left alone except the
mathematics itself. The look stands in ``look.css`` and not in what is saved with a notebook, so that a
change of it changes no notebook.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from html import escape
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, OK, UNKNOWN, Finding, Note, Step, Table
from calcbook.basis.markup import LATEX
from calcbook.basis.safety import DEFERRAL
from calcbook.basis.sources import sources
from calcbook.book.evidence import used_by_kind
from calcbook.job.assumptions import gathered_assumptions

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation, Check
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job

MARKS = {OK: "✓", NOT_OK: "✗", UNKNOWN: "?", NEEDS_ENGINEER: "▲"}


def page(*parts: str) -> str:
    """Wrap pieces of HTML to be styled by ``look.css``; mathematics inside ``math`` only."""
    return f'<div class="cb mathjax_ignore tex2jax_ignore">{"".join(parts)}</div>'


def lines_html(text: str) -> str:
    """Plain text in lines, as for the terminal."""
    return page(f"<pre>{escape(text)}</pre>")


def math(latex: str) -> str:
    """LaTeX on a line of its own, set by MathJax."""
    return f'<div class="math mathjax_process tex2jax_process">$\\displaystyle {escape(latex)}$</div>'


def table(
    headings: Sequence[str], rows: Iterable[Sequence[Any]], numeric: Collection[int] = (), css: str = ""
) -> str:
    """A table; ``numeric`` are the columns set to the right. Cells are plain text."""
    mark = [' class="num"' if i in numeric else "" for i in range(len(headings))]
    head = "".join(f"<th{m}>{escape(h)}</th>" for m, h in zip(mark, headings, strict=True))
    body = "".join(
        "<tr>"
        + "".join(f"<td{m}>{cell_html(c)}</td>" for m, c in zip(mark, row, strict=True))
        + "</tr>"
        for row in rows
    )
    return f'<div class="wide"><table class="{css}"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'


class Markup(str):
    """HTML that is already safe."""


def cell_html(cell: object) -> str:
    """A cell of a table: Markup as it is, all else as plain text."""
    return cell if isinstance(cell, Markup) else escape(str(cell))


def status_html(status: str) -> Markup:
    """A verdict with its mark."""
    css = "status" if status == OK else "status bad"
    return Markup(f'<span class="{css}">{MARKS[status]} {escape(status)}</span>')


def inputs_html(calculation: Calculation) -> str:
    """What went in, as a table; nothing where nothing did."""
    if not calculation.inputs:
        return ""
    rows = [
        (
            Markup(f'<span class="mathjax_process">${LATEX.symbol(i.symbol)}$</span>')
            if i.symbol
            else "",
            i.meaning,
            i.text,
            f"assumed: {i.assumed}" if i.assumed else f"given: {i.place}",
        )
        for i in calculation.inputs
    ]
    return "<h3>What goes in</h3>" + table(("", "input", "value", "where from"), rows, numeric=(2,))


def steps_html(calculation: Calculation) -> str:
    """Steps with their numbers, and the notes and tables between them."""
    parts, number = [], 0
    for block in calculation.blocks:
        if isinstance(block, Step | Finding):
            number += 1
            parts.append(step_html(block, number))
        elif isinstance(block, Note):
            parts.append(f"<p>{escape(block.words)}</p>")
        elif isinstance(block, Table):
            parts.append(table_html(block))
    return "<h3>Calculation</h3>" + "".join(parts) if parts else ""


def step_html(block: Step | Finding, number: int) -> str:
    """One step under its number: why, the mathematics, flags, source."""
    flags = "".join(f'<div class="flag">{escape(f)}</div>' for f in getattr(block, "flags", ()))
    shown = (
        math(block.latex)
        if not isinstance(block.value if isinstance(block, Finding) else None, str)
        else f"<p>{escape(block.value)}</p>"
    )
    return (
        f'<div class="step"><div class="no">{number}</div><div>{_headed(block)} '
        f'<span class="src">[{escape(str(block.source))}]</span>{shown}{flags}</div></div>'
    )


def _headed(block: Step | Finding) -> str:
    """The term of a step, and the sentence that explains it."""
    words = "" if block.words.rstrip(".") == block.term else escape(block.words)
    return f"<b>{escape(block.term)}.</b> {words}" if block.term else words


def table_html(block: Table) -> str:
    """A Table of a calculation, numbers set to the right."""
    numeric = [i for i, is_number in enumerate(block.numeric) if is_number]
    source = f' <span class="src">[{escape(str(block.source))}]</span>' if block.source else ""
    rows = table(block.columns, block.rows, numeric)
    return f"<p><b>{escape(block.title)}</b>{source}</p>{rows}"


def checks_html(checks: Sequence[Check]) -> str:
    """The checks under a heading; nothing where there are none."""
    return f"<h3>Checks</h3>{checks_table(checks)}" if checks else ""


def checks_table(checks: Sequence[Check]) -> str:
    """The checks as a table."""
    rows = [
        (
            Markup(
                escape(c.claim)
                + (f'<br><span class="src">{escape(c.remark)}</span>' if c.remark else "")
                + (f"<br><b>To do:</b> {escape(c.to_do)}" if c.to_do else "")
            ),
            "" if c.ratio is None else f"{c.ratio:.2f}",
            status_html(c.status),
            str(c.clause),
        )
        for c in checks
    ]
    heads = ("check", "ratio", "verdict", "source")
    return table(heads, rows, numeric=(1,))


def results_html(calculation: Calculation) -> str:
    """The results as a table, each with the step it comes from."""
    rows = [(r.label, r.step.result_text, f"step {r.number}") for r in calculation.shown_results]
    heads = ("result", "value", "where from")
    return "<h3>Results</h3>" + table(heads, rows, numeric=(1,)) if rows else ""


def cautions_html(calculation: Calculation) -> str:
    """The cautions as a list; nothing where there are none."""
    if not calculation.cautions:
        return ""
    items = "".join(f"<li>{escape(c)}</li>" for c in calculation.cautions)
    return f"<h3>Cautions</h3><ul>{items}</ul>"


def remembered_html(calculation: Calculation) -> str:
    """Which formulas and rules of a page no document that was read stands behind; nothing where there are none."""
    titles = used_by_kind([calculation])["only memory"]
    keys = dict.fromkeys(
        c.clause.key for c in calculation.checks if sources()[c.clause.key].status == "from memory"
    )
    parts = [f"formulas: {'; '.join(titles)}"] * bool(titles) + [
        f"rules of checks: {', '.join(keys)}"
    ] * bool(keys)
    if not parts:
        return ""
    words = "Rests on memory alone; compare with the documents named before relying on it: "
    return f"<p><b>{words}</b>{escape('. '.join(parts))}.</p>"


def deferral_html() -> str:
    """Who goes before what is shown."""
    return f"<p>{escape(DEFERRAL)}</p>"


def calculation_html(calculation: Calculation) -> str:
    """The whole calculation: question, results, inputs, steps, checks, cautions."""
    return page(
        f'<div class="question">{escape(calculation.question)}</div>',
        results_html(calculation),
        checks_html(calculation.checks),
        inputs_html(calculation),
        steps_html(calculation),
        cautions_html(calculation),
        deferral_html(),
    )


def answer_html(calculation: Calculation) -> str:
    """What a page says first: the results, and the checks that are open."""
    open_checks = [c for c in calculation.checks if c.status != OK]
    count = len(calculation.checks)
    if open_checks:
        words = f"{len(open_checks)} of {count} {'check is' if count == 1 else 'checks are'} open."
        found = f"<p><b>{words}</b></p>{checks_table(open_checks)}"
    else:
        words = "its one check" if count == 1 else f"all {count} checks"
        found = f"<p>{status_html(OK)}: {words}.</p>" if count else ""
    rows = [(r.label, r.step.result_text) for r in calculation.shown_results]
    results = table(("result", "value"), rows, numeric=(1,)) if rows else ""
    heading = "<h2>Answer</h2>" if results or found else ""
    return page(heading, results, found, deferral_html())


def folded_html(calculation: Calculation) -> str:
    """What a page says after the drawing: everything else, folded, the hand calculation step by step."""
    blocks = "".join(_folded_block(block, n) for block, n in _numbered(calculation.blocks))
    count, tables = (
        len(calculation.steps),
        sum(isinstance(block, Table) for block in calculation.blocks),
    )
    words = f"Step by step ({count})" if count else f"Tables ({tables})" if tables else "Notes"
    steps = fold("steps", words, f'<div class="steps">{_ALL}{blocks}</div>' if blocks else "")
    return page(
        fold("inputs", f"What goes in ({len(calculation.inputs)})", inputs_html(calculation)),
        fold("checks", f"All checks ({len(calculation.checks)})", checks_html(calculation.checks)),
        steps,
        remembered_html(calculation),
        cautions_html(calculation),
    )


_ALL = '<button type="button" class="all">Show all</button>'


def _numbered(blocks: Iterable[Any]) -> Iterable[tuple[Any, int]]:
    number = 0
    for block in blocks:
        number += isinstance(block, Step | Finding)
        yield block, number


def _folded_block(block: Any, number: int) -> str:
    if isinstance(block, Note):
        return f"<p>{escape(block.words)}</p>"
    if isinstance(block, Table):
        return fold(f"table {block.title}", escape(block.title), table_html(block))
    result = block.result_text
    shown = f"<b>{escape(result)}</b>" if len(result) < 30 else ""
    return fold(f"step {number}", f"{number}. {escape(block.words)}{shown}", step_html(block, number))


def fold(key: str, summary: str, inside: str) -> str:
    """A part that is opened by its summary; ``key`` names it from one state of the page to the next."""
    if not inside:
        return ""
    return f'<details data-key="{escape(key)}"><summary>{summary}</summary>{inside}</details>'


def choices_html(job: Job) -> str:
    """The usual choices of a job, each priced by the whole book: a table."""
    from calcbook.weigh.choices import choices_table, priced_choices

    return page(table(*choices_table(priced_choices(job), job.system), numeric=range(1, 8)))


def headlines_html(book: Book) -> str:
    """The job at a glance: what is asked for first, open checks, then the results of every calculation."""
    checks = book.checks
    still_open = [(calculation, c) for calculation, c in checks if c.status != OK]
    head = (
        f"{len(still_open)} of {len(checks)} checks {'is' if len(still_open) == 1 else 'are'} open."
        if still_open
        else f"All {len(checks)} checks are OK."
    )
    open_rows = [
        (status_html(c.status), calculation.title, c.claim, c.to_do) for calculation, c in still_open
    ]
    rows = [
        (calculation.title if i == 0 else "", r.label, r.step.result_text)
        for calculation in book.chapters
        for i, r in enumerate(calculation.shown_results)
    ]
    headings = ("verdict", "subject", "check", "to do")
    return page(
        f"<p><b>{escape(book.job.job.name)}</b></p>",
        table(("asked for first", ""), book.headlines, numeric=(1,), css="headline"),
        f"<p><b>{escape(head)}</b></p>",
        table(headings, open_rows) if open_rows else "",
        "<h3>Results</h3>",
        table(("subject", "result", "value"), rows, numeric=(2,)),
    )


def assumptions_html(job: Job) -> str:
    """Every default in use, as a table."""
    heads = ("field", "meaning", "value", "why this default")
    return page(table(heads, gathered_assumptions(job), numeric=(2,)))
