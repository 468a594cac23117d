"""The plate of a job: its plan as concrete on springs, and what the building brings as cases on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from shapely import LineString

from calcbook.loads.closing import LIFT, combination
from calcbook.loads.combinations import governing_row
from calcbook.loads.from_job import load_path
from calcbook.plate.as_drawn import sawn_joints, thick_and_open
from calcbook.plate.model import Case, Line, Load, Plate, amount
from calcbook.plate.neighbors import neighbors_of, told_of_beside
from calcbook.plate.standing import standing_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import LoadPath
    from calcbook.loads.path import Factors
    from calcbook.plate.neighbors import Neighbor


_LEAST = 0.1  # ft of a wall


@dataclass(frozen=True)
class Somewhere:
    """A post or rack of which only the kind of place is known ("inside", "joint", "edge", "corner"). force: of each
    leg, lbf; area: of its base plate, in.2; legs: the place of each from the first one, ft."""

    name: str
    force: float
    area: float
    place: str
    legs: tuple[tuple[float, float], ...] = ((0.0, 0.0),)


@dataclass(frozen=True)
class PlateJob:
    """What is worked out of a job.

    plate; down, lift: cases with the heaviest load and with the greatest uplift (None where nothing
    acts so); steady: what stands there always; with_wheel: what acts beside a wheel but that, and how much of the wheel
    counts with it; told: what is not in it or not as drawn, in words; somewhere: posts
    without a place.
    """

    plate: Plate
    steady: Case
    down: Case | None
    lift: Case | None
    told: tuple[str, ...]
    somewhere: tuple[Somewhere, ...] = ()
    with_wheel: tuple[tuple[Case, float], ...] = ()

    @property
    def loaded(self) -> bool:
        """Whether anything stands on the slab or lifts it."""
        return bool(self.down or self.lift or self.somewhere)


def plate_job(job: Job, path: LoadPath, joints: Joints, k: float, E: float, weight: float) -> PlateJob:
    """The PlateJob of a job. path: what its walls bring; joints: as planned; k: pci; E: psi; weight: pcf."""
    neighbors = neighbors_of(job, k, E)
    plate = plate_of_plan(job, joints, k, E, weight, neighbors)
    told: list[str] = []
    on = standing_on(job, path, told)
    somewhere = tuple(_somewhere(job, told))
    if job.plan.edge is not None or job.plan.thickenings:
        told.append(
            "A sloping side of a thickening is taken as four steps; more of them would lower the stress beside it a little."
        )
    told += told_of_beside(job, neighbors)

    def case(name: str, row: Factors) -> Case:
        beside = _on_neighbors(neighbors, row, plate)
        return Case(name, (*on.loads(row, plate), *beside), own_weight=row["D"])

    heavy = governing_row("allowable", *on.sums)
    down, lift = case(heavy["name"], heavy), case(LIFT, combination(LIFT))
    up = any(amount(load) < 0 for load in lift.loads)
    beside = tuple((case(row["name"], row), float(row["L"])) for row in _with_wheel(on.sums))
    return PlateJob(plate, case("D", combination("D")), down if down.loads else None, lift if up else None,
                    tuple(told), somewhere, beside)  # fmt: skip


def _with_wheel(sums: tuple[float, float, float]) -> Iterable[Factors]:
    """Combinations in which a wheel, a live load, acts with floor or roof loads; sums: of dead, floor and roof load."""
    _, floor, roof = sums
    if floor:
        yield combination("D + L")
    if roof:
        yield combination("D + 0.75 L + 0.75 S")


def plate_of_plan(
    job: Job, joints: Joints, k: float, E: float, weight: float, neighbors: Sequence[Neighbor] = ()
) -> Plate:
    """The concrete of a plan on its ground. k: pci; E: psi; weight: pcf; neighbors: slabs tied to it."""
    plan, t = job.plan, job.slab.thickness.m_as("inch")
    openings, regions = thick_and_open(job)
    reach = Plate((plan.outline,), t, k, E).reach
    tied = [joint for one in neighbors for joint in one.joints(k, reach)]
    return Plate(
        (plan.outline,), t, k, E, weight=weight,
        openings=(*openings, *(o for one in neighbors for o in one.openings)),
        regions=(*regions, *(r for one in neighbors for r in one.regions)),
        joints=(*sawn_joints(job, joints, k, reach), *tied),
        beside=tuple((one.part, one.thickness) for one in neighbors),
    )  # fmt: skip


def _on_neighbors(neighbors: Sequence[Neighbor], row: Factors, plate: Plate) -> list[Load]:
    """What presses slabs beside, as far as they are in the plate."""
    found = []
    for one in neighbors:
        on = standing_on(one.job, load_path(one.job), [])
        found += [load for load in on.loads(row, plate) if amount(load) >= 0 and _stands_on(load, one)]
    return found


def _stands_on(load: Load, beside: Neighbor) -> bool:
    if isinstance(load, Line):
        return LineString(load.line).intersection(beside.part).length > _LEAST
    return load.shape is not None and bool(beside.part.contains(load.shape))


def _somewhere(job: Job, told: list[str]) -> Iterable[Somewhere]:
    """Posts whose load is known and whose place is not."""
    for post in job.posts:
        if post.load is None or post.x is not None:
            continue
        told.append(
            f"{post.name}: where it stands is not given (posts.x, y), so it is tried about every 3 ft at "
            f"{'places' if post.place == 'inside' else 'each'} {post.place}."
        )
        area = post.plate_length.m_as("inch") * post.plate_width.m_as("inch")
        legs = tuple((x / 12, y / 12) for x, y in post.legs_at)
        yield Somewhere(post.name, post.load.m_as("lbf"), area, post.place, legs)
