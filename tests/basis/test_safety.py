"""The rules of 29 CFR 1926 behind the cautions (read in a reprint, or from memory where the table says so)."""

import pytest

from calcbook.basis.safety import caution
from calcbook.basis.sources import sources
from calcbook.basis.table import lookup, table
from calcbook.book.chapters import run

# figures and clauses by rule, and whether the clause was read in a reprint
RULES = [
    ("silica", 50, "µg/m3", "1926.1153", "read in a reprint"),  # PEL of 8 h; Table 1 lists the tasks
    ("exhaust", 50, "ppm", "1926.55 App. A", "from memory"),  # carbon monoxide
    ("trowels", "", "", "1926.702(c)", "from memory"),  # hands-off switch
    ("loads", "", "", "1926.701(a)", "read in a reprint"),  # qualified person
    ("wet concrete", "", "", "1926.51(f)", "read in a reprint"),  # washing
]


@pytest.mark.parametrize(("rule", "limit", "unit", "clause", "status"), RULES)
def test_rules_of_osha(rule, limit, unit, clause, status):
    row = lookup("safety", rule=rule)
    assert (row["limit"], row["unit"]) == (limit, unit)
    assert clause in row["source"].place
    assert sources()[row["source"].key].status == status
    assert f"{limit:g} " in row["words"] if limit else True
    assert caution(rule).endswith(f"({row['source']}).")


def test_the_action_level_of_silica_is_half_its_limit():
    """1926.1153: action level 25 µg/m3, limit 50."""
    assert "action from 25" in caution("silica")


def test_a_trowel_stops_when_the_hands_leave_it():
    assert "when the hands leave the handles" in caution("trowels")


def test_an_unknown_rule_is_named():
    with pytest.raises(KeyError, match="'falls' is not in the table safety; known are wet concrete"):
        caution("falls")


@pytest.mark.parametrize(
    ("module", "rules"),
    [
        ("mix", ["wet concrete"]),
        ("pour_day", ["wet concrete", "silica", "trowels", "exhaust"]),
        ("first_week", ["wet concrete", "frozen ground"]),
        ("go", ["wet concrete", "silica", "trowels", "exhaust", "trucks"]),
    ],
)
def test_each_chapter_says_its_cautions(demo, module, rules):
    cautions = run(module, demo).cautions
    assert all(caution(rule) in cautions for rule in rules)


def test_every_rule_has_words_and_a_source():
    assert all(len(row["words"]) > 30 and row["source"].key in sources() for row in table("safety"))
