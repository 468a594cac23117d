"""What lies under and around the slab: stone base, soil dug out, edge forms."""

from calcbook.calculation import Calculation
from calcbook.dig import depth_integral
from calcbook.formula import arg, cite, formula, procedure, result
from calcbook.outline import is_round
from calcbook.pricing import person_hours
from calcbook.rounding import ceil
from calcbook.units import Q

_LEVELS = {
    "t": arg("in", "slab thickness", above=0, high=48),
    "base": arg("in", "compacted thickness of the stone base", low=0, high=48, symbol="t_b"),
    "above_grade": arg("in", "top of slab above the ground", low=0, high=48, symbol="h_g"),
}


@procedure(
    "Volume of the stone base",
    cite("geometry", "slab area x thickness, less what the thickenings take of it"),
    "Stone lies under the slab, but not where the thickened edge, pads and strips are dug through it: "
    "the dug area is summed over the depth of the stone, as for the concrete.",
    returns=result("yd3", "stone, compacted in place"),
)
def stone_volume(job):
    """Exact volume of the compacted stone base of a job.

    job: a Job. Returns a volume in yd3. Source: geometry.
    """
    return compacted_stone(job.plan, job.base.thickness)


def compacted_stone(plan, thickness):
    """Volume of stone of an even thickness under a Plan, where nothing else is dug; in yd3."""
    feet = thickness.m_as("foot")
    under = plan.slab.area * feet - depth_integral(plan, 0.0, feet)
    return Q(under, "ft3").to("cubic_yard")


@formula(
    "Loose volume of the stone",
    cite("common practice", "10 to 20 % over the compacted volume"),
    result("yd3", "stone as dumped"),
    V_b=arg("yd3", "stone, compacted in place", low=0),
    compaction=arg("1", "loose volume above compacted volume", low=0, high=0.6, valid=(0.10, 0.20), symbol="c"),
)  # fmt: skip
def loose_stone(V_b, compaction=0.15):
    """Volume of stone before it is compacted.

    V_b: compacted volume; compaction: share by which loose stone is more (plain), flagged outside
    0.10 to 0.20. Returns a volume. Source: common practice; no standard was found.
    """
    V_l = V_b * (1 + compaction)
    return V_l


@formula(
    "Mass of the stone",
    cite("stone tables", "crushed stone 1.35 ton/yd3"),
    result("ton", "stone"),
    V_b=arg("yd3", "stone, compacted in place", low=0),
    density=arg("ton/yd3", "mass of the compacted base by volume", above=0, valid=(1.30, 1.62), symbol=r"\rho"),
)  # fmt: skip
def stone_mass(V_b, density=Q(1.35, "ton/yd3")):
    """Mass of the stone base.

    V_b: compacted volume; density: mass by volume in place, flagged outside 1.30 to 1.62 ton/yd3
    (2,600 lb/yd3 dry to 2,700 lb/yd3 and 20 % more wet). Returns a mass. Source: agency and supplier
    tables.
    """
    m = V_b * density
    return m


@formula(
    "Stone to order",
    cite("common practice", "rounded up to the step of sale"),
    result("ton", "stone to order"),
    m=arg("ton", "stone", low=0),
    step=arg("ton", "step in which stone is sold", above=0, high=50, symbol=r"\Delta m"),
)
def stone_order(m, step=Q(1, "ton")):
    """Stone rounded up to the step in which it is sold.

    m: mass needed; step: step of sale. Returns a mass, never below the need. Source: common practice.
    """
    m_o = ceil(m / step) * step
    return m_o


@formula(
    "Depth of the cut under the whole slab",
    cite("geometry"),
    result("in", "cut below the ground"),
    **_LEVELS,
)
def cut_depth(t, base, above_grade):
    """How far below the ground the underside of the stone lies; below 0 the site must be filled.

    t: slab thickness; base: stone thickness; above_grade: top of slab above the ground. Returns a
    length. Source: geometry.
    """
    d_c = t + base - above_grade
    return d_c


@procedure(
    "Soil dug out",
    cite("geometry", "cut under the whole outline, and the thickenings below it"),
    "Everything inside the outline is dug to the underside of the stone; below that only the thickened "
    "edge, pads and strips, with their dug area summed over the depth. The ground is taken as level.",
    returns=result("yd3", "soil, in the ground"),
)
def excavation_volume(job):
    """Volume of soil dug out for a job, measured in the ground.

    job: a Job. Returns a volume in yd3; working room outside the forms is not in it.
    Source: geometry.
    """
    return soil_dug(job.plan, job.slab.thickness, job.base.thickness, job.slab.above_grade)


def soil_dug(plan, t, base, above_grade):
    """Soil inside a Plan's outline that is dug out below level ground, in the ground, in yd3.

    t, base, above_grade: slab and stone thickness, and top of slab above the ground (lengths).
    """
    cut = cut_depth(t, base, above_grade).m_as("foot")
    ground = (above_grade - t).m_as("foot")  # depth of the ground below the slab's underside
    lowest = max(plan.depths, default=0.0)
    below = depth_integral(plan, max(base.m_as("foot"), ground), lowest)
    return Q(plan.outline.area * max(cut, 0.0) + below, "ft3").to("cubic_yard")


