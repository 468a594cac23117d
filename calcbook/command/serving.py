"""The process of the pages' server: what it would load and never use is left out."""

from __future__ import annotations

import os
import sys

from calcbook.command.pages import TOKEN


def main() -> None:
    """Serve the pages; the port, and whether to open a browser, are the arguments."""
    # a grammar of addresses in all scripts, which no page checks: to read it takes longer than all else
    sys.modules["rfc3987_syntax"] = None  # type: ignore[assignment]
    from calcbook.command.server import serve

    serve(int(sys.argv[1]), sys.argv[2] == "browser", os.environ.pop(TOKEN, None))


if __name__ == "__main__":
    main()
