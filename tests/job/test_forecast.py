"""Weather rows: reading, and what is refused in words."""

import datetime

import numpy as np
import pytest

from calcbook.job.file import Job
from calcbook.job.files import JobError
from calcbook.job.forecast import ForecastError, build, clock, read_time
from calcbook.job.forecast_csv import read_csv, rows_for_job

START = datetime.datetime(2026, 10, 27)


def rows(count=6, step=1.0, **changes):
    made = []
    for n in range(count):
        row = {
            "time": clock(START + datetime.timedelta(hours=n * step)), "air": "50 F", "humidity": "70 %",
            "wind": "10 mph", "sky": "40 %",
        }  # fmt: skip
        made.append({**row, **changes.get(f"row{n}", {})})
    return made


def test_good_rows_are_read():
    forecast = build(rows())
    assert forecast.hours.tolist() == [0, 1, 2, 3, 4, 5]
    assert forecast.air_F[0] == pytest.approx(50)
    assert forecast.humidity[0] == pytest.approx(0.7)
    assert forecast.sky[0] == pytest.approx(0.4)
    assert np.isnan(forecast.sun_W).all()
    assert forecast.notes == ()
    assert forecast.at("air_F", 2.5) == pytest.approx(50)
    assert forecast.since(START + datetime.timedelta(hours=2)) == 2


def test_si_rows_are_the_same():
    si = [{**row, "air": "10 C", "wind": "16.09344 km/h"} for row in rows()]
    assert build(si).air_F == pytest.approx(build(rows()).air_F)
    assert build(si).wind_mph == pytest.approx(build(rows()).wind_mph)


def test_three_hours_are_filled_by_a_line_and_said():
    forecast = build(rows(4, step=3))
    assert len(forecast.notes) == 3
    assert "straight line" in forecast.notes[0]
    assert build(rows(4, step=1)).notes == ()


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (rows(4, step=4), "no weather rows between 2026-10-27 00:00 and 2026-10-27 04:00"),
        (rows(row2={"time": "2026-10-27 01:00"}), "put the rows in order"),
        (rows(row2={"time": "2026-10-27 00:30"}), "put the rows in order"),
        (
            rows(row3={"air": "200 F"}),
            "row 4: air temperature 200 F cannot be true; it must be -60 °F to 130 °F",
        ),
        (rows(row3={"air": "-61 F"}), "cannot be true"),
        (rows(row3={"air": "50"}), "row 4, air: 50 has no unit"),
        (
            rows(row1={"humidity": "120 %"}),
            "row 2: relative humidity 120 % cannot be true; it must be 1 % to 100 %",
        ),
        (rows(row1={"humidity": "0 %"}), "relative humidity"),
        (rows(row1={"wind": "-1 mph"}), "wind -1 mph cannot be true"),
        (rows(row1={"wind": "151 mph"}), "wind 151 mph"),
        (rows(row1={"sky": "110 %"}), "cloud cover"),
        (rows(row1={"sun": "1500 W/m2"}), "sun on level ground"),
        (rows(row5={"sky": None}), "gives neither sky nor sun"),
        (rows(row2={"air": "95 F"}), "air goes from 50 °F to 95 °F at 2026-10-27 02:00"),
        (rows(row2={"air": None}), "weather row 3 has no air temperature"),
        (rows(row2={"time": "noon"}), "weather row 3: 'noon' is not a time"),
        (rows(1), "1 weather rows; give from 2 to 400"),
        (rows(401), "401 weather rows"),
        ([{"air": "50 F"}, {"air": "50 F"}], "weather row 1 has no time"),
        (rows(row1={"time": "2026-10-27T01:00-05:00"}), "write all alike"),
    ],
)
def test_wrong_rows_are_refused_in_one_sentence(wrong, words):
    with pytest.raises(ForecastError) as caught:
        build(wrong)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_thirty_degrees_in_an_hour_is_the_limit_and_grows_with_the_gap():
    assert build(
        rows(row2={"air": "80 F"}, row3={"air": "80 F"}, row4={"air": "80 F"}, row5={"air": "80 F"})
    )
    assert build(rows(4, step=2, row2={"air": "105 F"}, row3={"air": "105 F"}))


