"""A command starts quickly: it loads and reads only what it needs."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
# what a check of a job without a plate has no use for
NOT_NEEDED = ("numpy.ma", "numpy.polynomial", "scipy.sparse", "matplotlib", "pandas", "handcalcs", "sympy",
              "calcbook.plate.chapter", "calcbook.plate.model", "calcbook.weigh", "calcbook.records", "calcbook.paper")  # fmt: skip


@pytest.fixture(scope="module")
def loaded():
    """Modules after a check of the demo in both systems of units, without its plate; and what was read of pint."""
    code = (
        "import sys\n"
        "from calcbook import Job\n"
        "from calcbook.basis.units import ureg\n"
        "from calcbook.book.chapters import Book\n"
        "from calcbook.command import desk\n"
        "Job.read('notebooks/demo-si.toml')\n"
        "asked = {'slab.plate': False, 'slabs.0.plate': False}\n"
        "desk.checks_text(Book(Job.read('notebooks/demo.toml').changed(asked)), True)\n"
        "print('whole' if ureg.whole else 'few', *sys.modules)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return ran.stdout.split()


def test_only_the_units_of_the_trade_are_read(loaded):
    assert loaded[0] == "few"


def test_nothing_that_is_not_needed_is_loaded(loaded):
    assert [name for name in NOT_NEEDED if name in loaded] == []
