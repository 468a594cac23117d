"""The governing link of every wall is the highest ratio that its checks and its bolts show."""

import pytest

from calcbook.basis.calculation import OK
from calcbook.paper.path_table import governing_links

CHAPTERS = ("loads", "slab", "edges", "bolts")


@pytest.fixture(scope="module")
def found(demo, demo_book):
    checks = [(c, k) for c in map(demo_book.calculation, CHAPTERS) for k in c.checks]
    return checks, governing_links(demo, checks, demo_book.calculation("bolts")), demo_book


def test_every_wall_has_one_row_in_its_order(found, demo):
    assert [row["wall"] for row in found[1]] == [w.name for w in demo.walls]


def test_no_check_of_a_wall_uses_more_than_its_row_says(found):
    checks, rows, book = found
    bolts = next(
        b.frame for b in book.calculation("bolts").blocks if "Bolt by bolt" in getattr(b, "title", "")
    )
    for row in rows:
        own = [
            k.ratio
            for _, k in checks
            if k.title.endswith(f"wall {row['wall']}") and k.ratio is not None and not k.least
        ]
        own += [
            float(r)
            for b, r in zip(bolts["Bolt"], bolts["Ratio"], strict=True)
            if b[: b.rindex(" ")] == row["wall"]
        ]
        assert float(row["ratio"]) == pytest.approx(max(own), abs=0.005)


def test_open_checks_of_a_wall_are_counted(found):
    checks, rows, _ = found
    for row in rows:
        count = sum(k.status != OK for _, k in checks if k.title.endswith(f"wall {row['wall']}"))
        assert row["open"] == (str(count) if count else "none")
    assert next(r["open"] for r in rows if r["wall"] == "notch east") == "1"
