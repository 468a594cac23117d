"""Sweeps: reading what is varied, running it, table, CSV, chart, and the command."""

import csv
import io
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.book.chapters import Book
from calcbook.command.cli import main
from calcbook.job.file import Job, JobError
from calcbook.weigh.outcome import outcome
from calcbook.weigh.sweep import read_axes, sweep
from calcbook.weigh.sweep_axis import MOST_JOBS, read_axis
from calcbook.weigh.sweep_chart import check_axes, sweep_chart

SHED = Job(
    {
        "slab": {"length": "12 ft", "width": "10 ft"},
        "pads": [
            {
                "name": "P",
                "x": "6 ft",
                "y": "5 ft",
                "length": "24 in",
                "width": "24 in",
                "depth": "8 in",
            }
        ],
        "prices": {"concrete": "$170 / yd3", "wage": "$45 / h"},
    }
)
SHED_FILE = """[job]
name = "shed"
[slab]
length = "12 ft"
width = "10 ft"
"""


# --- reading --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("slab.thickness=4:5:0.5in", ("4 in", "4.5 in", "5 in")),
        ("slab.thickness=4 in:5 in:.5 in", ("4 in", "4.5 in", "5 in")),
        ("slab.thickness=5:4:-0.5in", ("5 in", "4.5 in", "4 in")),
        ("slab.thickness=4:5:0.3in", ("4 in", "4.3 in", "4.6 in", "4.9 in")),
        ("slab.thickness=100:150:25mm", ("100 mm", "125 mm", "150 mm")),
        (
            "slab.thickness=4 in:12 cm:0.5 in",
            ("4 in", "4.5 in"),
        ),  # units that differ: in the field's own
        ('pads.0.depth=1\'-0":1\'-2":1"', ("12 in", "13 in", "14 in")),
        ("pads.0.width=2 ft:3 ft:6 in", ("24 in", "30 in", "36 in")),
        ("prices.concrete=$150:$170:$10 / yd3", ("$150 / yd3", "$160 / yd3", "$170 / yd3")),
        ("concrete.waste=4:8:2%", ("4 %", "6 %", "8 %")),
        ("pour.concrete_temperature=60:70:5 F", ("60 F", "65 F", "70 F")),
        ("prices.margin=0.1:0.2:0.05", ("0.1", "0.15", "0.2")),
        ("crew.size=4:6:1", (4, 5, 6)),
        ("crew.size=4,8", (4, 8)),
        ("slab.thickness=4,5,6 in", ("4 in", "5 in", "6 in")),
        ("pour.pump=yes,no", (True, False)),
        ("reinforcement.kind=mesh, macro fiber", ("mesh", "macro fiber")),
        ("pour.start=07:00,08:30", ("07:00", "08:30")),
    ],
)
def test_values_as_they_are_written(text, values):
    axis = read_axis(text, SHED)
    assert axis.values == values
    for value in values:
        SHED.changed({axis.place: value})


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("slab.thickness", "is not field=values"),
        ("slab.thickness=", "is not field=values"),
        ("=4", "is not field=values"),
        ("slab.thick=4:5:1in", "no such field; did you mean slab.thickness"),
        ("slab.__class__=1", "no such field"),
        ("pads.3.width=1:2:1ft", "no such field"),
        ("pads.-1.width=1:2:1ft", "no such field"),
        ("pads=1", "not a single field"),
        ("slab=1", "not a single field"),
        ("slab.thickness=4:8", "2 parts; a range is start:stop:step"),
        ("slab.thickness=4:8:1:2in", "4 parts"),
        ("slab.thickness=4:8:0in", "the step is 0"),
        ("slab.thickness=4:8:-1in", "leads away from the end: 4 to 8"),
        ("slab.thickness=4:8:1e-9in", "more than 10,000 values"),
        ("slab.thickness=1e300:9e300:1e-300in", "more than 10,000 values"),
        ("slab.thickness=1:8:1in", "1 in is not allowed; slab thickness must be at least 3.5 in."),
        ("slab.thickness=4:8:1 F", "not a length"),
        ("slab.thickness=4:8:1", "has no unit"),
        ("slab.thickness=a:b:c", "is not a number with a unit"),
        ("slab.thickness=4 in,,5 in", "an empty value"),
        ("pour.concrete_temperature=60 F:20 C:5 F", "same unit"),
        ("crew.size=4:6:0.5", "whole number"),
        ("crew.size=4,many", "'many' is not a whole number"),
        ("pour.pump=perhaps", "'perhaps' is not yes or no"),
        ("reinforcement.kind=gold", "'gold' is not one of"),
        ("slab.thickness=" + ",".join(["5 in"] * 10_001), "10,001 values are too many"),
    ],
)
def test_what_cannot_be_swept_is_told_in_one_sentence(text, words):
    with pytest.raises(JobError) as error:
        read_axis(text, SHED)
    assert words in str(error.value) and len(str(error.value)) < 320 and "\n" not in str(error.value)


