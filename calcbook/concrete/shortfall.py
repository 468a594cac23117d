"""The odds of coming up short, as the base is never quite as deep as planned.

The depth of a finished base, averaged over the slab, differs from the plan by an amount with a mean
and a spread (standard deviation) from the builder's own records. It is taken as normally
distributed: an average of very many places.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.formula import arg, cite, formula, number, result, with_unit
from calcbook.basis.normal import score_of, share_below
from calcbook.basis.showing import magnitude, show
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.plan.charted import note
from calcbook.plan.drawing import ACCENT, GREY, INK, LINE, SMALL, chart

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

_BASE = {
    "V": arg("yd3", "volume by the plan", above=0),
    "A": arg("ft2", "plan area of the slab", above=0),
    "e": arg("in", "average extra depth", low=-4, high=12),
    "s": arg("in", "spread of the average extra depth", above=0, high=12, symbol="sigma"),
}
LEFT = arg("yd3", "concrete left in the pump's hopper and line", low=0, high=5)
NONE_LEFT = Q(0, "yd3")


def Phi(z: Any) -> Any:
    """Share of a normal distribution below z; z plain or a dimensionless quantity."""
    return with_unit(share_below(number(z, "1")), "1", z)


def probit(p: float) -> float:
    """z with the share p of a normal distribution below it; the inverse of ``Phi``."""
    return score_of(number(p, "1"))


@formula(
    "Odds of coming up short",
    cite("statistics", "normal distribution of the average depth"),
    result("%", "odds of coming up short"),
    V_o=arg("yd3", "volume ordered", above=0),
    **_BASE,
    V_l=LEFT,
)
def short_odds(V_o, V, A, e, s, V_l=NONE_LEFT):
    """Probability that the slab needs more concrete than was ordered.

    e, s: mean and standard deviation of the base's average extra depth (lengths; e below 0 where
    the base comes out high); V_l: what stays in the pump. Returns a share in percent. Spill and
    short yield are not in it. Source: derived here.
    """
    z = (V_o - V_l - V - A * e) / (A * s)
    p = Phi(-z)
    return p


@formula(
    "Volume for an accepted risk",
    cite("statistics", "normal distribution of the average depth"),
    result("yd3", "volume for the accepted risk"),
    **_BASE,
    risk=arg("1", "accepted odds of coming up short", above=0, below=1, symbol="p"),
    V_l=LEFT,
)
def order_for_risk(V, A, e, s, risk, V_l=NONE_LEFT):
    """Least volume that comes up short only with the accepted odds; the inverse of ``short_odds``.

    V, A, e, s, V_l: as for ``short_odds``. Returns a volume, not yet rounded to the step of sale.
    Source: derived here.
    """
    z = probit(1 - risk)
    V_p = V + A * (e + z * s) + V_l
    return V_p


def left_in_pump(job: Job) -> Quantity:
    """Concrete that stays in the pump's hopper and line; none where a job is placed by chute."""
    return job.pour.line_loss if job.pour.pump else NONE_LEFT


def odds_inputs(job: Job, V: Quantity) -> dict[str, Any]:
    """What ``short_odds`` takes beside the order. V: volume by the plan."""
    base = job.base
    return {
        "V": V,
        "A": job.poured_area,
        "e": base.extra_depth,
        "s": base.depth_spread,
        "V_l": left_in_pump(job),
    }


def odds_chart(
    inputs: dict[str, Any], order: Quantity, step: Quantity, accepted: Quantity, system: str
) -> Figure:
    """Odds of coming up short against the order: every step of sale, what is ordered, what is accepted.

    inputs: of ``odds_inputs``; order: volume ordered; step: of sale; accepted: odds. Returns a matplotlib Figure.
    """
    V, step, risk = inputs["V"], step.m_as("cubic_yard"), 100 * accepted.m_as("")
    last = int(np.ceil(order.m_as("cubic_yard") / step)) + 2
    first = max(1, min(int(V.m_as("cubic_yard") / step), last - 6))
    orders = step * np.arange(first, last + 1)
    odds = short_odds.bulk(V_o=orders, **inputs)
    one = magnitude(Q(1, "yd3"), "yd3", system)
    figure, ax = chart(
        height=3.0, title="Odds of coming up short", x=f"concrete ordered, {TRADE_UNITS['yd3'].label_for(system)}",
        y="odds, %",
    )  # fmt: skip
    ax.plot(orders * one, odds, color=INK, lw=LINE, marker="o", ms=3)
    ax.axhline(risk, color=GREY, lw=LINE, ls=(0, (5, 3)))
    beside: dict[str, Any] = {"ha": "right", "fontsize": SMALL}
    note(ax, orders[-1] * one, risk, f"accepted: {risk:g} %", 0, 3, color=GREY, **beside)
    at = magnitude(order, "yd3", system), short_odds(order, **inputs).m
    ax.plot(*at, marker="D", ms=8, mfc="none", mec=ACCENT, ls="none", clip_on=False)
    note(ax, *at, f"ordered: {show(order, 'yd3', system)}", -8, 12, color=ACCENT, **beside)
    ax.set_ylim(bottom=0)
    return figure
