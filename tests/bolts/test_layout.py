"""The layout of bolts against an exhaustive search, its rules, its words, and its speed."""

import itertools
import re
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.bolts.layout import Blocked, bolt_piece, lay_out
from calcbook.plan.tape import Block, Rules, from_steps, tape_text, to_steps

SMALL = Rules(most=8, least=3, end_most=4, end_least=2)
blocks_of = st.lists(st.tuples(st.integers(-2, 17), st.integers(1, 7)), max_size=4).map(
    lambda pairs: sorted((Block(a, a + w, "on a stud") for a, w in pairs), key=lambda b: b.low)
)


def obeys(places, start, end, blocks, rules):
    gaps = [b - a for a, b in itertools.pairwise(places)]
    return (
        len(places) >= 2
        and all(not any(b.low < p < b.high for b in blocks) for p in places)
        and rules.end_least <= places[0] - start <= rules.end_most
        and rules.end_least <= end - places[-1] <= rules.end_most
        and all(rules.least <= g <= rules.most for g in gaps)
    )


def fewest(start, end, blocks, rules):
    """The least number of bolts that obey the rules, by trying every set of places; None if there is none."""
    for count in range(2, 7):
        for places in itertools.combinations(range(start, end + 1), count):
            if obeys(places, start, end, blocks, rules):
                return count
    return None


@settings(max_examples=50, deadline=None)
@given(st.integers(4, 17), blocks_of, st.integers(0, 3))
def test_layout_agrees_with_trying_everything(length, blocks, comfort):
    rules = Rules(SMALL.most, SMALL.least, SMALL.end_most, SMALL.end_least, comfort=comfort)
    best = fewest(0, length, blocks, rules)
    try:
        found = [place for place, _ in bolt_piece(0, length, blocks, rules)]
    except Blocked:
        assert best is None
    else:
        assert obeys(found, 0, length, blocks, rules)
        assert len(found) == best


