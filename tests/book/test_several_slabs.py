"""Several slabs through the whole book: concrete once, forms once, each slab's chapters under its name."""

import math

import pytest
from several import APRON, PORCH, job_of

from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.command.checks import checks_text
from calcbook.concrete.beside import poured_volume
from calcbook.joints.between import dowel_count
from calcbook.price.suppliers import supplier_lists

DOWELED = [{"slab": "garage", "beside": "porch", "kind": "doweled"}]


def amounts(book, price):
    """Amounts of the takeoff with a price key, by their words."""
    lines = [line for c in book.priced.values() for line in c.takeoff if line.price == price]
    return {line.words: getattr(line.amount, "m", line.amount) for line in lines}


@pytest.mark.worked("dowel_count")
def test_dowels_along_a_joint():
    # 16 ft at 12 in.: at 6 in., 18 in. ... 186 in. from the end, 16 of them; 6.5 ft: no more than 12 in. apart, 7
    assert dowel_count("16 ft", "12 in") == 16
    assert dowel_count("6.5 ft", "12 in") == 7


@pytest.mark.worked("poured_volume")
def test_concrete_of_two_slabs():
    assert poured_volume("3 yd3", "4 yd3") == Q(7, "yd3")


def test_slabs_poured_together_are_one_order():
    book = Book(job_of(APRON, PORCH))
    nets = [b.volume.net.m for b in book.others]
    alone = Book(job_of()).volume.net.m
    assert book.volume.net.m == pytest.approx(alone + sum(nets), rel=1e-12)
    assert list(amounts(book, "concrete")) == ["Concrete"]
    assert len(book.quote.orders) == 1
    assert ("For", "garage and apron and porch") in book.quote.order.lines


def test_a_slab_of_another_day_has_an_order_and_a_day_of_its_own():
    book = Book(job_of(APRON, PORCH | {"pour": {"date": "2026-11-02"}}, pour={"date": "2026-11-01"}))
    assert list(amounts(book, "concrete")) == ["Concrete", "Concrete, porch"]
    assert [order.title for order in book.quote.orders] == [
        "Order for the dispatcher",
        "Order for the dispatcher: porch",
    ]
    assert "porch-pour_day" in book.calculations
    assert "apron-pour_day" not in book.calculations
    assert book.quote.text().count("Concrete, porch") == 1


def test_the_concrete_of_all_orders_is_that_of_all_slabs():
    slabs = (APRON, PORCH | {"pour": {"date": "2026-11-02"}})
    book = Book(job_of(*slabs, pour={"date": "2026-11-01"}))
    by_order = book.volume.net + book.others[1].volume.net
    by_plan = sum(
        one.plan.area.m * one.slab.thickness.m_as("foot") for one in (book.job, *book.job.others)
    )
    by_plan += sum(b.dug.whole.m_as("foot**3") for b in (book, *book.others))
    fall = 1 / 96 * 4 / 2  # ft that the apron is thicker on average
    assert by_order.m_as("foot**3") == pytest.approx(by_plan + fall * 64, rel=1e-9)


def test_a_form_stands_once_where_two_slabs_touch():
    forms = amounts(Book(job_of(APRON, PORCH)), "forms")
    assert forms == pytest.approx({"Edge forms": 108, "Edge forms, apron": 24, "Edge forms, porch": 22})


def test_the_joint_between_two_slabs_is_taken_off_once():
    book = Book(job_of(APRON, PORCH, between=DOWELED))
    assert amounts(book, "isolation") == pytest.approx({"Isolation strip beside garage, apron": 16})
    assert list(amounts(book, "dowel").values()) == [6]
    titles = [check.title for c, check in book.checks if c.slab == "porch"]
    assert "Step between the tops at the joint to garage" in titles


def test_tops_that_do_not_meet_are_not_doweled():
    book = Book(job_of(PORCH | {"above_grade": "4 in"}, between=DOWELED))
    step = next(k for _, k in book.checks if k.title.startswith("Step between the tops"))
    assert step.status == "NOT OK"


