"""The pour of a job outside the book: temperatures of its slab by themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite, procedure
from calcbook.concrete import volume as concrete_volume
from calcbook.plan.dug import dug_of
from calcbook.pour import mix_order
from calcbook.pour.plan import day_of, setting_of
from calcbook.pour.site import site_of
from calcbook.pour.slab_heat import Case, run

if TYPE_CHECKING:
    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.site import Site
    from calcbook.pour.slab_heat import Week


@procedure(
    "Temperatures of the slab",
    cite(
        "Carslaw and Jaeger", "equation of conduction, in finite volumes; checked against its solutions"
    ),
    "One dimension through air, blanket, slab, stone and soil, with wind, sun, night sky, drying and "
    "the heat of hydration, a quarter of an hour a step; the energy account must close.",
)
def slab_temperature(job: Job, side: str = "sun") -> Week:
    """The slab's temperatures from the first truck on, with the job's cover: a Week.

    job: a Job with a date and forecast rows; side: "sun" or "shade". The cover goes on when
    finishing ends. Edges and corners lose more than this model of the middle. Raises NoWeather.
    """
    site, mix, day = pour_alone(job)
    return run(job, mix, site, [Case(side, day.cover)], day.plan.finished[1])


def pour_alone(job: Job) -> tuple[Site, Mix, Day]:
    """Weather, mix and Day of a job outside the book, each worked out anew. Raises NoWeather."""
    site, volume = site_of(job), concrete_volume.chapter(job, dug_of(job.plan))
    mix = mix_order.chapter(job, volume).mix
    return site, mix, day_of(job, setting_of(job, mix, site), volume)
