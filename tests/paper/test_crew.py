"""The crew's page: two pages at most, what is taped and snapped, the clock, and what to load."""

import re

import pypdfium2
import pytest
import server
from hypothesis import given
from hypothesis import strategies as st

from calcbook.basis.safety import cautions_of
from calcbook.bolts.lists import ANCHOR_TAPE, ANCHOR_WORDS, TAPE_LIST
from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.paper.crew import SET, SNAP, crew_data, grade_marks
from calcbook.paper.crew_paper import bolt_columns, crew_html, crew_pdf, largest_that_fits, phone_plan
from calcbook.plan.drawing import SMALL
from calcbook.pour.charts import clock_text
from calcbook.pour.day import STOP_SIGNS


@pytest.fixture(scope="module", params=["demo", "demo_si"])
def book(request):
    return request.getfixturevalue(f"{request.param}_book")


@pytest.fixture(scope="module")
def page(book):
    return crew_html(book)


def squeezed(text):
    return re.sub(r"\s+", "", text)


def plain(page):
    return squeezed(re.sub(r"<[^>]+>", "", re.sub(r"<(style|svg).*?</\1>", "", page, flags=re.S))
                    .replace("&quot;", '"').replace("&#x27;", "'").replace("&amp;", "&"))  # fmt: skip


def test_the_paper_is_two_pages_at_most_and_says_what_the_page_for_the_telephone_says(book, page):
    paper = pypdfium2.PdfDocument(crew_pdf(book))
    assert len(paper) <= 2
    for one in paper:  # three lines of 8 points are left above the foot, which begins 13 mm up
        words = one.get_textpage()
        lows = [words.get_rect(n)[1] for n in range(words.count_rects())]
        assert min(low for low in lows if low > 30) > 13 / 25.4 * 72 + 3 * 8
    text = squeezed("".join(one.get_textpage().get_text_bounded() for one in paper))
    data = crew_data(book)
    for told in (text, plain(page)):
        for rows in (data["clock"], data["missing"], data["signs"], data["grades"], data["calls"]):
            for row in rows:
                assert all(squeezed(cell) in told for cell in row), row
        for pour in data["pours"]:
            assert squeezed(f"The pour of {pour['name']}: {pour['when']}") in told
            assert all(
                squeezed(cell) in told for row in (*pour["clock"], *pour["concrete"]) for cell in row
            )
        for words in (*data["joints"], *(thing for _, things in data["load"] for thing in things)):
            assert squeezed(words) in told


def sloping(**slope):
    return Job({
        "slab": {"length": "24 ft", "width": "20 ft", "thickness": "5 in", "above_grade": "6 in"}, "edge": {"depth": "12 in"},
        "base": {"thickness": "4 in"}, "slope": {"fall": "1/8 in/ft", **slope},
    })  # fmt: skip


def test_depths_below_the_forms_of_a_sloping_top_are_told_from_its_highest_place():
    """24 ft at 1/8 in. rise 3 in.: over a level base the high side is 8 in. thick and 9 in. above the ground (by hand)."""
    rows = dict(grade_marks(sloping(direction="0 deg")))
    assert next(iter(rows)) == "from the highest place"
    assert rows["ground outside"] == '9"'
    assert rows["top of the stone, under the slab"] == '8"'
    assert rows["bottom of the stone"] == "1'-0\""
    assert [v for k, v in rows.items() if k.startswith("bottom of the thickened edge")] == ["1'-8\""]
    along = dict(grade_marks(sloping(direction="0 deg", underside="sloped too")))
    assert next(iter(along)) == "from the finished top at each place"
    assert along["top of the stone, under the slab"] == '5"'
    assert along["ground outside, at the low side"] == '6"'


def test_the_depth_of_a_pad_under_a_sloping_top_is_told_from_where_the_other_depths_are():
    """The high side is 8 in. thick (by hand, as above), so the bottom of a pad 9 in. below the slab is 1'-5" down."""
    pads = [
        {"name": "P", "x": "12 ft", "y": "10 ft", "length": "24 in", "width": "24 in", "depth": "9 in"}
    ]
    heads = {}
    for slope in ({}, {"underside": "sloped too"}, None):
        job = sloping(direction="0 deg", **(slope or {})).changed({"pads": pads})
        job = job if slope is not None else job.changed({"slope": {}})
        (table,) = [t for t in crew_data(Book(job))["tables"] if t["title"].startswith("Pads")]
        heads[table["columns"][-1]] = table["rows"][0][-1]
    assert heads == {
        "bottom, from the highest place": "1'-5\"",
        "bottom, from the finished top at each place": "1'-2\"",
        "bottom below the form tops": "1'-2\"",
    }


