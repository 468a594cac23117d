"""What a page shows in turns: first the answer and the picture of what was just changed, then the rest.

All that can wait does, until the page is shown and its fields are still; between two turns it gives way to what
was typed meanwhile. What a typed entry changes in sight does not wait so long; what a slider changes does, as its
next place comes at once. Whoever waits is marked as not current until its turn.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Hashable

import ipywidgets as widgets
from IPython.display import display

from calcbook.paper.served import on_pages

_STILL = 0.15  # seconds after an entry before the rest begins: a slider's next place, or its key held down, comes sooner
_BREATH = 0.004  # between two turns, in which an entry is seen
_UNSEEN = 20.0  # after which a page is taken for shown, if it never says so


class Turns:
    """Work that waits, by whom it is for: one that asks again before its turn gets the new work only."""

    def __init__(self) -> None:
        self.shown = False
        self._waiting: dict[Hashable, Callable[[], None]] = {}
        self._soon: set[Hashable] = set()  # of those that wait: whose work is in sight
        self._still = 0.0  # when the fields are taken to be at rest
        self._sliding = False
        self._timer: asyncio.TimerHandle | None = None
        self._due = 0.0

    def entered(self, sliding: bool = False) -> None:
        """An entry has just come: see the function of that name below."""
        self._still, self._sliding = time.monotonic() + _STILL, sliding

    def add(self, whose: Hashable, work: Callable[[], None], soon: bool = False) -> None:
        """Do it when its turn comes; what the same one waited for before is dropped."""
        self._waiting[whose] = work
        (self._soon.add if soon else self._soon.discard)(whose)
        if self.shown:
            self._call(_BREATH)

    def begin(self) -> None:
        """The page is shown: what waits may begin."""
        if not self.shown:
            self.shown = True
            self._call(0.0)

    def _call(self, pause: float) -> None:
        due = time.monotonic() + pause
        if self._timer is not None and due < self._due:
            self._timer.cancel()
            self._timer = None
        if self._timer is None and self._waiting:
            self._timer, self._due = asyncio.get_event_loop().call_later(pause, self._turn), due

    def _turn(self) -> None:
        self._timer = None
        rest = self._still - time.monotonic()
        ready = self._waiting if rest <= 0 else [] if self._sliding else self._in_sight()
        whose = next(iter(ready), None)
        if whose is None:
            self._call(rest)
            return
        work = self._waiting.pop(whose)
        self._call(_BREATH)  # before the work, whose fault must not stop the others
        work()

    def _in_sight(self) -> list[Hashable]:
        return [whose for whose in self._waiting if whose in self._soon]


TURNS = Turns()  # of the page of this process


def entered(sliding: bool = False) -> None:
    """An entry has just come and its picture is shown: all else waits until no other follows.

    sliding: whether it is of a slider, for which what is in sight waits as well.
    """
    TURNS.entered(sliding)


def in_turn(whose: Hashable, work: Callable[[], None], soon: bool = False) -> None:
    """Do it in its turn; in the lab, where nothing waits, at once. soon: it is in sight, and waits for no rest."""
    if on_pages():
        TURNS.add(whose, work, soon)
    else:
        work()


def tell_when_shown() -> None:
    """Display, unseen, what a page presses when all of it is shown."""
    button = widgets.Button(description="shown")
    button.add_class("cb-shown")
    button.on_click(lambda _: TURNS.begin())
    display(button)
    asyncio.get_event_loop().call_later(_UNSEEN, TURNS.begin)
