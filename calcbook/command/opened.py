"""The jobs that one server of pages has open: the one it was started with, and others that lie in the same folder.

Another job's pages stand under ``/of/NAME/``, its file's name without the ending.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from contextvars import ContextVar
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from calcbook.command.pages import give_way
from calcbook.paper.served import DRAFT, JOB, beside, draft_file

if TYPE_CHECKING:
    from calcbook.command.state import JobState

# jobs followed at once by a process of their own; one that was not looked at for longest is followed again when it is
_MOST = 2


class Opened:
    """One job: its file, its draft, how it stands, and the process beside its pages."""

    def __init__(self, path: Path, draft: Path, base: str = "") -> None:
        self.path, self.draft, self.base = path, draft, base
        self._aside: subprocess.Popen[bytes] | None = None

    @cached_property
    def state(self) -> JobState:
        """How the job stands; loaded when first asked for, as the first page's process starts meanwhile."""
        from calcbook.command.state import JobState

        return JobState(self.path, self.draft)

    @property
    def environment(self) -> dict[str, str]:
        """What a process that serves this job finds in its environment."""
        return {**os.environ, JOB: str(self.path), DRAFT: str(self.draft)}

    def begin(self) -> None:
        """Start the process beside the pages, where it does not run; it ends with this one, whose end closes the pipe."""
        if self._aside is None or self._aside.poll() is not None:
            self._aside = subprocess.Popen(
                [sys.executable, "-P", "-m", "calcbook.command.aside"],
                stdin=subprocess.PIPE,
                env=self.environment,
                start_new_session=True,
                creationflags=getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0),  # on Windows
            )
            give_way(self._aside.pid)

    def end(self) -> None:
        """End that process."""
        if self._aside is not None and self._aside.stdin is not None:
            self._aside.stdin.close()
            self._aside = None


class Jobs:
    """The first job, and others by name; those looked at last are followed."""

    def __init__(self, first: Opened, begin: Callable[[Opened], None] = Opened.begin) -> None:
        self.first, self._begin = first, begin
        self._known = {first.path.name: first}
        self._followed: list[Opened] = []  # the last one was looked at last

    @classmethod
    def of_environment(cls) -> Jobs:
        """With the job that this process was started for."""
        return cls(Opened(Path(os.environ[JOB]), Path(os.environ[DRAFT])))

    def named(self, name: str | None) -> Opened | None:
        """A job by its file's name without the ending; without one the first. None where the folder has no such job."""
        if not name:
            return self.first
        file = f"{name}.toml"
        if file not in self._known:
            path = next((p for p in beside(self.first.path) if p.name == file), None)
            if path is None:
                return None
            self._known[file] = Opened(
                path, draft_file(path, self.first.draft.parent), f"/of/{quote(name)}"
            )
        return self._known[file]

    def looked_at(self, job: Opened) -> None:
        """Follow this one; of more than a few the one that was not looked at for longest is let go."""
        if self._followed and self._followed[-1] is job:
            return
        self._followed = [*(j for j in self._followed if j is not job), job]
        for old in self._followed[:-_MOST]:
            old.end()
        self._followed = self._followed[-_MOST:]
        self._begin(job)


# the job that a request is about, and the processes started for it: what the page server does for the request sees them
ASKED: ContextVar[Opened] = ContextVar("the job asked for")
TAKEN: ContextVar[list[str]] = ContextVar("the processes taken")
