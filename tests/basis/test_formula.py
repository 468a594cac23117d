"""What holds for every formula of the registry, and for the decorator that makes one."""

import ast
import re
import subprocess
import sys
import warnings
from pathlib import Path

import numpy as np
import pytest
from formula_values import FORMULAS, bound, inside

import calcbook
from calcbook.basis import by_hand
from calcbook.basis.formula import (
    Choice,
    Formula,
    FormulaError,
    OutsideRange,
    Procedure,
    arg,
    cite,
    formula,
    number,
    result,
    root,
    with_unit,
)
from calcbook.basis.sources import sources
from calcbook.basis.units import TRADE_UNITS, Q, unit, ureg
from calcbook.book.registry import load_formulas

REGISTRY = load_formulas()
PROCEDURES = {name: f for name, f in REGISTRY.items() if isinstance(f, Procedure)}
RAW_UNITS = re.compile(
    r"pound_|_per_|force_|cubic_yard|\bfoot\b|\binch\b|\byard\b|degree_|dimensionless|delta_deg"
)


def other_kind(spec):
    """A quantity of another dimension than an argument's."""
    is_time = unit(spec.unit).dimensionality == unit("h").dimensionality
    return Q(3, "J/mol" if is_time else "h")


def evaluate(f):
    with np.errstate(all="ignore"), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return bound(f), f.evaluate(bound(f))


@pytest.mark.parametrize("name", FORMULAS)
def test_it_is_shown_without_raw_code_or_units(name):
    f = FORMULAS[name]
    values, _ = evaluate(f)
    for system in ("us", "si"):
        for line in by_hand.shown_lines(f, values, f.lines(values), system):
            for piece in (*line.on_screen, *line.on_paper):
                assert "**" not in piece and "@" not in piece, piece
                assert not RAW_UNITS.search(piece), piece
                words = "".join(re.findall(r"\\text\{([^{}]*)\}", piece))
                assert "_" not in words and not re.search(r"[A-Za-z]\*[A-Za-z]|\d/\w+/\w", words), piece
                assert piece.count("{") == piece.count("}") and piece.count(r"\left") == piece.count(
                    r"\right"
                )


@pytest.mark.parametrize("name", FORMULAS)
def test_the_last_line_shown_is_the_value_returned(name):
    f = FORMULAS[name]
    values, value = evaluate(f)
    last = f.lines(values)[-1].value
    last, value = (
        x.m_as(unit(f.returns.unit)) if isinstance(x, ureg.Quantity) else x for x in (last, value)
    )
    assert last == pytest.approx(value, rel=1e-12, nan_ok=True)


@pytest.mark.parametrize("name", FORMULAS)
def test_plain_numbers_in_bulk_give_what_quantities_give(name):
    f = FORMULAS[name]
    values, value = evaluate(f)
    value = value.m_as(unit(f.returns.unit)) if isinstance(value, ureg.Quantity) else value
    with np.errstate(all="ignore"):
        plain = f.bulk(**values)
        arrays = {
            n: v if f.arguments[n].choices is not None
            else np.full(3, v.m_as(unit(f.arguments[n].unit)) if isinstance(v, ureg.Quantity) else v, dtype=float)
            for n, v in values.items()
        }  # fmt: skip
        many = f.bulk(**arrays)
    assert plain == pytest.approx(value, rel=1e-9, abs=1e-300, nan_ok=True)
    assert np.broadcast_to(many, 3) == pytest.approx(
        np.full(3, value), rel=1e-9, abs=1e-300, nan_ok=True
    )


@pytest.mark.parametrize("name", FORMULAS)
def test_a_wrong_dimension_is_refused_and_names_the_argument(name):
    f = FORMULAS[name]
    values = bound(f)
    for argument, spec in f.arguments.items():
        if spec.choices is None:
            with pytest.raises(FormulaError, match=rf"{name}: {re.escape(argument)} "):
                f.bind(**{**values, argument: other_kind(spec)})


