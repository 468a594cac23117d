"""Defaults gathered for reading: none lost, none said twice."""

from calcbook.job.assumptions import _runs, gathered_assumptions


def _places(row):
    """The single places that a gathered row stands for."""
    section, middle, *key = row.split(".")
    if not middle[0].isdigit():
        return [row]
    numbers = []
    for run in middle.split(","):
        first, _, last = run.partition("-")
        numbers += range(int(first), int(last or first) + 1)
    return [".".join((section, str(n), *key)) for n in numbers]


def test_every_default_stands_in_one_row_and_only_there(demo):
    found = [place for row, *_ in gathered_assumptions(demo) for place in _places(row)]
    assert sorted(found) == sorted(entry.place for entry in demo.assumptions())


def test_walls_that_share_a_default_share_its_row(demo):
    rows = gathered_assumptions(demo)
    assert len(rows) < len(demo.assumptions())
    assert any(place.startswith("walls.0-") for place, *_ in rows)


def test_neighbouring_numbers_become_ranges():
    assert list(_runs([0, 1, 2, 5])) == ["0-2", "5"]
    assert list(_runs([3])) == ["3"]
