"""A new job by questions on a page: the same file as in the terminal, and bad answers told."""

import pytest

from calcbook.job.file import Job
from calcbook.paper.new_job import NewJob


@pytest.fixture
def page(tmp_path, monkeypatch):
    monkeypatch.setenv("CALCBOOK_OWN", str(tmp_path / "own.toml"))
    found = []
    return NewJob(tmp_path, found.append), found


def test_the_usual_answers_give_a_job(page):
    asked, found = page
    asked.fields["job.name"].value, asked.fields["slab.thickness"].value = "Garage", "5"
    asked.write()
    assert [path.name for path in found] == ["Garage.toml"] and "area 720 ft²" in asked.message.value
    job = Job.read(found[0])
    assert job.slab.thickness.m_as("inch") == 5 and job.edge.depth.m_as("inch") == 13
    asked.write()
    assert "is already there" in asked.message.value and len(found) == 1


def test_in_meters_by_walking(page):
    asked, found = page
    asked.fields["job.units"].value, asked.shape.value = "si", "walk"
    asked.sizes.value = "right 12, up 5,4 m"
    asked.write()
    assert "does not close: its end lies 12.000 m and 5.400 m" in asked.message.value and not found
    asked.sizes.value = ""
    asked.write()
    assert Job.read(found[0]).plan.area.m_as("m**2") == pytest.approx(64.8)


@pytest.mark.parametrize(
    ("place", "answer", "said"),
    [
        ("slab.thickness", "24 psi", "is a pressure, not a length"),
        ("job.units", "cubits", "is not one of these"),
        ("pour.pump", "maybe", "answer yes or no"),
    ],
)
def test_a_wrong_answer_is_told_and_nothing_written(page, tmp_path, place, answer, said):
    asked, found = page
    asked.fields[place].value = answer
    asked.write()
    assert said in asked.message.value and not found and not list(tmp_path.glob("*.toml"))


def test_what_the_own_file_says_is_left_to_it(tmp_path, monkeypatch):
    (tmp_path / "own.toml").write_text(
        '[job]\nunits = "si"\n[concrete]\nstrength = "C25/30"\n', encoding="utf-8"
    )
    monkeypatch.setenv("CALCBOOK_OWN", str(tmp_path / "own.toml"))
    found = []
    asked = NewJob(tmp_path, found.append)
    assert asked.fields["concrete.strength"].placeholder == "C25/30, by your own file"
    asked.fields["job.name"].value = "Shop"
    asked.write()
    made = Job.read(found[0])
    assert "concrete" not in made.raw and made.system == "si" and made.raw["job"]["own"] == "yes"


def test_the_outline_is_drawn_as_it_is_typed_with_its_area_or_says_what_is_wrong(page):
    asked, _ = page
    asked.sizes.value = "20 ft, 10 ft"
    assert "Area 200 ft²" in asked.drawing.value and "<img" in asked.drawing.value
    asked.sizes.value = "20 ft"
    assert "<img" not in asked.drawing.value and "Rectangle: length" in asked.drawing.value
    asked.fields["job.units"].value, asked.sizes.value = "si", "6, 4"
    assert "Area 24 m²" in asked.drawing.value


def test_on_the_pages_the_questions_unfold_and_write_beside_the_job(tmp_path, monkeypatch):
    from calcbook.paper.chooser import new_job_beside

    monkeypatch.setenv("CALCBOOK_OWN", str(tmp_path / "own.toml"))
    whole = new_job_beside(tmp_path / "workshop.toml")
    (button,) = whole.children
    button.click()
    *_, write, message = whole.children[1].children
    write.click()
    assert (tmp_path / "My slab.toml").is_file() and "/of/My%20slab/00-start" in message.value
    button.click()
    assert whole.children == (button,)
