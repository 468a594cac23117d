"""The builder's own file: what a job takes from it, what it overrides, where prices come from."""

import datetime

import pytest

from calcbook.book.chapters import Book
from calcbook.command.prices import of_job
from calcbook.job.file import Job, JobError
from calcbook.job.own import age_text, keep_price, own_path, read_own

OWN = """[job]
preparer = "R. Okafor, Flatland Slab Crew (invented)"

[concrete]
strength = "3500 psi"
waste = "6 %"

[crew]
size = 4

[prices]   # all invented
supplier = "Supply House (invented)"
date = 2026-01-05
concrete = { price = "$172 per yard", date = "2026-05-20", supplier = "Lakeside Ready-Mix (invented)" }
stone = "$31 / ton"
wage = { price = "$46 / h" }
"""
JOB = '[job]\nown = "yes"\ndate = "2026-06-01"\n[slab]\nlength = "24 ft"\nwidth = "30 ft"\n[concrete]\nwaste = "10 %"\n'


@pytest.fixture
def own(tmp_path, monkeypatch):
    path = tmp_path / "own.toml"
    path.write_text(OWN, encoding="utf-8")
    monkeypatch.setenv("CALCBOOK_OWN", str(path))
    return path


@pytest.fixture
def job(own, tmp_path):
    (tmp_path / "garage.toml").write_text(JOB, encoding="utf-8")
    return Job.read(tmp_path / "garage.toml")


def test_a_job_takes_what_it_leaves_out_and_keeps_what_it_says(job):
    assert job.concrete.strength.m_as("psi") == 3500 and job.crew.size == 4
    assert job.concrete.waste.m_as("") == pytest.approx(0.10)  # the job's own word
    assert job.field("concrete.strength").assumed == "own.toml, the builder's own file"
    assert job.field("concrete.waste").assumed == ""
    assumed = {entry.place: entry.assumed for entry in job.assumptions()}
    assert (
        assumed["crew.size"] == "own.toml, the builder's own file" and "concrete.waste" not in assumed
    )
    assert "[prices] concrete: '$172 per yard' is taken as $172.00/yd³" in job.taken()


def test_a_job_that_names_no_own_file_takes_from_none(own, tmp_path):
    path = tmp_path / "other.toml"
    path.write_text(JOB.replace('own = "yes"\n', ""), encoding="utf-8")
    assert Job.read(path).own is None and Job.read(path).crew.size == 5
    assert Job.read(path, own=str(own)).crew.size == 4  # named on the command line
    path.write_text(JOB.replace('"yes"', '"own.toml"'), encoding="utf-8")
    assert Job.read(path).crew.size == 4  # named beside the job


def test_a_changed_and_a_saved_job_still_take_from_it(job):
    assert job.changed({"slab.thickness": "6 in"}).crew.size == 4
    saved = job.save({"slab.thickness": "6 in"})
    assert saved.crew.size == 4 and "3500 psi" not in saved.path.read_text(encoding="utf-8")


def test_the_quote_says_who_gave_which_price_and_how_old_it_is(job):
    quote = Book(job).quote
    rows = {row["price of"]: row["given by"] for row in quote.kept_prices}
    assert rows["ready-mixed concrete"] == "Lakeside Ready-Mix (invented), 2026-05-20, 12 days old"
    assert (
        rows["base stone, delivered"] == "Supply House (invented), 2026-01-05, 5 months old: ask again"
    )
    for words in rows.values():
        assert words in quote.text()
    assert "Prices from the builder's own file" in [
        t.title for t in quote.calculation.blocks if hasattr(t, "title")
    ]
    given = Book(job.changed({"prices.concrete": "$180 / yd3"})).quote
    assert "ready-mixed concrete" not in {row["price of"] for row in given.kept_prices}


