"""Setting a page layout with its data as PDF, in letters that are the same on every machine.

Typst brings the letters of the text with it; what they lack, and what the figures are drawn with,
comes from matplotlib's own fonts. Fonts of the system serve only for letters that neither has.
"""

from __future__ import annotations

import functools
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matplotlib import get_data_path

if TYPE_CHECKING:
    from typst import Fonts

FONTS = Path(get_data_path(), "fonts", "ttf")


def pdf(layout: Path, data: dict[str, Any], folder: Path) -> bytes:
    """A PDF of a Typst layout that reads ``data.json`` and may import layouts beside it.

    folder: holds its figures, and is written to.
    """
    import typst

    (folder / "data.json").write_text(json.dumps(data), encoding="utf-8")
    for one in layout.parent.glob("*.typ"):
        (folder / one.name).write_text(one.read_text(encoding="utf-8"), encoding="utf-8")
    return typst.compile(str(folder / layout.name), root=str(folder), font_paths=_fonts())


@functools.cache
def _fonts() -> Fonts:
    """The fonts of this machine, looked through once: a paper that is set in several sizes needs them each time."""
    import typst

    return typst.Fonts(font_paths=[str(FONTS)])


def page_count(paper: bytes) -> int:
    """How many pages a PDF of ``pdf`` has, as its own description says."""
    found = re.search(rb"<xmpTPg:NPages>(\d+)<", paper)
    return int(found.group(1)) if found else 0
