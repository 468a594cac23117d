"""``calcbook check``: what is open and what to do about it, then a count; on request the rest."""

from __future__ import annotations

import collections
import textwrap
from typing import TYPE_CHECKING

from calcbook.basis.calculation import OK
from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import ratio_text
from calcbook.basis.text_table import terminal_width
from calcbook.job.file import plain

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation, Check
    from calcbook.book.chapters import Book

OPEN = 1  # exit status where a check is open
_HEAD = 16  # letters of a verdict, with the gap behind it


def checks_text(book: Book, everything: bool = False) -> str:
    """The open checks of a book, each with what to do, and a count; everything: the others too."""
    pairs = book.checks
    still_open = [(c, check) for c, check in pairs if check.status != OK]
    lines = [_hanging("read as", words) for words in book.job.taken()]
    for calculation, check in still_open:
        told = (check.remark, f"To do: {check.to_do}")
        lines += [_check(calculation, check), *(_hanging("", words) for words in told if words)]
    if everything:
        lines += [_check(c, check) for c, check in pairs if check.status == OK]
    lines += _unasked(book)
    lines += filter(None, [book.left_out])
    lines.append(_count(book, [check.status for _, check in pairs], everything))
    lines.append(DEFERRAL)
    return "\n".join(lines)


def open_text(book: Book) -> str:
    """The open checks under a price or an order, which neither of them closes; "" without any."""
    pairs = book.priced_checks
    lines = [_check(c, check) for c, check in pairs if check.status != OK]
    if lines:
        lines.insert(0, f"Open: {len(lines)} of {len(pairs)} checks")
    if book.no_go:
        lines.append(
            _hanging("NO GO", "by the page Go or no-go: do not call the first truck for this day")
        )
    return "\n".join(filter(None, [*lines, book.left_for_later, book.left_out]))


def tell_open(book: Book) -> int:
    """Name the checks that are open, which a price or an order does not close. Returns the exit status."""
    told = open_text(book)
    if told:
        print(told)
    return OPEN if _priced_open(book) else 0


def status_of(book: Book) -> int:
    """Exit status by all checks; the plate, which takes longest, is not waited for where another check is open already."""
    return OPEN if _priced_open(book) or book.status != OK else 0


def _priced_open(book: Book) -> bool:
    return any(check.status != OK for _, check in book.priced_checks)


def _unasked(book: Book) -> list[str]:
    """A line for each recorded answer whose title no check has."""
    asked = {plain(check.title) for _, check in book.checks}
    return [
        f"[[answers]]: no check is called {answer.check!r}; write its title as a line above has it"
        for job in (book.job, *book.job.others)
        for answer in job.answers
        if plain(answer.check) not in asked
    ]


def _check(calculation: Calculation, check: Check) -> str:
    ratio = "" if check.ratio is None else f" (ratio {ratio_text(check.ratio)})"
    words = f"{check.claim}{ratio} [{calculation.title}; {check.clause}]"
    return _hanging(check.status, " ".join(words.split()))


def _count(book: Book, found: list[str], everything: bool) -> str:
    """How many checks of each verdict, and how many defaults."""
    counts = collections.Counter(found)
    open_ones = [f"{counts[s]} {s}" for s in dict.fromkeys(found) if s != OK]
    told = ", ".join([*open_ones, f"{counts[OK]} OK"])
    rest = "" if everything or not counts[OK] else "; --all lists them too"
    open_words = f"{len(found) - counts[OK]} open" if open_ones else "none open"
    return f"{len(found)} checks, {open_words}: {told}{rest}; {len(book.job.assumptions())} defaults assumed"


def _hanging(head: str, words: str) -> str:
    """Words behind a head; on a terminal wrapped, further lines set in below the words."""
    first, room = head.ljust(_HEAD), terminal_width()
    if len(first + words) <= room or not room:
        return first + words
    return textwrap.fill(words, max(room, 40), initial_indent=first, subsequent_indent=" " * _HEAD)
