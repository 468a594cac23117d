"""A stop by Ctrl-C that cannot be lost: a library that swallows it, as some do while they load, is told again."""

from __future__ import annotations

import signal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from types import FrameType

AGAIN = 1.0  # seconds until it is told again; what is tidied up on the way out takes less


def insist() -> None:
    """From now on tell a stop again and again until it is ``taken``, where the system has such a clock."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler and hasattr(signal, "setitimer"):
        for number in (signal.SIGINT, signal.SIGALRM):
            signal.signal(number, _tell)


def taken() -> bool:
    """The command has met the stop: it is not told again. Returns whether there was one to be told again."""
    return hasattr(signal, "setitimer") and signal.setitimer(signal.ITIMER_REAL, 0)[0] > 0


def _tell(_number: int, _frame: FrameType | None) -> None:
    signal.setitimer(signal.ITIMER_REAL, AGAIN)
    raise KeyboardInterrupt