@settings(max_examples=60, deadline=None)
@given(start=st.integers(35, 240), count=st.integers(0, 40), step=st.integers(1, 50))
def test_a_range_holds_both_ends_and_even_steps(start, count, step):
    stop = min(start + count * step, 240)
    values = read_axis(f"slab.thickness={start / 10}:{stop / 10}:{step / 10} in", SHED).numbers
    assert values[0] == start / 10 and values[-1] <= stop / 10 + 1e-9 < values[-1] + step / 10
    assert all(b - a == pytest.approx(step / 10) for a, b in itertools.pairwise(values))


@settings(max_examples=150, deadline=None)
@given(
    st.text(max_size=40),
    st.sampled_from(["slab.thickness", "crew.size", "pour.pump", "prices.concrete", "job.name"]),
)
def test_any_text_is_read_or_refused_in_a_sentence(text, place):
    try:
        axis = read_axis(f"{place}={text}", SHED)
    except JobError as error:
        assert str(error)
    else:
        assert 1 <= len(axis.values) <= MOST_JOBS


def test_all_fields_together_stay_within_the_most_and_none_comes_twice():
    with pytest.raises(JobError, match="is 40,000 jobs; at most 10,000"):
        read_axes(["slab.thickness=4:23.9:0.1in", "crew.size=1:40:1", "crew.finishers=1:5:1"], SHED)
    with pytest.raises(JobError, match="given twice"):
        read_axes(["crew.size=1,2", "crew.size=3"], SHED)


# --- running --------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def small():
    return sweep(SHED, read_axes(["slab.thickness=4,5 in", "crew.size=4:5:1"], SHED), processes=1)


def test_every_combination_is_the_whole_book_on_the_changed_job(small):
    assert [row.texts for row in small.rows] == [
        ("4 in", "4"),
        ("4 in", "5"),
        ("5 in", "4"),
        ("5 in", "5"),
    ]
    for row in small.rows:
        changed = SHED.changed({"slab.thickness": row.texts[0], "crew.size": int(row.texts[1])})
        assert row.outcome == outcome(Book(changed))


def test_the_field_that_most_parts_read_changes_the_least_often(monkeypatch):
    """Thickness is read by far more than a price is: its parts run once for each thickness, however the two are named."""
    from calcbook.book import parts

    made = []
    pads = parts.pad_check.chapter
    monkeypatch.setattr(parts.pad_check, "chapter", lambda *given: made.append(1) or pads(*given))
    fields = ["prices.concrete=150,160,170$/yd3", "slab.thickness=4,5 in"]
    one, other = (sweep(SHED, read_axes(order, SHED), processes=1) for order in (fields, fields[::-1]))
    assert len(made) == 4
    assert [row.texts for row in one.rows] == list(
        itertools.product(*(axis.texts for axis in one.axes))
    )
    assert {row.texts: row.outcome for row in one.rows} == {
        row.texts[::-1]: row.outcome for row in other.rows
    }


def test_processes_give_the_same_rows_in_the_same_order(small):
    told = []
    again = sweep(SHED, small.axes, processes=2, progress=lambda: told.append(1))
    assert again.rows == small.rows and len(told) == 4


def test_a_combination_that_cannot_be_computed_says_why_and_the_rest_goes_on():
    job = SHED.changed({"pour.minimum_load": "2 yd3"})
    axes = read_axes(["pour.truck_capacity=9,3 yd3", "pour.minimum_load=2,4 yd3"], job)
    made = sweep(job, axes, processes=1)
    reasons = [row.reason for row in made.rows]
    assert [bool(r) for r in reasons] == [False, False, False, True]
    assert "more than a truck carries" in reasons[3]
    assert "cannot be computed" in made.text() and "more than a truck carries" in made.csv()


def test_the_table_is_cut_and_says_so(small):
    assert "... 3 more rows" in small.text(most=1)
    assert "Least price" in small.text() or "No row has a complete price" in small.text()


def test_csv_holds_plain_numbers_and_no_formulas():
    job = SHED.changed({"job.name": "x"})
    made = sweep(job, read_axes(["job.name==1+1,b"], job), processes=1)
    rows = list(csv.DictReader(io.StringIO(made.csv())))
    assert rows[0]["job.name"] == "'=1+1"
    assert float(rows[0]["concrete, yd³"]) == made.rows[0].outcome.order
    assert float(rows[1]["price, $"]) == made.rows[1].outcome.price


def test_metric_jobs_are_shown_in_metric(demo_si):
    made = sweep(demo_si, read_axes(["slab.thickness=125,150 mm"], demo_si), processes=1)
    assert "m³" in made.text() and "concrete, m³" in made.csv()
    assert made.axes[0].numbers == (125.0, 150.0) and made.axes[0].unit == "mm"


