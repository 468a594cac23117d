"""Fiber, mesh or bars of a job: what is asked, found, compared and bought."""

import math

import pytest
from drawn import words
from structure import checks, job

from calcbook.basis.calculation import Step
from calcbook.basis.showing import magnitude
from calcbook.basis.units import Q
from calcbook.book.chapters import Book, run
from calcbook.reinforcement.amounts import KINDS, amount, lap_of, steel_of
from calcbook.slab.steel import steel_layer

BARS = {"kind": "bars", "bar": "#4", "bar_spacing": "18 in"}
PRICES = {"mesh": "$20", "bar": "$1 / ft", "wage": "$40 / h", "macro_fiber": "$30 / bag"}


def table(calc, title):
    (found,) = [b.frame for b in calc.blocks if getattr(b, "title", "") == title]
    return found


def test_fiber_without_the_maker_s_test_needs_an_engineer():
    question = "Maker's test of the fiber after a crack"
    asked = checks("reinforcement", job(reinforcement={"kind": "macro fiber"}))
    assert (
        asked[question].status == "NEEDS ENGINEER"
        and "Residual strength of the fiber concrete, f_150" not in asked
    )
    known = checks("reinforcement", job(reinforcement={"kind": "macro fiber", "residual": "260 psi"}))
    assert (
        question not in known and known["Residual strength of the fiber concrete, f_150"].status == "OK"
    )
    weak = checks("reinforcement", job(reinforcement={"kind": "steel fiber", "residual": "60 psi"}))
    assert weak["Residual strength of the fiber concrete, f_150"].status == "NEEDS ENGINEER"
    assert question not in checks("reinforcement", job(reinforcement={"kind": "micro fiber"}))


@pytest.mark.parametrize(("kind", "least"), [("micro", 0.5), ("macro", 3), ("steel", 25)])
def test_dosage_against_its_source(kind, least):
    """ACI FAQ 926 (read in a reprint): 0.5 and 3.0 lb/yd3; Concrete Construction: 25 lb/yd3 of steel."""
    question = "Dosage of the fiber"
    for dosage, status in ((least, "OK"), (least * 0.9, "NOT OK")):
        given = {"kind": f"{kind} fiber", f"{kind}_dosage": f"{dosage} lb/yd3"}
        found = checks("reinforcement", job(reinforcement=given))[question]
        assert found.status == status and bool(found.to_do) == (status == "NOT OK")


@pytest.mark.parametrize("kind", [*KINDS, "none"])
def test_every_kind_enters_the_takeoff(kind):
    calc = run(
        "reinforcement", job(reinforcement={"kind": kind, "residual": "260 psi", "ratio": "30 %"})
    )
    assert len(calc.takeoff) == {"none": 0, "mesh": 2, "bars": 2}.get(kind, 1)
    assert calc.results["residual"].m_as("lbf*inch") == pytest.approx(
        0.3 * calc.results["cracking"].m_as("lbf*inch")
    )
    shown = [s.words for s in calc.steps]
    assert ("Bags of it." in shown) == ("fiber" in kind)


@pytest.mark.parametrize("kind", ["micro fiber", "macro fiber", "steel fiber"])
@pytest.mark.parametrize("system", ["us", "si"])
def test_the_dispatcher_is_told_the_fiber_that_the_quote_buys(kind, system):
    """Dosage, weight of each truck's load, and bags: those of the takeoff and of the trucks."""
    book = Book(job(reinforcement={"kind": kind}, job={"units": system}))
    (said,) = (words for name, words in book.quote.order.lines if name == "Fiber")
    (line,) = (t for t in book.calculations["reinforcement"].takeoff if t.unit == "bag")
    head, weights, bags = said.split(": ")
    assert line.words.lower() == head
    by_load = weights.split(" by load, ")[0]
    found = [float(w.split()[0].replace(",", "")) for w in by_load.split(" + ")]
    loads = [float(x) for x in book.volume.trucks.loads]
    assert [w / sum(found) for w in found] == pytest.approx([x / sum(loads) for x in loads], rel=0.01)
    m_bag = magnitude(book.job.reinforcement.bag, "lb", system)
    assert int(bags.split()[0]) == line.amount.m == math.ceil(sum(found) / m_bag - 0.02)


