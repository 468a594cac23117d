"""Job files and weather files of any content: read, or refused in words; never slow, never a crash."""

import time

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from server import NOTEBOOKS

from calcbook.command import cli
from calcbook.job.file import Job, JobError
from calcbook.job.forecast import ForecastError
from calcbook.job.forecast_csv import read_csv
from calcbook.job.schema.sections import JobFile

DEMO = (NOTEBOOKS / "demo.toml").read_text(encoding="utf-8")
LIGHT = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
SECTIONS = sorted(JobFile.model_fields)
KEYS = sorted({
    key
    for info in JobFile.model_fields.values()
    for inner in [getattr(info.annotation, "__args__", (info.annotation,))[0]]
    for key in inner.model_fields
})  # fmt: skip
SCALARS = st.one_of(
    st.none().map(lambda _: "5 ft"), st.booleans(), st.integers(-(2**63), 2**63 - 1), st.floats(),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=20), st.dates(), st.times(), st.datetimes(),
    st.sampled_from(["5 in", "20 ft", "1e308 ft", "nan", "$5 / yd3", "12 %", "40 F", "07:30"]),
)  # fmt: skip
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=3)
    ),
    max_leaves=8,
)
TABLES = st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=5)
FILES = st.dictionaries(
    st.sampled_from(SECTIONS), TABLES | st.lists(TABLES, max_size=3) | VALUES, max_size=6
)


def read_or_refused(path, text):
    path.write_text(text, encoding="utf-8", newline="")
    try:
        Job.read(path)
    except JobError as error:
        assert error.problems and all(10 < len(p) < 500 for p in error.problems), error.problems


@LIGHT
@given(FILES)
def test_right_names_with_wrong_contents_are_refused_in_words(tmp_path, raw):
    try:
        text = tomlkit.dumps(raw)
    except (ValueError, TypeError):  # not every value can stand in TOML
        return
    read_or_refused(tmp_path / "random.toml", text)


@LIGHT
@given(st.data())
def test_lines_of_the_demo_in_any_order_are_refused_in_words(tmp_path, data):
    lines = DEMO.splitlines()
    for _ in range(data.draw(st.integers(1, 6))):
        k, j = (data.draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        lines[k] = data.draw(
            st.sampled_from([lines[j], lines[k] * 2, "", lines[k][::-1], lines[k].split("=")[0]])
        )
    read_or_refused(tmp_path / "shuffled.toml", "\n".join(lines))


SMALL = '[slab]\nlength = "20 ft"\nwidth = "16 ft"\n'
MANY = {
    "points": "[slab]\npoints = [" + '["0 ft","0 ft"],' * 40_000 + "]\n",
    "openings": SMALL + '[[openings]]\nx = "9 ft"\ny = "9 ft"\ndiameter = "1 in"\n' * 15_000,
    "extras": SMALL + '[[prices.extra]]\nname = "x"\nprice = "$1"\n' * 20_000,
    "rentals": SMALL + '[[prices.rental]]\nname = "x"\ndays = 1\nrate = "$1 / day"\n' * 15_000,
    "weather": SMALL
    + "[[pour.forecast]]\ntime = 'x'\nair = '5 F'\nhumidity = '5 %'\nwind = '5 mph'\n" * 10_000,
    "depth": "a" + ".a" * 100_000 + " = 1\n",
    "brackets": "a = " + "[" * 200_000,
    "tables": "".join(f"[t{n}]\n" for n in range(60_000)),
    "studs": SMALL + '[[walls]]\nname = "n"\nside = 1\nstud_spacing = "0.000001 ft"\n',
    "trucks": SMALL + '[pour]\ntruck_capacity = "0.000001 yd3"\n',
    "joints": SMALL + '[joints]\nspacing = "0.001 ft"\n',
    "number": SMALL + "[crew]\nsize = " + "9" * 5000 + "\n",
}


@pytest.mark.parametrize("name", MANY)
def test_too_many_or_too_small_is_refused_within_seconds(name, tmp_path, capsys):
    path = tmp_path / "many.toml"
    path.write_text(MANY[name], encoding="utf-8")
    begun = time.process_time()
    status = cli.main(["check", str(path)])
    out, err = capsys.readouterr()
    assert status == 2 and out == "" and len(err.splitlines()) <= 40 and len(err) < 20_000
    assert time.process_time() - begun < 10


HEADS = "time,air (F),humidity (%),wind (mph),cloud (%)\n"
CELLS = st.sampled_from(
    ["2026-10-27 07:00", "2026-10-27 08:00", "50", "nan", "inf", "1e999", "", "=1+1", "7 PM", "40,5", "-", "x" * 300, "99:99",
     "9999-12-31 23:59", "0001-01-01 00:00+14:00", "9999-12-31 23:00-14:00", "\0", '"', "50 F", "5 %"]
)  # fmt: skip


@LIGHT
@given(st.one_of(
    st.text(max_size=300),
    st.lists(st.lists(CELLS, max_size=6).map(",".join), max_size=8).map(lambda rows: HEADS + "\n".join(rows)),
    st.binary(max_size=200),
))  # fmt: skip
def test_weather_files_of_any_content_are_read_or_refused_in_words(tmp_path, content):
    path = tmp_path / "weather.csv"
    path.write_bytes(
        content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
    )
    try:
        read_csv(path)
    except ForecastError as error:
        assert 10 < len(str(error)) < 600


def test_what_only_a_calculation_can_refuse_names_the_file_and_the_calculation(tmp_path, capsys):
    """Sun at midnight: the rows are read, and only the sun's place in the sky tells that they are wrong."""
    path = tmp_path / "sun.toml"
    path.write_text(DEMO.replace('sky = "70 %"', 'sun = "900 W/m2"'), encoding="utf-8")
    assert cli.main(["check", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and len(err.splitlines()) == 1
    assert err.startswith("sun.toml: ") and "cannot be worked out: sun 900 W/m²" in err
