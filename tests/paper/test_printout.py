"""The printout: its numbers are the library's, and nothing of it is cut or raw."""

import re
from types import SimpleNamespace

import pypdfium2
import pytest

from calcbook.basis.calculation import Calculation, Table
from calcbook.basis.typeset import pdf
from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS
from calcbook.job.assumptions import gathered_assumptions
from calcbook.paper.printout import (
    LAYOUT,
    compile_chapter,
    compile_pdf,
    cover_data,
    say_cautions_once,
    verdict_data,
)
from calcbook.paper.set_table import table_data
from calcbook.plan.drawing import chart


@pytest.fixture(scope="module", params=["demo", "demo_si"])
def printed(request):
    job = request.getfixturevalue(request.param)
    book = Book(job)
    pdf = pypdfium2.PdfDocument(compile_pdf(book))
    return book, [page.get_textpage().get_text_bounded() for page in pdf]


def squeezed(text):
    return re.sub(r"\s+", "", text)


def test_every_named_result_stands_in_the_printout_as_the_library_gives_it(printed):
    book, pages = printed
    text = squeezed("".join(pages))
    for chapter in book.chapters:
        for result in chapter.shown_results:
            assert squeezed(result.step.result_text) in text, (chapter.name, result.name)


def test_every_check_stands_in_the_summary_with_its_verdict(printed):
    book, pages = printed
    first = next(n for n, page in enumerate(pages) if "What goes in" in page)
    summary = squeezed("".join(pages[1:first]))
    for _, check in book.checks:
        assert squeezed(check.claim) in summary and squeezed(check.status) in summary


def test_every_assumption_and_every_source_is_listed(printed):
    book, pages = printed
    text = squeezed("".join(pages))
    for place, *_ in gathered_assumptions(book.job):
        assert squeezed(place) in text
    for chapter in book.chapters:
        for citation in chapter.sources:
            assert squeezed(citation.key) in text


def test_pages_are_numbered_and_say_what_the_paper_is(printed):
    _, pages = printed
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "Not a sealed design" in page
    assert "Reviewed by" in pages[0] and "Remarks" in pages[0]


def test_the_first_page_counts_the_open_checks(printed):
    book, pages = printed
    told = verdict_data(book.checks, "checks")
    assert squeezed(told["verdict"]) in squeezed(pages[0])
    for status, chapters in told["verdicts"]:
        assert squeezed(f"{status}: {chapters}") in squeezed(pages[0])


def test_open_checks_are_counted_by_verdict_and_chapter():
    pads, bolts = SimpleNamespace(title="Pads"), SimpleNamespace(title="Bolts")
    pairs = [
        (chapter, SimpleNamespace(status=status))
        for chapter, status in (
            (pads, "NOT OK"), (bolts, "NOT OK"), (bolts, "NOT OK"), (pads, "NEEDS ENGINEER"), (pads, "OK"),
        )
    ]  # fmt: skip
    told = verdict_data(pairs, "checks", "NO GO.")
    assert told["verdict"] == "4 of 5 checks are open. NO GO."
    assert told["verdicts"] == [("3 NOT OK", "Pads 1, Bolts 2"), ("1 NEEDS ENGINEER", "Pads 1")]
    assert verdict_data(pairs[-1:], "checks")["verdict"] == "All 1 checks are OK."


def test_a_caution_stands_once_in_each_part_of_the_paper():
    chapters = [
        {"part": part, "number": number, "cautions": list(cautions)}
        for part, number, cautions in (
            ("A", "1", "xy"),
            ("", "2", "yz"),
            ("", "3", "xz"),
            ("B", "4", "x"),
        )
    ]
    told = [chapter["cautions"] for chapter in say_cautions_once(chapters)]
    here = "The cautions of chapter{} hold here too."
    assert told == [["x", "y"], ["z", here.format(" 1")], [here.format("s 1 and 2")], ["x"]]


