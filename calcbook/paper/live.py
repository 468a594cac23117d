"""One job on several pages at once: what is saved, what is changed and not yet saved, and who follows it.

Changes that are not saved stand in a small draft file of their own, outside the job's folder, so that all
pages of the job show them. A page looks at job file and draft several times a second and follows both.
"""

from __future__ import annotations

import asyncio
import json
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.job.file import Job, JobError
from calcbook.job.files import Stamp, locked, read_notes, stamp, write_whole
from calcbook.job.raw import value_at, with_changes
from calcbook.paper.served import DRAFT, on_pages

if TYPE_CHECKING:
    from typing import TypeAlias

    from calcbook.book.chapters import Book

    Changes: TypeAlias = dict[str, Any]

_PAUSE = 0.3  # seconds between two looks at the files
_ONE_GO = 1.0  # seconds without a move after which a slider begins anew


def current(path: Path, draft: Path, saved: Job | None = None) -> tuple[Job, Job, Changes]:
    """(job as saved, job with its draft, changes of the draft that hold). Raises JobError.

    A change that no longer fits, as the file was changed meanwhile, is left out.
    saved: the job as saved, where it was read before and its file is still the same.
    """
    saved = saved or Job.read(path)
    changes = read_notes(draft)
    try:
        return saved, saved.changed(changes), changes
    except (JobError, LookupError, TypeError, AttributeError):
        kept: Changes = {}
        for place, value in changes.items():
            try:
                saved.changed({**kept, place: value})
            except (JobError, LookupError, TypeError, AttributeError):
                continue
            kept[place] = value
        return saved, saved.changed(kept), kept


def _within(place: str, whole: str) -> bool:
    """True for a place that is ``whole`` or lies in it."""
    return place == whole or place.startswith(f"{whole}.")