# --- chart ----------------------------------------------------------------------------------------


def test_the_chart_shows_price_and_worst_check_by_the_first_field(small):
    figure = sweep_chart(small)
    upper, lower = figure.axes
    assert (
        "slab thickness" in upper.get_title(loc="left") and lower.get_xlabel() == "slab thickness, in."
    )
    lines = [line for line in upper.lines if len(line.get_xdata()) == 2]
    assert len(lines) == 2 and list(lines[0].get_xdata()) == [4.0, 5.0]
    assert list(lines[1].get_ydata()) == [small.rows[1].outcome.price, small.rows[3].outcome.price]
    assert lines[0].get_linestyle() != lines[1].get_linestyle()
    assert [t.get_text() for t in upper.get_legend().get_texts()] == ["4", "5"]


def test_words_along_the_axis_are_points_without_a_line():
    made = sweep(SHED, read_axes(["reinforcement.kind=none,mesh"], SHED), processes=1)
    upper, lower = sweep_chart(made).axes
    assert upper.lines[0].get_linestyle() == "None"
    assert [t.get_text() for t in lower.get_xticklabels()] == ["none", "mesh"]


def test_what_cannot_be_drawn_is_refused_before_it_runs():
    three = read_axes(["slab.thickness=4,5 in", "crew.size=4:5:1", "pour.pump=yes,no"], SHED)
    with pytest.raises(JobError, match="one or two fields"):
        check_axes(three)
    with pytest.raises(JobError, match="at most 6"):
        check_axes(read_axes(["slab.thickness=4,5 in", "crew.size=1:9:1"], SHED))
    with pytest.raises(JobError, match="room for 24 words"):
        check_axes(read_axes(["job.name=" + ",".join(f"n{k}" for k in range(30))], SHED))


# --- the command ----------------------------------------------------------------------------------


@pytest.fixture
def shed_file(tmp_path):
    path = tmp_path / "shed.toml"
    path.write_text(SHED_FILE)
    return path


def test_the_command_writes_table_csv_and_chart(shed_file, tmp_path, capsys):
    table, picture = tmp_path / "t.csv", tmp_path / "c.svg"
    status = main(
        [
            "sweep",
            str(shed_file),
            "slab.thickness=4:5:1in",
            "--csv",
            str(table),
            "--chart",
            str(picture),
        ]
    )
    out, err = capsys.readouterr()
    assert status == 0 and "slab.thickness" in out and "2 of 2 jobs" in err
    assert len(table.read_text("utf-8").splitlines()) == 3 and "<svg" in picture.read_text("utf-8")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["slab.thickness=4:5"], "start:stop:step"),
        (["slab.thickness=4,5 in", "--chart", "c.pdf"], "PNG or SVG"),
        (["slab.thickness=4,5 in", "--processes", "0"], "from 1 to 64"),
        (["slab.thickness=4,5 in", "--csv", "/no/such/folder/t.csv"], "could not be written"),
    ],
)
def test_bad_input_is_one_sentence_and_status_2(shed_file, more, words, capsys):
    assert main(["sweep", str(shed_file), *more]) == 2
    err = [line for line in capsys.readouterr().err.splitlines() if " of " not in line]
    assert len(err) == 1 and words in err[0]


def test_a_quote_with_choices_lists_the_choices(shed_file, capsys):
    assert main(["quote", str(shed_file), "--choices"]) == 1  # prices are missing
    out = capsys.readouterr().out
    assert "choice" in out and "as it stands" in out and "NOT COMPLETE" in out


def test_a_quote_with_odds_needs_its_prices(shed_file, capsys):
    assert main(["quote", str(shed_file), "--odds"]) == 1
    assert "the odds need every price" in capsys.readouterr().err


# --- along the axis -------------------------------------------------------------------------------


def test_numbers_along_the_axis_are_in_the_unit_that_was_typed_or_the_jobs():
    percent = read_axis("concrete.waste=4:8:2%", SHED)
    assert percent.numbers == pytest.approx((4, 6, 8)) and percent.unit == "%"
    share = read_axis("prices.margin=0.1:0.2:0.1", SHED)
    assert share.numbers == (0.1, 0.2) and share.unit == ""


@pytest.mark.parametrize(
    "text", ["slab.thickness=4,1,5 in", "slab.thickness=3:9:0.1in", "slab.thickness=20:25:0.05in"]
)
def test_a_value_that_the_job_refuses_is_refused_wherever_it_stands(text):
    with pytest.raises(JobError, match=r"must be at least 3\.5 in\. and at most 24 in\."):
        read_axis(text, SHED)


def test_long_numbers_keep_their_digits():
    assert read_axis("prices.pump=$123456.789012:$123457.789012:$1", SHED).values[0] == "$123456.789012"
