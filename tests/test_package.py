"""The package as a whole: cheap to import, its public names there."""

import os
import statistics
import subprocess
import sys
import time
import urllib.request
import zipfile
from pathlib import Path

import pytest
import server

import calcbook


def seconds(module):
    found = []
    for _ in range(5):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", f"import {module}"], check=True)
        found.append(time.perf_counter() - start)
    return statistics.median(found)


def test_importing_the_package_costs_at_most_one_and_a_half_times_importing_pint():
    assert seconds("calcbook") <= 1.5 * seconds("pint")


def test_every_public_name_is_there():
    for name in calcbook.__all__:
        assert getattr(calcbook, name) is not None


def test_the_two_demo_jobs_are_twins():
    from si_twin import NOTEBOOKS, twin

    demo = (NOTEBOOKS / "demo.toml").read_text(encoding="utf-8")
    assert (NOTEBOOKS / "demo-si.toml").read_text(encoding="utf-8") == twin(demo), (
        "run tests/si_twin.py"
    )


ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """The wheel, built from this folder without a network and unpacked as an installer would."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder], cwd=ROOT, check=True
    )
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as file:
        file.extractall(folder / "site")
    return folder / "site"


def test_the_wheel_holds_the_book(installed):
    for folder in ("notebooks", "calcbook", "calcbook/tables"):
        kept = installed / "calcbook" / folder if folder == "notebooks" else installed / folder
        for path in (ROOT / folder).iterdir():
            if path.suffix in (".ipynb", ".toml", ".py", ".csv", ".json", ".typ", ".typed"):
                assert (kept / path.name).exists(), path.name


def test_the_wheel_works_outside_the_checkout(installed, tmp_path):
    """A job is made, and its notebooks are copied beside it, all from the unpacked wheel."""
    code = (
        "from pathlib import Path; from calcbook.command import cli, lab; cli.main(['new', 'x.toml', '--blank']); "
        "print(cli.__file__); print(*lab.prepare(Path('x.toml'))[:2], sep='\\n')"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(installed)},
    )  # fmt: skip
    *_, module, folder, job = run.stdout.splitlines()
    assert Path(module).is_relative_to(installed)
    assert Path(job) == tmp_path / "x.toml" and Path(folder) == tmp_path / "x-book"
    assert (Path(folder) / "current-job.txt").read_text(encoding="utf-8").strip() == job
    there = {path.name for path in Path(folder).glob("*.ipynb")}
    assert there == {path.name for path in (ROOT / "notebooks").glob("*.ipynb")}


def started(installed, folder, *words):
    """A command of the unpacked wheel, run in a folder outside of the checkout."""
    return subprocess.run(
        [sys.executable, "-P", "-m", "calcbook", *words], cwd=folder, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(installed)},
    )  # fmt: skip


def test_the_wheel_prints_a_job_outside_the_checkout(installed, tmp_path):
    (tmp_path / "x.toml").write_text(
        '[slab]\nlength = "20 ft"\nwidth = "16 ft"\nplate = false\n', encoding="utf-8"
    )
    run = started(installed, tmp_path, "print", "x.toml", "-o", "x.pdf")
    assert (run.returncode, run.stderr) == (1, "")  # what a job leaves open
    assert (tmp_path / "x.pdf").read_bytes().startswith(b"%PDF")


def test_the_wheel_works_through_the_demo_outside_the_checkout(installed, tmp_path):
    run = started(installed, tmp_path, "demo")
    assert (run.returncode, run.stderr) == (0, "")
    made = {path.name for path in (tmp_path / "calcbook-demo").iterdir()}
    assert made == {"demo.toml", "demo-si.toml", "demo.pdf"}
    assert (tmp_path / "calcbook-demo" / "demo.pdf").read_bytes().startswith(b"%PDF")


def test_the_wheel_opens_its_pages_outside_the_checkout(installed, tmp_path, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", str(installed))
    with server.running("open", tmp_path) as (address, job):
        page = f"{address}/01-slab?token={server.TOKEN}"
        reader = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        with reader.open(page, timeout=120) as answer:
            assert answer.status == 200 and b"calcbook" in answer.read().lower()
    assert job.parent == tmp_path


def test_one_formula_is_evaluated_without_the_reader_of_job_files_or_shapes():
    loaded = subprocess.run(
        [sys.executable, "-c", "import sys; from calcbook.command.cli import main; "
         "main(['value', 'slab_volume', 'A=1120 ft2', 't=5 in']); "
         "print({'pydantic', 'shapely', 'matplotlib'} & set(sys.modules))"],
        check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    assert "slab_volume = 17.28 yd³" in loaded and loaded.endswith("set()\n")
