"""Figures of a printout as SVG files, drawn by several processes where the system allows it.

Drawing takes longer than all the mathematics. On Linux a fork of the process begins to draw while
the parent goes on with the next calculations or sets the mathematics, and then takes the figures
that are left; elsewhere, or where other threads run, all are drawn when they are asked for.
"""

from __future__ import annotations

import functools
import gc
import io
import json
import multiprocessing
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matplotlib import rc_context

from calcbook.plan.slab_drawing import plan_sketch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job

COVER_HEIGHT = 2.9  # inches that the cover has for the plan


def begin_figures(
    chapters: Sequence[Calculation], folder: Path, cover: Job | None = None
) -> Callable[[], dict[str, Any]]:
    """Start to draw every figure of the chapters into a folder.

    cover: the job whose plan is drawn for the cover, or None. Returns a function that sees to the rest
    and gives ``{"cover": [...], chapter name: [...]}``, a list of file, width and note for each that
    has figures.
    """
    sheets = list(_sheets(chapters, cover))
    turns: Iterator[int] = iter(range(len(sheets)))
    if cover is not None:  # drawn before any fork: what drawing loads is then there for each of them
        sheets[next(turns)].write(folder)
    child = None
    if len(sheets) > 1 and sys.platform == "linux" and threading.active_count() == 1:
        fork = multiprocessing.get_context("fork")
        turns = _shared_turns(fork.Value("i", cover is not None), len(sheets))
        child = fork.Process(target=_draw_aside, args=(sheets, turns, folder), daemon=True)
        child.start()

    def finish() -> dict[str, Any]:
        _draw(sheets, turns, folder)
        if child is not None:
            child.join()
        found: dict[str, Any] = {}
        for sheet in sheets:
            if not sheet.record(folder).exists():  # the child failed at it: its fault is met here
                sheet.write(folder)
            about = json.loads(sheet.record(folder).read_text(encoding="utf-8"))
            found.setdefault(sheet.group, []).append(about)
        return found

    return finish


@dataclass(frozen=True)
class _Sheet:
    """One figure to draw: where it belongs, its file's name, its note."""

    group: str
    name: str
    draw: Callable[[], Figure]
    note: str

    def record(self, folder: Path) -> Path:
        """What the layout must know of the drawn figure; it is there when the drawing is whole."""
        return folder / f"{self.name}.json"

    def write(self, folder: Path) -> None:
        """Write the figure as SVG at its own size, so that its scale holds on paper."""
        drawn, buffer = self.draw(), io.StringIO()
        with rc_context({"svg.fonttype": "none"}):  # the page sets the letters, so they can be searched
            drawn.savefig(buffer, format="svg", metadata={"Date": None})
        file = f"{self.name}.svg"
        (folder / file).write_text(buffer.getvalue(), encoding="utf-8")
        about = {"file": file, "width": f"{drawn.get_size_inches()[0]:.4f}in", "note": self.note}
        self.record(folder).write_text(json.dumps(about), encoding="utf-8")


def _sheets(chapters: Sequence[Calculation], cover: Job | None) -> Iterator[_Sheet]:
    if cover is not None:
        beside = [other.plan for other in cover.others]
        draw = functools.partial(
            plan_sketch, cover.plan, cover.system, height=COVER_HEIGHT, beside=beside
        )
        yield _Sheet("cover", "cover", draw, "")
    for chapter in chapters:
        for n, figure in enumerate(chapter.figures):
            yield _Sheet(chapter.name, f"{chapter.name}-{n}", figure.draw, figure.note)


def _shared_turns(taken: Any, count: int) -> Iterator[int]:
    """Numbers below ``count``, each given to one process only; taken: a shared integer with a lock."""
    while True:
        with taken.get_lock():
            turn = taken.value
            taken.value += 1
        if turn >= count:
            return
        yield turn


def _draw(sheets: Sequence[_Sheet], turns: Iterator[int], folder: Path) -> None:
    for turn in turns:
        sheets[turn].write(folder)


def _draw_aside(sheets: Sequence[_Sheet], turns: Iterator[int], folder: Path) -> None:
    gc.disable()  # a sweep would copy every page that is shared with the parent
    signal.signal(
        signal.SIGINT, signal.SIG_IGN
    )  # the parent answers to a stop, and waits for no figure then
    try:
        _draw(sheets, turns, folder)
    except Exception:
        sys.exit(1)  # the parent meets it again and tells it
