"""A sweep of the demo by one process and by several: jobs a second of a core, and memory as it goes on.

``python tests/benchmark_sweep.py [JOBS]`` prints the rate of each tenth and the memory held then: a
steady rate and a level memory mean that nothing piles up. Seconds are those that a core worked.
"""

import os
import resource
import sys
import time

from server import NOTEBOOKS

from calcbook.job.file import Job
from calcbook.weigh.sweep import read_axes, sweep


def worked():
    """Seconds that cores worked for this process and those it has ended."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def megabytes(who):
    return resource.getrusage(who).ru_maxrss / 1024


class Tenths:
    """Called after each job: rate and memory of every tenth."""

    def __init__(self, jobs):
        self.jobs, self.done, self.begun = jobs, 0, worked()

    def __call__(self):
        self.done += 1
        if self.done % max(self.jobs // 10, 1) == 0:
            now = worked()
            rate = max(self.jobs // 10, 1) / (now - self.begun)
            print(
                f"  {self.done:>6,} jobs  {rate:6.1f} a second  {megabytes(resource.RUSAGE_SELF):6.0f} MB",
                flush=True,
            )
            self.begun = now


def main(jobs=200):
    job = Job.read(NOTEBOOKS / "demo.toml")
    step = 4 / jobs
    for processes in (1, 2):
        axes = read_axes([f"slab.thickness=4:{4 + step * (jobs - 0.5):.9f}:{step:.9f}in"], job)
        print(f"{processes} process{'es' if processes > 1 else ''}, {len(axes[0].values):,} jobs")
        begun, clock = worked(), time.perf_counter()
        sweep(job, axes, processes, Tenths(len(axes[0].values)) if processes == 1 else None)
        seconds = worked() - begun
        print(f"  {len(axes[0].values) / seconds:.1f} a second of a core, {time.perf_counter() - clock:.0f} s by the clock; "
              f"largest of the others {megabytes(resource.RUSAGE_CHILDREN):.0f} MB")  # fmt: skip


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
