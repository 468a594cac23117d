"""Times of the plate on ground: the demo's slab under all that governs, and a slab of 200 ft by 100 ft.

Run ``python tests/benchmark_plate.py`` (``--large`` for the large slab too).
"""

import resource
import sys
import time

from shapely import Point, Polygon, box

from calcbook.plate.front import prepared
from calcbook.plate.model import Area, Case, Line, Patch, Plate, Region, print_at

OUTLINE = Polygon([(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)])
EDGE = OUTLINE.difference(OUTLINE.buffer(-19.5 / 12, join_style="mitre"))
POSTS = ((14, 14, 36, 3900, 7600), (28, 9, 30, 2600, 5400), (20, 20, 30, 2700, 5300))


def demo():
    """The demo's slab, its posts, walls and wheels; invented loads."""
    pads = tuple(
        Region(box(x - a / 24, y - a / 24, x + a / 24, y + a / 24), 14.0) for x, y, a, _, _ in POSTS
    )
    ridge = Region(box(0, 11.5, 2, 16.5), 18.0)
    openings = (Point(20, 9).buffer(0.5), box(2, 21, 8, 22.5))
    plate = Plate(
        (OUTLINE,), 5.0, 150.0, 3.6e6, openings=openings, regions=(Region(EDGE, 18.0), *pads, ridge)
    )
    dead = tuple(print_at(x, y, d, 30, 14) for x, y, _, d, _ in POSTS)
    live = tuple(print_at(x, y, f, 30, 14) for x, y, _, _, f in POSTS)
    south, west = ((0.23, 0.23), (39.77, 0.23)), ((0.23, 0.23), (0.23, 27.77))
    walls = (Line(south, 320.0), Line(west, 320.0))
    roof = (Line(south, 540.0),)
    wind = (Line(south, -450.0), Line(west, -300.0))
    wheels = tuple(print_at(x, 4, 1800, 36, 5) for x in (10, 15))
    cases = (
        Case("dead", (*dead, *walls)),
        Case("dead, live, roof", (*dead, *live, *walls, *roof)),
        Case("dead, live, wheels", (*dead, *live, *walls, *wheels)),
        Case("0.6 dead, wind", wind, 0.6),
        Case("dead, top warmer", (*dead, *walls), 1.0, 15.0),
        Case("dead, top colder", (*dead, *walls), 1.0, -10.0),
    )
    return plate, cases


def solve_all(plate, cases, **mesh):
    """Every case on one mesh, with its times."""
    start = time.perf_counter(), time.process_time()
    ready = prepared(plate, [load for case in cases for load in case.loads], **mesh)
    print(
        f"  meshed and factored in {time.perf_counter() - start[0]:.2f} s: {ready.space.size} unknowns, "
        f"band {ready.contact.first.width}"
    )
    for case in cases:
        begun = time.perf_counter()
        result = ready.solve(case)
        bottom, top = (result.worst[f"stress at the {side}"].value for side in ("bottom", "top"))
        print(
            f"  {case.name}: {time.perf_counter() - begun:.2f} s, {result.rounds} rounds, lifted "
            f"{result.lifted_area:.0f} ft2, bottom {bottom:.0f} psi, top {top:.0f} psi, "
            f"out of balance {result.unbalanced:.0e}"
        )
    whole, worked = time.perf_counter() - start[0], time.process_time() - start[1]
    print(f"  whole: {whole:.2f} s ({worked:.2f} s of computing), peak {peak():.0f} MB")


def peak():
    """Most memory used so far, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main():
    print("40 ft by 28 ft, all combinations")
    solve_all(*demo())
    if "--large" in sys.argv:
        plate = Plate((box(0, 0, 200, 100),), 5.0, 150.0, 3.6e6)
        loads = tuple(Patch(box(x, 40, x + 0.5, 40.5), 1800.0) for x in (20, 100, 180))
        cases = (Case("three posts", (*loads, Area(50.0))),)
        print("200 ft by 100 ft, a mesh that suits it")
        solve_all(plate, cases)
        print("200 ft by 100 ft, every element 6 in.")
        solve_all(plate, cases, step=6.0, rough=True)


if __name__ == "__main__":
    main()
