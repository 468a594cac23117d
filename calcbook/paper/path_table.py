"""The governing link of every wall, from its plate to the ground: what stands in its checks and its bolts, in one row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.blocks import Table
from calcbook.basis.calculation import OK

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.blocks import Check
    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job

BOLTS = "Bolt by bolt"  # begin of the title of the bolts' own table


def governing_links(
    job: Job, checks: Sequence[tuple[Calculation, Check]], bolts: Calculation
) -> list[dict[str, str]]:
    """For each wall: the link with the highest ratio, its ratio and chapter, and how many of its checks are open.

    checks: pairs of calculation and check; bolts: the calculation of the sill bolts.
    """
    found = []
    for wall in job.walls:
        own = [(c, k) for c, k in checks if k.title.endswith(f"wall {wall.name}")]
        links = [(k.ratio, _term(k.title, wall.name), c.title) for c, k in own if _is_load(k)]
        links += _hardest_bolt(bolts, wall.name)
        open_ = sum(k.status != OK for _, k in own)
        ratio, link, chapter = max(links, default=(None, "no check of its own", ""))
        found.append({
            "wall": wall.name, "link": link, "chapter": chapter, "ratio": "" if ratio is None else f"{ratio:.2f}",
            "open": str(open_) if open_ else "none",
        })  # fmt: skip
    return found


def _is_load(check: Check) -> bool:
    """Whether a check is one of load against strength, not of a least length."""
    return check.ratio is not None and not check.least


def _term(title: str, name: str) -> str:
    return title.removesuffix(f"wall {name}").rstrip(" ,")


def _hardest_bolt(bolts: Calculation, name: str) -> list[tuple[float, str, str]]:
    """The bolt of a wall that works hardest, from the table of all bolts."""
    for block in bolts.blocks:
        if isinstance(block, Table) and block.title.startswith(BOLTS):
            rows = [
                row for row in block.frame.to_dict("records") if row["Bolt"].rpartition(" ")[0] == name
            ]
            return [
                (
                    float(row["Ratio"]),
                    f"sill bolt {row['Bolt'].rpartition(' ')[2]}: {row['Governs']}",
                    bolts.title,
                )
                for row in rows
            ]
    return []
