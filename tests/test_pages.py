"""The live pages in a real browser, offline: every chapter, fields, other pages, mistakes, safety."""

import urllib.error
import urllib.request

import pytest
from axe import faults
from server import NOTEBOOKS, TOKEN, open_page

from calcbook.book.chapters import run
from calcbook.book.registry import SUBJECTS
from calcbook.job.file import Job
from calcbook.paper.contents import PAGES

WIDE, NARROW = {"width": 1366, "height": 768}, {"width": 390, "height": 844}


def type_into(page, label, text):
    field = page.get_by_label(label, exact=True)
    field.click()
    page.keyboard.press("Control+A")
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def order_with(job_file, **changes):
    job = Job.read(job_file).changed({k.replace("__", "."): v for k, v in changes.items()})
    return run("volume", job).text("order")


@pytest.fixture
def told(page):
    """What the browser complains of, and every address it asks."""
    complaints, asked = [], []
    page.on("console", lambda m: complaints.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    return complaints, asked


@pytest.mark.parametrize("stem", [p.stem for p in PAGES])
def test_every_page_is_live_on_arrival_without_code_and_without_a_foreign_host(pages, page, told, stem):
    address, _ = pages
    complaints, asked = told
    page.set_viewport_size(WIDE)
    open_page(page, address, stem)
    page.locator("#checks", has_text="checks").wait_for(timeout=30_000)
    page.wait_for_timeout(1500)  # late parts
    assert complaints == []
    assert {url.split("/")[2] for url in asked if url.startswith(("http", "ws"))} == {address[7:]}
    text = page.locator("body").inner_text()
    for word in ("import ", "Kernel", "kernel", "Traceback", "Error", "Run "):
        assert word not in text
    assert page.evaluate("document.documentElement.scrollHeight") <= 8 * WIDE["height"]
    for size in (WIDE, NARROW):
        page.set_viewport_size(size)
        page.wait_for_timeout(300)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    page.set_viewport_size(WIDE)
    # without the mathematics, tens of thousands of elements that MathJax writes
    page.evaluate("document.querySelectorAll('.mathjax_process').forEach(one => one.replaceChildren())")
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
    page.wait_for_timeout(300)
    page.evaluate("document.querySelectorAll('mjx-container').forEach(one => one.remove())")
    assert faults(page) == []
    assert all(page.locator("img").evaluate_all("all => all.map(i => i.alt.length > 3)"))


def test_what_a_reader_unfolds_stays_open_when_a_field_changes_and_all_can_be_shown(pages, page):
    address, _ = pages
    open_page(page, address, "04-joints")
    assert page.locator(".cb-results mjx-container").count() == 0, "what is folded is not set yet"
    page.locator("summary", has_text="Step by step").click()
    page.get_by_role("button", name="Show all").click()
    assert page.locator(".steps details:not([open])").count() == 0
    assert page.locator(".steps mjx-container").count() > 0, "mathematics must be set"
    type_into(page, "Slab thickness", "7 in")
    page.get_by_text("7 in.", exact=True).first.wait_for(timeout=10_000)
    page.wait_for_timeout(500)
    assert page.locator(".steps details:not([open])").count() == 0
    page.get_by_role("button", name="Undo").first.click()
    page.wait_for_function("document.getElementById('unsaved').textContent === ''", timeout=10_000)


def test_on_paper_all_is_unfolded_and_its_mathematics_set(pages, page):
    address, _ = pages
    open_page(page, address, "04-joints")
    page.locator(".cb-results .steps").wait_for(state="attached", timeout=30_000)
    page.evaluate("""() => window.addEventListener('beforeprint', () => { window.printed = [
        document.querySelectorAll('#main details:not([open])').length,
        [...document.querySelectorAll('#main .math')].filter(one => !one.querySelector('mjx-container')).length,
        document.querySelectorAll('#main mjx-container').length] })""")
    page.wait_for_timeout(1000)
    page.pdf()
    folded, unset, mathematics = page.evaluate("window.printed")
    assert folded == unset == 0 < mathematics


def test_every_chapter_of_the_book_stands_on_a_page():
    shown = [name for page in PAGES for name in page.chapters]
    assert sorted(shown) == sorted([*SUBJECTS, "quote"])


def test_the_first_page_leads_to_all_others():
    first = (NOTEBOOKS / f"{PAGES[0].stem}.ipynb").read_text(encoding="utf-8")
    assert [p.stem for p in PAGES[1:] if f"({p.stem}.ipynb)" not in first] == []


def test_a_field_changed_on_one_page_is_seen_on_another_and_saved_once_it_is_right(pages, page, told):
    address, job_file = pages
    complaints, _ = told
    before, after = order_with(job_file), order_with(job_file, slab__thickness="6 in")
    assert before != after
    other = page.context.new_page()
    open_page(other, address, "01-slab")
    open_page(page, address, "06-volume")
    page.locator(".cb td", has_text=before).first.wait_for(timeout=10_000)

    type_into(page, "Slab thickness", "6 in")
    page.locator(".cb td", has_text=after).first.wait_for(timeout=10_000)
    page.get_by_text("1 change not saved").wait_for(timeout=10_000)
    assert Job.read(job_file).field("slab.thickness").written == "5 in"
    other.bring_to_front()
    other.wait_for_function(
        "[...document.querySelectorAll('input')].some(i => i.value === '6 in')", timeout=10_000
    )

    page.bring_to_front()
    type_into(page, "Slab thickness", "6 psi")
    page.get_by_text("is a pressure, not a length").wait_for(timeout=10_000)
    assert page.locator(".cb td", has_text=after).count() > 0, "the last good result must stay"
    page.get_by_role("button", name="Save to job").first.click()
    page.get_by_text("mend slab.thickness first").first.wait_for(timeout=10_000)
    page.get_by_role("button", name="Undo").first.click()
    page.get_by_role("button", name="Save to job").first.click()
    page.get_by_text("Saved to workshop.toml").first.wait_for(timeout=10_000)
    text = job_file.read_text(encoding="utf-8")
    assert Job.read(job_file).field("slab.thickness").written == "6 in"
    assert "# corners in order around the outline" in text
    assert complaints == []
    other.close()


def test_a_broken_job_file_is_a_sentence_with_its_line_and_the_page_comes_alive_when_it_is_mended(
    pages, page
):
    address, job_file = pages
    good = job_file.read_text(encoding="utf-8")
    bad = good.replace("above_grade = ", "above_grad = ")
    line = bad[: bad.index("above_grad = ")].count("\n") + 1
    open_page(page, address, "03-edges")
    try:
        job_file.write_text(bad, encoding="utf-8")  # while a page is open
        page.locator("#problem", has_text=f"line {line}").wait_for(timeout=10_000)
        assert "stale" in page.locator("body").get_attribute("class")
        page.goto(f"{address}/02-pads")  # and when one is opened
        page.locator("#problem", has_text=f"line {line}").wait_for(timeout=10_000)
        assert "Traceback" not in page.locator("body").inner_text()
    finally:
        job_file.write_text(good, encoding="utf-8")
    page.locator(".cb-panel input").first.wait_for(timeout=60_000)
    assert page.locator("#problem").is_hidden()


def test_nobody_without_the_token_sees_a_page_and_nothing_else_is_served(pages):
    address, _ = pages

    def status(path):
        try:
            return urllib.request.urlopen(f"{address}{path}", timeout=10).status
        except urllib.error.HTTPError as error:
            return error.code

    assert status("/01-slab") == status("/state") == status("/01-slab?token=wrong") == 403
    for path in (
        "/voila/tree",
        "/voila/render/01-slab.ipynb",
        "/voila/files/demo.toml",
        "/api/contents",
        "/99-other",
        "/of/other/01-slab",
        "/of/..%2Fworkshop/state",
    ):
        assert status(f"{path}?token={TOKEN}") in (403, 404)


def test_what_lies_beside_the_job_is_neither_run_nor_trusted(tmp_path, page):
    import server

    planted = tmp_path / "planted"
    code = f"open({str(planted)!r}, 'w').close()\n"
    for name in (
        "jupyter_server_config.py",
        "jupyter_config.py",
        "voila.py",
        "numpy.py",
        "sitecustomize.py",
    ):
        (tmp_path / name).write_text(code, encoding="utf-8")
    for name in ("jupyterlab", "voila", "calcbook"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "__init__.py").write_text(code, encoding="utf-8")
    with server.running("open", tmp_path) as (address, _):
        open_page(page, address, "07-retarder")
    assert not planted.exists()


def test_a_slider_moved_moves_field_and_result_and_is_one_change(pages, page):
    address, job_file = pages
    open_page(page, address, "06-volume")
    handle = page.get_by_role("slider", name="slab thickness, slide").first
    thickness = page.get_by_label("Slab thickness", exact=True).first
    wanted = f"{float(thickness.input_value().removesuffix(' in')) + 2:g} in"
    handle.focus()
    for _ in range(4):  # of half an inch
        page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "wanted => [...document.querySelectorAll('input')].some(i => i.value === wanted)",
        arg=wanted,
        timeout=30_000,
    )
    order = order_with(job_file, slab__thickness=wanted)
    page.locator(".cb td", has_text=order).first.wait_for(timeout=30_000)
    page.get_by_text("1 change not saved").wait_for(timeout=10_000)
    page.get_by_role("button", name="Undo").first.click()
    page.wait_for_function("document.getElementById('unsaved').textContent === ''", timeout=10_000)


