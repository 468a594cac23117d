"""Who goes before the book's figures is said on every page, paper and answer that someone could act on."""

import json

import pytest
from server import NOTEBOOKS

from calcbook.basis.safety import DEFERRAL
from calcbook.basis.sources import TABLES
from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS
from calcbook.command.cli import main
from calcbook.job.file import Job
from calcbook.paper.screen import answer_html
from calcbook.price.client import client_data

DEMO = str(NOTEBOOKS / "demo.toml")
COMMANDS = {
    "check": ["check", DEMO],
    "quote": ["quote", DEMO],
    "order": ["order", DEMO],
    "sweep": ["sweep", DEMO, "slab.thickness=5 in", "--processes", "1"],
    "value": ["value", "slab_volume", "A=100 ft2", "t=4 in"],
    "learn": ["learn", str(TABLES / "invented")],
}


def told(text):
    return " ".join(text.split())


def test_the_sentence_names_code_and_engineer():
    assert "local code" in DEFERRAL and "licensed engineer" in DEFERRAL


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_that_prints_figures_says_it(name, capsys):
    main(COMMANDS[name])
    assert DEFERRAL in told(capsys.readouterr().out)


def test_an_answer_for_machines_says_it_too(capsys):
    main([*COMMANDS["value"], "--json"])
    assert json.loads(capsys.readouterr().out)["note"] == DEFERRAL


@pytest.mark.parametrize("name", [*SUBJECTS, "quote"])
def test_every_page_says_it_whole_and_as_an_answer(name, demo_book):
    calc = demo_book.calculation(name)
    for page in (calc._repr_html_(), answer_html(calc)):
        assert "licensed engineer go before" in page


def test_a_page_without_anything_worked_out_says_it():
    bare = Book(Job({"slab": {"length": "20 ft", "width": "20 ft"}}))
    assert "licensed engineer go before" in bare.calculation("go")._repr_html_()


def test_the_client_s_page_says_it(demo_book):
    terms = client_data(demo_book.quote)["terms"]
    assert "local code" in terms and "licensed engineer" in terms


def test_the_papers_of_engineer_and_builder_say_it_at_the_foot_of_every_page():
    from calcbook.paper.printout import LAYOUT

    for layout in LAYOUT.parent.glob("*.typ"):
        text = layout.read_text(encoding="utf-8")
        if "paper(data" in text and layout.name != "look.typ":
            assert "licensed engineer" in text, layout.name
