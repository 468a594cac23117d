"""The sections of a job file for what lies under the slab: stone base, digging, vapor retarder."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import OWN, PRACTICE, Clash, Section, pick, quantity, text, yes_no
from calcbook.plan.sheet_edge import ENDS


class Base(Section):
    """[base]: the stone under the slab, and how evenly it comes out."""

    thickness: Quantity = quantity(
        "in",
        "compacted thickness of the stone base",
        "4 in",
        "IRC R506.2.2 (from memory)",
        low=0,
        high=48,
        si="100 mm",
    )
    material: str = text("what the base is made of", "crushed stone", PRACTICE)
    density: Quantity = quantity(
        "ton/yd3", "mass of the compacted base by volume", "1.35 ton/yd3",
        "agency and supplier tables for crushed stone (read in a reprint)", low=0.8, high=2.5,
    )  # fmt: skip
    compaction: Quantity = quantity(
        "1", "loose volume above compacted volume", "15 %",
        "10 to 20 % is a range of the trade; no standard found", low=0, high=0.6,
    )  # fmt: skip
    swell: Quantity = quantity(
        "1", "loose volume of dug soil above its volume in the ground", "30 %",
        "textbook example of swell (read in a reprint)", low=0, high=1,
    )  # fmt: skip
    digging: str = pick(
        "who digs, for its hours in the quote", ("not priced", "machine", "hand"), "not priced",
        "digging is left out of the quote",
    )  # fmt: skip
    extra_depth: Quantity = quantity(
        "in",
        "how much deeper the finished base is on average than planned",
        "0.125 in",
        OWN,
        low=-1,
        high=4,
        si="3 mm",
    )
    depth_spread: Quantity = quantity(
        "in", "standard deviation of that average depth", "0.125 in", OWN, low=0, high=4, si="3 mm"
    )


class Retarder(Section):
    """[retarder]: rolls, laps and tape of the sheet under the slab."""

    laid: bool = yes_no(
        "whether a sheet is laid under the slab", True,
        "under a heated or enclosed room, IRC 2021 R506.2.3 (from memory)",
    )  # fmt: skip
    product: str = text(
        "sheet to be laid", "10 mil, ASTM E1745 Class A", "IRC 2021 R506.2.3 (from memory)"
    )
    roll_width: Quantity = quantity(
        "ft", "width of a roll", "14 ft", "trade size (from memory)", low=2, high=60, si="4 m"
    )
    roll_length: Quantity = quantity(
        "ft", "length of a roll", "210 ft", "trade size (from memory)", low=10, high=1000, si="50 m"
    )
    lap: Quantity = quantity(
        "in",
        "lap of neighboring sheets",
        "6 in",
        "IRC R506.2.3 (read in a reprint)",
        low=5.9,
        high=36,
        si="150 mm",
    )
    ends: str = pick(
        "where the sheet ends", ENDS, ENDS[0], "seal or turn up at the edge, ASTM E1643 (from memory)"
    )
    turn_up: Quantity = quantity(
        "in",
        "turn-up at the outline, at least",
        "6 in",
        "seal or turn up at the edge, ASTM E1643 (from memory)",
        low=0,
        high=60,
        si="150 mm",
    )
    tape_roll: Quantity = quantity(
        "ft",
        "length of a roll of seam tape",
        "180 ft",
        "trade size (from memory)",
        low=10,
        high=1000,
        si="50 m",
    )

    @model_validator(mode="after")
    def _laps(self) -> Retarder:
        from calcbook.plan.sheets import (  # here: else every start loads the layout
            SheetError,
            check_roll,
        )

        try:
            check_roll(self.roll_width, self.roll_length, self.lap)
        except SheetError as error:
            raise Clash("lap", str(error)) from None
        return self