@pytest.mark.parametrize("least", range(1, 7))
def test_the_largest_letters_that_fit_are_found_in_three_tries_and_the_smallest_if_none_do(least):
    tried = []

    def of_size(size):
        tried.append(size)
        return size <= least, str(size).encode()

    assert largest_that_fits((5, 4, 3, 2, 1), of_size) == str(min(least, 5)).encode()
    assert len(tried) <= 3
    assert largest_that_fits((5, 4, 3), lambda size: (False, str(size).encode())) == b"3"


def test_every_bolt_of_every_tape_list_stands_there(book, page):
    lists = [
        b for b in book.calculation("bolts").blocks if getattr(b, "title", "").startswith(TAPE_LIST)
    ]
    data = crew_data(book)["bolts"]
    assert len(data) == len(lists) > 4
    for wall, told in zip(data, lists, strict=True):
        assert [row[1] for row in wall["rows"]] == [row[1] for row in told.rows]
        assert squeezed(wall["title"].partition(":")[2]) in plain(page)


@given(st.lists(st.integers(1, 60), max_size=9))
def test_tape_lists_stand_in_three_even_columns_in_order_with_every_bolt_once(counts):
    """A list of 34 bolts had been printed over itself at the foot of a page."""
    walls = [
        {"title": f"w{k}: at A", "rows": [[k, n] for n in range(count)]}
        for k, count in enumerate(counts)
    ]
    columns = bolt_columns(walls)
    assert [r for c in columns for w in c for r in w["rows"]] == [r for w in walls for r in w["rows"]]
    heights = [sum(4 + len(w["rows"]) for w in c) for c in columns]
    assert len(columns) <= 3 and all(heights)
    assert max(heights, default=0) <= sum(heights) / 3 + max(counts, default=0) + 4
    pieces = [w for c in columns for w in c]
    assert all(w["head"][1] == " goes on" for w in pieces if w["rows"][0][1])


def test_every_anchor_of_a_hold_down_stands_there_as_it_is_taped_and_set(book, page):
    (told,) = (b for b in book.calculation("bolts").blocks if getattr(b, "title", "") == ANCHOR_TAPE)
    (anchors,) = crew_data(book)["anchors"]
    pieces = [p for w in book.job.walls for p in w.braced if p.hold_down is not None]
    assert sum(len(row[2].split("; ")) for row in told.rows) == 2 * len(pieces) > 8
    assert anchors["rows"][: len(told.rows)] == [list(row) for row in told.rows]
    (post,) = anchors["rows"][len(told.rows) :]
    assert post[0] == "post ridge beam" and "hexagonal head" in post[3]
    for words in (ANCHOR_WORDS, *(cell for row in told.rows for cell in row), *post):
        assert squeezed(words) in plain(page)


def test_stop_signs_and_cautions_stand_there(page):
    for _, sign, _ in STOP_SIGNS:
        assert squeezed(sign) in plain(page)
    for words in cautions_of("pour_day"):
        assert squeezed(words) in plain(page)


def test_a_machine_that_does_not_come_gives_the_day_of_the_plan_without_it(book):
    day, begin = book.day, book.job.pour.moment()
    told = {name: (at, words) for name, at, words in crew_data(book)["missing"]}
    at, words = told["power trowel"]
    assert at == clock_text(begin, min(t.early[0] for t in day.plan.tasks if t.name == "floating"))
    assert f"{day.by_hand.work:.1f} h of work" in words
    assert ("NOT keep up" in words) == (not day.by_hand.keeps_up)
    assert clock_text(begin, day.screeded.placed) in told["power screed"][1]
    # batched 25 min before it is on site at 07:30
    assert crew_data(book)["decide"].startswith("Decide by 07:05, ")


def test_open_checks_of_other_chapters_are_counted_on_the_page():
    """An edge too shallow for frost is no check of the day; the crew that digs it is told that one is open."""
    book = Book(Job({"slab": {"length": "20 ft", "width": "16 ft"}, "soil": {"frost_depth": "40 in"}}))
    told, open_ones = crew_data(book)["open"], [c for _, c in book.priced_checks if c.status != "OK"]
    assert (
        f"{len(open_ones) - len(told) + 1} more in other chapters: ask before digging or pouring"
        in told
    )


