"""The pour on a clock: trucks, placing, waiting for set, floating and troweling, sawing.

All moments are hours after the first truck begins to empty. The slab is finished as it was
placed: the first strip sets first, the last strip last, and the crew must keep up between.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from numpy import minimum

from calcbook.basis.formula import arg, cite, formula, procedure, result

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


@formula(
    "Rate of placing",
    cite("common practice", "the slowest link of the chain"),
    result("yd3/h", "concrete placed in an hour"),
    Q_d=arg("yd3/h", "rate at which a truck or pump can empty", above=0, high=200),
    n=arg("1", "people who place and strike off", above=0, high=60),
    q_p=arg("yd3/h", "concrete placed by one person in an hour", above=0, high=50),
    R_s=arg("ft2/h", "area struck off in an hour", above=0, high=50000),
    t=arg("in", "slab thickness", above=0, high=24),
)
def placing_rate(Q_d, n, q_p, R_s, t):
    """Concrete placed in an hour: the least of truck or pump, hands, and strike-off.

    n, q_p: people and what one of them places; R_s: strike-off by hand or power screed.
    """
    Q_s = R_s * t
    Q_p = minimum(minimum(Q_d, n * q_p), Q_s)
    return Q_p


@formula(
    "Hours of floating and troweling",
    cite("Estimating in Building Construction", "Figure 10.30, for the rate"),
    result("h", "hours of finishing"),
    A=arg("ft2", "area finished", low=0),
    n_m=arg("1", "power trowels at work", low=0, high=20),
    R_m=arg("ft2/h", "finished by one machine in an hour, all passes", above=0, high=10000),
    n_h=arg("1", "finishers by hand", low=0, high=60),
    R_h=arg("ft2/h", "finished by one person by hand in an hour, all passes", above=0, high=5000),
)
def finishing_hours(A, n_m, R_m, n_h, R_h):
    """Hours that machines and hands need for all passes over an area.

    One of the two numbers must be above zero. Published rates: 100 ft2 for each labor-hour by
    machine.
    """
    t_f = A / (n_m * R_m + n_h * R_h)
    return t_f


@formula(
    "Person-hours of placing",
    cite("common practice", "the whole crew is paid as long as the concrete is placed"),
    result("h", "person-hours of placing"),
    V=arg("yd3", "concrete placed", low=0),
    Q_p=arg("yd3/h", "concrete placed in an hour", above=0, high=200),
    n=arg("1", "people who place and strike off", above=0, high=60),
)
def placing_labor(V, Q_p, n):
    """Hours of all who place, until the concrete is placed at the rate of the slowest link.

    Q_p: from ``placing_rate``.
    """
    t_p = V / Q_p
    H = n * t_p
    return H


@formula(
    "Person-hours of finishing",
    cite("common practice", "all who finish are paid as long as there is work"),
    result("h", "person-hours of finishing"),
    t_f=arg("h", "hours of finishing", low=0),
    n_f=arg("1", "people who float and trowel", above=0, high=60),
)
def finishing_labor(t_f, n_f):
    """Hours of all who float and trowel, with machines or by hand.

    t_f: from ``finishing_hours``.
    """
    H = n_f * t_f
    return H


@dataclass(frozen=True)
class Truck:
    """One truck, hours after the first begins to empty."""

    number: int
    load: float
    arrives: float
    begins: float
    ends: float
    age: float  # hours from batching to empty

    @property
    def waits(self) -> float:
        """Hours from arriving to the first concrete."""
        return self.begins - self.arrives


@procedure(
    "Clock of the trucks",
    cite("common practice"),
    "Each truck begins when it is there and the one before is empty; it ends by its load and the rate.",
)
def truck_clock(loads: Sequence[float], spacing: float, rate: float, haul: float) -> list[Truck]:
    """Trucks by the clock: a list of Truck.

    loads: yd3 of each; spacing: hours between arrivals; rate: yd3 placed in an hour; haul: hours
    from batching to arrival.
    """
    trucks, free = [], 0.0
    for number, load in enumerate(loads, 1):
        arrives = (number - 1) * spacing
        begins = max(arrives, free)
        free = begins + load / rate
        trucks.append(Truck(number, load, arrives, begins, free, haul + free - arrives))
    return trucks


@dataclass(frozen=True)
class Task:
    """A bar of the timeline. early, late: (start, end) in hours for the early and the late set."""

    name: str
    side: str
    early: tuple[float, float]
    late: tuple[float, float]
    what: str = ""


@dataclass(frozen=True)
class Side:
    """One surface of the slab with its own clock.

    area: ft2; initial, final: (early, late) hours after the first strip is placed, and after the last one is.
    """

    name: str
    area: float
    initial: tuple[float, float]
    final: tuple[float, float]


@dataclass(frozen=True)
class PourPlan:
    """The day: trucks, tasks, and what it takes.

    placed: hours to the end of placing; work: hours of finishing; window: the least hours that
    set allows for it, from the first strip's initial to the last strip's final; finished: (early, late); hard: (early, late) hour at which final set ends all finishing, done
    or not; person_hours: by kind of work; power: machines.
    """

    trucks: tuple[Truck, ...]
    tasks: tuple[Task, ...]
    placed: float
    work: float
    window: float
    finished: tuple[float, float]
    hard: tuple[float, float]
    person_hours: dict[str, float] = field(default_factory=dict)
    power: bool = True

    @property
    def keeps_up(self) -> bool:
        """True where the finishing takes no longer than the set allows."""
        return self.work <= self.window + 1e-9

    @property
    def total_hours(self) -> float:
        """Person-hours of all kinds of work."""
        return sum(self.person_hours.values())


PASSES = ("floating", "first troweling", "second troweling", "third troweling", "fourth troweling")


@procedure(
    "Plan of the pour",
    cite("common practice", "order of work; rates and set bands as given"),
    "Floating starts when the first strip has had its initial set; finishing ends when the work is done "
    "and the last strip nears final set; the work must fit between these two sets.",
)
def pour_plan(
    trucks: Sequence[Truck],
    sides: Sequence[Side],
    hours_for: Callable[[float], float],
    passes: int,
    crew: int,
    finishers: int,
    power: bool = True,
) -> PourPlan:
    """The tasks of the day from trucks and set bands: a PourPlan.

    trucks: of ``truck_clock``; sides: list of Side, the first to set first in work; hours_for: a
    function area (ft2) -> hours of finishing; passes: how many, the float included; crew,
    finishers: people to place, and to finish; power: whether machines are at work.
    """
    placed = max(t.ends for t in trucks)
    tasks = [Task("placing and strike-off", "", (0.0, placed), (0.0, placed))]
    ends, slack, begins = [0.0, 0.0], [], []
    total = hours_for(sum(s.area for s in sides))
    for side in sides:
        share = hours_for(side.area)
        spans = []
        for k in (0, 1):
            start = max(side.initial[k], ends[k])
            end = max(start + share, placed + side.final[k]) if share else start
            spans.append((start, end, share))
            ends[k] = start + share
        begins.append(min(span[0] for span in spans))
        tasks += _passes(side.name, spans, passes)
        slack.append(min(side.final[k] - side.initial[k] for k in (0, 1)))
    finished = max(t.early[1] for t in tasks), max(t.late[1] for t in tasks)
    hard = placed + max(side.final[0] for side in sides), placed + max(side.final[1] for side in sides)
    window = max(min(slack), 0.0) + placed
    waiting = max(min(begins) - placed, 0.0)
    people = {
        "placing": placed * crew,
        "waiting": waiting * finishers,
        "finishing": (finished[1] - max(min(begins), 0.0)) * finishers,
    }
    return PourPlan(tuple(trucks), tuple(tasks), placed, total, window, finished, hard, people, power)


def _passes(side: str, spans: Sequence[tuple[float, float, float]], passes: int) -> list[Task]:
    """The passes of one side, evenly over the time from first to last."""
    made = []
    for n, name in enumerate(PASSES[:passes]):
        bars = []
        for start, end, _ in spans:
            length = (end - start) / passes if math.isfinite(end) else 0.0
            bars.append((start + n * length, start + (n + 1) * length))
        made.append(
            Task(
                name, side, bars[0], bars[1], _PASS_WORDS.get(name, "blade a little steeper and faster")
            )
        )
    return made


_PASS_WORDS = {
    "floating": "blade flat and slow, edges first; only when the bleed water is gone",
    "first troweling": "blade as flat as it will run, at right angles to the pass before",
}
