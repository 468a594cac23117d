"""Results flow forward: a Book taken on from an earlier version is the Book of the job as it stands."""

import hypothesis.strategies as st
import pytest
from hypothesis import HealthCheck, given, settings

from calcbook.book.chapters import Book
from calcbook.book.flow import Flow, part
from calcbook.book.registry import SUBJECTS
from calcbook.job.file import Job, JobError

CHANGES = {
    "slab.thickness": ["4 in", "5 in", "6.5 in"], "slab.above_grade": ["3 in", "8 in"], "job.units": ["us", "si"],
    "concrete.strength": ["3000 psi", "4500 psi"], "concrete.slump": ["3 in", "6 in"], "concrete.waste": ["4 %", "9 %"],
    "concrete.w_cm": ["0.45", "0.55", None], "concrete.cement_content": ["520 lb/yd3", None], "concrete.cement": ["III", "I"],
    "base.thickness": ["0 in", "4 in", "8 in"], "base.depth_spread": ["0 in", "0.5 in"], "edge.depth": ["0 in", "16 in"],
    "soil.kind": ["clay", "not known", "sand"], "soil.bearing": ["1800 psf", None], "soil.k": ["150 pci", None],
    "joints.spacing": ["9 ft", None], "joints.saw_rate": ["40 ft"], "joints.isolate": [False, True],
    "reinforcement.kind": ["none", "mesh", "bars", "macro fiber"], "reinforcement.residual": ["120 psi", None],
    "vehicle.axle": ["9000 lbf", None], "pads.0.dead": ["9000 lbf", "2000 lbf"], "pads.1.width": ["40 in"],
    "walls.0.dead": ["700 plf"], "retarder.lap": ["12 in", "4 in"], "bolts.size": ["5/8", "3/4"], "walls.0.uplift": ["90 plf"],
    "crew.size": [3, 6], "crew.screed": ["hand", "power"], "crew.power_trowels": [0, 2], "crew.forms_rate": ["20 ft"],
    "pour.pump": [False, True], "pour.blanket": ["none", "1 in. foam blanket"], "pour.slowing": [0.8, 1.5],
    "pour.haul": ["45 min"], "pour.truck_capacity": ["7 yd3"], "pour.date": [None, "2026-10-27"], "pour.start": ["09:30"],
    "pour.shaded": ["0 %", "100 %"], "pour.wind_height": ["10 ft"], "prices.concrete": ["$190 / yd3", None],
    "prices.short_load_fee": ["$10"], "prices.wage": ["$61 / h"], "openings.0.diameter": ["20 in"],
}  # fmt: skip
STEPS = st.lists(
    st.sampled_from(sorted(CHANGES)).flatmap(lambda place: st.tuples(st.just(place), st.sampled_from(CHANGES[place]))),
    min_size=1, max_size=4,
)  # fmt: skip


def shown(book):
    """All that a reader sees of a book, and its quote."""
    pages = {name: book.calculation(name)._repr_html_() for name in SUBJECTS}
    takeoff = {
        name: [(t.words, str(t.amount), t.note) for t in book.calculation(name).takeoff]
        for name in SUBJECTS
    }
    return pages, takeoff, book.quote.text(), book.status


@pytest.fixture(scope="module")
def plain(demo):
    """The demo without the slab as a plate, which takes longer than all else; tests/plate runs that."""
    return demo.changed({"slab.plate": False})


@pytest.fixture(scope="module")
def base(plain):
    """Its book with all parts made and shown."""
    book = Book(plain)
    shown(book)
    return book


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(steps=STEPS)
def test_a_book_taken_on_is_the_book_of_the_changed_job(plain, base, steps):
    changes, book = {}, base
    for place, value in steps:
        try:
            book, changes = (
                Book(plain.changed(changes | {place: value}), book),
                changes | {place: value},
            )
            made_whole(book)
        except JobError:  # what a job may not be is refused either way
            with pytest.raises(JobError):
                made_whole(Book(plain.changed(changes | {place: value})))
            return
    assert shown(book) == shown(Book(Job(book.job.raw, plain.path)))


def made_whole(book):
    """Every part is made, so that the next book can take it over; nothing of it is shown yet."""
    return [book.calculation(name) for name in SUBJECTS], book.quote.text(), book.status


def made(book, before):
    """Names of the parts that a book did not take from an earlier one."""
    shown(book)
    return {name for name, one in book._made.items() if before._made.get(name) is not one}


@pytest.mark.parametrize(
    ("place", "value", "anew"),
    [
        ("joints.saw_rate", "33 ft", {"joints"}),
        ("retarder.tape_roll", "120 ft", {"retarder"}),
        ("prices.wage", "$61 / h", {"reinforcement", "bolts"}),  # they show what each kind costs
        ("pour.blanket", "none", {"day", "nights", "pour_day", "first_week", "go", "laws"}),
        ("job.note", "another", set()),
        ("soil.frost_depth", "12 in", {"edges", "loads", "mix"}),  # whether the edge freezes
    ],
)
def test_a_changed_field_runs_again_only_what_depends_on_it(base, place, value, anew):
    assert made(base.changed({place: value}), base) == anew


def test_what_comes_out_the_same_stops_there(base):
    """Trucks a little larger carry the same loads only if they do; then no later chapter runs."""
    after = base.changed({"concrete.waste": "0.1 %"})
    anew = made(after, base)
    assert "volume" in anew
    if after.volume.trucks == base.volume.trucks:
        assert not {"day", "go", "reinforcement"} & anew


class Small(Flow):
    """Three parts, of which the last rests on a whole number of feet only."""

    ran: list[str]

    @part
    def length(self, job):
        self.ran.append("length")
        return job.slab.length.m_as("foot") // 1

    @part
    def words(self, job):
        self.ran.append("words")
        return f"{self.length:g} ft, {job.field('slab.thickness').text}"


def small(job, before=None):
    flow = Small(job, before)
    flow.ran = []
    return flow


def test_a_part_is_made_again_where_a_value_or_the_giving_of_it_differs():
    job = Job({"slab": {"length": "20.2 ft", "width": "10 ft"}})
    first = small(job)
    assert first.words == "20 ft, 4 in." and first.ran == ["words", "length"]
    longer = small(job.changed({"slab.length": "20.4 ft"}), first)
    assert longer.words == "20 ft, 4 in." and longer.ran == ["length"]
    given_now = small(job.changed({"slab.thickness": "4 in"}), first)
    assert given_now.words and given_now.ran == ["words"]  # the same, but no longer assumed
    other = small(job.changed({"openings": []}), first)
    assert other.words is first.words and other.ran == []


def test_what_is_read_late_must_be_the_same_in_every_job_that_took_it_over():
    job = Job({"slab": {"length": "20 ft", "width": "10 ft"}})

    class Late(Flow):
        @part
        def later(self, job):
            return lambda: job.slab.thickness

    first = Late(job)
    assert first.later() == job.slab.thickness
    fresh = Late(job)
    kept = fresh.later
    thicker = Late(job.changed({"slab.thickness": "6 in"}), fresh)
    assert thicker.later is kept
    with pytest.raises(RuntimeError, match="slab.thickness of the job is read too late"):
        kept()
