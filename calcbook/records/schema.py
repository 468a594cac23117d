"""The sections of a record: what was measured on a pour, and what the book had promised for it.

Fields, units and messages are those of the job file. Every measured value may be left out.
"""

from __future__ import annotations

from typing import Any

from pydantic import Field, model_validator

from calcbook.basis.reading import read
from calcbook.basis.units import Quantity, UnitError, number_in
from calcbook.job.clock import clock_text, day_text
from calcbook.job.fields import Clash, Section, declared, entries, pick, quantity, section, text, whole
from calcbook.records.figures import FIGURES, LINES

WORKS = (
    "placing", "floating", "first troweling", "second troweling", "third troweling", "sawing",
)  # fmt: skip
_OPEN = "not measured"


def _clock(meaning: str) -> Any:
    return text(meaning, "", _OPEN, check=lambda value: clock_text(value) if value else value)


def _names(meaning: str) -> Any:
    """Figures by their names, with commas between."""

    def known(value: str) -> str:
        known = (*FIGURES, LINES)
        unknown = [n for n in _split(value) if n not in known]
        if unknown:
            raise UnitError(f"{unknown[0]!r} is none of these: {', '.join(known)}")
        return ", ".join(_split(value))

    return text(meaning, "", "none", check=known)


def _split(value: str) -> list[str]:
    return [word.strip() for word in value.split(",") if word.strip()]


class Head(Section):
    """[record]: which job it is about, the day, and what no number says."""

    job: str = text("job file that it belongs to", longest=120)
    name: str = text("name of the job", "", "none")
    units: str = pick("units shown", ("us", "si"), "us", "as in the job")
    currency: str = text("money, by its code, such as EUR", "$", "dollars", longest=3)
    date: str = text("day of the pour", "", _OPEN, check=day_text)
    by: str = text("who wrote it down", "", "not said")
    lost_days: int | None = whole("planned days lost to the weather", None, _OPEN, high=60)
    wrong: str = text("what went wrong, in words", "", "nothing said", longest=400)
    leave_out: str = _names("figures that this job is left out of, with commas between")
    counts: str = _names("figures that were asked about and do count, with commas between")

    def leaves_out(self, figure: str) -> bool:
        """Whether the builder leaves this job out of a figure."""
        return bool(self.leave_out) and figure in _split(self.leave_out)

    def confirms(self, figure: str) -> bool:
        """Whether the builder says that an unusual value is right."""
        return bool(self.counts) and figure in _split(self.counts)


class Concrete(Section):
    """[concrete]: by the tickets."""

    delivered: Quantity | None = quantity(
        "yd3", "concrete delivered, all tickets", None, _OPEN, above=0, high=2000
    )
    left_over: Quantity | None = quantity(
        "yd3", "concrete left over, without what stays in the pump", None, _OPEN, low=0, high=200
    )

    @model_validator(mode="after")
    def _less_than_came(self) -> Concrete:
        came, left = self.delivered, self.left_over
        if came is not None and left is not None and left >= came:
            raise Clash("left_over", "as much is left over as was delivered; one of the two is wrong")
        return self


def _depths() -> Any:
    """Measured depths, each a length."""

    def reader(value: Any) -> Any:
        if not isinstance(value, list) or not 1 <= len(value) <= 200:
            raise UnitError('depths are written ["5 in", "5 1/8 in"], from 1 to 200 of them')
        found = [read(v, "in") for v in value]
        for given, depth in zip(value, found, strict=True):
            if not 1 <= number_in(depth, "in") <= 36:
                raise UnitError(f"{given} is not allowed; a measured depth must be from 1 to 36 in.")
        return found

    meaning = "top of the forms down to the stone, place by place, before the pour"
    example = '["5 in", "5 1/8 in"]'
    return declared(None, meaning, _OPEN, reader, True, form="depths", example=example)


class Base(Section):
    """[base]: the depth that was there before the pour."""

    depths: list | None = _depths()


class Truck(Section):
    """[[trucks]]: a truck by its ticket."""

    load: Quantity | None = quantity("yd3", "load", None, _OPEN, above=0, high=14)
    arrived: str = _clock("time it arrived")
    began: str = _clock("time unloading began")
    empty: str = _clock("time it was empty")
    temperature: Quantity | None = quantity(
        "degF", "concrete as it came", None, _OPEN, low=35, high=110
    )


class Work(Section):
    """[[work]]: a task on the clock, with its people and machines."""

    task: str = pick("task", WORKS)
    start: str = _clock("time it began")
    end: str = _clock("time it ended")
    people: int | None = whole("people at it", None, _OPEN, low=1, high=60)
    machines: int | None = whole("machines at it", None, _OPEN, high=20)


class SetSigns(Section):
    """[set]: the slab's own signs."""

    foot_print: str = _clock("time of the first footprint not deeper than 1/4 in. (6 mm)")
    machine_on: str = _clock("time the machine went on")


class Weather(Section):
    """[weather]: where it differed from the forecast."""

    air: Quantity | None = quantity(
        "degF", "air while finishing, as measured", None, _OPEN, low=-40, high=130
    )
    words: str = text("how the weather differed", "", "as forecast", longest=400)


