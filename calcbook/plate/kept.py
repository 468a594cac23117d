"""What is made once while one plate is worked out: meshes of close-ups that come again, and what is read on them."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

Made = TypeVar("Made")

_made: dict[tuple[int, Hashable], tuple[Any, Any]] | None = None  # None outside of ``making_once``


@contextmanager
def making_once() -> Iterator[None]:
    """Keep what ``once`` makes until the end: factors take room, so not for longer."""
    global _made
    if _made is not None:
        yield
        return
    _made = {}
    try:
        yield
    finally:
        _made = None


def once(of: object, key: Hashable, make: Callable[[], Made]) -> Made:
    """What was made of an object under a key before, or is made now."""
    if _made is None:
        return make()
    found = _made.get((id(of), key))
    if found is None:
        found = _made[id(of), key] = (of, make())  # held, so that no other object gets its id
    return found[1]
