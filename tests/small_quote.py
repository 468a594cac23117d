"""A small quote of its own, for tests that must not hang on the demo."""

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.job.file import Job
from calcbook.price.quote import Quote

PRICES = {
    "concrete": "$168 / yd3", "stone": "$31 / ton", "wage": "$46 / h", "pump": "$850",
    "overhead": "12 %", "margin": "15 %", "tax": "5.5 %",
    "rental": [{"name": "plate compactor", "days": 2, "rate": "$80 / day"}],
    "extra": [{"name": "permit", "amount": 1, "price": "$120.50"}],
}  # fmt: skip


def job_with(prices=PRICES, system="us"):
    return Job(
        {
            "job": {"name": "Shed floor", "units": system},
            "slab": {"length": "20 ft", "width": "16 ft"},
            "prices": prices,
        }
    )


def small_calculation(concrete=5.25, stone=6.0, hours=4.57):
    calc = Calculation("small", "Small", "How much?")
    calc.take("Concrete", Q(concrete, "yd3"), "yd3", "concrete")
    calc.take("Pump", 1.0, "1", "pump", "equipment")
    calc.take("Stone", Q(stone, "ton"), "ton", "stone", note="loose")
    calc.work("Placing", Q(hours, "h"))
    return {"small": calc}


def small_quote(prices=PRICES, system="us", **amounts):
    return Quote(job_with(prices, system), small_calculation(**amounts))
