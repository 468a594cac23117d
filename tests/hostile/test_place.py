"""The command in places that are not as they should be: its locale, its folders, its pipe."""

import locale
import os
import subprocess
import sys

import matplotlib
import pytest
from server import NOTEBOOKS

from calcbook.command import cli

DEMO = NOTEBOOKS / "demo.toml"
# 57000 sqrt(3000) psi, ACI 318-19 19.2.2.1(b); its module needs no drawing, so it starts quickly
ONE_FORMULA = ("value", "concrete_modulus", "f_c=3000 psi")
ANSWER = "concrete_modulus = 3,120,000 psi"
DRAWS = ("value", "slab_volume", "A=1120 ft2", "t=5 in")  # its module loads matplotlib


def start(*words, **changed):
    """The command in a process of its own; a variable of None is taken out of its environment."""
    environment = {k: v for k, v in {**os.environ, **changed}.items() if v is not None}
    return subprocess.Popen(
        [sys.executable, "-m", "calcbook", *map(str, words)],
        env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def run(*words, **changed):
    process = start(*words, **changed)
    out, err = process.communicate(timeout=30)
    return process.returncode, out, err


ASCII = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": None}


def test_a_terminal_without_the_letters_gets_plain_ones():
    status, out, err = run("quote", DEMO, **ASCII)
    assert status == 1 and err == b"" and b"yd3" in out and out.isascii()  # one check is open


def test_another_locale_changes_no_number():
    before = locale.setlocale(locale.LC_ALL)
    try:
        locale.setlocale(locale.LC_ALL, "de_DE.UTF-8")
    except locale.Error:
        pytest.skip("no German locale here")
    finally:
        locale.setlocale(locale.LC_ALL, before)
    status, out, _ = run(*ONE_FORMULA, LC_ALL="de_DE.UTF-8")
    assert status == 0 and ANSWER in out.decode("utf-8")


def test_without_a_home_and_with_an_unwritable_cache_it_runs(tmp_path):
    (tmp_path / "file").write_text("")
    under_a_file = str(tmp_path / "file" / "x")
    for words, answer, changed in (
        (ONE_FORMULA, ANSWER, {"HOME": None, "XDG_CACHE_HOME": None}),
        (DRAWS, "17.28 yd³", {"HOME": under_a_file, "XDG_CACHE_HOME": under_a_file}),
    ):
        status, out, err = run(*words, **changed)
        assert (status, err) == (0, b"") and answer in out.decode("utf-8")


def test_two_that_start_at_once_both_answer(tmp_path):
    there = {"XDG_CACHE_HOME": str(tmp_path), "MPLCONFIGDIR": matplotlib.get_cachedir()}
    for process in [start(*ONE_FORMULA, **there) for _ in range(2)]:
        out, err = process.communicate(timeout=30)
        assert process.returncode == 0 and err == b"" and ANSWER in out.decode("utf-8")
    assert not list(tmp_path.iterdir())  # nothing of the book's own is kept there


def test_a_reader_that_goes_away_is_no_error():
    process = start("value")
    process.stdout.readline()
    process.stdout.close()
    assert process.wait(timeout=30) == 0 and process.stderr.read() == b""
    process.stderr.close()


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    path = tmp_path_factory.mktemp("small") / "small.toml"
    path.write_text('[slab]\nlength = "20 ft"\nwidth = "16 ft"\nplate = false\n', encoding="utf-8")
    return path


@pytest.mark.parametrize("target", ["folder", "file/under"])
@pytest.mark.parametrize(
    "words",
    [("quote", "JOB", "--csv"), ("compare", "JOB", "JOB", "--csv"), ("new", "--blank")],
    ids=["quote --csv", "compare --csv", "new"],
)  # fmt: skip
def test_where_nothing_can_be_written_is_told_in_a_sentence(words, target, small, tmp_path, capsys):
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_text("kept")
    given = [str(small) if word == "JOB" else word for word in words]
    assert cli.main([*given, str(tmp_path / target)]) == 2
    err = capsys.readouterr().err
    assert len(err.splitlines()) == 1 and str(tmp_path / target) in err
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file", "folder"]
    assert (tmp_path / "file").read_text() == "kept" and not list((tmp_path / "folder").iterdir())


@pytest.mark.parametrize("name", ["file", "file/under"])
def test_the_demo_is_not_put_where_a_file_is(name, tmp_path, capsys):
    (tmp_path / "file").write_text("kept")
    assert cli.main(["demo", str(tmp_path / name)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert (tmp_path / "file").read_text() == "kept"


def test_the_name_of_a_job_is_never_a_path(tmp_path, monkeypatch):
    home = tmp_path / "a" / "b"
    home.mkdir(parents=True)
    text = DEMO.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("name ="))
    (home / "job.toml").write_text(text.replace(line, 'name = "../../out/../x"', 1), encoding="utf-8")
    monkeypatch.setattr("calcbook.paper.printout.compile_pdf", lambda book, since=None: b"%PDF")
    monkeypatch.chdir(home)
    assert cli.main(["print", "job.toml"]) in (0, 1)
    written = sorted(str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*") if p.is_file())
    assert written == ["a/b/job.pdf", "a/b/job.toml"]
