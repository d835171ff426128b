"""Build files that come from elsewhere: read whole, refused with every fault, never over another.

A text is written byte for byte as it came.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.build.edit import edit
from swapwright.build.load import MAX_BYTES, load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.merging import BOM
from swapwright.jobs.text_file import write_new


def text_of(data: bytes, file: str) -> str:
    """Return the text of a build file's bytes; raise InputError where it can be none."""
    if len(data) > MAX_BYTES:
        given = f"{len(data)} bytes or more"
        raise InputError(Problem(file, "", "too large for a build file", given, "up to 2 MB"))
    try:
        if b"\0" in data:
            raise ValueError
        return data.decode("utf-8")
    except ValueError:
        message, allowed = "not a text file", "TOML text in UTF-8"
        raise InputError(Problem(file, "", message, allowed=allowed)) from None


def take_in(path: Path, text: str, file: str, catalogue: Catalogue) -> None:
    """Write a build file's text to a path nobody has.

    ``file`` is the name faults are told under. Raises InputError with every fault of the text, and
    where the path is taken or cannot be written; nothing is written then.
    """
    text_of(text.encode("utf-8"), file)
    build = load_text(text.removeprefix(BOM), file, folder=path.parent)
    resolve(build, catalogue)
    try:
        is_written = write_new(path, text)
    except InputError as error:
        raise InputError(*(replace(each, file=path.name) for each in error.problems)) from None
    if not is_written:
        message = "there is such a file already; nothing is written"
        raise InputError(Problem(path.name, "", message))


def named_anew(text: str, name: str) -> str:
    """Return a build file's text under another name of the car; all else stays as it is."""
    return edit(text, "car.name", name) if name else text
