"""What the twelve invented records say, what they propose, and how it comes into the own file and onto paper."""

import datetime

import numpy as np
import pytest
from invented_records import ODD, RATES, write

from calcbook.basis.units import Q
from calcbook.command.cli import main
from calcbook.job.catalog import field_at
from calcbook.job.fields import meta_of
from calcbook.job.file import Job
from calcbook.job.files import JobError
from calcbook.job.own import read_own
from calcbook.records.estimate import estimates
from calcbook.records.figures import FIGURES, LINE_FIELDS
from calcbook.records.file import read_record
from calcbook.records.learned import combined_mean
from calcbook.records.proposal import lost_days, proposal
from calcbook.records.telling import asked_words


@pytest.fixture(scope="module")
def told(twelve):
    return {one.figure.name: one for one in estimates(twelve)}


def test_a_figure_is_worked_out_as_by_hand(told):
    """Own arithmetic from the text of the records: mean of the logarithms, 12 jobs against 5 of the figure in use."""
    forms = told["forms"]
    ratios = []
    for record in forms.outcomes.records:
        hours = {line.line: line.hours.m_as("hour") for line in record.file.lines if line.hours}
        promised = {
            line.line: line.hours.m_as("hour") for line in record.file.promised.lines if line.hours
        }
        ratios.append(promised["Setting forms"] / hours["Setting forms"])
    y = np.log(ratios)
    assert forms.mu == pytest.approx(12 * y.mean() / 17)
    assert forms.figured(forms.mu) == pytest.approx(
        12 * np.exp(12 * y.mean() / 17)
    )  # ft an hour, from 12
    assert forms.sigma**2 * 17 == pytest.approx(
        5 * (0.10**2 + 0.15**2) + 11 * np.var(y, ddof=1) + 5 * 12 / 17 * y.mean() ** 2
    )


def test_the_crews_own_figures_are_found(told):
    """The rates that the records were drawn about, three standard errors of a mean of twelve: 3 x 0.14 / sqrt(12)."""
    names = {figure.place: name for name, figure in FIGURES.items()}
    for place, (rate, _, times) in RATES.items():
        own = float(told[names[place]].figured(told[names[place]].y))
        assert own == pytest.approx(rate * times, rel=3 * 0.14 / np.sqrt(12))


def test_the_base_that_was_dug_over_is_asked_about_in_words(told, twelve):
    depth = told["depth"]
    assert [r.name for r, _ in depth.asked] == [twelve[ODD].name] and depth.n == 11
    (words,) = asked_words(depth, "us")
    assert 'write counts = "depth"' in words and 'leave_out = "depth"' in words and len(words) < 300
    assert told["waste"].n == 12  # the depth was measured, so the waste of that job is as good as any


@pytest.mark.parametrize(("answer", "n", "looked_at"), [("counts", 12, 12), ("leave_out", 11, 11)])
def test_the_answer_counts(tmp_path, answer, n, looked_at):
    paths = write(tmp_path, 12)
    odd = paths[ODD]
    odd.write_text(
        odd.read_text().replace("[record]", f'[record]\n{answer} = "depth, forms"'), encoding="utf-8"
    )
    (depth,) = (e for e in estimates([read_record(p) for p in paths]) if e.figure.name == "depth")
    assert depth.n == n and len(depth.outcomes.y) == looked_at


def test_a_mistyped_number_is_left_out_of_its_figure_alone(tmp_path):
    paths = write(tmp_path, 4)
    text = paths[1].read_text()
    hours = next(
        line for line in text.split("Setting forms")[1].split("\n") if line.startswith("hours")
    )
    paths[1].write_text(text.replace(hours, 'hours = "900 h"', 1), encoding="utf-8")
    found = {e.figure.name: e for e in estimates([read_record(p) for p in paths])}
    assert found["forms"].n == 3 and found["placing"].n == 4
    (problem,) = found["forms"].outcomes.problems
    assert problem.startswith(paths[1].name) and "which no slab does" in problem


def test_bands_are_promised_from_the_jobs_before_and_counted(told):
    for one in told.values():
        low, middle, high = one.bands
        assert middle[0] == pytest.approx(one.in_use.mu)  # nothing is known before the first job
        first = combined_mean(mu_0=one.in_use.mu, kappa_0=5, y=float(one.outcomes.y[0]), n=1)
        assert middle[1] == pytest.approx(first)
        assert one.held == sum(a <= y <= b for a, y, b in zip(low, one.outcomes.y, high, strict=True))


