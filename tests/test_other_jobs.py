"""Every notebook, the printout and the quote run on jobs quite unlike the demo."""

import os
from pathlib import Path

import pytest
from IPython.core.interactiveshell import InteractiveShell
from nbformat import read
from server import NOTEBOOKS

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.paper.chooser import choose_job
from calcbook.paper.exercise import Exercise
from calcbook.paper.printout import compile_pdf

BARE = '[job]\nname = "bare"\n[slab]\nlength = "20 ft"\nwidth = "20 ft"\nthickness = "4 in"\n'
METRIC = """
[job]
name = "metric"
units = "si"
[slab]
points = [["0 m", "0 m"], ["9 m", "0 m"], ["9 m", "4 m"], ["5 m", "4 m"], ["5 m", "7 m"], ["0 m", "7 m"]]
thickness = "100 mm"
[[pads]]
name = "post"
x = "2 m"
y = "2 m"
dead = "20 kN"
live = "15 kN"
[soil]
bearing = "100 kPa"
"""
JOBS = {"bare": BARE, "metric": METRIC}


@pytest.fixture(params=JOBS)
def folder(request, tmp_path, monkeypatch):
    """A folder whose notebooks work on the job, as the working directory."""
    (tmp_path / "job.toml").write_text(JOBS[request.param], encoding="utf-8")
    choose_job(tmp_path / "job.toml", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def shown(monkeypatch):
    """The exercises that are shown while a test runs."""
    found = []
    monkeypatch.setattr(Exercise, "show", lambda self: found.append(self))
    return found


@pytest.mark.parametrize("notebook", sorted(p.name for p in NOTEBOOKS.glob("*.ipynb")))
def test_a_notebook_runs_and_its_exercises_judge(folder, notebook, shown):
    shell = InteractiveShell()
    for cell in read(NOTEBOOKS / notebook, as_version=4).cells:
        if cell.cell_type == "code":
            shell.run_cell(cell.source, silent=True).raise_error()
    assert len(shown) >= (0 if notebook.startswith(("00", "14", "15")) else 2)  # those teach no subject
    for exercise in shown:
        judge(exercise)


def judge(exercise):
    """The right answer passes, every foreseen miss is explained, anything else is refused kindly."""
    right, said = exercise.check(f"{exercise.answer!r} {exercise.written_unit}")
    assert right and exercise.because in said
    assert exercise.misses
    for value, why in exercise.misses:
        right, said = exercise.check(f"{value!r} {exercise.written_unit}")
        assert not right and why in said
    for typed in ("a lot", "-1e9", f"{3 * exercise.answer + 7!r} {exercise.written_unit}"):
        right, said = exercise.check(typed)
        assert not right and said.endswith(".")


def test_printout_and_quote_stand(folder):
    book = Book(Job.read(folder / "job.toml"))
    assert compile_pdf(book)[:4] == b"%PDF"
    assert book.quote.text() and book.quote.order.text()
    assert Path(os.getcwd()) == folder
