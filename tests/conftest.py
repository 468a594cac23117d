"""What several tests share: the demo job, a browser, a running JupyterLab."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from calcbook.job import Job

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge", "microsoft-edge")
QUIET = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


@pytest.fixture(scope="session")
def demo():
    return Job.read(NOTEBOOKS / "demo.toml")


@pytest.fixture(scope="session")
def demo_si():
    return Job.read(NOTEBOOKS / "demo-si.toml")


@pytest.fixture
def demo_copy(tmp_path):
    """A copy of the demo job file that a test may change."""
    return Path(shutil.copyfile(NOTEBOOKS / "demo.toml", tmp_path / "demo.toml"))


def browser_path():
    """Chromium, Chrome or Edge on this machine. In CI a missing browser is an error, not a skip."""
    found = os.environ.get("CALCBOOK_BROWSER") or next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        if os.environ.get("CI"):
            pytest.fail("CI must have a browser: install chromium")
        pytest.skip("no Chromium, Chrome or Edge found; set CALCBOOK_BROWSER to its path")
    return found


@pytest.fixture
def page():
    """A page of a real browser with an empty profile."""
    from playwright.sync_api import sync_playwright

    path = browser_path()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(QUIET))
        yield browser.new_page(viewport={"width": 1280, "height": 1600})
        browser.close()


@pytest.fixture
def lab(tmp_path):
    """JupyterLab as ``calcbook open`` starts it, on a copy of the demo: (address, job file)."""
    job = Path(shutil.copyfile(NOTEBOOKS / "demo.toml", tmp_path / "workshop.toml"))
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    # as root, and without a password: this is a test's own server on the loopback address
    code = (
        "import sys; from calcbook import lab; lab.EXTRA = ['--allow-root', '--IdentityProvider.token=']; "
        f"sys.exit(lab.open_lab({str(job)!r}, {port}, browser=False))"
    )
    server = subprocess.Popen(
        [sys.executable, "-c", code], cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        start_new_session=True,
    )  # fmt: skip
    try:
        _wait_for(f"http://127.0.0.1:{port}/api")
        yield f"http://127.0.0.1:{port}", job
    finally:
        os.killpg(server.pid, 15)
        server.wait(timeout=20)


def _wait_for(address, seconds=60):
    for _ in range(seconds * 4):
        try:
            urllib.request.urlopen(address, timeout=2)
            return
        except OSError:
            time.sleep(0.25)
    pytest.fail(f"JupyterLab did not answer at {address}")