@pytest.mark.parametrize("kind", ["none", "mesh", "bars"])
def test_without_fiber_the_order_says_nothing_of_it(kind):
    order = Book(job(reinforcement={"kind": kind})).quote.order
    assert "Fiber" not in dict(order.lines)


def test_cracking_moment_of_the_job():
    """7.5 root(4000) x 12 x 25 / 6: 23,717 lbf in (own arithmetic)."""
    found = run("reinforcement", job()).results["cracking"]
    assert found.m_as("lbf*inch") == pytest.approx(7.5 * math.sqrt(4000) * 50)


def test_steel_by_drag_of_mesh_and_of_bars():
    """CRSI EDR 37: F L w / (2 x 2/3 f_y), each with its own yield strength; 12.5 ft, 62.5 psf."""
    mesh, bars = (run("reinforcement", job(reinforcement=r)).results for r in ({"kind": "mesh"}, BARS))
    for found, f_y in ((mesh, 65000), (bars, 60000)):
        assert found["drag"].m_as("inch**2/ft") == pytest.approx(1.5 * 12.5 * 62.5 / (2 * f_y * 2 / 3))
    assert mesh["steel"].m_as("inch**2/ft") == pytest.approx(0.058)
    assert bars["steel"].m_as("inch**2/ft") == pytest.approx(0.20 * 12 / 18)


def test_what_fiber_must_reach():
    """Steel at mid-depth, d = 2.5 in.: 6 T (d - a/2) / (b h2), T = 0.058 x 65,000 lbf (ACI 544.4R-18)."""
    T = 0.058 * 65000
    a = T / (0.85 * 4000 * 12)
    found = run("reinforcement", job(reinforcement={"kind": "mesh"})).results["needed"]
    assert found.m_as("psi") == pytest.approx(6 * T * (2.5 - a / 2) / (12 * 25))
    bars = run("reinforcement", job(reinforcement=BARS)).results["needed"]
    T = 0.20 * 12 / 18 * 60000
    a = T / (0.85 * 4000 * 12)
    assert bars.m_as("psi") == pytest.approx(6 * T * (2.5 - a / 2) / (12 * 25))


def test_pull_across_a_crack():
    calc = run("reinforcement", job(reinforcement={"kind": "steel fiber", "residual": "200 psi"}))
    (pull,) = [s.value for s in calc.steps if s.words.startswith("Pull that fiber")]
    assert pull.m_as("lbf") == pytest.approx(0.37 * 200 * 12 * 5)


def test_thin_mesh_on_a_long_panel_fails():
    weak = {"kind": "mesh", "wire": "6x6-W1.4xW1.4"}
    found = checks("reinforcement", job(reinforcement=weak, joints={"spacing": "30 ft"}))
    assert found["Area of steel to hold cracks closed, A_s"].status == "NOT OK"


def test_the_remedy_is_said_only_where_steel_or_fiber_falls_short():
    question = "Area of steel to hold cracks closed, A_s"
    weak = {"kind": "mesh", "wire": "6x6-W1.4xW1.4"}
    short = checks("reinforcement", job(reinforcement=weak, joints={"spacing": "30 ft"}))[question]
    enough = checks("reinforcement", job(reinforcement=weak))[question]
    assert short.to_do and enough.to_do == ""
    for strength, told in (("260 psi", False), ("60 psi", True)):
        fiber = job(reinforcement={"kind": "macro fiber", "residual": strength})
        found = checks("reinforcement", fiber)["Residual strength of the fiber concrete, f_150"]
        assert bool(found.to_do) == told


