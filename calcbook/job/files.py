"""Files: read whole, up to a size, and written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from calcbook.job.problems import JobError

_LARGEST = 1_000_000  # bytes
_LOCK_WAIT, _LOCK_STALE = 5.0, 20.0  # seconds: how long to wait, and when its holder is taken for dead


def read_text(path: Path, kind: str, refusal: type[ValueError] = JobError) -> str:
    """The text of a file in UTF-8 of at most 1 MB, with or without a byte order mark.

    kind: what it should be, as "job file"; refusal: the error raised, in one sentence, where it
    cannot be read.
    """
    try:
        with path.open("rb") as file:
            data = file.read(_LARGEST + 1)
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


def write_whole(path: str | Path, text: str | bytes) -> None:
    """Write a text file in one step: to a temporary file beside it, then replace.

    A link stays a link: the file behind it is replaced. Raises JobError in one sentence where the
    folder cannot be written.
    """
    path = Path(os.path.realpath(path))
    data = text if isinstance(text, bytes) else text.encode("utf-8")
    temporary = None
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".saving-", suffix=path.suffix)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, path.stat().st_mode & 0o777 if path.exists() else 0o644)
        os.replace(temporary, path)
        temporary = None
    except OSError as error:
        raise JobError(
            f"{path} could not be written ({error.strerror or error}); choose a folder you may write to"
        ) from None
    finally:  # also where the user stops it
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold a file against others of the book who read it, change it and write it, by a file beside it.

    Raises JobError where another holds it for too long.
    """
    path = Path(os.path.realpath(path))
    lock, until = path.with_name(f".{path.name}.lock"), time.monotonic() + _LOCK_WAIT
    while True:
        try:
            os.close(os.open(lock, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            break
        except FileExistsError:
            with contextlib.suppress(OSError):
                if time.time() - lock.stat().st_mtime > _LOCK_STALE:
                    lock.unlink()
                    continue
        except OSError as error:
            raise JobError(
                f"{path} could not be written ({error.strerror or error}); choose a folder you may write to"
            ) from None
        if time.monotonic() > until:
            raise JobError(
                f"{path.name} is being written by someone else; nothing was saved: save again"
            )
        time.sleep(0.02)
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            lock.unlink()
