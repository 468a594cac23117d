"""references.md says what the formulas and tests say."""

from pathlib import Path

from calcbook.references import markdown
from calcbook.sources import STATUSES, sources

WRITTEN = Path(__file__).parent.parent / "references.md"


def test_the_reference_list_is_the_one_that_the_formulas_give():
    assert WRITTEN.read_text(encoding="utf-8") == markdown(), "run python -m calcbook.references"


def test_every_document_has_a_title_and_a_known_status():
    for source in sources().values():
        assert len(source.title) > 10 and source.status in STATUSES