@settings(max_examples=50, deadline=None)
@given(
    st.integers(60, 600),
    st.integers(12, 72),
    st.integers(12, 30),
    st.integers(0, 4),
    st.booleans(),
    st.sampled_from([16, 24]),
)
def test_every_bolt_obeys_the_rules_or_the_layout_says_which(inches, spacing, stud, cut, tied, per):
    rules = Rules(spacing * 16, 40, 192, 70, comfort=16)
    cuts = [0, *(inches * 16 * k // (cut + 1) for k in range(1, cut + 1)), inches * 16]
    pieces = list(itertools.pairwise(cuts))
    blocks = [
        Block(k * stud * 16 - 38, k * stud * 16 + 38, "on a stud") for k in range(inches // stud + 1)
    ]
    wanted = tuple(range(50, inches * 16, per * 16)) if tied else ()
    layout = lay_out(pieces, blocks, rules, wanted)
    bolted = {b.piece for b in layout.bolts}
    assert len(bolted) + len(layout.problems) == len(pieces)
    for number in bolted:
        places = [b.place for b in layout.bolts if b.piece == number]
        assert obeys(places, *pieces[number - 1], blocks, rules)
    assert len(layout.places) == len(layout.bolts)


def test_evenly_spaced_without_obstacles():
    """Own arithmetic: 11 ft, 4 ft apart: ends 8-3/16 in. in, two bolts between, all to whole inches."""
    layout = lay_out([(0, 2112)], [], Rules(768, 40, 192, 70))
    assert [b.place for b in layout.bolts] == [8 * 16, 47 * 16, 85 * 16, 124 * 16]
    assert [b.even for b in layout.bolts] == [131, 748, 1364, 1981]
    assert [b.moved_for for b in layout.bolts] == [""] * 4
    assert layout.gaps == [39 * 16, 38 * 16, 39 * 16]
    assert str(layout) == '4 bolts at 8", 3\'-11", 7\'-1", 10\'-4"'


def test_a_clash_is_named_and_cured():
    """16 in. bolts against 16 in. studs: the whole row shifts off the studs."""
    studs = [Block(k * 256 + 90, k * 256 + 166, "on a stud") for k in range(12)]
    layout = lay_out([(0, 3072)], studs, Rules(256, 40, 192, 64))
    assert not layout.problems
    assert [b.even for b in layout.bolts] == [128 + 256 * k for k in range(12)]
    assert all(abs(b.place % 256 - 128) >= 38 and b.moved_for == "on a stud" for b in layout.bolts)


def test_a_clear_even_place_is_kept_without_a_reason():
    layout = lay_out([(0, 2112)], [Block(680, 800, "on a stud")], Rules(768, 40, 192, 70))
    assert [bool(b.moved_for) for b in layout.bolts] == [False, True, False, False]
    assert not 680 < layout.bolts[1].place < 800


def test_bolts_stand_beside_bars_where_they_fit():
    plain = lay_out([(0, 2112)], [], Rules(768, 40, 192, 70))
    tied = lay_out([(0, 2112)], [], Rules(768, 40, 192, 70), wanted=(700, 1300))
    assert [b.place for b in plain.bolts][1:3] == [752, 1360]
    assert [b.place for b in tied.bolts][1:3] == [700, 1300]
    far = lay_out([(0, 2112)], [], Rules(768, 40, 192, 70), wanted=(1000,))
    assert [b.place for b in far.bolts][1:3] == [752, 1360]


@pytest.mark.parametrize(
    ("length", "blocks", "words"),
    [
        (8 * 16, [], r"it is 8\" long; two bolts .* need 11 1/4\": make the piece longer"),
        (
            960,
            [Block(0, 300, "on king or jack studs")],
            r"4 3/8\" to 1'-0\" from its start is on king or jack studs",
        ),
        (960, [Block(700, 960, "on a stud")], r"from its end is on a stud"),
        (
            3000,
            [Block(500, 2000, "on a bench")],
            r"beyond 2'-7 1/4\" no free place lies 2 1/2\" to 4'-0\" from the bolt before",
        ),
    ],
)
def test_what_cannot_be_bolted_is_said(length, blocks, words):
    layout = lay_out([(0, length)], blocks, Rules(768, 40, 192, 70))
    assert not layout.bolts and len(layout.problems) == 1
    assert re.search(words, layout.problems[0])
    assert layout.problems[0].startswith('the piece of plate from 0" to')


def test_the_shortest_piece_that_can_be_bolted():
    assert len(lay_out([(0, 180)], [], Rules(768, 40, 192, 70)).bolts) == 2
    assert lay_out([(0, 179)], [], Rules(768, 40, 192, 70)).problems


def test_room_is_kept_beside_a_bolt_where_it_costs_none():
    blocks = [Block(100, 140, "on a stud"), Block(260, 700, "on a stud")]
    near = lay_out([(0, 960)], blocks, Rules(768, 40, 192, 70))
    roomy = lay_out([(0, 960)], blocks, Rules(768, 40, 192, 70, comfort=24))
    assert len(near.bolts) == len(roomy.bolts)
    assert roomy.bolts[0].place - 140 >= 24


def test_steps_of_the_tape():
    assert to_steps(Q(1, "ft")) == 192
    assert to_steps(Q(1.03, "in"), up=True) == 17 and to_steps(Q(1.03, "in"), up=False) == 16
    assert to_steps(Q(1, "ft"), "si") == 305
    assert from_steps(17).m_as("inch") == 17 / 16
    assert from_steps(305, "si").m_as("mm") == 305
    assert to_steps(from_steps(12345)) == 12345
    assert to_steps(Q(3, "in"), up=True) == 48 and to_steps(Q(3, "in"), up=False) == 48
    assert tape_text(1000) == "5'-2 1/2\"" and tape_text(1234, "si") == "1,234 mm"


def test_round_figures():
    assert Rules(1, 1, 1, 1).round_to == 16 and Rules(1, 1, 1, 1, "si").round_to == 10


def test_two_hundred_walls_in_a_second():
    studs = [Block(k * 256 - 38, k * 256 + 38, "on a stud") for k in range(30)]
    start = time.process_time()
    for _ in range(200):
        lay_out([(0, 3072), (3072, 40 * 192)], studs, Rules(512, 40, 192, 70, comfort=24))
    assert time.process_time() - start < 1.0
