"""One quiet look: black, greys and a single accent, the same in pictures, pages and papers."""

import re
from pathlib import Path

import calcbook
from calcbook.plan.drawing import ACCENT

ROOT = Path(calcbook.__file__).parent
COLOR = re.compile(r"#(?:[0-9a-f]{6}|[0-9a-f]{3})(?![0-9a-z])", re.IGNORECASE)


def colors(path):
    """Colors of a file that have a hue; greys are left out, and sizes of bars such as #3."""
    for found in COLOR.findall(path.read_text(encoding="utf-8")):
        digits = found[1:] if len(found) == 7 else "".join(2 * c for c in found[1:])
        if len({digits[:2].lower(), digits[2:4].lower(), digits[4:].lower()}) > 1:
            yield found.lower()


def test_no_color_but_the_accent_has_a_hue():
    for ending in ("py", "css", "typ"):
        for path in ROOT.rglob(f"*.{ending}"):
            assert set(colors(path)) <= {ACCENT}, path


def test_only_the_drawings_and_the_style_sheet_of_the_lab_spell_the_accent():
    spelled = {
        path.relative_to(ROOT).as_posix() for path in ROOT.rglob("*.py") if ACCENT in set(colors(path))
    }
    assert spelled == {"plan/drawing.py", "command/lab.py"}