def test_a_page_taken_along_works_offline_without_code_and_with_its_mathematics(pages, page, tmp_path):
    address, _ = pages
    open_page(page, address, "04-joints")
    page.locator("mjx-container").first.wait_for(state="attached", timeout=30_000)
    with page.expect_download() as download:
        page.get_by_role("button", name="Save page").click()
    saved = tmp_path / download.value.suggested_filename
    download.value.save_as(saved)
    assert saved.name == "Control joints - Bicycle and Tool Library workshop slab.html"
    offline, asked = page.context.new_page(), []
    offline.on("request", lambda request: asked.append(request.url))
    offline.goto(saved.as_uri())
    assert [url for url in asked if not url.startswith("data:")] == [saved.as_uri()]
    text = saved.read_text(encoding="utf-8")
    assert "<script" not in text and "<input" not in text and "import " not in text
    result = offline.locator(".cb-results td.num").first
    assert result.is_visible()
    assert result.inner_text() == page.locator(".cb-results td.num").first.inner_text()
    assert offline.get_by_text("licensed engineer").first.is_visible()
    offline.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
    assert offline.locator("mjx-container").count() > 5
    assert offline.evaluate("[...document.fonts].some(f => f.family.includes('MJX'))")
    offline.close()


def test_the_solution_comes_after_two_tries_and_new_numbers_give_another_go_on_another_job_too(
    pages, page, told
):
    address, job_file = pages
    complaints, _ = told
    other = job_file.with_name("small shed.toml")
    other.write_text(
        '[job]\nname = "small shed"\n[slab]\nlength = "20 ft"\nwidth = "16 ft"\nplate = false\n',
        encoding="utf-8",
    )
    page.goto(f"{address}/of/small%20shed/02-pads?token={TOKEN}")
    page.get_by_label("Your answer").first.wait_for(timeout=60_000)
    assert page.locator("#job").inner_text() == "small shed"
    ways = page.locator("#head a, #foot a")
    assert ways.count() > 15
    assert set(ways.evaluate_all("all => all.map(a => a.pathname.split('/')[2])")) == {"small%20shed"}
    answer = page.get_by_label("Your answer").first
    for typed in ("1 ft2", "2 ft2"):
        answer.fill(typed)
        answer.press("Enter")
    page.get_by_text("Worked out: 5 ft²").wait_for(timeout=10_000)
    page.get_by_role("button", name="New numbers").first.click()
    page.get_by_text("A post brings 12,000 lbf").wait_for(timeout=10_000)
    answer.fill("4.8 ft2")
    answer.press("Enter")
    page.get_by_text("Right, 4.8 ft²").wait_for(timeout=10_000)
    # while it is left, its parts lose what is behind them: it neither complains nor is loaded again
    page.evaluate("""() => { window.stays = true; window.dispatchEvent(new Event('beforeunload'));
        console.error('widget model not found'); }""")
    page.wait_for_timeout(500)
    assert page.evaluate("window.stays") and complaints == []


