"""What is worked out of one slab: the chapters by their names, and what each takes from those before it.

To add a chapter, write its module with a function ``chapter`` of the job and of what it takes, and
give it a part of ``Parts`` under the same name.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.bolts import design
from calcbook.book.flow import Flow, T, part
from calcbook.book.registry import SUBJECTS
from calcbook.concrete import volume
from calcbook.concrete.by_plan import by_the_plan
from calcbook.footings import edges, pad_check
from calcbook.ground import base, retarder, stone
from calcbook.job.files import JobError
from calcbook.job.slabs import MESH, STONE, sharing
from calcbook.job.top import top_of
from calcbook.joints import layout
from calcbook.loads import chapter as loads_chapter
from calcbook.loads import editions, from_job
from calcbook.plan.dug import dug_of
from calcbook.plate.begun import not_asked
from calcbook.pour import day, first_week, go_no_go, laws, mix_order, plan, week
from calcbook.pour.site import Missing, site_or_missing
from calcbook.reinforcement import amounts, choice
from calcbook.slab import check, soil

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.concrete.volume import VolumeFound
    from calcbook.footings.edges import EdgesFound
    from calcbook.footings.pad_check import PadsFound
    from calcbook.ground.base import BaseFound
    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import LoadPath
    from calcbook.plan.dug import Dug
    from calcbook.plan.sheets import Layout
    from calcbook.plate.worked import NotWorked, Worked
    from calcbook.pour.mix_order import MixFound
    from calcbook.pour.plan import Day, Setting
    from calcbook.pour.site import Site
    from calcbook.pour.week import FirstWeek
    from calcbook.reinforcement.amounts import Steel
    from calcbook.reinforcement.mesh import MeshSheets
    from calcbook.slab.check import SlabFound
    from calcbook.slab.soil import Ground


def _aside(job: Job) -> Calculation:
    """A calculation that no one reads: for a volume whose own chapter shows it."""
    return Calculation("volume", "Concrete", "", job.system)


class Parts(Flow):
    """What is worked out of a job: the chapters by their names, and what several of them rest on."""

    def finished(self, name: str, value: T, job: Job) -> T:
        """A chapter ends with a remark where it cites other editions than the governing code names."""
        if name in SUBJECTS and isinstance(value, Found):
            editions.remark(value.calculation, job)
        return value

    def refused(self, name: str, error: ValueError) -> ValueError:
        """A JobError that names file and chapter, where the job asks for what a chapter refuses."""
        if isinstance(error, JobError) or name not in SUBJECTS:
            return error
        file = self.job.path.name if self.job.path else "job"
        return JobError(f"{file}: {name.replace('_', ' ')} cannot be worked out: {error}")

    @part
    def ground(self, job: Job) -> Ground:
        """What the ground bears."""
        return soil.ground_of(job)

    @part
    def path(self, job: Job) -> LoadPath:
        """What the walls bring, by the model that every chapter takes its forces from."""
        return from_job.load_path(job)

    @part
    def loads(self, job: Job) -> Found:
        """Design basis and loads."""
        return loads_chapter.chapter(job, self.path)

    @part
    def pads(self, job: Job) -> PadsFound:
        """Pads under posts."""
        if not job.pads or job.joints.isolate:
            return pad_check.chapter(job, self.ground, self.path)
        reach = None if job.slab.plate else self.slab.length
        return pad_check.chapter(job, self.ground, self.path, self.joint_plan.layout.cuts, reach)

    @part
    def edges(self, job: Job) -> EdgesFound:
        """Thickened edges and strips."""
        return edges.chapter(job, self.ground, self.path, self.joint_plan)

    @part
    def joint_spacing(self, job: Job) -> Quantity:
        """How far apart joints may be, for what asks no more: to lay them out takes longer."""
        return layout.largest_spacing(job)

    @part
    def joint_plan(self, job: Job) -> Joints:
        """Spacing and layout of the joints."""
        return layout.joints_of(job)

    @part
    def joints(self, job: Job) -> Found:
        """Control joints."""
        return layout.chapter(job, self.joint_plan)

    @part
    def slab(self, job: Job) -> SlabFound:
        """The slab under load."""
        inner = any(wall.place == "interior" and wall.run() is not None for wall in job.walls)
        placed = any(post.x is not None for post in job.posts)
        if not inner and not placed:
            return check.chapter(job, self.path, self.joint_spacing)
        layout = self.joint_plan.layout
        return check.chapter(job, self.path, self.joint_spacing, layout.cuts, layout.boxes)

    @part
    def plate_worked(self, job: Job) -> Worked | NotWorked | None:
        """The slab as a plate, worked out: what takes the longest of all. None where none is asked for."""
        if not job.slab.plate:
            return None
        from calcbook.plate.chapter import worked_of  # here: a quote or an order asks for no plate

        return worked_of(job, self.path, self.joint_plan, self.slab)

    @part
    def plate(self, job: Job) -> Found:
        """The slab as a plate on the ground."""
        if not job.slab.plate:
            return not_asked(job)
        from calcbook.plate.chapter import chapter

        return chapter(job, self.plate_worked, self.ground, self.slab, self.pads, self.edges)

    @part
    def dug(self, job: Job) -> Dug:
        """What is dug below the slab."""
        return dug_of(job.plan)

    @part
    def volume(self, job: Job) -> VolumeFound:
        """Concrete, its trucks and its labor."""
        return volume.chapter(job, self.dug, self.beside)

    @part
    def beside(self, job: Job) -> tuple[Quantity, ...]:
        """Concrete by the plan of each slab poured with this one."""
        return tuple(by_the_plan(_aside(other), other, dug_of(other.plan)) for other in job.poured_with)

    @part
    def steel(self, job: Job) -> Steel:
        """Mesh and bars as they would be laid."""
        return amounts.steel_of(job)

    @part
    def reinforcement(self, job: Job) -> Found:
        """Fiber, mesh or bars."""
        return choice.chapter(
            job, self.joint_plan, self.slab, self.volume, self.steel, self.mesh_shared
        )

    @part
    def mesh_shared(self, job: Job) -> tuple[tuple[str, MeshSheets], ...]:
        """Name and sheets of mesh of each slab that they are bought for at once, itself too; () without mesh."""
        if job.reinforcement.kind != "mesh":
            return ()
        return tuple(
            (
                one.slab.called,
                (self.steel if one.slab.called == job.slab.called else amounts.steel_of(one)).sheets,
            )
            for one in sharing(job, MESH)
        )

    @part
    def stone(self, job: Job) -> Quantity:
        """Stone in place."""
        return stone.stone_volume(job)

    @part
    def stone_shared(self, job: Job) -> tuple[tuple[str, Quantity], ...]:
        """Name and stone in place of each slab of one order of stone, itself too."""
        return tuple(
            (
                one.slab.called,
                self.stone if one.slab.called == job.slab.called else stone.stone_volume(one),
            )
            for one in sharing(job, STONE)
        )

    @part
    def cut_bottom(self, job: Job) -> float:
        """Depth below the slab's underside from which only thickenings are dug, in feet."""
        t, above_grade = top_of(job).at_grade
        return base.cut_bottom(t, job.base.thickness, above_grade)

    @part
    def below_cut(self, job: Job) -> float:
        """Soil dug below that, in cubic feet."""
        return base.below_cut(job.plan, self.cut_bottom)

    @part
    def base(self, job: Job) -> BaseFound:
        """Stone, soil and forms."""
        return base.chapter(job, self.stone, self.below_cut, self.stone_shared)

    @part
    def sheets(self, job: Job) -> tuple[Layout, ...]:
        """Sheets of the vapor retarder, of all slabs that share its rolls."""
        return retarder.sheets_of(job)

    @part
    def retarder(self, job: Job) -> Found:
        """Vapor retarder."""
        return retarder.chapter(job, self.sheets)

    @part
    def bolts(self, job: Job) -> Found:
        """Sill bolts."""
        return design.chapter(job, self.path, self.joint_plan, self.adhesive_before)

    @part
    def adhesive_before(self, job: Job) -> tuple[tuple[str, Quantity], ...]:
        """Name and adhesive of each slab before it that cartridges are bought for at once."""
        return ()

    @part
    def mix(self, job: Job) -> MixFound:
        """Mix and order."""
        return mix_order.chapter(job, self.volume)

    @part
    def site(self, job: Job) -> Site | Missing:
        """The weather at the slab."""
        return site_or_missing(job)

    @part
    def setting(self, job: Job) -> Setting | Missing:
        """When the slab sets."""
        there = self.site
        return there if isinstance(there, Missing) else plan.setting_of(job, self.mix.mix, there)

    @part
    def day(self, job: Job) -> Day | Missing:
        """The pour: trucks, crew and set on one clock, and the cover after it."""
        setting = self.setting
        return setting if isinstance(setting, Missing) else plan.day_of(job, setting, self.volume)

    @part
    def nights(self, job: Job) -> FirstWeek | Missing:
        """The slab's first nights under each cover."""
        pour = self.day
        return pour if isinstance(pour, Missing) else week.first_week_of(job, self.mix.mix, pour)

    @part
    def pour_day(self, job: Job) -> Found:
        """Pour day."""
        return day.chapter(job, self.mix.mix, self.day)

    @part
    def first_week(self, job: Job) -> Found:
        """First week."""
        return first_week.chapter(job, self.mix.mix, self.nights)

    @part
    def go(self, job: Job) -> Found:
        """Go or no-go."""
        return go_no_go.chapter(job, self.volume, self.day, self.nights)

    @part
    def laws(self, job: Job) -> Found:
        """Laws and their rivals."""
        return laws.chapter(job, self.mix.mix, self.day, self.nights, self.slab)
