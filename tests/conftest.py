"""What several tests share: the demo jobs, a browser, a running JupyterLab."""

import os
import shutil
from pathlib import Path

import pytest
import server
from server import NOTEBOOKS

from calcbook.job.file import Job

os.environ.pop("COLUMNS", None)  # set where tests run side by side; then tables would be cut to it


@pytest.fixture(scope="session")
def demo():
    return Job.read(NOTEBOOKS / "demo.toml")


@pytest.fixture(scope="session")
def demo_si():
    return Job.read(NOTEBOOKS / "demo-si.toml")


@pytest.fixture(scope="session")
def floor(demo):
    """The demo without its apron, for what is counted by hand of one slab."""
    return demo.changed({"slabs": None})


@pytest.fixture
def demo_copy(tmp_path):
    """A copy of the demo job file that a test may change."""
    return Path(shutil.copyfile(NOTEBOOKS / "demo.toml", tmp_path / "demo.toml"))


@pytest.fixture
def page():
    """A page of a real browser. In CI a missing browser is an error, not a skip."""
    if server.browser_path() is None:
        if os.environ.get("CI"):
            pytest.fail("CI must have a browser: install chromium")
        pytest.skip("no Chromium, Chrome or Edge found; set CALCBOOK_BROWSER to its path")
    with server.browser_page() as opened:
        yield opened


@pytest.fixture
def lab(tmp_path):
    """JupyterLab on a copy of the demo: (address, job file)."""
    with server.running("lab", tmp_path) as running:
        yield running


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """The live pages of a copy of the demo: (address, job file)."""
    with server.running("open", tmp_path_factory.mktemp("pages")) as running:
        yield running
