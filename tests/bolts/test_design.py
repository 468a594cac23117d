"""Sill bolts of a whole job: stick-up, totals, twins, questions to the engineer, speed."""

import time

import pytest
from bolt_jobs import asked, changed, check, frames, notes, one_wall, tape_lists, values
from metric import us_defaults
from server import NOTEBOOKS

from calcbook.bolts.layout import cached_layout
from calcbook.book.chapters import Book, run
from calcbook.job.file import Job
from calcbook.job.schema.bolts import Bolts


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_the_demo_is_bolted(made, demo):
    held = run("bolts", Job.read(NOTEBOOKS / "demo.toml"))
    assert held.status == "OK", [c for c in held.checks if c.status != "OK"]
    lists = tape_lists(made)
    assert len(lists) == len(demo.bolted_walls)
    schedule = frames(made)["Bolt schedule"]
    assert (
        schedule["Bolts"].astype(float).sum()
        == made.results["bolts"]
        == sum(len(f) for f in lists.values())
    )


def test_the_total_is_the_sum_of_the_walls(made, demo):
    """Each wall alone takes as many bolts as it takes among the others."""
    alone = []
    for k in range(len(demo.bolted_walls)):
        raw = {**demo.raw, "walls": [demo.raw["walls"][k]]}
        alone.append(run("bolts", type(demo)(raw)).results["bolts"])
    assert sum(alone) == made.results["bolts"]
    assert list(frames(made)["Bolt schedule"]["Bolts"].astype(float)) == alone


def test_us_and_si_agree(made, demo_si):
    metric = run("bolts", demo_si.changed(us_defaults(demo_si)))  # else washers are whole millimeters
    assert metric.results["spacing"].m_as("inch") == pytest.approx(
        made.results["spacing"].m_as("inch"),
        rel=1e-4,  # doors are marked in whole millimeters, and what they cut out the rest must hold
    )
    assert metric.results["stick_up_1"].m_as("inch") == pytest.approx(
        made.results["stick_up_1"].m_as("inch"), rel=1e-5
    )
    assert metric.results["bolts"] == made.results["bolts"]
    assert [c.status for c in metric.checks] == [c.status for c in made.checks]
    assert "mm" in next(iter(tape_lists(metric).values())).iloc[0, 1]


def test_seismic_category(demo):
    assert "anchors, category D0" in asked(changed(demo, design__seismic="D0"))
    raw = {k: v for k, v in demo.raw.items() if k != "design"}
    assert "Seismic design category" in asked(run("bolts", type(demo)(raw)))
    assert "Seismic" not in asked(changed(demo, design__seismic="B"))


def test_no_walls_no_bolts(demo):
    calc = run("bolts", type(demo)({k: v for k, v in demo.raw.items() if k not in ("walls", "pads")}))
    assert not calc.takeoff and not calc.checks
    assert "No wall stands on a side" in calc.blocks[0].words


def test_heavy_loads_move_bolts_closer(demo, made):
    heavy = changed(demo, walls__0__shear="600 plf")
    assert heavy.results["bolts"] > made.results["bolts"]
    assert heavy.results["spacing"] < made.results["spacing"]


def test_two_plies(demo, made):
    calc = changed(demo, walls__0__plies=2)
    assert calc.results["stick_up_2"].m_as("inch") == pytest.approx(
        made.results["stick_up_1"].m_as("inch") + 1.5
    )
    assert any("Two plies" in c for c in calc.cautions)
    assert list(frames(made)["Stick-up with one and two plies"]["Plate"]) == ["one ply", "2 plies"]


def test_figures_are_drawn(made, demo_si):
    for calc in (made, run("bolts", demo_si)):
        for figure in calc.figures:
            drawn = figure.draw()
            assert (drawn.artists or drawn.axes) and max(drawn.get_size_inches()) < 9.5


def test_a_hook_too_short_to_count(demo):
    calc = changed(demo, bolts__hook="1.5 in")
    assert "Extension of the hook, e_h" in asked(calc, "NOT OK")


def test_stick_up_length_and_embedment(made):
    """Own arithmetic, 5/8 in.: seal 1/8, plate 1-1/2, washer 0.229, nut 35/64, spare 1/2: 2.900875 in.; 10 in. to buy."""
    assert values(made, "bolt_stick_up", "in") == pytest.approx([2.900875])
    assert values(made, "bolt_length", "in") == pytest.approx([10])
    assert values(made, "embedment_left", "in") == pytest.approx([7.099125])
    rows = frames(made)["Stick-up with one and two plies"]
    assert list(rows.iloc[0]) == ["one ply", '2 7/8"', '10"', '7 1/8"']
    assert list(rows.iloc[1]) == ["2 plies", '4 3/8"', "1'-0\"", '7 5/8"']


def test_two_thicknesses_of_ply_are_two_heights(demo):
    calc = changed(demo, walls__0__ply="2.5 in")
    assert values(calc, "bolt_stick_up", "in") == pytest.approx([3.900875, 2.900875])
    assert frames(calc)["Bolt schedule"]["Top above concrete"].tolist()[:2] == ['3 7/8"', '2 7/8"']


