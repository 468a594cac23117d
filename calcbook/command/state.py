"""How a job stands, for the head of every page: its name, its checks, the verdict of each chapter."""

from __future__ import annotations

import asyncio
import os
from pathlib import Path
from typing import Any

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, OK
from calcbook.job.file import Job, JobError
from calcbook.paper.contents import PAGES
from calcbook.paper.live import DRAFT, JOB, current, stamp


class JobState:
    """The state of one job file and its draft, worked out anew when one of them changes."""

    def __init__(self, path: Path, draft: Path) -> None:
        self.path, self.draft = path, draft
        self._worked: tuple[Any, asyncio.Future[dict[str, Any]]] | None = None

    @classmethod
    def of_environment(cls) -> JobState:
        """That of the job that this process serves."""
        return cls(Path(os.environ[JOB]), Path(os.environ[DRAFT]))

    def problem(self) -> str:
        """Why the job file cannot be read, in a sentence; "" where it can."""
        try:
            current(self.path, self.draft)
        except JobError as error:
            return str(error)
        return ""

    def quick(self) -> dict[str, Any]:
        """What can be said at once."""
        try:
            _, job, changes = current(self.path, self.draft)
        except JobError as error:
            return {"job": self.path.stem, "place": "", "file": self.path.name, "problem": str(error),
                    "unsaved": 0}  # fmt: skip
        return {**named(job), "file": self.path.name, "problem": "", "unsaved": len(changes)}

    async def told(self) -> dict[str, Any]:
        """All of it. Working it out does not keep others waiting; ``checks`` is "" until it is done."""
        now = stamp(self.path, self.draft)
        if self._worked is None or self._worked[0] != now:
            loop = asyncio.get_running_loop()
            self._worked = now, loop.run_in_executor(None, verdicts, self.path, self.draft)
        done = self._worked[1]
        worked = done.result() if done.done() else {"checks": "", "status": "", "verdicts": {}}
        return {**self.quick(), **worked}


def named(job: Job) -> dict[str, str]:
    """Name and place of a job."""
    return {
        "job": job.job.name or (job.path.stem if job.path else "job"),
        "place": job.job.address or "",
    }


def verdicts(path: Path, draft: Path) -> dict[str, Any]:
    """The checks in a sentence, and the worst verdict of every page."""
    from calcbook.book.chapters import Book

    try:
        book = Book(current(path, draft)[1])
        chapters = {chapter.name: chapter for chapter in book.chapters}
        checks = [check for _, check in book.checks]
        status = book.status
    except (JobError, ValueError) as error:
        return {"checks": f"Not worked out: {error}", "status": NOT_OK, "verdicts": {}}
    still_open = sum(check.status != OK for check in checks)
    words = (
        f"{still_open} of {len(checks)} checks open" if still_open else f"all {len(checks)} checks OK"
    )
    worst = {
        page.stem: _worst([chapters[name].status for name in page.chapters if name in chapters])
        for page in PAGES
        if page.chapters
    }
    return {"checks": words, "status": status, "verdicts": worst}


def _worst(found: list[str]) -> str:
    return next((verdict for verdict in (NOT_OK, NEEDS_ENGINEER) if verdict in found), OK)