@pytest.mark.parametrize(
    ("given", "asked"),
    [
        ({}, False),
        (
            {"dowel": "19 mm", "dowel_length": "406 mm", "spacing": "305 mm"},
            False,
        ),  # the same, in metric sizes
        ({"dowel": "1 in"}, True),
        ({"dowel_length": "10 in"}, True),
        ({"spacing": "24 in"}, True),
    ],
)
def test_dowels_other_than_those_of_the_guide_are_left_to_the_engineer(given, asked):
    """3/4 in. by 16 in., 12 in. apart, for 5 to 6 in.: ACI 302.1R, from memory."""
    joint = [DOWELED[0] | given]
    book = Book(job_of(PORCH, between=joint).changed({"slab.thickness": "5 in"}))
    titles = [k.title for c, k in book.checks if k.status == "NEEDS ENGINEER" and not c.slab]
    assert ("Dowels of the joint to porch" in titles) == asked


def test_waste_is_each_slabs_own():
    plain, more = (
        Book(
            job_of(APRON | {"concrete": {"waste": w}}, concrete={"waste": "4 %"})
        ).volume.trucks.total.m
        for w in ("4 %", "40 %")
    )
    share = Book(job_of(APRON)).others[0].volume.net.m * 0.36
    assert plain < more <= plain + share + 0.5


def test_every_chapter_of_a_further_slab_bears_its_name():
    book = Book(job_of(APRON, PORCH))
    further = [c for c in book.chapters if c.slab]
    assert {c.slab for c in further} == {"apron", "porch"}
    assert all(c.title.endswith(f": {c.slab}") for c in further)
    assert len({c.name for c in book.chapters}) == len(book.chapters)
    assert "Thickened edges: porch" in checks_text(book, everything=True)


def test_a_change_of_one_slab_is_seen_by_all_that_rest_on_it():
    book = Book(job_of(APRON))
    _ = book.quote
    changed = book.changed({"slabs.0.thickness": "8 in"})
    fresh = Book(job_of(APRON | {"thickness": "8 in"}))
    assert changed.volume.net == fresh.volume.net != book.volume.net
    assert changed.quote.text() == fresh.quote.text()


def test_the_order_of_a_slab_names_fiber_once():
    fiber = {"kind": "macro fiber"}
    book = Book(job_of(APRON, reinforcement=fiber))
    assert len(amounts(book, "macro_fiber")) == 1
    assert sum(name == "Fiber" for name, _ in book.quote.order.lines) == 1


def test_stone_and_rolls_of_slabs_made_together_are_rounded_up_once_and_name_the_slabs():
    book = Book(job_of(APRON, PORCH))
    mass = (
        sum(b.stone.m_as("cubic_yard") for b in (book, *book.others)) * 1.35
    )  # tons in a yard in place
    called = "for garage, apron, porch"
    assert amounts(book, "stone") == {f"Base: crushed stone, {called}": math.ceil(mass)}
    alone = [
        Book(b.job.changed({})).retarder.calculation.results["rolls"] for b in (book, *book.others)
    ]
    rolls = amounts(book, "retarder")
    assert list(rolls) == [f"Vapor retarder: 10 mil, ASTM E1745 Class A, {called}"]
    assert sum(rolls.values()) == book.sheets[0].rolls < sum(alone)
    assert list(amounts(book, "tape")) == [f"Seam tape, {called}"]


DRILLED = {"name": "W", "side": 1, "method": "drilled"}
MESHED = {
    "reinforcement": {"kind": "mesh"},
    "walls": [DRILLED],
}


@pytest.fixture(scope="module")
def meshed():
    """Garage and apron with mesh, garage and porch with drilled bolts."""
    porch = PORCH | {"walls": [DRILLED | {"name": "P"}]}
    return Book(job_of(APRON, porch, **MESHED))


