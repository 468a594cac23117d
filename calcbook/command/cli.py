"""The command ``calcbook``.

Exit status: 0 fine, 1 a check is open (or the quote is incomplete), 2 bad input, or output that cannot be written;
3 a fault of the book; 130 stopped by Ctrl-C.
"""

from __future__ import annotations

import argparse
import importlib
import os
import sys
import traceback
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook import __version__
from calcbook.command import stop
from calcbook.job.files import JobError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

BAD_INPUT, FAULT, STOPPED = 2, 3, 130
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
        return 0
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

    def add(name: str, module: str, summary: str, *arguments: Any) -> None:
        sub = commands.add_parser(name, help=summary, description=summary)
        for flags, options in arguments:
            sub.add_argument(*flags, **options)
        sub.set_defaults(run=_part(module, f"run_{name}"))

    job = (("file",), {"help": "job file (TOML)", "metavar": "FILE"})
    out = (("-o", "--output"), {"help": "where to write", "metavar": "PATH"})
    add("demo", "desk", "work through the demo job: quote, order sheet and printout",
            (("folder",), {"nargs": "?", "default": "calcbook-demo", "help": "where to put the files"}))  # fmt: skip
    own = (
        ("--own",),
        {"help": "file of your own that fills what the job leaves out", "metavar": "PATH"},
    )
    add("new", "new", "start a job file by questions in the terminal", job,
            (("--blank",), {"action": "store_true", "help": "write a commented file to fill in; nothing is asked"}),
            (("--picture",), {"help": "also draw the plan (.png or .svg)", "metavar": "PATH"}))  # fmt: skip
    add("fields", "fields", "list the fields of a job file: calcbook fields [SECTION or WORDS]",
            (("words",), {"nargs": "*", "metavar": "WORD", "help": "a section, or words of what is looked for"}))  # fmt: skip
    add("prices", "prices", "list the prices that a job needs, and where each comes from",
            (("file",), {"nargs": "?", "help": "job file; without it, the prices of your own file", "metavar": "FILE"}),
            (("--ask",), {"action": "store_true", "help": "ask for those that are missing and keep them in your own file"}), own)  # fmt: skip
    add("check", "desk", "read a job file and list what is open", job, own,
            (("--all",), {"action": "store_true", "help": "list every check, not only the open ones"}))  # fmt: skip
    add("quote", "desk", "print the priced takeoff", job, own,
            (("--csv",), {"help": "also write the takeoff as CSV", "metavar": "PATH"}),
            (("--odds",), {"action": "store_true", "help": "also tell the odds on the price, and what moves it"}),
            (("--choices",), {"action": "store_true", "help": "also price the usual choices: thickness, mesh, pump"}),
            (("--client",), {"help": "also write the one-page quote for the client (PDF)", "metavar": "PATH"}))  # fmt: skip
    add("order", "desk", "print the order sheet for the dispatcher", job, own)
    add("weather", "desk", "read hourly weather from a file into the job file", job,
            (("csv",), {"help": "exported weather: CSV with headings, or the hourly JSON of the US weather service", "metavar": "CSV"}))  # fmt: skip
    add("print", "papers", "write a paper for one reader, or all of them (PDF)", job, out, own,
            (("--for",), {"dest": "reader", "choices": (*READERS, "all"), "default": "builder",
                          "help": "who reads it; the builder's is the whole book"}),
            (("--chapter",), {"help": "one chapter alone, such as bolts", "metavar": "NAME"}),
            (("--short",), {"action": "store_true", "help": "the engineer's copy without its appendix"}),
            (("--since",), {"help": "an earlier version of the job: adds a page of what changed; for the client, a change order", "metavar": "OLD"}))  # fmt: skip
    add("sweep", "weigh", "run the book for a range of values: calcbook sweep FILE slab.thickness=4:6:0.5in", job, own,
            (("vary",), {"nargs": "+", "metavar": "field=values", "help": "start:stop:step, or value,value,..."}),
            (("--csv",), {"help": "also write the table as CSV", "metavar": "PATH"}),
            (("--chart",), {"help": "also draw price and worst check (.png or .svg)", "metavar": "PATH"}),
            (("--processes",), {"type": int, "help": "how many to use; else one for each core", "metavar": "N"}))  # fmt: skip
    add("record", "record", "keep what was measured on a pour, beside the job", job, own,
            (("--blank",), {"action": "store_true", "help": "begin the record without questions, to be filled in as a file"}))  # fmt: skip
    add("learn", "learn", "tell what your own records say, and propose values for your own file",
            (("paths",), {"nargs": "*", "metavar": "FOLDER or JOB", "help": "where the records lie; without it, this folder"}),
            (("--accept",), {"nargs": "*", "metavar": "FIGURE", "help": "write what is proposed into your own file: all, or the figures named"}),
            (("--lines",), {"action": "store_true", "help": "also every line of the quote, and trucks, tasks and cracks"}), own)  # fmt: skip
    add("compare", "weigh", "list what changed from one version of a job to another",
            (("old",), {"help": "the earlier job file"}), (("new",), {"help": "the later job file"}),
            (("--csv",), {"help": "also write the changes as CSV", "metavar": "PATH"}))  # fmt: skip
    served = (
        (("file",), {"nargs": "?", "help": "job file; without it, the demo", "metavar": "FILE"}),
        (("--no-browser",), {"action": "store_true", "help": "only start the server"}),
        (("--port",), {"type": int, "default": 8888, "help": "port to listen on"}),
    )
    add("open", "pages", "open the live pages of a job in the browser", *served)
    add("lab", "lab", "open the same notebooks in JupyterLab, as a workshop", *served)
    add("value", "run_value", "evaluate one formula: calcbook value NAME key=value ...",
            (("name",), {"nargs": "?", "help": "name of a formula; without it, all are listed"}),
            (("inputs",), {"nargs": "*", "metavar": "key=value", "help": 'such as A="1120 ft2" t="5 in"; without, what it takes is told'}),
            (("--list",), {"nargs": "?", "const": "", "metavar": "WORDS", "help": "list the formulas with these words in name or title"}),
            (("--json",), {"action": "store_true", "help": "for machines"}))  # fmt: skip
    return parser


def _part(module: str, name: str) -> Callable[[argparse.Namespace], int]:
    """A part of the command, loaded when it is run: one formula needs no reader of job files."""
    return lambda arguments: getattr(importlib.import_module(f"calcbook.command.{module}"), name)(
        arguments
    )
