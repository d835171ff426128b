"""A build file at work: edited on disk at every change, with undo, redo and saved revisions."""

from __future__ import annotations

import hashlib
import re
import threading
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from stat import S_ISREG

from swapwright.assess.solve import assess
from swapwright.base.errors import InputError, Problem
from swapwright.build.edit import content_hash, edit, read_document, save
from swapwright.build.load import MAX_BYTES, load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue, Stamp, stamp_of
from swapwright.jobs.check import Checked
from swapwright.jobs.merging import BOM, Conflict, merged, raw_of
from swapwright.jobs.opening import Opened
from swapwright.jobs.shelf import Saved, Shelf
from swapwright.jobs.text_file import write_new
from swapwright.standards.version import DATA_VERSION

MOST_KEPT = 200
"""Texts kept to undo, to redo, and to merge with."""
MOST_LETTERS = 50_000_000
"""Letters all of them may have together; the oldest go first."""
MOST_ASSESSED = 12
AS_OPENED = "as opened"
"""What changes are shown against while no revision is saved: the file as it was first opened."""
UNREADABLE = "unreadable"
"""The mark of a file that cannot be read."""

_TABLE_FILE = re.compile(r"[\"']([A-Za-z0-9][A-Za-z0-9._ -]*\.csv)[\"']")


@dataclass(frozen=True)
class Look:
    """A build file as it stands on disk, and what came of it.

    ``checked`` is the last that could be assessed: where ``problems`` says what is wrong with the
    file as it is now, it is stale, or None where there never was one. ``saved`` is the revision
    that changes are shown against, ``before`` the car of it; while none is saved, it is number 0,
    `AS_OPENED`. ``mark`` is another one as soon as the file, a table beside it or a part of the
    shop's own is. ``can_restore`` tells whether the last text that could be assessed may be put in
    the place of a broken one.
    """

    file: str
    text: str
    hash: str
    checked: Checked | None
    problems: tuple[Problem, ...]
    saved: Saved | None
    before: Checked | None
    can_undo: bool
    can_redo: bool
    mark: str = ""
    can_restore: bool = False

    @property
    def is_stale(self) -> bool:
        """Tell whether what is shown is not of the file as it stands."""
        return bool(self.problems)

    @property
    def is_readable(self) -> bool:
        """Tell whether ``text`` is what stands on disk."""
        return self.mark != UNREADABLE


@dataclass(frozen=True)
class Changed:
    """What became of a change: the file now, and why not, where it was not made."""

    look: Look
    problems: tuple[Problem, ...] = ()
    conflict: Conflict | None = None


