"""The parts of the command that weigh one job, or one version of it, against another."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.basis.safety import DEFERRAL
from calcbook.command.checks import status_of
from calcbook.command.outputs import check_output, inputs_of, picture_mark, write_out
from calcbook.job.file import Job, JobError

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable, Sequence

    from calcbook.weigh.sweep import Sweep
    from calcbook.weigh.sweep_axis import Axis


def print_choices(job: Job) -> None:
    """Run the usual choices through the whole book and print what each does to the price."""
    from calcbook.basis.progress import Progress
    from calcbook.basis.text_table import aligned, terminal_width
    from calcbook.weigh.choices import choices, choices_table, priced_choices
    from calcbook.weigh.outcome import WITHOUT

    rows = priced_choices(job, Progress(len(choices(job)) + 1, "jobs").step)
    headings, cells = choices_table(rows, job.system)
    print("\n".join(aligned(headings, cells, set(range(1, 8)), terminal_width())))
    print(f"{WITHOUT}\n{DEFERRAL}\n")


def run_sweep(arguments: Namespace) -> int:
    """``calcbook sweep``: table, CSV and chart of every combination. Returns the exit status."""
    from calcbook.basis.progress import Progress
    from calcbook.weigh.sweep import read_axes, sweep

    job = Job.read(arguments.file, arguments.own)
    axes = read_axes(arguments.vary, job)
    inputs = inputs_of(job)
    for path in filter(None, (arguments.csv, arguments.chart)):
        check_output(path, inputs)
    draw = _chart_writer(arguments.chart, axes, inputs)
    if arguments.processes is not None and not 1 <= arguments.processes <= 64:
        raise JobError(f"--processes {arguments.processes}: give a whole number from 1 to 64")
    jobs = math.prod(len(axis.values) for axis in axes)
    made = sweep(job, axes, arguments.processes, Progress(jobs, "jobs").step)
    print(made.text(), end="")
    print(DEFERRAL)
    if arguments.csv:
        write_out(arguments.csv, made.csv(), inputs)
        print(f"Table: {Path(arguments.csv).resolve()}")
    if draw:
        draw(made)
        print(f"Chart: {Path(arguments.chart).resolve()}")
    return 0


def _chart_writer(
    path: str | None, axes: Sequence[Axis], inputs: Sequence[Path]
) -> Callable[[Sweep], None] | None:
    """A function that draws a Sweep into a file, or None; refuses beforehand what cannot be drawn."""
    if not path:
        return None
    kind = Path(path).suffix.lower().removeprefix(".")
    if kind not in ("png", "svg"):
        raise JobError(f"{path}: a chart is written as PNG or SVG; end its name in .png or .svg")
    from calcbook.weigh.sweep_chart import check_axes, sweep_chart

    check_axes(axes)

    def write(made: Sweep) -> None:
        import io

        data = io.BytesIO()
        sweep_chart(made).savefig(data, format=kind, dpi=144, metadata=picture_mark(kind))
        write_out(path, data.getvalue(), inputs)

    return write


def run_compare(arguments: Namespace) -> int:
    """``calcbook compare``: what changed, and its CSV. Returns the exit status, of the later job."""
    from calcbook.weigh.compare import Comparison

    old, new = Job.read(arguments.old), Job.read(arguments.new)
    if arguments.csv:
        check_output(arguments.csv, inputs_of(old, new))
    made = Comparison(old, new)
    print(made.text(), end="")
    print(DEFERRAL)
    if arguments.csv:
        write_out(arguments.csv, made.csv(), inputs_of(old, new))
        print(f"Changes: {Path(arguments.csv).resolve()}")
    return status_of(made.new_book)