def test_the_two_ways_to_match_are_shown():
    calc = run("reinforcement", job(reinforcement={"kind": "mesh"}))
    shown = {
        s.formula.name: s.value.m_as("psi")
        for s in calc.steps
        if isinstance(s, Step) and s.unit == "psi"
    }
    assert calc.results["needed"].m_as("psi") == pytest.approx(
        max(shown["equivalent_in_bending"], shown["equivalent_in_tension"])
    )
    assert shown["equivalent_in_tension"] == pytest.approx(0.058 / 12 * 65000 / (0.37 * 5))


def test_steel_of_a_layer():
    made = job(reinforcement=BARS)
    steel, f_y = steel_layer(made, "bars")
    assert steel.m_as("inch**2/ft") == pytest.approx(0.20 * 12 / 18) and f_y.m_as("psi") == 60000
    steel, f_y = steel_layer(made, "mesh")
    assert steel.m_as("inch**2/ft") == pytest.approx(0.058) and f_y.m_as("psi") == 65000


def test_laps_of_sheets():
    """ACI 318-19 25.5.4.1 (from memory): one cross wire and 2 in."""
    question = "Lap of the sheets"
    short = checks("reinforcement", job(reinforcement={"kind": "mesh", "mesh_lap": "7.5 in"}))[question]
    assert short.status == "NOT OK" and short.ratio == pytest.approx(8 / 7.5) and short.to_do
    enough = checks("reinforcement", job(reinforcement={"kind": "mesh"}))[question]
    assert enough.status == "OK" and enough.to_do == ""
    assert question not in checks("reinforcement", job(reinforcement=BARS))


def test_amounts_by_hand():
    made = job(reinforcement={"mesh_rate": "120 ft2", "bar_rate": "50 ft", **BARS})
    laid, ordered = steel_of(made), run("volume", made).results["order"]
    words, count, _, key, hours = amount(made, "mesh", laid, ordered)
    assert key == "mesh" and count == laid.sheets.count and hours.m_as("h") == pytest.approx(6)
    assert words == f"6x6-W2.9xW2.9, {laid.sheets.count} sheets"
    words, length, unit, key, hours = amount(made, "bars", laid, ordered)
    assert (words, unit, key) == (
        "#4 at 18 in. both ways, laps 25 in., 54 bars of 20'-0\"",
        "ft",
        "bar_4",
    ) and length.m_as("ft") == pytest.approx(54 * 20)
    assert hours.m_as("h") == pytest.approx(laid.bars.length.m_as("ft") / 50)
    # 29.5 ft in 16 rows and 23.5 ft in 20 rows, each with one lap of 25 in. (stock of 20 ft)
    assert laid.bars.length.m_as("ft") == pytest.approx(16 * (29.5 + 25 / 12) + 20 * (23.5 + 25 / 12))
    _, bags, _, key, hours = amount(made, "macro fiber", laid, ordered)
    assert (
        bags.magnitude == math.ceil(ordered.m_as("cubic_yard") * 4 / 5)
        and key == "macro_fiber"
        and hours.magnitude == 0
    )


def test_bars_of_the_takeoff_are_those_laid():
    calc = run("reinforcement", job(reinforcement=BARS))
    assert calc.results["bars"] == steel_of(job(reinforcement=BARS)).bars.length
    assert [t.price for t in calc.takeoff] == ["bar_4", "wage"] and calc.takeoff[
        1
    ].words == "Laying bars"
    mesh = run("reinforcement", job(reinforcement={"kind": "mesh"}))
    assert mesh.results["sheets"] == mesh.takeoff[0].amount