def test_a_pad_is_added_on_the_page_of_all_fields_and_stands_on_the_plan(pages, page):
    address, job_file = pages
    open_page(page, address, "14-fields")
    page.get_by_label("Section", exact=True).select_option(label="pads: pads under posts")
    page.get_by_role("button", name="Add one").press("Enter")
    page.get_by_text("Added; Undo takes it back").wait_for(timeout=10_000)
    page.wait_for_function("document.activeElement.textContent === 'Add one'", timeout=10_000)
    page.locator("#menu summary").press("Enter")
    page.get_by_role("link", name="Pour day").wait_for(timeout=10_000)
    page.keyboard.press("Escape")
    assert page.get_by_role("link", name="Pour day").is_hidden()
    type_into(page, "Name of the pad or post", "P9")
    page.get_by_text("P9").first.wait_for(timeout=10_000)
    page.get_by_role("button", name="Save to job").click()
    page.get_by_text("Saved to workshop.toml").wait_for(timeout=10_000)
    assert [pad.name for pad in Job.read(job_file).pads][-1] == "P9"
    page.get_by_role("button", name="Remove this one").click()
    page.get_by_text("Removed; Undo takes it back").wait_for(timeout=10_000)
    page.get_by_role("button", name="Save to job").click()
    page.wait_for_function("document.getElementById('unsaved').textContent === ''", timeout=10_000)
    assert "P9" not in job_file.read_text(encoding="utf-8")
