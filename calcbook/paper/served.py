"""Which job the process of a live page serves. Nothing else is loaded here: the command and the server need no more."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

JOB, DRAFT = "CALCBOOK_JOB", "CALCBOOK_DRAFT"  # names in the environment of a page's process


def on_pages() -> bool:
    """Whether this process stands behind a live page, not behind a notebook in the lab."""
    return DRAFT in os.environ


def draft_file(job: Path, folder: Path) -> Path:
    """The draft of a job in a folder of drafts."""
    return folder / f"{hashlib.sha256(str(job.resolve()).encode()).hexdigest()[:20]}.json"
