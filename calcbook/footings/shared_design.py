"""The size of a pad under several posts that the job leaves to its loads: the least concrete in trade steps that passes."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from calcbook.basis.arguments import reason
from calcbook.basis.calculation import OK, Calculation
from calcbook.basis.formula import FormulaError
from calcbook.basis.rounding import ceil, metric_rule
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.footings.asked_pad import AskedPad, standing_at
from calcbook.footings.footing import CONCRETE, slab_weight, uplift_resistance
from calcbook.footings.pad_design import LEAST_PLAN
from calcbook.footings.pad_fit import STEPS, Footprint, isolated, room_at
from calcbook.footings.pad_meets import CHAPTER
from calcbook.footings.pads import LEAST_THICKNESS
from calcbook.footings.shared_pad import check_shared
from calcbook.slab.soil import Ground, counted_weight, soil_bearing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from shapely.geometry import Polygon

    from calcbook.basis.units import Quantity
    from calcbook.footings.rigid_pad import Stands
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.job.schema.sections import JobFile

_NEAR, _SOIL = 1e-6, 2.0  # in.: not counted against the soil
_NO_DEEPER = "Bearing pressure"  # begins what more depth does not mend
_HEAVIER = "Bending moment under uplift"  # begins the one question to an engineer that a deeper pad, as heavier, may end


@dataclass(frozen=True)
class SharedDesign:
    """Length, width and depth below the slab, the check nearest its limit and its ratio, and whether the uplift of its
    posts is held too."""

    L: Quantity
    B: Quantity
    d: Quantity
    governs: str
    ratio: float
    lift_held: bool = True


def shared_size(pad: Pad, file: JobFile | Job, outline: Polygon) -> SharedDesign:
    """The least pad under several posts, its middle where the job has it; what is given of its size is kept.

    Every side reaches equally far beyond the outermost posts, in trade steps. Where no such pad holds the uplift, it is
    sized without, and the checks ask an engineer. Raises FormulaError where loads or soil are not given or none passes.
    """
    q_a = soil_bearing(file.soil)
    if q_a is None or any(post.dead is None for post in pad.standing):
        raise FormulaError(
            "its size is left out, and so must follow from its loads: give length, width and depth, or else dead (and live, "
            "roof) of every post on it, and bearing or kind under [soil]"
        )
    x, y = (v.m_as("foot") for v in (pad.x, pad.y))
    sides = [None if v is None else float(v.m_as("inch")) for v in (pad.length, pad.width, pad.depth)]
    sought = _Sought(
        tuple(standing_at(pad, (12 * x, 12 * y))), (sides[0], sides[1]), sides[2], room_at(x, y, outline), file.slab.thickness,
        not isolated(file), file.concrete.strength, file.job.units, float(file.base.thickness.m_as("inch")), q_a,
        counted_weight(file.soil),
    )  # fmt: skip
    return _least(sought)


class _FailsError(Exception):
    """The title of a check that fails."""


class _Tried(AskedPad):
    """A pad of a size that is tried: given up at the first check that fails."""

    def compare(
        self, title: str, demand: Quantity, capacity: Quantity, unit: str, clause: Any, **more: Any
    ) -> None:
        super().compare(title, demand, capacity, unit, clause, **more)
        if self.ratios[-1] > 1:
            raise _FailsError(title)


@dataclass(frozen=True)
class _Sought:
    """What a size depends on. sides, d: those that are given, in.; room: greatest sides, in.; stone: thickness of the base,
    in.; q_a, gamma_s: what the soil bears, and the weight of it that counts."""

    posts: tuple[Stands, ...]
    sides: tuple[float | None, float | None]
    d: float | None
    room: tuple[float, float]
    t: Quantity
    one: bool
    f_c: Quantity
    system: str
    stone: float
    q_a: Quantity
    gamma_s: Quantity | None

    def tried(self, L: float, B: float, d: float) -> SharedDesign | bool:
        """The design of these sizes where every check is OK, else whether a deeper pad may pass.

        Where a post is too near a side or another post for its punching, it is nearer still in a deeper pad.
        """
        none = Q(0, "in")
        seat = Footprint(Q(L, "in"), Q(B, "in"), Q(d, "in"), none, none, whole=True)
        calc = Calculation("pads", "A size that is tried", "Does it pass?", self.system)
        on = _Tried(calc, "", seat, list(self.posts), [], self.t, self.one, self.f_c, self.system)
        try:
            check_shared(on, Ground(self.q_a, self.gamma_s))
        except _FailsError as failed:
            return not str(failed).startswith(_NO_DEEPER)
        open_ = next((check.title for check in calc.checks if check.status != OK), None)
        if open_ is not None:
            return open_.startswith(_HEAVIER)
        most = max(calc.checks, key=lambda check: check.ratio or 0.0)
        name = (
            most.title.removesuffix(" pad ").removesuffix(",").removesuffix(" of").removesuffix(" on")
        )
        return SharedDesign(seat.L, seat.B, seat.d, name, most.ratio or 0.0)

    def may_hold(self) -> bool:
        """Whether the largest pad weighs enough for the uplift of its posts."""
        A = max((L * B for L, B in self.plans()), default=0.0)
        over = slab_weight(t=self.t, gamma_c=CONCRETE) if self.one else Q(0, "psf")
        d = Q(self.depths()[-1], "in")
        held = (
            uplift_resistance(A=Q(A / 144, "ft2"), d=d, gamma_c=CONCRETE, q_over=over)
            if A
            else Q(0, "lbf")
        )
        return sum(p.W for p in self.posts) <= held.m_as("lbf")

    def plans(self) -> Iterator[tuple[float, float]]:
        """Length and width from the smallest, reaching equally far beyond the outermost posts, as far as there is room."""
        step, _, most, _ = STEPS[self.system]
        least = metric_rule(LEAST_PLAN, self.system).m_as("inch")
        spans = [2 * max(abs(p.at[n]) + p.size[n] / 2 for p in self.posts) for n in (0, 1)]
        before: tuple[float, ...] = ()
        for more in range(int(most / step + _NEAR) + 1):
            free = [max(ceil(span / step - _NEAR) * step + more * step, least) for span in spans]
            L, B = (f if g is None else g for f, g in zip(free, self.sides, strict=True))
            over = (
                s > r + _NEAR
                for s, r, g in zip((L, B), self.room, self.sides, strict=True)
                if g is None
            )
            if any(over) or (L, B) == before:
                return
            yield L, B
            before = L, B

    def depths(self) -> list[float]:
        """Depths in steps, from the least: through the stone, and the least thickness of a footing."""
        if self.d is not None:
            return [self.d]
        _, step, _, most = STEPS[self.system]
        t = self.t.m_as("inch") if self.one else 0.0
        h_min = metric_rule(LEAST_THICKNESS, self.system).m_as("inch")
        first = int(ceil(max(self.stone, h_min - t, _SOIL + step) / step - _NEAR))
        return [k * step for k in range(first, int(most / step + _NEAR) + 1)]


@functools.lru_cache(maxsize=64)
def _least(sought: _Sought) -> SharedDesign:
    """The least of what passes, with the uplift held or else without."""
    still = replace(sought, posts=tuple(replace(p, W=0.0) for p in sought.posts))
    found = _searched(sought) if sought.may_hold() else None
    if found is None and still != sought:
        found = _searched(still)
        found = found and replace(found, lift_held=False)
    if found is None:
        raise FormulaError(
            "no pad that stays on the slab carries all of its posts; set them nearer to its middle, give each a pad of its own, "
            "or ask an engineer"
        )
    return found


def _searched(sought: _Sought) -> SharedDesign | None:
    best, least = None, float("inf")
    depths = sought.depths()
    for L, B in sought.plans():
        less = [d for d in depths if L * B * d < least - _NEAR]
        if not less:
            break  # no larger pad can be less concrete
        found = _shallowest(sought, L, B, less)
        if found:
            best, least = found, L * B * float(found.d.m_as("inch"))
    return best


def _shallowest(sought: _Sought, L: float, B: float, depths: list[float]) -> SharedDesign | None:
    """The least of some depths that passes, by halving: too thin or too light ones come first, then those that pass, then
    those that press too hard or whose posts punch into one another."""
    failed, enough, best = -1, len(depths), None
    middle = 0  # the least one first: mostly it decides
    while enough - failed > 1:
        found = sought.tried(L, B, depths[middle])
        if found is True:
            failed = middle
        else:
            enough, best = middle, found or best
        middle = (failed + enough) // 2
    return best


def smallest_shared(calc: Calculation, job: Job, pad: Pad) -> None:
    """Enter the least pad under the posts of one, whatever size it has."""
    free = pad.model_copy(update={"length": None, "width": None, "depth": None})
    try:
        found = shared_size(free, job, job.plan.outline)
    except FormulaError as error:
        calc.ask_engineer(f"Smallest pad for the posts of {pad.name}", CHAPTER, reason(error))
        return
    sizes = " × ".join(show_length(v, job.system, True) for v in (found.L, found.B, found.d))
    lift = (
        "" if found.lift_held else " Its posts' uplift is not held by it: no pad on this slab holds it."
    )
    calc.finding(
        f"{pad.name}: the smallest pad in trade steps that carries all of its posts, reaching equally far beyond them on all "
        f"sides ({found.governs} governs, ratio {found.ratio:.2f}).{lift}", "", f"{sizes} deep below the slab", "",
        CHAPTER, f"smallest {pad.name}", f"smallest pad for the posts of {pad.name}",
    )  # fmt: skip
