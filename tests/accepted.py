"""Job files of any size that are accepted, at random: for laws that hold of every one.

``CALCBOOK_JOBS=1000 python -m pytest tests/test_accepted.py -n 0`` is the long run. Places end at the latitudes that
the book reads, where the longest day does not end and the longest night hardly does.
"""

import datetime
import random
from typing import Any

PLACES = (  # latitude, longitude, clock offset: both hemispheres, the tropics, polar days and nights
    (44.1, -87.0, -5), (-36.9, 174.8, 13), (0.5, 37.0, 3), (65.9, 12.2, 1), (-54.8, -68.3, -3), (-65.9, -64.1, -3),
)  # fmt: skip
# nights on which clocks change, leap days, the longest and shortest days, the turn of the year
DAYS = ("2026-03-08", "2026-11-01", "2026-03-29", "2028-02-29", "2026-06-21", "2026-12-21", "2026-12-31", "2026-10-27")  # fmt: skip


def job(seed: int) -> dict[str, Any]:
    """The contents of a job file; the same for the same number."""
    draw = random.Random(seed)
    length, width = draw.randrange(12, 120, 4), draw.randrange(12, 90, 4)
    many = draw.choice((0, 1, 3, 12)) if seed % 25 != 24 else 150
    raw: dict[str, Any] = {
        "job": {"name": f"job {seed}", "units": draw.choice(("us", "si"))},
        "slab": {
            "thickness": f"{draw.choice((3.5, 4, 5, 6, 8))} in", "plate": seed % 17 == 3 and length * width < 900,
            **_outline(draw, length, width),
        },
        "edge": {"depth": f"{draw.choice((8, 12, 20))} in", "width": f"{draw.choice((12, 16))} in"},
        "concrete": {"strength": f"{draw.choice((2500, 3000, 4000, 5000))} psi", "slump": f"{draw.choice((3, 4, 6))} in"},
        "reinforcement": {"kind": draw.choice(("none", "mesh", "bars", "micro fiber", "macro fiber", "steel fiber"))},
        "soil": {"kind": draw.choice(("not known", "clay", "sand", "gravel"))},
        "openings": _openings(draw, many, length, width),
        "pads": _pads(draw, many, length, width),
        "walls": _walls(draw, many),
        "prices": {"concrete": f"${draw.randrange(90, 260)} / yd3", "wage": f"${draw.randrange(20, 90)} / h"},
    }  # fmt: skip
    if draw.random() < 0.7:
        raw["pour"] = _pour(draw)
    if seed % 10 == 4 or seed >= 50:  # they take long: of the first fifty a few
        raw["slabs"] = _slabs(random.Random(f"slabs {seed}"), length)
    return raw


def _slabs(draw: random.Random, length: int) -> list[dict[str, Any]]:
    """Walks and aprons along the first side, touching it or apart from it, level or with a fall."""
    most = min(length // 12, draw.choice((0, 0, 0, 1, 2, 8)))
    return [
        {"name": f"walk {n}", "length": f"{draw.choice((6, 8, 10))} ft", "width": f"{draw.choice((4, 6))} ft",
         "x": f"{12 * n} ft", "y": f"{-6 - draw.choice((0, 2, 20))} ft", "thickness": f"{draw.choice((4, 5))} in",
         "edge": {"depth": "0 in"}, "plate": False, "driven": draw.random() < 0.5}
        | ({"slope": {"fall": "1/8 in/ft", "side": 1}} if draw.random() < 0.5 else {})
        for n in range(most)
    ]  # fmt: skip


def _outline(draw: random.Random, length: int, width: int) -> dict[str, Any]:
    if draw.random() < 0.5:
        return {"length": f"{length} ft", "width": f"{width} ft"}
    x, y = length * draw.choice((0.5, 0.6, 0.75)), width * draw.choice((0.5, 0.6, 0.75))
    corners = [(0, 0), (length, 0), (length, y), (x, y), (x, width), (0, width)]
    return {"points": [[f"{a:g} ft", f"{b:g} ft"] for a, b in corners]}


def _spots(
    draw: random.Random, many: int, length: int, width: int, reach: float
) -> list[tuple[float, float]]:
    """Places in the quarter at the corner 0, 0 that every outline has, on a grid so that none meet."""
    columns, rows = int((length / 2 - 3) // reach), int((width / 2 - 3) // reach)
    cells = [(2.5 + reach * c, 2.5 + reach * r) for c in range(columns) for r in range(rows)]
    return draw.sample(cells, min(many, len(cells)))


def _openings(draw: random.Random, many: int, length: int, width: int) -> list[dict[str, Any]]:
    found = _spots(draw, many, length, width, 1.0 if many > 20 else 3.0)
    return [
        {"name": f"hole {n}", "x": f"{x} ft", "y": f"{y} ft", "diameter": "4 in"}
        for n, (x, y) in enumerate(found)
    ]


def _pads(draw: random.Random, many: int, length: int, width: int) -> list[dict[str, Any]]:
    found = _spots(draw, min(many, 40), length, width, 4.0)
    return [
        {"name": f"pad {n}", "x": f"{x + 0.5} ft", "y": f"{y + 0.5} ft", "length": "24 in", "width": "30 in", "depth": "8 in",
         "dead": f"{draw.randrange(0, 9000, 500)} lbf",
         "roof": f"{draw.randrange(0, 9000, 500)} lbf"}
        for n, (x, y) in enumerate(found)
    ]  # fmt: skip


def _walls(draw: random.Random, many: int) -> list[dict[str, Any]]:
    """A wall on some sides, the more of them the more is drawn, and partitions inside."""
    walls: list[dict[str, Any]] = []
    for side in draw.sample(range(1, 5), min(many, 4)):
        wall: dict[str, Any] = {"name": f"wall {side}", "side": side, "height": "9 ft"}
        if draw.random() < 0.8:
            wall |= {
                key: f"{draw.randrange(0, 400, 20)} plf"
                for key in ("dead", "roof", "uplift", "shear", "shear_out")
            }
        wall["method"] = draw.choice(("cast", "drilled"))
        walls.append(wall)
    walls += [
        {"name": f"partition {n}", "place": "interior", "dead": f"{20 * n + 20} plf"}
        for n in range(max(0, many - 4))
    ]
    return walls


def _pour(draw: random.Random) -> dict[str, Any]:
    latitude, longitude, offset = draw.choice(PLACES)
    day = datetime.date.fromisoformat(draw.choice(DAYS))
    mean, swing = draw.uniform(36, 88), draw.uniform(0, 18)
    begin = datetime.datetime.combine(day, datetime.time())
    rows = [
        {"time": f"{begin + datetime.timedelta(hours=h):%Y-%m-%d %H:%M}",
         "air": f"{mean - swing * abs(12 - (h + 9) % 24) / 12 + swing / 2:.1f} F", "humidity": f"{draw.randrange(20, 100)} %",
         "wind": f"{draw.randrange(0, 25)} mph", "sky": f"{draw.randrange(0, 101)} %"}
        for h in range(draw.choice((30, 72, 120)))
    ]  # fmt: skip
    return {
        "date": day.isoformat(), "start": draw.choice(("05:00", "07:30", "13:00")), "latitude": f"{latitude} deg",
        "longitude": f"{longitude} deg", "clock_offset": f"{offset} h", "forecast": rows, "pump": draw.random() < 0.5,
        "soil_temperature": f"{draw.randrange(34, 80)} F",
    }  # fmt: skip
