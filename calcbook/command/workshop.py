"""The lab's server with the look of the book: without settings of anyone else it would look for none."""

from __future__ import annotations

import os

from jupyter_server.serverapp import ServerApp
from jupyterlab.labapp import LabApp
from traitlets import default

from calcbook.command.pages import STYLE


class Server(ServerApp):
    """A server whose style sheet lies where the book has put it."""

    @default("static_custom_path")
    def _of_the_book(self) -> list[str]:
        return [os.environ[STYLE]]


if __name__ == "__main__":
    LabApp.serverapp_class = Server
    LabApp.launch_instance()
