"""A machine without fonts: the printout, the client's page and the drawings show every letter."""

import functools
import io
import re
import warnings
import zlib

import pypdfium2
import pytest
import typst
from matplotlib import font_manager

from calcbook.basis.typeset import FONTS
from calcbook.book.chapters import Book
from calcbook.paper.printout import compile_pdf
from calcbook.price.client import client_pdf

OURS = "✗▲✓−×²°·–"  # signs that the pages of a job in trouble show
FAMILIES = {"LibertinusSerif", "NewCMMath", "DejaVuSans", "DejaVuSansMono"}


@pytest.fixture
def no_system_fonts(monkeypatch):
    monkeypatch.setattr(typst, "compile", functools.partial(typst.compile, ignore_system_fonts=True))


def streams(pdf):
    """What the pages and figures of a PDF draw, as bytes."""
    for found in re.finditer(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.S):
        try:
            drawn = zlib.decompress(found[1])
        except zlib.error:
            continue
        if re.search(rb"BT\s.*\d Tf\s", drawn, re.S):
            yield drawn


def glyphs(pdf):
    """Numbers of all glyphs that are shown; 0 is the box that stands for a letter without a glyph."""
    for drawn in streams(pdf):
        for text in shown_strings(drawn):
            yield from (text[k] * 256 + text[k + 1] for k in range(0, len(text), 2))


_ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_TOKEN = re.compile(rb"\(|<[0-9A-Fa-f\s]*>|[A-Za-z'\"*]+|[^(<A-Za-z'\"*]+|<", re.S)
_PART = re.compile(rb"\\([0-7]{1,3}|.)|([()])|[^\\()]+", re.S)


def shown_strings(drawn):
    """The strings that the operators Tj and TJ of a page show, as bytes."""
    at, waiting = 0, []
    while at < len(drawn):
        token = _TOKEN.match(drawn, at)
        at = token.end()
        if token[0] == b"(":
            text, at = literal(drawn, at)
            waiting.append(text)
        elif token[0][:1] == b"<" and len(token[0]) > 1:
            waiting.append(bytes.fromhex(token[0][1:-1].decode()))
        elif token[0][:1].isalpha():
            if token[0] in (b"Tj", b"TJ"):
                yield from waiting
            waiting = []


def literal(drawn, at):
    """The bytes of a string in brackets, from behind the opening one, and where it ends."""
    found, depth = [], 1
    while depth:
        part = _PART.match(drawn, at)
        at = part.end()
        if part[1] is not None:
            code = part[1]
            found.append(bytes([int(code, 8)]) if code.isdigit() else _ESCAPES.get(code, code))
            continue
        depth += {b"(": 1, b")": -1}.get(part[2], 0)
        if depth:
            found.append(part[0])
    return b"".join(found), at


def fonts(pdf):
    """Names of the fonts that a PDF has with it."""
    names = re.findall(rb"/BaseFont\s*/(?:[A-Z]{6}\+)?([A-Za-z0-9]+)", pdf)
    for found in re.finditer(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.S):
        try:
            names += re.findall(
                rb"/BaseFont\s*/(?:[A-Z]{6}\+)?([A-Za-z0-9]+)", zlib.decompress(found[1])
            )
        except zlib.error:
            continue
    return {name.decode() for name in names}


def words(pdf):
    return "".join(p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(pdf))


def test_the_box_for_a_missing_letter_would_be_seen(no_system_fonts, tmp_path):
    path = tmp_path / "a.typ"
    path.write_text("A\U00013000B", encoding="utf-8")
    assert 0 in set(glyphs(typst.compile(str(path))))
    path.write_text("AB (\\ %)", encoding="utf-8")
    assert 0 not in set(glyphs(typst.compile(str(path))))


def troubled(demo):
    """One slab of the demo, as the chapters of the second have the same letters, with checks that fail and checks that
    need an engineer."""
    trouble = {"slab.thickness": "3.5 in", "soil.bearing": "300 psf", "concrete.slump": "8 in"}
    return demo.changed({"slabs": None, "between": None, **trouble})


@pytest.fixture(scope="module")
def metric(demo_si):
    return Book(troubled(demo_si))


def test_the_printout_is_whole_without_any_font_of_the_system(metric, no_system_fonts):
    pdf = compile_pdf(metric)
    shown = list(glyphs(pdf))
    assert len(shown) > 20_000 and 0 not in shown
    found = fonts(pdf)
    assert found and all(any(name.startswith(f) for f in FAMILIES) for name in found), found
    text = words(pdf)
    for sign in OURS + "³C":
        assert sign in text, sign


def test_the_clients_page_is_whole_without_any_font_of_the_system(demo, no_system_fonts):
    job = demo.changed({"job.note": "½", "job.client": "Ærøskøbing Bådelaug ✓ №1 ₂"})
    pdf = client_pdf(Book(job).quote)
    assert 0 not in set(glyphs(pdf)) and "Ærøskøbing Bådelaug ✓ №1" in words(pdf)


def test_figures_are_drawn_with_the_fonts_that_matplotlib_brings(demo, metric, monkeypatch):
    """Of the job in feet; its plate alone, which takes longer than all else, is that of the printout."""
    own = [f for f in font_manager.fontManager.ttflist if str(FONTS) in str(f.fname)]
    monkeypatch.setattr(font_manager.fontManager, "ttflist", own)
    font_manager.FontManager._findfont_cached.cache_clear()
    book = Book(troubled(demo).changed({"slab.plate": False}))
    for chapter in [*book.chapters, metric.plate.calculation]:
        for figure in chapter.figures:
            out = io.StringIO()
            with warnings.catch_warnings():
                warnings.simplefilter("error")  # matplotlib warns of a letter it has no glyph for
                figure.draw().savefig(out, format="svg")
            assert "<text" not in out.getvalue()  # outlines: a browser needs no font for them