def test_sheets_of_mesh_are_rounded_up_once_and_each_slab_shows_its_own(meshed):
    called = "for garage, apron, porch"
    slabs = (meshed, *meshed.others)
    own = [one.reinforcement.calculation.results["sheets"] for one in slabs]
    ((words, count),) = amounts(meshed, "mesh").items()
    assert words.endswith(called) and count <= sum(own)
    worth = sum(sum(one.steel.sheets.lengths) for one in slabs) / 10  # a sheet is 10 ft long
    assert worth <= count
    (shown,) = [
        b
        for b in meshed.reinforcement.calculation.blocks
        if "bought for at once" in getattr(b, "title", "")
    ]
    assert [row[:2] for row in shown.rows] == [
        (one.job.slab.called, f"{n:g}") for one, n in zip(slabs, own, strict=True)
    ]


def test_cartridges_are_rounded_up_once_with_the_last_slab_that_drills(meshed):
    garage, _, porch = (one.bolts.calculation.results for one in (meshed, *meshed.others))
    adhesive = garage["adhesive"] + porch["adhesive"]
    alone = [math.ceil((one["adhesive"] / Q(22, "fl_oz")).m_as("")) for one in (garage, porch)]
    assert amounts(meshed, "epoxy") == {
        "Adhesive cartridges, for garage, porch": math.ceil((adhesive / Q(22, "fl_oz")).m_as(""))
    }
    assert porch["cartridges"] <= sum(alone) and "cartridges" not in garage
    assert any(
        f"By itself it would take {alone[0]} cartridges" in getattr(b, "words", "")
        for b in meshed.bolts.calculation.blocks
    )


def test_quote_and_supplier_say_the_same_of_mesh_and_cartridges(meshed):
    quoted = {line.words: line.amount for line in meshed.quote.lines}
    brought = {line[0]: line[1] for one in supplier_lists(meshed.quote) for line in one.lines}
    for key in ("mesh", "epoxy"):
        ((words, count),) = amounts(meshed, key).items()
        assert brought[words] == quoted[words] == f"{count:g}"


def test_a_slab_of_another_wire_or_another_day_has_sheets_of_its_own():
    book = Book(
        job_of(APRON | {"reinforcement": {"wire": "6x6-W4.0xW4.0"}}, reinforcement={"kind": "mesh"})
    )
    assert len(amounts(book, "mesh")) == 2


def test_quote_and_supplier_say_the_same_of_what_is_bought_once():
    book = Book(job_of(APRON, PORCH))
    quoted = {line.words: line.amount for line in book.quote.lines}
    brought = {line[0]: line[1] for one in supplier_lists(book.quote) for line in one.lines}
    for key in ("stone", "retarder", "tape"):
        (words,) = amounts(book, key)
        assert brought[words] == quoted[words] == f"{amounts(book, key)[words]:g}"


def test_a_slab_of_other_stone_or_another_day_is_bought_for_by_itself():
    other = PORCH | {"base": {"material": "pit gravel"}, "pour": {"date": "2026-11-02"}}
    book = Book(job_of(APRON, other, pour={"date": "2026-11-01"}))
    assert len(amounts(book, "stone")) == len(amounts(book, "retarder")) == 2


def test_a_slab_without_a_sheet_buys_none():
    book = Book(job_of(APRON | {"retarder": {"laid": False}}))
    assert list(amounts(book, "retarder")) == ["Vapor retarder: 10 mil, ASTM E1745 Class A"]
    assert not book.others[0].retarder.calculation.takeoff


def test_a_crew_that_waits_at_one_slab_of_the_day_does_not_wait_at_the_other_again():
    weather = [{"time": f"2026-11-0{day} {hour:02}:00", "air": "60 F", "humidity": "60 %", "wind": "5 mph", "sky": "60 %"}
               for day in range(1, 6) for hour in range(0, 24, 3)]  # fmt: skip
    pour = {"date": "2026-11-01", "start": "07:00", "forecast": weather}
    own = APRON | {"concrete": {"air": "6 %"}}
    soon, late = (
        Book(job_of(own | {"pour": {"start": start}}, pour=pour)).others[0].pour_day.calculation.takeoff[-1].amount.m
        for start in ("08:00", "23:00")
    )  # fmt: skip
    assert soon == 0 < late
