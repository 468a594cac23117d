"""The parts of the command that weigh one job, or one version of it, against another."""

from pathlib import Path

from calcbook.job import Job, JobError, write_whole


def print_odds(quote):
    """Print the odds on a Quote."""
    from calcbook.odds_report import odds_text

    print(odds_text(quote))


def print_what_ifs(job):
    """Run the usual choices through the whole book and print what each does to the price."""
    from calcbook.progress import Progress
    from calcbook.text_table import aligned, terminal_width
    from calcbook.whatif import choices, what_if_table, what_ifs

    rows = what_ifs(job, Progress(len(choices(job)) + 1, "jobs").step)
    headings, cells = what_if_table(rows, job.system)
    print("\n".join(aligned(headings, cells, set(range(1, 8)), terminal_width())) + "\n")


def run_sweep(arguments):
    """``calcbook sweep``: table, CSV and chart of every combination. Returns the exit status."""
    from calcbook.progress import Progress
    from calcbook.sweep import read_axes, sweep

    job = Job.read(arguments.file)
    axes = read_axes(arguments.vary, job)
    draw = _chart_writer(arguments.chart, axes)
    if arguments.processes is not None and not 1 <= arguments.processes <= 64:
        raise JobError(f"--processes {arguments.processes}: give a whole number from 1 to 64")
    jobs = 1
    for axis in axes:
        jobs *= len(axis.values)
    made = sweep(job, axes, arguments.processes, Progress(jobs, "jobs").step)
    print(made.text(), end="")
    if arguments.csv:
        write_whole(arguments.csv, made.csv())
        print(f"Table: {Path(arguments.csv).resolve()}")
    if draw:
        draw(made)
        print(f"Chart: {Path(arguments.chart).resolve()}")
    return 0


def _chart_writer(path, axes):
    """A function that draws a Sweep into a file, or None; refuses beforehand what cannot be drawn."""
    if not path:
        return None
    kind = Path(path).suffix.lower().removeprefix(".")
    if kind not in ("png", "svg"):
        raise JobError(f"{path}: a chart is written as PNG or SVG; end its name in .png or .svg")
    from calcbook.sweep_chart import check_axes, sweep_chart

    check_axes(axes)

    def write(made):
        import io

        data = io.BytesIO()
        metadata = {"Date": None} if kind == "svg" else None
        sweep_chart(made).savefig(data, format=kind, dpi=144, metadata=metadata)
        write_whole(path, data.getvalue())

    return write


def run_compare(arguments, status):
    """``calcbook compare``: print what changed. status: exit status of a Book. Returns it for the new job."""
    made = comparison(arguments.old, arguments.new)
    print(made.text(), end="")
    if arguments.csv:
        write_whole(arguments.csv, made.csv())
        print(f"Changes: {Path(arguments.csv).resolve()}")
    return status(made.new_book)


def comparison(old, new, new_book=None):
    """The Comparison of two job files; new_book: the new one's Book where it has been run."""
    from calcbook.compare import Comparison

    new_job = new_book.job if new_book else Job.read(new)
    return Comparison(Job.read(old), new_job, new_book)
