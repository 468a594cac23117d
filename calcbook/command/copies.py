"""The notebooks beside a job: copied there, and brought up to date without losing a reader's changes.

What was put into the folder is kept in a small record there, by digests of what a reader can change:
the text of a notebook's cells. Results do not count, as every run makes them anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
from pathlib import Path
from typing import Any

from calcbook.job.files import read_notes, write_whole

_RECORD = Path(".lab") / "copied.json"


def notebooks_folder() -> Path:
    """Where the notebooks are: in the installed package, or beside it in a checkout."""
    here = Path(__file__).parents[1]
    inside = here / "notebooks"
    return inside if inside.is_dir() else here.parent / "notebooks"


def bring_up_to_date(origin: Path, folder: Path) -> list[str]:
    """Copy the book's notebooks and demo jobs into a folder, or replace those of an earlier version.

    origin: the book's own notebooks; folder: the reader's. A file that the reader changed is kept, and
    the new version of a notebook is put beside it once. Returns sentences to be told. Raises OSError or
    JobError where something cannot be read or written.
    """
    record, kept = _record(folder), []
    for source in sorted([*origin.glob("*.ipynb"), *origin.glob("*.toml")]):
        target = folder / source.name
        new = digest(source)
        there = digest(target) if target.exists() else None
        if there == new:
            record[source.name] = new
            if _has_results(target):  # of an earlier run, perhaps of another job
                _put(source, target, new, record)
            continue
        if there in (None, record.get(source.name)):
            _put(source, target, new, record)
            continue
        changed_by_reader_only = record.get(source.name) == new
        if changed_by_reader_only or source.suffix != ".ipynb":
            continue
        beside = _beside(target, new, record)
        if beside:
            _put(source, beside, new, record)
            kept.append((target.name, beside.name))
    (folder / _RECORD).parent.mkdir(parents=True, exist_ok=True)
    write_whole(folder / _RECORD, json.dumps(record, indent=1, ensure_ascii=False) + "\n")
    if not kept:
        return []
    names, others = (", ".join(column) for column in zip(*kept, strict=True))
    return [f"Kept as you changed them: {names}; the new ones stand beside them as {others}."]


def digest(path: Path) -> str:
    """A digest of what a reader can change in a file: the cells of a notebook, else every byte."""
    data = path.read_bytes()
    if path.suffix == ".ipynb":
        # what is no notebook any more counts by its bytes
        with contextlib.suppress(ValueError, KeyError, TypeError, AttributeError):
            data = json.dumps([_text(cell) for cell in json.loads(data)["cells"]]).encode("utf-8")
    return hashlib.sha256(data).hexdigest()


def _text(cell: dict[str, Any]) -> list[Any]:
    source = cell.get("source", "")
    return [
        cell.get("cell_type"),
        "".join(source) if isinstance(source, list) else source,
        cell.get("attachments"),
    ]


def _put(source: Path, target: Path, new: str, record: dict[str, str]) -> None:
    data = source.read_bytes()
    write_whole(target, _for_the_workshop(data) if source.suffix == ".ipynb" else data)
    record[target.name] = new


def _for_the_workshop(data: bytes) -> bytes:
    """A notebook without results, whose cells no stray key can change or take away."""
    notebook = json.loads(data)
    for cell in notebook["cells"]:
        cell.setdefault("metadata", {}).update(editable=False, deletable=False)
        if cell["cell_type"] == "code":
            cell.update(outputs=[], execution_count=None)
    return (json.dumps(notebook, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def _has_results(path: Path) -> bool:
    if path.suffix != ".ipynb":
        return False
    return any(cell.get("outputs") for cell in json.loads(path.read_bytes())["cells"])


def untouched(folder: Path) -> list[Path]:
    """The notebooks of a folder that stand there as the book put them."""
    record = _record(folder)
    return [
        p for p in sorted(folder.glob("*.ipynb")) if p.name in record and digest(p) == record[p.name]
    ]


def _beside(target: Path, new: str, record: dict[str, str]) -> Path | None:
    """Where the new version of a changed file goes; None where it was put there before."""
    for number in itertools.count(1):
        words = "new" if number == 1 else f"new {number}"
        path = target.with_name(f"{target.stem} ({words}){target.suffix}")
        if record.get(path.name) == new:
            return None
        if not path.exists() or digest(path) == record.get(path.name):
            return path
    return None


def _record(folder: Path) -> dict[str, str]:
    """Digests by file name of what was put into a folder; none where that cannot be read."""
    return read_notes(folder / _RECORD)
