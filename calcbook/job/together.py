"""How the slabs of a job lie beside each other: none overlaps, and where two touch there is a joint."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import shapely

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.job.files import JobError
from calcbook.job.schema.between import Between
from calcbook.job.top import top_of

if TYPE_CHECKING:
    from shapely import Polygon

_HAIR = 1e-6  # ft that two sides may lie apart or overlap and still be one line
_WIDEST = 1 / 12  # ft of a gap that is still the joint between two slabs
_SHORTEST = 0.05  # ft that slabs touch along; less is a corner
_MOST_NAMED = 6


@dataclass(frozen=True)
class Contact:
    """Where a slab touches another: its name, the stretches in feet, the joint, and its entry in the job file.

    first: whether this slab is poured before the other, so that its form stands there; number: of the entry
    under [[between]], None where there is none; heights: of the other's top above the ground at those points, in feet.
    """

    other: str
    lines: tuple[tuple[tuple[float, float], ...], ...]
    joint: Between
    number: int | None
    first: bool
    heights: tuple[float, ...]

    @property
    def length(self) -> float:
        """Feet that the two slabs touch along."""
        return float(shapely.MultiLineString([list(line) for line in self.lines]).length)


def slug_of(name: str) -> str:
    """A name of a slab in letters, digits and hyphens, for the names of chapters and files."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "slab"


def lying_apart(whole: Any, further: Sequence[Any]) -> None:
    """Refuse slabs of one name or that overlap, and joints between slabs that do not touch. Raises JobError."""
    slabs = [whole, *further]
    seen: dict[str, str] = {}
    for job in further:
        name = job.slab.called
        clash = (
            "the main slab" if slug_of(name) == slug_of(whole.slab.called) else seen.get(slug_of(name))
        )
        if clash:
            raise JobError(
                f"{job._where('slab.name')}: slab {name!r} has the name of {clash}; name it otherwise"
            )
        seen[slug_of(name)] = repr(name)
    for a, b in itertools.combinations(slabs, 2):
        _refuse_overlap(a, b)
    for number, joint in enumerate(whole.file.between):
        _check_joint(whole, slabs, joint, number)


def _refuse_overlap(a: Any, b: Any) -> None:
    both = a.plan.outline & b.plan.outline
    if both.area <= _HAIR * max(both.length, 1.0):
        return
    part = max(shapely.get_parts(both), key=lambda shape: shape.area)
    points = [_point(p, a.system) for p in list(part.exterior.coords)[:-1]]
    more = f" and {len(points) - _MOST_NAMED} more" if len(points) > _MOST_NAMED else ""
    raise JobError(
        f"{b._where('slab')}: slab {b.slab.called!r} overlaps {a.slab.called!r} between the points "
        f"{', '.join(points[:_MOST_NAMED])}{more}; move one of them so that they only touch"
    )


def _point(point: tuple[float, float], system: str) -> str:
    return f"({', '.join(show_length(Q(v, 'ft'), system) for v in point)})"


def _check_joint(whole: Any, slabs: Sequence[Any], joint: Between, number: int) -> None:
    names = [job.slab.called for job in slabs]
    for key in ("slab", "beside"):
        if getattr(joint, key) not in names:
            raise JobError(
                f"{whole._where(f'between.{number}.{key}')}: [[between]] number {number + 1} {key}: no slab is named "
                f"{getattr(joint, key)!r}; the slabs are {', '.join(map(repr, names))}"
            )
    a, b = (slabs[names.index(name)] for name in (joint.slab, joint.beside))
    if not touching(a.plan.outline, b.plan.outline):
        raise JobError(
            f"{whole._where(f'between.{number}')}: [[between]] number {number + 1}: {joint.slab!r} and "
            f"{joint.beside!r} do not touch; leave the joint out, or move one of them"
        )
    same_pair = [
        n for n, other in enumerate(whole.file.between[:number]) if _pair(other) == _pair(joint)
    ]
    if same_pair:
        raise JobError(
            f"{whole._where(f'between.{number}')}: [[between]] number {number + 1} is about the same two slabs as "
            f"number {same_pair[0] + 1}; keep one of them"
        )


def _pair(joint: Between) -> frozenset[str]:
    return frozenset((joint.slab, joint.beside))


def touching(a: Polygon, b: Polygon) -> tuple[tuple[tuple[float, float], ...], ...]:
    """The stretches of the outline of ``a`` that touch ``b``, each as its points in feet; () where none does."""
    gap = a.distance(b)
    if gap > _WIDEST:
        return ()
    near = a.exterior & b.buffer(gap + _HAIR, join_style="mitre")
    lines = [
        line for line in shapely.get_parts(shapely.line_merge(near)) if line.geom_type == "LineString"
    ]
    if not lines:
        lines = [g for g in shapely.get_parts(near) if g.geom_type == "LineString"]
    found = [
        tuple((round(float(x), 5), round(float(y), 5)) for x, y in line.simplify(1e-4).coords)
        for line in lines
    ]
    return tuple(f for f, line in zip(found, lines, strict=True) if line.length > _SHORTEST)


def contacts_of(whole: Any, job: Any) -> tuple[Contact, ...]:
    """Where a slab of a job touches the others; () where there are none."""
    slabs = [whole, *whole.others]
    here = next(n for n, one in enumerate(slabs) if one is job)
    found = []
    for there, other in enumerate(slabs):
        lines = touching(job.plan.outline, other.plan.outline) if other is not job else ()
        if not lines:
            continue
        pair = frozenset((job.slab.called, other.slab.called))
        number = next((n for n, joint in enumerate(whole.file.between) if _pair(joint) == pair), None)
        joint = (
            Between(slab=job.slab.called, beside=other.slab.called)
            if number is None
            else whole.file.between[number]
        )
        first = _turn(job, here) < _turn(other, there)
        found.append(Contact(other.slab.called, lines, joint, number, first, _heights(other, lines)))
    return tuple(found)


def named_in(contacts: Sequence[Contact], slabs: Sequence[Any]) -> tuple[Any, ...]:
    """The slabs that contacts name, in their order."""
    by_name = {job.slab.called: job for job in slabs}
    return tuple(by_name[contact.other] for contact in contacts)


def _turn(job: Any, place: int) -> tuple[Any, ...]:
    """What tells which slab is poured first: the day, else the order of the job file."""
    return job.pour.date or "", job.pour.start if job.pour.date else "", place


def _heights(job: Any, lines: tuple[tuple[tuple[float, float], ...], ...]) -> tuple[float, ...]:
    top = top_of(job)
    there = top.heights([point for line in lines for point in line]) + top.above_grade.m_as("foot")
    return tuple(float(h) for h in there)


def all_slabs(job: Any) -> list[tuple[str, Any]]:
    """(name, Plan) of every slab of a job, for a drawing."""
    return [(one.slab.called, one.plan) for one in (job, *job.others)]


def all_joints(job: Any) -> list[tuple[tuple[tuple[float, float], ...], str]]:
    """Where slabs of a job touch, each stretch once, and the kind of joint, for a drawing."""
    found: dict[frozenset[str], list[tuple[tuple[tuple[float, float], ...], str]]] = {}
    for one in (job, *job.others):
        for contact in one.contacts:
            pair = frozenset((one.slab.called, contact.other))
            found.setdefault(
                pair, [(points, f"{contact.joint.kind} joint") for points in contact.lines]
            )
    return [stretch for stretches in found.values() for stretch in stretches]
