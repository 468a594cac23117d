"""Makes the README's pictures: ``python tests/pictures.py`` writes notebooks/pictures/*.png."""

import tempfile

import pypdfium2
from server import NOTEBOOKS, browser_page, open_page, running

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.paper.printout import compile_pdf

PICTURES = NOTEBOOKS / "pictures"
CHAPTER = "Concrete"  # whose first page of calculation is shown


def printout():
    """A page of the demo's printout."""
    pdf = pypdfium2.PdfDocument(compile_pdf(Book(Job.read(NOTEBOOKS / "demo.toml"))))
    texts = [page.get_textpage().get_text_bounded() for page in pdf]
    start = next(i for i, text in enumerate(texts) if i > 1 and CHAPTER in text[:200])
    steps = next(i for i, text in enumerate(texts) if i > start and "Calculation" in text)
    pdf[steps].render(scale=1.4).to_pil().save(PICTURES / "printout.png", optimize=True)


def notebook():
    """The live page of the concrete."""
    with (
        tempfile.TemporaryDirectory() as folder,
        running("open", folder) as (address, _),
        browser_page(1366, 1000) as page,
    ):
        open_page(page, address, "06-volume")
        page.locator("#checks", has_text="open").wait_for(timeout=60_000)
        page.screenshot(path=PICTURES / "notebook.png")


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    printout()
    notebook()
