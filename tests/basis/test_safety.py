"""The rules of 29 CFR 1926 behind the cautions (read in a reprint, or from memory where the table says so)."""

import pytest

from calcbook.basis.safety import caution, cautions_of
from calcbook.basis.sources import sources
from calcbook.basis.table import lookup, table
from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS
from calcbook.job.file import Job

# figures and clauses by rule, and whether the clause was read in a reprint
RULES = [
    ("silica", 50, "µg/m3", "1926.1153", "read in a reprint"),  # PEL of 8 h; Table 1 lists the tasks
    ("exhaust", 50, "ppm", "1926.55 App. A", "from memory"),  # carbon monoxide
    ("trowels", "", "", "1926.702(c)", "from memory"),  # hands-off switch
    ("loads", "", "", "1926.701(a)", "read in a reprint"),  # qualified person
    ("wet concrete", "", "", "1926.51(f)", "read in a reprint"),  # washing
    ("electric tools", "", "", "1926.404(b)(1)", "from memory"),  # ground-fault protection
    ("night work", 5, "foot-candles", "1926.56", "from memory"),  # light of a work area
    ("hearing", 90, "dB", "1926.52", "from memory"),  # over 8 h
    ("trenches", 2, "ft", "1926.651(j)", "from memory"),  # spoil from the edge
    ("power lines", 10, "ft", "1926.1408", "from memory"),  # to 50 kV
    ("caps", "", "", "1926.701(b)", "from memory"),
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


WORK = {  # what harms, by the chapter or paper that leads to that work
    "pads": ["trenches", "digging", "caps"],
    "edges": ["trenches", "digging", "caps"],
    "joints": ["silica", "electric tools", "hearing", "exhaust", "hidden lines"],
    "reinforcement": ["lifting", "caps"],
    "volume": ["wet concrete", "trucks", "chute", "washout", "power lines"],
    "base": ["frozen ground", "digging", "trenches", "exhaust", "hearing", "lifting", "caps"],
    "retarder": ["lifting"],
    "bolts": ["caps", "lifting"],
    "mix": ["wet concrete", "trucks", "chute", "washout", "power lines"],
    "pour_day": [
        "wet concrete", "silica", "trowels", "exhaust", "trucks", "frozen ground", "electric tools", "night work",
        "heat and cold", "hearing", "chute", "washout", "power lines",
    ],
    "first_week": ["wet concrete", "loads", "frozen ground", "blankets", "exhaust", "heat and cold", "lifting"],
    "go": [
        "wet concrete", "silica", "trowels", "exhaust", "trucks", "frozen ground", "electric tools", "night work",
        "heat and cold", "hearing", "chute", "washout", "power lines",
    ],
}  # fmt: skip
DRILLED = ["silica", "adhesive", "electric tools", "hearing", "hidden lines"]  # where a bolt is drilled
ELSEWHERE = {
    "drilled": DRILLED,
    "order": ["wet concrete", "trucks", "chute", "washout", "power lines"],
    "printout": ["wet concrete", "silica", "trucks"],
}
BARE = {"slab": {"length": "20 ft", "width": "20 ft"}}
COLD = [{"time": f"2026-01-15 {h:02}:00", "air": "-20 F", "humidity": "50 %", "wind": "20 mph", "sky": "50 %"}
        for h in range(24)]  # fmt: skip
SLOW = {
    "date": "2026-01-15",
    "forecast": COLD,
    "concrete_temperature": "35 F",
    "slowing": 3,
    "soil_temperature": "20 F",
}
JOBS = {
    "no date": BARE,
    "no forecast": BARE | {"pour": {"date": "2026-10-27", "pump": True}},
    "no date but weather": BARE | {"pour": {"forecast": COLD}},
    "never sets": BARE | {"pour": SLOW},
}


@pytest.mark.parametrize("name", JOBS)
def test_every_chapter_and_paper_says_the_cautions_of_its_work_however_little_is_known(name):
    book = Book(Job(JOBS[name]))
    for chapter, rules in WORK.items():
        cautions = book.calculation(chapter).cautions
        assert all(caution(rule) in cautions for rule in rules), chapter
    told = book.quote.order.text()
    assert "power lines" in told and "hose end" in told and "burns skin and eyes" in told
    assert [caution(rule) for rule in ("wet concrete", "silica", "trucks")] == list(
        cautions_of("printout")
    )


def test_the_cautions_are_those_of_the_full_job(demo_book):
    full, bare = demo_book, Book(Job(BARE))
    for chapter in WORK:
        said = [set(book.calculation(chapter).cautions) for book in (full, bare)]
        assert set(cautions_of(chapter)) <= set.intersection(*said)


def test_every_rule_belongs_to_work_that_there_is():
    known = {*SUBJECTS, "order", "printout", "drilled"}
    named = [set(row["chapters"].split()) for row in table("safety")]
    assert all(named) and set().union(*named) <= known


def test_every_rule_has_words_and_a_source():
    assert all(len(row["words"]) > 30 and row["source"].key in sources() for row in table("safety"))


def test_each_rule_stands_where_its_work_is_done_and_nowhere_is_work_left_out():
    """Both ways: every chapter of the table is in the list above, and every rule of the list in the table."""
    told = {
        row["rule"]: set(row["chapters"].split()) - {"order", "printout", "drilled"}
        for row in table("safety")
    }
    listed = {rule: {c for c, rules in WORK.items() if rule in rules} for rule in told}
    assert told == listed
    for place, rules in ELSEWHERE.items():
        assert {row["rule"] for row in table("safety") if place in row["chapters"].split()} == set(
            rules
        )


def test_drilled_bolts_bring_their_cautions_and_cast_ones_do_not(demo, demo_book):
    mixed = demo_book.calculation("bolts").cautions
    assert all(caution(rule) in mixed for rule in DRILLED)
    raw = demo.raw | {
        "walls": [wall | {"method": "cast"} for wall in demo.raw["walls"] if "side" in wall]
    }
    cast = Book(Job(raw)).calculation("bolts").cautions
    assert not any(caution(rule) in cast for rule in DRILLED)


def test_a_day_longer_than_a_shift_is_told_with_its_hours(demo, demo_book):
    """The demo saws until the next morning: first truck 07:30, more than 12 h later."""
    cautions = demo_book.calculation("pour_day").cautions
    (told,) = [words for words in cautions if "one long shift" in words]
    hours = int(told.split(" it is ")[1].split(" h,")[0])
    assert "07:30" in told and 12 < hours < 48
    early = demo.changed(
        {"joints.early_entry": True, "pour.concrete_temperature": "85 F", "pour.slowing": 0.6}
    )
    assert not any("one long shift" in w for w in Book(early).calculation("pour_day").cautions)
