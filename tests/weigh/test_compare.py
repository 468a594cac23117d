"""Two versions of a job: inputs, results, checks, lines, words, CSV, the page, the command."""

import csv
import io
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from metric import us_defaults

from calcbook.basis.units import Q
from calcbook.command.cli import main
from calcbook.job.file import Job
from calcbook.paper.printout import document
from calcbook.weigh.compare import ABSENT, Comparison
from calcbook.weigh.compare_fields import fields_of
from calcbook.weigh.compare_values import difference, near, near_texts, same, signed_money

SHED = Job(
    {
        "job": {"name": "shed", "date": "2026-10-01"},
        "slab": {"length": "12 ft", "width": "10 ft"},
        "prices": {"concrete": "$170 / yd3", "wage": "$45 / h"},
    }
)
PAD = {"name": "P1", "x": "6 ft", "y": "5 ft", "length": "24 in", "width": "24 in", "depth": "8 in"}


def by_what(changes):
    return {(c.where, c.what): c for c in changes}


def inputs(old, new):
    return {c.where: c for c in Comparison(old, new).inputs}


# --- inputs ---------------------------------------------------------------------------------------


def test_a_changed_field_tells_old_new_and_the_difference():
    found = inputs(SHED, SHED.changed({"slab.length": "15 ft", "prices.concrete": "$180 / yd3"}))
    assert set(found) == {"slab.length", "prices.concrete"}
    length, price = found["slab.length"], found["prices.concrete"]
    assert (length.old, length.new, length.difference) == ("12 ft", "15 ft", "+3 ft (+25 %)")
    assert price.difference == "+$10.00/yd³ (+5.9 %)"


def test_shares_differ_by_points():
    found = inputs(SHED, SHED.changed({"prices.margin": "20 %"}))["prices.margin"]
    assert (found.old, found.new) == ("15 %", "20 %") and found.difference.startswith("+5 points")
    assert found.remark == "was a default, now given"


def test_a_default_that_is_now_given_is_told_though_its_value_is_the_same():
    found = inputs(SHED, SHED.changed({"base.swell": "30 %"}))
    assert list(found) == ["base.swell"] and found["base.swell"].remark == "was a default, now given"
    back = inputs(SHED.changed({"base.swell": "30 %"}), SHED)
    assert back["base.swell"].remark == "was given, now a default"


def test_the_same_length_in_other_words_is_no_change():
    assert not inputs(SHED, SHED.changed({"slab.length": "144 in"}))


def test_a_new_pad_and_one_taken_out_go_by_name():
    with_pad = SHED.changed({"pads": [PAD]})
    new = inputs(SHED, with_pad)
    assert new["pads P1"].remark == "new" and new["pads P1.length"].new == "24 in."
    gone = inputs(with_pad, SHED)
    assert gone["pads P1"].remark == "taken out" and gone["pads P1"].new == ABSENT


def test_an_entry_put_before_another_does_not_make_both_differ():
    one, two = (
        SHED.changed({"pads": [PAD]}),
        SHED.changed({"pads": [PAD | {"name": "P0", "x": "3 ft"}, PAD]}),
    )
    assert not [place for place in inputs(one, two) if place.startswith("pads P1")]


def test_entries_of_one_name_go_by_number():
    twice = SHED.changed({"pads": [PAD | {"x": "3 ft"}, PAD]})
    assert {"pads P1 number 1.x", "pads P1 number 2.x"} <= set(fields_of(twice))


def test_weather_rows_are_one_line(demo):
    rows = [dict(row) for row in demo.raw["pour"]["forecast"]]
    rows[5] = rows[5] | {"air": "20 F"}
    found = inputs(demo, demo.changed({"pour.forecast": rows}))
    assert list(found) == ["pour.forecast"] and "air 20 °F to" in found["pour.forecast"].new
    assert not inputs(
        demo, demo.changed({"pour.forecast": [dict(r) for r in demo.raw["pour"]["forecast"]]})
    )


# --- results, checks, lines -----------------------------------------------------------------------


@pytest.fixture(scope="module")
def demo(demo):
    """Without the plate, which tests/plate runs in both units."""
    return demo.changed({"slab.plate": False})


@pytest.fixture(scope="module")
def demo_si(demo_si):
    return demo_si.changed({"slab.plate": False})


@pytest.fixture(scope="module")
def thicker():
    return Comparison(SHED, SHED.changed({"slab.thickness": "5 in", "job.date": "2026-10-08"}))


def test_results_that_follow_are_told_with_their_difference(thicker):
    """120 ft2 x 1 in. = 10 ft3 = 0.370 yd3 more."""
    slab = by_what(thicker.results)["Concrete", "concrete in the slab"]
    assert slab.difference == "+0.370 yd³ (+25 %)"
    assert not [c for c in thicker.results if c.what == "plan area"]


def test_the_price_line_of_what_changed(thicker):
    concrete = by_what(thicker.lines)["material", "Concrete"]
    old, new = (float(text.split(" ")[0]) for text in (concrete.old, concrete.new))
    assert concrete.difference == signed_money((new - old) * 170)


def test_a_verdict_that_changed_is_marked(demo):
    made = Comparison(demo, demo.changed({"soil.bearing": "600 psf"}))
    found = by_what(made.checks)["Pads under posts", "Bearing pressure under pad P1"]
    assert (
        found.old.startswith("OK")
        and found.new.startswith("NOT OK")
        and found.remark == "verdict changed"
    )
    assert made.checks[0].new.startswith("NOT OK")  # the worst first


def test_a_job_against_itself_has_no_changes(demo):
    made = Comparison(demo, demo)
    assert not any(changes for _, changes in made.parts)
    assert "(+$0.00)" in made.summary()[1]


