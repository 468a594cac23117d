"""Results that take long, worked out beside the pages by one process and kept in a file that all pages read.

The process (``command/aside.py``) follows the job as the pages do. A page shows what the file holds as
current only where it was made of the very job that the page shows.
"""

from __future__ import annotations

import asyncio
import hashlib
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.job.files import read_notes, stamp
from calcbook.paper.served import DRAFT

if TYPE_CHECKING:
    from calcbook.job.file import Job

_PAUSE = 0.3  # seconds between two looks at the file


def late_file(draft: Path) -> Path:
    """Where the late results of a job stand, beside its draft."""
    return draft.with_suffix(".late.json")


def state_file(draft: Path) -> Path:
    """Where it stands how the checks stand: apart from the late results, which are a hundred times as long to read."""
    return draft.with_suffix(".state.json")


def mark(job: Job) -> str:
    """What tells one state of a job from another: all that it says, and what its own file fills in."""
    filled = job.own.under(job.raw) if job.own else job.raw
    written = json.dumps(filled, sort_keys=True, default=str)
    return hashlib.sha256(written.encode("utf-8")).hexdigest()


class Late:
    """A late part of a page by its name: ``now`` gives its pieces where they belong to its job."""

    def __init__(self, name: str, job: Job) -> None:
        self.name, self.job = name, job

    def now(self) -> dict[str, str] | None:
        """The pieces, or None while they are worked out."""
        return _kept().parts(self.job).get(self.name)

    def follow(self, told: Callable[[], None]) -> None:
        """Call ``told`` whenever late results come."""
        _kept().followers.append(told)


class _Kept:
    """The file of late results as it was last read."""

    def __init__(self, path: Path) -> None:
        self.path, self.followers = path, list[Callable[[], None]]()
        self._seen: Any = None
        self._found: dict[str, Any] = {}
        asyncio.get_event_loop().create_task(self._watch())

    def parts(self, job: Job) -> dict[str, dict[str, str]]:
        """Those of a job; none where the file is of another state of it."""
        return self._found.get("parts", {}) if self._found.get("of") == mark(job) else {}

    async def _watch(self) -> None:
        while True:
            now = stamp(self.path)
            if now != self._seen:
                self._seen, self._found = now, read_notes(self.path)
                for told in self.followers:
                    told()
            await asyncio.sleep(_PAUSE)


_KEPT: list[_Kept] = []  # the one of this process


def _kept() -> _Kept:
    if not _KEPT:
        _KEPT.append(_Kept(late_file(Path(os.environ[DRAFT]))))
    return _KEPT[0]
