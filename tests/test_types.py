"""Types: mypy finds nothing wrong with the package, as pyproject.toml sets it up."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_mypy_finds_nothing_wrong():
    run = subprocess.run(
        [sys.executable, "-m", "mypy"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_the_types_go_with_the_package():
    assert (ROOT / "calcbook" / "py.typed").exists()
