"""Files that the command writes: never over an input, and over another file only where that is the book's own.

A PDF, page or picture of the book carries its mark; a table is known by its headings.
"""

from __future__ import annotations

import contextlib
import csv
import os
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.job.files import JobError, write_whole

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.job.file import Job

MARK = "calcbook"  # in the keywords of a PDF, the generator of a page, the software of a picture


def inputs_of(*jobs: Job) -> list[Path]:
    """The files that jobs were read from: the job files, and the builder's own."""
    return [path for job in jobs for path in (job.path, job.own and job.own.path) if path]


def write_out(path: str | Path, data: str | bytes, inputs: Sequence[str | Path]) -> Path:
    """Write a paper in one step; returns where it is. Raises JobError, in one sentence, where the file is an
    input or was not made by the book."""
    path = Path(path)
    check_output(path, inputs)
    made = data if isinstance(data, bytes) else data.encode("utf-8")
    if path.exists() and not _is_own(path.read_bytes(), made):
        raise JobError(
            f"{path} was there before and is not of the book's making, so it is left as it is; give another name"
        )
    write_whole(path, made)
    return path.resolve()


def check_output(path: str | Path, inputs: Sequence[str | Path]) -> None:
    """Refuse a file that is read, a folder, pipe or device before long work begins. Raises JobError."""
    if os.path.isdir(path):
        raise JobError(f"{path} is a folder; give the name of a file in it")
    if os.path.exists(path) and not os.path.isfile(path):  # a pipe or device, which may never end
        raise JobError(f"{path} is no file that can be written over; give the name of a file")
    if os.path.realpath(path) in {os.path.realpath(one) for one in inputs}:
        raise JobError(f"{path} is read as an input and is never written over; give another name")


def _is_own(old: bytes, new: bytes) -> bool:
    """Whether a file is one that the book made before in place of the new one."""
    if not old.strip():
        return True
    if MARK.encode() in new:
        return MARK.encode() in old and old[:4] == new[:4]
    before, now = (_headings(data) for data in (old, new))
    return len(before & now) > 1


def _headings(data: bytes) -> set[str]:
    first = data.decode("utf-8-sig", "replace").partition("\n")[0]
    with contextlib.suppress(csv.Error):  # a field without an end is no heading of the book's
        return set(next(csv.reader([first.strip()]), []))
    return set()


def picture_mark(kind: str) -> dict[str, str | None]:
    """The metadata of a picture, "png" or "svg", that show it is the book's own."""
    return {"Creator": MARK, "Date": None} if kind == "svg" else {"Software": MARK}
