"""100,000 draws of the demo's price through the book's own formulas, against the same written out in numpy.

``python tests/benchmark_odds.py`` prints the CPU seconds of both, each from nothing, their ratio (limit 1.3), and
those of all the odds with what drives them (limit 1 s), from nothing and after another price of concrete. ``tests/weigh/test_odds.py`` holds that both come to the same prices.
"""

import statistics
import time

import numpy as np
from server import NOTEBOOKS

from calcbook.book.chapters import Book
from calcbook.concrete.labor import PLACING
from calcbook.job.file import Job
from calcbook.pour.day import WAITING
from calcbook.weigh import scores, steady
from calcbook.weigh.odds import DRAWS, SEED, Model, odds_of
from calcbook.weigh.scores import DRIVERS, Scores

_NORMAL_95 = 1.6448536269514722  # below which 95 in 100 of a normal distribution lie
_MACHINES = ("power trowel, 36 in.", "plate compactor")  # rented by the day


def stream(name, item=0):
    return np.random.default_rng((SEED, list(DRIVERS).index(name), item))


def cents(x):
    return np.floor(np.round(x * 100, 6) + 0.5) / 100


def inputs(quote):
    """The numbers of the job as a numpy programmer would have them before him."""
    job, risk, volume = quote.job, quote.job.risk, quote.volume
    orders = {"": (job, volume)} | {s.job.slab.called: (s.job, s.volume) for s in quote.further_orders}
    return dict(
        lines=[(line.words.removesuffix(f", {line.taken.slab}"), line.taken.price, line.kind, line.number, line.for_one,
                line.taken.slab) for line in quote.lines],
        orders={name: order(*one) for name, one in orders.items()},
        soil=quote.base.soil.m_as("yard**3"), A=job.plan.area.m_as("foot**2"), swell=job.base.swell.m_as(""),
        s=job.base.depth_spread.m_as("foot"), fee=job.prices.short_load_fee.m,
        wage=job.prices.wage.m_as("dollar/hour"), people=job.crew.size,
        tax=job.prices.tax.m_as(""), overhead=job.prices.overhead.m_as(""), margin=job.prices.margin.m_as(""),
        **{key: getattr(risk, key).m_as("hour" if key.endswith(("hours", "further_wait")) else "")
           for key in type(risk).model_fields},
    )  # fmt: skip


def order(job, volume):
    """The numbers of an order of concrete, of the slab that holds it."""
    base, concrete, pour = job.base, job.concrete, job.pour
    return dict(
        V=volume.net.m_as("yard**3"), V_o=volume.trucks.total.m_as("yard**3"), waste=volume.waste,
        A=job.poured_area.m_as("foot**2"), e=base.extra_depth.m_as("foot"), s=base.depth_spread.m_as("foot"),
        V_l=pour.line_loss.m_as("yard**3") * pour.pump, step=concrete.order_step.m_as("yard**3"),
        capacity=pour.truck_capacity.m_as("yard**3"), minimum=pour.minimum_load.m_as("yard**3"),
        price=job.prices.concrete.m_as("dollar/yard**3"), fee=job.prices.short_load_fee.m,
    )  # fmt: skip


def ordered_by_hand(d, share, V, V_o, waste, A, e, s, V_l, step, capacity, minimum, price, fee):
    """(order with what comes on further loads, those loads, short-load fees) of each draw.

    d: how much deeper the base came out, over all draws; share: of the allowance for waste that is used.
    """
    V_m = np.maximum(V + A * d / 27, V / 2)
    need = (
        np.maximum(
            np.ceil((V_m * (1 + waste) + V_l) / step - 1e-9),
            np.ceil((V_m + A * (e + _NORMAL_95 * s) / 27 + V_l) / step - 1e-9),
        )
        * step
    )
    trucks = np.ceil(need / capacity - 1e-9)
    last = need - (trucks - 1) * capacity
    each = np.floor(need / step / trucks + 1e-9) * step
    small = (last < minimum - 1e-9) & (each < minimum - 1e-9)
    raised = small & ((minimum - last) * price < fee)
    came = need + np.where(raised, minimum - last, 0)
    used = V_m + V * waste * share + V_l
    further = np.ceil(np.maximum(used - came, 0) / step - 1e-9) * step
    loads = np.ceil(further / capacity - 1e-9)
    return came + further, loads, (small & ~raised) + loads


