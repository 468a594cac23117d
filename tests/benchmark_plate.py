"""Times of the plate on ground: ``python tests/benchmark_plate.py`` (``--large`` for 200 ft by 100 ft too).

The demo job with all that governs, one load changed on the plate that is kept, and a large slab on the mesh
of the demo, each against its limit.
"""

import resource
import sys
import time
from dataclasses import replace
from pathlib import Path

from shapely import box

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.plate.chapter import plate_of_job, worked_of
from calcbook.plate.model import Area, Case, Patch, Plate
from calcbook.plate.worked import element, worst_stress

DEMO = Path(__file__).parent.parent / "notebooks" / "demo.toml"


def peak():
    """Most memory used so far, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


class Timed:
    """Seconds by the clock and of computing, printed against a limit of the latter."""

    def __init__(self, name, limit):
        self.name, self.limit = name, limit

    def __enter__(self):
        self.clock, self.work = time.perf_counter(), time.process_time()

    def __exit__(self, *_):
        clock, work = time.perf_counter() - self.clock, time.process_time() - self.work
        verdict = "ok" if work <= self.limit else "TOO SLOW"
        print(f"{self.name}: {work:.2f} s of computing, {clock:.2f} s by the clock; limit {self.limit:g} s: {verdict}; "
              f"peak {peak():.0f} MB")  # fmt: skip


def demo():
    """The demo job, all governing combinations."""
    book = Book(Job.read(DEMO))
    of = book.job, book.path, book.joint_plan, book.slab
    before = peak()
    with Timed("demo, all governing combinations, solver loaded too", 3.0):
        worked = worked_of(*of)
    print(
        f"  {before:.0f} MB before the plate; limit of all 500 MB: {'ok' if peak() < 500 else 'TOO MUCH'}"
    )
    for result in worked.cases:
        most = worst_stress(result)
        print(f"  {result.case.name}: {result.unknowns:,} unknowns, {result.rounds} rounds, lifts off on "
              f"{result.lifted_area:.0f} ft2, {most.value:.0f} psi {most.where}, a mesh twice as fine "
              f"{100 * (most.error or 0):.1f} % off, out of balance {result.unbalanced:.0e}")  # fmt: skip
    return plate_of_job(*of)


def changed_load(job):
    """One load more on the plate that is kept, then one that lifts."""
    from calcbook.plate.front import prepared
    from calcbook.plate.worst import looked_closer

    ready = prepared(job.plate, job.steady.loads, step=element(job.plate), rough=True)
    steady = ready.solve(job.steady)
    post = Patch(box(24.8, 4.8, 25.2, 5.2), 2500.0, "post")
    rising = Patch(box(30.0, 0.1, 30.4, 0.5), -5000.0, "tie")
    for name, load in (("one load changed", post), ("one load changed, the slab lifts off", rising)):
        case = replace(job.steady, loads=(*job.steady.loads, load))
        with Timed(name, 0.5):
            result = looked_closer(ready.solve(case, steady))
        print(f"  {result.rounds} rounds, lifts off on {result.lifted_area:.0f} ft2")


def large(step):
    """A slab of 200 ft by 100 ft. step: of the mesh, in."""
    from calcbook.plate.front import prepared
    from calcbook.plate.worst import looked_closer

    plate = Plate((box(0, 0, 200, 100),), 5.0, 150.0, 3.6e6)
    loads = [Patch(box(x, y, x + 0.5, y + 0.5), 1800.0) for x in (20, 100, 180) for y in (0, 40)]
    case = Case("posts", (*loads, Area(50.0)), warmer_top=10.0)
    with Timed(f"200 ft by 100 ft, elements of {step:.1f} in.", 30.0):
        ready = prepared(plate, step=step, rough=True)
        result = looked_closer(ready.solve(case))
    print(f"  {result.unknowns:,} unknowns, {result.rounds} rounds, lifts off on {result.lifted_area:.0f} ft2, "
          f"{worst_stress(result).value:.0f} psi")  # fmt: skip


def main():
    job = demo()
    changed_load(job)
    if "--large" in sys.argv:
        large(element(job.plate))


if __name__ == "__main__":
    main()
