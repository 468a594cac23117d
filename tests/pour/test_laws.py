"""Laws and their rivals: the table is what the formulas give, and the coldest law decides on frost."""

import dataclasses

import numpy as np
import pytest
from pours import first_week_of

from calcbook.basis.calculation import NOT_OK, OK
from calcbook.basis.formula import OutsideRange
from calcbook.basis.units import Q
from calcbook.book.chapters import Book, run
from calcbook.job.file import Job
from calcbook.pour.rivals import HARDEST, JUDGING, RIVALS
from calcbook.pour.slab_heat import FREEZING, Case
from calcbook.pour.slab_heat import run as run_heat
from calcbook.slab.properties import size_effect

LAWS = {  # every empirical law that decides something
    "clear sky", "cloud", "wind", "wind and cloud", "sun through cloud", "set by temperature, sun", "set by temperature, shade", "evaporation",
    "hydration: speed in the cold", "strength by age", "load transfer at a joint", "stiffness of the ground",
    "fiber after the crack", "bond of an adhesive",
}  # fmt: skip


@pytest.fixture(scope="module")
def bare_night(demo):
    """The demo without its blanket, on a night near freezing."""
    return demo.changed({"pour.blanket": "none"})


def rows_of(calc):
    found = [block for block in calc.blocks if hasattr(block, "columns") and "rival" in block.columns]
    return [dict(zip(table.columns, row, strict=True)) for table in found for row in table.rows]


def test_every_law_that_decides_has_a_rival_and_says_which_side_is_taken(demo):
    calc = run("laws", demo)
    assert not calc.checks and not calc.takeoff  # so a quote and a sweep do without it
    rows = rows_of(calc)
    assert {row["law"] for row in rows} == LAWS
    assert all(row["rival"] and row["by the rival"] and row["side taken"] for row in rows)


def test_the_last_table_has_each_law_once_with_all_its_rivals_and_its_widest_gap(demo):
    """Read back from the rows of the other tables: a law's worst difference is one of theirs, and none is wider."""
    calc = run("laws", demo)
    (last,) = [block for block in calc.blocks if "worst difference" in getattr(block, "columns", ())]
    rows = rows_of(calc)
    assert {law for law, _, _ in last.rows} == LAWS and len(last.rows) == len(LAWS)
    for law, rivals, gap in last.rows:
        own = [row for row in rows if row["law"] == law]
        assert set(rivals.split("; ")) >= {r for row in own for r in row["rival"].split("; ")}
        size = {row["difference"]: abs(float(row["difference"].split()[0])) for row in own}
        assert size[gap] == max(size.values())


def test_the_planned_slab_is_judged_by_the_coldest_law(bare_night):
    found = first_week_of(bare_night)
    coldest = {law: outcome.lowest for law, outcome in found.by_law}
    assert set(coldest) == {JUDGING, HARDEST, *RIVALS}
    assert found.planned.coldest == min(coldest.values())
    assert coldest[JUDGING] <= min(coldest[law] for law in RIVALS if law.kind == "clear sky") + 1e-9
    assert coldest[HARDEST] == min(coldest.values())  # the slab is warmer than the air all night


def test_the_spread_on_the_bare_demo_is_of_the_size_that_was_read(bare_night):
    """Own run at the base of this work, other cover hours: the coldest laws 2.8 F and 4.1 F below Clark and Allen."""
    found = first_week_of(bare_night)
    by = {law.words: outcome.lowest for law, outcome in found.by_law}
    clark = by["Clear sky, Clark and Allen (Clark 1978)"]
    sky, both = (1.8 * (clark - x) for x in (by[JUDGING.words], by[HARDEST.words]))
    assert 2 < sky < 4 and 3.5 < both < 6


def test_a_night_that_only_a_rival_law_freezes_is_not_ok(bare_night):
    """Cooled until the judging law just survives: the coldest law has the last word."""
    colder = bare_night.changed({"pour.concrete_temperature": "56 F", "pour.soil_temperature": "48 F"})
    found = first_week_of(colder)
    by_law = dict(found.by_law)
    assert by_law[JUDGING].lowest > FREEZING > by_law[HARDEST].lowest, (
        "the case must stand between them"
    )
    question = "Surface temperature until one freezing is survived"
    (check,) = [c for c in run("first_week", colder).checks if c.title == question]
    assert check.status == NOT_OK
    (warm,) = [c for c in run("first_week", bare_night).checks if c.title == question]
    assert warm.status == OK
    go = [c for c in run("go", colder).checks if c.title == question]
    assert [c.status for c in go] == [NOT_OK]


def test_laws_run_together_are_what_each_gives_alone(bare_night):
    found = first_week_of(bare_night)
    law, outcome = found.by_law[3]
    book = Book(bare_night)
    sky, film = law.met(book.site)
    alone = run_heat(
        bare_night, book.mix.mix, dataclasses.replace(book.site, sky=sky),
        [Case(book.day.colder, book.day.cover)], book.day.plan.finished[1], film=film,
    )  # fmt: skip
    before = alone.hours <= outcome.safe
    assert np.min(alone.march.top[0][before]) == pytest.approx(outcome.lowest, abs=1e-9)


def test_laws_without_weather_compare_what_can_be_compared(demo):
    calc = run("laws", Job({"slab": {"length": "24 ft", "width": "20 ft"}}))
    assert {row["law"] for row in rows_of(calc)} == {
        "hydration: speed in the cold", "strength by age", "bond of an adhesive"
    }  # fmt: skip
    assert any("not compared" in block.words for block in calc.blocks if hasattr(block, "words"))


@pytest.mark.form("UFC 3-220-20", "eq. 5-36", "size_effect")
def test_the_size_effect_of_the_ufc():
    """k (b/B)^n with n 0.5 to 0.7, own arithmetic: twice the plate's width leaves 0.616, four times by the root a half."""
    assert size_effect("100 pci", "5 ft").m == pytest.approx(100 * 0.5**0.7)
    assert size_effect("100 pci", "30 in").m == pytest.approx(100)
    assert size_effect(Q(100, "pci"), "4 ft", b="12 in", n=0.5).m == pytest.approx(50)
    with pytest.warns(OutsideRange, match="width loaded"):
        size_effect("100 pci", "10 ft")
