"""Weather files as sites export them: clocks, headings, units, words for the sky, gaps; and JSON of the weather service."""

import datetime
import json

import pytest

from calcbook.command.cli import main
from calcbook.job.file import Job
from calcbook.job.forecast import ForecastError, clock
from calcbook.job.forecast_csv import read_csv
from calcbook.job.weather_words import clock_offset, sky_share, wind_text
from calcbook.pour.weather import relative_humidity

UNITS = "air (F),humidity (%),wind (mph),sky (%)"


def read_text(tmp_path, text, name="export.csv"):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return read_csv(path)


DEW = "time,air (F),Dew Point{unit},wind (mph),sky (%)\n2026-10-27 07:00,{air},{dew},11,60\n2026-10-27 08:00,{air},{dew},11,60\n"


def test_a_dew_point_stands_for_the_humidity_where_there_is_no_column_of_it(tmp_path):
    """PCA RX081 (Lerch 1957), from memory: air of 70 F at 70 % has a dew point of 59 F. With a column of humidity the dew point is passed over."""
    path = tmp_path / "export.csv"
    for unit, dew in ((" (°F)", "59"), ("", "59"), (" (C)", "15")):
        path.write_text(DEW.format(unit=unit, air=70, dew=dew), encoding="utf-8")
        forecast = read_csv(path, relative_humidity)
        assert forecast.humidity[0] == pytest.approx(0.68, abs=0.01)
        assert any("worked out from the air and 'Dew Point" in note for note in forecast.notes)
    path.write_text(
        "time,air (F),dew (F),RH (%),wind (mph),sky (%)\n2026-10-27 07:00,70,59,41,11,60\n2026-10-27 08:00,70,59,41,11,60\n"
    )
    assert read_csv(path, relative_humidity).humidity[0] == pytest.approx(0.41)


def test_a_dew_point_rounded_above_the_air_is_the_air_s_and_one_far_above_is_refused(tmp_path):
    path = tmp_path / "export.csv"
    path.write_text(DEW.format(unit=" (F)", air="60.2", dew="61"), encoding="utf-8")
    assert read_csv(path, relative_humidity).humidity[0] == 1
    path.write_text(DEW.format(unit=" (F)", air="60", dew="66"), encoding="utf-8")
    with pytest.raises(ForecastError, match="a dew point of 66 F is above the air's 60 F"):
        read_csv(path, relative_humidity)


def rows(*times, cells="43,73,11,60"):
    return "".join(f"{time},{cells}\n" for time in times)


# --- clocks ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "first", "offset"),
    [
        ("DateTime (UTC)", "2026-10-27 12:00", 0), ("time [GMT]", "2026-10-27T12:00", 0), ("valid_utc", "2026-10-27 12:00", 0),
        ("Date/Time (CDT)", "10/27/2026 7:00 AM", -5), ("time (UTC-5)", "2026-10-27 07:00", -5), ("time (UTC+05:30)", "2026-10-27 07:00", 5.5),
        ("time", "2026-10-27 07:00 CDT", -5), ("time", "10/27/2026 7:00 AM EST", -5), ("time", "2026-10-27T12:00Z", 0),
        ("time", "2026-10-27T07:00-05:00", -5), ("Local time", "2026-10-27 07:00", None), ("time", "10/27/2026 7:00 AM", None),
    ],
)  # fmt: skip
def test_which_clock_it_is_is_read_from_heading_or_cell(heading, first, offset, tmp_path):
    later = first.replace("12:00", "13:00").replace("7:00", "8:00")
    made = read_text(
        tmp_path, f"{heading.replace('valid_utc', 'valid utc')},{UNITS}\n" + rows(first, later)
    )
    assert made.offset == offset and len(made.times) == 2
    told = any("does not say UTC or local" in note for note in made.notes)
    assert told is (offset is None and "Local" not in heading)


def test_rows_in_utc_give_the_same_weather_as_those_of_the_site(demo_copy, tmp_path):
    """The demo's rows, five hours ahead under a heading that says UTC, are the same weather in its job."""
    job = Job.read(demo_copy)
    lines = [f"DateTime (UTC),{UNITS}"]
    for row in job.raw["pour"]["forecast"]:
        moment = datetime.datetime.fromisoformat(row["time"]) + datetime.timedelta(hours=5)
        lines.append(
            ",".join(
                [clock(moment), *(row[key].split()[0] for key in ("air", "humidity", "wind", "sky"))]
            )
        )
    path = tmp_path / "utc.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    assert main(["weather", str(demo_copy), str(path)]) == 0
    assert Job.read(demo_copy).pour.weather().times == job.pour.weather().times