class Desk:
    """One build file being worked on; every method may be called from several threads.

    A file that cannot be assessed as it stands on disk is never written over, but by `restore` and
    by a `replace_text` that says so; what it said can then be brought back by `undo`.
    """

    def __init__(self, path: Path, catalogue: Catalogue, today: Callable[[], date]) -> None:
        """Take a build file; nothing is read yet."""
        self.path = path
        self.catalogue = catalogue
        self.shelf = Shelf(path)
        self._today = today
        self._lock = threading.RLock()
        self._undo: list[str] = []
        self._redo: list[str] = []
        self._seen: dict[str, str] = {}
        self._assessed: dict[tuple[str, date, Stamp], Checked] = {}
        self._text: str | None = None  # the last read or written
        self._good: tuple[str, Checked] | None = None  # the last that could be assessed
        self._opened: tuple[Saved, str] | None = None  # the first that could be assessed

    def look(self) -> Look:
        """Return the file as it stands on disk, read anew where it was changed there."""
        with self._lock:
            return self._looked()

    def mark(self) -> str:
        """Return the mark of the file as it stands, quickly: nothing is assessed."""
        try:
            return self._mark(self._read())
        except InputError:
            return UNREADABLE

    def change(
        self, entries: Mapping[str, str | None], based_on: str, *, is_forced: bool = False
    ) -> Changed:
        """Change entries by their paths and write the file; None takes an entry out.

        ``based_on`` is the hash of the text the person had before them: where another change was
        made to the same entry since, nothing is written and the conflict is told, unless it is
        ``is_forced``. A change after which the file would no longer load is not written either.
        """
        with self._lock:
            look = self._looked()
            if self._is_broken(look) or self._text is None:
                return Changed(look, (self._broken(next(iter(entries), "")),))
            wanted = entries if is_forced else self._merged(entries, based_on)
            if isinstance(wanted, Conflict):
                return Changed(look, (), wanted)
            text = self._text
            try:
                for path, typed in wanted.items():
                    text = edit(text, path, typed)
                self._checked(text)
            except InputError as error:
                return Changed(look, tuple(_at(each, wanted) for each in error.problems))
            return self._put(look, text)

    def replace_text(
        self, text: str, based_on: str | None = None, *, is_over_broken: bool = False
    ) -> Changed:
        """Put another text in the file's place, one that loads; it can be undone.

        Where ``based_on`` is given, nothing is written if the file has another hash by now. A
        broken file is written over only where that is what the person said.
        """
        with self._lock:
            look = self._looked()
            if self._is_broken(look) and not is_over_broken:
                return Changed(look, (self._broken(),))
            if based_on is not None and based_on != look.hash:
                return Changed(look, (self._moved("nothing was written"),))
            try:
                self._checked(text)
            except InputError as error:
                return Changed(look, error.problems)
            return self._put(look, text)

    def restore(self, based_on: str | None = None) -> Changed:
        """Put the last text that could be assessed in the place of a broken or a lost file.

        What the file says now is the first thing `undo` brings back.
        """
        with self._lock:
            look = self._looked()
            if not look.can_restore or self._good is None:
                message = "there is nothing to put right: nothing was written"
                return Changed(look, look.problems or (Problem(self.path.name, "", message),))
            return self.replace_text(self._good[0], based_on, is_over_broken=True)

    def undo(self, based_on: str | None = None) -> Look:
        """Take the last change back, if there is one.

        ``based_on`` is the hash of the text the person had before them; where others changed the
        file since, InputError is raised and nothing undone. So it is where the file is broken.
        """
        return self._step(self._undo, self._redo, based_on)

    def redo(self, based_on: str | None = None) -> Look:
        """Make the last change taken back again, if there is one; as `undo`."""
        return self._step(self._redo, self._undo, based_on)

    def save_revision(self, name: str) -> Changed:
        """Keep the file as it stands under a name; changes are shown against it from now on."""
        with self._lock:
            look = self._looked()
            if look.checked is None or look.problems or self._text is None:
                return Changed(look, look.problems)
            self.shelf.keep(name, self._text, look.checked.assessment.revision)
            return Changed(self._looked())

    def of_revision(self, saved: Saved) -> Checked:
        """Return the car of a saved revision; raise InputError where it no longer loads."""
        text = self._text_of(saved)
        with self._lock:
            return self._checked(text)

    def _step(self, back: list[str], forth: list[str], based_on: str | None) -> Look:
        with self._lock:
            look = self._looked()
            now = self._text
            if not back or now is None:
                return look
            if self._is_broken(look):
                raise InputError(self._broken())
            is_known = based_on in (None, look.hash) or based_on in map(content_hash, forth)
            if not is_known:
                raise InputError(self._moved("nothing was taken back or made again"))
            try:
                self._written(back[-1])
            except InputError as error:
                raise self._named(error) from None
            back.pop()
            _keep(forth, now)
            return self._looked()

    def _put(self, look: Look, text: str) -> Changed:
        """Write a text over what is there, and keep that to undo."""
        now = self._text
        if text == now and not self._is_broken(look):
            return Changed(look)
        try:
            self._written(text)
        except InputError as error:
            return Changed(self._looked(), self._named(error).problems)
        if now is not None and text != now:
            _keep(self._undo, now)
            self._redo.clear()
        return Changed(self._looked())

    def _written(self, text: str) -> None:
        """Write a text over the one last read; raise InputError where it is another by now."""
        self._refuse_too_large(len(text.encode("utf-8")))
        if not self.path.exists():
            if not write_new(self.path, text):
                raise InputError(self._moved("nothing was written"))
        else:
            save(self.path, text, content_hash(self._text or ""))
        self._take(text)

    def _looked(self) -> Look:
        problems: tuple[Problem, ...] = ()
        mark, good = UNREADABLE, self._good
        try:
            text = self._read()
        except InputError as error:
            text, problems = self._text or "", error.problems
        else:
            mark = self._mark(text)
            if self._text is not None and text != self._text:
                if good is not None and good[0] == self._text:
                    _keep(self._undo, self._text)
                self._redo.clear()
            self._take(text)
            try:
                good = self._good = text, self._checked(text)
                if self._opened is None:
                    first = Saved(0, AS_OPENED, "", good[1].assessment.revision)
                    self._opened = first, text
            except InputError as error:
                problems = error.problems
        saved = self.shelf.last() or (self._opened[0] if self._opened else None)
        is_broken = bool(problems) and not self._is_last_good(text, mark)
        is_there = mark != UNREADABLE
        return Look(
            self.path.name,
            text,
            content_hash(text),
            None if good is None else good[1],
            problems,
            saved,
            None if saved is None else self._before(saved),
            bool(self._undo) and not is_broken,
            bool(self._redo) and not is_broken,
            mark,
            is_broken and good is not None and (is_there or not self.path.exists()),
        )

    def _is_broken(self, look: Look) -> bool:
        return bool(look.problems) and not self._is_last_good(look.text, look.mark)

    def _is_last_good(self, text: str, mark: str) -> bool:
        """Tell whether a text did load: then a part or a table it names is at fault, not it."""
        return mark != UNREADABLE and self._good is not None and self._good[0] == text

    def _read(self) -> str:
        """Return the file's text byte for byte; raise InputError where it can be none of a car."""
        name = self.path.name
        try:
            found = self.path.stat()
        except OSError as error:
            raise InputError(Problem(name, "", f"cannot be read: {error.strerror}")) from None
        if not S_ISREG(found.st_mode):
            # A pipe would be waited for by everyone who looks at this car.
            raise InputError(Problem(name, "", "cannot be read: it is not a file"))
        self._refuse_too_large(found.st_size)
        try:
            return read_document(self.path)[0]
        except InputError as error:
            raise self._named(error) from None

    def _refuse_too_large(self, size: int) -> None:
        if size > MAX_BYTES:
            message, allowed = "too large for a build file", "up to 2 MB"
            raise InputError(Problem(self.path.name, "", message, f"{size} bytes", allowed))

    def _named(self, error: InputError) -> InputError:
        """Return an error told under the file's name alone, not where it lies."""
        place, name = str(self.path), self.path.name
        return InputError(
            *(replace(each, file=name) if each.file == place else each for each in error.problems)
        )

    def _take(self, text: str) -> None:
        self._text = text
        key = content_hash(text)
        self._seen.pop(key, None)
        self._seen[key] = text
        while _is_too_much(self._seen.values()):
            del self._seen[next(iter(self._seen))]

    def _before(self, saved: Saved) -> Checked | None:
        try:
            return self._checked(self._text_of(saved))
        except InputError:
            return None

    def _text_of(self, saved: Saved) -> str:
        if self._opened is not None and saved == self._opened[0]:
            return self._opened[1]
        return self.shelf.text_of(saved)

    def _checked(self, text: str) -> Checked:
        today = self._today()
        key = content_hash(text), today, self._stamp(text)
        found = self._assessed.pop(key, None)
        if found is None:
            opened = self._resolved(text.removeprefix(BOM))
            found = Checked(opened, assess(opened.car, today=today))
        self._assessed[key] = found
        while len(self._assessed) > MOST_ASSESSED:
            del self._assessed[next(iter(self._assessed))]
        return found

    def _resolved(self, text: str) -> Opened:
        """Return the car of a text; its faults are told under the file's name alone."""
        try:
            build = load_text(text, str(self.path))
            car = resolve(build, self.catalogue, data_version=DATA_VERSION)
        except InputError as error:
            raise self._named(error) from None
        return Opened(self.path.name, build, car)

    def _stamp(self, text: str) -> Stamp:
        """Return the mark of the files a text may rest on: own parts, tables beside it."""
        tables = (self.path.parent / name for name in sorted(set(_TABLE_FILE.findall(text))))
        found = tuple(each for each in map(stamp_of, tables) if each is not None)
        return self.catalogue.stamp() + found

    def _mark(self, text: str) -> str:
        stamp = self._stamp(text)
        own = content_hash(text)
        return hashlib.sha256(f"{own}{stamp}".encode()).hexdigest() if stamp else own

    def _merged(
        self, entries: Mapping[str, str | None], based_on: str
    ) -> Mapping[str, str | None] | Conflict:
        base, now = self._seen.get(based_on), self._text or ""
        if base == now:
            return entries
        return merged(entries, None if base is None else raw_of(base), raw_of(now) or {})

    def _broken(self, path: str = "") -> Problem:
        message = "the file on disk cannot be assessed: it is left as it is until it is put right"
        return Problem(self.path.name, path, message)

    def _moved(self, what: str) -> Problem:
        message = f"the file was changed since this page was made; {what}: look at it again first"
        return Problem(self.path.name, "", message)


def _keep(texts: list[str], text: str) -> None:
    texts.append(text)
    while _is_too_much(texts):
        del texts[0]


def _is_too_much(texts: Collection[str]) -> bool:
    """Tell whether there are more texts than are kept, or longer ones; one always is."""
    return len(texts) > 1 and (len(texts) > MOST_KEPT or sum(map(len, texts)) > MOST_LETTERS)


def _at(problem: Problem, entries: Mapping[str, str | None]) -> Problem:
    """Return a problem at the entry that was changed where it names no other."""
    only = next(iter(entries)) if len(entries) == 1 else ""
    return problem if problem.path or not only else replace(problem, path=only)
