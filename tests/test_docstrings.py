"""Docstrings: everything public has one, and it names every argument that has a unit."""

import ast
import re
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "calcbook"
MEASURED = re.compile(r"\b(Quantity|Quantities|Given|Numbers|NDArray|float)\b")


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
