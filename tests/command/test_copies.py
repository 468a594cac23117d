"""Notebooks beside a job: new versions come in, and nothing that a reader wrote is lost."""

import json
import shutil
from argparse import Namespace

import pytest
from server import NOTEBOOKS

from calcbook.command import lab
from calcbook.command.copies import bring_up_to_date, digest, untouched


def notebook(*sources, outputs=(), **more):
    cells = [{"cell_type": "code", "id": f"c{n}", "source": s, "outputs": list(outputs), "metadata": {}, "execution_count": None, **more}
             for n, s in enumerate(sources)]  # fmt: skip
    return json.dumps({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5})


@pytest.fixture
def origin(tmp_path):
    folder = tmp_path / "book"
    folder.mkdir()
    for name in ("a", "b"):
        (folder / f"{name}.ipynb").write_text(notebook(f"{name} = 1"), encoding="utf-8")
    (folder / "demo.toml").write_text("[slab]\n", encoding="utf-8")
    return folder


@pytest.fixture
def mine(tmp_path, origin):
    folder = tmp_path / "mine"
    folder.mkdir()
    assert bring_up_to_date(origin, folder) == []
    return folder


def upgrade(origin, text="a = 2"):
    (origin / "a.ipynb").write_text(notebook(text), encoding="utf-8")


def cells(folder):
    """What a reader can change in the notebooks of a folder, by digest."""
    return {p.name: digest(p) for p in folder.iterdir() if p.is_file()}


def texts(folder):
    return {p.name: p.read_text(encoding="utf-8") for p in folder.iterdir() if p.is_file()}


def test_all_is_copied_at_first_and_left_alone_by_the_same_version(origin, mine):
    assert cells(mine) == cells(origin)
    before = {p.name: p.stat().st_mtime_ns for p in mine.iterdir() if p.is_file()}
    assert bring_up_to_date(origin, mine) == []
    assert before == {p.name: p.stat().st_mtime_ns for p in mine.iterdir() if p.is_file()}


def test_a_copy_has_no_results_of_another_job_and_no_cell_that_a_stray_key_can_take(origin, mine):
    ran = notebook(
        "a = 1", outputs=[{"output_type": "stream", "name": "stdout", "text": "another job"}]
    )
    for folder in (
        origin,
        mine,
    ):  # the book's own results are the demo's; the reader's may be of any job
        (folder / "a.ipynb").write_text(ran, encoding="utf-8")
    bring_up_to_date(origin, mine)
    [cell] = json.loads((mine / "a.ipynb").read_text(encoding="utf-8"))["cells"]
    assert cell["outputs"] == [] and cell["metadata"] == {"editable": False, "deletable": False}


def test_only_what_the_book_put_there_is_trusted(origin, mine):
    (mine / "foreign.ipynb").write_text(notebook("evil"), encoding="utf-8")
    (mine / "b.ipynb").write_text(notebook("b = 2"), encoding="utf-8")
    assert [p.name for p in untouched(mine)] == ["a.ipynb"]


def test_a_notebook_that_was_only_run_is_replaced_by_the_new_one(origin, mine):
    run = notebook("a = 1", outputs=[{"output_type": "stream", "name": "stdout", "text": "1"}], id="x")
    (mine / "a.ipynb").write_text(run, encoding="utf-8")
    upgrade(origin)
    assert bring_up_to_date(origin, mine) == []
    assert cells(mine) == cells(origin)


CHANGES = {
    "a cell": notebook("a = 17"), "one more cell": notebook("a = 1", "mine"), "no cell": notebook(),
    "an attachment": notebook("a = 1", attachments={"x.png": {}}), "a kind": notebook("a = 1", cell_type="markdown"),
    "no notebook": "not json", "no cells": "[]", "empty": "",
}  # fmt: skip


@pytest.mark.parametrize("name", CHANGES)
def test_a_notebook_that_was_changed_is_kept_and_the_new_one_put_beside_it_once(origin, mine, name):
    (mine / "a.ipynb").write_text(CHANGES[name], encoding="utf-8")
    assert bring_up_to_date(origin, mine) == []  # no new version yet, so nothing to tell
    assert "a (new).ipynb" not in texts(mine)
    upgrade(origin)
    [told] = bring_up_to_date(origin, mine)
    assert "a.ipynb" in told and "a (new).ipynb" in told and "b.ipynb" not in told
    found = texts(mine)
    assert found["a.ipynb"] == CHANGES[name]
    assert cells(mine)["a (new).ipynb"] == cells(origin)["a.ipynb"]
    assert bring_up_to_date(origin, mine) == []  # told once
    (mine / "a (new).ipynb").unlink()
    assert bring_up_to_date(origin, mine) == [] and "a (new).ipynb" not in texts(mine)


