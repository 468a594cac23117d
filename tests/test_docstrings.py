"""Docstrings: everything public has one, and it names every argument that has a unit.

That of a formula says what it is, when it holds and its source; arguments stand in the decorator, and a
clause for one only where it says more.
"""

import ast
import re
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "calcbook"
MEASURED = re.compile(r"\b(Quantity|Quantities|Given|Amount|NDArray|float)\b")


def public(node, names=()):
    """(names, node) of every public class, function and method inside a module or class."""
    for child in node.body:
        if isinstance(child, ast.ClassDef | ast.FunctionDef) and not child.name.startswith("_"):
            yield (*names, child.name), child
            if isinstance(child, ast.ClassDef):
                yield from public(child, (*names, child.name))


def described(function):
    """Arguments that a decorator describes."""
    calls = [d for d in function.decorator_list if isinstance(d, ast.Call)]
    formula = any(isinstance(d.func, ast.Name) and d.func.id == "formula" for d in calls)
    if formula:
        return {a.arg for a in function.args.args}
    return {keyword.arg for call in calls for keyword in call.keywords}


def missing(tree):
    """What is not told in a module, as words."""
    for names, node in public(tree):
        told, name = ast.get_docstring(node), ".".join(names)
        if not told:
            yield f"{name} has no docstring"
        elif isinstance(node, ast.FunctionDef) and "as for ``" not in told:
            arguments = [*node.args.args, *node.args.kwonlyargs]
            for a in arguments:
                measured = a.annotation and MEASURED.search(ast.unparse(a.annotation))
                if measured and a.arg not in described(node) and not re.search(rf"\b{a.arg}\b", told):
                    yield f"{name} does not say what {a.arg} is"


def test_everything_public_has_a_docstring_that_names_what_has_a_unit():
    found = {
        f"{path.name}: {words}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for words in missing(ast.parse(path.read_text(encoding="utf-8")))
    }
    assert not found, "\n".join(sorted(found))


def test_what_is_not_told_is_found():
    text = 'def a(): ...\ndef b(x: float, n: int):\n    """Nothing."""\ndef c(x: float):\n    """x: length, in."""'
    assert list(missing(ast.parse(text))) == ["a has no docstring", "b does not say what x is"]


KINDS = {"length", "area", "volume", "force", "weight", "pressure", "stress", "temperature", "time", "money", "plain", "lbf", "psi",
         "psf", "pcf", "pci", "plf", "in", "ft", "ft2", "the", "of", "a", "an"}  # fmt: skip


def repeated(tree):
    """Clauses ``name: words`` of formulas' docstrings whose words the decorator says, or a kind of quantity."""
    for function in (n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef)):
        for call in (d for d in function.decorator_list if isinstance(d, ast.Call)):
            if not isinstance(call.func, ast.Name) or call.func.id != "formula":
                continue
            for k in call.keywords:
                meant = {
                    w
                    for n in ast.walk(k.value)
                    if isinstance(n, ast.Constant)
                    for w in words(str(n.value))
                }
                told = " ".join((ast.get_docstring(function) or "").split())
                clause = (
                    re.search(rf"(?<![\w,]) {k.arg}: ([^;]+?)(?:;|\.(?:\s|$))", told) if k.arg else None
                )
                if clause and words(clause[1]) <= meant | KINDS:
                    yield f"{function.name}, {clause[0].strip()}"


def words(text):
    return set(re.findall(r"[\w/]+", text.lower()))


def test_no_formula_says_of_an_argument_what_its_decorator_says():
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py")]
    assert [found for tree in trees for found in repeated(tree)] == []


def test_a_repeated_clause_is_found():
    text = '@formula("x", s, r, h=arg("in", "slab thickness"))\ndef f(h):\n    """X.\n\n    h: thickness, in. Source: y.\n    """'
    assert list(repeated(ast.parse(text))) == ["f, h: thickness, in."]
    assert list(repeated(ast.parse(text.replace("thickness, in", "thickness, 4 in. and more")))) == []
