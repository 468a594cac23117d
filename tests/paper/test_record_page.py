"""A record typed on a page: the same file as by questions in the terminal, nothing lost, a second person's save told."""

import tomllib

import pytest

from calcbook.job.file import Job
from calcbook.paper.live import Live
from calcbook.paper.record_page import RecordPage, order, questions_html
from calcbook.records.file import begun, read_record, record_of, save_record
from calcbook.records.questions import LISTS, QUESTIONS

PROMISED = {"volume": "9 yd3", "lines": [
    {"line": "Setting forms", "hours": "9 h", "field": "crew.forms_rate", "rate": "12 ft"},
    {"line": "Concrete", "cost": "$1700"},
]}  # fmt: skip


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text('[slab]\nlength = "24 ft"\nwidth = "30 ft"\n', encoding="utf-8")
    return Job.read(path)


@pytest.fixture
def begun_job(job):
    save_record(
        job.path, {}, None, begun(job.path, {"name": "Shop (invented)", "units": "us"}, PROMISED)
    )
    return job


@pytest.fixture
def asked(begun_job, tmp_path):
    return RecordPage(Live(begun_job), tmp_path / "typed.json")


def test_every_question_and_list_of_the_terminal_stands_on_the_page(asked):
    assert {q.place for q in QUESTIONS} | set(LISTS) | {"hours", "cost"} == set(order())
    assert set(asked.fields) == set(order()) - {"hours", "cost"} | {
        ("Setting forms", "hours"),
        ("Concrete", "cost"),
    }
    assert all(question.words.replace("'", "&#x27;") in questions_html() for question in QUESTIONS)


def test_what_was_measured_is_written_and_the_job_is_not_touched(asked, begun_job):
    before = begun_job.path.read_bytes()
    for name, text in {
        "record.date": "6/1/2026", "concrete.delivered": "10", "base.depths": "4, 4 1/8 in",
        "trucks": "9 yd3, 07:30, 08:05\n1 yd3, 8:20", ("Setting forms", "hours"): "11.5", ("Concrete", "cost"): "1,820",
    }.items():  # fmt: skip
        asked.fields[name].value = text
    told = []
    asked.live.followers.append(lambda: told.append(1))
    asked.save()
    file = record_of(begun_job.path).file
    assert (
        file.record.date == "2026-06-01"
        and file.concrete.delivered.m == 10
        and len(file.base.depths) == 2
    )
    assert [t.arrived for t in file.trucks] == ["07:30", "08:20"]
    assert [(line.line, line.hours, line.cost) for line in file.lines][1][2].m == 1820
    assert begun_job.path.read_bytes() == before and told and "is written" in asked.message.value
    assert asked.fields["concrete.delivered"].value == "10 yd3" and not asked.changed
    asked.fields["concrete.delivered"].value = asked.fields["trucks"].value = ""  # taken back
    asked.save()
    file = record_of(begun_job.path).file
    assert file.concrete.delivered is None and file.trucks == [] and file.lines[0].hours.m == 11.5


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [("concrete.delivered", "a lot", "write it like"), ("trucks", "9, 07:30\n9, noonish", "line 2"),
     (("Setting forms", "hours"), "-3", "h"), ("base.depths", "4, 400", "is not allowed")],
)  # fmt: skip
def test_what_cannot_be_read_is_told_beside_it_and_nothing_is_saved(
    asked, begun_job, name, typed, said
):
    before = record_of(begun_job.path).text
    asked.fields["set.foot_print"].value = "13:10"
    asked.fields[name].value = typed
    assert said in asked.told[name].value
    asked.save()
    assert "Nothing is saved yet" in asked.message.value and record_of(begun_job.path).text == before
    asked.fields[name].value = ""
    asked.save()
    assert record_of(begun_job.path).file.set.foot_print == "13:10" and asked.told[name].value == ""


def test_what_clashes_is_told_and_stays_in_the_fields(asked, begun_job):
    asked.fields["concrete.delivered"].value, asked.fields["concrete.left_over"].value = "9", "10"
    asked.save()
    assert "as much is left over as was delivered" in asked.message.value
    assert asked.fields["concrete.left_over"].value == "10"


def test_a_second_persons_save_is_told_and_neither_loses_anything(asked, begun_job):
    asked.fields["concrete.delivered"].value = "10"
    theirs = {"concrete.delivered": "11 yd3", "cracks.seen": 2}
    save_record(begun_job.path, theirs, record_of(begun_job.path))
    asked.save()
    assert "Someone else saved" in asked.message.value and "They wrote 11 yd3" in asked.message.value
    assert record_of(begun_job.path).file.concrete.delivered.m == 11
    assert (asked.fields["cracks.seen"].value, asked.fields["concrete.delivered"].value) == ("2", "10")
    asked.save()
    file = record_of(begun_job.path).file
    assert file.concrete.delivered.m == 10 and file.cracks.seen == 2


def test_what_was_typed_is_there_again_when_the_page_is_opened_anew(asked, begun_job, tmp_path):
    asked.fields["record.wrong"].value = "the pump came late"
    asked.fields["set.foot_print"].value = "noonish"
    again = RecordPage(Live(begun_job), tmp_path / "typed.json")
    assert again.fields["record.wrong"].value == "the pump came late"
    assert again.fields["set.foot_print"].value == "noonish"
    again.fields["set.foot_print"].value = "13:10"
    again.save()
    assert not (tmp_path / "typed.json").exists()


def test_what_only_the_file_can_say_stays(begun_job):
    path = record_of(begun_job.path).path
    path.write_text(
        path.read_text("utf-8")
        + '\n[[trucks]]\narrived = "07:30"  # late\n[money]\nspent = "$9000"  # all bills\n',
        encoding="utf-8",
    )
    asked = RecordPage(Live(begun_job))
    asked.fields["trucks"].value += "\n9 yd3, 09:00"
    asked.save()
    assert "# all bills" in path.read_text("utf-8")
    assert [t["arrived"] for t in tomllib.loads(path.read_text("utf-8"))["trucks"]] == [
        "07:30",
        "09:00",
    ]


def test_a_record_is_begun_with_what_is_promised(job, monkeypatch):
    monkeypatch.setattr(
        "calcbook.records.promise.record_start", lambda job: begun(job.path, {}, PROMISED)
    )
    asked = RecordPage(Live(job))
    assert not asked.fields and "no record of shop.toml yet" in asked.box.children[0].value
    asked.begin_button.click()
    assert read_record(job.path.with_name("shop.record.toml")).file.promised.volume.m == 9
    assert ("Setting forms", "hours") in asked.fields


def test_a_record_of_another_job_is_told(begun_job, tmp_path):
    path = record_of(begun_job.path).path
    path.write_text(
        path.read_text("utf-8").replace('job = "shop.toml"', 'job = "barn.toml"'), encoding="utf-8"
    )
    asked = RecordPage(Live(begun_job))
    assert "is the record of barn.toml" in asked.box.children[0].value and not asked.fields
