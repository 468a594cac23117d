"""The processes of the pages: which of them come first."""

import os
import subprocess
from pathlib import Path

import pytest

from calcbook.command.pages import give_way


@pytest.mark.skipif(not hasattr(os, "setpriority"), reason="this machine knows no such order")
def test_a_process_that_gives_way_does_so_as_a_session_too():
    with subprocess.Popen(["sleep", "60"], start_new_session=True) as beside:
        try:
            give_way(beside.pid)
            assert os.getpriority(os.PRIO_PROCESS, beside.pid) == 10
            session = Path(f"/proc/{beside.pid}/autogroup")
            assert not session.exists() or session.read_text().split()[-1] == "10"
        finally:
            beside.kill()
