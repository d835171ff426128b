"""Write a text file whole or not at all; read one that is a file, and no larger than it may be."""

from __future__ import annotations

import errno
import os
import stat
import tempfile
from pathlib import Path

from swapwright.base.errors import InputError, Problem


def plain_bytes(path: Path, most: int) -> bytes:
    """Return what a file holds; raise OSError where it is no file, or has more bytes than that.

    A pipe would be waited for, and some devices never end.
    """
    found = path.stat()
    if not stat.S_ISREG(found.st_mode):
        raise OSError(errno.EINVAL, "it is not a file")
    if found.st_size > most:
        raise OSError(errno.EFBIG, f"it has {found.st_size} bytes; up to {most} are read")
    return path.read_bytes()


def write_text(path: Path, text: str) -> None:
    """Write a text to a file; raise InputError where it cannot be."""
    try:
        handle, name = tempfile.mkstemp(
            dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".part"
        )
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise _cannot(path, error) from None


def write_new(path: Path, text: str) -> bool:
    """Write a text to a file nobody has yet, and tell whether it was; what is there stays.

    Raises InputError where it cannot be written.
    """
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644)
    except FileExistsError:
        return False
    except OSError as error:
        raise _cannot(path, error) from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
    except OSError as error:
        path.unlink(missing_ok=True)
        raise _cannot(path, error) from None
    return True


def _cannot(path: Path, error: OSError) -> InputError:
    return InputError(Problem(str(path), "", f"cannot be written: {error.strerror}"))
