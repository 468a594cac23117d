"""The command ``calcbook``.

Exit status: 0 fine, 1 a check is open (or the quote is incomplete), 2 bad input, or output that cannot be written;
3 a fault of the book; 130 stopped by Ctrl-C.
"""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook import __version__
from calcbook.command import stop, weigh
from calcbook.command.copies import notebooks_folder
from calcbook.command.fields import run_fields
from calcbook.command.new import run_new
from calcbook.command.outputs import check_output, inputs_of, write_out
from calcbook.command.prices import run_prices
from calcbook.command.run_value import run_value
from calcbook.job.file import Job, JobError
from calcbook.job.files import write_whole

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.book.chapters import Book

OK, OPEN_CHECK, BAD_INPUT, FAULT, STOPPED = 0, 1, 2, 3, 130
READERS = ("engineer", "builder", "crew", "client", "supplier")


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command and return its exit status."""
    arguments = _parser().parse_args(argv)
    try:
        if sys.stdout is None:
            raise ValueError("there is no output to write to: it is closed")
        status = arguments.run(arguments)
        sys.stdout.flush()  # a reader that has gone, as behind | head, shows here at the latest
        return status
    except JobError as error:
        print("\n".join(map(_seen, error.problems)), file=sys.stderr)
    except ValueError as error:
        print(_seen(str(error)), file=sys.stderr)
    except BrokenPipeError:
        _no_more_output()
        return OK
    except KeyboardInterrupt:
        return _stopped()
    except OSError as error:
        _no_more_output()
        print(f"it could not be written ({_seen(error.strerror or str(error))})", file=sys.stderr)
    except Exception as error:
        return _stopped() if _was_stopped(error) else _fault(error)
    return BAD_INPUT


def _stopped() -> int:
    stop.taken()
    print("stopped", file=sys.stderr)
    return STOPPED


def _was_stopped(error: BaseException | None) -> bool:
    """Whether a stop is behind an error: a library that is stopped while it loads tells it as an error of its own."""
    while error is not None and not isinstance(error, KeyboardInterrupt):
        error = error.__cause__ or error.__context__
    return error is not None


def _no_more_output() -> None:
    """For what is still to be flushed."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _fault(error: Exception) -> int:
    """Tell a fault of the book in one line, with the place to be reported. Returns the exit status."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if "calcbook" in frame.filename] or frames
    place = f"{Path(own[-1].filename).name}, line {own[-1].lineno}"
    words = _seen(f"{type(error).__name__}: {str(error)[:150]}")
    print(
        f"a fault of the book, please report it with the job file: {words} ({place})", file=sys.stderr
    )
    return FAULT


def _seen(sentence: str) -> str:
    """A sentence with its control characters, as a file name may hold, written out."""
    return "".join(c if c.isprintable() else repr(c)[1:-1] for c in sentence)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="calcbook", description="Calculations for a slab on grade, from one job file."
    )
    parser.add_argument("--version", action="version", version=f"calcbook {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    def add(name: str, run: Any, summary: str, *arguments: Any) -> None:
        sub = commands.add_parser(name, help=summary, description=summary)
        for flags, options in arguments:
            sub.add_argument(*flags, **options)
        sub.set_defaults(run=run)

    job = (("file",), {"help": "job file (TOML)", "metavar": "FILE"})
    out = (("-o", "--output"), {"help": "where to write", "metavar": "PATH"})
    add("demo", _demo, "work through the demo job: quote, order sheet and printout",
            (("folder",), {"nargs": "?", "default": "calcbook-demo", "help": "where to put the files"}))  # fmt: skip
    own = (
        ("--own",),
        {"help": "file of your own that fills what the job leaves out", "metavar": "PATH"},
    )
    add("new", run_new, "start a job file by questions in the terminal", job,
            (("--blank",), {"action": "store_true", "help": "write a commented file to fill in; nothing is asked"}),
            (("--picture",), {"help": "also draw the plan (.png or .svg)", "metavar": "PATH"}))  # fmt: skip
    add("fields", run_fields, "list the fields of a job file: calcbook fields [SECTION or WORDS]",
            (("words",), {"nargs": "*", "metavar": "WORD", "help": "a section, or words of what is looked for"}))  # fmt: skip
    add("prices", run_prices, "list the prices that a job needs, and where each comes from",
            (("file",), {"nargs": "?", "help": "job file; without it, the prices of your own file", "metavar": "FILE"}),
            (("--ask",), {"action": "store_true", "help": "ask for those that are missing and keep them in your own file"}), own)  # fmt: skip
    add("check", _check, "read a job file and list what is open", job, own,
            (("--all",), {"action": "store_true", "help": "list every check, not only the open ones"}))  # fmt: skip
    add("quote", _quote, "print the priced takeoff", job, own,
            (("--csv",), {"help": "also write the takeoff as CSV", "metavar": "PATH"}),
            (("--odds",), {"action": "store_true", "help": "also tell the odds on the price, and what moves it"}),
            (("--choices",), {"action": "store_true", "help": "also price the usual choices: thickness, mesh, pump"}),
            (("--client",), {"help": "also write the one-page quote for the client (PDF)", "metavar": "PATH"}))  # fmt: skip
    add("order", _order, "print the order sheet for the dispatcher", job, own)
    add("weather", _weather, "read hourly weather from a file into the job file", job,
            (("csv",), {"help": "exported weather: CSV with headings, or the hourly JSON of the US weather service", "metavar": "CSV"}))  # fmt: skip
    add("print", _print, "write a paper for one reader, or all of them (PDF)", job, out, own,
            (("--for",), {"dest": "reader", "choices": (*READERS, "all"), "default": "builder",
                          "help": "who reads it; the builder's is the whole book"}),
            (("--chapter",), {"help": "one chapter alone, such as bolts", "metavar": "NAME"}),
            (("--short",), {"action": "store_true", "help": "the engineer's copy without its appendix"}),
            (("--since",), {"help": "an earlier version of the job: adds a page of what changed; for the client, a change order", "metavar": "OLD"}))  # fmt: skip
    add("sweep", weigh.run_sweep, "run the book for a range of values: calcbook sweep FILE slab.thickness=4:6:0.5in", job, own,
            (("vary",), {"nargs": "+", "metavar": "field=values", "help": "start:stop:step, or value,value,..."}),
            (("--csv",), {"help": "also write the table as CSV", "metavar": "PATH"}),
            (("--chart",), {"help": "also draw price and worst check (.png or .svg)", "metavar": "PATH"}),
            (("--processes",), {"type": int, "help": "how many to use; else one for each core", "metavar": "N"}))  # fmt: skip
    add("record", _record, "keep what was measured on a pour, beside the job", job, own,
            (("--blank",), {"action": "store_true", "help": "begin the record without questions, to be filled in as a file"}))  # fmt: skip
    add("learn", _learn, "tell what your own records say, and propose values for your own file",
            (("paths",), {"nargs": "*", "metavar": "FOLDER or JOB", "help": "where the records lie; without it, this folder"}),
            (("--accept",), {"nargs": "*", "metavar": "FIGURE", "help": "write what is proposed into your own file: all, or the figures named"}),
            (("--lines",), {"action": "store_true", "help": "also every line of the quote, and trucks, tasks and cracks"}), own)  # fmt: skip
    add("compare", _compare, "list what changed from one version of a job to another",
            (("old",), {"help": "the earlier job file"}), (("new",), {"help": "the later job file"}),
            (("--csv",), {"help": "also write the changes as CSV", "metavar": "PATH"}))  # fmt: skip
    served = (
        (("file",), {"nargs": "?", "help": "job file; without it, the demo", "metavar": "FILE"}),
        (("--no-browser",), {"action": "store_true", "help": "only start the server"}),
        (("--port",), {"type": int, "default": 8888, "help": "port to listen on"}),
    )
    add("open", _open, "open the live pages of a job in the browser", *served)
    add("lab", _lab, "open the same notebooks in JupyterLab, as a workshop", *served)
    add("value", run_value, "evaluate one formula: calcbook value NAME key=value ...",
            (("name",), {"nargs": "?", "help": "name of a formula; without it, all are listed"}),
            (("inputs",), {"nargs": "*", "metavar": "key=value", "help": 'such as A="1120 ft2" t="5 in"; without, what it takes is told'}),
            (("--list",), {"nargs": "?", "const": "", "metavar": "WORDS", "help": "list the formulas with these words in name or title"}),
            (("--json",), {"action": "store_true", "help": "for machines"}))  # fmt: skip
    return parser


def _demo(arguments: argparse.Namespace) -> int:
    from calcbook.paper.printout import compile_pdf

    folder = Path(arguments.folder)
    _make_folder(folder)
    for name in ("demo.toml", "demo-si.toml"):
        target = folder / name
        if not target.exists():  # never over a file that the user may have changed
            write_whole(target, (notebooks_folder() / name).read_bytes())
    job = Job.read(folder / "demo.toml")
    book = _book(job)
    print(book.quote.text())
    for order in book.quote.orders:
        print(order.text())
    _tell_open(book)
    pdf = write_out(folder / "demo.pdf", compile_pdf(book), inputs_of(job))
    print(f"Job file:  {(folder / 'demo.toml').resolve()}")
    print(f"Printout:  {pdf}")
    print("Next:      calcbook open   (the pages)")
    return OK


def _tell_open(book: Book) -> int:
    """Name the checks that are open, which a price or an order does not close. Returns the exit status."""
    from calcbook.command.checks import open_text

    told = open_text(book)
    if told:
        print(told)
    return OPEN_CHECK if any(check.status != "OK" for _, check in book.priced_checks) else OK


def _check(arguments: argparse.Namespace) -> int:
    from calcbook.command.checks import checks_text

    book = _book(Job.read(arguments.file, arguments.own))
    print(checks_text(book, arguments.all))
    return _status(book)


def _quote(arguments: argparse.Namespace) -> int:
    book = _book(Job.read(arguments.file, arguments.own))
    quote, inputs = book.quote, inputs_of(book.job)
    for path in filter(None, (arguments.csv, arguments.client)):
        check_output(path, inputs)
    print(quote.text())
    if arguments.odds and quote.complete:
        weigh.print_odds(quote)
    if arguments.choices:
        weigh.print_choices(quote.job)
    if arguments.csv:
        print(f"Takeoff: {write_out(arguments.csv, quote.csv(), inputs)}")
    if arguments.client and quote.complete:
        from calcbook.price.client import client_pdf

        print(f"Client quote: {write_out(arguments.client, client_pdf(quote), inputs)}")
    wanted = ["the odds need"] * bool(arguments.odds) + ["the client's page needs"] * bool(
        arguments.client
    )
    if wanted and not quote.complete:
        print(f"Left out: {' and '.join(wanted)} every price; {quote.lacking}", file=sys.stderr)
    status = _tell_open(book)
    return status if quote.complete else OPEN_CHECK


def _order(arguments: argparse.Namespace) -> int:
    book = _book(Job.read(arguments.file, arguments.own))
    for order in book.quote.orders:
        print(order.text())
    return _tell_open(book)


def _weather(arguments: argparse.Namespace) -> int:
    from calcbook.job.forecast_csv import read_csv, rows_for_job

    forecast, job = read_csv(arguments.csv), Job.read(arguments.file)
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
    return OK


def _record(arguments: argparse.Namespace) -> int:
    from calcbook.command.record import run_record

    return run_record(arguments)


def _learn(arguments: argparse.Namespace) -> int:
    from calcbook.command.learn import run_learn

    return run_learn(arguments)


def _compare(arguments: argparse.Namespace) -> int:
    return _status(weigh.print_comparison(arguments))


def _print(arguments: argparse.Namespace) -> int:
    from calcbook.command.papers import run_print

    return _status(run_print(arguments))


def _open(arguments: argparse.Namespace) -> int:
    from calcbook.command.pages import open_pages

    return open_pages(arguments.file, arguments.port, not arguments.no_browser)


def _lab(arguments: argparse.Namespace) -> int:
    from calcbook.command.lab import open_lab

    return open_lab(arguments.file, arguments.port, not arguments.no_browser)


def _book(job: Job) -> Book:
    from calcbook.book.chapters import Book

    return Book(job)


def _status(book: Book) -> int:
    """Of all checks; the plate, which takes longest, is not waited for where another check is open already."""
    if any(check.status != "OK" for _, check in book.priced_checks):
        return OPEN_CHECK
    return OK if book.status == "OK" else OPEN_CHECK


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JobError(f"{folder} could not be made ({error.strerror}); name another folder") from None
