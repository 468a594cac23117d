"""The engineer's copy: short, whole, and without the builder's own business."""

import re

import pypdfium2
import pytest

import calcbook
from calcbook.basis.blocks import Input
from calcbook.basis.calculation import OK, PRACTICE, Calculation
from calcbook.basis.units import Q
from calcbook.bolts.sill import bolt_stick_up
from calcbook.book.chapters import Book
from calcbook.book.registry import LATE
from calcbook.paper.engineer import (
    CHAPTERS,
    GOVERNS,
    NOT_CHECKED,
    NOT_IN_SHORT,
    engineer_pdf,
    engineering_checks,
    inputs_echoed,
)
from calcbook.paper.printout import number_of
from calcbook.paper.rests_on import assumed_below

SHORT = [name for name in CHAPTERS if name not in LATE]
BUSINESS = (r"\$\d", "wage", "overhead", "crew_", "crew.", "person-hour", "To order for")


def pages(data):
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(data)]


def squeezed(text):
    return re.sub(r"\s+", "", text)


@pytest.fixture(scope="module")
def book(demo):
    return Book(demo.changed({"job.revision": "B"}))


@pytest.fixture(scope="module")
def short(book):
    return pages(engineer_pdf(book, appendix=False))


@pytest.fixture(scope="module")
def whole(book):
    return pages(engineer_pdf(book))


def test_the_short_form_is_8_to_12_pages_with_version_date_and_revision(short, book):
    assert 8 <= len(short) <= 12
    for words in (f"calcbook {calcbook.__version__}", book.job.job.date, "Revision", "Reviewed by"):
        assert words in short[0]


def test_every_open_item_stands_there_whole_and_so_does_what_was_not_checked(short, book):
    text = squeezed("".join(short))
    for _, check in engineering_checks(book, SHORT):
        if check.status != OK:
            assert squeezed(check.claim) in text and squeezed(check.remark) in text
    for words in (*NOT_CHECKED, NOT_IN_SHORT):
        assert squeezed(words) in text


def test_governing_checks_stand_by_ratio_the_highest_first(short, book):
    text = squeezed("".join(short)).partition("Governingchecks")[2]
    found = [
        (k.ratio, squeezed(k.claim))
        for _, k in engineering_checks(book, SHORT)
        if (k.ratio or 0) >= GOVERNS
    ]
    places = [text.index(question) for _, question in sorted(found, key=lambda pair: -pair[0])]
    assert len(found) > 10 and places[0] == min(places)
    assert places[-1] > places[0]


def test_nothing_of_price_wage_crew_and_order_stands_in_it(whole):
    text = "".join(whole).replace("\r\n", " ")
    for word in BUSINESS:
        assert not re.search(word.replace(".", r"\."), text), word


def test_given_inputs_are_echoed_whole(short, book):
    text = squeezed("".join(short))
    echoed = inputs_echoed(book.job)
    assert {"slab", "pads P1", "walls south", "soil", "concrete"} <= set(echoed)
    for pairs in echoed.values():
        for key, value in pairs:
            assert squeezed(key + value) in text


def test_steps_keep_the_numbers_of_the_book(whole, book):
    text = squeezed("".join(whole))
    for name in ("slab", "joints", "bolts"):
        chapter = book.calculation(name)
        steps = [(n, s) for n, s in enumerate(chapter.steps, 1) if not chapter.is_for_builder(s)]
        assert len(steps) > 3
        for n, step in steps:
            head = step.term or step.words  # the term first, then its symbol and the sentence
            assert f"{number_of(book, name)}.{n}{squeezed(head)}" in text
            assert step.words.rstrip(".") == step.term or squeezed(step.words) in text


def test_a_check_names_the_defaults_it_rests_on_and_no_others(demo):
    """The pad's bending rests on the size of the post, which is a default; given, it is none any more."""
    for changes, named in (
        ({}, True),
        ({"pads.3.post_width": "6 in", "pads.3.post_length": "6 in"}, False),
    ):
        chapter = Book(demo.changed(changes)).calculation("pads")
        (check,) = (c for c in chapter.checks if c.title == "Bending moment of pad ridge beam")
        assert any("post, size along" in words for words in assumed_below(chapter, check)) == named


def test_a_default_of_another_quantity_with_the_same_value_is_not_named():
    """A washer's 1/2 in. is neither the spare thread nor how far a bolt strays; the mark's is the spare thread."""
    made = Calculation("bolts", "Bolts", "Which?")
    for place, symbol, meaning in (
        ("bolts.spare", "t_spare", "thread left above the nut"),
        ("bolts.place_spread", "sigma_b", "standard deviation of a cast bolt's place"),
    ):
        made.inputs.append(Input(symbol, meaning, "0.5 in.", place, "assumed", Q(0.5, "in")))
    h_s = made.step(bolt_stick_up, spare=Q(0.5, "in"))
    made.check("Plate washer to the sheathed edge", Q(1.25, "in"), Q(0.5, "in"), "in", PRACTICE)
    made.check("Height of the mark", h_s, Q(3, "in"), "in", PRACTICE)
    assert [assumed_below(made, check) for check in made.checks] == [
        [],
        ["thread left above the nut 0.5 in."],
    ]


def test_the_metric_copy_says_that_us_codes_judge(demo_si):
    first = pages(engineer_pdf(Book(demo_si), appendix=False))[0]
    assert "US codes judge" in first
