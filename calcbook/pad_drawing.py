"""The section through a pad under its post, with dimensions."""

from shapely import Polygon, box

from calcbook.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    SMALL,
    THIN,
    area,
    canvas,
    dimension,
    label,
    length_text,
)
from calcbook.units import show

_CONCRETE = {"fill": "#f3f3f3", "hatch": "...", "width": HEAVY}


def pad_section(job, index):
    """Section through a pad along x: post, slab, pad, stone, with sizes and load.

    job: a Job; index: of the pad. Returns a matplotlib Figure.
    """
    pad, system = job.pads[index], job.system
    x0, _, x1, _ = job.plan.thickenings[index].bottom.bounds
    half, d = (x1 - x0) / 2, job.plan.thickenings[index].depth
    t, s, c = (v.m_as("foot") for v in (job.slab.thickness, job.base.thickness, pad.post_length))
    reach = half + max(1.2, 0.6 * half)
    on = canvas(
        (-reach, -t - d - 0.3, reach, 1.3),
        (58, 40, 58, 24),
        6.5,
        4.0,
        system,
        f"Section through {pad.name}",
    )
    concrete = Polygon(
        [
            (-reach, 0),
            (-reach, -t),
            (-half, -t),
            (-half, -t - d),
            (half, -t - d),
            (half, -t),
            (reach, -t),
            (reach, 0),
        ]
    )
    for a, b in ((-reach, -half), (half, reach)):
        if s:
            area(
                on, box(a, -t - s, b, -t), edge=GREY, fill="#ffffff", hatch="ooo", width=THIN, zorder=1
            )
    area(on, concrete, edge=INK, **_CONCRETE)
    off = pad.offset_x.m_as("foot")
    area(on, box(off - c / 2, 0, off + c / 2, 1.05), edge=INK, fill="white", width=LINE, zorder=3)
    on.ax.annotate(
        "",
        (off, 0.02),
        (off, 0.75),
        arrowprops={"arrowstyle": "-|>", "color": ACCENT, "lw": 1.2},
        zorder=6,
    )
    text = "load not given" if pad.dead is None else f"dead {show(pad.dead, 'lbf', system)}"
    label(on, (off + c / 2 + 4 * on.point, 0.6), text, SMALL, ACCENT, ha="left")
    dimension(on, (-half, -t - d), (half, -t - d), -18, length_text(2 * half, system, True))
    dimension(on, (reach, -t), (reach, 0), -16, length_text(t, system, True))
    dimension(on, (-reach, -t - d), (-reach, -t), 16, length_text(d, system, True))
    label(
        on,
        (reach - 2 * on.point, -t - s / 2),
        "stone" if s else "",
        SMALL,
        GREY,
        ha="right",
        ground=True,
    )
    return on.figure