def by_hand(n, lines, orders, soil, A, swell, s, fee, wage, people, tax, overhead, margin, waste_used, waste_spread,
            further_wait, crew_pace, task_pace, market, item_price, lost_day, lost_hours, set_wait, confidence):  # fmt: skip
    """Prices of n draws in plain numpy, in feet, cubic yards, hours and dollars."""

    def normal(name, item=0):
        return stream(name, item).standard_normal(n)

    d = s * normal("base")
    share = np.maximum(waste_used + waste_spread * normal("waste"), 0)
    drawn = {name: ordered_by_hand(d, share, **one) for name, one in orders.items()}
    loads = sum(one[1] for one in drawn.values())
    fees = sum(one[2] for one in drawn.values()) - sum(
        number for _, key, _, number, *_ in lines if key == "short_load_fee"
    )
    lost = np.floor(np.log(1 - stream("lost").random(n)) / np.log(lost_day))
    pace, alike = np.exp(crew_pace * normal("crew")), np.exp(market * normal("market"))
    sums = {"material": fees * fee, "equipment": 0.0,
            "labor": cents((loads * further_wait + lost * lost_hours) * people * wage)}  # fmt: skip
    for item, (words, key, kind, amount, one, slab) in enumerate(lines):
        if key == "concrete":
            amount = np.round(drawn[slab][0], 2)
        elif key == "spoil" and not slab:
            amount = np.round(np.maximum(soil + A * d / 27, soil / 2) * (1 + swell), 2)
        elif words == WAITING:
            amount = amount * np.exp(set_wait * normal("wait"))
        elif kind == "labor":
            if words == PLACING:
                amount = amount * drawn[slab][0] / orders[slab]["V_o"]
            amount = amount / (pace * np.exp(task_pace * normal("task", item)))
        elif words in _MACHINES:
            amount = amount + lost
        if kind != "labor":
            one = one * alike * np.exp(item_price * normal("item", item))
        sums[kind] = sums[kind] + cents(amount * one)
    direct = cents(sums["material"] + cents(sums["material"] * tax) + sums["labor"] + sums["equipment"])
    return cents((direct + cents(direct * overhead)) / (1 - margin))


def worked(work, times=9):
    """Median CPU seconds of several runs of each of some works, taken in turns."""
    found = [[] for _ in work]
    for _ in range(times):
        for one, seconds in zip(work, found, strict=True):
            start = time.process_time()
            one()
            seconds.append(time.process_time() - start)
    return [statistics.median(seconds) for seconds in found]


def forget():
    """Nothing of what was drawn before is known any more."""
    for kept in (scores._kept, scores._shares, steady.steady, steady._kept_factor):
        kept.cache_clear()


def main():
    job = Job.read(NOTEBOOKS / "demo.toml")
    quote, other = (Book(job.changed({"prices.concrete": f"{p} $/yd3"})).quote for p in (168, 181))
    given = inputs(quote)
    book, hand, whole, again = worked(
        [
            lambda: (forget(), Model(quote).drawn(Scores(quote.job, DRAWS, SEED))),
            lambda: by_hand(DRAWS, **given),
            lambda: (forget(), odds_of(quote).drivers),
            lambda: odds_of(other).drivers,
        ]
    )
    print(f"{DRAWS:,} draws: book {book * 1e3:.0f} ms, hand-written numpy {hand * 1e3:.0f} ms, "
          f"ratio {book / hand:.2f} (limit 1.3)")  # fmt: skip
    print(
        f"all the odds with what drives them: {whole * 1e3:.0f} ms (limit 1,000), after another price {again * 1e3:.0f} ms"
    )


if __name__ == "__main__":
    main()
