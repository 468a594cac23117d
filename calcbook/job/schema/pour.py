"""The sections of a job file that belong to the pour: day, weather, crew."""

from __future__ import annotations

import datetime
import functools
from typing import TYPE_CHECKING

from pydantic import model_validator

from calcbook.basis.table import table
from calcbook.basis.units import Quantity, number_in
from calcbook.job.clock import FARTHEST_CLOCK, clock_hours, clock_text, day_text, read_day
from calcbook.job.fields import (
    OWN,
    PRACTICE,
    Clash,
    Section,
    entries,
    pick,
    quantity,
    text,
    whole,
    yes_no,
)

if TYPE_CHECKING:
    from calcbook.job.forecast import Forecast

BLANKETS = tuple(row["name"] for row in table("blankets"))
SOILS = tuple(
    row["name"] for row in table("materials") if row["name"].endswith(("sand", "clay", "peat"))
)


class WeatherHour(Section):
    """One row of weather."""

    time: str = text("local clock time of the row, such as 2026-10-27 07:00")
    air: Quantity = quantity("degF", "air temperature", low=-60, high=130)
    humidity: Quantity = quantity("1", "relative humidity", low=0.01, high=1)
    wind: Quantity = quantity("mph", "wind at the forecast's height", low=0, high=150)
    sky: Quantity | None = quantity("1", "cloud cover", None, "sun is given", low=0, high=1)
    sun: Quantity | None = quantity(
        "W/m2", "sun on level ground", None, "sky is given", low=0, high=1400
    )


class Pour(Section):
    """[pour]: day, place and weather of the pour, how it is placed, and what covers it."""

    date: str = text("day of the pour", "", "no date given", check=day_text)
    start: str = text(
        "time the first truck is wanted, such as 07:30", "07:00", PRACTICE, check=clock_text
    )
    truck_capacity: Quantity = quantity(
        "yd3",
        "most a truck carries",
        "9 yd3",
        "8 to 10 yd³ is usual (from memory)",
        low=1,
        high=14,
        si="7 m3",
    )
    minimum_load: Quantity = quantity(
        "yd3",
        "smallest load without a short-load fee",
        "4 yd3",
        "ask the producer",
        low=0,
        high=14,
        si="3 m3",
    )
    truck_spacing: Quantity = quantity("min", "time between trucks", "45 min", OWN, low=5, high=240)
    pump: bool = yes_no("place with a pump", False, "chute from the truck")
    line_loss: Quantity = quantity(
        "yd3", "concrete left in the pump's hopper and line", "0.5 yd3",
        "hopper about 0.3 yd³ (common practice, no source), 100 ft of 3 in. line 0.18 yd³; ask the pump's owner",
        low=0, high=5, si="0.4 m3",
    )  # fmt: skip
    haul: Quantity = quantity(
        "min", "from water on cement to arrival", "30 min", "ask the producer", low=0, high=180
    )
    drum_limit: Quantity = quantity(
        "min", "time limit on the drum", "90 min",
        "ASTM C94 (from memory; editions differ): 1 1/2 h unless agreed otherwise", low=15, high=300,
    )  # fmt: skip
    empty_rate: Quantity = quantity(
        "yd3/h", "rate at which a truck or pump can empty", "25 yd3/h",
        f"{OWN}; pumps are rated 12 to 65 yd³/h (Concrete Construction)", above=0, high=150, si="20 m3/h",
    )  # fmt: skip
    concrete_temperature: Quantity = quantity(
        "degF",
        "concrete as delivered",
        "65 F",
        "ask the producer and measure each truck",
        low=35,
        high=105,
        si="18 C",
    )
    latitude: Quantity | None = quantity(
        "deg", "latitude, north positive", None, "no place given", low=-66, high=66
    )
    longitude: Quantity | None = quantity(
        "deg", "longitude, east positive", None, "no place given", low=-180, high=180
    )
    clock_offset: Quantity | None = quantity(
        "h", "local clock ahead of UTC (negative in the Americas)", None,
        "as the weather rows say, else standard time by the longitude; with daylight saving time give it", low=-12, high=14,
    )  # fmt: skip
    wind_height: Quantity = quantity(
        "ft",
        "height of the forecast wind above ground",
        "33 ft",
        "forecasts give it at 10 m",
        low=1.6,
        high=300,
        si="10 m",
    )
    forecast: list[WeatherHour] = entries("hourly weather", 1000)
    shaded: Quantity = quantity(
        "1", "share of the slab that comes into shade", "0 %", "no shade given", low=0, high=1
    )
    shade_from: str = text("time of day its shade begins", "12:00", "no shade given", check=clock_text)
    shade_to: str = text("time of day its shade ends", "20:00", "no shade given", check=clock_text)
    soil: str = pick(
        "soil under the base", SOILS, "moist sand", "de Vries 1963: warmest heat store; ask on site"
    )
    soil_temperature: Quantity | None = quantity(
        "degF", "soil and base at the time of the pour", None, "mean air of the forecast's first day",
        low=20, high=110,
    )  # fmt: skip
    blanket: str = pick("cover over the finished slab", BLANKETS, "none", "no cover planned")
    blanket_days: Quantity = quantity(
        "day", "how long the cover stays", "3 day",
        "ACI 306.1-90 (read in a reprint): 3 days; 2 with faster concrete", low=0, high=28,
    )  # fmt: skip
    slowing: Quantity = quantity(
        "1", "setting time with admixtures, times that of plain concrete (0.7 is faster)", 1.0,
        "no accelerator or retarder", ratio=True, low=0.3, high=3,
    )  # fmt: skip
    own_set: Quantity = quantity(
        "1", "setting time of your usual mix, times that of the published bands", 1.0,
        "the published bands, until your own records say otherwise", ratio=True, low=0.3, high=3,
    )  # fmt: skip

    @model_validator(mode="after")
    def _trucks_and_weather(self) -> Pour:
        if self.minimum_load > self.truck_capacity:
            raise Clash(
                "minimum_load", "the smallest load is more than a truck carries (truck_capacity)"
            )
        self._same_place()
        begin, weather = self.moment(), self.weather()
        if begin and weather:
            weather.covers(begin, begin + datetime.timedelta(hours=1))
        return self

    def _same_place(self) -> None:
        """A lost minus sign puts the sun into the night."""
        if self.clock_offset is None or self.longitude is None:
            return
        clock, sun = self.clock_offset.m_as("hour"), self.longitude.m_as("degree") / 15
        if abs((clock - sun + 12) % 24 - 12) > FARTHEST_CLOCK:
            raise Clash(
                "clock_offset",
                f"a clock {clock:+g} h from UTC is not that of longitude {15 * sun:g}°, which is near {round(sun):+g} h; "
                "mind the minus signs",
            )

    def set_times(self) -> float:
        """Setting time, times that of the published bands: by admixtures, and by what own jobs say."""
        return float(number_in(self.slowing, "1") * number_in(self.own_set, "1"))

    def weather(self) -> Forecast | None:
        """The checked forecast (forecast.Forecast) on the site's clock, or None without rows."""
        return self._forecast

    @functools.cached_property
    def _forecast(self) -> Forecast | None:
        from calcbook.job.forecast import build

        if not self.forecast:
            return None
        offset, longitude = (
            None if given is None else given.m_as(unit_name)
            for given, unit_name in ((self.clock_offset, "hour"), (self.longitude, "degree"))
        )
        return build([dict(row) for row in self.forecast]).on_clock(offset, longitude)

    def moment(self) -> datetime.datetime | None:
        """Date and clock of the first truck, or None where no date is given."""
        if not self.date:
            return None
        start = datetime.timedelta(hours=clock_hours(self.start))
        return datetime.datetime.combine(read_day(self.date), datetime.time()) + start


