"""The order sheet: everything a dispatcher asks for, in the words of the job."""

import pytest

from calcbook.basis.calculation import Calculation
from calcbook.basis.safety import DEFERRAL, caution
from calcbook.basis.units import Q
from calcbook.concrete.trucks import truck_plan
from calcbook.job.file import Job
from calcbook.price.order import OrderSheet


def sheet(changes=None, yards=24.25, **extra):
    """An order sheet over a volume of its own, so that the words do not hang on the demo."""
    raw = {
        "job": {"name": "Shed floor"},
        "slab": {"length": "20 ft", "width": "16 ft"},
        **(changes or {}),
    }
    job = Job(raw)
    pour = job.pour
    plan = truck_plan(Q(yards, "yd3"), pour.truck_capacity, pour.minimum_load)
    return OrderSheet(job, extra, plan)


def words(order):
    return dict(order.lines)


def test_the_demo_order_holds_what_a_dispatcher_asks_for(demo_book):
    order = demo_book.quote.order
    assert words(order) | {"Remarks": ""} == {
        "Job": "Bicycle and Tool Library, workshop slab",
        "For": "main slab",  # the apron has an order of its own
        "Deliver to": "Lot 7, Breakwater Road, Driftmoor Flats",
        "On": "Tuesday, 2026-10-27, first truck on site at 07:30",
        "Concrete": f"{order.calculations['volume'].text('order')}, 4,000 psi at 28 days",
        "Slump": "4 in., plus or minus 1 in.",  # ASTM C94, from memory: 1 in. from 2 to 4 in.
        "Air": "none entrained",
        "Aggregate": "up to 3/4 in.",
        "Water": "w/cm 0.50 at most, by mass",
        "Cement": "type I, 565 lb/yd³",
        "Temperature": "70 °F as it arrives",
        "Trucks": f"3: {order.calculations['volume'].text('loads')}",
        "Spacing": "40 min apart, on site at 07:30, 08:10, 08:50",
        "Placing": "by pump",
        "Contact": "R. Okafor, 555-0142",
        "Balance": "hold the last load: we call after truck 2 and say how much",
        "Safety": caution("wet concrete"),
        "": caution("trucks"),
        "Review": DEFERRAL,
        "Remarks": "",
    }


def test_the_loads_of_the_slip_add_up_to_the_order(demo_book):
    order = demo_book.quote.order
    assert order.plan.total.m == pytest.approx(
        order.calculations["volume"].results["order"].m_as("cubic_yard")
    )


def test_what_is_not_known_is_said_and_not_left_out():
    found = words(sheet())
    assert found["Deliver to"] == "address to be given" and found["Contact"] == "to be given"
    assert found["On"] == "date to be given, first truck on site at 07:00"
    assert found["Placing"] == "by chute, off the truck"
    assert "Water" not in found and "Cement" not in found  # the producer's own mix


@pytest.mark.parametrize(
    ("slump", "off"), [("2 in", "0.5 in."), ("3 in", "1 in."), ("5 in", "1.5 in.")]
)
def test_the_tolerance_goes_with_the_slump(slump, off):
    assert words(sheet({"concrete": {"slump": slump}}))["Slump"].endswith(f"plus or minus {off}")


@pytest.mark.published("Concrete Construction", "Ordering ready-mixed concrete")
def test_air_is_ordered_with_its_tolerance():
    # 1.5 % either way: Concrete Construction, "Ordering ready-mixed concrete", read in a reprint
    assert words(sheet({"concrete": {"air": "6 %"}}))["Air"] == "6 %, plus or minus 1.5 %"


def test_a_fiber_of_another_calculation_goes_onto_the_slip():
    fiber = Calculation("fiber", "Fiber", "How much?")
    fiber.order_lines.append(("Fiber", "synthetic, 3 lb/yd³"))
    assert ("Fiber", "synthetic, 3 lb/yd³") in sheet(fiber=fiber).lines


def test_one_truck_needs_no_spacing_and_no_balance():
    found = words(sheet(yards=6))
    assert found["Trucks"] == "1: 6 yd³" and "Spacing" not in found and "Balance" not in found


def test_a_small_last_load_is_told():
    assert "the last load would be" in words(sheet(yards=18.5))["Note"]


def test_metric_words_in_a_metric_job(demo_si_book):
    found = words(demo_si_book.quote.order)
    assert (
        found["Aggregate"] == "up to 20 mm"  # left out: the metric default
        and "m³" in found["Concrete"]
        and found["Temperature"] == "21 °C as it arrives"
        and found["Slump"] == "100 mm, plus or minus 25 mm"
    )


def test_the_slip_is_one_line_a_subject():
    text = sheet().text()
    assert text.splitlines()[0] == "Order for the dispatcher"
    assert len(text.splitlines()) == 2 + len(sheet().lines)
    assert all(line == line.rstrip() for line in text.splitlines())
    assert [row["order"] for row in sheet().rows] == [w for _, w in sheet().lines]


def test_cement_and_fly_ash_are_ordered_without_a_content_too():
    concrete = {"cement": "III", "fly_ash": "20 %"}
    assert (
        words(sheet({"concrete": concrete}))["Cement"]
        == "type III, 20 % of the cementitious mass as fly ash"
    )
    assert words(sheet({"concrete": {"cement": "I"}}))["Cement"] == "type I"


def test_a_truck_after_midnight_is_told_with_its_day():
    """A pour from 22:30 had its fourth truck "on site at 00:45", the morning before by the date above it."""
    order = sheet({"pour": {"start": "22:30", "truck_spacing": "45 min"}}, yards=34)
    assert words(order)["Spacing"].endswith("on site at 22:30, 23:15, 00:00 (+1 d), 00:45 (+1 d)")


@pytest.mark.parametrize(("slowing", "said"), [(0.75, "accelerator"), (1.4, "retarder"), (1.0, None)])
def test_the_admixture_that_the_plan_counts_on_is_ordered(slowing, said):
    """Set, days of protection and crew were planned with an accelerator that no dispatcher heard of."""
    found = words(sheet({"pour": {"slowing": slowing}})).get("Admixture")
    if said is None:
        assert found is None
        return
    assert found == f"{said}: sets in {slowing:g} times the hours of the plain mix"