def test_a_job_and_its_metric_twin_differ_in_their_units_only(demo, demo_si):
    twin = demo_si.changed(us_defaults(demo_si))  # its own defaults are round in metric
    made = Comparison(demo, twin)
    assert "job.units" in [c.where for c in made.inputs]
    assert made.results == made.checks == []


def test_all_of_the_old_is_shown_in_the_units_of_the_new(demo, demo_si):
    made = Comparison(demo, demo_si.changed({"slab.thickness": "150 mm"}))
    slab = by_what(made.results)["Concrete", "concrete in the slab"]
    assert slab.old.endswith("m³") and slab.new.endswith("m³")


# --- words ----------------------------------------------------------------------------------------


def test_the_title_names_both_by_date_or_by_file(thicker):
    assert thicker.title == "Changes from 2026-10-01 to 2026-10-08"
    assert Comparison(SHED, SHED).title == "Changes from the job (2026-10-01) to the job (2026-10-01)"


def test_csv_has_every_change_and_no_formulas(thicker):
    rows = list(csv.DictReader(io.StringIO(thicker.csv())))
    assert len(rows) == sum(len(changes) for _, changes in thicker.parts)
    evil = Comparison(SHED, SHED.changed({"job.name": "=1+1"})).csv()
    assert ",'=1+1," in evil


def test_the_text_has_every_part(thicker):
    text = thicker.text()
    for title, changes in thicker.parts:
        assert (title in text) == bool(changes)


def test_the_printout_has_the_changes_only_where_they_are_asked_for(thicker, tmp_path):
    data = document(thicker.new_book, tmp_path, thicker)["revision"]
    assert data["title"] == thicker.title
    assert sum(len(part["rows"]) for part in data["parts"]) == sum(len(c) for _, c in thicker.parts)
    assert "->" not in json.dumps(data, ensure_ascii=False) and "→" in json.dumps(
        data, ensure_ascii=False
    )
    assert document(thicker.new_book, tmp_path)["revision"] is None


# --- values ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("a", "b", "unit", "system", "words"),
    [
        (Q(4, "in"), Q(5, "in"), "in", "us", "+1 in. (+25 %)"),
        (Q(4, "in"), Q(5, "in"), "in", "si", "+25.4 mm (+25 %)"),
        (Q(5, "in"), Q(4, "in"), "in", "us", "-1 in. (-20 %)"),
        (Q(50, "degF"), Q(41, "degF"), "degF", "us", "-9 F°"),
        (Q(50, "degF"), Q(41, "degF"), "degF", "si", "-5 C°"),
        (Q(0, "in"), Q(4, "in"), "in", "us", "+4 in."),
        (3, 4, "", "us", "+1 (+33 %)"),
        (2.0, 1.0, "1", "us", "-1 (-50 %)"),
        ("a", "b", "", "us", ""),
        (True, False, "", "us", ""),
        (None, Q(4, "in"), "in", "us", ""),
    ],
)
def test_differences(a, b, unit, system, words):
    assert difference(a, b, unit, system) == words


def test_what_counts_as_the_same():
    assert near(1, 1 + 1e-9) and not near(1, 1 + 1e-5) and near(float("inf"), float("inf"))
    assert not near(float("inf"), 1.0)
    assert same(Q(1, "ft"), Q(12, "in"), "", "") and not same(Q(1, "ft"), Q(12.001, "in"), "", "")
    assert not same(None, Q(1, "ft"), "not given", "1 ft") and same("a", "a", "a", "a")
    assert near_texts("549.25 lbf", "549.3 lbf") and not near_texts("549 lbf", "560 lbf")
    assert not near_texts("549 lbf", "549 psi") and near_texts("1,000 psi", "1,001 psi")


@settings(max_examples=8, deadline=None)
@given(a=st.integers(8, 20), b=st.integers(8, 20))
def test_there_and_back_differ_by_opposite_signs(a, b):
    one, two = SHED.changed({"slab.length": f"{a} ft"}), SHED.changed({"slab.length": f"{b} ft"})
    there, back = inputs(one, two), inputs(two, one)
    assert set(there) == set(back) == ({"slab.length"} if a != b else set())
    for place in there:
        assert there[place].old == back[place].new
        assert there[place].difference[0] != back[place].difference[0]


# --- the command ----------------------------------------------------------------------------------


@pytest.fixture
def files(tmp_path):
    text = '[job]\nname = "shed"\ndate = "{}"\n[slab]\nlength = "12 ft"\nwidth = "10 ft"\nthickness = "{} in"\n'
    paths = tmp_path / "old.toml", tmp_path / "new.toml"
    for path, date, thickness in zip(paths, ("2026-10-01", "2026-10-08"), (4, 5), strict=True):
        path.write_text(text.format(date, thickness))
    return paths


def test_the_command_prints_and_writes(files, tmp_path, capsys):
    table = tmp_path / "changes.csv"
    status = main(["compare", *map(str, files), "--csv", str(table)])
    out = capsys.readouterr().out
    assert (
        status in (0, 1) and "Changes from 2026-10-01 to 2026-10-08" in out and "slab.thickness" in out
    )
    assert "Inputs,slab.thickness" in table.read_text("utf-8")


def test_a_printout_since_an_earlier_version(files, tmp_path):
    pdf = tmp_path / "p.pdf"
    assert main(["print", str(files[1]), "--since", str(files[0]), "-o", str(pdf)]) in (0, 1)
    assert pdf.read_bytes().startswith(b"%PDF")


def test_a_file_that_is_not_there_is_one_sentence(files, capsys):
    assert main(["compare", "nowhere.toml", str(files[1])]) == 2
    assert "nowhere.toml could not be read" in capsys.readouterr().err
