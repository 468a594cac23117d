"""Job files: reading, what is refused and how it is said, defaults, saving."""

import collections
import subprocess
import sys
import threading
import tomllib

import pytest
from conftest import NOTEBOOKS
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Quantity
from calcbook.book.chapters import Book
from calcbook.command import cli
from calcbook.job.catalog import heading, section_at
from calcbook.job.fields import Section, meta_of
from calcbook.job.file import Job, JobChanged, JobError
from calcbook.job.problems import find_line
from calcbook.job.schema.sections import JobFile

DEMO = (NOTEBOOKS / "demo.toml").read_text(encoding="utf-8")
SMALL = '[slab]\nlength = "20 ft"\nwidth = "16 ft"\n'


def said(path, capsys):
    """What `calcbook check` says of a file that must be refused."""
    status = cli.main(["check", str(path)])
    out = capsys.readouterr()
    assert status == 2, out.out
    assert out.out == ""
    return out.err


def is_clear(message):
    """One short sentence a line, that names the file, without the words of a programmer."""
    for line in message.strip().splitlines():
        assert 20 < len(line) < 300, line
        for word in (
            "Traceback",
            "pydantic",
            "ValidationError",
            "NoneType",
            "Error:",
            "<class",
            "object at",
        ):
            assert word not in line, line
    return True


# --- broken files: every field of the demo, broken in several ways, and shapes and syntax ------


def _broken_fields():
    """A small job with one wrong value, for every field there is."""
    for name in JobFile.model_fields:
        header, body = heading(name), "" if name == "slab" else SMALL
        for key, info in section_at(name).model_fields.items():
            meta = meta_of(info)
            if not meta.get("reader"):
                continue
            wrong = ["[1]", "{ a = 1 }"]
            if "unit" in meta:
                wrong += ['"7 furlongs per"', '"many"', '"5 candela"']
                wrong += ["12"] if meta["unit"] not in ("1", "deg") else ["-777"]
            elif info.annotation is bool:
                wrong += ['"yes"']
            elif info.annotation is int:
                wrong += ["2.5", "-3"]
            for value in wrong:
                yield f"{body}{header}\n{key} = {value}\n", key


BROKEN_FIELDS = list(_broken_fields())


def test_there_are_more_than_two_hundred_broken_files():
    assert len(BROKEN_FIELDS) + len(BROKEN) > 200


@pytest.mark.parametrize("part", range(8))
def test_every_field_with_a_wrong_value_is_refused_by_its_name(part, tmp_path, capsys):
    for text, key in BROKEN_FIELDS[part::8]:
        path = tmp_path / "broken.toml"
        path.write_text(text, encoding="utf-8")
        message = said(path, capsys)
        assert is_clear(message) and key in message and "broken.toml" in message, (text, message)


