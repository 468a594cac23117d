"""Asking in the terminal: a question with its default, a why on request, and asking again."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable
from typing import TypeVar

from calcbook.basis.text_table import terminal_width
from calcbook.job.files import JobError

Read = TypeVar("Read")


def need_terminal(instead: str) -> None:
    """Raise JobError where there is no one to ask. instead: what to do then."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise JobError(f"there is no terminal to ask in; {instead}")


def ask(words: str, default: str, why: str, read: Callable[[str], Read]) -> Read:
    """One question until its answer can be used.

    words: the question; default: taken where the answer is empty, "" for none; why: told at "?"; read:
    makes the answer of a text, and raises a ValueError in words where it cannot be used. Raises
    JobError where the reader ends the input.
    """
    prompt = f"{words} [{default}]: " if default else f"{words}: "
    while True:
        try:
            answer = input(prompt).strip() or default
        except EOFError:
            raise JobError("stopped; nothing is written") from None
        if answer == "?":
            say(why)
            continue
        try:
            return read(answer)
        except ValueError as error:
            say(str(error))


def ask_yes(words: str, default: bool, why: str) -> bool:
    """A question for yes or no."""

    def read(answer: str) -> bool:
        if answer.lower() not in ("y", "yes", "n", "no"):
            raise ValueError("answer yes or no")
        return answer.lower().startswith("y")

    return ask(words, "yes" if default else "no", why, read)


def say(words: str) -> None:
    """Words set in under a question, wrapped to the terminal."""
    width = max(terminal_width() or 80, 40)
    print(textwrap.fill(words, width, initial_indent="   ", subsequent_indent="   "))
