"""How quick and how large the live pages are: ``python tests/benchmark_pages.py [PAGES]`` opens that many in a row.

It prints for each page the time until its fields and results stand there, then the time from typed fields to
the new drawing, page by page, and the memory of the server with all its processes (each shared page counted once), where the
machine tells it.
"""

import itertools
import os
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import TimeoutError
from server import browser_page, open_page, running

from calcbook.paper.contents import PAGES

LIMITS = "limits: 6 s cold, 3 s warm; field to picture 0.2 s (p95); 1,500 MB"
PICTURE = ".cb-panel .cb-figure img"
SHOWN = "one => one.alt + one.src"
CHANGED = f"before => {{ const one = document.querySelector('{PICTURE}'); return one && one.alt + one.src !== before; }}"
NUMBER = re.compile(r"([\d.]+)( \S+)?")


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


def field_to_picture(page, address, stem, entries=12):
    """Seconds from a typed field to the picture of it, for the first field of a page that all entries show in.

    A picture that must come out as it was counts when its words tell the new answer.
    """
    open_page(page, address, stem)
    page.wait_for_timeout(3000)
    best = []
    fields = page.locator(".cb-panel .cb-field input[type=text]").all()
    for field in fields if page.locator(PICTURE).count() else ():
        found = NUMBER.fullmatch(field.input_value()) if field.is_visible() else None
        best = max(best, timed(page, field, found, entries) if found else [], key=len)
        if len(best) == entries:
            break
    return best


def timed(page, field, found, entries):
    """Seconds to the picture of each of some entries near the one found, as many as show."""
    took = []
    for n in range(1, entries + 1):
        near = (n + 1) // 2 / 40 * (-1) ** n  # up and down, to stay within what is allowed
        before = page.locator(PICTURE).first.evaluate(SHOWN)
        field.fill(f"{float(found[1]) * (1 + near):.4g}{found[2] or ''}")
        begun = time.perf_counter()
        field.press("Enter")
        try:
            page.wait_for_function(CHANGED, arg=before, polling=5, timeout=4_000)
        except TimeoutError:
            break
        took.append(time.perf_counter() - begun)
    return took


def told(took):
    took = sorted(took)
    p95 = took[max(round(0.95 * len(took)) - 1, 0)]
    return f"field to picture: median {statistics.median(took):.3f} s, p95 {p95:.3f} s, of {len(took)}"


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
        every = []
        for stem in dict.fromkeys(one.stem for one in itertools.islice(PAGES, pages)):
            took = field_to_picture(page, address, stem)
            every += took
            print(f"{stem:<18} {told(took) if took else 'no picture that a field changes'}", flush=True)
        print(f"all of them        {told(every)}")
        page.wait_for_timeout(20_000)
        print(f"20 s later: {megabytes():.0f} MB\n{LIMITS}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