def test_what_a_job_still_needs_is_listed_by_key(job):
    rows = {row.key: row for row in of_job(job)}
    assert (
        not rows["concrete"].missing
        and rows["retarder"].missing
        and rows["retarder"].price == "such as $215 / roll"
    )
    assert next(iter(rows.values())).missing  # those first
    rows = {row.key: row for row in of_job(job.changed({"prices.retarder": "$200 / roll"}))}
    assert rows["retarder"].origin == "in the job file" and rows["retarder"].price == "$200.00/roll"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[slab]\nthickness = "4 in"\n', "own.toml, line 1: [slab] does not belong in a file of your own"),
        ('[concrete]\nstrenth = "3 ksi"\n', "own.toml, line 2: [concrete] strenth: is not known here; did you mean strength?"),
        ('[prices]\nconcrete = "172 yd"\n', "own.toml, line 2: [prices] concrete: '172 yd' is a"),
        ('[prices]\nconcrete = { cost = "$1 / yd3" }\n', "write { price = "),
        ('[prices]\nconcrete = { price = "$1 / yd3", date = "soon" }\n', "'soon' is not a date"),
        ("[prices\n", "own.toml, line 1: '[prices' cannot be read (expected ']'"),
        ('[job]\nname = "x"\n', "[job] name: belongs to one job, not to a file of your own"),
    ],
)  # fmt: skip
def test_a_mistake_in_it_is_told_with_its_line(text, said, own, job):
    own.write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        Job.read(job.path)
    assert said in str(caught.value) and all(len(p) < 300 for p in caught.value.problems)


def test_a_clash_with_the_job_names_the_own_file(own, job):
    own.write_text('[pour]\ntruck_capacity = "3 yd3"\nminimum_load = "4 yd3"\n', encoding="utf-8")
    with pytest.raises(
        JobError, match=r"own.toml, line 3: \[pour\] minimum_load: the smallest load is more"
    ):
        Job.read(job.path)


def test_an_own_file_that_is_not_there_is_told(job, own):
    own.unlink()
    with pytest.raises(
        JobError, match="there is no file of your own at .*own.toml; calcbook prices --ask"
    ):
        Job.read(job.path)


def test_a_price_is_kept_with_supplier_and_date_and_remarks_stay(own):
    keep_price(own, "concrete", "$175 / yd3", "North Pit (invented)", datetime.date(2026, 6, 1))
    kept = read_own(own).prices["concrete"]
    assert (kept.supplier, kept.day.isoformat()) == ("North Pit (invented)", "2026-06-01")
    assert (
        "# all invented" in own.read_text(encoding="utf-8")
        and read_own(own).prices["stone"].day.year == 2026
    )
    with pytest.raises(JobError, match="is a length, not a price by volume"):
        keep_price(own, "concrete", "175 yd", "", datetime.date(2026, 6, 1))


def test_an_own_file_is_started_where_there_is_none(tmp_path, monkeypatch):
    path = tmp_path / "new folder" / "own.toml"
    monkeypatch.setenv("CALCBOOK_OWN", str(path))
    keep_price(own_path(), "bolt", "$4.20 each", "", datetime.date(2026, 6, 1))
    assert read_own(path).values["prices"] == {"bolt": "$4.20 each"}
    monkeypatch.delenv("CALCBOOK_OWN")
    assert own_path().name == "own.toml" and "calcbook" in str(own_path())


@pytest.mark.parametrize(("days", "words"), [(0, "today"), (1, "1 day old"), (60, "60 days old"), (61, "2 months old"), (400, "13 months old"), (-1, "dated in the future")])  # fmt: skip
def test_an_age_in_words(days, words):
    assert age_text(days) == words


def test_a_job_that_turns_to_the_own_file_takes_from_it_at_once(own, tmp_path):
    """Sections that were checked before are read anew, as what they leave out now stands elsewhere."""
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace('own = "yes"\n', ""), encoding="utf-8")
    job = Job.read(path)
    assert job.crew.size == 5 and job.changed({"job.own": "yes"}).crew.size == 4
    assert job.changed({"job.own": "yes"}).changed({"job.own": "no"}).crew.size == 5