def test_offsets_are_brought_to_the_first():
    made = build([
        {**rows()[0], "time": "2026-11-01T00:30-05:00"},
        {**rows()[0], "time": "2026-11-01T01:30-05:00"},
        {**rows()[0], "time": "2026-11-01T01:30-06:00"},
    ])  # fmt: skip
    assert made.hours.tolist() == [0, 1, 2]


def test_sky_is_filled_where_only_sun_is_given():
    made = build(
        rows(
            4,
            row0={"sky": "0 %"},
            row1={"sky": None, "sun": "100 W/m2"},
            row2={"sky": "50 %"},
            row3={"sky": None, "sun": "0 W/m2"},
        )
    )
    assert made.sky == pytest.approx([0, 0.25, 0.5, 0.5])


def test_covers():
    forecast = build(rows())
    forecast.covers(START, START + datetime.timedelta(hours=5))
    with pytest.raises(ForecastError, match="end at 2026-10-27 05:00"):
        forecast.covers(START, START + datetime.timedelta(hours=6))
    with pytest.raises(ForecastError, match="start at 2026-10-27 00:00"):
        forecast.covers(START - datetime.timedelta(hours=1), START)


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-10-27 07:30", (2026, 10, 27, 7, 30)), ("2026-10-27T07:30:00", (2026, 10, 27, 7, 30)),
        ("10/27/2026 7:30 PM", (2026, 10, 27, 19, 30)), ("10/27/2026 19:30", (2026, 10, 27, 19, 30)),
        ("27.10.2026 19:30", (2026, 10, 27, 19, 30)), ("2026-10-27", (2026, 10, 27, 0, 0)),
    ],
)  # fmt: skip
def test_times(text, moment):
    assert read_time(text) == datetime.datetime(*moment)


CSV = """Time,Air temperature (F),Dew point (F),Humidity (%),Wind (mph),Wind direction,Cloud cover (%)
2026-10-27 00:00,50,40,70,10,N,40
2026-10-27 01:00,51,40,68,11,N,50
"""


def test_csv_with_units_in_the_headings(tmp_path):
    path = tmp_path / "export.csv"
    path.write_text(CSV)
    forecast = read_csv(path)
    assert forecast.air_F.tolist() == pytest.approx([50, 51])
    assert forecast.humidity.tolist() == pytest.approx([0.70, 0.68])
    assert forecast.wind_mph.tolist() == pytest.approx([10, 11])
    assert forecast.sky.tolist() == pytest.approx([0.4, 0.5])


def test_csv_with_semicolons_units_in_the_cells_and_sun(tmp_path):
    path = tmp_path / "export.csv"
    path.write_text(
        "date;temperature;rh;wind speed;solar radiation [W/m2]\n"
        "27.10.2026 12:00;10 C;70 %;5 m/s;300\n27.10.2026 13:00;11 C;68 %;5 m/s;280\n", encoding="utf-8-sig"
    )  # fmt: skip
    forecast = read_csv(path)
    assert forecast.air_F == pytest.approx([50, 51.8])
    assert forecast.wind_mph == pytest.approx([11.18, 11.18], abs=0.01)
    assert forecast.sun_W.tolist() == [300, 280]