@pytest.mark.parametrize("name", FORMULAS)
def test_bare_numbers_are_taken_in_the_unit_declared(name):
    f = FORMULAS[name]
    for _, expression in f.assignments:
        for call in (n for n in ast.walk(expression) if isinstance(n, ast.Call)):
            called = getattr(call.func, "id", "")
            if (
                called == "number"
                and isinstance(call.args[0], ast.Name)
                and call.args[0].id in f.arguments
            ):
                assert f.arguments[call.args[0].id].unit == call.args[1].value
            if (
                called == "root"
                and isinstance(call.args[0], ast.Name)
                and call.args[0].id in f.arguments
            ):
                assert f.arguments[call.args[0].id].unit == "psi"


@pytest.mark.parametrize("name", REGISTRY)
def test_it_is_documented_and_cites_a_known_document(name):
    entry = REGISTRY[name]
    if not isinstance(entry, Formula | Procedure):
        return
    assert entry.__doc__ and len(entry.__doc__) > 20
    for argument in entry.signature.parameters:
        meaning = entry.arguments[argument].meaning if argument in entry.arguments else ""
        assert meaning or re.search(rf"\b{re.escape(argument)}\b", entry.__doc__), (
            f"{argument} is not described"
        )
    assert entry.source.key in sources() and entry.title


@pytest.mark.parametrize("name", PROCEDURES)
def test_a_procedure_says_how_it_works(name):
    assert len(PROCEDURES[name].words) > 30


def beyond(spec):
    """Values just outside each hard limit of an argument."""
    for limit, step in ((spec.low, -1), (spec.high, 1)):
        if limit is not None:
            yield limit + step * 1e-3 * max(1, abs(limit))
    yield from (limit for limit in (spec.above, spec.below) if limit is not None)
    yield from (float("nan"), float("inf"), -float("inf"))


@pytest.mark.parametrize("name", FORMULAS)
def test_what_is_beyond_a_hard_limit_is_refused_and_told_what_is_allowed(name):
    f = FORMULAS[name]
    values = bound(f)
    for argument, spec in f.arguments.items():
        if spec.choices is not None:
            with pytest.raises(FormulaError, match="choose"):
                f.bind(**{**values, argument: "no such word"})
            continue
        for value in beyond(spec):
            given = value if spec.unit == "1" else ureg.Quantity(value, unit(spec.unit))
            with pytest.raises(FormulaError) as caught:
                f.bind(**{**values, argument: given})
            assert str(caught.value).startswith(f"{name}: {argument} (") and spec.meaning in str(
                caught.value
            )
            assert (spec.allowed() or "finite") in str(caught.value)
            with pytest.raises(FormulaError):
                f.bulk(**{**values, argument: np.array([inside_number(spec), value])})


def inside_number(spec):
    value = inside(spec, 0.37)
    return value.m if isinstance(value, ureg.Quantity) else value


@pytest.mark.parametrize(
    "name", [n for n in FORMULAS if any(a.valid for a in FORMULAS[n].arguments.values())]
)
def test_what_leaves_the_range_of_the_source_is_flagged_and_inside_it_nothing_is(name):
    f = FORMULAS[name]
    inner = {
        n: inside(s, 0.5) if s.valid else v
        for (n, s), v in zip(f.arguments.items(), bound(f).values(), strict=True)
    }
    assert f.flags(**f.bind(**inner)) == []
    for argument, spec in f.arguments.items():
        for edge, step in zip(spec.valid or (), (-1, 1), strict=False):
            value = edge + step * 1e-3 * max(1, abs(edge))
            if spec.breaks(value):
                continue  # the hard limit is no wider: refused, as tested above
            given = value if spec.unit == "1" else ureg.Quantity(value, unit(spec.unit))
            (flag,) = f.flags(**f.bind(**{**inner, argument: given}))
            assert spec.meaning in flag and str(f.source) in flag


@pytest.mark.parametrize("name", [n for n, f in REGISTRY.items() if isinstance(f, Choice)])
def test_one_name_for_several_formulas_picks_by_its_word(name):
    entry = REGISTRY[name]
    assert entry.default in entry.formulas and len(entry.formulas) > 1
    for word, f in entry.formulas.items():
        values = bound(f)
        with np.errstate(all="ignore"), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            picked, own = entry(**values, **{entry.keyword: word}), f(**values)
        assert picked == own or (picked != picked and own != own)
        assert FORMULAS[f.name] is f
    with pytest.raises(FormulaError, match="choose"):
        entry(**{entry.keyword: "no such word"})


