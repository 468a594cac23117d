"""The odds of coming up short, as the base is never quite as deep as planned.

The depth of a finished base, averaged over the slab, differs from the plan by an amount with a mean
and a spread (standard deviation) from the builder's own records. It is taken as normally
distributed: an average of very many places.
"""

from scipy.special import ndtr, ndtri

from calcbook.formula import arg, cite, formula, number, result
from calcbook.units import ureg

_BASE = {
    "V": arg("yd3", "volume by the plan", above=0),
    "A": arg("ft2", "plan area of the slab", above=0),
    "e": arg("in", "average extra depth", low=-4, high=12),
    "s": arg("in", "spread of the average extra depth", above=0, high=12, symbol=r"\sigma"),
}


def Phi(z):
    """Share of a normal distribution below z; z plain or a dimensionless quantity."""
    p = ndtr(number(z, "1"))
    return ureg.Quantity(p, "") if isinstance(z, ureg.Quantity) else p


def probit(p):
    """z with the share p of a normal distribution below it; the inverse of ``Phi``."""
    return ndtri(number(p, "1"))


@formula(
    "Odds of coming up short",
    cite("statistics", "normal distribution of the average depth"),
    result("%", "odds of coming up short"),
    V_o=arg("yd3", "volume ordered", above=0),
    **_BASE,
)
def short_odds(V_o, V, A, e, s):
    """Probability that the slab needs more concrete than was ordered.

    V_o: volume ordered; V: volume by the plan; A: plan area; e, s: mean and standard deviation of
    the base's average extra depth (lengths; e below 0 where the base comes out high). Returns a
    share in percent. Spill, what stays in hose and hopper, and short yield are not in it.
    Source: derived here.
    """
    z = (V_o - V - A * e) / (A * s)
    p = Phi(-z)
    return p


@formula(
    "Volume for an accepted risk",
    cite("statistics", "normal distribution of the average depth"),
    result("yd3", "volume for the accepted risk"),
    **_BASE,
    risk=arg("1", "accepted odds of coming up short", above=0, below=1, symbol="p"),
)
def order_for_risk(V, A, e, s, risk):
    """Least volume that comes up short only with the accepted odds; the inverse of ``short_odds``.

    V, A, e, s: as for ``short_odds``; risk: accepted odds, 0 to 1 (plain). Returns a volume, not
    yet rounded to the step of sale. Source: derived here.
    """
    z = probit(1 - risk)
    V_p = V + A * (e + z * s)
    return V_p
