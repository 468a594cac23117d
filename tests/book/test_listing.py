"""calcbook/formulas.md: units, limits and source of every formula, as they are."""

from pathlib import Path

from calcbook.basis.arguments import Argument
from calcbook.book.listing import markdown, told

WRITTEN = Path(__file__).parents[2] / "calcbook" / "formulas.md"


def test_the_list_of_formulas_is_the_one_that_they_give():
    assert WRITTEN.read_text(encoding="utf-8") == markdown(), "run python -m calcbook.book.references"


def test_every_kind_of_limit_is_told():
    spec = Argument("in", "depth", above=0, low=1, high=9, below=10, valid=(2, 8))
    assert told(spec) == (
        "depth (in); above 0 in. and at least 1 in. and at most 9 in. and below 10 in.; the source covers 2 in. to 8 in."
    )
    assert told(Argument("1", "kind", choices=("a", "b"))) == "kind; a, b"