def test_all_kinds_stand_on_one_basis():
    """Material, labor and both by square foot of the same slab of 720 ft2."""
    made = job(reinforcement={"kind": "mesh", "mesh_rate": "120 ft2"}, prices=PRICES)
    frame = table(run("reinforcement", made), "Amount and cost, on the same slab").set_index("kind")
    assert list(frame.index) == list(KINDS)
    n = steel_of(made).sheets.count
    assert (
        frame.loc["mesh", "material"] == f"${20 * n:,.2f}" and frame.loc["mesh", "labor"] == "$240.00"
    )
    assert frame.loc["mesh"].iloc[-1] == f"${(20 * n + 240) / 720:.2f}/ft²"
    assert frame.loc["micro fiber", "material"] == "no price"
    assert frame.loc["mesh", "to buy"] == f"{n}" and frame.loc["micro fiber", "to buy"].endswith(
        " bags"
    )
    assert frame.loc["micro fiber", "what"] == "Micro fiber, 1 lb/yd³"
    assert frame.loc["micro fiber"].iloc[-1] == "no price"
    assert set(table(run("reinforcement", made), "What each is for")["kind"]) == set(KINDS)


def test_every_style_of_wire_and_bars_is_compared():
    calc = run("reinforcement", job(joints={"spacing": "30 ft"}))
    frame = table(calc, "Wire and bars, one by one").set_index("style")
    assert len(frame) == 13
    assert frame.loc["#3 at 16 in.", "steel each way"] == "0.0825 in.²/ft"
    enough = [name for name in frame.index if frame.loc[name, "enough for drag"] == "no"]
    assert enough == ["6x6-W1.4xW1.4"]  # 0.0325 in2/ft asked for, 0.028 there
    assert frame.loc["6x6-W2.9xW2.9", "fiber that matches it"] == calc.text("needed")


def test_the_basis_is_named_and_load_is_left_to_an_engineer():
    question, other = "Basis of the choice", "Reinforcement that carries load"
    for kind, basis in (
        ("none", "close joints"), ("micro fiber", "plastic shrinkage"), ("mesh", "crack width"), ("bars", "crack width")
    ):  # fmt: skip
        found = checks("reinforcement", job(reinforcement={"kind": kind}))
        assert basis in found[question].demand and other not in found
    heavy = checks("reinforcement", job(vehicle={"axle": "8100 lbf", "tire_pressure": "80 psi"}))
    assert heavy[other].status == "NEEDS ENGINEER" and "Heavy wheels" in heavy[other].remark
    thin = job(vehicle={"axle": "7000 lbf", "tire_pressure": "80 psi"},
               slab={"length": "20 ft", "width": "20 ft", "thickness": "4 in"})  # fmt: skip
    found = checks("reinforcement", thin)
    assert "The plain slab does not bear" in found[other].remark and question not in found


def test_the_chart_of_moments_and_the_sheets_are_drawn():
    for given in ({"kind": "mesh"}, {"kind": "mesh", "residual": "200 psi"}):
        figures = run("reinforcement", job(reinforcement=given)).figures
        assert [f.title for f in figures] == ["Sheets of welded wire", "Moment after a crack"]
        texts = words(figures[1].draw())
        told = "not known without the maker's test" in texts
        assert told == ("residual" not in given)
        bar = Q(200 * 12 * 25 / 6, "lbf*in").m_as("lbf*ft")
        assert told or any(f"{bar:.0f}" in t.replace(",", "") for t in texts)
    assert len(run("reinforcement", job(reinforcement=BARS)).figures) == 1


def test_bars_lap_by_their_rule_unless_told_otherwise():
    """#4 at 4,000 psi: 24.67 in. by the rule, laid with 25 in.; 630 mm in a metric job. A shorter lap is NOT OK."""
    question = "Lap of the bars"
    made = job(reinforcement=BARS)
    assert lap_of(made).m_as("in") == 25 and checks("reinforcement", made)[question].status == "OK"
    assert lap_of(job(reinforcement=BARS, job={"units": "si"})).m_as("mm") == 630
    short, long = (job(reinforcement=BARS | {"bar_lap": lap}) for lap in ("18 in", "30 in"))
    assert checks("reinforcement", short)[question].status == "NOT OK"
    shorter, by_rule, longer = (steel_of(one).bars for one in (short, made, long))
    assert shorter.length < by_rule.length < longer.length
    assert shorter.count <= by_rule.count <= longer.count
    assert "laps 25 in." in run("reinforcement", made).takeoff[0].words
