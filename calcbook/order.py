"""The order sheet: what is read out to the dispatcher of the ready-mix producer."""

from dataclasses import dataclass

import pandas as pd

from calcbook.table import table
from calcbook.trucks import truck_plan
from calcbook.units import Q, show


def slump_tolerance(slump):
    """Tolerance on a nominal slump, from the table of ASTM C94.

    slump: nominal slump (length). Returns a length, plus or minus.
    """
    inches = slump.m_as("inch")
    row = next(r for r in table("slump_tolerance") if inches <= r["slump_up_to_in"] + 1e-9)
    return Q(row["tolerance_in"], "in")


@dataclass(frozen=True)
class OrderSheet:
    """The order of a job. ``lines`` are pairs of words; ``text()`` is the slip to read out."""

    job: object
    calculations: dict

    @property
    def plan(self):
        """What each truck brings (trucks.TruckPlan)."""
        pour, prices, concrete = self.job.pour, self.job.prices, self.job.concrete
        return truck_plan(
            self.calculations["volume"].results["order"], pour.truck_capacity, pour.minimum_load,
            concrete.order_step, prices.concrete, prices.short_load_fee, self.job.system,
        )  # fmt: skip

    @property
    def lines(self):
        job, system = self.job, self.job.system
        concrete, pour, plan = job.concrete, job.pour, self.plan
        slump, tolerance = (
            show(concrete.slump, "in", system),
            show(slump_tolerance(concrete.slump), "in", system),
        )
        air = concrete.air.m_as("")
        found = [
            ("Job", job.job.name),
            ("Deliver to", job.job.address or "address to be given"),
            ("On", f"{pour.date or 'date to be given'}, first truck {pour.start}"),
            (
                "Concrete",
                f"{show(plan.total, 'yd3', system)}, {show(concrete.strength, 'psi', system)} at 28 days",
            ),
            ("Slump", f"{slump}, plus or minus {tolerance} (ASTM C94, from memory)"),
            ("Air", f"{air * 100:.2g} %, plus or minus 1.5 %" if air else "no entrained air"),
            ("Aggregate", f"up to {show(concrete.aggregate, 'in', system)}"),
            *self._extras(),
            ("Trucks", f"{len(plan.loads)}: {plan.text(system)}"),
            ("Spacing", f"{show(pour.truck_spacing, 'min', system)} apart"),
            ("Placing", "by pump" if pour.pump else "by chute, off the truck"),
            ("Contact", job.job.contact or "to be given"),
            (
                "Balance",
                "the last load is confirmed by telephone when the truck before it is half empty",
            ),
        ]
        if plan.remedy:
            found.append(("Note", plan.words))
        return found

    def _extras(self):
        """Lines that other calculations add to the order, such as a fiber and its dosage."""
        return [line for c in self.calculations.values() for line in c.order_lines]

    @property
    def frame(self):
        return pd.DataFrame(self.lines, columns=["", "order"])

    def text(self):
        """The slip, for the terminal and the telephone."""
        width = max(len(name) for name, _ in self.lines)
        return (
            "\n".join(["Order for the dispatcher", "", *(f"{n:<{width}}  {w}" for n, w in self.lines)])
            + "\n"
        )
