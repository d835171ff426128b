"""Saved revisions of a build file: each a text under a name, kept beside the file."""

from __future__ import annotations

import json
import re
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.build.load import MAX_BYTES
from swapwright.jobs.text_file import plain_bytes, write_new, write_text

FOLDER = "revisions"
LONGEST_NAME = 80
MOST_NOTE = 10_000
"""Bytes a note may have; one of ours has some two hundred."""
LAST_NUMBER = 999_999_999
_TEXT = re.compile(r"([0-9]{4,9})\.toml")


@dataclass(frozen=True)
class Saved:
    """One saved revision: its number, name, when (UTC, ISO 8601) and the hash of its car.

    When and the hash are empty where the note that tells them cannot be read.
    """

    number: int
    name: str
    at: str
    revision: str


class Shelf:
    """The saved revisions of one build file, in a folder beside it.

    Each is two files, the text and a note of what it is, which are never written again.
    """

    def __init__(self, path: Path) -> None:
        """Take the build file's path; nothing is read or made yet."""
        self.folder = folder_of(path)
        self._file = path.name
        self._place = f"{FOLDER}/{path.stem}"

    def all(self) -> tuple[Saved, ...]:
        """Return the saved revisions, oldest first."""
        return tuple(self._noted(number) for number in self._numbers())

    def last(self) -> Saved | None:
        """Return the latest saved revision, None where there is none."""
        numbers = self._numbers()
        return self._noted(numbers[-1]) if numbers else None

    def get(self, number: int) -> Saved | None:
        """Return a saved revision by its number, None where there is none."""
        return self._noted(number) if number in self._numbers() else None

    def text_of(self, saved: Saved) -> str:
        """Return the text of a saved revision, byte for byte; raise InputError where it is none."""
        try:
            return plain_bytes(self._text(saved.number), MAX_BYTES).decode("utf-8")
        except OSError as error:
            why = str(error.strerror)
        except UnicodeDecodeError:
            why = "it is not a text file"
        message = f"saved revision {saved.number} cannot be read: {why}"
        raise InputError(Problem(self._file, "", message))

    def keep(self, name: str, text: str, revision: str) -> Saved:
        """Keep a text under a name and return what was kept; raise InputError where it cannot be.

        The text is written first, under a number nobody has: what is there is never written over.
        """
        name = plain_name(name)
        if not name or len(name) > LONGEST_NAME:
            raise InputError(
                Problem(
                    self._file,
                    "name",
                    "a revision needs a name",
                    given=name[:LONGEST_NAME],
                    allowed=f"one to {LONGEST_NAME} characters",
                )
            )
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            message = f"cannot be made: {error.strerror}"
            raise InputError(Problem(self._place, "", message)) from None
        try:
            return self._kept(name, text, revision)
        except InputError as error:
            told = (replace(each, file=self._place) for each in error.problems)
            raise InputError(*told) from None

    def _kept(self, name: str, text: str, revision: str) -> Saved:
        number = max(self._numbers(), default=0) + 1
        if number > LAST_NUMBER:
            raise InputError(Problem(self._place, "", "no number is left for another revision"))
        while not write_new(self._text(number), text):
            number += 1
        saved = Saved(number, name, datetime.now(UTC).isoformat(timespec="seconds"), revision)
        try:
            write_text(self._note(number), json.dumps(asdict(saved), indent=1) + "\n")
        except InputError:
            # Half a revision would be the one that changes are shown against.
            with suppress(OSError):
                self._text(number).unlink()
            raise
        return saved

    def _numbers(self) -> tuple[int, ...]:
        try:
            names = {each.name for each in self.folder.iterdir()}
        except OSError:
            return ()
        found = {int(each[1]) for each in map(_TEXT.fullmatch, names) if each is not None}
        return tuple(sorted(each for each in found if self._text(each).name in names))

    def _noted(self, number: int) -> Saved:
        unknown = Saved(number, f"number {number}, its note cannot be read", "", "")
        try:
            note = json.loads(plain_bytes(self._note(number), MOST_NOTE))
        except (OSError, ValueError, RecursionError):
            return unknown
        texts = [note.get(key) for key in ("name", "at", "revision")] if type(note) is dict else []
        name, at, revision = texts or (None, None, None)
        if not (isinstance(name, str) and isinstance(at, str) and isinstance(revision, str)):
            return unknown
        return Saved(number, plain_name(name)[:LONGEST_NAME], at[:40], revision[:80])

    def _text(self, number: int) -> Path:
        return self.folder / f"{number:04d}.toml"

    def _note(self, number: int) -> Path:
        return self.folder / f"{number:04d}.json"


def folder_of(path: Path) -> Path:
    """Return the folder in which the saved revisions of a build file are kept, there or not."""
    return path.parent / FOLDER / path.stem


def plain_name(name: str) -> str:
    """Return a name on one line, without what cannot be seen."""
    seen = (each if each.isprintable() else " " for each in name)
    return " ".join("".join(seen).split())
