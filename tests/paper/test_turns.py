"""What a page does when a field changes: picture first, the rest in turns, and no more than depends on the field."""

import asyncio

import pytest

from calcbook.book.chapters import Book
from calcbook.book.flow import Flow
from calcbook.job.file import Job
from calcbook.paper import drawings, views
from calcbook.paper import live as living
from calcbook.paper.following import Following
from calcbook.paper.panels import Panel
from calcbook.paper.turns import Turns
from calcbook.paper.views import BesideView


@pytest.fixture
def turns(monkeypatch):
    """The turns of a page that is shown, taken when the test says so."""
    made = Turns()
    made.shown = True
    made._call = lambda pause: None
    monkeypatch.setattr("calcbook.paper.turns.TURNS", made)
    monkeypatch.setenv(living.DRAFT, "")
    return made


def take_all(turns):
    while turns._waiting:
        turns._still = 0.0
        turns._turn()


@pytest.fixture(autouse=True)
def drawn(monkeypatch):
    """The titles of the drawings that were made, in their order; their lines are not written down."""
    titles, begin = [], drawings.Drawings.begin

    def noted(self, n, figure):
        before = self._made.get(n)
        begin(self, n, figure)
        if self._made[n] is not before:
            titles.append(figure.title)

    monkeypatch.setattr(drawings.Drawings, "begin", noted)
    monkeypatch.setattr(drawings, "written", lambda figure: "")
    return titles


@pytest.fixture
def page(demo_copy, turns, drawn):
    """Two panels of one page with their views, and the job that they share."""
    of = living.Live(Job.read(demo_copy))
    found = []
    for chapter, places in (
        ("volume", ["edge.width", "concrete.waste", "prices.margin"]),
        ("base", ["base.thickness"]),
    ):
        panel = Panel(of.job, chapter, places, of)
        view = BesideView(panel)
        view.widget()
        found += [panel, view.results]
    take_all(turns)
    drawn.clear()
    return found


def late(part):
    return "cb-late" in part._dom_classes


def test_the_picture_of_a_changed_field_comes_before_all_else_and_the_rest_is_marked_until_its_turn(
    page, turns, drawn
):
    panel, shown, _, other = page
    before = {name: part.value for name, part in shown.parts.items()}
    panel.set("edge.width", "14 in")
    assert drawn == ["Plan"], "one picture, and no other before it"
    wanted = views.parts_of(Book(panel.job).calculation("volume"))
    drawn.clear()
    for name in ("answer", "picture"):
        assert shown.parts[name].value == wanted[name]() != before[name]
    assert not late(shown.shown) and late(shown.after) and late(other.shown)
    assert shown.parts["rest"].value == before["rest"]
    take_all(turns)
    for name in ("second", "rest", "more"):
        assert shown.parts[name].value == wanted[name]() != before[name]
    assert not any(late(part) for part in (shown.shown, shown.after, other.shown, other.after))


def test_of_many_quick_entries_each_gives_its_picture_and_only_the_last_the_rest(page, turns, drawn):
    panel, shown, _, _ = page
    for width in ("13 in", "14 in", "15 in"):
        panel.set("edge.width", width)
    assert drawn == ["Plan"] * 3
    take_all(turns)
    assert len([title for title in drawn if title == "Odds of coming up short"]) == 1
    assert shown.parts["rest"].value == views.folded_html(Book(panel.job).calculation("volume"))


def test_a_drawing_that_shows_nothing_of_a_change_is_not_drawn_anew_and_one_that_does_is(
    page, turns, drawn
):
    panel, shown, _, _ = page
    answer = shown.parts["answer"].value
    panel.set("concrete.waste", "9 %")
    take_all(turns)
    assert shown.parts["answer"].value != answer and "Plan" not in drawn
    panel.set("edge.width", "14 in")
    take_all(turns)
    assert "Plan" in drawn


def test_what_was_on_its_way_is_dropped_when_it_is_outdated_and_comes_when_it_holds_after_all(
    demo_book, turns, drawn
):
    result, results = demo_book.calculation("volume"), views.Results()
    results.put(result, at_once=False)
    assert drawn == [] and results.parts["answer"].value == ""
    turns._turn()
    assert drawn == ["Plan"]
    results.mark()
    take_all(turns)
    assert drawn == ["Plan"] and results.parts["rest"].value == "" and late(results.shown)
    results.put(result, at_once=False)
    take_all(turns)
    assert drawn == [figure.title for figure in result.figures]
    assert results.parts["rest"].value and not late(results.shown) and not late(results.after)


def test_fields_that_follow_the_job_are_brought_up_without_new_ones_in_their_place(
    page, turns, monkeypatch
):
    panel, _, other, _ = page
    monkeypatch.setattr("calcbook.paper.panels._field", lambda *_: pytest.fail("a field was made"))
    other.live.keep("edge.width", "14 in")
    take_all(turns)
    assert panel.fields["edge.width"].value == "14 in"


