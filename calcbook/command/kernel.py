"""The process behind a page: Python with the book already loaded, and nothing taken from the folder it runs in."""

from __future__ import annotations

import contextlib
import importlib
import sys
from typing import Any

from jupyter_client.kernelspec import KernelSpec, KernelSpecManager

NAME = "python3"  # as the notebooks name it


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

    for module in (*SUBJECTS.values(), "calcbook.paper.panels", "calcbook.paper.exercise", "sympy"):
        with contextlib.suppress(Exception):  # what is wrong with it is told where it is used
            importlib.import_module(module)
    app.start()


if __name__ == "__main__":
    main()
