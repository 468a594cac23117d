"""One walk through the real JupyterLab, offline: the workshop."""

import tomllib

from server import run_all

from calcbook.book.chapters import run
from calcbook.job.file import Job


def test_a_field_changed_by_keyboard_changes_the_shown_result_and_is_saved(lab, page):
    address, job_file = lab
    job = Job.read(job_file)
    before = run("volume", job).text("order")
    after = run("volume", job.changed({"slab.thickness": "6 in"})).text("order")
    assert before != after

    notebook = job_file.with_name("workshop-book") / "06-volume.ipynb"
    assert before not in notebook.read_text(encoding="utf-8"), "results must be of this job or none"
    run_all(page, f"{address}/doc/tree/06-volume.ipynb")
    field = page.get_by_label("Slab thickness")
    assert field.input_value() == "5 in"
    page.locator(".cb td", has_text=before).first.wait_for(timeout=30_000)

    field.click()
    page.keyboard.press("Control+A")
    page.keyboard.type("6 in")
    page.keyboard.press("Enter")
    page.locator(".cb td", has_text=after).first.wait_for(timeout=10_000)

    field.click()
    page.keyboard.press("Control+A")
    page.keyboard.type("6 psi")
    page.keyboard.press("Enter")
    page.get_by_text("is a pressure, not a length").wait_for(timeout=10_000)
    assert page.locator(".cb td", has_text=after).count() > 0, "the last good result must stay"

    page.get_by_role(
        "button", name="Undo"
    ).first.click()  # the wrong entry goes back to the last good one
    page.get_by_role("button", name="Save to job").first.click()
    page.get_by_text("Saved to workshop.toml").wait_for(timeout=10_000)
    text = job_file.read_text(encoding="utf-8")
    assert tomllib.loads(text)["slab"]["thickness"] == "6 in"
    assert "# corners in order around the outline" in text

    cells = page.locator(".jp-Cell").count()
    page.locator(".jp-Cell").first.click(position={"x": 4, "y": 4})
    for key in ("Escape", "x", "d", "d"):  # cut and delete, by stray keys
        page.keyboard.press(key)
    page.wait_for_timeout(500)
    assert page.locator(".jp-Cell").count() == cells
