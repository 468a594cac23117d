"""A real JupyterLab and a real browser, for the browser test and for the README's pictures."""

import contextlib
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
RUN_ALL = '[data-command="notebook:restart-run-all"]'
LIVE = """() => document.querySelector('.widget-text')
    && !document.querySelector('.jupyter-widgets-disconnected')"""
_BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge", "microsoft-edge")
_QUIET = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


def browser_path():
    """Chromium, Chrome or Edge on this machine, or None."""
    return os.environ.get("CALCBOOK_BROWSER") or next(filter(None, map(shutil.which, _BROWSERS)), None)


@contextlib.contextmanager
def browser_page(width=1280, height=1600):
    """A page of a browser with an empty profile."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(_QUIET))
        yield browser.new_page(viewport={"width": width, "height": height})
        browser.close()


@contextlib.contextmanager
def running_lab(folder):
    """JupyterLab as ``calcbook open`` starts it, on a copy of the demo: (address, job file)."""
    job = Path(shutil.copyfile(NOTEBOOKS / "demo.toml", Path(folder) / "workshop.toml"))
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    # as root, and without a password: a test's own server on the loopback address
    code = (
        "import sys; from calcbook.command import lab; lab.EXTRA = ['--IdentityProvider.token=']; "
        f"sys.exit(lab.open_lab({str(job)!r}, {port}, browser=False))"
    )
    server = subprocess.Popen(
        [sys.executable, "-c", code], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        start_new_session=True,
    )  # fmt: skip
    try:
        _wait_for(f"http://127.0.0.1:{port}/api")
        yield f"http://127.0.0.1:{port}", job
    finally:
        os.killpg(server.pid, 15)
        server.wait(timeout=30)


def _wait_for(address, seconds=90):
    for _ in range(seconds * 4):
        with contextlib.suppress(OSError):
            urllib.request.urlopen(address, timeout=2)
            return
        time.sleep(0.25)
    raise TimeoutError(f"JupyterLab did not answer at {address}")


def run_all(page, address):
    """Open a notebook in the lab and run all of it, until its panels are live.

    A press that comes while the kernel is still starting can be lost; then it is pressed again.
    """
    from playwright.sync_api import TimeoutError as TooLate

    page.goto(address)
    for seconds in (30, 60, 90):
        page.locator(RUN_ALL).first.click(timeout=60_000)
        page.locator(".jp-Dialog .jp-mod-accept").click(timeout=60_000)
        try:
            page.wait_for_function(LIVE, timeout=1000 * seconds)
        except TooLate:
            continue
        return
    raise AssertionError("the notebook's panels did not come to life")
