"""What is shown is what is computed."""

import ast
import math
import random

import pytest
from reading import read_back, read_typst

from calcbook.basis import by_hand, markup, mathematics, on_screen
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.concrete.volume import order_volume
from calcbook.concrete.volumes import slab_volume

NAMES = {"A_s": 1.7, "b": 0.6, "phi": 2.3, "f_c": 0.9}


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
    tree = ast.parse(expression, mode="eval").body
    try:
        expected = eval(expression, {**vars(math), "min": min, **NAMES})
    except (ZeroDivisionError, OverflowError):
        return
    if isinstance(expected, complex) or abs(expected) > 1e12:
        return
    for written, read, language in (
        (on_screen.latex, read_back, markup.LATEX),
        (mathematics.typst, read_typst, markup.TYPST),
    ):
        values = {name: language.operand(str(value)) for name, value in NAMES.items()}
        shown = written(mathematics.as_read(tree), values)
        assert read(shown) == pytest.approx(expected, rel=1e-9), shown


@pytest.mark.parametrize(
    ("expression", "latex", "typst"),
    [
        ("(a + b) * c", r"\left( a + b \right) \cdot c", "(a + b) dot.op c"),
        ("a * b / c", r"\frac{ a \cdot b }{ c }", "frac(a dot.op b, c)"),
        ("a / b * c / d", r"\frac{ a }{ b } \cdot \frac{ c }{ d }", "frac(a, b) dot.op frac(c, d)"),
        ("min(min(a, b), c)", r"\min \left( a ,\  b ,\  c \right)", "min (a, b, c)"),
        ("number(a, 'psi') ** 2", "a ^{ 2 }", "a^(2)"),
        ("1e-6 * a", r"1 \times 10 ^ {-6} \cdot a", "1 times 10^(-6) dot.op a"),
        ("a ** (1 / b)", r"a ^{ \frac{ 1 }{ b } }", "a^(1 slash b)"),
        ("a - (b - c)", r"a - \left( b - c \right)", "a - (b - c)"),
        ("(-a) ** 2", r"\left( - a \right) ^{ 2 }", "(-a)^(2)"),
        ("ceil(a / b) * log(c)", r"\left \lceil \frac{ a }{ b } \right \rceil \cdot \ln \left( c \right)", "ceil(frac(a, b)) dot.op ln (c)"),
    ],
)  # fmt: skip
def test_mathematics_is_written_as_in_a_book(expression, latex, typst):
    read = mathematics.as_read(ast.parse(expression, mode="eval").body)
    names = {name: markup.Operand(name) for name in "abcd"}
    assert on_screen.latex(read, names) == latex
    assert mathematics.typst(read, names) == typst


def test_a_value_with_its_unit_or_a_sign_stands_in_brackets_under_a_power():
    read = ast.parse("a ** 2 * b ** 2 * c ** 2", mode="eval").body
    texts = {"a": "5 in.", "b": "0.5", "c": "-3"}
    latex, typst = (
        written(read, {name: language.operand(text) for name, text in texts.items()})
        for written, language in ((on_screen.latex, markup.LATEX), (mathematics.typst, markup.TYPST))
    )
    assert latex == (
        r"\left(\text{5 in.}\right) ^{ 2 } \cdot \text{0.5} ^{ 2 } \cdot \left(\text{-3}\right) ^{ 2 }"
    )
    assert typst == '("5 in.")^(2) dot.op "0.5"^(2) dot.op ("-3")^(2)'


def test_a_line_shows_symbols_then_numbers_with_units_then_the_result():
    bound = slab_volume.bind("1120 ft2", "5 in")
    line = by_hand.shown_lines(slab_volume, bound, slab_volume.lines(bound), symbol="V_s")[0]
    assert line.typst() == 'V_("s") &= A dot.op t = "1,120 ft"^2 dot.op "5 in." = "17.28 yd"^3'
    assert line.latex() == (
        r"V_{\mathrm{s}} &= A \cdot t = \text{1,120 ft}^{2} \cdot \text{5 in.} = \text{17.28 yd}^{3}"
    )


def test_a_metric_job_shows_metric_numbers():
    bound = slab_volume.bind("100 m2", "125 mm")
    line = by_hand.shown_lines(slab_volume, bound, slab_volume.lines(bound), "si")[0]
    assert line.on_screen.substituted == r"\text{100 m}^{2} \cdot \text{125 mm}"
    assert line.on_screen.result == r"\text{12.5 m}^{3}"


def test_a_long_line_is_broken_at_its_signs():
    bound = order_volume.bind("22.44 yd3", 0.08, "0.25 yd3")
    lines = by_hand.shown_lines(order_volume, bound, order_volume.lines(bound))
    assert len(lines[-1].rows) > 1
    assert lines[-1].latex().count("&=") == lines[-1].typst().count("&=") == len(lines[-1].rows)


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
