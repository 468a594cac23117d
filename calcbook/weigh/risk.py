"""What can make a job cost more or less than its quote, as formulas that run on single values and
on arrays of draws alike.

A score z is a draw of a standard normal distribution: 0 in the middle, 1 one spread above it.
"""

from numpy import exp, floor, log, maximum, sqrt

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q
from calcbook.concrete.shortfall import LEFT, NONE_LEFT

_SCORE = arg("1", "score, in spreads above the middle", low=-12, high=12)
_STEP = arg("yd3", "step in which concrete is sold", above=0, high=2, symbol="Delta V")


@formula(
    "Factor about the planned value",
    cite("statistics", "logarithm normally distributed"),
    result("1", "drawn over planned"),
    s=arg("1", "spread, share of the planned value", low=0, high=1),
    z=_SCORE,
)
def spread_factor(s, z):
    """A price or a pace as drawn, over the planned one: never below 0, the planned one in the middle.

    s: spread (standard deviation of the logarithm, plain), nearly the share by which it differs.
    Source: derived here.
    """
    f = exp(s * z)
    return f


@formula(
    "Depth of the base as it comes out",
    cite("statistics", "normal distribution of the average depth"),
    result("in", "average extra depth of the base"),
    e=arg("in", "extra depth in the middle", low=-4, high=12),
    s=arg("in", "spread of the average extra depth", low=0, high=12, symbol="sigma"),
    z=_SCORE,
)
def drawn_depth(e, s, z):
    """How much deeper a finished base lies than planned, averaged over the slab.

    e, s: mean and standard deviation (lengths). Source: derived here.
    """
    d = e + s * z
    return d


@formula(
    "Volume over the base as it came out",
    cite("geometry"),
    result("yd3", "concrete by the plan, over the base as measured"),
    V=arg("yd3", "volume by the plan", above=0),
    A=arg("ft2", "plan area of the slab", above=0),
    d=arg("in", "average extra depth as measured"),
    e=arg("in", "average extra depth expected", low=-4, high=12),
    thin=arg("1", "least share of the volume that a high base leaves", above=0, high=1, symbol="c"),
)
def measured_volume(V, A, d, e, thin=0.5):
    """Volume by the plan, corrected by what the base came out deeper or higher than expected.

    thin: a base that comes out so high that less than this share is left would be dug again
    (plain). Source: geometry.
    """
    V_m = maximum(V + A * (d - e), thin * V)
    return V_m


@formula(
    "Share of the allowance that a job uses",
    cite("common practice", "an allowance is more than most jobs need"),
    result("1", "share of the allowance for waste used"),
    u_m=arg("1", "share used in the middle", low=0, high=1),
    s=arg("1", "spread of that share", low=0, high=1),
    z=_SCORE,
)
def allowance_used(u_m, s, z):
    """How much of the allowance for waste is really lost; never below 0, and above 1 comes up short.

    u_m, s: middle and standard deviation (plain).
    """
    u = maximum(u_m + s * z, 0)
    return u


@formula(
    "Concrete that a job takes in the end",
    cite("common practice", "measured base, and the waste that shows at the end of the pour"),
    result("yd3", "concrete used"),
    V_m=arg("yd3", "concrete by the plan, over the base as measured", above=0),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, symbol="w"),
    u=arg("1", "share of the allowance used", low=0),
    V_l=LEFT,
)
def used_volume(V_m, V, waste, u, V_l=NONE_LEFT):
    """What goes into the slab and what is lost on the way.

    V_l: what stays in the pump.
    """
    V_u = V_m + V * waste * u + V_l
    return V_u


@formula(
    "Concrete of a further load",
    cite("common practice", "rounded up to the step of sale"),
    result("yd3", "concrete that comes on a further load"),
    V_u=arg("yd3", "concrete used", low=0),
    V_o=arg("yd3", "concrete ordered", low=0),
    step=_STEP,
)
def further_volume(V_u, V_o, step=Q(0.25, "yd3")):
    """What is short at the end of the pour, as it is sold; 0 where something is left over.

    step: step of sale.
    """
    V_x = ceil((maximum(V_u, V_o) - V_o) / step) * step
    return V_x


@formula(
    "Further loads",
    cite("common practice", "each pays the short-load fee"),
    result("1", "further loads"),
    V_x=arg("yd3", "concrete that comes on a further load", low=0),
    capacity=arg("yd3", "most a truck carries", above=0, high=14, symbol="V_truck"),
)
def further_loads(V_x, capacity):
    """Trucks called after the last one of the order.

    V_x: concrete short, as sold. Returns a whole number (plain).
    """
    n_x = ceil(V_x / capacity)
    return n_x


@formula(
    "Days lost to the weather",
    cite("statistics", "planned days until one holds, each lost with the same odds"),
    result("1", "days lost"),
    p=arg("1", "odds that a planned day is lost", above=0, high=0.9),
    q=arg("1", "share of jobs that lose at least so many", above=0, high=1),
)
def lost_days(p, q):
    """How many planned pour days are lost before one holds.

    q: share of jobs that fare at least as badly, a number drawn evenly from 0 to 1 (both plain).
    Returns a whole number (plain). Source: derived here.
    """
    n_w = floor(log(q) / log(p))
    return n_w


@formula(
    "Spread of two things together",
    cite("statistics", "variances of what moves apart add up"),
    result("$", "spread of the sum"),
    s_1=arg("$", "spread of the one", low=0),
    s_2=arg("$", "spread of the other", low=0),
)
def combined_spread(s_1, s_2):
    """Spread of a sum of two costs that move apart from each other.

    s_1, s_2: their standard deviations (money). For costs that always move together the spreads add
    up instead. Source: derived here.
    """
    s = sqrt(s_1**2 + s_2**2)
    return s


@formula(
    "Paid hours in which a crew waits",
    cite("common practice"),
    result("h", "person-hours of waiting"),
    n=arg("1", "times", low=0),
    n_p=arg("1", "people", low=0, high=60),
    t_w=arg("h", "hours paid to each, each time", low=0, high=24),
)
def idle_hours(n, n_p, t_w):
    """Person-hours paid for waiting: for a further load, or on a day lost to the weather.

    n: how often.
    """
    H_w = n * n_p * t_w
    return H_w