def test_every_module_that_holds_formulas_is_in_the_registry():
    """In a process of its own, so that no other test has loaded a module by the way."""
    code = "import sys, calcbook.book.registry as b; b.load_formulas(); print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    package = Path(calcbook.__file__).parent
    for path in package.rglob("*.py"):
        if re.search(
            r"^@(formula|procedure)\(|^\w+ = choice\(", path.read_text(encoding="utf-8"), re.MULTILINE
        ):
            name = ".".join(path.relative_to(package.parent).with_suffix("").parts)
            assert name in loaded, f"enter {name} in FORMULA_MODULES of book/chapters.py"


# --- the decorator itself --------------------------------------------------------------------


@formula(
    "A test's own formula",
    cite("geometry"),
    result("psi", "stress"),
    f_c=arg("psi", "strength", above=0, valid=(2500, 10000)),
    h=arg("in", "thickness", low=2, below=24),
    n=arg("1", "factor", high=3),
)
def own_test_formula(f_c, h, n=1.0):
    """A formula for these tests: f_c strength, h thickness, n factor; not part of the book at all."""
    r = number(h, "in") / 10
    s = n * r * root(f_c)
    return s


del REGISTRY["own_test_formula"]


def test_values_outside_hard_limits_are_refused_and_say_what_is_allowed():
    for bad, said in (
        ({"f_c": "0 psi"}, "above 0 psi"), ({"h": "1 in"}, "at least 2 in. and below 24 in."), ({"h": "24 in"}, "below 24 in."),
        ({"n": 3.5}, "at most 3"), ({"n": float("nan")}, "at most 3"), ({"h": "6 psi"}, "not a length"), ({"f_c": "5 lb"}, "not a pressure"),
    ):  # fmt: skip
        with pytest.raises(FormulaError, match=re.escape(said)):
            own_test_formula(**{"f_c": "3000 psi", "h": "6 in", **bad})


def test_values_on_a_hard_limit_are_allowed():
    assert own_test_formula("3000 psi", "2 in", 3) == own_test_formula(Q(3000, "psi"), Q(2, "in"), 3.0)


def test_a_value_outside_the_range_of_the_source_is_flagged():
    with pytest.warns(OutsideRange, match="outside 2,500 psi to 10,000 psi"):
        own_test_formula("2000 psi", "6 in")
    assert own_test_formula.flags(**own_test_formula.bind("2500 psi", "6 in")) == []


def test_missing_and_unknown_arguments_are_named():
    with pytest.raises(FormulaError, match="missing a required argument: 'h'"):
        own_test_formula("3000 psi")
    with pytest.raises(FormulaError, match="unexpected keyword argument 'q'"):
        own_test_formula("3000 psi", "6 in", q=1)


def test_the_root_of_a_strength_is_taken_in_psi_whatever_unit_it_comes_in():
    assert root(Q(3000, "psi")).m_as("psi") == pytest.approx(3000**0.5)
    assert root(Q(3, "ksi")).m_as("psi") == pytest.approx(3000**0.5)
    assert root(3000.0) == pytest.approx(3000**0.5)
    assert with_unit(2.0, "psi", Q(1, "psi")).m_as("ksi") == pytest.approx(0.002)


def test_a_metric_job_shows_an_empirical_formula_in_its_own_units_and_converts_the_result():
    values = own_test_formula.bind("3000 psi", "10 in")
    line = by_hand.shown_lines(own_test_formula, values, own_test_formula.lines(values), "si")[-1]
    assert (
        "3,000 psi" in line.on_screen.substituted
        and "MPa" in line.results[-1]
        and "psi" in line.results[0]
    )


def test_every_unit_has_a_label_of_its_own_kind():
    for row in TRADE_UNITS.values():
        assert ureg.Quantity(1, row.pint_name).is_compatible_with(ureg.Quantity(1, row.si_pint)), row


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf, -1.0, 48.1])
def test_one_bad_number_of_many_is_refused(bad):
    slab = REGISTRY["slab_volume"]  # t above 0 and at most 48 in.
    with pytest.raises(FormulaError, match="t must be above 0"):
        slab.bulk(A=100.0, t=np.array([4.0, bad, 6.0]))
    assert slab.bulk(A=100.0, t=np.array([4.0, 48.0])).shape == (2,)
    assert slab.bulk(A=100.0, t=np.array([])).shape == (0,)
