"""The package as a whole: cheap to import, its public names there."""

import statistics
import subprocess
import sys
import time

import calcbook


def seconds(module):
    found = []
    for _ in range(5):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", f"import {module}"], check=True)
        found.append(time.perf_counter() - start)
    return statistics.median(found)


def test_importing_the_package_costs_at_most_one_and_a_half_times_importing_pint():
    assert seconds("calcbook") <= 1.5 * seconds("pint")


def test_every_public_name_is_there():
    for name in calcbook.__all__:
        assert getattr(calcbook, name) is not None


def test_the_two_demo_jobs_are_twins():
    from si_twin import NOTEBOOKS, twin

    demo = (NOTEBOOKS / "demo.toml").read_text(encoding="utf-8")
    assert (NOTEBOOKS / "demo-si.toml").read_text(encoding="utf-8") == twin(demo), (
        "run tests/si_twin.py"
    )