@pytest.mark.parametrize(
    "text",
    [
        # other columns with the same words; the day in a column of its own
        "Date,Time,Wind Chill (F),Wind Gust (mph),Temp (F),Dew Point (F),RH (%),Wind Dir,Wind (mph),Sky (%)\n"
        "10/27/2026,7:00 AM,30,20,43,33,73,N,11,60\n10/27/2026,8:00 AM,30,20,44,33,73,N,11,60\n",
        "Day,Hour,Temp (F),RH (%),Wind (mph),Sky (%)\n2026-10-27,7,43,73,11,60\n2026-10-27,8,44,73,11,60\n",
        "Date,Hour,Temp (F),RH (%),Wind (mph),Sky (%)\n27.10.2026,7 am,43,73,11,60\n27.10.2026,8 am,44,73,11,60\n",
        # lines above the headings, a day and a time in one cell, a blank line below
        "made by,a weather station\n44.1,-87.6\n\ntime,air (F),humidity (%),wind (mph),cloud (%),gusts (mph)\n"
        "2026-10-27T07:00,43,73,11,60,20\n2026-10-27T08:00,44,73,11,60,20\n,,,,,\n",
        # decimal commas
        "date;air (F);rh (%);wind (mph);sky (%)\n"
        "27.10.2026 07:00;43,0;73;11,0;60\n27.10.2026 08:00;44,0;73;11,0;60\n",
    ],
    ids=["chill and gusts", "hours", "half days", "preamble", "decimal commas"],
)
def test_files_from_anywhere_read_the_same(tmp_path, text):
    path = tmp_path / "export.csv"
    path.write_text(text)
    forecast = read_csv(path)
    assert [clock(t) for t in forecast.times] == ["2026-10-27 07:00", "2026-10-27 08:00"]
    assert forecast.air_F == pytest.approx([43, 44])
    assert forecast.wind_mph == pytest.approx([11, 11])
    assert forecast.humidity == pytest.approx([0.73, 0.73])
    assert forecast.sky == pytest.approx([0.6, 0.6])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not a CSV file|no weather rows"),
        ("hello\nworld\n", "not a CSV file"),
        ("time,air (F),humidity (%),wind (mph),sky (%)\n", "no weather rows"),
        (CSV.replace("Humidity", "Moisture"), "no column for humidity"),
        (CSV.replace("Cloud cover (%)", "remark"), "no column for sky or sun"),
        (CSV.replace("Air temperature (F)", "Air temperature"), "row 1, air: 50 has no unit"),
        (CSV.replace(",70,", ",700,"), "cannot be true"),
        (CSV.replace("Wind (mph)", "Wind (knotts)"), "knotts"),
    ],
)
def test_wrong_csv_is_refused(tmp_path, text, words):
    path = tmp_path / "export.csv"
    path.write_text(text)
    with pytest.raises(ForecastError, match=words) as caught:
        read_csv(path)
    assert "export.csv" in str(caught.value)


def test_csv_goes_into_the_job_file_and_comments_stay(tmp_path, demo_copy):
    from calcbook.command.cli import main
    from calcbook.job.file import Job

    path = tmp_path / "export.csv"
    lines = ["time,temp (C),rh (%),wind (m/s),cloud (%)"]
    lines += [f"{clock(START + datetime.timedelta(hours=h))},{8 + h % 5},60,4,30" for h in range(60)]
    path.write_text("\n".join(lines))
    before = Job.read(demo_copy)
    assert main(["weather", str(demo_copy), str(path)]) == 0
    job = Job.read(demo_copy)
    assert len(job.pour.forecast) == 60
    assert job.pour.weather().air_F[1] == pytest.approx(48.2)
    assert job.pour.weather().wind_mph[0] == pytest.approx(8.948, abs=0.001)
    assert "# daylight saving time" in demo_copy.read_text()
    assert job.pour.latitude == before.pour.latitude
    path.write_text("\n".join(lines).replace(",60,", ",600,"))
    text = demo_copy.read_text()
    assert main(["weather", str(demo_copy), str(path)]) == 2
    assert demo_copy.read_text() == text