def test_a_changed_field_runs_only_the_parts_that_rest_on_it_each_once_for_all_panels(
    page, turns, drawn, monkeypatch
):
    ran, make = [], Flow._make
    monkeypatch.setattr(Flow, "_make", lambda flow, part: [ran.append(part.name), make(flow, part)][1])
    panel, _, stone, _ = page
    panel.set("edge.width", "14 in")
    assert ran == ["volume", "dug"]
    take_all(turns)
    assert len(ran) == len(set(ran)) and set(ran) <= {"volume", "dug", "base", "stone", "cut_bottom",
                                                      "below_cut", "stone_shared"}  # fmt: skip
    ran.clear(), drawn.clear()
    stone.set("base.thickness", "6 in")
    take_all(turns)
    assert "volume" not in ran and "Plan" not in drawn


def test_a_field_that_a_panel_does_not_rest_on_makes_nothing_anew_and_leaves_no_mark(
    page, turns, drawn
):
    panel, shown, _, other = page
    before = [part.value for part in (*shown.parts.values(), *other.parts.values())]
    panel.set("prices.margin", "12 %")
    take_all(turns)
    assert drawn == []
    assert [part.value for part in (*shown.parts.values(), *other.parts.values())] == before
    assert not any(late(part) for part in (shown.shown, shown.after, other.shown, other.after))


def test_a_changed_field_is_checked_once(page, monkeypatch):
    panel, _, _, _ = page
    tried, changed = [], Job.changed
    monkeypatch.setattr(
        Job, "changed", lambda job, changes: [tried.append(changes), changed(job, changes)][1]
    )
    panel.set("edge.width", "14 in")
    assert tried == [{"edge.width": "14 in"}]
    assert panel.job.raw["edge"]["width"] == "14 in"


def test_a_part_without_fields_is_marked_until_its_turn(demo_copy, turns, monkeypatch):
    monkeypatch.setattr("calcbook.paper.following.display", lambda *_: None)
    of = living.Live(Job.read(demo_copy))
    part = Following(of, lambda job: job.field("slab.thickness").text, late=False)
    part.show()
    of.keep("slab.thickness", "6 in")
    assert part.place.value == "5 in." and late(part.place)
    take_all(turns)
    assert part.place.value == "6 in." and not late(part.place)


def test_turns_wait_for_the_page_give_way_to_entries_and_outlive_a_fault():
    done = []

    async def go():
        turns = Turns()
        asyncio.get_running_loop().set_exception_handler(lambda *_: done.append("fault"))
        turns.add("a", lambda: done.append("a"))
        await asyncio.sleep(0.03)
        assert done == [], "not before the page is shown"
        turns.begin()
        await asyncio.sleep(0.03)
        assert done == ["a"]
        turns.add("b", lambda: 1 / 0)
        turns.add("c", lambda: done.append("c"))
        turns.entered()
        await asyncio.sleep(0.03)
        assert done == ["a"], "not while someone is typing"
        turns.add("c", lambda: done.append("newer c"))
        await asyncio.sleep(0.4)

    asyncio.run(go())
    assert done == ["a", "fault", "newer c"]


@pytest.mark.parametrize("sliding", [False, True])
def test_what_is_in_sight_waits_for_no_rest_but_that_of_a_slider(turns, sliding):
    done = []
    turns.add("folded", lambda: done.append("folded"))
    turns.add("in sight", lambda: done.append("in sight"), soon=True)
    turns.entered(sliding)
    turns._turn(), turns._turn()
    assert done == ([] if sliding else ["in sight"])
    take_all(turns)
    assert done == (["folded", "in sight"] if sliding else ["in sight", "folded"])


def test_a_part_that_comes_to_the_same_is_not_written_anew(demo_copy, turns, monkeypatch):
    monkeypatch.setattr("calcbook.paper.following.display", lambda *_: None)
    of, result = living.Live(Job.read(demo_copy)), Book(Job.read(demo_copy)).calculation("laws")
    part = Following(of, lambda job: result, late=False)
    part.show()
    shown = part.place.value
    monkeypatch.setattr("calcbook.paper.following.folded_html", lambda _: pytest.fail("written anew"))
    of.keep("slab.thickness", "6 in")
    take_all(turns)
    assert part.place.value == shown and not late(part.place)


def test_folded_drawings_are_made_one_in_a_turn(demo_book, turns, drawn):
    result = demo_book.calculation("bolts")
    results = views.Results()
    results.put(result)
    assert len(result.figures) > 5
    counts = []
    while turns._waiting:
        drawn.clear()
        turns._turn()
        counts.append(len(drawn))
    assert max(counts) == 1 and sum(counts) == len(result.figures) - 1
    assert results.parts["more"].value.count("<details") == 1


def test_what_save_and_undo_say_stays_when_the_rest_of_the_page_has_had_its_turn(page, turns):
    panel, _, beside, _ = page
    panel.set("edge.width", "14 in")
    take_all(turns)
    assert "not yet saved" in panel.status.value and "not yet saved" in beside.status.value
    panel.undo()
    take_all(turns)
    assert panel.status.value.startswith("Taken back: edge.width") and beside.status.value == ""
    panel.set("edge.width", "15 in")
    panel.save()
    take_all(turns)
    assert panel.status.value.startswith("Saved to") and beside.status.value == ""
