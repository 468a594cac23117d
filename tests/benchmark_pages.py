"""How quick and how large the live pages are: ``python tests/benchmark_pages.py [PAGES]`` opens that many in a row.

It prints for each page the time until its fields and results stand there, then the time from a typed field to
the new drawing, and the memory of the server with all its processes (each shared page counted once), where the
machine tells it.
"""

import itertools
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

from server import browser_page, open_page, running

from calcbook.paper.contents import PAGES

LIMITS = "limits: 6 s cold, 3 s warm; field to picture 0.2 s (p95); 1,500 MB"
CHANGED = """before => document.querySelector('.cb-figure img').src !== before"""


def megabytes():
    """Memory of the server and all processes below it, shared pages in parts; nothing of the browser."""
    children = {}
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            pid, rest = int(status.parent.name), status.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        children.setdefault(int(rest[1]), []).append(pid)
    wanted = [
        pid for pid in children[os.getpid()] if b"calcbook" in Path(f"/proc/{pid}/cmdline").read_bytes()
    ]
    total = 0
    while wanted:
        pid = wanted.pop()
        wanted += children.get(pid, [])
        try:
            lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
        except OSError:
            continue
        total += sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
    return total / 1024


def main(pages=20):
    with (
        tempfile.TemporaryDirectory() as folder,
        running("open", folder) as (address, _),
        browser_page(1366, 768) as page,
    ):
        for number, one in enumerate(itertools.islice(itertools.cycle(PAGES), pages), 1):
            begun = time.perf_counter()
            open_page(page, address, one.stem)
            print(
                f"{number:>3}  {one.stem:<18} {time.perf_counter() - begun:5.1f} s   {megabytes():6.0f} MB",
                flush=True,
            )
        open_page(page, address, "06-volume")
        page.wait_for_timeout(3000)
        field, took = (
            page.get_by_label("Width of the thickened edge at its bottom", exact=True).first,
            [],
        )
        for tenths in range(121, 151):
            before = page.locator(".cb-figure img").first.get_attribute("src")
            field.fill(f"{tenths / 10} in")
            begun = time.perf_counter()
            field.press("Enter")
            page.wait_for_function(CHANGED, arg=before, polling=5, timeout=10_000)
            took.append(time.perf_counter() - begun)
        took.sort()
        print(
            f"field to picture: median {statistics.median(took):.3f} s, p95 {took[round(0.95 * len(took)) - 1]:.3f} s"
        )
        page.wait_for_timeout(20_000)
        print(f"20 s later: {megabytes():.0f} MB\n{LIMITS}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
