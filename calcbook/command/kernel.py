"""The process behind a page: Python with the book already loaded, and nothing taken from the folder it runs in."""

from __future__ import annotations

import contextlib
import gc
import importlib
import os
import sys
from pathlib import Path
from typing import Any

from jupyter_client.kernelspec import KernelSpec, KernelSpecManager
from tornado.ioloop import IOLoop

from calcbook.paper.served import JOB, on_pages

NAME = "python3"  # as the notebooks name it
_UNASKED = 1.0  # seconds: of whom no page has asked anything by then waits for a later one


class OnlyBook(KernelSpecManager):
    """The book's own process and no other, whatever else is installed on the machine."""

    def find_kernel_specs(self) -> dict[str, str]:
        """One name, and no folder."""
        return {NAME: ""}

    def get_kernel_spec(self, kernel_name: str) -> KernelSpec:
        """How the process is started, under any name."""
        command = [sys.executable, "-P", "-m", "calcbook.command.kernel", "-f", "{connection_file}"]
        return KernelSpec(argv=command, display_name="Python 3", language="python")

    def get_all_specs(self) -> dict[str, Any]:
        """The same, in the form in which a server asks."""
        spec = self.get_kernel_spec(NAME).to_dict()
        return {NAME: {"resource_dir": "", "spec": spec}}


def main() -> None:
    """Load the book, then wait for what a page asks."""
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"  # else every package installed is asked for one
    gc.disable()  # until all is loaded, as nothing of it goes again
    if on_pages():
        sys.modules["debugpy"] = None  # type: ignore[assignment]  # no page stops at a line of code
        # a page has its process for itself: no other page needs to hear what was typed
        os.environ["JUPYTER_WIDGETS_ECHO"] = "0"
        # another thread sends what was made while the next is worked out
        sys.setswitchinterval(0.001)
    from ipykernel.kernelapp import IPKernelApp

    quiet = [
        "--log-level=40",
        "--HistoryManager.enabled=False",
        "--InteractiveShellApp.ignore_cwd=True",
    ]
    app = IPKernelApp.instance()
    app.initialize([*sys.argv[1:], *quiet])

    # only now: what shows fields registers itself with the shell when it is loaded
    from calcbook.book.chapters import SUBJECTS

    for module in (*SUBJECTS.values(), "calcbook.paper.panels", "calcbook.paper.exercise", "handcalcs"):
        with contextlib.suppress(Exception):  # what is wrong with it is told where it is used
            importlib.import_module(module)
    with contextlib.suppress(Exception):
        rehearse(Path(os.environ[JOB]))
    gc.collect()
    gc.enable()
    gc.set_threshold(50_000, 10, 10)  # an entry makes as many objects, of which most go by themselves
    gc.freeze()  # what is loaded stays: looking through it again and again would make every entry wait
    IOLoop.current().call_later(_UNASKED, _while_it_waits, app)
    app.start()


def _while_it_waits(app: Any) -> None:
    """Load the mathematics of derivations too, where no page has asked anything yet: the first page is not to wait."""
    if app.shell.execution_count == 1:
        with contextlib.suppress(Exception):
            rehearse_derivation()
        gc.freeze()


def rehearse(path: Path) -> None:
    """Do once, for nobody, what takes long when it is done first and every page does: reading, drawing."""
    from calcbook.job.file import Job
    from calcbook.paper.pictures import image
    from calcbook.plan.drawing import chart
    from calcbook.plan.slab_drawing import plan_drawing

    job = Job.read(path)
    image(plan_drawing(job.plan, job.system), "")
    image(chart(title="chart", x="x", y="y")[0], "")


def rehearse_derivation() -> None:
    """The same for the formulas that half of the pages derive."""
    import sympy

    x = sympy.Symbol("x", positive=True)
    sympy.simplify(sympy.integrate(sympy.expand((1 + x) ** 2), (x, 0, 1)) - x)


if __name__ == "__main__":
    main()