class Crew(Section):
    """[crew]: people, machines and their pace."""

    size: int = whole("people on the pour", 5, OWN, low=1, high=60)
    dig_rate: Quantity = quantity(
        "yd3",
        "soil dug by hand by one person in an hour, in the ground",
        "0.5 yd3",
        OWN,
        above=0,
        high=20,
    )
    machine_rate: Quantity = quantity(
        "yd3", "soil dug by the machine in an hour, in the ground", "15 yd3", OWN, above=0, high=500
    )
    forms_rate: Quantity = quantity(
        "ft", "edge form set by one person in an hour", "12 ft", OWN, above=0, high=500, si="3.5 m"
    )
    base_rate: Quantity = quantity(
        "yd3",
        "stone placed and compacted by one person in an hour",
        "2 yd3",
        OWN,
        above=0,
        high=100,
        si="1.5 m3",
    )
    retarder_rate: Quantity = quantity(
        "ft2",
        "sheet laid and taped by one person in an hour",
        "250 ft2",
        OWN,
        above=0,
        high=10000,
        si="23 m2",
    )
    place_rate: Quantity = quantity(
        "yd3",
        "concrete placed and struck off by one person in an hour",
        "2.5 yd3",
        OWN,
        above=0,
        high=50,
        si="2 m3",
    )
    trowel_rate: Quantity = quantity(
        "ft2", "floor finished by machine by one person in an hour", "100 ft2",
        "one labor-hour per 100 ft², Estimating in Building Construction (read in a reprint)", above=0, high=5000, si="9 m2",
    )  # fmt: skip
    hand_rate: Quantity = quantity(
        "ft2", "floor finished by hand by one person in an hour", "40 ft2",
        "600 against 1,500 ft² a day by machine, Concrete Construction (read in a reprint), of 100 ft² an hour",
        above=0, high=2000, si="3.7 m2",
    )  # fmt: skip
    finishers: int = whole("people who float and trowel", 2, OWN, low=1, high=60)
    power_trowels: int = whole("power trowels at work", 1, "one walk-behind machine", low=0, high=20)
    machines: str = text("machines of your own that come along", "", "none named", longest=400)
    waiting: Quantity | None = quantity(
        "h", "person-hours of waiting for set, for a quote before there is a forecast", None,
        "by the forecast", low=0, high=500,
    )  # fmt: skip
    passes: int = whole("passes of the machine, the float included", 3, PRACTICE, low=1, high=5)
    screed: str = pick("way of striking off", ("power", "hand"), "hand", "no power screed planned")
    screed_rate: Quantity = quantity(
        "ft2", "area struck off by hand in an hour", "1200 ft2", OWN, above=0, high=10000, si="110 m2"
    )
    power_screed_rate: Quantity = quantity(
        "ft2",
        "area struck off by power screed in an hour",
        "2500 ft2",
        OWN,
        above=0,
        high=20000,
        si="230 m2",
    )
