"""What can be learned from own jobs: each figure, the field of the job file it goes into, and how it spreads."""

from __future__ import annotations

from dataclasses import dataclass

from calcbook.concrete.labor import FINISHING, PLACING

LINE_FIELDS = {  # line of the quote -> the field of the job file that its hours rest on
    PLACING: "crew.place_rate",
    FINISHING: "crew.trowel_rate",
    "Spreading and compacting the base": "crew.base_rate",
    "Setting forms": "crew.forms_rate",
    "Laying and taping the vapor retarder": "crew.retarder_rate",
    "Setting the anchors of hold-downs": "bolts.set_rate",
    "Setting cast bolts": "bolts.set_rate",
    "Setting drilled bolts": "bolts.drill_rate",
    "Sawing joints": "joints.saw_rate",
    "Laying mesh": "reinforcement.mesh_rate",
    "Laying bars": "reinforcement.bar_rate",
    "Tying the bars of the edge": "reinforcement.bar_rate",
    "Digging by hand": "crew.dig_rate",
}
LEAST_JOBS = 3  # below, nothing is proposed: a choice of this book
LINES = "lines"  # of the quote, all of them: where a record leaves them out or says that an odd one is right
BY_HAND = "crew.hand_rate"  # of finishing, where no machine is at work


@dataclass(frozen=True)
class Figure:
    """A figure that own jobs teach.

    name: as a record names it; words: what it is; place: the field it goes into, "" where it is only shown;
    unit: trade unit in which a job is looked at; log: whether it is learned as a logarithm, as whatever
    is so many times another; spread: the fields whose values, as variances added, are the spread from job
    to job at the start; a number stands for itself, where no field tells it: a choice of this book.
    """

    name: str
    words: str
    place: str
    unit: str
    log: bool
    spread: tuple[str | float, ...]


PACES = ("risk.crew_pace", "risk.task_pace")


def _rate(name: str, words: str, place: str, unit: str) -> Figure:
    return Figure(name, words, place, unit, True, PACES)


FIGURES = {
    figure.name: figure
    for figure in (
        Figure("depth", "extra depth of the base", "base.extra_depth", "in", False, ("base.depth_spread",)),
        Figure("waste", "concrete lost on the way, share of the volume", "concrete.waste", "1", False,
               ("risk.waste_spread",)),
        _rate("placing", "concrete placed by one person in an hour", "crew.place_rate", "yd3"),
        _rate("finishing", "floor finished by machine by one person in an hour", "crew.trowel_rate", "ft2"),
        _rate("finishing by hand", "floor finished by hand by one person in an hour", BY_HAND, "ft2"),
        _rate("stone", "stone placed and compacted by one person in an hour", "crew.base_rate", "yd3"),
        _rate("forms", "edge form set by one person in an hour", "crew.forms_rate", "ft"),
        _rate("retarder", "sheet laid and taped by one person in an hour", "crew.retarder_rate", "ft2"),
        _rate("bolts", "cast bolts set by one person in an hour", "bolts.set_rate", "1/h"),
        _rate("drilling", "drilled bolts set by one person in an hour", "bolts.drill_rate", "1/h"),
        _rate("sawing", "joints cut by one person in an hour", "joints.saw_rate", "ft"),
        _rate("mesh", "mesh laid by one person in an hour", "reinforcement.mesh_rate", "ft2"),
        _rate("bars", "bar tied by one person in an hour", "reinforcement.bar_rate", "ft"),
        _rate("digging", "soil dug by hand by one person in an hour", "crew.dig_rate", "yd3"),
        Figure("set", "first footprint that holds, times the middle of the band that was promised", "pour.own_set", "1", True,
               ("risk.set_wait",)),
        Figure("machine", "machine on, times the middle of the same band", "", "1", True, ("risk.set_wait",)),
        Figure("trucks", "time between trucks", "pour.truck_spacing", "min", True, (0.25,)),
        Figure("strength", "strength at 28 days, times that ordered", "", "1", True, ("risk.task_pace",)),
        Figure("hours", "hours of all lines, times those promised", "", "1", True, PACES),
        Figure("cost", "direct cost, times that promised", "", "1", True, ("risk.crew_pace", "risk.item_price")),
    )
}  # fmt: skip
