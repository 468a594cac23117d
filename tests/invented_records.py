"""Invented records of pours: twelve for the notebook (``python tests/invented_records.py`` writes them), more for tests.

All of it is invented: crew, clients, days, and what was measured. The crew has rates of its own, and each job is
drawn about them.
"""

import datetime

import numpy as np

from calcbook.basis.sources import TABLES
from calcbook.records.figures import LINE_FIELDS

FOLDER = TABLES / "invented"
JOBS = (
    "bait shop", "net shed", "ferry office", "sail loft", "dune garage", "pump house", "beach kiosk", "boat garage",
    "seed library", "ice house", "harbor workshop", "field kitchen",
)  # fmt: skip
ODD = 6  # the job whose base came out far too deep
LINES = {place: line for line, place in LINE_FIELDS.items()}
# field -> (rate in use, its unit, the crew's own rate over it)
RATES = {
    "crew.place_rate": (2.5, "yd3", 1.18), "crew.trowel_rate": (100, "ft2", 1.25), "crew.base_rate": (2, "yd3", 0.9),
    "crew.forms_rate": (12, "ft", 0.78), "crew.retarder_rate": (250, "ft2", 1.1), "bolts.set_rate": (12, "1/h", 0.7),
    "joints.saw_rate": (60, "ft", 0.9),
}  # fmt: skip
PACE, DEPTH, WASTE, SETS = 0.14, (0.21, 0.11), (0.034, 0.012), (1.12, 0.15)


def text(random, name, day, odd=False):
    """The text of an invented record. random: a numpy Generator; odd: the base came out far too deep."""
    length, width, inches = (int(random.integers(*span)) for span in ((16, 44), (14, 30), (4, 6)))
    area, about = float(length * width), lambda spread: np.exp(spread * random.normal())
    volume = area * inches / 12 / 27 * 1.12
    amounts = (volume * 1.08, area, area / 81, 2.0 * (length + width), area * 1.1, (length + width) / 2, area / 8)  # fmt: skip
    promised = {place: n / RATES[place][0] for place, n in zip(RATES, amounts, strict=True)}
    hours = {place: h / (RATES[place][2] * about(PACE)) for place, h in promised.items()}
    extra = DEPTH[0] + DEPTH[1] * random.normal() + 1.6 * odd
    depths = inches + extra + 0.15 * random.normal(size=8)
    lost = max(WASTE[0] + WASTE[1] * random.normal(), 0.004)
    used = volume * (1 + lost) + area * (np.mean(depths) - inches) / 12 / 27
    came = np.ceil(4 * (used + 0.3 + 0.5 * random.random())) / 4
    direct = 6.1 * area + 46 * sum(promised.values())
    spent = 6.1 * area * 1.02 * about(0.05) + 46 * sum(hours.values())
    early, late = 3.4 + random.random(), 5.6 + random.random()
    seen = np.sqrt(early * late) * SETS[0] * about(SETS[1])
    tests = {age: 4000 * 0.02 * (age - 9) / (1 + 0.02 * (age - 9)) * about(0.05) for age in (72, 168, 672)}  # fmt: skip
    beside = _Beside(day.toordinal(), came, promised["crew.place_rate"] * 0.85 / 5, seen)
    parts = [
        "# Invented, as all records of this folder: no such job was poured.",
        _table("record", job=f"{name.replace(' ', '-')}.toml", name=f"{name} (invented)", date=day.isoformat(),
               by="R. Okafor (invented)", lost_days=int(random.integers(0, 2)),
               **({"wrong": "the north end was dug over, and no one was told"} if odd else {})),
        _table("concrete", delivered=f"{came:.2f} yd3", left_over=f"{came - used:.2f} yd3"),
        _table("base", depths=[f"{d:.2f} in" for d in depths]),
        _table("set", foot_print=_clock(7.5 + seen), machine_on=_clock(7.75 + seen)),
        _table("[work]", task="placing", start="07:30", end=_clock(7.5 + hours["crew.place_rate"] / 5), people=5),
        *beside.noted(),
        _table("money", spent=f"${spent:.0f}"),
        *(_table("[lines]", line=LINES[p], hours=f"{h:.1f} h") for p, h in hours.items()),
        *beside.bills(area, volume),
        *(_table("[strengths]", age=f"{age} h", strength=f"{psi:.0f} psi", by="cylinder", cured="in the laboratory")
          for age, psi in tests.items()),
        _table("cracks", seen=beside.cracks),
        _table("promised", volume=f"{volume:.2f} yd3", area=f"{area:.0f} ft2", thickness=f"{inches} in",
               strength="3000 psi", line_loss="0 yd3", float_early=f"{early:.2f} h", float_late=f"{late:.2f} h", direct=f"${direct:.0f}",
               price=f"${direct * 1.12 / 0.85:.0f}", sure=f"${direct * 1.12 / 0.85 * 1.06:.0f}", overhead="12 %",
               margin="15 %", **beside.promised),
        *beside.quoted(area, volume),
        *(_table("[promised.lines]", line=LINES[p], hours=f"{h:.2f} h", field=p, rate=f"{RATES[p][0]:g} {RATES[p][1]}")
          for p, h in promised.items()),
    ]  # fmt: skip
    return "\n".join(parts)


