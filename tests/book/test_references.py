"""references.md says what the formulas and tests say."""

import json
import re
from pathlib import Path

import pytest

from calcbook.basis.sources import STATUSES, sources
from calcbook.book.references import markdown

WRITTEN = Path(__file__).parents[2] / "references.md"
NOTEBOOKS = WRITTEN.parent / "notebooks"


def test_the_reference_list_is_the_one_that_the_formulas_give():
    assert WRITTEN.read_text(encoding="utf-8") == markdown(), "run python -m calcbook.book.references"


def test_every_document_has_a_title_and_a_known_status():
    for source in sources().values():
        assert len(source.title) > 10 and source.status in STATUSES


# they show the job, its fields and the way through the book, and compute nothing
NOTHING_OF_THEIR_OWN = ("00-start", "14-fields", "15-apprentice")


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("[0-9]*.ipynb")), ids=lambda path: path.stem)
def test_every_notebook_names_the_source_of_its_published_example(path):
    if path.stem in NOTHING_OF_THEIR_OWN:
        return
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    assert "orked example" in text or "ublished example" in text
    named = re.findall(r"^Source: \*\*(.+?)\*\* \((.+?)\);", text, re.MULTILINE)
    assert named and all(sources()[key].status == status for key, status in named)


def test_no_document_of_the_list_goes_unused():
    root = WRITTEN.parent
    places = [
        ("calcbook", "**/*.py"),
        ("calcbook/tables", "*.csv"),
        ("notebooks", "*.ipynb"),
        ("tests", "**/*.py"),
    ]
    used = "\n".join(p.read_text(encoding="utf-8") for f, g in places for p in (root / f).glob(g))
    assert [key for key in sources() if key not in used] == []
