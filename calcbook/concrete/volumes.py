"""Volumes of slab, edge and pads in closed form: the formulas alone."""

from calcbook.basis.formula import arg, cite, formula, result


@formula(
    "Coverage of a unit volume",
    cite("geometry"),
    result("ft2/yd3", "area covered by a unit of volume"),
    t=arg("in", "thickness", above=0),
)
def coverage(t):
    """Area covered by a unit volume of concrete.

    Returns an area per volume: 324 / t with t in inches, in ft2/yd3.
    Source: geometry.
    """
    cover = 1 / t
    return cover


@formula(
    "Volume of the slab",
    cite("geometry"),
    result("yd3", "concrete in the slab"),
    A=arg("ft2", "plan area, openings taken out", above=0),
    t=arg("in", "thickness", above=0, high=48),
)
def slab_volume(A, t):
    """Volume of a slab of even thickness, without what is thickened below it.

    A: plan area without openings. Returns a volume. Source: geometry.
    """
    V = A * t
    return V


@formula(
    "Volume of a slab whose top slopes",
    cite("geometry", "thickness at the centroid of the plan is the mean of a plane"),
    result("yd3", "concrete in the slab"),
    A=arg("ft2", "plan area, openings taken out", above=0),
    t=arg("in", "least thickness", above=0, high=48),
    h_m=arg("in", "mean height of the top above its lowest place", low=0),
)
def sloped_volume(A, t, h_m):
    """Volume of a slab with a level underside and a top that slopes.

    h_m: how much thicker it is on average than at its thinnest. Returns a volume. Source: geometry.
    """
    V = A * (t + h_m)
    return V


@formula(
    "Volume by the plan",
    cite("geometry"),
    result("yd3", "concrete by the plan"),
    V_s=arg("yd3", "slab", above=0),
    V_d=arg("yd3", "thickened edge, pads and strips", low=0),
)
def plan_volume(V_s, V_d):
    """Everything that concrete fills by the plan.

    V_s: slab, from ``slab_volume``; V_d: what is dug below it, from ``dig_volume``. Returns a
    volume. Source: geometry.
    """
    V = V_s + V_d
    return V


@formula(
    "Volume with lowered stretches",
    cite("geometry"),
    result("yd3", "concrete by the plan"),
    V=arg("yd3", "slab and thickenings", above=0),
    V_k=arg("yd3", "taken off at door sills and ledges", low=0),
)
def lowered_volume(V, V_k):
    """Concrete of slab and thickenings, less what door sills and brick ledges take off the top.

    V: from ``plan_volume``; V_k: their plan area times their drop. Returns a volume. Source: geometry.
    """
    V_net = V - V_k
    return V_net


@formula(
    "Section of a thickened edge below the slab",
    cite("geometry", "trapezoid"),
    result("ft2", "section below the slab's underside"),
    d=arg("in", "depth below the slab's underside", low=0, high=72),
    b=arg("in", "width at the bottom", low=0, high=120),
    slope=arg("1", "inner slope, run per rise", low=0, high=4),
)
def ring_section_area(d, b, slope=1.0):
    """Area of the trapezoid between the slab's underside and the bottom of a thickened edge.

    slope: run per rise of the inner side (plain). Source: geometry.

    >>> print(ring_section_area("13 in", "12 in", 1.0))
    1.67 foot ** 2
    """
    A_r = d * (b + slope * d / 2)
    return A_r


@formula(
    "Square of the edge's width, summed over its depth",
    cite("geometry", "integral of (b + slope (d - z))^2 dz from 0 to d"),
    result("ft3", "sum of the squared width over the depth"),
    d=arg("in", "depth below the slab's underside", low=0, high=72),
    b=arg("in", "width at the bottom", low=0, high=120),
    slope=arg("1", "inner slope, run per rise", low=0, high=4),
)
def ring_corner_volume(d, b, slope=1.0):
    """What a right-angled corner counts twice when sections are multiplied by outside length.

    d, b, slope: as for ``ring_section_area``. Source: geometry.
    """
    V_c = d * (b**2 + b * slope * d + (slope * d) ** 2 / 3)
    return V_c


@formula(
    "Volume of a thickened edge, alone",
    cite("geometry", "section x perimeter, less the corners"),
    result("yd3", "thickened edge below the slab"),
    P=arg("ft", "outside perimeter", above=0),
    A_r=arg("ft2", "section below the slab", low=0),
    V_c=arg("ft3", "what one corner counts twice", low=0),
    C=arg("1", "corners pointing out less corners pointing in", low=0, high=1000),
)
def ring_volume(P, A_r, V_c, C=4.0):
    """Closed form of the volume of a thickened edge along a whole outline, without pads.

    A_r: from ``ring_section_area``; V_c: from ``ring_corner_volume``; C: 4 for every outline of
    right angles, else ``offset.corner_sum``. Holds while no side of the outline is used up:
    opposite sides further apart than twice the greatest width. Source: geometry; a rectangle gives
    integral of L W - (L - 2w)(W - 2w).
    """
    V_ring = P * A_r - C * V_c
    return V_ring
