"""The book's servers, pages and lab, and a real browser, for the browser tests and the README's pictures."""

import contextlib
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
RUN_ALL = '[data-command="notebook:run-all-cells"]'
TOKEN = "for-tests-only"
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
def browser():
    """A browser with an empty profile."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=browser_path(), args=list(_QUIET))
        yield started
        started.close()


@contextlib.contextmanager
def page_of(started, width=1280, height=1600):
    """A page of a browser that knows nothing of the pages before it."""
    context = started.new_context(viewport={"width": width, "height": height})
    yield context.new_page()
    context.close()


@contextlib.contextmanager
def browser_page(width=1280, height=1600):
    """A page of a browser of its own."""
    with browser() as started, page_of(started, width, height) as page:
        yield page


@contextlib.contextmanager
def running(command, folder, job_file=NOTEBOOKS / "demo.toml"):
    """``calcbook open`` or ``calcbook lab`` on a copy of a job: (address, job file)."""
    folder = Path(folder)
    job = Path(shutil.copyfile(job_file, folder / "workshop.toml"))
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-P", "-m", "calcbook", command, job.name, "--no-browser", f"--port={port}"],
        cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
        env={**os.environ, "CALCBOOK_TOKEN": TOKEN, "XDG_STATE_HOME": str(folder / "state")},
    )  # fmt: skip
    try:
        _wait_for(f"http://127.0.0.1:{port}/login")
        yield f"http://127.0.0.1:{port}", job
    finally:
        os.killpg(server.pid, 15)
        server.wait(timeout=30)


def _wait_for(address, seconds=90):
    for _ in range(seconds * 4):
        try:
            urllib.request.urlopen(address, timeout=2)
        except urllib.error.HTTPError:
            return  # it answers, if only to refuse
        except OSError:
            pass
        else:
            return
        time.sleep(0.25)
    raise TimeoutError(f"there was no answer at {address}")


def run_all(page, address):
    """Open a notebook in the lab and run all of it, until its panels are live. The button waits for the book."""
    from playwright.sync_api import TimeoutError

    page.goto(f"{address}?token={TOKEN}")
    accept = page.locator(".jp-Dialog .jp-mod-accept")
    for _ in range(4):  # on a busy machine JupyterLab can lose a press, or ask which kernel to take
        page.locator(RUN_ALL).first.click(timeout=90_000)
        with contextlib.suppress(TimeoutError):
            return page.wait_for_function(LIVE, timeout=25_000)
        if accept.count():
            accept.first.click()
    raise AssertionError("the lab did not run the notebook")


def open_page(page, address, stem):
    """Open a live page, until its fields or its results stand there."""
    page.goto(f"{address}/{stem}?token={TOKEN}")
    page.locator(".cb-panel input, .cb-figure img, .cb-path").first.wait_for(timeout=60_000)
