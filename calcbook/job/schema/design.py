"""The section of the job file for the design basis: what the building is designed by, said once."""

from __future__ import annotations

from calcbook.basis.units import Quantity
from calcbook.job.clock import no_clock
from calcbook.job.fields import Section, pick, quantity, text

CODES = ("IRC 2018", "IRC 2021", "IRC 2024", "IBC 2018", "IBC 2021", "IBC 2024")
CATEGORIES = ("A", "B", "C", "D0", "D1", "D2", "E", "F")
_OFFICE = "ask the building department"


class Design(Section):
    """[design]: governing code, wind, snow, earthquake, soils report, and who gave the loads."""

    code: str | None = pick("governing code and edition", CODES, None, _OFFICE)
    risk: str | None = pick("risk category", ("I", "II", "III", "IV"), None, _OFFICE)
    wind: Quantity | None = quantity("mph", "design wind speed", None, _OFFICE, above=0, high=300)
    exposure: str | None = pick("wind exposure", ("B", "C", "D"), None, _OFFICE)
    snow: Quantity | None = quantity("psf", "ground snow load", None, _OFFICE, low=0, high=1000)
    seismic: str | None = pick("seismic design category", CATEGORIES, None, _OFFICE)
    soils_report: str = text("soils report: by whom", "", "no soils report named")
    soils_date: str = text("date of the soils report", "", "no date given", check=no_clock)
    loads_by: str = text("who gave the loads", "", "nobody named")
    loads_date: str = text("date of the loads", "", "no date given", check=no_clock)
