"""Starting the live pages of a job, in a process that takes nothing from the folder it was called in."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from calcbook.command import stop
from calcbook.command.copies import notebooks_folder
from calcbook.job.files import JobError, write_whole
from calcbook.paper.served import DRAFT, JOB, draft_file

if TYPE_CHECKING:
    from argparse import Namespace

TOKEN = "CALCBOOK_TOKEN"  # in the environment, where someone else knows the address; else it is drawn
STYLE = "CALCBOOK_LOOK"  # in the environment: the folder of the lab's style sheet
SHARE = Path(__file__).parent / "share"
LOOK = SHARE / "voila" / "templates" / "calcbook" / "static" / "look.css"


def own_folder() -> Path:
    """A folder of the user's own for drafts and settings: of the machine's choice, never beside a job."""
    for folder in (platformdirs.user_state_path("calcbook"), Path(tempfile.gettempdir()) / "calcbook"):
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError:
            continue
        if os.access(folder, os.W_OK):
            return folder
    raise JobError("no folder for drafts can be written; set XDG_STATE_HOME to one that can")


def demo_job() -> Path:
    """The demo job in a folder of its own, written there unless it is there already."""
    job = Path("calcbook-demo").resolve() / "demo.toml"
    if not job.exists():
        try:
            job.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise JobError(
                f"{job.parent} could not be made ({error.strerror}); go to another folder"
            ) from None
        write_whole(job, (notebooks_folder() / "demo.toml").read_bytes())
    return job


def run_open(arguments: Namespace) -> int:
    """``calcbook open``: serve the pages of a job file, or of the demo, until stopped; returns the exit status.

    A file with a mistake is opened all the same: the page says what is wrong. Raises JobError where there
    is none.
    """
    job = Path(arguments.file).resolve() if arguments.file else demo_job()
    if not job.is_file():
        from calcbook.job.file import Job  # it takes longer to load than all else here

        Job.read(job)  # says in a sentence that there is none
    command = [
        sys.executable,
        "-P",
        "-m",
        "calcbook.command.serving",
        str(arguments.port),
        "none" if arguments.no_browser else "browser",
    ]
    print(f"Job file:  {job}\nTo stop:   press Ctrl-C here.", flush=True)
    try:
        return subprocess.call(command, cwd=own_folder(), env=environment(job))
    except KeyboardInterrupt:
        stop.taken()
        return 0


def environment(job: Path) -> dict[str, str]:
    """The environment of the pages' server: the job, its draft, and settings from nowhere."""
    folder = own_folder()
    (folder / "drafts").mkdir(exist_ok=True)
    return {
        **quiet_environment(folder),
        "JUPYTER_PATH": str(SHARE),
        JOB: str(job),
        DRAFT: str(draft_file(job, folder / "drafts")),
    }


def give_way(pid: int) -> None:
    """Let the pages come before a process that has a session of its own."""
    if hasattr(os, "setpriority"):
        os.setpriority(os.PRIO_PROCESS, pid, 10)
    with contextlib.suppress(OSError):  # Linux weighs sessions first, and processes only within each
        Path(f"/proc/{pid}/autogroup").write_text("10", encoding="ascii")


def quiet_environment(folder: Path) -> dict[str, str]:
    """An environment in which a server takes settings from a folder of the user's own only."""
    ours = {
        name: value for name, value in os.environ.items() if not name.startswith(("JUPYTER", "VOILA"))
    }
    return {
        **ours,
        "JUPYTER_NO_CONFIG": "1",
        "JUPYTER_CONFIG_DIR": str(folder / "config"),
        "IPYTHONDIR": str(folder / "ipython"),
    }