class Live:
    """A job that is being worked on: ``saved``, ``changes`` to it, and ``job`` with both.

    draft: where the changes are kept for other pages, or None. ``followers`` are called with no
    arguments after every change; ``problem`` says why the job file cannot be read, else "".
    """

    def __init__(self, job: Job, draft: Path | None = None) -> None:
        self.saved = self.job = job
        self.changes: Changes = {}
        self.broken: dict[str, str] = {}  # places that are typed wrong on this page, and why
        self.past: list[tuple[str, Changes]] = []  # (place, changes before, of it and what lies in it)
        self.followers: list[Callable[[], None]] = []
        self.problem = ""
        self.crossed: Changes = {}  # what the file says meanwhile of places that are changed here
        self.news = ""  # what another page did with the changes
        self._slid = ("", 0.0)  # the place that a slider last set, and when
        self._book: Book | None = None
        self._draft = draft
        if draft is not None and job.path is not None:
            self.saved, self.job, self.changes = current(job.path, draft)
        self._seen = self._stamp()

    def book_of(self, job: Job) -> Book:
        """The Book of a job, taken on from the last one asked for: what does not depend on a change stays, and
        all parts of a page share what is worked out."""
        from calcbook.book.chapters import Book

        if self._book is None or self._book.job is not job:
            self._book = Book(job, self._book)
        return self._book

    # --- changing ---
    def tried(self, place: str, value: Any) -> Job:
        """The job with one more change, not yet kept. Raises JobError where it is not allowed."""
        return self.saved.changed({**self.changes, place: value})

    def tried_whole(self, place: str, value: Any) -> Job:
        """As ``tried``, for a section or a list that takes the place of all changes in it."""
        without = {p: v for p, v in self.changes.items() if not _within(p, place)}
        return self.saved.changed({**without, place: value})

    def keep(self, place: str, value: Any, sliding: bool = False, tried: Job | None = None) -> None:
        """Keep a change that was tried, and tell all who follow.

        sliding: whether it goes on with a move of a slider, which is one change to undo.
        tried: the job that came of trying it, which need then not be checked again.
        """
        self._slid = ("", 0.0)
        if not (sliding and self.past and self.past[-1][0] == place):
            self.past.append((place, {p: v for p, v in self.changes.items() if _within(p, place)}))
        self._put(place, {place: value}, tried)

    def goes_on(self, place: str) -> bool:
        """Whether a move of a slider that comes now belongs to the last one."""
        return self._slid[0] == place and time.monotonic() - self._slid[1] < _ONE_GO

    def slid(self, place: str) -> None:
        """A move of a slider has been worked out and shown: one that follows soon belongs to it."""
        self._slid = (place, time.monotonic())

    def undo(self) -> str | None:
        """Take the last change back; returns its place, or None where there is none.

        One that was made on another page, or before this one was opened, goes back to what is saved.
        """
        if not (self.past or self.changes):
            return None
        place, before = self.past.pop() if self.past else (list(self.changes)[-1], {})
        self._put(place, before)
        return place

    def drop(self) -> None:
        """Forget every change that is not saved."""
        self.past.clear()
        self.broken.clear()
        self.crossed.clear()
        self._store({}, replace=True)
        self._told()

    def save(self) -> list[str]:
        """Write the changes to the job file; returns their places. Raises JobError."""
        if self.broken:
            places = ", ".join(self.broken)
            raise JobError(f"nothing was saved: mend {places} first")
        changes = dict(self.changes)
        if changes:
            self.saved = self.job = self.saved.save(changes)
            self.past.clear()
            self.crossed.clear()
            self._store({}, replace=True)
            self._told()
        return list(changes)

    def _put(self, place: str, wanted: Changes, tried: Job | None = None) -> None:
        without = {p: v for p, v in self.changes.items() if not _within(p, place)}
        if with_changes(self.saved.raw, {**without, **wanted}) == with_changes(self.saved.raw, without):
            wanted = {}  # as it is saved: no change any more
        self._store(wanted, place, tried=tried)
        self._told()

    def _store(
        self, wanted: Changes, place: str = "", replace: bool = False, tried: Job | None = None
    ) -> None:
        self.news = ""

        def with_wanted(there: Changes) -> Changes:
            return {p: v for p, v in there.items() if not (replace or _within(p, place))} | wanted

        if self._draft is None:
            self.changes = with_wanted(self.changes)
        else:
            with locked(self._draft):
                self.changes = with_wanted(read_notes(self._draft))
                # no wait for the disk: that takes as long as a picture
                write_whole(self._draft, json.dumps(self.changes, ensure_ascii=False), lasting=False)
        self._seen = self._stamp()
        if tried is None or tried.raw != with_changes(self.saved.raw, self.changes):
            tried = self.saved.changed(self.changes)
        self.job = tried

    # --- following ---
    def _stamp(self) -> tuple[Stamp, ...]:
        return stamp(*(p for p in (self.saved.path, self._draft) if p is not None))

    def look(self) -> bool:
        """Read the files again where they changed; returns whether anything is new."""
        now = self._stamp()
        if now == self._seen or self.saved.path is None or self._draft is None:
            return False
        known = self.saved if now[0] == self._seen[0] and not self.problem else None
        self._seen = now
        before = self.saved.raw, self.job.raw, self.changes
        try:
            self.saved, self.job, self.changes = current(self.saved.path, self._draft, known)
            self.problem = ""
            self._hear(*before)
        except JobError as error:
            self.problem = str(error)
        self._told()
        return True

    def _hear(self, saved: dict[str, Any], raw: dict[str, Any], changes: Changes) -> None:
        """Note what others did with the file and with the changes, which were these before."""
        now = self.saved.raw
        new = {p: value_at(now, p) for p in self.changes if value_at(now, p) != value_at(saved, p)}
        self.crossed = {p: v for p, v in (self.crossed | new).items() if p in self.changes}
        saved_there = changes and not self.changes and self.job.raw == raw
        self.news = "Saved on another page." if saved_there else ""

    async def watch(self) -> None:
        """Look again and again, for as long as the page lives."""
        while True:
            await asyncio.sleep(_PAUSE)
            self.look()

    def _told(self) -> None:
        for follower in self.followers:
            follower()


_PAGE: list[Live] = []  # the one of this process, where it stands behind a page


def book_of(job: Job) -> Book:
    """The Book of a job; on a page the one that all parts of it share."""
    return live(job).book_of(job)


def live(job: Job) -> Live:
    """What a panel works on: on a page one for all panels, in the lab one for each."""
    if not on_pages():
        return Live(job)
    if not _PAGE:
        _PAGE.append(Live(job, Path(os.environ[DRAFT])))
        asyncio.get_event_loop().create_task(_PAGE[0].watch())
    return _PAGE[0]