def test_the_hook_is_asked_about_once(demo):
    """Walls of two kinds share the bolt: one check, one input."""
    calc = changed(demo, walls__0__edge_distance="3 in")
    assert check(calc, "Extension of the hook").demand == "1.875 in."
    assert sum(i.place == "bolts.hook" for i in calc.inputs) == 1
    headed = changed(demo, bolts__kind="headed")
    assert not any(i.place == "bolts.hook" for i in headed.inputs)
    drilled = one_wall(demo, {"method": "drilled"})
    assert not any("hook" in c.title for c in drilled.checks)


@pytest.mark.parametrize(("category", "open_"), [("A", False), ("B", False), ("C", True), ("D2", True)])
def test_from_category_c_on_an_engineer_designs(demo, category, open_):
    assert ("Seismic design of the anchors" in asked(changed(demo, design__seismic=category))) == open_


def test_cautions_that_stand_on_every_job(made):
    words = " ".join(made.cautions)
    for part in ("splits it", "template", "Turn hooks", "1926.701(b)"):
        assert part in words
    assert "Two plies" not in words and "are not added to each other" in notes(made)


def test_what_the_steps_use_stands_among_what_goes_in(made):
    """Every value of the bolt that a step uses is listed, as given or with the reason of its default."""
    places = {i.place for i in made.inputs}
    fields = (
        "size grade washer washer_thickness seal spare length_step embedment hook clear load concrete wet hole depth bond_cracked "
        "bond_uncracked cartridge epoxy_waste set_rate drill_rate place_spread stud_spread tape_spread"
    )
    assert {f"bolts.{f}" for f in fields.split()} | {"concrete.strength"} <= places
    assert all(i.assumed for i in made.inputs if i.place in ("bolts.spare", "bolts.washer"))


CHANGES = {
    "category": 3,
    "size": "3/4", "grade": "F1554 Grade 55", "kind": "headed", "hook": "2.25 in", "embedment": "8 in", "washer": "2.5 in",
    "washer_thickness": "0.25 in", "seal": "0.25 in", "spare": "0.75 in", "length_step": "1 in", "clear": "0.25 in",
    "concrete": "uncracked", "load": "earthquake", "wet": True, "hole": "0.8 in", "depth": "7.5 in", "bond_cracked": "900 psi",
    "bond_uncracked": "1500 psi", "place_of_use": "indoor",
}  # fmt: skip


@pytest.mark.parametrize("field", CHANGES)
def test_what_is_taken_from_an_earlier_version_is_never_stale(demo, field):
    """A changed bolt gives the same results in a book taken on from another bolt as it gives afresh."""

    def told(calc):
        return [str(getattr(b, "value", "")) for b in calc.blocks], [
            (c.title, c.ratio, c.status) for c in calc.checks
        ]

    before = Book(demo)
    assert before.calculation("bolts")
    taken_on = told(before.changed({f"bolts.{field}": CHANGES[field]}).calculation("bolts"))
    cached_layout.cache_clear()
    assert told(changed(demo, **{f"bolts__{field}": CHANGES[field]})) == taken_on


def test_every_field_that_bears_on_strength_is_among_those():
    """What is left out here says nothing about strength or place: prices, rates, spreads, the maker's limits."""
    others = {
        "stories", "beside_bars", "least_edge", "least_spacing", "hole_temperature", "least_temperature", "cure",
        "concrete_age", "cartridge", "epoxy_waste", "place_spread", "stud_spread", "tape_spread", "set_rate", "drill_rate",
        "repair_rate", "torqued",
    }  # fmt: skip
    assert set(Bolts.model_fields) == set(CHANGES) | others


def many_walls(demo, count):
    """A job of many walls with doors, bars, one and two plies, two woods, cast and drilled."""
    sills = [
        {
            "name": f"wall {k + 1}", "side": 1 + k % 4, "start": f"{18 * (k // 4)} ft", "end": f"{18 * (k // 4) + 16} ft",
            "openings": [{"start": "8 ft", "width": "3 ft"}], "uplift": f"{200 + k} plf", "shear": f"{250 + k % 50} plf",
            "shear_out": "150 plf", "plies": 1 + (k % 5 == 0), "species": ("Southern Pine", "Hem-Fir")[k % 2],
            "bar_spacing": "48 in", "method": "drilled" if k % 7 == 0 else "cast",
        }
        for k in range(count)
    ]  # fmt: skip
    side = f"{18 * (count // 4 + 1)} ft"
    kept = {name: demo.raw[name] for name in ("bolts", "concrete", "edge")}
    lines = [{axis: f"{90 * k} ft"} for axis in "xy" for k in range(1, 9)]
    joints = {
        "by_hand": True,
        "lines": lines,
    }  # few: the time of the joints' own layout is another chapter's
    return type(demo)(
        {"slab": {"length": side, "width": side}, "walls": sills, "joints": joints, **kept}
    )


def test_two_hundred_walls_in_a_second(demo):
    """Strength, spacing, layout, tape lists, checks and odds of 200 walls, nothing kept from before."""
    job = many_walls(demo, 200)
    took = []
    for _ in range(3):
        cached_layout.cache_clear()
        start = time.process_time()
        calc = run("bolts", job)
        took.append(time.process_time() - start)
    assert len(tape_lists(calc)) == 200 and calc.results["bolts"] > 900
    assert min(took) < 1.0, took
