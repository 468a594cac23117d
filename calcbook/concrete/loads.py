"""What the trucks of a job bring: its concrete with waste and allowances, in loads."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.concrete.trucks import truck_plan
from calcbook.concrete.volume import dig_volume, need_of, plan_volume, slab_volume

if TYPE_CHECKING:
    from calcbook.concrete.trucks import TruckPlan
    from calcbook.job.file import Job


@functools.lru_cache(maxsize=8)
def loads_of(job: Job) -> TruckPlan:
    """What each truck of a job brings (trucks.TruckPlan)."""
    V = plan_volume(slab_volume(job.plan.area, job.slab.thickness), dig_volume(job))
    pour, prices, concrete = job.pour, job.prices, job.concrete
    need = need_of(job, V)
    return truck_plan(
        need, pour.truck_capacity, pour.minimum_load, concrete.order_step, prices.concrete,
        prices.short_load_fee, job.system,
    )  # fmt: skip