def test_the_heads_of_a_wide_table_give_way_before_its_numbers():
    """Each column of numbers is as wide as its widest number, and a combination of loads stays whole."""
    heads = ("Wall", *(f"By jamb or post, case {n}" for n in range(5)), "Jamb, 0.9 D + 1.0 W")
    told = table_data(Table("t", heads, (("south", *("1,161 lbf",) * 6),)))
    assert (
        told["shares"] == [0] * 7
        and max(len(line) for head in told["columns"][:6] for line in head.split("\n")) <= 9
    )
    assert told["columns"][-1].replace("\u00a0", " ").split("\n") == ["Jamb,", "0.9 D + 1.0 W"]


def test_no_raw_code_is_printed(printed):
    _, pages = printed
    text = "".join(pages)
    for raw in ("**", "pound_force", "cubic_yard", "dollar /", "\\text", "\\frac", "None", "nan"):
        assert raw not in text


def test_words_of_the_job_file_are_printed_as_they_stand(demo):
    nasty = '#import "x"; $x^2$ *bold* <tag> \\ `code` [a] = b "quoted" @ref'
    book = Book(demo.changed({"job.name": nasty, "openings.0.name": nasty, "slab.plate": False}))
    first = pypdfium2.PdfDocument(compile_pdf(book))[0].get_textpage().get_text_bounded()
    assert squeezed("$x^2$ *bold* <tag>") in squeezed(first)


def test_the_parts_of_the_book_are_its_chapters_each_run_once_and_when_it_is_come_to(demo, monkeypatch):
    ran = []
    made = Book._make
    monkeypatch.setattr(Book, "_make", lambda book, part: ran.append(part.name) or made(book, part))
    book = Book(demo)
    parts = book.parts()
    first = next(parts)
    assert [chapter.name for chapter in first] == [
        "loads",
        "slab",
        "pads",
        "edges",
        "joints",
        "reinforcement",
    ]
    assert "volume" in ran and not {"base", "bolts", "nights"} & set(ran)  # fiber rests on the volume
    rest = []
    for some in parts:
        assert (some[0].name == "plate") == ("plate" in ran)  # what takes long comes last
        rest += some
    together = {chapter.name: chapter for chapter in (*first, *rest)}
    assert rest[-1].name == "plate" and len(together) == len(first) + len(rest) == len(book.chapters)
    assert all(together[chapter.name] is chapter for chapter in book.chapters)
    assert len(ran) == len(set(ran)) and set(SUBJECTS) <= set(ran)


def test_a_chapter_alone_begins_on_its_first_page_and_fills_its_pages(demo):
    """Two figures too tall for one page, and more remarks than a page holds."""
    made = Calculation("tall", "Tall", "How tall is it?")
    for title in ("first", "second"):
        made.figure(title, lambda title=title: chart(6.5, 5.5, title)[0])
    for n in range(40):
        made.note(f"Remark {n}: " + "it stands here. " * 12)
    book = SimpleNamespace(job=demo, names=["tall"], calculation=lambda _: made)
    pages = [
        page.get_textpage().get_text_bounded()
        for page in pypdfium2.PdfDocument(compile_chapter(book, "tall"))
    ]
    first, second, *_ = pages
    assert "How tall is it?" in first and "first" in first
    assert "second" in second and "Remark 3:" in second


def test_a_table_said_to_be_low_is_lower_than_one_that_the_layout_parts(printed, tmp_path):
    book, _ = printed
    tables = [table_data(b) for c in book.chapters for b in c.blocks if isinstance(b, Table)]
    layout = tmp_path / "from" / "tables.typ"
    layout.parent.mkdir()
    look = LAYOUT.with_name("look.typ")
    layout.with_name("look.typ").write_text(look.read_text(encoding="utf-8"), encoding="utf-8")
    layout.write_text(
        '#import "look.typ": *\n#let data = json("data.json")\n#show: doc => paper(data, [], doc)\n'
        "#layout(size => for t in data.tables {\n"
        "  let high = measure(width: size.width, table-body(t)).height\n"
        "  assert(not t.low or high <= low-table, message: t.title)\n"
        "  if high <= low-table { [low] } else { [high] }\n})\n",
        encoding="utf-8",
    )
    paper = pdf(layout, cover_data(book.job) | {"tables": tables}, tmp_path)
    text = "".join(p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(paper))
    low = sum(t["low"] for t in tables)
    assert low > 0.6 * squeezed(text).count("low")  # most are known without measuring
    assert low < len(tables)
