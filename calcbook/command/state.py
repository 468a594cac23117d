"""How a job stands, for the head of every page: its name, its checks, the verdict of each chapter."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from calcbook.job.file import Job, JobError
from calcbook.job.files import read_notes, stamp
from calcbook.paper.late import mark, state_file
from calcbook.paper.live import current


class JobState:
    """The state of one job file and its draft, read anew when one of them changes."""

    def __init__(self, path: Path, draft: Path) -> None:
        self.path, self.draft, self.checked = path, draft, state_file(draft)
        self._seen: Any = None
        self._told: dict[str, Any] = {}
        # stamps of the files, the job as saved, with its draft, and how many changes
        self._read: Any = None

    def _current(self) -> tuple[Job, int]:
        """The job with its draft, and the number of changes; each file is read anew only where it changed.

        Raises JobError.
        """
        now = stamp(self.path, self.draft)
        if self._read is None or self._read[0] != now:
            known = self._read[1] if self._read and self._read[0][0] == now[0] else None
            saved, job, changes = current(self.path, self.draft, known)
            self._read = now, saved, job, len(changes)
        return self._read[2:]

    def problem(self) -> str:
        """Why the job file cannot be read, in a sentence; "" where it can."""
        try:
            self._current()
        except JobError as error:
            return str(error)
        return ""

    def quick(self) -> dict[str, Any]:
        """What can be said at once."""
        try:
            job, unsaved = self._current()
        except JobError as error:
            return {"job": self.path.stem, "place": "", "file": self.path.name, "problem": str(error),
                    "unsaved": 0}  # fmt: skip
        return {**named(job), "file": self.path.name, "problem": "", "unsaved": unsaved}

    def told(self) -> dict[str, Any]:
        """All of it, with what the process beside the pages has found; ``checks`` is "" until it is there."""
        now = stamp(self.path, self.draft, self.checked)
        if now != self._seen:
            self._seen, self._told = now, {**self.quick(), **self._found()}
        return self._told

    def _found(self) -> dict[str, Any]:
        nothing: dict[str, Any] = {"checks": "", "status": "", "verdicts": {}, "more": True}
        found = read_notes(self.checked)
        try:
            of = mark(self._current()[0])
        except JobError:
            return nothing
        return found["state"] if found.get("of") in (of, "") else nothing


def named(job: Job) -> dict[str, str]:
    """Name and place of a job."""
    return {
        "job": job.job.name or (job.path.stem if job.path else "job"),
        "place": job.job.address or "",
    }
