"""Papers of a job of several slabs: each slab is on the common plan, and nothing of it is left out."""

from several import APRON, PORCH, job_of
from shapely import Point
from text_boxes import overlaps

from calcbook.book.chapters import Book
from calcbook.paper.crew import crew_data, crew_plan
from calcbook.paper.engineer import engineering_checks
from calcbook.price.client import scope


def texts(figure):
    """What is written on a figure."""
    return [t.get_text() for t in figure.axes[0].texts]


def test_the_plan_of_all_slabs_names_each_and_the_joints_between_them():
    book = Book(
        job_of(APRON, PORCH, between=[{"slab": "garage", "beside": "porch", "kind": "doweled"}])
    )
    written = texts(crew_plan(book))
    assert {"garage", "apron", "porch", "isolation joint", "doweled joint"} <= set(written)
    assert written.count("isolation joint") == 1


def test_the_corners_of_every_slab_have_letters_that_lie_on_no_other_slab_and_no_other_text():
    job = job_of(APRON, PORCH, between=[{"slab": "garage", "beside": "porch", "kind": "doweled"}])
    for size in ((6.5, 5.4), (4.3, 3.7)):
        figure = crew_plan(Book(job), *size)
        letters = [t for t in figure.axes[0].texts if len(t.get_text()) == 1 and t.get_text() in "ABCD"]
        assert sorted(t.get_text() for t in letters) == sorted("ABCD" * 3)
        plans = [one.plan.outline for one in (job, *job.others)]
        assert not any(plan.contains(Point(t.get_position())) for t in letters for plan in plans)
        assert not overlaps(figure)


def test_the_crew_reads_levels_and_joints_of_every_slab_and_which_is_of_another_day():
    book = Book(job_of(APRON, PORCH | {"pour": {"date": "2026-11-02"}}))
    data = crew_data(book)
    # own arithmetic: 5 in. of slab and 4 in. of stone below the lowest side, the top 4 ft x 1/8 in. higher on the other
    assert ["bottom of the stone (apron)", '9 1/2"'] in data["grades"]
    assert ["from the highest place (apron)", ""] in data["grades"]
    assert any(t["title"].endswith("(apron)") for t in data["tables"])
    (porch,) = data["pours"]
    assert porch["name"] == "porch" and porch["when"].startswith("Monday, 2026-11-02, first truck")
    assert ["Loads", book.others[1].volume.trucks.text("us")] in porch["concrete"]
    assert porch["clock"] and "No clock" in porch["no_clock"]


def test_the_engineer_sees_the_checks_of_every_slab():
    book = Book(job_of(APRON, PORCH))
    assert {c.slab for c, _ in engineering_checks(book)} == {"", "apron", "porch"}


def test_the_client_reads_of_every_slab():
    told = scope(Book(job_of(APRON, PORCH)).quote)
    assert any(words.startswith("Further slab, apron: 64 ft²") for words in told)
    assert any(words.startswith("Further slab, porch: 48 ft²") for words in told)


def test_the_figures_of_a_book_have_names_of_their_own():
    book = Book(job_of(APRON, PORCH))
    names = [c.name for c in book.chapters if c.figures]
    assert len(set(names)) == len(names)
    assert "Plan of all slabs" in [f.title for f in book.volume.calculation.figures]
