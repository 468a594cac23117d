"""The demo and its metric twin are one job: every calculation gives the same quantities and verdicts."""

import pytest
from metric import us_defaults

from calcbook.basis.units import ureg
from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS
from calcbook.job.file import Job

# sills are marked in whole millimetres there and in sixteenths here, so a bolt or a jamb, with its roof load, may stand a
# little aside
COARSE = {
    ("loads", "jamb"): 1e-3,
    ("plate", "stress"): 2e-4,
    ("bolts", "misses"): 0.3,
    ("bolts", "cost_cast"): 2e-2,
    ("reinforcement", "edge_bars"): 2e-3,  # laps of 25 in., and of 630 mm
}


@pytest.fixture(scope="module")
def books(demo, demo_book, demo_si):
    """The demo, and its twin with the defaults of a US job: only the units differ then."""
    return demo_book, Book(demo_si.changed(us_defaults(demo_si)))


def plain(value):
    return value.to_base_units().m if isinstance(value, ureg.Quantity) else value


def of_numbers(results):
    """The results that are quantities or numbers; words and layouts are told in the job's own units."""
    return {n: plain(v) for n, v in results.items() if isinstance(v, ureg.Quantity | int | float)}


@pytest.mark.parametrize("name", SUBJECTS)
def test_results_agree(books, name):
    us, si = (of_numbers(book.calculations[name].results) for book in books)
    assert us.keys() == si.keys()
    for key, value in us.items():
        if key == "stone_order":  # whole tonnes there, whole tons here
            assert value / 907.18474 == pytest.approx(round(value / 907.18474))
            assert si[key] / 1000 == pytest.approx(round(si[key] / 1000))
            assert 0 <= si[key] - plain(books[1].base.calculation.results["stone_mass"]) < 1000
            continue
        assert si[key] == pytest.approx(value, rel=COARSE.get((name, key), 1e-4), abs=1e-6), key


@pytest.mark.parametrize("name", SUBJECTS)
def test_verdicts_agree(books, name):
    us, si = ([(c.title, c.status) for c in book.calculations[name].checks] for book in books)
    assert us == si


def test_loads_of_the_trucks_agree(books):
    us, si = (book.volume.trucks for book in books)
    assert si.loads == pytest.approx(us.loads, rel=1e-6) and si.remedy == us.remedy


def test_rolls_sheets_and_bolts_are_the_same_number(books):
    counts = [
        {
            (
                t.words.partition(",")[0],
                t.price,
                t.slab,
            ): t.amount  # sizes are told in the units of each
            for c in book.calculations.values()
            for t in c.takeoff
            if t.unit in ("roll", "1", "bag")
        }
        for book in books
    ]
    assert counts[0] == counts[1] and len(counts[0]) >= 4


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_metric_job_is_shown_in_metric_units(books, name):
    ours = (" ft", " in.", " yd³", " psi", " psf", " lbf", " °F", " ft²")
    for result in books[1].calculations[name].shown_results:
        assert not result.step.result_text.endswith(ours), (result.name, result.step.result_text)


def test_a_metric_job_is_ordered_and_assumed_in_round_metric_figures():
    job = Job({"job": {"units": "si"}, "slab": {"length": "7.2 m", "width": "9 m"}})
    book = Book(job)
    order = book.volume.trucks.total.m_as("m**3")
    assert order * 4 == pytest.approx(round(order * 4))  # by quarters of a cubic meter
    assert max(book.volume.trucks.loads) * 0.764554857984 <= 7 + 1e-9
    assert book.base.stone.m_as("metric_ton") == pytest.approx(
        round(book.base.stone.m_as("metric_ton"))
    )
    for place, text in (("pour.truck_capacity", "7 m³"), ("slab.thickness", "100 mm"), ("retarder.lap", "150 mm"),
                        ("bolts.length_step", "50 mm"), ("concrete.slump", "100 mm")):  # fmt: skip
        entry = job.field(place)
        assert entry.text == text and "metric figure" in entry.assumed


def test_units_changed_and_changed_back_change_the_defaults_with_them(demo):
    """The stock lengths of the fields' defaults: 20 ft, and 6 m in metric."""
    there = demo.changed({"job.units": "si"})
    back = there.changed({"job.units": "us"})
    assert (
        there.field("reinforcement.bar_length").text == "6.00 m"
        or there.reinforcement.bar_length.m_as("m") == 6
    )
    assert back.reinforcement.bar_length.m_as("foot") == pytest.approx(20)
    assert demo.reinforcement.bar_length.m_as("foot") == pytest.approx(20)


def test_300_mm_pass_where_12_inches_do_and_299_do_not():
    """IRC R403.1: 12 in. of width and 6 in. of thickness; the metric practice of 25 mm to the inch."""
    raw = {"job": {"units": "si"}, "slab": {"length": "7.2 m", "width": "9 m", "above_grade": "50 mm", "thickness": "100 mm"},
           "edge": {"depth": "250 mm", "width": "300 mm"}, "retarder": {"lap": "150 mm"}}  # fmt: skip

    def open_checks(job):
        book = Book(job)
        chapters = (book.calculation(name) for name in ("edges", "retarder"))
        return [k.title for c in chapters for k in c.checks if k.status == "NOT OK"]

    assert open_checks(Job(raw)) == []
    assert open_checks(Job(raw).changed({"edge.width": "299 mm"})) == ["Width of the edge"]
    assert "Depth of the edge below the ground" in open_checks(
        Job(raw).changed({"edge.depth": "249 mm"})
    )
    us = Job(raw).changed({"job.units": "us"})
    assert "Width of the edge" in open_checks(us)


def test_one_truck_has_no_spacing_to_break():
    book = Book(
        Job({"slab": {"length": "10 ft", "width": "10 ft"}, "pour": {"truck_spacing": "5 min"}})
    )
    assert len(book.volume.trucks.loads) == 1
    assert not any(check.title == "Time between trucks" for check in book.calculation("mix").checks)


def test_weather_is_kept_in_the_units_of_the_job(tmp_path):
    from calcbook.job.forecast_csv import read_csv, rows_for_job

    path = tmp_path / "hours.csv"
    path.write_text(
        "time,air (F),humidity (%),wind (mph),sky (%)\n2026-06-01 07:00,50,70,10,30\n2026-06-01 08:00,59,70,10,30\n"
    )
    forecast = read_csv(path)
    si, us = (rows_for_job(forecast, system)[0] for system in ("si", "us"))
    assert (si["air"], us["air"]) == ("10 C", "50 F")
    assert (si["wind"], us["wind"]) == ("4.47 m/s", "10 mph")  # 10 x 0.44704
