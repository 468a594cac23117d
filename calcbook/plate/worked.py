"""The plate of a job worked out: all cases on one mesh, the worst places of each looked at closer."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from operator import itemgetter
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.model import STRESSES, LiftError, PlateError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.plate.from_job import PlateJob, Somewhere
    from calcbook.plate.front import Prepared
    from calcbook.plate.model import Plate
    from calcbook.plate.moving import Ranked, Rest, Wheel
    from calcbook.plate.result import PlateResult, Reading

PART = 0.5  # of the reach of a load: elements of the mesh of all cases
MOST = 20000  # unknowns, about: a large slab gets wider elements
SPREAD = (0.5, 2.0)  # times the soil's stiffness
# places of a kind (for each of the cases beside) that are looked at closer, down to this share of the worst found
TRIED, BELOW = 4, 0.9
APART = 3.0  # ft between the places at which a wheel is tried


@dataclass(frozen=True, eq=False)
class Worked:
    """What a plate does.

    down, lift, sun, night: results, or None where nothing acts so; wheel: by kind of place, the place and the
    result; too_much: why the uplift has no balance, "" where it has; spread: (times the soil's stiffness,
    result) of the case that bends most; uncracked: the wheel at a joint, else the case that bends most, with thick
    edges that no joint has cracked through, None where no joint meets one; posts: those without a place, by name, at their worst.
    """

    job: PlateJob
    down: PlateResult | None
    lift: PlateResult | None
    sun: PlateResult
    night: PlateResult
    wheel: dict[str, tuple[Ranked, PlateResult]]
    too_much: str
    spread: tuple[tuple[float, PlateResult], ...] = ()
    uncracked: PlateResult | None = None
    posts: dict[str, tuple[Ranked, PlateResult]] = field(default_factory=dict)

    @property
    def loaded(self) -> list[PlateResult]:
        """The cases of loads: all but the one with the sun."""
        wheels = [result for _, result in (*self.wheel.values(), *self.posts.values())]
        return [r for r in (self.down, *wheels, self.uncracked, self.lift) if r is not None]

    @property
    def warped(self) -> tuple[PlateResult, PlateResult]:
        """The cases with the top warmer, and colder, than the bottom."""
        return self.sun, self.night

    @property
    def cases(self) -> list[PlateResult]:
        """All that was worked out."""
        return [*self.loaded, *self.warped]

    @property
    def bends_most(self) -> PlateResult:
        """The case of the greatest stress."""
        return max(self.loaded, key=stress)

    @property
    def worst_wheel(self) -> tuple[Ranked, PlateResult] | None:
        """The worst place of a wheel and the plate with it there; None without a vehicle."""
        return max(self.wheel.values(), key=lambda pair: stress(pair[1]), default=None)


@dataclass(frozen=True)
class NotWorked:
    """Why a plate could not be worked out, in a sentence."""

    reason: str


def stress(result: PlateResult) -> float:
    """The greater stress of both faces, psi."""
    return worst_stress(result).value


def worst_stress(result: PlateResult) -> Reading:
    """The reading of the greater stress of both faces."""
    return max((result.worst[name] for name in STRESSES), key=lambda reading: reading.value)


def axle_wheels(load: float, wheels: float, pressure: float, apart: float) -> tuple[Wheel, ...]:
    """The wheels of an axle side by side. load: lbf; wheels: how many; pressure: of the tires, psi; apart: from
    one wheel to the next, ft."""
    from calcbook.plate.moving import Wheel

    force = load / wheels
    return tuple(Wheel(force, force / pressure, n * apart) for n in range(max(1, round(wheels))))


def worked_out(
    job: PlateJob, wheels: tuple[Wheel, ...], warmer: float, colder: float
) -> Worked | NotWorked:
    """Work a plate out. wheels: of the vehicle, none without one; warmer, colder: the top in the
    sun and in a cold night, degrees F."""
    from calcbook.plate.factor import one_thread
    from calcbook.plate.kept import making_once

    try:
        with one_thread(), making_once():
            return _worked(job, wheels, warmer, colder)
    except PlateError as error:
        return NotWorked(str(error))
    except MemoryError:
        return NotWorked("plate: the slab is too large for the memory of this computer.")


def _worked(job: PlateJob, wheels: tuple[Wheel, ...], warmer: float, colder: float) -> Worked:
    from calcbook.plate.front import prepared
    from calcbook.plate.moving import Rest
    from calcbook.plate.readings import JOINT
    from calcbook.plate.worst import looked_closer

    plate = job.plate
    ready = prepared(plate, job.steady.loads, step=element(plate), rough=True)
    steady = ready.solve(job.steady)
    sun, night = (
        replace(job.steady, name=f"{job.steady.name}, {words}", warmer_top=top)
        for words, top in (("sun on it", warmer), ("a cold night", -colder))
    )
    too_much, lift = "", None
    try:
        lift = looked_closer(ready.solve(job.lift)) if job.lift else None
    except LiftError as error:
        too_much = str(error)
    down = ready.solve(job.down, steady) if job.down else None
    wheel = (
        [Rest(ready.solve(case, down or steady), share) for case, share in job.with_wheel]
        if wheels
        else []
    )
    more = [Rest(down)] if down and down.case.loads != steady.case.loads else []
    found = Worked(
        job, looked_closer(down) if down else None, lift, looked_closer(ready.solve(sun)), looked_closer(ready.solve(night)),
        _wheels(ready, [Rest(steady), *wheel], wheels), too_much,
        posts=_posts(ready, [Rest(steady), *more], job.somewhere),
    )  # fmt: skip
    if not found.loaded:
        return found
    most = found.bends_most
    face = (worst_stress(most).what,)
    others = ((n, ready.of(replace(plate, k=plate.k * n)).solve(most.case, most)) for n in SPREAD)
    return replace(
        found, spread=((1.0, most), *((n, looked_closer(r, face, checked=False)) for n, r in others)),
        uncracked=_uncracked(ready, found.wheel[JOINT][1] if JOINT in found.wheel else most),
    )  # fmt: skip


def _uncracked(ready: Prepared, cracked: PlateResult) -> PlateResult | None:
    """A case with joints that stop at thick edges, as far as shear goes: there both sides stay level."""
    from calcbook.plate.joints import held_where_thick
    from calcbook.plate.worst import looked_closer

    joints = held_where_thick(ready.plate)
    if joints == ready.plate.joints:
        return None
    held = replace(cracked.case, name=f"{cracked.case.name}, thick edge not cracked")
    return looked_closer(ready.of(replace(ready.plate, joints=joints)).solve(held, cracked))


def _wheels(
    ready: Prepared, rests: Sequence[Rest], wheels: tuple[Wheel, ...]
) -> dict[str, tuple[Ranked, PlateResult]]:
    """The worst place of each kind, with whichever of the rests brings more there."""
    from calcbook.plate.moving import by_kind
    from calcbook.plate.ranking import ranked_on

    kinds = by_kind(ranked_on(ready, rests, wheels, APART)) if wheels else {}
    return {kind: _worst(ready, rests, wheels, places) for kind, places in kinds.items()}


def _posts(
    ready: Prepared, rests: Sequence[Rest], posts: Sequence[Somewhere]
) -> dict[str, tuple[Ranked, PlateResult]]:
    """Each post at the worst place of its kind."""
    from calcbook.plate.moving import KINDS, Wheel, by_kind
    from calcbook.plate.ranking import ranked_on

    found = {}
    for post in posts:
        foot = tuple(Wheel(post.force, post.area, x, y) for x, y in post.legs)
        kinds = by_kind(ranked_on(ready, rests, foot, APART, KINDS[post.place], whole=True))
        if not kinds:
            raise PlateError(
                f"{post.name}: its legs do not fit on the slab at once; give posts.x and y."
            )
        tried = [_worst(ready, rests, foot, places, post.name) for places in kinds.values()]
        found[post.name] = max(tried, key=lambda pair: stress(pair[1]))
    return found


def _worst(
    ready: Prepared,
    rests: Sequence[Rest],
    wheels: tuple[Wheel, ...],
    places: Sequence[Ranked],
    what: str = "wheel",
) -> tuple[Ranked, PlateResult]:
    """The worst of some places. The ranking is rough: they are looked at closer from the highest rank down,
    until the next one ranks well below the worst that was found."""
    from calcbook.plate.moving import five_figures, standing
    from calcbook.plate.worst import greatest_closer, looked_closer

    tried: list[tuple[float, Ranked, PlateResult]] = []
    for place in places[:TRIED]:
        if tried and place.stress < BELOW * max(tried, key=itemgetter(0))[0]:
            break
        rest = rests[place.rest]
        case = standing(ready.plate, wheels, rest, place, what)
        near = ready.nearly(case, rest.result)
        tried.append((five_figures(stress(greatest_closer(near))), place, near))
    _, place, near = max(tried, key=itemgetter(0))
    return place, looked_closer(ready.solve(near.case, near))


def element(plate: Plate) -> float:
    """The widest element, in.: a part of the reach of a load, wider where the slab is large."""
    area = 144 * sum(outline.area for outline in plate.outlines)
    return float(max(PART * plate.reach, np.sqrt(4 * area / MOST)))
