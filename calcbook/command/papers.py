"""``calcbook print``: a paper for one reader, or all of them, or one chapter alone."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.book.chapters import Book
from calcbook.command.checks import status_of
from calcbook.command.outputs import check_output, inputs_of, write_out
from calcbook.job.file import Job, JobError

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Iterator

    from calcbook.weigh.compare import Comparison

Made = tuple[str, str | bytes]  # the ending of a file's name, and what it holds
ENDINGS = {
    "engineer": "-engineer.pdf", "builder": ".pdf", "crew": "-crew.pdf", "client": "-client.pdf",
    "supplier": "-suppliers.pdf",
}  # fmt: skip


def run_print(arguments: Namespace) -> int:
    """``calcbook print``: write what is asked for and say where it is. Returns the exit status."""
    return status_of(_printed(arguments))


def _printed(arguments: Namespace) -> Book:
    """The Book, when its papers are written."""
    job = Job.read(arguments.file, arguments.own)
    old = Job.read(arguments.since) if arguments.since else None
    inputs = inputs_of(*filter(None, (job, old)))
    book = Book(job)
    base = Path(arguments.file).with_suffix("")
    if arguments.reader == "all" and not arguments.chapter:
        folder = Path(arguments.output) if arguments.output else base.parent
        if not folder.is_dir():
            raise JobError(f"{folder} is no folder; all papers are written into a folder that is there")
        for reader in ENDINGS:
            ending = "-change.pdf" if old and reader == "client" else ENDINGS[reader]
            if reader == "client" and not book.quote.complete:
                print(
                    f"Left out: the client's page needs every price; {book.quote.lacking}",
                    file=sys.stderr,
                )
                continue
            _write(_papers(book, reader, arguments, old), folder / f"{base.name}{ending}", inputs)
        return book
    ending = f"-{arguments.chapter}.pdf" if arguments.chapter else ENDINGS[arguments.reader]
    if old and arguments.reader == "client" and not arguments.chapter:
        ending = "-change.pdf"
    path = Path(arguments.output) if arguments.output else base.with_name(base.name + ending)
    check_output(path, inputs)
    made = (
        _chapter(book, arguments.chapter)
        if arguments.chapter
        else _papers(book, arguments.reader, arguments, old)
    )
    _write(made, path, inputs)
    return book


def _write(made: Iterator[Made], path: Path, inputs: list[Path]) -> None:
    for ending, data in made:
        target = path if ending == ".pdf" else path.with_suffix(ending)
        print(f"Written: {write_out(target, data, inputs)}")


def _chapter(book: Book, name: str) -> Iterator[Made]:
    from calcbook.paper.printout import compile_chapter

    if name not in book.names:
        raise JobError(f"--chapter {name}: the chapters are {', '.join(book.names)}")
    yield ".pdf", compile_chapter(book, name)


def _papers(book: Book, reader: str, arguments: Namespace, old: Job | None) -> Iterator[Made]:
    """The files of one reader's paper, the PDF first."""
    if reader == "engineer":
        from calcbook.paper.engineer import engineer_pdf

        yield ".pdf", engineer_pdf(book, _comparison(old, book), appendix=not arguments.short)
    elif reader == "builder":
        from calcbook.paper.printout import compile_pdf

        yield ".pdf", compile_pdf(book, _comparison(old, book))
    elif reader == "crew":
        from calcbook.paper.crew import crew_data
        from calcbook.paper.crew_paper import crew_html, crew_pdf

        data = crew_data(book)
        yield ".pdf", crew_pdf(book, data)
        yield ".html", crew_html(book, data)
    elif reader == "client":
        yield ".pdf", _change(book, old) if old else _client(book)
    else:
        from calcbook.price.suppliers import suppliers_csv, suppliers_pdf

        yield ".pdf", suppliers_pdf(book.quote)
        yield ".csv", suppliers_csv(book.quote)


def _comparison(old: Job | None, book: Book) -> Comparison | None:
    from calcbook.weigh.compare import Comparison

    return Comparison(old, book.job, book) if old else None


def _client(book: Book) -> bytes:
    from calcbook.price.client import client_pdf
    from calcbook.weigh.choices import alternates

    return client_pdf(book.quote, alternates(book.job) if book.quote.complete else ())


def _change(book: Book, old: Job) -> bytes:
    from calcbook.paper.change import change_pdf

    return change_pdf(Book(old, book), book)
