"""A scripted terminal: the command run in a pseudo-terminal, its questions answered one by one."""

import os
import select
import subprocess
import sys
import time


def talk(words, answers, cwd, env=None, seconds=45):
    """Run ``calcbook`` in a terminal. Returns (exit status, what it showed).

    words: of the command line; answers: (part of a question, answer) in order; the answer is typed once
    the part has been shown, after what was shown before.
    """
    import pty

    main, other = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "calcbook", *map(str, words)], stdin=other, stdout=other, stderr=other, cwd=cwd,
        env={**os.environ, **(env or {}), "TERM": "dumb"}, close_fds=True,
    )  # fmt: skip
    os.close(other)
    shown, from_here, waiting, end = "", 0, list(answers), time.monotonic() + seconds
    try:
        while time.monotonic() < end:
            flat = " ".join(shown.split())  # as if no line were wrapped
            if waiting and waiting[0][0] in flat[from_here:]:
                from_here = flat.index(waiting[0][0], from_here) + len(waiting[0][0])
                os.write(main, waiting.pop(0)[1].encode() + b"\n")
            ready, _, _ = select.select([main], [], [], 0.2)
            if ready:
                try:
                    piece = os.read(main, 4096)
                except OSError:  # the other side is gone
                    break
                if not piece:
                    break
                shown += piece.decode("utf-8", "replace")
            elif process.poll() is not None:
                break
        else:
            raise AssertionError(f"waited for {waiting[:1]}; shown so far:\n{shown}")
        assert not waiting, f"never asked for {waiting[:1]}:\n{shown}"
        return process.wait(10), shown.replace("\r\n", "\n")
    finally:
        process.kill()
        process.wait()
        os.close(main)
