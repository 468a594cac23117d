"""Execute notebooks from top to bottom and save them in a form that stays the same from run to run.

``python tests/notebooks.py [NAME ...]``: all of them, or those named (``07-retarder``). What a run makes up
anew is not saved: ids and state of widgets, times, the version of Python.
"""

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
_VIEW = "application/vnd.jupyter.widget-view+json"
_KERNEL = {"display_name": "Python 3", "language": "python", "name": "python3"}


def executed(path):
    """The text of a notebook file, executed anew, in the form in which it is saved."""
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(
        notebook, timeout=600, kernel_name="python3", resources={"metadata": {"path": path.parent}},
        store_widget_state=False, record_timing=False,
    ).execute()  # fmt: skip
    return nbformat.writes(_settled(notebook)) + "\n"


def _settled(notebook):
    notebook.metadata = nbformat.from_dict({"kernelspec": _KERNEL, "language_info": {"name": "python"}})
    for cell in notebook.cells:
        for output in cell.get("outputs", ()):
            output.get("data", {}).pop(_VIEW, None)
    return notebook


if __name__ == "__main__":
    names = sys.argv[1:] or [path.stem for path in sorted(NOTEBOOKS.glob("*.ipynb"))]
    for name in names:
        target = NOTEBOOKS / f"{name}.ipynb"
        before, after = target.read_text(encoding="utf-8"), executed(target)
        target.write_text(after, encoding="utf-8", newline="\n")
        print(f"{target.name}: {'as before' if before == after else 'changed'}")
