"""Text of the job file stays text in the screen, the printout, the client's page, drawings and CSV."""

import csv
import io
import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pypdfium2
import pytest
from hostile import LONG, NASTY, UNBALANCED, nasty_job

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.paper.printout import compile_pdf
from calcbook.paper.screen import assumptions_html, headlines_html
from calcbook.price.client import client_pdf


@pytest.fixture(scope="module")
def book():
    return Book(Job(nasty_job()))


def words_of(pdf):
    """The letters of a PDF in one string, without spaces and line ends."""
    pages = pypdfium2.PdfDocument(pdf)
    return re.sub(
        r"[\s\ufffe\u00ad\u200b-]+", "", "".join(p.get_textpage().get_text_bounded() for p in pages)
    )


class Seen(HTMLParser):
    """Tags, attributes and text of a page."""

    def __init__(self):
        super().__init__()
        self.tags, self.attributes, self.text = set(), set(), []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data):
        self.text.append(data)


KNOWN_TAGS = {
    "b", "br", "div", "h3", "li", "p", "span", "style", "table", "tbody", "td", "th", "thead", "tr", "ul",
}  # fmt: skip


def test_no_text_becomes_markup_on_the_screen(book):
    pages = [c._repr_html_() for c in book.chapters]
    pages += [headlines_html(book), assumptions_html(book.job)]
    shown = ""
    for page in pages:
        seen = Seen()
        seen.feed(page)
        assert seen.tags <= KNOWN_TAGS and seen.attributes <= {"class", "role"}, seen.tags - KNOWN_TAGS
        shown += "".join(seen.text)
    assert NASTY in shown and UNBALANCED in shown and LONG in shown


def test_mathematics_is_looked_for_only_where_the_book_wrote_it(book):
    for chapter in book.chapters:
        page = chapter._repr_html_()
        assert page.count("mathjax_ignore") == 1
        for mathematics in re.findall(r"mathjax_process[^>]*>([^<]*)<", page):
            assert "x^2" not in mathematics and "undefined" not in mathematics


def test_no_text_becomes_markup_in_the_printout(book):
    words = words_of(compile_pdf(book))
    for text in (NASTY, UNBALANCED, LONG):  # a word too long for the page is broken, not cut off
        assert re.sub(r"[\s-]+", "", text) in words


def test_no_text_becomes_markup_on_the_clients_page(book):
    pdf = client_pdf(book.quote)
    words = words_of(pdf)
    for text in (NASTY, UNBALANCED, LONG):
        assert re.sub(r"[\s-]+", "", text) in words


def test_drawings_show_names_letter_by_letter(book):
    from matplotlib import rc_context

    drawn = ""
    for chapter in book.chapters:
        for figure in chapter.figures:
            out = io.StringIO()
            with rc_context({"svg.fonttype": "none"}):
                figure.draw().savefig(out, format="svg")
            drawn += "\n".join(t for t in ElementTree.fromstring(out.getvalue()).itertext())
    assert NASTY in drawn and UNBALANCED in drawn


def test_no_cell_of_the_csv_is_a_formula(book):
    rows = list(csv.reader(io.StringIO(book.quote.csv())))
    names = [row[0] for row in rows]
    assert {"'=cmd|' /C calc'!A0", "'+1", "'-1", "' =1", "'@SUM(A1)", f"'{NASTY}"} <= set(names)
    for row in rows:
        for cell in row:
            assert cell.lstrip()[:1] not in ("=", "+", "-", "@") or not cell, cell


def test_the_terminal_gets_no_control_characters(book):
    out = book.quote.text() + book.quote.order.text()
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", out)
