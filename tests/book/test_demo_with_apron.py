"""The demo with an apron outside its big door, falling away from it: whole, priced, and the same in both units."""

import pathlib

import pytest
import tomlkit
from si_twin import twin

from calcbook.book.chapters import Book
from calcbook.job.file import Job

DEMO = pathlib.Path(__file__).parents[2] / "notebooks" / "demo.toml"
APRON = """
[[slabs]]
name = "apron"
length = "11 ft"
width = "5 ft"
x = "14 ft 6 in"                # in front of the big door
y = "-5 ft"
thickness = "5 in"
above_grade = "4.75 in"
[slabs.edge]
depth = "0 in"
[slabs.slope]
fall = "1/4 in/ft"
side = 1

[[between]]
beside = "apron"
"""


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    """The Books of the job as it is written, and of its metric twin."""
    folder = tmp_path_factory.mktemp("apron")
    text = DEMO.read_text(encoding="utf-8") + APRON
    tomlkit.parse(text)
    found = []
    for name, words in (("us", text), ("si", twin(text))):
        (folder / f"{name}.toml").write_text(words, encoding="utf-8")
        found.append(Book(Job.read(folder / f"{name}.toml")))
    return found


def test_it_is_poured_with_the_floor_and_priced(both):
    us, _ = both
    plain = Book(Job.read(DEMO))
    assert us.job.others[0].follows == "main slab"
    added = us.volume.net - plain.volume.net
    assert added.m_as("foot**3") == pytest.approx(
        55 * (5 + 0.25 * 5 / 2) / 12
    )  # even, and half the fall on average
    assert us.quote.complete
    assert us.quote.calculation.results["total"] > plain.quote.calculation.results["total"]


def test_the_chapters_of_the_floor_that_do_not_rest_on_the_apron_are_the_same(both):
    us, _ = both
    plain = Book(Job.read(DEMO))
    for name in ("slab", "pads", "edges", "retarder", "bolts"):
        before, after = (
            [(c.title, c.demand, c.capacity, c.status) for c in book.calculation(name).checks]
            for book in (plain, us)
        )
        assert after == before


def test_its_metric_twin_agrees(both):
    us, si = both
    assert si.volume.net.m_as("foot**3") == pytest.approx(us.volume.net.m_as("foot**3"), rel=1e-5)
    assert len(us.checks) == len(si.checks)
    assert [(c.slab, k.title, k.status) for c, k in si.checks if c.slab] == [
        (c.slab, k.title, k.status) for c, k in us.checks if c.slab
    ]


def test_its_first_nights_are_its_own_and_its_pour_is_the_floors(both):
    us, _ = both
    assert "apron-first_week" in us.calculations
    assert "apron-pour_day" not in us.calculations
    assert us.others[0].day is us.day


def test_the_pour_day_says_that_the_apron_sets_by_its_own_clock(both):
    us, _ = both
    told = us.calculation("pour_day").cautions
    assert any("apron, poured with it, may set sooner or later" in words for words in told)
