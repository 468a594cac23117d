"""Reinforcement as drawings: sheets on the plan, and what a cracked slab still bears."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import magnitude, show
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.plan.charted import note
from calcbook.plan.drawing import ACCENT, GREY, HEAVY, INK, SMALL, THIN, area, canvas, chart, text_width
from calcbook.plan.slab_drawing import finish_plan
from calcbook.reinforcement.fiber import cracking_moment, equivalent_in_bending

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.plan.outline import Plan
    from calcbook.reinforcement.mesh import MeshSheets

FOOT = Q(12, "in")


def mesh_drawing(plan: Plan, sheets: MeshSheets, system: str) -> Figure:
    """Sheets on the plan of a slab. Returns a matplotlib Figure."""
    on = canvas(plan.bounds, (44, 60, 40, 40), 6.5, 6.2, system)
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
    finish_plan(on, plan.bounds, {"left": 8, "right": 8, "top": 8, "bottom": 8}, system, title)
    return on.figure


def moment_chart(
    h: Quantity,
    f_c: Quantity,
    f_r: Quantity,
    layers: dict[str, tuple[Quantity, Quantity]],
    residual: Quantity | None,
    system: str,
) -> Figure:
    """Moment of one foot of slab: before the crack, and after it by each kind. Returns a Figure.

    h: slab; f_c, f_r: strength and modulus of rupture; layers: (area by width, yield strength) of each
    kind of steel; residual: strength of the fiber, None without the maker's data: then not known.
    """
    values = {"plain, before the crack": cracking_moment(f_r, FOOT, h)}
    for kind, (A_s, f_y) in layers.items():
        values[kind] = equivalent_in_bending(A_s, f_y, h / 2, h, f_c) * FOOT * h**2 / 6
    values["fiber"] = None if residual is None else residual * FOOT * h**2 / 6
    label = TRADE_UNITS["lbf*ft"].label_for(system)
    names = list(values)[::-1]
    figure, ax = chart(height=2.4, title="Moment of one foot of slab", x=f"moment, {label}",
                       left=12 + max(text_width(name, SMALL) for name in names))  # fmt: skip
    for y, name in enumerate(names):
        value = values[name]
        if value is None:
            note(
                ax,
                0,
                y,
                "not known without the maker's test",
                4,
                va="center",
                fontsize=SMALL,
                color=GREY,
            )
            continue
        x = magnitude(value.to("lbf*foot"), "lbf*ft", system)
        ax.barh(
            y,
            x,
            0.55,
            facecolor="white",
            edgecolor=INK,
            hatch=None if name.startswith("plain") else "////",
            lw=0.9,
        )
        note(ax, x, y, show(value, "lbf*ft", system), 4, va="center", fontsize=SMALL)
    ax.set_yticks(range(len(names)), names)
    ax.set_ylim(-0.6, len(names) - 0.4)  # a kind that is not known has no bar to make room
    ax.margins(x=0.18)
    ax.set_ylim(-0.6, len(names) - 0.4)
    return figure
