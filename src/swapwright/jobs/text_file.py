"""Write a text file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from swapwright.base.errors import InputError, Problem


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
        message = f"cannot be written: {error.strerror}"
        raise InputError(Problem(str(path), "", message)) from None
