"""Opening the notebooks in JupyterLab, set to a job: the workshop behind the pages.

The notebooks are copied beside the job (``copies.py``), so that what the reader types never changes
the book. The lab starts with settings of its own: one notebook on the page, no side bars, no news question,
one button that runs all. It takes no settings and no code from the job's folder, and trusts only what it put there.
"""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.command import stop
from calcbook.command.copies import bring_up_to_date, notebooks_folder, untouched
from calcbook.command.pages import LOOK, STYLE, TOKEN, own_folder, quiet_environment
from calcbook.job.file import Job, JobError
from calcbook.paper.chooser import choose_job

if TYPE_CHECKING:
    from argparse import Namespace

_SETTINGS = {
    "apputils-extension/notification": {
        "fetchNews": "false",
        "checkForUpdates": False,
        "doNotDisturbMode": True,
    },
    "notebook-extension/tracker": {"windowingMode": "none", "autoStartDefaultKernel": True},
    "notebook-extension/panel": {
        "toolbar": [
            *({"name": name, "disabled": True} for name in ("cut", "paste", "restart", "restart-and-run")),
            {"name": "run-all", "command": "notebook:run-all-cells", "label": "Run all", "rank": 30,
             "icon": "ui-components:fast-forward"},
        ]
    },
}  # fmt: skip
# A cell whose source is hidden shows its result only: the reader is not asked to mind code.
_CSS = """
.jp-Notebook .jp-InputPlaceholder, .jp-Notebook .jp-OutputPlaceholder, .jp-Notebook .jp-Cell.jp-mod-noInput .jp-InputArea { display: none; }
.jp-Notebook { --jp-cell-prompt-width: 24px; }
.jp-Notebook .jp-OutputPrompt, .jp-Notebook .jp-InputPrompt { visibility: hidden; }
.jupyter-widgets input:focus, .jupyter-widgets select:focus { box-shadow: 0 0 0 2px #9a3d12; }
.jupyter-widgets-disconnected::before { display: none; }
.jupyter-widgets-disconnected { opacity: .55; pointer-events: none; }
.jp-MarkdownCell + .jp-CodeCell.jp-mod-noOutputs::after,
.jp-OutputArea-output.jupyter-widgets:not(:has(*))::before {
  display: block; content: "Not run yet: press Run all in the bar above.";
  color: #9a3d12; font: 14px/1.6 sans-serif; padding-left: 24px;
}
.jp-OutputArea-output.jupyter-widgets:not(:has(*)) { font-size: 0; }
/* a press before the book has started would be lost, or be asked which one to start */
.jp-NotebookPanel:not(:has(.jp-Notebook-ExecutionIndicator:is([data-status="idle"], [data-status="busy"]))) [data-command="notebook:run-all-cells"] { pointer-events: none; opacity: .35; }
.jp-NotebookPanel:not(:has(.jp-Notebook-ExecutionIndicator:is([data-status="idle"], [data-status="busy"]))) .jp-NotebookPanel-toolbar::before { content: "Starting …"; color: #9a3d12; font: 14px/1.6 sans-serif; padding: 0 8px; }
"""


def run_lab(arguments: Namespace) -> int:
    """``calcbook lab``: start JupyterLab on a copy of the notebooks; returns the exit status of the server.

    Raises JobError where the job file is wrong or the copy cannot be made.
    """
    folder, job, told = prepare(Path(arguments.file) if arguments.file else None)
    own = own_folder()
    _settings(own)
    command = [
        sys.executable, "-P", "-m", "calcbook.command.workshop", str(folder), "--custom-css", f"--port={arguments.port}", "--ip=127.0.0.1",
        "--LabApp.default_url=/doc/tree/00-start.ipynb",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--ServerApp.kernel_spec_manager_class=calcbook.command.kernel.OnlyBook", "--ServerApp.log_level=ERROR",
    ]  # fmt: skip
    if TOKEN in os.environ:
        command.append(f"--IdentityProvider.token={os.environ[TOKEN]}")
    if arguments.no_browser:
        command.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--allow-root")  # in a container there is often no other user
    print(
        f"Notebooks: {folder}\nJob file:  {job}",
        *told,
        "To stop: press Ctrl-C here.",
        sep="\n",
        flush=True,
    )
    try:
        return subprocess.call(command, cwd=own, env=environment(own))
    except KeyboardInterrupt:
        stop.taken()
        return 0


def prepare(file: Path | None) -> tuple[Path, Path, list[str]]:
    """Copy the notebooks for a job, or bring them up to date.

    Returns (folder of the copy, path of the job file, sentences to be told).
    """
    if file is None:
        folder = Path("calcbook-demo").resolve()
        file = folder / "demo.toml"
    else:
        Job.read(file)  # a mistake is better said here than in a notebook
        file = file.resolve()
        folder = file.with_name(f"{file.stem}-book")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        told = bring_up_to_date(notebooks_folder(), folder)
    except OSError as error:
        raise JobError(
            f"{folder} could not be filled ({error.strerror}); free the folder or move the job"
        ) from None
    choose_job(file, folder)
    _trust(folder)
    return folder, file, told


def _settings(own: Path) -> None:
    for plugin, settings in _SETTINGS.items():
        path = own / "lab" / "settings" / "@jupyterlab" / f"{plugin}.jupyterlab-settings"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(settings), encoding="utf-8")
    css = _css_file(own)
    css.parent.mkdir(parents=True, exist_ok=True)
    css.write_text(LOOK.read_text("utf-8") + _CSS, encoding="utf-8")


def _css_file(own: Path) -> Path:
    return own / "lab" / "custom" / "custom.css"


def _trust(folder: Path) -> None:
    """Sign what the book put there and the reader did not change, and nothing else."""
    import nbformat
    from nbformat.sign import NotebookNotary

    notary = NotebookNotary()
    for path in untouched(folder):
        with contextlib.suppress(Exception):  # of any kind: it is the lab's to tell
            notary.sign(nbformat.read(path, as_version=4))


def environment(own: Path) -> dict[str, str]:
    """The environment in which the lab runs; own: the folder of its settings, the user's own."""
    return {
        **quiet_environment(own),
        STYLE: str(_css_file(own).parent),
        "JUPYTERLAB_SETTINGS_DIR": str(own / "lab" / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(own / "lab" / "workspaces"),
    }
