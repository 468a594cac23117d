"""How fast the book is: ``python tests/benchmark.py``. Prints medians and 95th percentiles."""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"


def timed(work, times=30):
    """Seconds of several runs, sorted."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return sorted(found)


def report(name, seconds, limit):
    p95 = seconds[max(0, round(0.95 * len(seconds)) - 1)]
    verdict = "ok" if p95 <= limit else "TOO SLOW"
    print(f"{name:<52} median {statistics.median(seconds) * 1e3:8.1f} ms   p95 {p95 * 1e3:8.1f} ms   "
          f"limit {limit * 1e3:6.0f} ms   {verdict}")  # fmt: skip


def imports():
    """import calcbook against import pint, each in a fresh process."""

    def run(module):
        return lambda: subprocess.run([sys.executable, "-c", f"import {module}"], check=True)

    ours, pint = timed(run("calcbook"), 7), timed(run("pint"), 7)
    ratio = statistics.median(ours) / statistics.median(pint)
    print(f"{'import calcbook / import pint':<52} {ratio:.2f} (limit 1.5)")


def panels():
    """A changed field to the new hand calculation, as the kernel does it."""
    from calcbook.book.registry import SUBJECTS
    from calcbook.job.file import Job
    from calcbook.paper.panels import Panel

    job = Job.read(NOTEBOOKS / "demo.toml")
    for name in SUBJECTS:
        panel = Panel(job, name, ["slab.thickness"])
        values = iter(f"{5 + i / 100} in" for i in range(1000))

        def change(panel=panel, values=values):
            panel.set("slab.thickness", next(values))
            panel.result._repr_html_()

        change()
        report(f"panel of {name}: field to hand calculation", timed(change), 0.1)


def calculations():
    """All calculations of the demo, from the file, without rendering; the plate has a benchmark of its own."""
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job

    def work():
        return Book(Job.read(NOTEBOOKS / "demo.toml").changed({"slab.plate": False})).chapters

    work()
    report("all calculations of the demo, without the plate", timed(work, 15), 0.3)


def several_slabs():
    """A slab of 60 sides with 40 pads, and three more slabs: all calculations but the plates."""
    from several import large_job

    from calcbook.book.chapters import Book

    def work():
        return Book(large_job()).chapters

    work()
    report("60 sides, 40 pads, four slabs: all calculations", timed(work, 9), 1.0)


def heat():
    """Three nights of the slab's heat, and 500 draws of an uncertain forecast."""
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job
    from calcbook.pour import slab_heat
    from calcbook.pour.weather_risk import frost_odds

    job = Job.read(NOTEBOOKS / "demo.toml")
    book = Book(job)
    mix, site = book.mix.mix, book.site
    report(
        "heat of the slab, three nights",
        timed(lambda: slab_heat.run(job, mix, site, until=72.0), 15),
        0.3,
    )
    frost_odds(job, 10)
    report("frost under 500 drawn forecasts", timed(lambda: frost_odds(job, 500), 3), 10.0)


def records():
    """500 records of pours, read and fitted: every figure, every line of the quote, spreads, tickets, clocks, cracks."""
    from invented_records import write

    from calcbook.records.estimate import estimates
    from calcbook.records.file import _known, read_records
    from calcbook.records.lines import line_estimates
    from calcbook.records.noted import tables
    from calcbook.records.scatter import spreads

    def all_of(paths):
        _known.cache_clear()
        found, _ = read_records(paths)
        return spreads(found, estimates(found), None), line_estimates(found), list(tables(found, "us"))

    with tempfile.TemporaryDirectory() as folder:
        paths = write(Path(folder), 500)
        all_of(paths[:3])
        report("500 records read and fitted", timed(lambda: all_of(paths), 5), 1.0)


def papers():
    """From the job file to the paper of one reader, as the command makes it once it is loaded."""
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job
    from calcbook.paper.crew import crew_data
    from calcbook.paper.crew_paper import crew_html, crew_pdf
    from calcbook.paper.engineer import engineer_pdf

    def book():
        return Book(Job.read(NOTEBOOKS / "demo.toml"))

    def crew():
        made = book()
        data = crew_data(made)
        return crew_pdf(made, data), crew_html(made, data)

    def engineer():
        return engineer_pdf(book(), appendix=False)

    for name, work, limit in (
        ("crew's page, PDF and HTML", crew, 1.0),
        ("engineer's short form", engineer, 1.5),
    ):
        work()
        report(name, timed(work, 5), limit)


def printing():
    """The whole process of printing the demo."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "calcbook", "print", str(NOTEBOOKS / "demo.toml")]
        command += ["-o", str(Path(folder) / "demo.pdf")]
        report(
            "calcbook print, whole process",
            timed(lambda: subprocess.run(command, stdout=subprocess.DEVNULL), 3),
            5.0,
        )


if __name__ == "__main__":
    imports()
    calculations()
    several_slabs()
    records()
    panels()
    heat()
    papers()
    printing()
