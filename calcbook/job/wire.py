"""Styles of welded wire as they are written, such as 6x6-W2.9xW2.9."""

from __future__ import annotations

import re

from calcbook.basis.formula import FormulaError
from calcbook.basis.table import table
from calcbook.basis.units import Q, Quantity

_STYLE = re.compile(
    r"^\s*(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)-[WD](\d+(?:\.\d+)?)x[WD](\d+(?:\.\d+)?)\s*$", re.I
)


def wire_style(style: str) -> tuple[Quantity, Quantity, Quantity, Quantity]:
    """(spacing, cross spacing, wire, cross wire) of a style such as 6x6-W2.9xW2.9: in., in., in2, in2."""
    match = _STYLE.match(str(style))
    if not match:
        known = ", ".join(row["style"] for row in table("wire"))
        raise FormulaError(f"welded wire style {style!r} cannot be read; write it like {known}")
    s, s_t, w, w_t = (float(v) for v in match.groups())
    if not (2 <= s <= 18 and 2 <= s_t <= 18 and 1 <= w <= 45 and 1 <= w_t <= 45):
        raise FormulaError(f"welded wire style {style!r}: spacing is 2 to 18 in., wire W1 to W45")
    return Q(s, "in"), Q(s_t, "in"), Q(w / 100, "in2"), Q(w_t / 100, "in2")
