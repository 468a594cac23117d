"""A job file may be written as a builder writes; what is taken for something else is told."""

import pytest

from calcbook.job.catalog import catalog, search, section_of
from calcbook.job.file import Job, JobError
from calcbook.job.schema.sections import JobFile

SLAB = {"length": "24 ft", "width": "30 ft"}


def test_what_is_taken_for_something_else_is_told_with_its_field():
    job = Job({
        "slab": SLAB, "pads": [{"name": "P1", "x": "12 ft", "y": "15 ft", "dead": "4000 lb", "uplift": 0}],
        "concrete": {"strength": "C25/30"}, "bolts": {"size": "M16"}, "prices": {"concrete": "$172 per yard"},
        "pour": {"forecast": []},
    })  # fmt: skip
    told = job.taken()
    assert "[[pads]] number 1 dead: '4000 lb' is taken as 4,000 lbf, a force" in told
    assert any(
        t.startswith("[concrete] strength: 'C25/30' is taken as 25 MPa by cylinder") for t in told
    )
    assert any(
        t.startswith("[bolts] size: 'M16' is taken as 5/8: 16 mm is a little more") for t in told
    )
    assert "[prices] concrete: '$172 per yard' is taken as $172.00/yd³" in told and len(told) == 4
    assert job.bolts.size == "5/8" and job.pads[0].uplift.magnitude == 0


def test_the_demo_needs_no_telling(demo, demo_si):
    assert demo.taken() == demo_si.taken() == []


def test_another_currency_is_one_for_the_whole_job():
    job = Job({"slab": SLAB, "prices": {"concrete": "€172,50/m³", "pump": "850 EUR"}})
    assert job.currency == "EUR" and job.field("prices.concrete").text.startswith("€")
    with pytest.raises(JobError, match="give all prices of a job in one currency"):
        job.changed({"prices.rental": [{"name": "saw", "days": 1, "rate": "£80 / day"}]})


@pytest.mark.parametrize(
    ("section", "key", "written", "value"),
    [
        ("bolts", "size", '5/8"', "5/8"), ("bolts", "size", "1/2 in.", "1/2"), ("soil", "kind", "Sand", "sand"),
        ("reinforcement", "kind", "macro_fiber", "macro fiber"), ("reinforcement", "bar", "No. 4", "#4"),
        ("reinforcement", "bar", "4", "#4"), ("job", "units", "metric", "si"), ("job", "units", "SI", "si"), ("crew", "size", "6", 6),
        ("bolts", "grade", "f1554 grade 55", "F1554 Grade 55"), ("pour", "start", "6:30", "06:30"), ("pour", "start", "6:30 pm", "18:30"),
        ("pour", "start", "7 AM", "07:00"), ("pour", "start", "12:15 a.m.", "00:15"), ("pour", "date", "6/1/2026", "2026-06-01"), ("pour", "date", "1.6.2026", "2026-06-01"),
    ],
)  # fmt: skip
def test_words_and_times_are_read_as_they_are_written(section, key, written, value):
    assert getattr(getattr(Job({"slab": SLAB, section: {key: written}}), section), key) == value


@pytest.mark.parametrize("time", ["6.30", "25:00", "13 pm", "6:60", "noon", "6", ""])
def test_a_time_that_is_none_is_refused(time):
    with pytest.raises(JobError, match="is not a time of day; write it like 07:30"):
        Job({"slab": SLAB, "pour": {"start": time}})


# --- error texts ----------------------------------------------------------------------------------

WRONG = (
    "", " ", "many", "12 candela", "5 lb/ft2/h", "3 furlongz", "silty sand", "-7 ft", "1e9 psi", "12 psf", "yes", "x" * 150,
    "1/0 in", "5 kg", "20 kN", "7,5,5 m", "$5", "5 EUR", "12 h", "C30/25", "M12", "nan", 12, -3, 2.5, True, [1], {"a": 1}, None,
)  # fmt: skip


def messages():
    """(field, given, message) of every wrong value for every field that refuses it."""
    for row in catalog():
        model = JobFile
        for part in row.section.split("."):
            model = section_of(model.model_fields[part])[0]
        reader = model.model_fields[row.key].json_schema_extra["reader"]
        for given in WRONG:
            try:
                reader(given)
            except ValueError as error:
                yield row.place, given, str(error)


def test_no_error_text_contradicts_itself_or_is_long():
    """Over every field and many wrong values: the two sides of "not" differ, and it says what to write."""
    found = list(messages())
    assert len(found) > 3000
    for place, given, words in found:
        assert 10 < len(words) < 250 and "\n" not in words, (place, given, words)
        kinds = [part.split(";")[0] for part in words.replace(" is ", ", not ").split(", not ")[1:]]
        assert len(kinds) == len(set(kinds)), words
        assert "another kind" not in words and "not one of not" not in words, words


@pytest.mark.parametrize(
    ("key", "place"),
    [("labor", "prices.wage"), ("rebar", "reinforcement.bar"), ("vapor barrier", "prices.retarder"), ("frost depth", "soil.frost_depth"),
     ("rebar spacing", "reinforcement.bar_spacing"), ("profit", "prices.margin"), ("town", "job.address"), ("phone", "job.contact")],
)  # fmt: skip
def test_a_field_is_found_by_what_it_means(key, place):
    assert place in [row.place for row in search(key)][:2]


def test_every_example_of_the_list_of_fields_is_read():
    import tomllib

    for row in catalog():
        model = JobFile
        for part in row.section.split("."):
            model = section_of(model.model_fields[part])[0]
        written = tomllib.loads(row.example)[row.key]
        assert model.model_fields[row.key].json_schema_extra["reader"](written) not in (None, ""), row
        assert row.meaning and (row.why or not row.default or row.default == "needed"), row.place