def test_given_sun_goes_into_the_job_file_too():
    row = rows_for_job(
        build(rows(2, row0={"sky": None, "sun": "0 W/m2"}, row1={"sky": None, "sun": "20 W/m2"}))
    )[1]
    assert dict(row) == {
        "time": "2026-10-27 01:00",
        "air": "50 F",
        "humidity": "70 %",
        "wind": "10 mph",
        "sun": "20 W/m2",
    }


def test_rows_in_utc_are_brought_to_the_clock_of_the_site():
    """16:00 UTC is 11:00 where the clock is five hours behind."""
    forecast = build(rows(3, row0={"time": "2026-10-27T15:00Z"}, row1={"time": "2026-10-27T16:00Z"},
                          row2={"time": "2026-10-27T17:00Z"}))  # fmt: skip
    assert forecast.offset == 0
    local = forecast.on_clock(-5, -87.6)
    assert clock(local.times[1]) == "2026-10-27 11:00"
    assert local.offset == -5
    assert local.on_clock(-5, -87.6) is local
    assert local.on_clock(None, -87.6) is local  # an hour off the sun: daylight saving
    assert local.on_clock(None, None) is local
    assert local.on_clock(None, -30).offset == -5  # 3 h off, the most that is a clock
    with pytest.raises(ForecastError, match=r"\+0 h from UTC.*give pour.clock_offset, such as -6 h"):
        forecast.on_clock(None, -87.6)
    with pytest.raises(ForecastError, match="-5 h from UTC"):
        local.on_clock(None, -29.9)


def test_rows_without_an_offset_are_on_the_clock_of_the_site():
    forecast = build(rows(2))
    assert forecast.offset is None
    assert forecast.on_clock(-5, -87.6) is forecast


@pytest.mark.parametrize(("time", "written"), [("2026-10-27T01:00-05:00", "2026-10-27 01:00-05:00"),
                                               ("2026-10-27T01:00+05:30", "2026-10-27 01:00+05:30")])  # fmt: skip
def test_the_offset_goes_into_the_job_file(time, written):
    first = rows_for_job(
        build(rows(2, row0={"time": time}, row1={"time": time.replace("T01", "T02")}))
    )[0]
    assert first["time"] == written


def test_a_job_with_rows_in_utc_gives_the_same_weather(demo):
    """Rows of the demo moved to UTC (five hours later there) are the same weather."""
    local = demo.pour.weather()
    moved = []
    for row in demo.raw["pour"]["forecast"]:
        moment = datetime.datetime.fromisoformat(row["time"]) + datetime.timedelta(hours=5)
        moved.append(dict(row) | {"time": clock(moment) + "Z"})
    job = demo.changed({"pour.forecast": moved})
    assert job.pour.weather().times == local.times
    assert job.pour.weather().at("air_F", 3.0) == local.at("air_F", 3.0)


def test_unreadable_files(tmp_path):
    with pytest.raises(ForecastError, match="could not be read"):
        read_csv(tmp_path / "none.csv")
    big = tmp_path / "big.csv"
    big.write_bytes(b"x" * 1_000_001)
    with pytest.raises(ForecastError, match="larger than 1 MB"):
        read_csv(big)
    big.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ForecastError, match="UTF-8"):
        read_csv(big)


@pytest.mark.parametrize(
    ("clock", "longitude", "fits"),
    [("-5 h", -87, True), ("5 h", -87, False), ("13 h", -175.2, True), ("8 h", 75.2, True), ("-6 h", 106, False)],
)  # fmt: skip
def test_a_clock_that_is_not_the_site_s_is_refused(clock, longitude, fits):
    """A minus sign forgotten put the sun into the night. Clocks of Chicago in summer, Tonga, the west of China (from memory)."""
    place = {"clock_offset": clock, "longitude": f"{longitude} deg", "latitude": "40 deg"}
    raw = {"slab": {"length": "20 ft", "width": "16 ft"}, "pour": place}
    if fits:
        Job(raw)
        return
    with pytest.raises(JobError, match=r"clock_offset: a clock .* mind the minus signs"):
        Job(raw)
