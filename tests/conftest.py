"""What several tests share: the demo jobs, a browser, a running JupyterLab."""

import collections
import functools
import os
import pickle
import shutil
from pathlib import Path

import pytest
import server
from server import NOTEBOOKS

from calcbook.book.chapters import Book
from calcbook.job.file import Job

LONGEST = (  # files that take longest, by the processor or by waiting; the others go by their number of tests
    "test_pages.py", "test_accepted.py", "test_types.py", "test_cli.py", "test_other_jobs.py", "test_bad_luck.py",
    "test_package.py", "13-plate.ipynb", "test_printout.py", "test_fonts.py", "test_flow.py", "test_all_fields.py",
    "test_browser.py", "test_files.py", "test_verdicts.py", "test_new.py", "12-quote.ipynb", "test_engineer.py",
)  # fmt: skip
os.environ.pop("COLUMNS", None)  # set where tests run side by side; then tables would be cut to it


def pytest_collection_modifyitems(items):
    """Files that take longest begin first, so that at the end no process is left alone with one."""
    count = collections.Counter(item.path for item in items)
    place = {name: n - len(LONGEST) for n, name in enumerate(LONGEST)}
    items.sort(key=lambda item: (place.get(item.path.name, 0), -count[item.path]))


@pytest.fixture(scope="session", autouse=True)
def each_plate_once():
    """The same plate is worked out once in a test process: it follows from its arguments alone, and takes seconds."""
    from calcbook.plate import chapter

    worked_out = chapter.worked_out

    @functools.lru_cache(maxsize=12)
    def known(content):
        return worked_out(*pickle.loads(content))

    chapter.worked_out = lambda *given: known(pickle.dumps(given))
    yield
    chapter.worked_out = worked_out


@pytest.fixture(scope="session")
def demo():
    return Job.read(NOTEBOOKS / "demo.toml")


@pytest.fixture(scope="session")
def demo_si():
    return Job.read(NOTEBOOKS / "demo-si.toml")


@pytest.fixture(scope="session")
def demo_book():
    """The whole demo, for tests that only read it: each chapter runs once for all of them."""
    return Book(Job.read(NOTEBOOKS / "demo.toml"))


@pytest.fixture(scope="session")
def demo_si_book():
    return Book(Job.read(NOTEBOOKS / "demo-si.toml"))


@pytest.fixture(scope="session")
def floor(demo):
    """The demo without its apron, for what is counted by hand of one slab."""
    return demo.changed({"slabs": None})


@pytest.fixture
def demo_copy(tmp_path):
    """A copy of the demo job file that a test may change."""
    return Path(shutil.copyfile(NOTEBOOKS / "demo.toml", tmp_path / "demo.toml"))


@pytest.fixture(scope="module")
def browser():
    """A real browser. In CI a missing browser is an error, not a skip."""
    if server.browser_path() is None:
        if os.environ.get("CI"):
            pytest.fail("CI must have a browser: install chromium")
        pytest.skip("no Chromium, Chrome or Edge found; set CALCBOOK_BROWSER to its path")
    with server.browser() as started:
        yield started


@pytest.fixture
def page(browser):
    """A page of the browser, without anything kept from the test before."""
    with server.page_of(browser) as opened:
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
