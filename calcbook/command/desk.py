"""The commands of one job: ``demo``, ``check``, ``quote``, ``order`` and ``weather``."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.book.chapters import Book
from calcbook.command.checks import OPEN, checks_text, status_of, tell_open
from calcbook.command.copies import notebooks_folder
from calcbook.command.outputs import check_output, inputs_of, write_out
from calcbook.command.weigh import print_choices
from calcbook.job.file import Job
from calcbook.job.files import JobError, write_whole

if TYPE_CHECKING:
    from argparse import Namespace


def run_demo(arguments: Namespace) -> int:
    """``calcbook demo``: write the demo job, its quote, order and printout. Returns the exit status."""
    from calcbook.paper.printout import compile_pdf

    folder = Path(arguments.folder)
    _make_folder(folder)
    for name in ("demo.toml", "demo-si.toml"):
        target = folder / name
        if not target.exists():  # never over a file that the user may have changed
            write_whole(target, (notebooks_folder() / name).read_bytes())
    job = Job.read(folder / "demo.toml")
    book = Book(job)
    print(book.quote.text())
    for order in book.quote.orders:
        print(order.text())
    tell_open(book)
    pdf = write_out(folder / "demo.pdf", compile_pdf(book), inputs_of(job))
    print(f"Job file:  {(folder / 'demo.toml').resolve()}")
    print(f"Printout:  {pdf}")
    print("Next:      calcbook open   (the pages)")
    return 0


def run_check(arguments: Namespace) -> int:
    """``calcbook check``: list what is open. Returns the exit status."""
    book = Book(Job.read(arguments.file, arguments.own))
    print(checks_text(book, arguments.all))
    return status_of(book)


def run_quote(arguments: Namespace) -> int:
    """``calcbook quote``: print the priced takeoff. Returns the exit status."""
    book = Book(Job.read(arguments.file, arguments.own))
    quote, inputs = book.quote, inputs_of(book.job)
    for path in filter(None, (arguments.csv, arguments.client)):
        check_output(path, inputs)
    print(quote.text())
    if arguments.odds and quote.complete:
        from calcbook.weigh.odds_report import odds_text

        print(odds_text(quote))
    if arguments.choices:
        print_choices(quote.job)
    if arguments.csv:
        print(f"Takeoff: {write_out(arguments.csv, quote.csv(), inputs)}")
    if arguments.client and quote.complete:
        from calcbook.price.client import client_pdf

        print(f"Client quote: {write_out(arguments.client, client_pdf(quote), inputs)}")
    asked = ((arguments.odds, "the odds need"), (arguments.client, "the client's page needs"))
    wanted = [words for given, words in asked if given]
    if wanted and not quote.complete:
        print(f"Left out: {' and '.join(wanted)} every price; {quote.lacking}", file=sys.stderr)
    status = tell_open(book)
    return status if quote.complete else OPEN


def run_order(arguments: Namespace) -> int:
    """``calcbook order``: print the order for the dispatcher. Returns the exit status."""
    book = Book(Job.read(arguments.file, arguments.own))
    for order in book.quote.orders:
        print(order.text())
    return tell_open(book)


def run_weather(arguments: Namespace) -> int:
    """``calcbook weather``: read hourly weather into the job file. Returns the exit status."""
    from calcbook.job.forecast_csv import read_csv, rows_for_job
    from calcbook.pour.weather import relative_humidity

    forecast, job = read_csv(arguments.csv, relative_humidity), Job.read(arguments.file)
    pour = job.pour
    if forecast.offset == 0 and pour.clock_offset is None and pour.longitude is None:
        raise JobError(
            f"{arguments.csv}: its times are in UTC; give pour.clock_offset in the job file, such as "
            '"-5 h", so that they come to the clock of the site'
        )
    job = job.save({"pour.forecast": rows_for_job(forecast, job.system)})
    print(f"{len(forecast.times)} rows, {forecast.times[0]} to {forecast.times[-1]}, are in {job.path}")
    for note in forecast.notes:
        print(note)
    return 0


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JobError(f"{folder} could not be made ({error.strerror}); name another folder") from None
