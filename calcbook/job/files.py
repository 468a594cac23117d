"""Files: read whole, up to a size, and written whole or not at all."""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import stat
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

try:
    import fcntl
except ImportError:  # no POSIX
    fcntl = None  # type: ignore[assignment]

_LARGEST = 1_000_000  # bytes
_LOCK_WAIT, _LOCK_STALE = 5.0, 20.0  # seconds: how long to wait, and when its holder is taken for dead
_SAVING, _LEFT_OVER = (
    ".saving-",
    3600.0,
)  # a file being written, and after how many seconds it is a leftover


class JobError(ValueError):
    """A job file that cannot be used. ``problems`` holds one sentence for each mistake."""

    def __init__(self, problems: str | Iterable[str]) -> None:
        self.problems = [problems] if isinstance(problems, str) else list(problems)
        super().__init__("\n".join(self.problems))


class JobChanged(JobError):
    """The job file on disk is no longer the one that was read."""


Stamp = tuple[int, int] | None


def stamp(*paths: Path) -> tuple[Stamp, ...]:
    """For each file what changes when it does: the time of its last change and its size; None where there is none."""
    return tuple(_stamp(path) for path in paths)


def _stamp(path: Path) -> Stamp:
    try:
        found = path.stat()
    except OSError:
        return None  # what is wrong with it is told where it is read
    return found.st_mtime_ns, found.st_size


def read_text(path: Path, kind: str, refusal: type[ValueError] = JobError) -> str:
    """The text of a file in UTF-8 of at most 1 MB, with or without a byte order mark.

    kind: what it should be, as "job file"; refusal: the error raised, in one sentence, where it
    cannot be read.
    """
    try:
        data = _bytes(path)
    except (OSError, ValueError) as error:  # a name may hold what no name of a file can
        reason = getattr(error, "strerror", None) or error
        raise refusal(f"{path} could not be read ({reason}); give the path of a {kind}") from None
    if len(data) > _LARGEST:
        raise refusal(f"{path.name} is larger than 1 MB, too large for a {kind}")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refusal(
            f"{path.name} is not text in UTF-8 (byte {error.start}); save it in UTF-8"
        ) from None


def read_notes(path: Path) -> dict[str, Any]:
    """What a JSON file of the book's own holds, by its names; nothing where it cannot be read."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _bytes(path: Path) -> bytes:
    """What stands in a file, up to a byte more than is read; a pipe or device, which may never end, is none."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:  # refuses a folder
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise ValueError("it is a pipe or a device, not a file")
        return file.read(_LARGEST + 1)


def write_whole(path: str | Path, text: str | bytes, lasting: bool = True) -> None:
    """Write a text file in one step: to a temporary file beside it, then replace.

    lasting: wait until the disk has it, so that it outlives a power cut. A link stays a link: the file behind it
    is replaced. Raises JobError in one sentence where the folder cannot be written.
    """
    path = Path(os.path.realpath(path))
    data = text if isinstance(text, bytes) else text.encode("utf-8")
    if path.exists() and not path.is_file():
        raise JobError(f"{path} is no file that can be written over; give the name of a file")
    temporary = path.with_name(f"{_SAVING}{os.getpid()}-{secrets.token_hex(4)}{path.suffix}")
    try:
        _clean(path.parent)
        handle = os.open(
            temporary, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o666
        )
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            if lasting:
                os.fsync(file.fileno())
        if path.exists():  # else it is as the user's mask has it
            os.chmod(temporary, path.stat().st_mode & 0o777)
        os.replace(temporary, path)
    except OSError as error:
        raise JobError(
            f"{path} could not be written ({error.strerror or error}); choose a folder you may write to"
        ) from None
    finally:  # also where the user stops it
        with contextlib.suppress(OSError):
            os.unlink(temporary)


def _clean(folder: Path) -> None:
    """Take away what killed runs left half written: their process is gone, or it was long ago."""
    for left in folder.glob(f"{_SAVING}*"):
        with contextlib.suppress(OSError, ValueError):
            number = int(left.name.removeprefix(_SAVING).partition("-")[0])
            if time.time() - left.stat().st_mtime > _LEFT_OVER or not _runs(number):
                left.unlink()


def _runs(process: int) -> bool:
    """Whether a process of this machine still runs; where that cannot be asked harmlessly, it is said to."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        pass
    return True


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold a file against others of the book who read it, change it and write it, by a file beside it.

    Raises JobError where another holds it for too long.
    """
    path = Path(os.path.realpath(path))
    lock, until = path.with_name(f".{path.name}.lock"), time.monotonic() + _LOCK_WAIT
    try:
        while (handle := _take(lock)) is None:
            if time.monotonic() > until:
                raise JobError(
                    f"{path.name} is being written by someone else; nothing was saved: save again"
                )
            time.sleep(0.01)
    except OSError as error:
        raise JobError(
            f"{path} could not be written ({error.strerror or error}); choose a folder you may write to"
        ) from None
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            lock.unlink()
        os.close(handle)


def _take(lock: Path) -> int | None:
    """A handle of the lock, now held; None where another holds it. The system frees it when its holder dies."""
    if fcntl is None:
        return _take_new(lock)
    handle = os.open(lock, os.O_CREAT | os.O_RDWR, 0o666)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.fstat(handle).st_ino == os.stat(lock).st_ino:  # else its holder took it away meanwhile
            return handle
    except (BlockingIOError, FileNotFoundError):
        pass
    os.close(handle)
    return None


def _take_new(lock: Path) -> int | None:
    """The same where files cannot be locked: whoever makes the file holds it; an old one is a leftover."""
    try:
        return os.open(lock, os.O_CREAT | os.O_EXCL | os.O_WRONLY)
    except FileExistsError:
        with contextlib.suppress(OSError):
            if time.time() - lock.stat().st_mtime > _LOCK_STALE:
                lock.unlink()
        return None