@formula(
    "Loose volume of the soil",
    cite("common practice", "10 yd3 in the ground become 13 yd3 loose"),
    result("yd3", "soil to haul, loose"),
    V_e=arg("yd3", "soil, in the ground", low=0),
    swell=arg("1", "loose volume above volume in the ground", low=0, high=1, symbol="s"),
)
def spoil_volume(V_e, swell=0.30):
    """Volume of dug soil on the truck.

    V_e: volume in the ground; swell: share by which it grows (plain). Returns a volume.
    Source: common practice; a textbook's example of swell is 30 %.
    """
    V_h = V_e * (1 + swell)
    return V_h


@formula(
    "Fill under the stone",
    cite("geometry"),
    result("yd3", "fill, compacted in place"),
    A=arg("ft2", "area inside the outline", above=0),
    d_f=arg("in", "depth of fill", low=0),
)
def fill_volume(A, d_f):
    """Fill between level ground and the underside of the stone, where the slab stands that high.

    A: area inside the outline; d_f: depth of fill. Returns a volume. Source: geometry.
    """
    V_f = A * d_f
    return V_f


@formula(
    "Length of edge forms",
    cite("geometry"),
    result("ft", "edge forms"),
    P=arg("ft", "perimeter of the outline", above=0),
    P_o=arg("ft", "around openings that are formed", low=0),
)
def form_length(P, P_o):
    """Forms around the slab and its openings; round openings take a tube or sleeve instead.

    P: perimeter of the outline; P_o: around the openings with straight sides. Returns a length.
    Source: geometry.
    """
    L_f = P + P_o
    return L_f


@formula(
    "Stakes for the forms",
    cite("common practice", "a stake every 3 to 4 ft and at each corner"),
    result("1", "stakes"),
    L_f=arg("ft", "edge forms", above=0),
    corners=arg("1", "corners", low=0, symbol="n_c"),
    spacing=arg("ft", "distance between stakes", above=0, high=8, symbol="s"),
)
def form_stakes(L_f, corners, spacing=Q(4, "ft")):
    """Stakes that hold the edge forms.

    L_f: length of forms; corners: how many corners have one more (plain); spacing: distance between
    stakes. Returns a whole number (plain). Source: common practice.
    """
    n_s = ceil(L_f / spacing) + corners
    return n_s


def formed_openings(plan):
    """The openings of a Plan that get straight forms: all but the round ones."""
    return [o for o in plan.openings if not is_round(o.shape)]


def calculation(job):
    """Stone, soil and forms of a job. Returns a Calculation."""
    made = Calculation("base", "Stone, soil and forms", "How much stone comes, how much soil goes, and what is formed?", job.system)  # fmt: skip
    made.figure("Section at the edge", lambda: _section(job))
    _stone(made, job)
    _soil(made, job)
    _forms(made, job)
    made.caution("Call the utility locating service before digging. Keep out of unsupported trenches.")
    made.caution("Stone and soil must not be frozen, soft or under water when the concrete comes.")
    return made


def _section(job):
    from calcbook.sections import section_drawing

    return section_drawing(
        job.slab.thickness, job.base.thickness, job.plan.edge, job.slab.above_grade, job.system
    )


def _stone(made, job):
    made.given(job, "base.thickness", r"t_{\mathrm{b}}")
    V_b = made.finding(
        "Stone under the slab, but not where edge and pads are dug through it.", r"V_{\mathrm{b}}",
        stone_volume(job), "yd3", stone_volume.source, "stone_volume", "stone in place",
    )  # fmt: skip
    if V_b.magnitude <= 0:
        return
    compaction = made.given(job, "base.compaction", "c").m_as("")
    made.step(
        loose_stone,
        "The same stone as it comes off the truck.",
        V_b=V_b,
        compaction=compaction,
        name="loose_stone",
    )
    m = made.step(
        stone_mass, "Stone is sold by mass.", V_b=V_b, density=made.given(job, "base.density", r"\rho")
    )
    m_o = made.step(stone_order, "Rounded up to whole tons.", m=m, name="stone_order")
    made.take(f"Base: {job.base.material}", m_o, "ton", "stone")
    _work(
        made,
        "Spreading and compacting the base",
        V_b.m_as("cubic_yard"),
        job,
        "crew.base_rate",
        "cubic_yard",
    )


def _soil(made, job):
    t, above = job.slab.thickness, made.given(job, "slab.above_grade", r"h_{\mathrm{g}}")
    made.step(cut_depth, "Depth of the cut under the whole slab, below level ground.", t=t, base=job.base.thickness,
              above_grade=above)  # fmt: skip
    V_e = made.finding("Soil inside the outline, thickenings included.", r"V_{\mathrm{e}}", excavation_volume(job), "yd3",
                       excavation_volume.source, "soil", "soil dug, in the ground")  # fmt: skip
    swell = made.given(job, "base.swell", "s").m_as("")
    V_h = made.step(
        spoil_volume, "Dug soil takes more room on the truck.", V_e=V_e, swell=swell, name="spoil"
    )
    made.take("Hauling soil", V_h, "yd3", "spoil", note="loose")


def _forms(made, job):
    around = sum((Q(o.shape.length, "ft") for o in formed_openings(job.plan)), Q(0, "ft"))
    L_f = made.step(
        form_length,
        "Forms around the slab and its square openings.",
        P=job.plan.perimeter,
        P_o=around,
        name="forms",
    )
    made.take("Edge forms", L_f, "ft", "forms")
    _work(made, "Setting forms", L_f.m_as("foot"), job, "crew.forms_rate", "foot")


def _work(made, words, amount, job, place, unit_name):
    rate = made.given(job, place, "r").m_as(unit_name)
    made.work(words, made.step(person_hours, f"{words}.", n=amount, rate=Q(rate, "1/h")))
