"""A job from nothing, by questions in a real terminal, to the client's page; and what stands for it without one."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from calcbook.command import cli
from calcbook.command.fields import found, page, text
from calcbook.job.file import Job
from calcbook.job.questions import OUTLINE, QUESTIONS

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a pseudo-terminal is needed")
REST = [
    ("frost", ""),
    ("axle", ""),
    ("Reinforcement", ""),
    ("Strength", ""),
    ("Day of", ""),
    ("pump", ""),
    ("waiting", ""),
]


def asked(words, answers, folder):
    from terminal import talk

    return talk(words, answers, folder, {"CALCBOOK_OWN": str(folder / "own.toml")})


def command(words, folder):
    return subprocess.run(
        [sys.executable, "-m", "calcbook", *words], cwd=folder, capture_output=True, text=True, stdin=subprocess.DEVNULL,
        env={**os.environ, "CALCBOOK_OWN": str(folder / "own.toml")}, timeout=120,
    )  # fmt: skip


def _priced(folder, name, prices):
    """Answer what prices the job still needs, then write its client's page. prices: by key, as typed."""
    needed = [
        line.split()[0]
        for line in command(["prices", f"{name}.toml"], folder).stdout.splitlines()
        if "STILL NEEDED" in line
    ]
    assert set(needed) == set(prices)
    answers = []
    for key in needed:
        answers += [
            (f"{key}, ", prices[key]),
            *([] if key == "wage" else [("by whom", "Supply House (invented)")]),
        ]
    status, shown = asked(["prices", f"{name}.toml", "--ask"], answers, folder)
    assert status == 0 and "0 still needed" in shown and 'now says own = "yes"' in shown

    made = command(["quote", f"{name}.toml", "--client", "client.pdf"], folder)
    assert (
        made.returncode == 1  # checks are open, of a job without its loads
        and "Open: " in made.stdout
        and "Supply House (invented)" in made.stdout
        and "PRICE MISSING" not in made.stdout
    )
    assert (folder / "client.pdf").read_bytes().startswith(b"%PDF")
    return made.stdout


def test_from_nothing_to_a_clients_page_without_a_file_edited_by_hand(tmp_path):
    status, shown = asked(
        ["new", "garage.toml", "--picture", "plan.png"],
        [("called?", "Garage"), ("for?", "M. Lund (invented)"), ("meters", ""), ("Outline", ""), ("Length", "24"),
         ("Width", "30"), ("Is that", ""), ("thick is", "?"), ("thick is", "5"), ("How deep is", ""), ("frost", "10 in"),
         ("axle", "3600 lb"), ("Reinforcement", "mesh"), ("Strength", "3000"), ("Day of", "6/1/2026"), ("pump", "no"), ("waiting", "")], tmp_path,
    )  # fmt: skip
    assert status == 0
    for words in ("Area 720 ft², perimeter 108'-0\"", "side 1: right 24'-0\"", "read as 5 in", "5 to 6 in. where trucks",
                  "'3600 lb' is taken as 3,600 lbf, a force", "read as 2026-06-01"):  # fmt: skip
        assert words in " ".join(shown.split()), shown
    assert (tmp_path / "plan.png").read_bytes().startswith(b"\x89PNG")
    job = Job.read(tmp_path / "garage.toml")
    assert (
        job.slab.thickness.m_as("inch") == 5 and job.edge.depth.m_as("inch") == 13
    )  # 12 in. into the ground
    assert job.pour.date == "2026-06-01" and job.plan.area.m_as("ft**2") == pytest.approx(720)

    _priced(tmp_path, "garage", {
        "wage": "$46/hr", "concrete": "$172 per yard", "stone": "$31 a ton", "spoil": "$14/cy", "forms": "$1.90/ft",
        "retarder": "$215", "tape": "$32 each", "mesh": "$21 per sheet",
    })  # fmt: skip


def test_the_same_garage_in_meters_to_a_clients_page(tmp_path):
    """The numbers are those that are typed in, read back."""
    status, shown = asked(
        ["new", "garage.toml"],
        [("called?", "Garage"), ("for?", "M. Lund (invented)"), ("meters", "metric"), ("Outline", ""), ("Length", "7,2"),
         ("Width", "9 m"), ("Is that", ""), ("thick is", "125"), ("How deep is", ""), ("frost", "250 mm"),
         ("axle", "16 kN"), ("Reinforcement", "mesh"), ("Strength", "C20/25"), ("Day of", "1.6.2026"), ("pump", "no"), ("waiting", "")], tmp_path,
    )  # fmt: skip
    assert status == 0 and "Area 64.8 m², perimeter 32.400 m" in " ".join(shown.split()), shown
    job = Job.read(tmp_path / "garage.toml")
    assert job.slab.thickness.m_as("mm") == 125 and job.vehicle.axle.m_as("kN") == pytest.approx(16)
    told = _priced(tmp_path, "garage", {
        "wage": "38 EUR/h", "concrete": "145 EUR/m3", "stone": "24 EUR/t", "spoil": "18 EUR/m3", "forms": "5,20 EUR/m",
        "retarder": "190 EUR", "tape": "28 EUR", "mesh": "42 EUR",
    })  # fmt: skip
    assert "$" not in told and "m³" in told and "yd" not in told


