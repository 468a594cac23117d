"""The book as a process of its own: ``calcbook ...`` or ``python -m calcbook ...``."""

from __future__ import annotations

import codecs
import gc
import logging
import os
import sys
import unicodedata

from calcbook.command import stop


def command() -> int:
    """Run the command, then leave without taking every object apart. Returns the exit status."""
    try:
        stop.insist()
        status = _run()
        if stop.taken():  # a library swallowed it, and the work was done before it was told again
            raise KeyboardInterrupt
    except KeyboardInterrupt:  # while it is loaded; later the command says so itself
        stop.taken()
        print("stopped", file=sys.stderr)
        status = 130
    exec(
        "pass", {}
    )  # makes Python forget a stop inside of exec, for which it would end by a signal of its own
    return status


def _run() -> int:
    # a command lives too short to gain from sweeping, and its imports would set off most of it
    gc.set_threshold(1_000_000)
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"  # else every package installed is asked for one
    from calcbook.command.cli import main

    codecs.register_error("plainer", _plainer)
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # its own folders are none of the user's
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="plainer")
    status = main()
    gc.freeze()
    return status


def _plainer(error: UnicodeError) -> tuple[str, int]:
    """Letters that a terminal's encoding lacks as their plain ones (yd³ as yd3), or a question mark."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    letters = unicodedata.normalize("NFKD", error.object[error.start : error.end])
    return "".join(c if c.isascii() else "?" for c in letters), error.end


if __name__ == "__main__":
    sys.exit(command())