# --- proposals -------------------------------------------------------------------------------------


def test_every_figure_with_a_field_names_one_of_the_job_file_in_its_unit():
    places = [figure.place for figure in FIGURES.values() if figure.place]
    assert len(set(places)) == len(places) and set(LINE_FIELDS.values()) <= set(places)
    for figure in FIGURES.values():
        if figure.place:
            assert meta_of(field_at(figure.place))["unit"] == figure.unit
        for place in (part for part in figure.spread if isinstance(part, str)):
            assert meta_of(field_at(place))["unit"] == ("1" if figure.log else figure.unit)


def test_values_proposed_are_rounded_to_the_safe_side_and_can_be_read(told):
    values = {v.place: v.text for one in told.values() for v in proposal(one, None, "us").values}
    depth, waste = told["depth"], told["waste"]
    assert values["base.extra_depth"] == "3/16 in" and values["base.depth_spread"] == "3/16 in"
    assert 0.125 < depth.sigma <= 0.1875
    allowance = float(values["concrete.waste"].removesuffix(" %")) / 100
    assert 0 <= allowance - waste.end(0.95) <= 0.005  # enough for nineteen jobs in twenty
    used = float(values["risk.waste_used"].removesuffix(" %")) / 100
    assert used * allowance == pytest.approx(waste.mu, abs=0.0025 * allowance + 1e-9)
    metric = {v.place: v.text for one in told.values() for v in proposal(one, None, "si").values}
    assert metric["base.extra_depth"] == "5 mm" and metric["crew.place_rate"].endswith("m3")


def test_too_few_jobs_propose_nothing(twelve):
    (forms,) = (e for e in estimates(twelve[:2]) if e.figure.name == "forms")
    assert proposal(forms, None, "us").values == ()
    assert "fewer than 3 jobs" in proposal(forms, None, "us").why_not


def test_days_lost_to_the_weather_are_counted_with_the_day_that_held(twelve):
    """Own arithmetic: five days at 15 %, and the days of the records."""
    lost = lost_days(twelve, None)
    days = [r.file.record.lost_days for r in twelve]
    assert (lost.lost, lost.planned) == (sum(days), sum(days) + 12)
    assert lost.odds == pytest.approx((5 * 0.15 + lost.lost) / (5 + lost.planned))
    (value,) = lost.values
    assert value.place == "risk.lost_day" and value.text in lost.words
    assert lost_days(twelve[:2], None).values == () and lost_days([], None) is None


# --- the command and the own file --------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """Twelve records and an own file; a job that takes from it is open."""
    monkeypatch.setenv("CALCBOOK_OWN", str(tmp_path / "own" / "own.toml"))
    write(tmp_path, 12)
    return tmp_path


def test_learn_tells_and_writes_nothing_until_it_is_accepted(folder, capsys):
    before = {p: p.read_bytes() for p in folder.iterdir()}
    assert main(["learn", str(folder)]) == 0
    shown = capsys.readouterr().out
    assert "What 12 own jobs say" in shown and "Nothing is changed." in shown
    assert "none here: every job file has its record" in shown
    assert {p: p.read_bytes() for p in folder.iterdir()} == before


def test_a_record_with_nothing_measured_is_named_and_not_counted(folder, capsys):
    (folder / "begun.record.toml").write_text('[record]\njob = "begun.toml"\n', encoding="utf-8")
    assert main(["learn", str(folder)]) == 0
    shown = capsys.readouterr().out
    assert "What 12 own jobs say" in shown and "begun.record.toml: nothing that stands in it" in shown


def test_what_is_accepted_stands_in_the_own_file_and_on_paper(folder, capsys):
    assert main(["learn", str(folder), "--accept", "forms", "depth"]) == 0
    own = read_own(folder / "own" / "own.toml")
    year = datetime.date.today().year
    assert set(own.learned) == {"crew.forms_rate", "base.extra_depth", "base.depth_spread"}
    assert own.learned["crew.forms_rate"].jobs == 12 and own.learned["base.extra_depth"].jobs == 11
    job = Job({"slab": {"length": "24 ft", "width": "30 ft"}, "job": {"own": str(own.path)}})
    entry = job.field("crew.forms_rate")
    assert entry.value == Q(10.5, "ft") and entry.assumed == f"from 12 own jobs, {year}, in own.toml"
    assert entry.place in [one.place for one in job.assumptions()]


