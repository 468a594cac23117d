"""What the tests of sill bolts share: changed jobs, and what a calculation says."""

import re

from calcbook.basis.units import Q
from calcbook.bolts.bolted import Bolted
from calcbook.bolts.capacity import Capacity
from calcbook.book.chapters import run
from calcbook.job.schema.sections import Slab
from calcbook.job.schema.walls import Wall
from calcbook.job.wall_lines import wall_line
from calcbook.loads.from_job import Brought
from calcbook.loads.wall import Loads
from calcbook.loads.wall import Wall as Model
from calcbook.plan.tape import Bolt, Layout, Rules


def changed(demo, **values):
    """The calculation of a changed job; ``__`` stands for the dots of a place."""
    return run("bolts", demo.changed({k.replace("__", "."): v for k, v in values.items()}))


def one_wall(demo, wall, **sections):
    """The calculation of the demo with one wall only (``wall``: its fields), and changed sections."""
    raw = {**demo.raw, "walls": [{"name": "lone", "side": 1, **wall}]}
    for name, fields in sections.items():
        raw[name] = {**demo.raw.get(name, {}), **fields}
    return run("bolts", type(demo)(raw))


def without(demo, *fields):
    """The calculation of the demo without some fields of its bolts."""
    bolts = {k: v for k, v in demo.raw["bolts"].items() if k not in fields}
    return run("bolts", type(demo)({**demo.raw, "bolts": bolts}))


def asked(calc, status="NEEDS ENGINEER"):
    """Questions of the checks with a status."""
    return " ".join(c.title for c in calc.checks if c.status == status)


def check(calc, words):
    """The one check whose question has these words."""
    (found,) = (c for c in calc.checks if words in c.title)
    return found


def frames(calc):
    return {b.title: b.frame for b in calc.blocks if hasattr(b, "frame")}


def tape_lists(calc):
    """Tape lists by their titles."""
    return {t: f for t, f in frames(calc).items() if t.startswith("Tape list")}


def notes(calc):
    return " ".join(b.words for b in calc.blocks if hasattr(b, "words"))


def values(calc, name, unit="lbf"):
    """Results of all steps of a formula, in order."""
    return [b.value.m_as(unit) for b in steps(calc, name)]


def steps(calc, name):
    return [s for s in calc.steps if getattr(s, "formula", None) is not None and s.formula.name == name]


def read(text):
    """Inches of a tape reading, by plain arithmetic."""
    feet, inches = re.fullmatch(r"(?:(\d+)'-)?([\d /]+)\"", text).groups()
    whole, *part = inches.split()
    top, bottom = part[0].split("/") if part else (0, 1)
    return 12 * int(feet or 0) + int(whole) + int(top) / int(bottom)


def bolted(*places, pieces=((0, 3840),), **fields):
    """A 20 ft wall that starts 1 ft from its corner, with bolts at given sixteenths."""
    sill = Wall(name="w", side=1, start="1 ft", end="21 ft", **fields)
    line = wall_line(Slab(length="30 ft", width="20 ft"), sill)
    bolts = [
        Bolt(p, p, "", next(n for n, (a, b) in enumerate(pieces, 1) if a <= p <= b)) for p in places
    ]
    layout = Layout(bolts, list(pieces), [], Rules(1152, 40, 192, 70))
    loads = Brought(0, Model("w", 20, top=Loads(W=100 / 0.6)), True, True, True, True, True)
    return Bolted(sill, line, Capacity(), Q(7.0, "in"), {"rule": Q(72.0, "in")}, layout, loads)
