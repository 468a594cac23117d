"""The table of proofs: every formula has one, the table is what the marks say, and the counts only improve."""

import ast
import re
from collections import Counter
from html import escape

import pytest

from calcbook.basis.calculation import Calculation
from calcbook.basis.table import table
from calcbook.book.chapters import run
from calcbook.book.evidence import (
    KINDS,
    MARKS,
    TESTS,
    WRITTEN,
    _used,
    collect,
    strongest,
    used_by_kind,
    without_proof,
    written,
)
from calcbook.book.registry import load_formulas
from calcbook.paper.screen import remembered_html

# strongest kind of proof -> number of formulas; raise the first three and lower the last as proofs are added
AT_LEAST = {"published number": 90, "independent library": 33}
ONLY_MEMORY_AT_MOST = 6


@pytest.fixture(scope="module")
def proofs():
    return collect()


def test_the_table_is_what_the_marks_on_the_tests_say(proofs):
    assert WRITTEN.read_text(encoding="utf-8") == written(proofs), (
        "run python -m calcbook.book.references"
    )


def test_no_formula_is_without_proof_of_some_kind(proofs):
    assert without_proof(proofs) == []


def test_the_counts_only_improve(proofs):
    counts = Counter(proof.kind for proof in strongest(proofs).values())
    assert set(counts) <= set(KINDS)
    for kind, least in AT_LEAST.items():
        assert counts[kind] >= least, kind
    assert counts["only memory"] <= ONLY_MEMORY_AT_MOST


def test_every_row_of_the_table_has_a_source_of_the_list():
    assert all(row["kind"] in KINDS and row["source"].key for row in table("evidence"))


def test_a_page_says_which_of_its_formulas_and_rules_rest_on_memory_alone(demo):
    """Frozen words of our own; the names are read back from the table of proofs and the list of sources."""
    fiber, pads = (run(name, demo) for name in ("reinforcement", "pads"))
    memory = used_by_kind([fiber])["only memory"]
    assert memory and all(escape(title) in remembered_html(fiber) for title in memory)
    assert "ASCE 7-16" in remembered_html(pads)
    assert "Activation energy of hydration" in remembered_html(run("first_week", demo))  # behind it
    assert remembered_html(Calculation("x", "X", "Nothing?", "us")) == ""


MARKED = """import pytest
from calcbook.bolts.anchors import basic_breakout


@pytest.mark.{mark}
def test_something():
    assert basic_breakout("4000 psi", "7 in")
"""


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        ('published("No such paper", "page 1")', "is not in tables/sources.toml"),
        ('published("ACI 318-19", "17.6.2.2.1")', "published does not go with ACI 318-19"),
        ('remembered("ACI 318M-19", "17.6.2.2.1")', "remembered does not go with ACI 318M-19"),
        ('worked("no_such_formula")', "no formula is named no_such_formula"),
    ],
)
def test_a_mark_that_claims_too_much_is_refused(tmp_path, mark, words):
    (tmp_path / "test_one.py").write_text(MARKED.format(mark=mark), encoding="utf-8")
    with pytest.raises(ValueError, match=words):
        collect(tmp_path)


@pytest.mark.parametrize(
    ("mark", "kind"),
    [
        ('published("ACI 349.2R-07", "Example A1")', "published number"),
        ('form("ACI 318M-19", "17.6.2.2.1")', "published form"),
        ('library("SciPy", "")', "independent library"),
        ("worked()", "only memory"),  # the form itself is remembered: arithmetic on it proves no more
    ],
)
def test_a_mark_without_names_is_for_every_formula_that_the_test_uses(tmp_path, mark, kind):
    (tmp_path / "test_one.py").write_text(MARKED.format(mark=mark), encoding="utf-8")
    (proof,) = collect(tmp_path)
    assert (proof.formula, proof.kind, proof.test) == (
        "basic_breakout",
        kind,
        "test_one.py::test_something",
    )


WITHOUT_A_WORD_AT_MOST = (
    0  # tests that hold a formula to a number and say nothing of where it comes from
)


def silent(path, names):
    """Tests of a file that compare a formula's number and have no docstring, comment, mark or law behind it."""
    text = path.read_text(encoding="utf-8")
    lines, tree = text.splitlines(), ast.parse(text)
    defined = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    for node in defined.values():
        first = min([node.lineno, *(d.lineno for d in node.decorator_list)])
        body = "\n".join(lines[first - 1 : node.end_lineno])
        marked = any(f"mark.{mark}(" in body for mark in MARKS)
        said = (
            ast.get_docstring(node)
            or "# " in re.sub(r"# (fmt|noqa|type).*", "", body)
            or lines[first - 2].startswith("#")
            or "@given" in body
        )
        counts = node.name.startswith("test") and "approx(" in body and _used(node, defined) & names
        if counts and not marked and not said:
            yield f"{path.name}::{node.name}"


def test_numbers_without_a_word_of_where_they_come_from_only_become_fewer():
    names = set(load_formulas())
    found = [test for path in sorted(TESTS.rglob("test_*.py")) for test in silent(path, names)]
    assert len(found) <= WITHOUT_A_WORD_AT_MOST, found
