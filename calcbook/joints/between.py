"""The joint where two slabs of a job touch, an isolation strip, dowels or a key, and dowels across sawn joints."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import PRACTICE
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.job.schema.between import DOWELED, ISOLATION, KEYED
from calcbook.job.top import top_of

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.together import Contact

GUIDE = cite("ACI 302.1R", "construction joints, from memory")
_LEVEL = Q(1 / 8, "in")  # tops of two slabs that differ by less are level
_LEAST_KEYED = Q(6, "in")
_USUAL = 0.75, 16.0, 12.0  # in.: diameter, length, distance
_LOW, _HIGH = Q(5, "in"), Q(6, "in")  # slabs that they are for
_NEAR = 0.02  # of a size: a metric one is the same dowel


@formula(
    "Dowels of a joint",
    cite("common practice", "the first and the last half a spacing from the ends"),
    result("1", "dowels"),
    L=arg("ft", "length of the joint", above=0),
    s=arg("in", "distance between dowels", above=0),
)
def dowel_count(L, s):
    """Dowels along a joint, spread evenly. Returns a whole number (plain).

    >>> print(dowel_count("16 ft", "12 in"))
    16.0
    """
    n = ceil(L / s)
    return n


def enter_joints_between(calc: Calculation, job: Job) -> None:
    """Enter the joint of a slab to each one that it touches; of two slabs the first takes dowels and key, the later the strip."""
    for contact in job.contacts:
        if contact.number is not None:
            calc.given(job, f"between.{contact.number}.kind")
        length = calc.finding(
            f"Where it touches the slab {contact.other!r}.", "L_b", Q(contact.length, "ft"), "ft", cite("geometry"),
            label="length of contact",
        )  # fmt: skip
        kind = contact.joint.kind
        if kind == ISOLATION:
            _isolated(calc, contact, length)
            continue
        _level(calc, job, contact)
        if kind == DOWELED:
            _doweled(calc, job, contact, length)
        if kind == KEYED:
            _keyed(calc, job, contact, length)


def _isolated(calc: Calculation, contact: Contact, length: Quantity) -> None:
    assumed = (
        ""
        if contact.number is not None
        else " The job names no kind of joint here, so this is assumed."
    )
    if contact.first:
        calc.note(f"An isolation strip parts it from the slab {contact.other!r}, which is poured later and takes the "
                  f"strip.{assumed}")  # fmt: skip
        return
    calc.note(f"An isolation strip as deep as the slab parts it from the slab {contact.other!r}: each settles and "
              f"shrinks by itself, and no load passes.{assumed}")  # fmt: skip
    calc.take(f"Isolation strip beside {contact.other}", length, "ft", "isolation")


def _doweled(calc: Calculation, job: Job, contact: Contact, length: Quantity) -> None:
    joint, system = contact.joint, job.system
    size, long = (show_length(q, system, small=True) for q in (joint.dowel, joint.dowel_length))
    n = calc.step(
        dowel_count, f"Smooth dowels {size} by {long}, half in each slab at mid-depth, one end greased: they keep the "
        "tops level and let the joint open.", L=length, s=joint.spacing,
    )  # fmt: skip
    if not contact.first:
        calc.note(f"They are counted and set with the slab {contact.other!r}, which is poured first.")
        return
    calc.take(f"Dowels to {contact.other}, {size} by {long}", n, "1", "dowel")
    size_in, long_in, apart_in = (
        q.m_as("inch") for q in (joint.dowel, joint.dowel_length, joint.spacing)
    )
    usual = (
        abs(size_in / _USUAL[0] - 1) < _NEAR
        and long_in > (1 - _NEAR) * _USUAL[1]
        and apart_in < (1 + _NEAR) * _USUAL[2]
    )
    _ask_of_others(calc, job, f"Dowels of the joint to {contact.other}", usual)


def _ask_of_others(calc: Calculation, job: Job, title: str, usual: bool) -> None:
    """Ask the engineer about dowels that are not the usual ones, or not in a slab that those are for."""
    if usual and _LOW <= job.slab.thickness <= _HIGH:
        return
    size, long, apart, low, high = (
        show_length(q, job.system, small=True) for q in (*(Q(v, "in") for v in _USUAL), _LOW, _HIGH)
    )
    calc.ask_engineer(
        title, GUIDE,
        f"The book knows dowels of {size} by {long}, at most {apart} apart, for slabs of {low} to {high}; for another slab or "
        "dowel an engineer chooses.", job,
    )  # fmt: skip


def enter_dowels_of_cuts(calc: Calculation, job: Job, runs: list[float]) -> None:
    """Enter the dowels of the sawn joints, where a vehicle's load is counted on to cross them. runs: lengths, ft."""
    if not runs or job.vehicle.axle is None or not job.vehicle.transfer.m_as("") > 0:
        return
    calc.given(job, "vehicle.transfer", "LT")
    size, long, step = (show_length(Q(v, "in"), job.system, small=True) for v in _USUAL)
    n = sum(float(dowel_count(L=Q(run, "ft"), s=Q(_USUAL[2], "in"))) for run in runs)
    calc.finding(
        f"A wheel is counted on to pass to the other side of the sawn joints (vehicle.transfer), which takes smooth dowels across "
        f"every one of them, {size} by {long}, {step} apart, set in baskets before the pour. Every line is counted for itself. "
        "Without dowels set vehicle.transfer to 0.", "n", n, "1", dowel_count.source, "cut_dowels", "dowels across the cuts",
    )  # fmt: skip
    calc.take("Dowels across the sawn joints", n, "1", "dowel", note=f"{size} by {long}, smooth")
    _ask_of_others(calc, job, "Dowels across the sawn joints", usual=True)


def _keyed(calc: Calculation, job: Job, contact: Contact, length: Quantity) -> None:
    if contact.first:
        calc.take(f"Key strip to {contact.other}", length, "ft", "key_strip")
    calc.check(
        f"Thickness for the key to {contact.other}", _LEAST_KEYED, job.slab.thickness, "in", GUIDE,
        "A thin tongue breaks, and a key passes no load once the joint opens.",
        least=True, to_do="Dowels, or an isolation joint.",
    )  # fmt: skip


def _level(calc: Calculation, job: Job, contact: Contact) -> None:
    """Whether the tops meet along a joint that keeps them level."""
    top = top_of(job)
    points = np.array([p for line in contact.lines for p in line])
    here = top.heights(points) + top.above_grade.m_as("foot")
    step = Q(float(np.max(np.abs(here - np.array(contact.heights)))), "ft")
    calc.check(
        f"Step between the tops at the joint to {contact.other}", step, _LEVEL, "in", PRACTICE,
        "A doweled or keyed joint holds two tops at one level.",
        to_do="Change above_grade or slope, or make it an isolation joint.",
    )  # fmt: skip
