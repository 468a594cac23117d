"""The wall that an apprentice plays with: its links follow the sliders, and what engineers named as laws holds on it."""

import re

import pytest

from calcbook.paper.wall import WallToPlay


@pytest.fixture(scope="module")
def wall():
    return WallToPlay()


def ratio(book, chapter, begin):
    return next(c.ratio for c in book.calculation(chapter).checks if c.title.startswith(begin))


def test_a_door_from_9_to_16_ft_raises_the_bolt_beside_it(wall):
    pulled = [ratio(wall.at(width=w), "bolts", "Uplift on the governing bolt") for w in (9, 16)]
    assert pulled[1] > 1.3 * pulled[0]
    wall.at(width=9)


def test_a_shallower_edge_changes_what_holds_the_bolts_and_no_bolt(wall):
    deep, shallow = (wall.at(depth=d) for d in (16, 8))
    assert ratio(shallow, "bolts", "Uplift on the gov") == ratio(deep, "bolts", "Uplift on the gov")
    assert ratio(shallow, "edges", "Uplift on edge") > ratio(deep, "edges", "Uplift on edge")
    wall.at(depth=16)


def test_its_table_shows_the_links_in_their_order_and_that_nothing_is_lost(wall):
    words, figure = wall.seen()
    rows = re.findall(r"<tr><td>(.*?)</td>", words)
    assert [row.split(",")[0] for row in rows[:3]] == [
        "plate between the doors", "each jamb of the door", "the bolt that is pulled most"
    ]  # fmt: skip
    assert len(rows) == 7 and "no concrete: 0." in words and figure is not None


def test_the_jamb_gets_half_of_what_is_over_the_door(wall):
    """250 - 0.6 x 150 = 160 lbf/ft over half of 9 ft of door: 720 lbf; the stud wall itself is not over it."""
    wall.at(width=9, uplift=250, dead=150)
    assert ">720 lbf<" in wall.seen()[0]


def test_in_meters_it_is_the_same_kind_of_wall():
    words, _ = WallToPlay("si").seen()
    assert "kN/m" in words and "kPa" in words
