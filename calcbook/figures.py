"""Figures of a printout as SVG files, drawn beside the other work where the system allows it.

Drawing takes about as long as all the mathematics. On Linux a fork of the process draws while the
parent goes on; elsewhere, or where other threads run, the figures are drawn when they are asked for.
"""

from __future__ import annotations

import gc
import io
import json
import multiprocessing
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matplotlib import rc_context

from calcbook.plans import plan_sketch

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.calculation import Calculation
    from calcbook.job import Job

COVER_HEIGHT = 2.9  # inches that the cover has for the plan
_INDEX = "figures.json"


def begin_figures(job: Job, chapters: list[Calculation], folder: Path) -> Callable[[], dict[str, Any]]:
    """Start to draw the plan of the cover and every figure of the chapters into a folder.

    Returns a function that waits for them and gives ``{"cover": [...], chapter name: [...]}``, a
    list of file, width and note for each.
    """

    def draw() -> None:
        gc.disable()  # a sweep would copy every page that is shared with the parent
        try:
            _draw(job, chapters, folder)
        except Exception:
            sys.exit(1)  # the parent meets it again and tells it

    child = None
    if sys.platform == "linux" and threading.active_count() == 1:
        child = multiprocessing.get_context("fork").Process(target=draw)
        child.start()

    def finish() -> dict[str, Any]:
        if child is not None:
            child.join()
        if child is None or child.exitcode:
            _draw(job, chapters, folder)
        return json.loads((folder / _INDEX).read_text(encoding="utf-8"))

    return finish


def _draw(job: Job, chapters: list[Calculation], folder: Path) -> None:
    plan = plan_sketch(job.plan, job.system, height=COVER_HEIGHT)
    found = {"cover": [_write(plan, folder / "cover.svg", "")]}
    for chapter in chapters:
        found[chapter.name] = [
            _write(figure.draw(), folder / f"{chapter.name}-{n}.svg", figure.note)
            for n, figure in enumerate(chapter.figures)
        ]
    (folder / _INDEX).write_text(json.dumps(found), encoding="utf-8")


def _write(drawn: Figure, path: Path, note: str) -> dict[str, str]:
    """Write a matplotlib figure as SVG at its own size, so that its scale holds on paper."""
    buffer = io.StringIO()
    with rc_context({"svg.fonttype": "none"}):  # the page sets the letters, so they can be searched
        drawn.savefig(buffer, format="svg", metadata={"Date": None})
    path.write_text(buffer.getvalue(), encoding="utf-8")
    return {"file": path.name, "width": f"{drawn.get_size_inches()[0]:.4f}in", "note": note}