def test_a_day_that_must_not_be_poured_is_no_go_on_the_page_first_of_all(demo, page):
    late = Book(demo.changed({"crew.finishers": 1}))  # one finisher cannot keep up with the set
    assert late.calculation("go").results["go"] is False
    assert re.search(r'class="open"><b>NO GO by these figures', crew_html(late))
    assert "NO GO" not in page and "<b>Still open:" in page


def test_without_a_pump_the_page_says_what_a_chute_reaches(demo, book):
    """A chute reaches 16 ft (common practice): all of a slab 32 ft wide, and 8 ft x 8 ft less of one of 40 ft."""
    told = dict((name, words) for name, _, words in crew_data(book)["missing"])
    assert "all of the slab" in told["pump"]
    raw = {"slab": {"length": "40 ft", "width": "40 ft", "thickness": "6 in"}, "pour": {"pump": True}}
    wide = dict((name, words) for name, _, words in crew_data(Book(Job(raw)))["missing"])
    assert "64 ft² (1.185 yd³)" in wide["pump"]


def test_tools_follow_people_and_work(demo):
    load = dict(
        crew_data(Book(demo.changed({"crew.size": 9, "crew.finishers": 5, "pour.pump": False})))["load"]
    )
    assert any(thing.startswith("9 × set of rubber boots") for thing in load["For each person"])
    assert "5 × pair of boards to kneel on" in load["Finishing"]
    assert any("wheelbarrow" in thing for thing in load["Placing"])
    rented = [
        {
            "name": "power trowel",
            "days": 1,
            "rate": "$95 / day",
            "source": "Lakeside Rental (invented)",
            "pick_up": "6:00, Mill Road",
        }
    ]
    load = dict(
        crew_data(Book(demo.changed({"prices.rental": rented, "pour.blanket": "none"})))["load"]
    )
    assert (
        "hired: power trowel, from Lakeside Rental (invented); pickup: 6:00, Mill Road"
        in load["Machines"]
    )
    assert not any("blanket" in thing for thing in load["Cover"])


def test_without_weather_the_page_says_why_there_is_no_clock():
    book = Book(Job({"slab": {"length": "16 ft", "width": "20 ft"}}))
    data = crew_data(book)
    assert data["no_clock"].startswith("No clock: ") and all(not row[0] for row in data["clock"])
    assert "not worked out" in dict((row[0], row[2]) for row in data["missing"])["power trowel"]


def test_joints_and_openings_are_those_of_the_chapters(book, page):
    (snap,) = (b for b in book.calculation("joints").blocks if getattr(b, "title", "").startswith(SNAP))
    joints = crew_data(book)["joints"]
    for way, at, start, end in snap.rows:
        assert any(line.startswith(f"{way} {at}: ") and f"{start} to {end}" in line for line in joints)
    told = plain(page)
    for block in book.calculation("base").blocks:
        if getattr(block, "title", "").startswith(SET):
            assert block.rows and all(squeezed(cell) in told for row in block.rows for cell in row)


def test_the_page_needs_no_network_and_shows_words_as_they_stand(demo):
    page = crew_html(Book(demo.changed({"job.name": "<b>&amp; 'x' \"y\"</b>"})))
    assert "&lt;b&gt;&amp;amp;" in page
    assert (
        not re.search(r'(src|href)="(?!#)', page) and "@import" not in page and "url(http" not in page
    )


@pytest.mark.parametrize("job", ["demo", "demo_si"])
def test_on_a_narrow_screen_nothing_runs_out_and_letters_are_large(job, request, tmp_path):
    path = tmp_path / "crew.html"
    book = request.getfixturevalue(f"{job}_book")
    path.write_text(crew_html(book), encoding="utf-8")
    if server.browser_path() is None:
        pytest.skip("no Chromium, Chrome or Edge found")
    with server.browser_page(390, 844) as browser:
        browser.goto(path.as_uri())
        assert browser.evaluate("document.documentElement.scrollWidth") <= 390
        sizes = browser.evaluate(
            "[...document.querySelectorAll('p, li, td, .row *')].map(e => parseFloat(getComputedStyle(e).fontSize))"
        )
        assert min(sizes) >= 16
        shown = browser.locator("svg").bounding_box()["width"]
        assert shown <= 390
        points = 72 * phone_plan(book).get_size_inches()[0]
        assert SMALL * shown / points >= 11, "the plan's smallest letters, in pixels of the screen"
