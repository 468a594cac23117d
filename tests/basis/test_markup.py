"""Symbols and values in LaTeX and Typst."""

import json

import pytest
import typst

from calcbook.basis.by_hand import quantity
from calcbook.basis.markup import LATEX, TYPST
from calcbook.basis.units import Q


@pytest.mark.parametrize(
    ("name", "latex", "typst"),
    [
        ("V", "V", "V"), ("f_c", r"f'_{\mathrm{c}}", "f'_(\"c\")"), ("A_s", r"A_{\mathrm{s}}", 'A_("s")'),
        ("lam", r"\lambda", "λ"), ("phi", r"\phi", "ϕ"), ("phiM_n", r"\phi M_{\mathrm{n}}", 'ϕ M_("n")'),
        ("c_a1", r"c_{\mathrm{a1}}", 'c_("a1")'), ("beta", r"\beta", "β"), ("w1", "w_{1}", "w_(1)"),
        ("psi_ed_N", r"\psi_{\mathrm{ed,N}}", 'ψ_("ed,N")'), ("slope", r"\mathrm{slope}", '"slope"'),
        ("R_e3", r"R_{\mathrm{e3}}", 'R_("e3")'), ("C3A", r"\mathrm{C}_{3}\mathrm{A}", '"C"_(3)"A"'),
        ("Delta V", r"\Delta V", "Δ V"), ("dT_ad", r"\Delta T_{\mathrm{ad}}", 'Δ T_("ad")'),
        ("Z'_par", r"Z'_{\parallel}", "Z'_(∥)"), ("F_c_perp", r"F_{\mathrm{c}\perp}", 'F_("c"⊥)'),
        ("l_t", r"\ell_{\mathrm{t}}", 'ℓ_("t")'), ("V_l", r"V_{\mathrm{l}}", 'V_("l")'),
        ("w_cm", r"\mathrm{w/cm}", '"w/cm"'), ("pm Delta s", r"\pm \Delta s", "± Δ s"),
    ],
)  # fmt: skip
def test_symbols_are_those_of_the_field(name, latex, typst):
    assert LATEX.symbol(name) == latex
    assert TYPST.symbol(name) == typst


@pytest.mark.parametrize(
    ("text", "latex", "typst"),
    [
        ("34.0 in.²", r"\text{34.0 in.}^{2}", '"34.0 in."^2'),
        ("64.8 ft²/yd³", r"\text{64.8 ft}^{2}\text{/yd}^{3}", '"64.8 ft"^2"/yd"^3'),
        ("1.2×10^-5 m", r"\text{1.2}\times 10^{-5}\text{ m}", '"1.2" times 10^(-5)" m"'),
        ("$1,200 at 8%", r"\text{\$1,200 at 8\%}", '"$1,200 at 8%"'),
        ("""5'-4 3/4", #1 _a_""", r"""\text{5'-4 3/4", \#1 \_a\_}""", r'''"5'-4 3/4\", #1 _a_"'''),
    ],
)
def test_values_are_upright_with_powers_raised(text, latex, typst):
    assert LATEX.value(text) == latex
    assert TYPST.value(text) == typst


def test_money_has_cents_and_a_share_its_sign():
    assert quantity(Q(1234.5, "$"), "$") == "$1,234.50"
    assert quantity(Q(3.5, "$/yd3"), "$/yd3") == "$3.50/yd³"
    assert quantity(0.05, "%") == "0.05%"


def test_words_cannot_bring_markup_into_mathematics():
    assert LATEX.value(r"a}$\input{x}_^&%#") == r"\text{a\}\$/input\{x\}\_^\&\%\#}"
    hostile = r"""x" + panic("no") = #eval("1") \ $ @ `raw` \\ """
    assert TYPST.value(hostile) == json.dumps(hostile)
    typst.compile(f"${TYPST.value(hostile)}$".encode())