BROKEN = {
    "no slab": ("", "[slab] is missing"),
    "no shape": ("[slab]\n", "needs length and width, or points"),
    "half a shape": ('[slab]\nlength = "20 ft"\n', "needs length and width"),
    "two shapes": (SMALL + 'points = [["0 ft","0 ft"],["9 ft","0 ft"],["9 ft","9 ft"]]\n', "keep one of the two"),
    "misspelled key": (SMALL + 'thicknes = "5 in"\n', "did you mean thickness?"),
    "misspelled section": (SMALL + "[conrete]\n", "did you mean concrete?"),
    "key of another section": (SMALL + 'slump = "4 in"\n', "slump belongs in [concrete]"),
    "unknown key": (SMALL + "colour = 1\n", "what is known stands under: calcbook fields slab"),
    "unit without quotes": ("[slab]\nlength = 20 ft\n", "put a value with a unit in quotes"),
    "open quote": ('[slab]\nlength = "20 ft\n', "a quote is left open"),
    "inch mark in quotes": ('[slab]\nlength = "20\'-6""\n', "line 2"),
    "no value": ("[slab]\nlength =\n", "line 2"),
    "twice the same key": (SMALL + 'width = "3 ft"\n', "line 4"),
    "twice the same section": (SMALL + SMALL, "line 4"),
    "number for a length": ("[slab]\nlength = 20\nwidth = 16\n", "20 has no unit"),
    "mass for a pressure": (SMALL + '[concrete]\nstrength = "3000 lb"\n', "not a pressure"),
    "thin": (SMALL + 'thickness = "1 in"\n', "at least 3.5 in."),
    "line end in a quantity": (SMALL + 'thickness = "1 in\\n"\n', "1 in is not allowed"),
    "thick": (SMALL + 'thickness = "9 ft"\n', "at most 24 in."),
    "waste in percent without sign": (SMALL + "[concrete]\nwaste = 8\n", "at most 0.5"),
    "section as value": ("slab = 3\n", "must be a section"),
    "list as section": (SMALL + "[openings]\nname = 'x'\n", "must be a list"),
    "opening without a shape": (SMALL + "[[openings]]\nname = 'x'\n", "an opening needs"),
    "opening outside": (SMALL + "[[openings]]\nx='50 ft'\ny='2 ft'\nlength='2 ft'\nwidth='2 ft'\n", "outside the slab"),
    "opening over the edge": (SMALL + "[[openings]]\nx='19 ft'\ny='2 ft'\nlength='2 ft'\nwidth='2 ft'\n", "crosses the edge"),
    "openings over each other": (SMALL + 2 * "[[openings]]\nx='9 ft'\ny='2 ft'\nlength='2 ft'\nwidth='2 ft'\n", "overlap"),
    "pad off the slab": (SMALL + "[[pads]]\nname='P'\nx='50 ft'\ny='2 ft'\nlength='2 ft'\nwidth='2 ft'\ndepth='8 in'\n", "off the slab"),
    "two points": ('[slab]\npoints = [["0 ft","0 ft"],["9 ft","0 ft"]]\n', "at least 3"),
    "point of three": ('[slab]\npoints = [["0 ft","0 ft","1 ft"],["9 ft","0 ft"],["9 ft","9 ft"]]\n', "points are written"),
    "point without unit": ('[slab]\npoints = [["0 ft",5],["9 ft","0 ft"],["9 ft","9 ft"]]\n', "point 1"),
    "crossing": ('[slab]\npoints = [["0 ft","0 ft"],["9 ft","9 ft"],["9 ft","0 ft"],["0 ft","9 ft"]]\n', "side 1 (point 1 to point 2) crosses side 3"),
    "on one line": ('[slab]\npoints = [["0 ft","0 ft"],["9 ft","0 ft"],["5 ft","0 ft"]]\n', "one line"),
    "repeated point": ('[slab]\npoints = [["0 ft","0 ft"],["9 ft","0 ft"],["9 ft","9 ft"],["0 ft","0 ft"]]\n', "leave the last point out"),
    "spike": ('[slab]\npoints = [["0 ft","0 ft"],["9 ft","0 ft"],["9 ft","9 ft"],["30 ft","9.1 ft"],["9 ft","9.2 ft"],["0 ft","9.2 ft"]]\n', "spike"),
    "a mile": ('[slab]\nlength="5280 ft"\nwidth="5 ft"\n', "at most 1,000 ft"),
    "newline in a name": (SMALL + '[job]\nname = "a\\nb"\n', "one line"),
    "line end of another kind in a name": (SMALL + '[job]\nname = "a\\u2028b"\n', "one line"),
    "text turned around": (SMALL + '[job]\nname = "quote \\u202e000,9$"\n', "that can be seen"),
    "long name": (SMALL + f'[job]\nname = "{"x" * 300}"\n', "at most 200 characters that"),
    "units in words": (SMALL + '[job]\nunits = "cubits"\n', "not one of these: us, si"),
    "a soil of many words": (SMALL + '[soil]\nkind = "silty sand"\n', 'bedrock or "not known"; did you mean sand?'),
    "a word of the trade": (SMALL + '[prices]\nlabor = "$46 / h"\n', "did you mean wage (a person-hour, with all labor burden)?"),
    "a word of the trade in another section": (SMALL + 'rebar = "#4"\n', "did you mean bar in [reinforcement]"),
    "the depth of the slab": (SMALL + 'depth = "5 in"\n', "did you mean thickness (slab thickness)?"),
    "a bolt too thin": (SMALL + '[bolts]\nsize = "M12"\n', "M12 is 12 mm thick, less than the 1/2 in."),
    "prices in two currencies": (SMALL + '[prices]\nconcrete = "$170 / yd3"\nstone = "30 EUR / t"\n', "prices.concrete is in $, prices.stone in EUR; give all"),
    "nan": (SMALL + "[edge]\nslope = nan\n", "not a finite number"),
    "infinite": (SMALL + "[edge]\nslope = inf\n", "not a finite number"),
    "deep": ("a = " + "[" * 2000 + "]" * 2000, "nested too deeply"),
    "price without unit": (SMALL + "[prices]\nconcrete = 168\n", "has no unit"),
    "latitude in percent": (SMALL + '[pour]\nlatitude = "44 %"\n', "44 % has no unit; write it in degrees"),
    "half a person": (SMALL + '[crew]\nsize = "2.5"\n', "'2.5' is not a whole number from 1 to 60"),
    "a crowd": (SMALL + '[crew]\nsize = "61"\n', "61 is not a whole number from 1 to 60"),
    "negative price": (SMALL + '[prices]\nconcrete = "$-168 / yd3"\n', "at least"),
    "rental of no days": (SMALL + "[[prices.rental]]\nname='x'\nrate='$5/day'\n", "days is missing"),
    "margin of all": (SMALL + '[prices]\nmargin = "100 %"\n', "below"),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_is_refused_in_clear_words(name, tmp_path, capsys):
    text, words = BROKEN[name]
    path = tmp_path / "broken.toml"
    path.write_text(text, encoding="utf-8")
    message = said(path, capsys)
    assert is_clear(message) and words in message, message


WALL = SMALL + '[[walls]]\nname = "west"\nside = 1\n'
CLASHES = {
    "doors over each other": (
        WALL + '[[walls.openings]]\nstart = "4 ft"\nwidth = "3 ft"\n' + '[[walls.openings]]\nstart = "6 ft"\nwidth = "3 ft"\n',
        10, "[[walls]] number 1 openings number 2 wall 'west': two openings overlap",
    ),
    "door beyond the wall": (
        WALL + 'end = "9 ft"\n[[walls.openings]]\nstart = "7 ft"\nwidth = "3 ft"\n',
        8, "[[walls]] number 1 openings number 1 wall 'west': an opening reaches beyond its end at 9'-0\"",
    ),
    "no such side": (WALL + WALL[len(SMALL) :].replace("1", "5"), 9, "number 2 side wall 'west': side 5 is not there"),
    "wall longer than its side": (WALL + 'end = "21 ft"\n', 7, "number 1 end wall 'west': it runs from 0\" to 21'-0\""),
    "wall that starts past its side": (WALL + 'start = "21 ft"\n', 7, "number 1 start wall 'west': it runs from 21'-0\""),
    "wall that ends before it starts": (WALL + 'start = "9 ft"\nend = "8 ft"\n', 8, "end: wall 'west' ends before"),
    "in metres": ('[job]\nunits = "si"\n' + WALL + 'end = "7 m"\n', 9, "it runs from 0.000 m to 7.000 m"),
    "wire style": (SMALL + '[reinforcement]\nkind = "mesh"\nwire = "6 by 6"\n', 6, "[reinforcement] wire: welded wire style '6 by 6' cannot be read"),
    "wire too thick": (SMALL + '[reinforcement]\nwire = "6x6-W99xW99"\n', 5, "spacing is 2 to 18 in."),
    "laps of half a sheet": (SMALL + '[reinforcement]\nmesh_lap = "30 in"\n', 5, "[reinforcement] mesh_lap: laps take half"),
    "lap as long as the bar": (SMALL + '[reinforcement]\nbar_length = "6 ft"\nbar_lap = "72 in"\n', 6, "[reinforcement] bar_lap:"),
    "lap as wide as the roll": (SMALL + '[retarder]\nroll_width = "2 ft"\nlap = "12 in"\n', 6, "[retarder] lap: a lap of 1'-0\" leaves nothing"),
    "load more than a truck": (SMALL + '[pour]\ntruck_capacity = "3 yd3"\n', 4, "[pour] minimum_load: the smallest load is more"),
    "no date": (SMALL + '[pour]\npump = true\ndate = "soon"\n', 6, "[pour] date: 'soon' is not a date"),
    "a date out of all calendars": (SMALL + '[pour]\ndate = "9999-12-31"\n', 5, "not in the years 1900 to 2199"),
    "no time of day": (SMALL + '[pour]\nshade_to = "noon"\n', 5, "[pour] shade_to: 'noon' is not a time of day"),
    "narrow slab": ('[slab]\nlength = "20 ft"\nwidth = "11.9 in"\n', 1, "[slab] is nowhere 1'-0\" wide"),
    "strip off the slab": (
        SMALL + '[[walls]]\nname = "a"\nplace = "joint"\n[[walls]]\nname = "b"\nplace = "joint"\nx1 = "50 ft"\ny1 = "2 ft"\nx2 = "60 ft"\ny2 = "2 ft"\n'
        'strip_width = "12 in"\nstrip_depth = "8 in"\n',
        7, "[[walls]] number 2 strip 'b' has its center off the slab",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CLASHES)
def test_what_does_not_fit_the_rest_is_told_on_its_line(name, tmp_path, capsys):
    text, line, words = CLASHES[name]
    path = tmp_path / "clash.toml"
    path.write_text(text, encoding="utf-8")
    message = said(path, capsys)
    assert (
        is_clear(message) and message.startswith(f"clash.toml, line {line}: ") and words in message
    ), message


def test_a_slab_a_foot_wide_is_read(tmp_path):
    path = tmp_path / "narrow.toml"
    path.write_text('[slab]\nlength = "20 ft"\nwidth = "12.1 in"\n', encoding="utf-8")
    assert Book(Job.read(path)).calculations


def test_files_that_are_no_text_or_not_there_are_refused(tmp_path, capsys):
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00slab")
    (tmp_path / "large.toml").write_text("# " + "x" * 1_100_000, encoding="utf-8")
    for name, words in (
        ("bytes.toml", "UTF-8"),
        ("large.toml", "larger than 1 MB"),
        ("no.toml", "could not be read"),
        (".", "could not be read"),
        ("/dev/zero", "a pipe or a device, not a file"),
    ):
        assert words in said(tmp_path / name, capsys)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_damage_to_the_demo_is_read_or_refused_in_words(data, tmp_path_factory):
    cut = sorted(data.draw(st.lists(st.integers(0, len(DEMO)), min_size=2, max_size=2)))
    filler = data.draw(st.text(max_size=20))
    path = tmp_path_factory.mktemp("damage") / "damaged.toml"
    path.write_bytes(
        (DEMO[: cut[0]] + filler + DEMO[min(cut[1], cut[0] + 40) :]).encode("utf-8", "surrogatepass")
    )
    try:
        Job.read(path)
    except JobError as error:
        assert is_clear(str(error))


# --- reading ---------------------------------------------------------------------------------


def test_a_mistake_is_found_on_its_line():
    for number, line in enumerate(DEMO.splitlines(), 1):
        if line.startswith("waste"):
            assert find_line(DEMO, "concrete.waste") == number
    second = next(n for n, line in enumerate(DEMO.splitlines(), 1) if line == 'name = "P2"')
    assert find_line(DEMO, "pads.1.name") == second


NESTED = """[slab]
width = "9 ft"
[[walls]]
side = 1
[[walls.openings]]
start = "1 ft"
[[walls.openings]] # the second one
start = "5 ft"
[[walls]]
"side" = 2
[[walls.openings]]
start = "2 ft"
[pour]
forecast = [
  { time = "2026-10-27 07:00" },
]
[[prices.rental]]
days = 1
"""


@pytest.mark.parametrize(
    ("place", "line"),
    [("slab", 1), ("slab.width", 2), ("slab.length", 1), ("walls", 3), ("walls.0", 3), ("walls.0.side", 4), ("walls.0.openings.0", 5),
     ("walls.0.openings.0.start", 6), ("walls.0.openings.1", 7), ("walls.0.openings.1.start", 8), ("walls.0.openings.1.width", 7),
     ("walls.1", 9), ("walls.1.side", 10), ("walls.1.openings.0.start", 12), ("pour.forecast.0.time", 14),
     ("prices.rental.0.days", 18), ("prices.rental.0.rate", 17), ("prices.rental.1", 17), ("soil.weight", None)],
)  # fmt: skip
def test_a_place_in_lists_of_sections_is_found_on_its_line(place, line):
    assert find_line(NESTED, place) == line


def test_only_the_slab_is_needed_and_every_default_in_use_says_why():
    job = Job(tomllib.loads(SMALL))
    found = job.assumptions()
    assert len(found) > 20 and all(a.assumed and a.text and a.meaning for a in found)
    assert not {a.place for a in found} & {"slab.length", "slab.width"}


def test_a_given_field_is_no_assumption(demo):
    assert demo.field("slab.thickness").assumed == ""
    assert demo.field("base.compaction").assumed != ""
    assert "slab.thickness" not in {a.place for a in demo.assumptions()}


def test_a_whole_number_may_stand_in_quotes(demo):
    assert demo.changed({"crew.size": " 7 "}).crew.size == demo.changed({"crew.size": 7}).crew.size == 7


def test_an_angle_is_read_in_the_unit_it_is_given_in(demo):
    found = demo.changed({"pour.latitude": "44.1 deg", "pour.longitude": "-1.5 rad"}).pour
    assert found.latitude.m_as("degree") == pytest.approx(44.1)
    assert found.longitude.m_as("degree") == pytest.approx(-85.943669)
    bare = demo.changed({"pour.latitude": 44.1, "pour.longitude": "-87.6"}).pour
    assert bare.latitude.m_as("degree") == pytest.approx(
        44.1
    )  # a number alone is degrees, never radians
    assert bare.longitude.m_as("degree") == pytest.approx(-87.6)


def test_a_changed_job_is_a_new_one(demo):
    other = demo.changed({"slab.thickness": "6 in"})
    assert other.slab.thickness.m_as("inch") == 6 and demo.slab.thickness.m_as("inch") == 5
    with pytest.raises(JobError, match="at least 3.5 in"):
        demo.changed({"slab.thickness": "1 in"})


def test_every_quantity_of_the_metric_twin_equals_the_demos(demo, demo_si):
    def walk(a, b, place=""):
        for key, info in type(a).model_fields.items():
            x, y = getattr(a, key), getattr(b, key)
            for one, two in zip(x, y, strict=True) if isinstance(x, list) else [(x, y)]:
                if key == "slabs":
                    continue  # each as the job that it is, below
                if isinstance(one, Section):
                    walk(one, two, f"{place}.{key}")
                elif isinstance(one, Quantity):
                    meta = meta_of(info)
                    unit = meta.get("unit")
                    if key not in b.model_fields_set and meta.get("si") is not None:
                        assert two == meta["si"] and one == info.default  # a round figure each
                        continue
                    assert one.to_base_units().m == pytest.approx(
                        two.to_base_units().m, rel=1e-6, abs=1e-9
                    ), (place, key, unit)

    walk(demo.file, demo_si.file)
    walk(demo.others[0].file, demo_si.others[0].file)


# --- saving ----------------------------------------------------------------------------------


def test_saving_keeps_remarks_and_order_and_changes_nothing_else(demo_copy):
    Job.read(demo_copy).save({"slab.thickness": "6 in", "base.compaction": "12 %"})
    before, after = DEMO.splitlines(), demo_copy.read_text(encoding="utf-8").splitlines()
    gone = collections.Counter(before) - collections.Counter(after)
    assert list(gone.elements()) == ['thickness = "5 in"']
    assert sorted(line for line in after if line not in before) == [
        'compaction = "12 %"',
        'thickness = "6 in"',
    ]


def test_a_wrong_value_is_not_saved(demo_copy):
    with pytest.raises(JobError):
        Job.read(demo_copy).save({"slab.thickness": "1 in"})
    assert demo_copy.read_text(encoding="utf-8") == DEMO


def test_a_field_that_someone_else_changed_is_not_overwritten(demo_copy):
    job = Job.read(demo_copy)
    job.save({"slab.thickness": "7 in"})
    with pytest.raises(JobChanged, match="someone else"):
        job.save({"slab.thickness": "6 in"})
    assert Job.read(demo_copy).slab.thickness.m_as("inch") == 7


def test_a_folder_that_may_not_be_written_is_said_in_words(demo_copy, monkeypatch):
    def refuse(*args, **kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("os.replace", refuse)
    with pytest.raises(JobError, match="could not be written"):
        Job.read(demo_copy).save({"slab.thickness": "6 in"})
    assert demo_copy.read_text(encoding="utf-8") == DEMO


def test_a_folder_that_is_not_there_is_said_in_words(demo, tmp_path):
    with pytest.raises(JobError, match="could not be written"):
        demo.save({"slab.thickness": "6 in"}, tmp_path / "no" / "job.toml")


def test_the_file_is_whole_at_any_moment_while_it_is_saved(demo_copy):
    """A process that saves over and over is killed in the middle; the file always reads."""
    code = (
        "import sys; from calcbook.job.file import Job\n"
        f"p = {str(demo_copy)!r}\n"
        "job = Job.read(p); print('go', flush=True)\n"
        "for i in range(10000): job = job.save({'slab.thickness': f'{5 + i % 7} in'})\n"
    )
    for pause in (0.01, 0.05, 0.12, 0.2):
        writer = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE)
        writer.stdout.readline()
        threading.Event().wait(pause)
        writer.kill()
        writer.wait()
        assert Job.read(demo_copy).slab.thickness.m_as("inch") >= 5


def test_a_table_told_over_several_lines_is_read_and_kept_when_the_file_is_saved(tmp_path):
    """What reads the file and what writes it know the same edition of TOML."""
    path = tmp_path / "job.toml"
    path.write_text(
        'slab = {\n  length = "20 ft",  # by tape\n  width = "16 ft",\n}\npour.start = 06:30\n',
        encoding="utf-8",
    )
    saved = Job.read(path).save({"slab.thickness": "5 in"})
    assert saved.slab.thickness.m_as("in") == 5 and saved.slab.length.m_as("ft") == 20
    assert "# by tape" in path.read_text(encoding="utf-8")
    assert saved.pour.start == Job.read(path).pour.start


@pytest.mark.parametrize(("typed", "shown"), [
    ("3 ft 2 in", "3'-2\""), ("6 ft", "6 ft"), ("12.5 ft", "12.5 ft"), ("11.25 ft", "11.25 ft"), ("4.3333 ft", "4.3333 ft"),
])  # fmt: skip
def test_a_length_off_the_tape_is_told_as_a_tape_reads(typed, shown):
    """3.1667 ft had stood for 3'-2"; what has a short decimal, or is no sixteenth of an inch, stays as it is."""
    job = Job({"slab": {"length": typed, "width": "12 ft"}})
    assert job.field("slab.length").text == shown
