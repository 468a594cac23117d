"""Imports point down: from a package only to those before it, and no two modules in a circle."""

import ast
import graphlib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ORDER = [
    "basis",
    "plan",
    "job",
    "loads",
    "joints",
    "slab",
    "footings",
    "plate",
    "concrete",
    "reinforcement",
    "bolts",
    "ground",
    "pour",
    "price",
    "book",
    "weigh",
    "records",
    "paper",
    "command",
]

# (importing module, imported module): why it must climb
EXCEPTIONS = {
    ("basis.calculation", "paper.screen"): "a calculation shows itself in a notebook",
    (
        "job.shape",
        "footings.pad_size",
    ): "the plan of a job holds pads whose size follows from their loads",
}


def modules(package):
    """Dotted name inside the package -> syntax tree of every module."""
    return {
        ".".join(path.relative_to(package).with_suffix("").parts).removesuffix(".__init__"): ast.parse(
            path.read_text(encoding="utf-8")
        )
        for path in sorted(package.rglob("*.py"))
    }


def imported(tree, known):
    """Modules of the package that a module imports anywhere: at the top, in functions, for types."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "calcbook":
            assert not node.level, "imports are written out whole"
            base = node.module.removeprefix("calcbook").removeprefix(".")
            names = {f"{base}.{alias.name}".removeprefix(".") for alias in node.names}
            found |= (names & known) or ({base} & known)
        elif isinstance(node, ast.Import):
            found |= {alias.name.removeprefix("calcbook.") for alias in node.names} & known
    return found


@pytest.fixture(scope="module")
def graph():
    """Module -> the modules of the package that it imports; without the package's own front door."""
    trees = modules(ROOT / "calcbook")
    inside = {name: tree for name, tree in trees.items() if name.split(".")[0] in ORDER}
    assert set(trees) - set(inside) == {"__init__", "__main__"}
    return {name: imported(tree, set(inside)) - {name} for name, tree in inside.items()}


def test_every_package_has_its_place_in_the_order():
    folders = {
        p.parent.relative_to(ROOT / "calcbook").parts[0] for p in (ROOT / "calcbook").rglob("*/*.py")
    }
    assert folders == set(ORDER)


def test_imports_only_point_down(graph):
    place = {package: number for number, package in enumerate(ORDER)}
    climbs = {
        (user, used)
        for user, uses in graph.items()
        for used in uses
        if place[used.split(".")[0]] > place[user.split(".")[0]]
    }
    assert climbs == set(EXCEPTIONS)
    assert len(EXCEPTIONS) <= 3


def test_no_two_modules_import_each_other_even_by_way_of_others(graph):
    plain = {
        user: {used for used in uses if (user, used) not in EXCEPTIONS} for user, uses in graph.items()
    }
    graphlib.TopologicalSorter(plain).prepare()  # raises CycleError, which names them


def test_a_climb_and_a_circle_are_found():
    """The reading of imports itself: each way of writing one is seen."""
    text = (
        "import calcbook.paper.screen\nfrom calcbook.book import chapters\n"
        "def f():\n    from calcbook.job.file import Job\n"
        "if TYPE_CHECKING:\n    from calcbook.basis.units import Q\n"
    )
    known = {"paper.screen", "book.chapters", "job.file", "basis.units"}
    assert imported(ast.parse(text), known) == known
    with pytest.raises(graphlib.CycleError):
        graphlib.TopologicalSorter({"a": {"b"}, "b": {"a"}}).prepare()


def test_no_module_is_longer_than_400_lines():
    long = {
        path.name: lines
        for path in (ROOT / "calcbook").rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 400
    }
    assert long == {}
