"""Saved notebooks: the same from run to run, readable without a kernel."""

import base64
import json
from pathlib import Path

import pytest

from calcbook.paper.panels import picture
from calcbook.plan.slab_drawing import plan_drawing
from notebooks import NOTEBOOKS, executed

PATHS = sorted(NOTEBOOKS.glob("*.ipynb"))


def outputs(text):
    return [output for cell in json.loads(text)["cells"] for output in cell.get("outputs", ())]


def without_pictures(text):
    notebook = json.loads(text)
    for cell in notebook["cells"]:
        for output in cell.get("outputs", ()):
            output.get("data", {}).pop("image/png", None)
    return notebook


def test_an_unchanged_notebook_executed_anew_is_saved_as_it_was():
    """Pictures apart: another version of a drawing library may pack the same picture otherwise."""
    path = NOTEBOOKS / "07-retarder.ipynb"
    saved, anew = path.read_text(encoding="utf-8"), executed(path)
    assert without_pictures(anew) == without_pictures(saved)
    if [o["data"].get("image/png") for o in outputs(anew) if "data" in o] == [
        o["data"].get("image/png") for o in outputs(saved) if "data" in o
    ]:
        assert anew == saved


def test_a_drawing_made_twice_is_the_same_to_the_byte_and_tells_no_version(demo):
    first, second = (picture(plan_drawing(demo.plan, demo.system))["image/png"] for _ in range(2))
    assert first == second
    assert b"Software" not in base64.b64decode(first)


@pytest.mark.parametrize("path", PATHS, ids=lambda p: p.stem)
def test_nothing_that_a_run_makes_up_is_saved_and_every_result_can_be_read_without_a_kernel(path: Path):
    text = path.read_text(encoding="utf-8")
    notebook = json.loads(text)
    assert set(notebook["metadata"]) == {"kernelspec", "language_info"}
    assert notebook["metadata"]["language_info"] == {"name": "python"}
    assert "widget-view" not in text and "model_id" not in text
    ids = [cell["id"] for cell in notebook["cells"]]
    assert len(set(ids)) == len(ids)
    for output in outputs(text):
        readable = {"text/html", "text/markdown", "image/png", "text/latex"}
        assert "text" in output or readable & set(output["data"]), "only a placeholder is saved"
