"""Which job the process of a live page serves. Nothing else is loaded here: the command and the server need no more."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

JOB, DRAFT = "CALCBOOK_JOB", "CALCBOOK_DRAFT"  # names in the environment of a page's process
_HEAD = 1_000_000  # bytes of a file that are looked through for a slab


def on_pages() -> bool:
    """Whether this process stands behind a live page, not behind a notebook in the lab."""
    return DRAFT in os.environ


def draft_file(job: Path, folder: Path) -> Path:
    """The draft of a job in a folder of drafts."""
    return folder / f"{hashlib.sha256(str(job.resolve()).encode()).hexdigest()[:20]}.json"


def beside(job: Path) -> list[Path]:
    """The job files in the folder of one, itself among them: regular files that lie there and name a slab."""
    found = []
    for path in sorted(job.parent.glob("*.toml")):
        if path == job or (path.is_file() and not path.is_symlink() and _names_a_slab(path)):
            found.append(path)
    return found


def _names_a_slab(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return b"[slab]" in file.read(_HEAD)
    except OSError:
        return False
