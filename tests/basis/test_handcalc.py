"""What is shown is what is computed."""

import math
import random
import re

import pytest

from calcbook.basis import handcalc, templates
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.units import Q
from calcbook.concrete.volume import order_volume, slab_volume

NAMES = {"Vaa": 1.7, "Vab": 0.6, "Vac": 2.3, "Vad": 0.9}


def value_of(latex):
    """Evaluate rendered LaTeX by rewriting it to Python: an independent reading of what is shown."""
    text = latex.replace(r"\left", "").replace(r"\right", "").replace("{}", "")
    text = re.sub(r"\\mathrm\{(V\w\w)\}", r" \1 ", text)
    while r"\frac" in text:
        text = _fraction(text)
    text = (
        text.replace(r"\cdot", "*").replace(r"\ln", "log").replace(r"\exp", "exp").replace(r"\pi", "pi")
    )
    text = (
        text.replace(r"\times", "*")
        .replace(r"\sqrt", "sqrt")
        .replace(r"\min", "min")
        .replace(r"\max", "max")
    )
    text = text.replace(",\\ ", ", ").replace("^", "**").replace("{", "(").replace("}", ")")
    return eval(text, {**vars(math), "min": min, "max": max, **NAMES})  # of this test's own text


def _fraction(text):
    start = text.rindex(r"\frac")
    parts, at = [], start + 5
    for _ in range(2):
        at = text.index("{", at)
        depth, end = 1, at
        while depth:
            end += 1
            depth += {"{": 1, "}": -1}.get(text[end], 0)
        parts.append(text[at + 1 : end])
        at = end
    return f"{text[:start]}(({parts[0]})/({parts[1]})){text[at + 1 :]}"


def expressions(count):
    """Random sums of the kinds that formulas hold; always the same ones."""
    rng = random.Random(11)

    def make(depth):
        if depth == 0:
            return rng.choice([*NAMES, "2", "0.25", "3"])
        kind = rng.choice(["+", "-", "*", "/", "/", "**", "neg", "sqrt", "exp", "min"])
        a, b = make(depth - 1), make(rng.randrange(depth))
        if kind == "neg":
            return f"(-({a}))"
        if kind == "sqrt":
            return f"sqrt(({a}) ** 2 + 1)"
        if kind == "exp":
            return f"exp(-(({a}) / 50))"
        if kind == "min":
            return f"min({a}, {b})"
        if kind == "**":
            return (
                f"(({a}) ** 2)"
                if rng.random() < 0.5
                else f"((({a}) ** 2 + 1) ** ({rng.choice(['0.5', '1 / 4', '-1'])}))"
            )
        return f"(({a}) {kind} ({b}))"

    return [make(rng.randrange(1, 4)) for _ in range(count)]


@pytest.mark.parametrize("expression", expressions(120))
def test_a_shown_sum_has_the_value_of_the_code(expression):
    import ast

    plain = ast.unparse(ast.parse(expression, mode="eval").body)
    try:
        expected = eval(plain, {**vars(math), "min": min, **NAMES})
    except (ZeroDivisionError, OverflowError):
        return
    if isinstance(expected, complex) or abs(expected) > 1e12:
        return
    symbolic, numeric = templates.render_line(plain, set(NAMES))
    assert value_of(symbolic) == pytest.approx(expected, rel=1e-9), symbolic
    assert value_of(re.sub(r"@(V\w\w)@", r"\\mathrm{\1}", numeric)) == pytest.approx(expected, rel=1e-9)


def test_a_line_shows_symbols_then_numbers_with_units_then_the_result():
    bound = slab_volume.bind("1120 ft2", "5 in")
    line = handcalc.shown_lines(slab_volume, bound, slab_volume.lines(bound), symbol=r"V_{\mathrm{s}}")[
        0
    ]
    assert line.latex() == (
        r"V_{\mathrm{s}} &= A \cdot t = \text{1,120 ft}^{2} \cdot \text{5 in.} = \text{17.28 yd}^{3}"
    )


def test_a_metric_job_shows_metric_numbers():
    bound = slab_volume.bind("100 m2", "125 mm")
    line = handcalc.shown_lines(slab_volume, bound, slab_volume.lines(bound), "si")[0]
    assert (
        line.substituted == r"\text{100 m}^{2} \cdot \text{125 mm}"
        and line.result == r"\text{12.5 m}^{3}"
    )


def test_a_long_line_is_broken_at_its_signs():
    bound = order_volume.bind("22.44 yd3", 0.08, "0.25 yd3")
    text = handcalc.aligned(handcalc.shown_lines(order_volume, bound, order_volume.lines(bound)))
    assert text.startswith(r"\begin{aligned}") and r"\\ &=" in text


@pytest.mark.parametrize(
    ("name", "latex"),
    [
        ("V", "V"), ("f_c", r"f'_{\mathrm{c}}"), ("A_s", r"A_{\mathrm{s}}"), ("lam", r"\lambda"), ("phi", r"\phi"),
        ("phiM_n", r"\phi M_{\mathrm{n}}"), ("c_a1", r"c_{\mathrm{a1}}"), ("h_ef", r"h_{\mathrm{ef}}"), ("beta", r"\beta"),
        ("psi_ed_N", r"\psi_{\mathrm{ed},\mathrm{N}}"), ("slope", r"\mathrm{slope}"), ("w1", "w_{1}"), ("R_e3", r"R_{\mathrm{e3}}"),
    ],
)  # fmt: skip
def test_symbols_are_those_of_the_field(name, latex):
    assert handcalc.symbol_latex(name) == latex


def test_words_cannot_bring_markup_into_mathematics():
    assert handcalc.text_latex(r"a}$\input{x}_^&%#") == r"\text{a\}\$/input\{x\}\_^\&\%\#}"


def test_money_and_powers_are_set_upright():
    assert handcalc.quantity_latex(Q(1234.5, "$"), "$") == r"\text{\$1,234.50}"
    assert handcalc.quantity_latex(Q(3.5, "in2"), "in2") == r"\text{3.5 in.}^{2}"
    assert handcalc.quantity_latex(0.05, "%") == r"\text{0.05\%}"


def test_a_formula_must_be_assignments_that_end_in_a_name():
    @formula("x", cite("geometry"), result("1", "x"), a=arg("1", "a"))
    def branching_test_formula(a):
        if a > 1:
            a = 1
        return a

    from calcbook.basis.formula import FORMULAS

    del FORMULAS["branching_test_formula"]
    with pytest.raises(TypeError, match="assignments only"):
        branching_test_formula.lines(branching_test_formula.bind(a=1))


def test_every_kept_line_is_what_handcalcs_makes_of_it_now():
    for expression, tokens in templates.all_lines():
        found = templates.kept().get(expression)
        assert found is not None, f"{expression}: run python -m calcbook.basis.templates"
        assert tuple(found) == templates.render_line(expression, tokens)
