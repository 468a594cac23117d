"""Progress: what is told, how often, and how fast it goes."""

import io

from calcbook.basis.progress import Progress


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


def test_a_file_gets_a_line_for_every_tenth():
    out, clock = io.StringIO(), Clock()
    progress = Progress(40, "jobs", out, clock)
    for _ in range(40):
        clock.now += 0.5
        progress.step()
    lines = out.getvalue().splitlines()
    assert len(lines) == 10
    assert lines[0] == "4 of 40 jobs, 2.0 a second, 18 s left"
    assert lines[-1] == "40 of 40 jobs, 2.0 a second in 20 s"


def test_a_terminal_gets_one_line_kept_current():
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    out, clock = Terminal(), Clock()
    progress = Progress(2000, "jobs", out, clock)
    for _ in range(2000):
        clock.now += 1
        progress.step()
    assert out.getvalue().count("\r") == 2000 and out.getvalue().count("\n") == 1
    assert "1,000 of 2,000 jobs, 1.0 a second, 17 min left" in out.getvalue()
    assert out.getvalue().endswith("2,000 of 2,000 jobs, 1.0 a second in 33 min\n")
