"""calcbook/symbols.md holds every symbol, and inside one subject a symbol is one kind of quantity."""

from collections import defaultdict
from pathlib import Path

from calcbook.basis.units import unit
from calcbook.book.symbols import formulas, markdown, subject

WRITTEN = Path(__file__).parents[2] / "calcbook" / "symbols.md"
TWO_KINDS = {  # subject and symbol: why
    ("reinforcement.fiber", "M_o"): "a moment; by width in the collapse load",
    ("concrete.mix", "W_w"): "a mass of water; by volume of concrete in the water-cement ratio",
    ("weigh.risk", "s"): "a spread, of whatever is drawn",
}


def test_the_list_of_symbols_is_the_one_that_the_formulas_give():
    assert WRITTEN.read_text(encoding="utf-8") == markdown(), "run python -m calcbook.book.references"


def test_every_symbol_of_every_formula_is_in_the_list():
    text = WRITTEN.read_text(encoding="utf-8")
    for formula in formulas():
        for name in [*formula.arguments, *(name for name, _ in formula.assignments)]:
            assert f"| `{name}` |" in text, f"{name} of {formula.name}"


def test_inside_a_subject_a_symbol_is_one_kind_of_quantity():
    kinds = defaultdict(set)
    for formula in formulas():
        assert formula.assignments  # finds the symbol of the result
        for name, spec in [*formula.arguments.items(), (formula.symbol, formula.returns)]:
            kinds[subject(formula), name].add(str(unit(spec.unit).dimensionality))
    assert {key for key, found in kinds.items() if len(found) > 1} == set(TWO_KINDS)