def test_accepting_again_weighs_the_same_jobs_against_what_stood_there_before(folder, capsys):
    """Else each acceptance would count the same jobs once more."""
    own = folder / "own" / "own.toml"
    own.parent.mkdir()
    own.write_text('[crew]\nforms_rate = "14 ft"  # my own guess\n', encoding="utf-8")
    for _ in range(2):
        assert main(["learn", str(folder), "--accept", "forms"]) == 0
    kept = read_own(own)
    assert kept.learned["crew.forms_rate"].start == "14 ft"
    value = kept.values["crew"]["forms_rate"]
    assert main(["learn", str(folder), "--accept", "forms"]) == 0
    assert read_own(own).values["crew"]["forms_rate"] == value != "14 ft"


def test_what_the_own_file_says_already_is_told_so_and_nothing_more_is_asked(folder, capsys):
    assert main(["learn", str(folder), "--accept"]) == 0
    capsys.readouterr()
    assert main(["learn", str(folder), "--lines"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "In your own file already: crew.forms_rate = 10.5 ft." in shown and "Proposed:" not in shown
    assert "your own file says all of this already" in shown
    assert (
        "Lines of the quote" in shown and "Tasks on the clock" in shown and "Cracks at 28 days" in shown
    )


def test_the_way_to_accept_names_the_folder(folder, capsys):
    assert main(["learn", str(folder)]) == 0
    assert f"calcbook learn {folder} --accept depth waste" in capsys.readouterr().out.replace("\n", " ")


@pytest.mark.parametrize("factor", [0.8, 1.3])
def test_the_setting_time_is_learned_beside_an_admixture_and_whatever_was_promised(tmp_path, factor):
    """Slabs that set at ``factor`` times the published band; half of them promised with an own factor of 1.1 already.

    Own arithmetic: 16 jobs against 5 of the book's.
    """
    found = []
    for n in range(16):
        own = 1.1 if n % 2 else 1.0  # in the band as it was promised
        middle = 5.0 * own * (1.4 if n % 3 == 0 else 1.0)  # a retarder is in the band, and in the set
        seen = factor * middle / own
        path = tmp_path / f"j{n}.record.toml"
        path.write_text(
            f'[record]\njob = "j{n}.toml"\n[set]\nfoot_print = "{int(seen + 7):02d}:{round(60 * (seen % 1)) % 60:02d}"\n'
            f'[[work]]\ntask = "placing"\nstart = "07:00"\n'
            f'[promised]\nfloat_early = "{middle / 1.2} h"\nfloat_late = "{middle * 1.2} h"\nown_set = {own}\n',
            encoding="utf-8",
        )
        found.append(read_record(path))
    (one,) = (e for e in estimates(found) if e.figure.name == "set")
    assert one.figured(one.y) == pytest.approx(factor, rel=0.005)
    assert one.figured(one.mu) == pytest.approx(factor ** (16 / 21), rel=0.005)
    values = {v.place: v.text for v in proposal(one, None, "us").values}
    assert values["pour.own_set"] == f"{one.figured(one.mu):.3g}" and set(values) == {
        "pour.own_set",
        "risk.set_wait",
    }


def test_an_unknown_figure_and_a_folder_without_records_are_told(folder, tmp_path, capsys):
    assert main(["learn", str(folder), "--accept", "formes"]) == 2
    assert "'formes' is none of the figures told here" in capsys.readouterr().err
    empty = tmp_path / "empty"
    empty.mkdir()
    assert main(["learn", str(empty)]) == 2
    assert "there is no record here" in capsys.readouterr().err


@pytest.mark.parametrize("entry", ['{ value = "10 ft", jobs = 0, date = "2026-01-01" }', '{ value = "10 ft" }',
                                   '{ value = "10 ft", jobs = 3, date = "soon" }', '{ value = "much", jobs = 3, date = "2026-01-01" }'])  # fmt: skip
def test_a_learned_value_that_is_wrong_is_one_sentence(tmp_path, entry):
    path = tmp_path / "own.toml"
    path.write_text(f"[crew]\nforms_rate = {entry}\n", encoding="utf-8")
    with pytest.raises(JobError) as error:
        read_own(path)
    assert len(error.value.problems) == 1 and "own.toml, line 2: [crew] forms_rate:" in str(error.value)
