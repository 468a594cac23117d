"""What the tests of sill bolts share: changed jobs, and what a calculation says."""

import re

from calcbook.book.chapters import run


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
