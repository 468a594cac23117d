"""100,000 draws of the demo's price through the book's own formulas, against the same written out in numpy.

``python tests/benchmark_odds.py`` prints both times, their ratio (limit 2), and the time of all the
odds with what drives them (limit 1 s).
"""

import numpy as np
from benchmark_pads import seconds
from server import NOTEBOOKS

from calcbook.book.chapters import Book
from calcbook.concrete.labor import PLACING
from calcbook.job.file import Job
from calcbook.pour.day import WAITING
from calcbook.weigh.odds import DRAWS, DRIVERS, SEED, Model, Scores, odds_of


def stream(name, item=0):
    return np.random.default_rng((SEED, list(DRIVERS).index(name), item))


def normal(name, item=0):
    return stream(name, item).standard_normal(DRAWS)


def cents(x):
    return np.floor(np.round(x * 100, 6) + 0.5) / 100


def inputs(quote):
    """The numbers of the job as a numpy programmer would have them before him."""
    job, volume = quote.job, quote.calculations["volume"].results
    base, risk, concrete = job.base, job.risk, job.concrete
    return dict(
        lines=[(line.words, line.taken.price, line.kind, line.number, line.for_one) for line in quote.lines],
        V=volume["net"].m_as("yard**3"), V_o=volume["order"].m_as("yard**3"), A=job.plan.area.m_as("foot**2"),
        soil=quote.calculations["base"].results["soil"].m_as("yard**3"), swell=base.swell.m_as(""),
        e=base.extra_depth.m_as("foot"), s=base.depth_spread.m_as("foot"), z_p=1.6448536269514722,
        V_l=job.pour.line_loss.m_as("yard**3") * job.pour.pump, waste=concrete.waste.m_as(""), step=concrete.order_step.m_as("yard**3"), fee=job.prices.short_load_fee.m,
        capacity=job.pour.truck_capacity.m_as("yard**3"), minimum=job.pour.minimum_load.m_as("yard**3"),
        wage=job.prices.wage.m_as("dollar/hour"), people=job.crew.size, price=job.prices.concrete.m_as("dollar/yard**3"),
        tax=job.prices.tax.m_as(""), overhead=job.prices.overhead.m_as(""), margin=job.prices.margin.m_as(""),
        **{key: getattr(risk, key).m_as("hour" if key.endswith(("hours", "further_wait")) else "")
           for key in type(risk).model_fields},
    )  # fmt: skip


def by_hand(lines, V, V_o, A, soil, swell, e, s, z_p, V_l, waste, step, fee, capacity, minimum, wage, people, price,
            tax, overhead, margin, waste_used, waste_spread, further_wait, crew_pace, task_pace, market,
            item_price, lost_day, lost_hours, set_wait, confidence):  # fmt: skip
    """Prices of all draws in plain numpy, in feet, cubic yards, hours and dollars."""
    d = s * normal("base")
    V_m = np.maximum(V + A * d / 27, V / 2)
    need = (
        np.maximum(
            np.ceil((V_m * (1 + waste) + V_l) / step - 1e-9),
            np.ceil((V_m + A * (e + z_p * s) / 27 + V_l) / step - 1e-9),
        )
        * step
    )
    trucks = np.ceil(need / capacity - 1e-9)
    last = need - (trucks - 1) * capacity
    each = np.floor(need / step / trucks + 1e-9) * step
    small = (last < minimum - 1e-9) & (each < minimum - 1e-9)
    raised = small & ((minimum - last) * price < fee)
    order = need + np.where(raised, minimum - last, 0)
    paid = small & ~raised
    used = V_m + V * waste * np.maximum(waste_used + waste_spread * normal("waste"), 0) + V_l
    further = np.ceil(np.maximum(used - order, 0) / step - 1e-9) * step
    loads = np.ceil(further / capacity - 1e-9)
    lost = np.floor(np.log(1 - stream("lost").random(DRAWS)) / np.log(lost_day))
    pace, alike = np.exp(crew_pace * normal("crew")), np.exp(market * normal("market"))
    sums = {"material": (paid + loads) * fee, "equipment": 0.0,
            "labor": cents((loads * further_wait + lost * lost_hours) * people * wage)}  # fmt: skip
    for item, (words, key, kind, amount, one) in enumerate(lines):
        if key == "concrete":
            amount = np.round(order + further, 2)
        elif key == "spoil":
            amount = np.round(np.maximum(soil + A * d / 27, soil / 2) * (1 + swell), 2)
        elif words == WAITING:
            amount = amount * np.exp(set_wait * normal("wait"))
        elif kind == "labor":
            if words == PLACING:
                amount = amount * (order + further) / V_o
            amount = amount / (pace * np.exp(task_pace * normal("task", item)))
        elif words in ("power trowel, 36 in.", "plate compactor"):
            amount = amount + lost
        if kind != "labor":
            one = one * alike * np.exp(item_price * normal("item", item))
        sums[kind] = sums[kind] + cents(amount * one)
    direct = cents(sums["material"] + cents(sums["material"] * tax) + sums["labor"] + sums["equipment"])
    return cents((direct + cents(direct * overhead)) / (1 - margin))


def main():
    quote = Book(Job.read(NOTEBOOKS / "demo.toml")).quote
    given = inputs(quote)

    def by_the_book():
        return Model(quote).drawn(Scores(quote.job, DRAWS, SEED))[0]

    np.testing.assert_allclose(by_the_book(), by_hand(**given), atol=0.0301)
    book, hand = seconds(by_the_book, 15), seconds(lambda: by_hand(**given), 15)
    print(f"{DRAWS:,} draws: book {book * 1e3:.0f} ms, hand-written numpy {hand * 1e3:.0f} ms, "
          f"ratio {book / hand:.2f} (limit 2)")  # fmt: skip
    print(
        f"all the odds with what drives them: {seconds(lambda: odds_of(quote), 7) * 1e3:.0f} ms (limit 1,000)"
    )


if __name__ == "__main__":
    main()
