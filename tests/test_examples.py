"""Examples in docstrings and in the README run, and give what they say."""

import doctest
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import calcbook
from calcbook.book.registry import load_formulas

_NUMBER = re.compile(r"(?<![\w.])[+-]?\d+\.\d+(?:e[+-]?\d+)?")


class DigitsShown(doctest.OutputChecker):
    """Compares numbers with a decimal point to the digits that the example shows."""

    def check_output(self, want, got, optionflags):
        shown, found = _NUMBER.findall(want), list(_NUMBER.finditer(got))
        if len(shown) == len(found):
            for number, match in reversed(list(zip(shown, found, strict=True))):
                step = 10.0 ** -len(re.search(r"\.(\d+)", number)[1])
                if abs(float(number) - float(match[0])) <= 0.5001 * step:
                    got = got[: match.start()] + number + got[match.end() :]
        return super().check_output(want, got, optionflags)


def ran(example):
    """(failed, tried) of a doctest."""
    return tuple(doctest.DocTestRunner(DigitsShown(), verbose=False).run(example))


def formula_examples():
    """Docstrings of formulas, which a search for functions does not find."""
    for name, entry in load_formulas().items():
        body = getattr(entry, "body", None)
        if ">>>" in (getattr(body, "__doc__", "") or ""):
            yield doctest.DocTestParser().get_doctest(
                body.__doc__, dict(body.__globals__), name, body.__code__.co_filename, 0
            )


def module_examples():
    for found in pkgutil.walk_packages(calcbook.__path__, "calcbook."):
        path = Path(found.module_finder.path, found.name.rpartition(".")[2])
        file = path.with_suffix(".py") if path.with_suffix(".py").exists() else path / "__init__.py"
        if ">>>" in file.read_text(encoding="utf-8"):
            yield from doctest.DocTestFinder().find(importlib.import_module(found.name))
    yield from doctest.DocTestFinder().find(calcbook)


def test_the_examples_of_every_module_give_what_they_say():
    examples = [e for e in module_examples() if e.examples]
    assert {"calcbook", "calcbook.job.file.Job", "calcbook.book.formulas.Formulas"} <= {
        e.name for e in examples
    }
    for example in examples:
        assert ran(example)[0] == 0, example.name


def test_the_examples_of_formulas_give_what_they_say():
    for example in formula_examples():
        assert ran(example)[0] == 0, example.name


@pytest.mark.parametrize(("want", "got", "same"), [
    ("3.95 yd", "3.9506 yd", True), ("3.95 yd", "3.956 yd", False), ("3.95 yd", "3.95 m", False), ("4", "4.0", False),
])  # fmt: skip
def test_an_example_is_compared_to_the_digits_shown(want, got, same):
    assert DigitsShown().check_output(f"{want}\n", f"{got}\n", 0) is same


def test_the_python_of_the_readme_runs(tmp_path, monkeypatch, capsys):
    from calcbook.basis.sources import TABLES

    text = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    assert len(code.splitlines()) <= 12
    (tmp_path / "garage.toml").write_text(TABLES.joinpath("starter.toml").read_text("utf-8"), "utf-8")
    monkeypatch.chdir(tmp_path)
    exec(code, {})
    out = capsys.readouterr().out
    assert "cubic_yard" in out and "PRICE MISSING" in out
