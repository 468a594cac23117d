"""The questions a job starts with: what is asked, what is usual, and why it matters."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calcbook.basis.units import Q
from calcbook.job.catalog import field_at
from calcbook.job.fields import Section, meta_of, show_field
from calcbook.job.schema.sections import JobFile

OUTLINE = "slab.outline"  # asked by shape or by walking, not as one field


@dataclass(frozen=True)
class Question:
    """One question: the field it fills, the words, the usual answer in US and SI units, and why.

    ``open``: the answer that leaves the field out, "" where it must be given; ``model``: the file that it is a
    field of.
    """

    place: str
    words: str
    us: str
    why: str
    si: str = ""
    open: str = ""
    model: type[Section] = JobFile

    def usual(self, system: str) -> str:
        """The usual answer in a system of units."""
        return self.si or self.us if system == "si" else self.us

    @property
    def meta(self) -> dict[str, Any]:
        """The declaration of the field."""
        return meta_of(field_at(self.place, self.model))

    def read(self, answer: str, system: str) -> Any:
        """The answer as it is written into a job file; None where the field stays open. Raises ValueError.

        A bare number is taken in the unit of the question, in the system of the job.
        """
        meta = self.meta
        if self.open and answer.lower() in (self.open, "none", "no", "open", "skip"):
            return None
        if meta.get("form") == "true or false":
            if answer.lower() not in ("y", "yes", "n", "no"):
                raise ValueError("answer yes or no")
            return answer.lower().startswith("y")
        if "unit" in meta and re.fullmatch(r"[0-9 .,/½¼¾-]+", answer):
            answer = f"{answer} {bare_unit(meta['unit'], system)}"
        value = meta["reader"](answer)
        return answer if "unit" in meta else value


def bare_unit(name: str, system: str) -> str:
    """The unit in which a number without one is taken: that of the trade, or its SI counterpart."""
    from calcbook.basis.units import TRADE_UNITS

    return TRADE_UNITS[name].si if system == "si" else name


def edge_depth(answers: Mapping[str, Any], system: str) -> str:
    """The edge's least depth below the slab's underside: 12 in. of it in the ground, the top 6 in. above."""
    meta = QUESTIONS_BY_PLACE["slab.thickness"].meta
    thickness = meta["reader"](answers.get("slab.thickness") or "4 in")
    depth = max(Q(18, "in") - thickness, Q(8, "in"))
    if system == "si":
        return f"{round(depth.m_as('millimeter') / 10 + 0.499) * 10:g} mm"
    return show_field(depth, {"unit": "in"}, "us").rstrip(".")


QUESTIONS = (
    Question("job.name", "What is the job called?", "My slab", "The name stands on every paper of the job."),
    Question("job.client", "Who is it for?", "", "The client's name stands on the quote; leave it empty for now.", open="open"),
    Question("job.units", "Feet and inches (us) or meters (si)?", "us",
             "The units in which everything is shown. You may write any value in either."),
    Question(OUTLINE, "Outline: rectangle, L, or walk round it?", "rectangle",
             "A rectangle and an L are told by their sizes. Any other outline is told by walking round the slab from "
             "one corner: right 24 ft, up 30 ft, and so on, back to the start."),
    Question("slab.thickness", "How thick is the slab?", "4 in",
             "4 in. is usual for a house or a garage for cars, 5 to 6 in. where trucks stand (common practice, no "
             "source). The check under your loads says whether it is enough.", "100 mm"),
    Question("edge.depth", "How deep is the thickened edge, below the underside of the slab?", "14 in",
             "With the top of the slab 6 in. above the ground this puts it 12 in. into the ground, the least that IRC "
             "R403.1.4 asks; deeper where frost goes deeper. 0 for no thickened edge.", "360 mm"),
    Question("soil.frost_depth", "How deep does frost go?", "open",
             "The building office knows it. It is never guessed: left open, the check of the edge says so.", open="open"),
    Question("vehicle.axle", "Load on the heavier axle of a vehicle that parks on it?", "none",
             "A car brings about 2,000 lb on an axle, a loaded light truck 3,600 lb and more (common practice, no source; "
             "see the plate in the door frame). The slab is checked under its wheels.", open="none"),
    Question("reinforcement.kind", "Reinforcement: none, micro fiber, macro fiber, steel fiber, mesh or bars?", "none",
             "Plain concrete with close joints is usual. Fiber, mesh and bars hold cracks tight; the chapter on them "
             "shows all side by side."),
    Question("concrete.strength", "Strength of the concrete?", "3000 psi",
             "f'c, by cylinder at 28 days. 2,500 psi is the least inside a house (IRC Table R402.2), 3,000 psi is usual; "
             "more where it freezes while wet. C25/30 is read as 25 MPa.", "21 MPa"),
    Question("pour.date", "Day of the pour?", "open",
             "Written 2026-06-01, 6/1/2026 or 1.6.2026. With the weather of that day set, drying and frost are worked out; they "
             "can follow later.", open="open"),
    Question("pour.pump", "Placed with a pump?", "no",
             "A pump costs by the day, and leaves about half a yard in its hopper and line."),
    Question("crew.waiting", "Person-hours of waiting until the concrete sets?", "6 h",
             "Finishers are paid while they wait, such as two of them three hours each (a starting figure; use your own "
             "records). Once the job has the weather of its day, that decides instead. Open: the price is not complete.",
             open="open"),
)  # fmt: skip
QUESTIONS_BY_PLACE = {question.place: question for question in QUESTIONS}