def test_the_same_in_meters_by_walking_round_with_a_closing_error(tmp_path):
    status, shown = asked(
        ["new", "shop.toml"],
        [("called?", ""), ("for?", ""), ("meters", "metric"), ("Outline", "walk"), ("side 1", "right 12, up 5,4 m"),
         ("side 3", "left 3.6, up 3"), ("side 5", "left 8.3"), ("back goes left 0.100 m and down 8.400 m", "close"),
         ("side 6", "undo"), ("side 5", "left 8.4 m"), ("side 6", "close"), ("Is that", "no"), ("Outline", "L"), ("Whole length", "12"),
         ("Whole width", "8.4"), ("Notch", "3.6"), ("and its width", "3"), ("Is that", "yes"), ("thick is", ""), ("How deep is", ""), *REST],
        tmp_path,
    )  # fmt: skip
    assert (
        status == 0
        and "it does not close: the start lies left 0.100 m and down 8.400 m from here" in shown
    )
    assert shown.count("Area 90 m², perimeter 40.800 m") == 2
    job = Job.read(tmp_path / "shop.toml")
    assert job.system == "si" and job.raw["slab"]["points"][2] == ["12 m", "5.4 m"]
    assert job.slab.thickness.m_as("mm") == 100 and job.edge.depth.m_as("mm") == 360
    assert job.concrete.strength.m_as("MPa") == 21 and "frost_depth" not in job.raw.get("soil", {})
    assert cli.main(["check", str(tmp_path / "shop.toml")]) in (0, 1)


def test_a_wrong_answer_is_asked_again_and_the_end_of_input_writes_nothing(tmp_path):
    status, shown = asked(
        ["new", "x.toml"],
        [("called?", ""), ("for?", ""), ("meters", "cubits"), ("meters", ""), ("Outline", "circle"), ("Outline", "1"),
         ("Length", "24 psi"), ("Length", ""), ("Width", "0"), ("Width", ""), ("Is that", "maybe"), ("Is that", ""), ("thick is", "1 in"), ("thick is", "\x04")],
        tmp_path,
    )  # fmt: skip
    assert status == 2 and not (tmp_path / "x.toml").exists() and "Traceback" not in shown
    for words in ("is not one of these: us, si", "answer rectangle, L or walk", "is a pressure, not a length", "must be more than 0",
                  "answer yes or no", "must be at least 3.5 in.", "stopped; nothing is written"):  # fmt: skip
        assert words in " ".join(shown.split()), shown


@pytest.mark.parametrize("words", [["new", "x.toml"], ["prices", "--ask"]])
def test_without_a_terminal_nothing_hangs(words, tmp_path):
    done = command(words, tmp_path)
    assert done.returncode == 2 and done.stdout == "" and len(done.stderr.splitlines()) == 1
    assert "there is no terminal to ask in" in done.stderr and list(tmp_path.iterdir()) == []


def test_the_usual_mix_of_the_own_file_is_offered_and_followed(tmp_path):
    (tmp_path / "own.toml").write_text(
        '[job]\nunits = "si"\n[concrete]\nstrength = "C25/30"\n', encoding="utf-8"
    )
    _, shown = asked(
        ["new", "x.toml"],
        [("called?", ""), ("for?", ""), ("meters", ""), ("Outline", ""), ("Length", ""), ("Width", ""), ("Is that", ""), ("thick is", ""),
         ("How deep is", ""), *REST[:3], ("[C25/30]", "?"), ("[C25/30]", ""), *REST[4:]], tmp_path,
    )  # fmt: skip
    assert "Your own file says C25/30." in shown
    raw = tomllib.loads((tmp_path / "x.toml").read_text(encoding="utf-8"))
    assert raw["job"]["own"] == "yes" and "concrete" not in raw and "units" not in raw["job"]


def test_every_usual_answer_can_be_used():
    for question in QUESTIONS:
        for system in ("us", "si"):
            if question.place != OUTLINE and question.usual(system):
                question.read(question.usual(system), system)
            assert 20 < len(question.why) < 300


# --- fields ----------------------------------------------------------------------------------------


def test_fields_are_listed_by_section_or_by_words(capsys):
    assert cli.main(["fields", "retarder"]) == 0
    out = capsys.readouterr().out
    assert "[retarder]" in out and 'roll_width = "14 ft"' in out and "[prices]" not in out
    assert cli.main(["fields", "vapor", "barrier"]) == 0 and "retarder" in capsys.readouterr().out
    assert (
        cli.main(["fields", "xyzzy"]) == 2 and "no field speaks of 'xyzzy'" in capsys.readouterr().err
    )
    assert len(text(found("")).splitlines()) > 500


def test_each_section_of_the_page_of_fields_has_one_heading():
    heads = [line for line in page().splitlines() if line.startswith("## ")]
    assert len(heads) == len(set(heads)) > 30


def test_the_page_of_fields_is_as_the_book_writes_it():
    kept = (Path(__file__).parents[2] / "calcbook" / "fields.md").read_text(encoding="utf-8")
    assert kept == page(), "run python -m calcbook.command.fields"