def test_rows_in_utc_are_refused_where_the_job_does_not_say_its_clock(tmp_path, capsys):
    job, path = tmp_path / "x.toml", tmp_path / "utc.csv"
    job.write_text('[slab]\nlength = "24 ft"\nwidth = "30 ft"\n', encoding="utf-8")
    path.write_text(
        f"time (UTC),{UNITS}\n" + rows("2026-10-27 07:00", "2026-10-27 08:00"), encoding="utf-8"
    )
    assert main(["weather", str(job), str(path)]) == 2
    err = capsys.readouterr().err
    assert "its times are in UTC; give pour.clock_offset" in err and len(err) < 300 + len(str(path))
    assert "forecast" not in job.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "hours"),
    [
        ("UTC", 0),
        ("time zone: EDT", -4),
        ("UTC-05:00", -5),
        ("(GMT+1)", 1),
        ("PST", -8),
        ("clock", None),
        ("", None),
        ("estimate", None),
    ],
)
def test_clocks_by_name(words, hours):
    assert clock_offset(words) == hours


# --- headings and units ----------------------------------------------------------------------------

SAME = [clock(datetime.datetime(2026, 10, 27, h)) for h in (7, 8)]


@pytest.mark.parametrize(
    "text",
    [
        "Date,Time (local),Wind,Wind Speed,Wind Gust,Temp.,Dew Pt,Rel Hum,Conditions\n"
        "10/27/2026,7:00 AM,NW,11 mph,20 mph,43 °F,33 °F,73 %,Mostly Cloudy\n10/27/2026,8:00 AM,N,11 mph,20 mph,43 °F,33 °F,73 %,Mostly Cloudy\n",
        "Rel Hum (%),T [degC],Td [degC],Wind Dir,Wind Spd (m/s),Sky Cover (oktas),Time (local)\n"
        "73,6.11111,1,270,4.91744,6.5,2026-10-27 07:00\n73,6.11111,1,270,4.91744,6.5,2026-10-27 08:00\n",
        "station,valid local,tmpf,dwpf,relh,drct,sknt,skyc1\nKXXX,2026-10-27 07:00,43,33,73,270,9.55874,BKN\nKXXX,2026-10-27 08:00,43,33,73,270,9.55874,BKN\n",
        "time local,temperature_2m (°C),relative_humidity_2m (%),wind_speed_10m (km/h),wind_direction_10m (°),cloud_cover_low (%),cloud_cover (%)\n"
        "2026-10-27T07:00,6.11111,73,17.7028,270,10,81.25\n2026-10-27T08:00,6.11111,73,17.7028,270,10,81.25\n",
        "Local time;Temperature °F;Humidity;Wind;Sky\n2026-10-27 07:00;43;73;NW 5 to 11 mph;Mostly Cloudy\n2026-10-27 08:00;43;73;11 mph;Mostly Cloudy\n",
        "Local time,Max Temp (F),Air Temp (F),RH (%),Wind mph,Cloud (tenths)\n2026-10-27 07:00,60,43,73,11,8.125\n2026-10-27 08:00,60,43,73,11,8.125\n",
    ],
    ids=["US observations", "SI, any order", "airport", "model", "words and a range", "maximum beside"],
)  # fmt: skip
def test_headings_in_any_order_read_the_same(text, tmp_path):
    made = read_text(tmp_path, text)
    assert [clock(t) for t in made.times] == SAME
    assert made.air_F == pytest.approx([43, 43], abs=1e-3) and made.humidity == pytest.approx(
        [0.73, 0.73]
    )
    assert made.wind_mph == pytest.approx([11, 11], abs=1e-3)
    sky = 6 / 8 if "BKN" in text else 6.5 / 8
    assert made.sky == pytest.approx([sky, sky], abs=1e-4)


def test_a_share_without_a_unit_is_told(tmp_path):
    made = read_text(tmp_path, "local time,air (F),RH,wind (mph),sky\n" + rows(*SAME))
    assert (
        made.humidity[0] == pytest.approx(0.73)
        and "RH: no unit is given; taken as percent" in made.notes
    )
    made = read_text(
        tmp_path, "local time,air (F),RH,wind (mph),sky\n" + rows(*SAME, cells="43,0.73,11,0.6")
    )
    assert made.humidity[0] == pytest.approx(0.73) and not made.notes


@pytest.mark.parametrize(
    ("words", "eighths"),
    [
        # National Weather Service, Hanford, Weather Words, winter 2000, figure 1 (read in a reprint): middle of each band
        ("Mostly Cloudy", 6.5), ("Partly Sunny", 4), ("partly cloudy", 4), ("Mostly Sunny", 1.5), ("Mostly Clear", 1.5), ("Sunny", 0),
        ("Cloudy", 8), ("Clear", 0), ("Considerable Cloudiness", 6.5),
        # WMO-No. 306, FM 15 (from memory)
        ("FEW", 1.5), ("SCT025", 3.5), ("BKN", 6), ("OVC", 8), ("SKC", 0),
        # common practice, no source
        ("Fair", 1.6), ("Light Rain", 8), ("Chance Rain Showers", 6.5), ("Partly Sunny then Slight Chance Rain", 4), ("Fog/Mist", 8),
        ("purple", None), ("", None),
    ],
)  # fmt: skip
def test_words_for_the_sky(words, eighths):
    assert sky_share(words) == (None if eighths is None else eighths / 8)


