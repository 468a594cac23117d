"""The process beside the pages: it follows the job, and works out what takes too long for a page to wait for.

Checks come first, without the chapters that take long; then the whole, and what other choices would cost. A change of the job meanwhile ends
what is being worked out, so that no page waits for what nobody wants any more.
"""

from __future__ import annotations

import _thread
import functools
import json
import os
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import NOT_OK, OK, WORST_FIRST
from calcbook.job.files import JobError, stamp, write_whole
from calcbook.paper.contents import PAGES
from calcbook.paper.late import late_file, mark, state_file
from calcbook.paper.live import current
from calcbook.paper.screen import choices_html, headlines_html
from calcbook.paper.served import DRAFT, JOB
from calcbook.paper.views import pieces

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from calcbook.basis.calculation import Calculation, Check
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job

_PAUSE = 0.25  # seconds between two looks at the files


class Aside:
    """Follows one job: ``step`` works out what is new, in three goes."""

    def __init__(self, path: Path, draft: Path) -> None:
        self.path, self.draft = path, draft
        self.seen: Any = None  # of the files, when work on them began
        self.busy = threading.Event()
        self._book: Book | None = None

    def step(self) -> bool:
        """Work out the job as it stands now; False where that has been done."""
        now = stamp(self.path, self.draft)
        if now == self.seen:
            return False
        self.seen = now
        try:
            job = current(self.path, self.draft)[1]
            self._work(job)
        except (JobError, ValueError) as error:
            self._tell({"checks": f"Not worked out: {error}", "status": NOT_OK, "verdicts": {}}, "", {})
        return True

    def _work(self, job: Job) -> None:
        from calcbook.book.chapters import Book

        of = mark(job)
        quick = Book(job, self._book)
        self._tell(_state(quick.priced, quick, more=True), of, {})
        self._book = quick
        whole = Book(job, quick)
        state = _state(whole.calculations, whole)
        parts = {
            "plate": pieces(whole.calculation("plate")),
            "headlines": _plain(headlines_html(whole)),
        }
        self._tell(state, of, parts)
        self._book = whole
        self._tell(state, of, parts | {"choices": _plain(choices_html(job))})

    def _tell(self, state: dict[str, Any], of: str, parts: dict[str, Any]) -> None:
        # a power cut only takes what is worked out again
        write = functools.partial(write_whole, lasting=False)
        write(state_file(self.draft), json.dumps({"of": of, "state": state}, ensure_ascii=False))
        if parts:
            write(late_file(self.draft), json.dumps({"of": of, "parts": parts}, ensure_ascii=False))

    # --- ending what nobody wants any more ---
    def watch(self) -> None:
        """Stop the work going on whenever the files have changed."""
        while True:
            time.sleep(_PAUSE)
            if self.busy.is_set() and stamp(self.path, self.draft) != self.seen:
                self.busy.clear()
                _thread.interrupt_main()

    def run(self) -> None:
        """Follow the job for good."""
        threading.Thread(target=self.watch, daemon=True).start()
        while True:
            try:
                self.busy.set()
                worked = self.step()
                self.busy.clear()
                if not worked:
                    time.sleep(_PAUSE)
            except KeyboardInterrupt:  # of ``watch``; the server ends this process in another way
                self.seen = None


def _plain(html: str) -> dict[str, str]:
    return {"answer": html}


def _state(chapters: dict[str, Calculation], book: Book, more: bool = False) -> dict[str, Any]:
    """The checks in a sentence, and the worst verdict of every page; more: True while others are to come."""
    price = book.quote.calculation
    shown = {**chapters, "quote": price}
    checks = [check for chapter in chapters.values() for check in chapter.checks]
    worst = {
        page.stem: _worst(shown[name].checks for name in page.chapters if name in shown)
        for page in PAGES
        if any(name in shown for name in page.chapters)
    }
    priced = _worst([price.checks])
    words = _words([check.status for check in checks]) + (" so far" if more else "")
    return {
        "checks": words + ("" if priced == OK else f"; price {priced}"),
        "status": _worst([checks, price.checks]),
        "verdicts": worst,
        "more": more,
    }


def _words(found: list[str]) -> str:
    still_open = sum(status != OK for status in found)
    return f"{still_open} of {len(found)} checks open" if still_open else f"all {len(found)} checks OK"


def _worst(groups: Iterable[Sequence[Check]]) -> str:
    found = {check.status for checks in groups for check in checks}
    return next((verdict for verdict in WORST_FIRST if verdict in found), OK)


def _end_with_server() -> None:
    sys.stdin.read()
    os._exit(0)


if __name__ == "__main__":
    threading.Thread(target=_end_with_server, daemon=True).start()
    Aside(Path(os.environ[JOB]), Path(os.environ[DRAFT])).run()
