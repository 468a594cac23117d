"""Reinforcement as drawings: sheets on the plan, and what a cracked slab still bears."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import magnitude, show
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.plan.drawing import ACCENT, GREY, HEAVY, INK, SMALL, THIN, area, canvas, chart, text_width
from calcbook.plan.slab_drawing import finish_plan
from calcbook.reinforcement.amounts import sheets_of, steel_layer
from calcbook.reinforcement.fiber import cracking_moment, equivalent_in_bending

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

FOOT = Q(12, "in")


def mesh_drawing(job: Job) -> Figure:
    """Sheets on the plan. job: a Job with mesh. Returns a matplotlib Figure."""
    plan, sheets = job.plan, sheets_of(job)
    on = canvas(plan.bounds, (44, 60, 40, 40), 6.5, 6.2, job.system)
    for index, piece in enumerate(sheets.pieces):
        area(
            on,
            piece,
            edge=ACCENT if index % 2 else GREY,
            width=THIN,
            style="-" if index % 2 else (0, (5, 2)),
        )
    area(on, plan.outline, width=HEAVY)
    title = f"{sheets.count} sheets laid along {sheets.along}"
    finish_plan(on, plan.bounds, {"left": 8, "right": 8, "top": 8, "bottom": 8}, job.system, title)
    return on.figure


def moment_chart(job: Job, f_r: Quantity) -> Figure:
    """Moment of one foot of slab: before the crack, and after it by each kind. Returns a Figure.

    job: a Job; f_r: modulus of rupture. Kinds without the maker's data stand as not known.
    """
    h, f_c, r = job.slab.thickness, job.concrete.strength, job.reinforcement
    values = {"plain, before the crack": cracking_moment(f_r, FOOT, h)}
    for kind in ("mesh", "bars"):
        A_s, f_y = steel_layer(job, kind)
        values[kind] = equivalent_in_bending(A_s, f_y, h / 2, h, f_c) * FOOT * h**2 / 6
    values["fiber"] = None if r.residual is None else r.residual * FOOT * h**2 / 6
    label = TRADE_UNITS["lbf*ft"].label_for(job.system)
    names = list(values)[::-1]
    figure, ax = chart(height=2.4, title="Moment of one foot of slab", x=f"moment, {label}",
                       left=12 + max(text_width(name, SMALL) for name in names))  # fmt: skip
    for y, name in enumerate(names):
        value = values[name]
        if value is None:
            ax.annotate(
                "not known without the maker's test",
                (0, y),
                (4, 0),
                textcoords="offset points",
                va="center",
                fontsize=SMALL,
                color=GREY,
            )
            continue
        x = magnitude(value.to("lbf*foot"), "lbf*ft", job.system)
        ax.barh(
            y,
            x,
            0.55,
            facecolor="white",
            edgecolor=INK,
            hatch=None if name.startswith("plain") else "////",
            lw=0.9,
        )
        ax.annotate(
            show(value, "lbf*ft", job.system),
            (x, y),
            (4, 0),
            textcoords="offset points",
            va="center",
            fontsize=SMALL,
        )
    ax.set_yticks(range(len(names)), names)
    ax.set_ylim(-0.6, len(names) - 0.4)  # a kind that is not known has no bar to make room
    ax.margins(x=0.18)
    ax.set_ylim(-0.6, len(names) - 0.4)
    return figure
