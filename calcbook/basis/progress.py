"""How far long work is, told on the standard error stream."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TextIO


class Progress:
    """Tells how many of ``total`` are done: one line kept current on a terminal, else every tenth.

    what: what is counted, in the plural; out: the stream; clock: seconds, for the rate.
    """

    def __init__(
        self,
        total: int,
        what: str,
        out: TextIO | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.total, self.what = total, what
        self.out, self.clock = out or sys.stderr, clock
        self.begun, self.done, self.told = clock(), 0, 0
        self.live = self.out.isatty()

    def step(self) -> None:
        """One more is done."""
        self.done += 1
        last = self.done == self.total
        if self.live or last or self.done * 10 // self.total > self.told:
            self.told = self.done * 10 // self.total
            end = "\n" if last or not self.live else ""
            self.out.write(
                f"{chr(13) if self.live else ''}{self.line():<60}"[: 80 if self.live else None].rstrip(
                    " "
                )
                + end
            )
            self.out.flush()

    def line(self) -> str:
        """How it stands, in words."""
        seconds = max(self.clock() - self.begun, 1e-9)
        rate = self.done / seconds
        left = (self.total - self.done) / rate
        rest = f", {_time(left)} left" if self.done < self.total else f" in {_time(seconds)}"
        return f"{self.done:,} of {self.total:,} {self.what}, {rate:.1f} a second{rest}"


def _time(seconds: float) -> str:
    return f"{seconds / 60:.0f} min" if seconds >= 90 else f"{seconds:.0f} s"