BOUGHT = {  # line -> (field of its price, price, the bill over it)
    "Concrete, ready-mixed": ("prices.concrete", 165, 1.06), "Crushed stone": ("prices.stone", 38, 1.0),
    "Vapor retarder": ("prices.retarder", 0.14, 1.12),
}  # fmt: skip


class _Beside:
    """Trucks, tasks, cracks and bills of a job, drawn by themselves."""

    def __init__(self, seed, came, placed, seen):
        self.random, self.came, self.placed, self.seen = np.random.default_rng(seed), came, placed, seen
        self.market = np.exp(0.03 * self.random.normal())
        panel, w_cm, drying = (
            self.random.uniform(9, 13),
            self.random.uniform(0.46, 0.55),
            self.random.uniform(0.03, 0.17),
        )
        self.promised = {
            "panel": f"{panel:.1f} ft",
            "w_cm": f"{w_cm:.2f}",
            "drying": f"{drying:.2f} lb/ft2/h",
        }
        self.cracks = int(self.random.random() < 0.25 + 0.3 * (panel > 11))

    def noted(self):
        """Trucks by their tickets, and the tasks after placing."""
        found, left, arrived = [], self.came, 7.45
        while left > 0:
            load, wait = min(left, 10.0), abs(self.random.normal(0.1, 0.05))
            empty = arrived + wait + load * abs(self.random.normal(0.045, 0.008))
            found.append(
                _table(
                    "[trucks]",
                    load=f"{load:g} yd3",
                    arrived=_clock(arrived),
                    began=_clock(arrived + wait),
                    empty=_clock(empty),
                )
            )
            left, arrived = left - load, arrived + abs(self.random.normal(0.9, 0.12))
        floats = 7.75 + self.seen
        saws = floats + self.random.uniform(4, 7)
        return [*found, _table("[work]", task="floating", start=_clock(floats), end=_clock(floats + 1.1), people=2),
                _table("[work]", task="sawing", start=_clock(saws), end=_clock(saws + 0.9), people=1)]  # fmt: skip

    def amounts(self, area, volume):
        """Of each line that is bought."""
        return dict(zip(BOUGHT, (volume * 1.08, area / 60, area * 1.1), strict=True))

    def quoted(self, area, volume):
        """Bought lines as they were quoted."""
        return [_table("[promised.lines]", line=line, cost=f"${n * BOUGHT[line][1]:.0f}", field=BOUGHT[line][0])
                for line, n in self.amounts(area, volume).items()]  # fmt: skip

    def bills(self, area, volume):
        """Bought lines as they came out."""
        return [_table("[lines]", line=line, cost=f"${n * price * times * self.market * np.exp(0.05 * self.random.normal()):.0f}")
                for line, n in self.amounts(area, volume).items() for _, price, times in [BOUGHT[line]]]  # fmt: skip


def _table(heading, **values):
    rows = [f"{key} = {_value(value)}" for key, value in values.items()]
    return "\n".join([f"\n[{heading}]", *rows])


def _value(value):
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return str(value) if isinstance(value, int) else f'"{value}"'


def _clock(hours):
    minutes = round(hours * 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def write(folder, count, start=12):
    """Write ``count`` records into a folder. start: of the random numbers, the same giving the same records."""
    random, folder_names = np.random.default_rng(start), []
    folder.mkdir(parents=True, exist_ok=True)
    for n in range(count):
        name = JOBS[n] if n < len(JOBS) else f"slab {n}"
        day = datetime.date(2025, 4, 8) + datetime.timedelta(days=45 * n if count < 20 else n)
        path = folder / f"{name.replace(' ', '-')}.record.toml"
        path.write_text(text(random, name, day, n == ODD) + "\n", encoding="utf-8", newline="\n")
        folder_names.append(path)
    return folder_names


if __name__ == "__main__":
    write(FOLDER, len(JOBS))
