"""Mathematics of the printout: pieces and values put together give what pandoc makes of the whole."""

import json
import re
import warnings

import numpy as np
import pytest
from formula_values import FORMULAS, bound
from pypandoc import convert_text

from calcbook.basis import handcalc, typst_math
from calcbook.basis.formula import Formula
from calcbook.book.chapters import Book
from calcbook.paper.printout import latex_of


def whole(latex):
    """Each of several pieces of LaTeX turned by pandoc in one go, spaces left out."""
    text = "\n\nnextone\n\n".join(f"$$\n{piece}\n$$" for piece in latex)
    return [tight(t) for t in convert_text(text, "typst", format="markdown-smart").split("nextone")]


def tight(typst):
    return re.sub(r"\s", "", typst)


def set_math(latex):
    return [tight(t) for t in typst_math.typst_math((piece, False) for piece in latex)]


def test_what_is_kept_is_what_pandoc_makes():
    assert typst_math.kept() == typst_math.by_pandoc(list(typst_math.kept()))


@pytest.mark.parametrize("name", ["demo", "demo_si"])
def test_a_printout_needs_no_pandoc_and_reads_as_pandoc_would_set_it(name, request, monkeypatch):
    latex = [piece for piece, _ in latex_of(Book(request.getfixturevalue(name)))]
    wanted = whole(latex)
    monkeypatch.setattr("pypandoc.convert_text", None)
    assert set_math(latex) == wanted


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_formula_reads_as_pandoc_would_set_it(system):
    latex = []
    for formula in FORMULAS.values():
        if isinstance(formula, Formula):
            with np.errstate(all="ignore"), warnings.catch_warnings():
                warnings.simplefilter("ignore")
                values = bound(formula)
                lines = formula.lines(values)
            latex.append(handcalc.aligned(handcalc.shown_lines(formula, values, lines, system)))
    assert len(latex) > 150
    assert set_math(latex) == whole(latex)


@pytest.mark.parametrize(
    ("latex", "typst"),
    [
        (r"\text{34.0 in.}^{2}", '$upright("34.0 in.")^2$'),
        (r"\text{64.8 ft}^{2}\text{/yd}^{3}", '$upright("64.8 ft")^2 upright("/yd")^3$'),
        (r"\text{1.2}\times 10^{-5}\text{ m}", '$upright("1.2") times 10^(- 5) upright(" m")$'),
        (r"\text{\$1,200 at 8\%}", '$upright("$1,200 at 8%")$'),
        (r"""\text{5'-4 3/4", #1 \_a\_}""", """$upright("5'-4 3/4\\", #1 _a_")$"""),
    ],
)
def test_values_with_units(latex, typst):
    assert tight(typst_math.typst_math([(latex, True)])[0]) == tight(typst)


def test_a_piece_that_is_not_kept_is_turned_on_the_spot():
    latex = r"\frac{ \mathrm{never}^{ 7 } {} }{ \text{3 ft} }"
    assert latex not in json.loads(typst_math.KEPT.read_text(encoding="utf-8"))
    assert set_math([latex]) == whole([latex])


def test_words_cannot_become_markup():
    hostile = r"""x" + panic("no") = #eval("1") \ $ @ `raw` \\ """
    latex = handcalc.text_latex(hostile)
    (found,) = typst_math.typst_math([(latex, True)])
    shown = hostile.replace("\\", "/")
    assert found == f"$upright({json.dumps(shown)})$"