def test_work_in_the_new_one_is_kept_as_well(origin, mine):
    (mine / "a.ipynb").write_text(notebook("a = 17"), encoding="utf-8")
    upgrade(origin)
    bring_up_to_date(origin, mine)
    upgrade(origin, "a = 3")
    assert "a (new).ipynb" in bring_up_to_date(origin, mine)[0]  # not touched, so it becomes the newest
    assert "a = 3" in texts(mine)["a (new).ipynb"]
    (mine / "a (new).ipynb").write_text(notebook("a = 18"), encoding="utf-8")
    upgrade(origin, "a = 4")
    assert "a (new 2).ipynb" in bring_up_to_date(origin, mine)[0]
    found = texts(mine)
    assert (
        "a = 17" in found["a.ipynb"]
        and "a = 18" in found["a (new).ipynb"]
        and "a = 4" in found["a (new 2).ipynb"]
    )


def test_a_file_of_the_readers_own_is_never_written_over(origin, mine):
    (mine / "a.ipynb").write_text(notebook("a = 17"), encoding="utf-8")
    (mine / "a (new).ipynb").write_text(notebook("my own"), encoding="utf-8")
    upgrade(origin)
    bring_up_to_date(origin, mine)
    assert "my own" in texts(mine)["a (new).ipynb"] and "a = 2" in texts(mine)["a (new 2).ipynb"]


@pytest.mark.parametrize("record", [None, "", "[]", "{", "\x00"])
def test_without_a_record_whatever_differs_counts_as_changed(origin, mine, record):
    """As in folders of earlier versions, or after a stop halfway."""
    path = mine / ".lab" / "copied.json"
    if record is None:
        shutil.rmtree(path.parent)
    else:
        path.write_text(record, encoding="utf-8")
    upgrade(origin)
    [told] = bring_up_to_date(origin, mine)
    assert "a (new).ipynb" in told and "a = 1" in texts(mine)["a.ipynb"]
    assert "b (new).ipynb" not in texts(mine)


def test_a_changed_demo_job_is_kept_and_an_unchanged_one_replaced(origin, mine):
    (origin / "demo.toml").write_text("[slab]\n# new\n", encoding="utf-8")
    assert bring_up_to_date(origin, mine) == [] and "# new" in texts(mine)["demo.toml"]
    (mine / "demo.toml").write_text("[slab]\n# mine\n", encoding="utf-8")
    (origin / "demo.toml").write_text("[slab]\n# newer\n", encoding="utf-8")
    assert bring_up_to_date(origin, mine) == [] and "# mine" in texts(mine)["demo.toml"]
    assert not [n for n in texts(mine) if "(new" in n]


def test_what_is_taken_out_comes_back_and_what_was_added_stays(origin, mine):
    (mine / "a.ipynb").unlink()
    (mine / "own.ipynb").write_text(notebook("own"), encoding="utf-8")
    bring_up_to_date(origin, mine)
    assert {"a.ipynb", "own.ipynb"} <= set(texts(mine))


def test_opening_tells_of_kept_notebooks_and_works_on_the_job(tmp_path, capsys, monkeypatch):
    job = tmp_path / "shed.toml"
    shutil.copyfile(NOTEBOOKS / "demo.toml", job)
    folder, _, told = lab.prepare(job)
    assert folder == tmp_path / "shed-book" and told == []
    (folder / "01-slab.ipynb").write_text(notebook("mine"), encoding="utf-8")
    (folder / ".lab" / "copied.json").unlink()  # as a folder of an earlier version
    monkeypatch.setattr("subprocess.call", lambda *words, **options: 0)
    assert lab.run_lab(Namespace(file=str(job), port=8888, no_browser=True)) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line for line in lines if "01-slab (new).ipynb" in line]
    assert cells(folder)["01-slab (new).ipynb"] == digest(NOTEBOOKS / "01-slab.ipynb")
    assert "mine" in (folder / "01-slab.ipynb").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", ["not json", "[]", "", "{}", '{"cells": 3, "nbformat": 4}'])
def test_a_notebook_that_the_reader_broke_does_not_keep_the_others_from_opening(tmp_path, text):
    job = tmp_path / "shed.toml"
    shutil.copyfile(NOTEBOOKS / "demo.toml", job)
    folder = lab.prepare(job)[0]
    (folder / "01-slab.ipynb").write_text(text, encoding="utf-8")
    assert lab.prepare(job)[2] == [] and (folder / "01-slab.ipynb").read_text(encoding="utf-8") == text
