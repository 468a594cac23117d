"""Types: mypy finds nothing wrong with the package, and nothing in it but a formula's body is without."""

import ast
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent


def functions(tree):
    """Every function of a module that is not the body of a formula, nested ones too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            heads = (d.func if isinstance(d, ast.Call) else d for d in node.decorator_list)
            if not any(isinstance(head, ast.Name) and head.id == "formula" for head in heads):
                yield node


def without_types(tree):
    """Names of the functions that lack the type of an argument or of the result."""
    found = []
    for function in functions(tree):
        a = function.args
        given = [*a.posonlyargs, *a.args, *a.kwonlyargs, *(x for x in (a.vararg, a.kwarg) if x)]
        bare = [x for x in given if x.annotation is None and x.arg not in ("self", "cls")]
        if bare or function.returns is None:
            found.append(function.name)
    return found


def test_mypy_finds_nothing_wrong():
    run = subprocess.run(
        [sys.executable, "-m", "mypy"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_every_function_but_a_formula_s_body_has_its_types():
    bare = {
        path.name: names
        for path in sorted((ROOT / "calcbook").rglob("*.py"))
        if (names := without_types(ast.parse(path.read_text(encoding="utf-8"))))
    }
    assert not bare


def test_a_function_without_types_is_found():
    text = "def a(x: int): ...\ndef b(x) -> int: ...\ndef c(*, x: int) -> int: ...\n@formula('t')\ndef d(V): ...\n"
    assert without_types(ast.parse(text)) == ["a", "b"]


def test_the_types_go_with_the_package():
    assert (ROOT / "calcbook" / "py.typed").exists()