class Log(Section):
    """[[logs]]: temperatures that a logger kept, as a CSV file beside the record."""

    file: str = text("CSV file with a column of times and one of temperatures", longest=120)
    place: str = pick("where it was measured", ("top", "middle", "bottom", "air", "soil"))


class Strength(Section):
    """[[strengths]]: a test of strength."""

    age: Quantity = quantity("h", "age at the test", above=0, high=24 * 366)
    strength: Quantity = quantity("psi", "strength", above=0, high=20000)
    by: str = pick("how it was tested", ("cylinder", "core", "hammer"), "cylinder", "the usual test")
    cured: str = pick(
        "where it was kept", ("with the slab", "in the laboratory"), "with the slab", "as the slab"
    )


class Cracks(Section):
    """[cracks]: seen at 28 days."""

    seen: int | None = whole("cracks outside of joints", None, _OPEN, high=1000)
    widest: Quantity | None = quantity("in", "width of the widest", None, _OPEN, low=0, high=2)


class Line(Section):
    """[[lines]]: hours or money of a line of the quote, as they came out."""

    line: str = text("line as the quote names it")
    hours: Quantity | None = quantity("h", "person-hours", None, _OPEN, above=0, high=5000)
    cost: Quantity | None = quantity("$", "what it cost", None, _OPEN, low=0, high=1e7)


class Money(Section):
    """[money]: the job in all."""

    spent: Quantity | None = quantity(
        "$", "what the job cost in all, without overhead", None, _OPEN, above=0, high=1e8
    )


class PromisedLine(Section):
    """[[promised.lines]]: a line of the quote as it was promised.

    field, rate: the field of the job file that its hours or its cost rest on, and what it said of the hours.
    """

    line: str = text("line of the quote")
    hours: Quantity | None = quantity("h", "person-hours", None, "none", low=0, high=5000)
    cost: Quantity | None = quantity("$", "cost", None, "none", low=0, high=1e7)
    field: str = text("field of the job file behind it", "", "none", longest=60)
    rate: str = text("what that field said", "", "none", longest=60)


class Promised(Section):
    """[promised]: written by the book when the record is begun, and not to be changed afterwards."""

    date: str = text("day of the pour, as planned", "", "no day was set", check=day_text)
    volume: Quantity | None = quantity("yd3", "concrete by the plan", None, _OPEN, above=0, high=2000)
    area: Quantity | None = quantity("ft2", "plan area", None, _OPEN, above=0, high=1e6)
    thickness: Quantity | None = quantity("in", "slab thickness", None, _OPEN, above=0, high=24)
    strength: Quantity | None = quantity("psi", "strength ordered", None, _OPEN, above=0, high=20000)
    line_loss: Quantity | None = quantity(
        "yd3", "concrete left in the pump and its line", None, _OPEN, low=0, high=5
    )
    order: Quantity | None = quantity("yd3", "concrete to order", None, _OPEN, above=0, high=2000)
    float_early: Quantity | None = quantity(
        "h", "earliest start of floating, after placing begins", None, _OPEN, above=0, high=200
    )
    float_late: Quantity | None = quantity(
        "h", "latest start of floating, after placing begins", None, _OPEN, above=0, high=200
    )
    panel: Quantity | None = quantity(
        "ft", "longest side of a panel between joints", None, _OPEN, above=0, high=200
    )
    w_cm: Quantity | None = quantity(
        "1", "water over cement of the mix", None, _OPEN, ratio=True, low=0.2, high=1
    )
    drying: Quantity | None = quantity(
        "lb/ft2/h", "evaporation in the worst hour, by the forecast", None, _OPEN, low=0, high=5
    )
    own_set: Quantity = quantity(
        "1",
        "own factor on setting times that the band rests on",
        1.0,
        "as published",
        ratio=True,
        low=0.3,
        high=3,
    )
    direct: Quantity | None = quantity("$", "direct cost", None, _OPEN, low=0, high=1e8)
    price: Quantity | None = quantity("$", "price quoted", None, _OPEN, low=0, high=1e8)
    sure: Quantity | None = quantity(
        "$", "price that keeps the margin as surely as wanted", None, _OPEN, low=0, high=1e8
    )
    confidence: Quantity = quantity("1", "how surely", "80 %", "as in the job", low=0.05, high=0.99)
    overhead: Quantity = quantity("1", "overhead, share of direct cost", 0.0, "none", low=0, high=1)
    margin: Quantity = quantity("1", "margin, share of the price", 0.0, "none", low=0, below=1)
    lines: list[PromisedLine] = entries("lines of the quote", 200)


class RecordFile(Section):
    """The whole record."""

    record: Head = Field(description="which job, which day")
    concrete: Concrete = section("concrete by the tickets")
    base: Base = section("depths before the pour")
    trucks: list[Truck] = entries("trucks", 60)
    work: list[Work] = entries("tasks on the clock", 60)
    set: SetSigns = section("the slab's own signs")
    weather: Weather = section("weather, where it differed")
    logs: list[Log] = entries("logged temperatures", 20)
    strengths: list[Strength] = entries("tests of strength", 60)
    cracks: Cracks = section("cracks at 28 days")
    lines: list[Line] = entries("hours and money as they came out", 200)
    money: Money = section("the job in all")
    promised: Promised = section("what the book had promised")