@pytest.mark.parametrize(("words", "text"), [("NW 10 to 15 mph", "15 mph"), ("Calm", "0 mph"), ("11", "11"), ("5-10 km/h", "10 km/h"), ("VRB 3 kt", "3 kt"), ("gale", "gale")])  # fmt: skip
def test_a_wind_in_words_is_its_greater_number(words, text):
    assert wind_text(words) == text


# --- what is missing -------------------------------------------------------------------------------


def test_gaps_and_what_is_left_out_are_told(tmp_path):
    text = (
        f"local time,{UNITS}\n"
        + rows("2026-10-27 07:00", "2026-10-27 08:00")
        + "2026-10-27 09:00,M,73,11,60\n"
    )
    made = read_text(tmp_path, text + rows("2026-10-27 10:00", "2026-10-27 10:00", "2026-10-27 12:00"))
    assert [t.hour for t in made.times] == [7, 8, 10, 12]
    assert made.notes == (
        "2026-10-27 09:00: row left out, no air in it",
        "1 rows at a time that was there before are left out",
        "2026-10-27 08:00 to 2026-10-27 10:00: filled by a straight line",
        "2026-10-27 10:00 to 2026-10-27 12:00: filled by a straight line",
    )


def test_rows_that_run_backwards_are_turned_round(tmp_path):
    made = read_text(
        tmp_path,
        f"local time,{UNITS}\n" + rows("2026-10-27 09:00", "2026-10-27 08:00", "2026-10-27 07:00"),
    )
    assert [t.hour for t in made.times] == [7, 8, 9] and made.notes[0].endswith("turned round")


def test_a_word_that_is_not_known_is_refused(tmp_path):
    with pytest.raises(ForecastError, match=r"export.csv: 'purple' is no word for the sky"):
        read_text(tmp_path, f"local time,{UNITS}\n" + rows(*SAME, cells="43,73,11,purple"))


# --- JSON ------------------------------------------------------------------------------------------


def period(hour, **other):
    start = datetime.datetime(2026, 10, 27, hour).isoformat() + "-05:00"
    return {
        "number": hour, "startTime": start, "temperature": 43, "temperatureUnit": "F", "windSpeed": "5 to 11 mph", "windDirection": "NW",
        "dewpoint": {"unitCode": "wmoUnit:degC", "value": 1.1}, "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 73},
        "shortForecast": "Mostly Cloudy", **other,
    }  # fmt: skip


def test_the_hourly_json_of_the_weather_service_is_read(tmp_path):
    si = {
        "temperature": {"unitCode": "wmoUnit:degC", "value": 6.11111},
        "windSpeed": {"unitCode": "wmoUnit:km_h-1", "value": 17.7028},
    }
    made = read_text(
        tmp_path, json.dumps({"properties": {"periods": [period(7), period(8, **si)]}}), "hourly.json"
    )
    assert made.offset == -5 and [t.hour for t in made.times] == [7, 8]
    assert made.air_F == pytest.approx([43, 43], abs=1e-3) and made.wind_mph == pytest.approx(
        [11, 11], abs=1e-3
    )
    assert made.humidity.tolist() == [0.73, 0.73] and made.sky.tolist() == [0.8125, 0.8125]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not whole JSON"), ("{}", "no hourly periods"), ('{"properties": {"periods": []}}', "no hourly periods"), ('{"periods": [1, 2]}', "period 1 is not an hour"),
        (json.dumps({"periods": [period(7, shortForecast="Hm")]}), "'Hm' does not tell the sky"), (json.dumps({"periods": [period(7)]}), "1 weather rows"),
        (json.dumps({"periods": [period(7, temperature=None), period(8)]}), "row 1 has no air temperature"),
        ("{" + '"a":[' * 5000, "not whole JSON"),
    ],
)  # fmt: skip
def test_json_that_is_no_hourly_weather_is_refused_in_words(text, said, tmp_path):
    with pytest.raises(ForecastError, match=said) as caught:
        read_text(tmp_path, text, "hourly.json")
    assert "hourly.json" in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "text",
    [
        "TAF KXYZ 121130Z 1212/1312 24008KT P6SM SCT040 TX18/1220Z TN07/1311Z\n     FM122000 27012KT P6SM BKN060\n",
        "METAR KXYZ 121253Z 24008KT 10SM SCT040 12/06 A3002\n",
        "KXYZ 121253Z 24008KT 10SM SCT040 12/06 A3002\nKXYZ 121353Z 25009KT 10SM SCT040 13/06 A3001\n",
    ],
)
def test_an_aviation_report_is_refused_with_what_it_lacks(tmp_path, text):
    path = tmp_path / "weather.txt"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ForecastError, match="aviation report: a TAF gives no hourly temperature"):
        read_csv(path)
