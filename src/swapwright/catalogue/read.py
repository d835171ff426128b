"""Parts as typed values: one part from its raw table, and the folders the parts stand in."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from swapwright.base.csv_table import with_csv_tables
from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.field import Field
from swapwright.base.figure import Value
from swapwright.base.nearest import nearest
from swapwright.base.reading import Read, read
from swapwright.base.table import Line, Map
from swapwright.catalogue.agreement import disagreements
from swapwright.catalogue.fields import PART_FIELDS

BUILT_IN = Path(__file__).with_name("parts")
LARGEST_FILE = 2_000_000  # bytes

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_TABLE = re.compile(r"\s*\[\s*([A-Za-z0-9_.-]+)\s*\]")
_KEY = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=")

LineOf = Callable[[str], int | None]
Trail = tuple[tuple[str, str], ...]
Stamp = tuple[tuple[str, int, int], ...]
"""Files by their path, the time they were changed and their size."""


@dataclass(frozen=True)
class Part:
    """One part, SI inside, by the keys of its kind's Field rows.

    A nested part (a module's cell) is flattened: ``values["cell.capacity"]``, and its own name
    stands in ``parts["cell"]``. ``numbers`` and ``words`` are its lists. ``file`` is where it was
    read.
    """

    kind: str
    name: str
    values: Mapping[str, Value]
    texts: Mapping[str, str]
    flags: Mapping[str, bool]
    numbers: Mapping[str, tuple[Value, ...]]
    words: Mapping[str, tuple[str, ...]]
    tables: Mapping[str, Line | Map]
    parts: Mapping[str, str]
    file: str


def is_part_name(name: str) -> bool:
    """Tell whether a text may name a part: lower-case letters and digits, single dashes between."""
    return len(name) <= 100 and _NAME.fullmatch(name) is not None


def stamp_of(file: Path) -> tuple[str, int, int] | None:
    """Return the mark of one file, None where there is none."""
    try:
        found = file.stat()
    except OSError:
        return None
    return str(file), found.st_mtime_ns, found.st_size


class Catalogue:
    """The parts there are: a shop's own folders first (the last given wins), then the built-in.

    Each part is one file, ``<folder>/<kind>/<name>.toml``, read when it is asked for and then kept.
    """

    def __init__(self, folders: tuple[Path, ...] = ()) -> None:
        """Take the shop's own folders; raise InputError where one is not there."""
        missing = [str(folder) for folder in folders if not folder.is_dir()]
        if missing:
            raise InputError(
                *(Problem(folder, "", "there is no such folder of parts") for folder in missing)
            )
        self._folders = (*reversed(folders), BUILT_IN)
        self._parts: dict[tuple[str, str], Part] = {}
        self._stamp: Stamp = ()

    def stamp(self) -> Stamp:
        """Return a mark of the files in the shop's own folders; where one changed, it is another.

        Parts read before the change are forgotten, and read anew when they are asked for.
        """
        kinds = (folder / kind for folder in self._folders[:-1] for kind in PART_FIELDS)
        files = sorted(file for folder in kinds for file in folder.glob("*.*"))
        stamp = tuple(each for each in map(stamp_of, files) if each is not None)
        if stamp != self._stamp:
            self._stamp, self._parts = stamp, {}
        return stamp

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of all parts of a kind, in alphabetical order."""
        if kind not in PART_FIELDS:
            return ()
        files = (file for folder in self._folders for file in (folder / kind).glob("*.toml"))
        return tuple(sorted({file.stem for file in files if is_part_name(file.stem)}))

    def get(self, kind: str, name: str) -> Part:
        """Return a part by kind and name.

        Raises InputError with the nearest name where there is none, and with every problem of its
        file where that is faulty.
        """
        return self._get(kind, name, ())

    def has(self, kind: str, name: str) -> bool:
        """Tell whether there is a part of this kind and name."""
        return self._file(kind, name) is not None

    def _file(self, kind: str, name: str) -> Path | None:
        if kind not in PART_FIELDS or not is_part_name(name):
            return None
        files = (folder / kind / f"{name}.toml" for folder in self._folders)
        return next((file for file in files if file.is_file()), None)

    def _get(self, kind: str, name: str, trail: Trail) -> Part:
        kept = self._parts
        known = kept.get((kind, name))
        if known is not None:
            return known
        file = self._file(kind, name)
        if file is None:
            raise InputError(_no_such_part(self, kind, name, Problem("catalogue", kind, "")))
        shown = f"{kind}/{file.name}" if file.is_relative_to(BUILT_IN) else str(file)
        text = _text_of(file, shown)
        lines = _lines_of(text)
        raw, faults = with_csv_tables(_raw_of(text, shown), file.parent)
        trail = (*trail, (kind, name))
        part, problems = read_part(
            kind, name, raw, file=shown, catalogue=self, line_of=lines.get, trail=trail
        )
        unread = tuple(
            Problem(shown, at, error.message, "", error.allowed, "", lines.get(at))
            for at, error in faults
        )
        if part is None or unread:
            raise InputError(*unread, *problems)
        kept[kind, name] = part
        return part


def read_part(
    kind: str,
    name: str,
    raw: Mapping[str, object],
    *,
    file: str,
    catalogue: Catalogue,
    line_of: LineOf = lambda path: None,
    trail: Trail = (),
) -> tuple[Part | None, tuple[Problem, ...]]:
    """Return the part a raw TOML table says, or None and every problem of it.

    ``raw`` may start from another part (``part = "other-name"``) and then say only what differs.
    ``file`` and ``line_of`` place the problems; ``trail`` is the parts that led to this one, itself
    last. The values are traced to kind and name.
    """
    return _Reading(kind, name, f"{kind}/{name}", file, catalogue, "", line_of, trail).part(raw)


@dataclass
class _Draft:
    """A part being put together; what is put later replaces what was there."""

    values: dict[str, Value] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    flags: dict[str, bool] = field(default_factory=dict)
    numbers: dict[str, tuple[Value, ...]] = field(default_factory=dict)
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)
    tables: dict[str, Line | Map] = field(default_factory=dict)
    parts: dict[str, str] = field(default_factory=dict)

    def put(self, key: str, entry: Read) -> None:
        if isinstance(entry, Value):
            self.values[key] = entry
        elif isinstance(entry, bool):
            self.flags[key] = entry
        elif isinstance(entry, Line | Map):
            self.tables[key] = entry
        elif isinstance(entry, tuple):
            self._put_list(key, entry)
        else:
            self.texts[key] = str(entry)

    def _put_list(self, key: str, entry: tuple[Value, ...] | tuple[str, ...]) -> None:
        words = tuple(item for item in entry if isinstance(item, str))
        if words:
            self.words[key] = words
        else:
            self.numbers[key] = tuple(item for item in entry if isinstance(item, Value))

    def put_all(self, part: Part, prefix: str = "") -> None:
        pairs: tuple[tuple[dict[str, Any], Mapping[str, Any]], ...] = (
            (self.values, part.values),
            (self.texts, part.texts),
            (self.flags, part.flags),
            (self.numbers, part.numbers),
            (self.words, part.words),
            (self.tables, part.tables),
            (self.parts, part.parts),
        )
        for into, entries in pairs:
            into.update({prefix + key: entry for key, entry in entries.items()})

    def put_nested(self, key: str, part: Part) -> None:
        self.put_all(part, f"{key}.")
        self.parts[key] = part.name

    def has(self, key: str) -> bool:
        holders = (
            self.values,
            self.texts,
            self.flags,
            self.numbers,
            self.words,
            self.tables,
            self.parts,
        )
        return any(key in holder for holder in holders)

    def finished(self, kind: str, name: str, file: str) -> Part:
        return Part(
            kind=kind,
            name=name,
            values=MappingProxyType(self.values),
            texts=MappingProxyType(self.texts),
            flags=MappingProxyType(self.flags),
            numbers=MappingProxyType(self.numbers),
            words=MappingProxyType(self.words),
            tables=MappingProxyType(self.tables),
            parts=MappingProxyType(self.parts),
            file=file,
        )


@dataclass(frozen=True)
class _Reading:
    """One part being read: what it is, where it stands, and which parts led to it.

    ``owner`` is the part whose sheet says it: a module's own changes to its cell are the module's.
    """

    kind: str
    name: str
    owner: str
    file: str
    catalogue: Catalogue
    path: str
    line_of: LineOf
    trail: Trail

    def part(self, raw: Mapping[str, object]) -> tuple[Part | None, tuple[Problem, ...]]:
        """Return the part, or None and its problems in the order of their lines."""
        rows = {row.path: row for row in PART_FIELDS[self.kind]}
        draft = _Draft()
        problems: list[Problem] = []
        if "part" in raw:
            base, faults = self._named("part", self.kind, raw["part"])
            problems.extend(faults)
            if base is not None:
                draft.put_all(base)
        for key, given in raw.items():
            if key != "part":
                problems.extend(self._take(draft, rows, key, given))
        if not problems or "part" not in raw:
            problems.extend(self._missing(draft, raw, rows.values()))
        if not problems:
            problems.extend(
                self._problem(key, message, allowed=allowed)
                for key, message, allowed in disagreements(
                    self.kind, draft.values, draft.numbers, draft.tables
                )
            )
        if problems:
            return None, tuple(sorted(problems, key=lambda problem: problem.line or 0))
        return draft.finished(self.kind, self.name, self.file), ()

    def _take(
        self, draft: _Draft, rows: Mapping[str, Field], key: str, given: object
    ) -> tuple[Problem, ...]:
        """Put one key's entry into the draft; return what is wrong with it."""
        row = rows.get(key)
        if row is None:
            close = nearest(key, (*rows, "part"))
            return (self._problem(key, f"no {self.kind} has such an entry", key, nearest_is=close),)
        if row.kind.startswith("part:"):
            return self._take_nested(draft, key, row.kind.removeprefix("part:"), given)
        try:
            draft.put(key, read(row, given, ref=self.owner, origin="part"))
        except UnitError as error:
            return (self._problem(key, error.message, given, error.allowed, error.nearest),)
        return ()

    def _take_nested(
        self, draft: _Draft, key: str, kind: str, given: object
    ) -> tuple[Problem, ...]:
        """Put a nested part into the draft: a name, a part in full, or changes to the one there."""
        if not isinstance(given, Mapping):
            part, problems = self._named(key, kind, given)
        else:
            raw = dict(given)
            if "part" not in raw and key in draft.parts:
                raw["part"] = draft.parts[key]
            name = raw.get("part") if isinstance(raw.get("part"), str) else f"{self.name}-{key}"
            part, problems = _Reading(
                kind,
                str(name),
                self.owner,
                self.file,
                self.catalogue,
                self._at(key),
                self.line_of,
                self.trail,
            ).part(raw)
        if part is not None:
            draft.put_nested(key, part)
        return problems

    def _named(self, key: str, kind: str, given: object) -> tuple[Part | None, tuple[Problem, ...]]:
        """Return the part of the catalogue that a key names."""
        if not isinstance(given, str):
            return None, (
                self._problem(key, "this does not name a part", given, "a name in quotes"),
            )
        if not self.catalogue.has(kind, given):
            return None, (_no_such_part(self.catalogue, kind, given, self._problem(key, "")),)
        if (kind, given) in self.trail:
            return None, (self._problem(key, f"{given!r} starts from itself", given),)
        try:
            return self.catalogue._get(kind, given, self.trail), ()
        except InputError as error:
            return None, error.problems

    def _missing(
        self, draft: _Draft, raw: Mapping[str, object], rows: Iterable[Field]
    ) -> Iterable[Problem]:
        for row in rows:
            if row.required and not draft.has(row.path) and row.path not in raw:
                yield self._problem(row.path, f"missing: {row.label}")

    def _at(self, key: str) -> str:
        return f"{self.path}.{key}" if self.path else key

    def _problem(
        self, key: str, message: str, given: object = "", allowed: str = "", nearest_is: str = ""
    ) -> Problem:
        path = self._at(key)
        return Problem(
            self.file, path, message, _short(given), allowed, nearest_is, self.line_of(path)
        )


def _no_such_part(catalogue: Catalogue, kind: str, name: str, place: Problem) -> Problem:
    """Return the problem of a name the catalogue does not have, at the place it was given."""
    if kind not in PART_FIELDS:
        message, among = f"there is no kind of part called {kind!r}", tuple(PART_FIELDS)
        close = nearest(kind, among)
    else:
        message, among = f"there is no {kind} called {_short(name)!r}", catalogue.names(kind)
        close = nearest(name, among)
    return Problem(
        place.file, place.path, message, _short(name), ", ".join(among), close, place.line
    )


def _text_of(file: Path, shown: str) -> str:
    try:
        if file.stat().st_size > LARGEST_FILE:
            raise InputError(Problem(shown, "", "the file is too big", allowed="at most 2 MB"))
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise InputError(Problem(shown, "", "the file is not UTF-8 text")) from None
    except OSError as error:
        raise InputError(Problem(shown, "", f"the file cannot be read: {error.strerror}")) from None


def _raw_of(text: str, shown: str) -> Mapping[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"at line (\d+)", str(error))
        message = f"this is not TOML: {error}"
        raise InputError(Problem(shown, "", message, line=int(line[1]) if line else None)) from None
    except RecursionError:
        raise InputError(Problem(shown, "", "the file is nested too deep")) from None


def _lines_of(text: str) -> dict[str, int]:
    """Return the line each key and table of a part's file first stands on."""
    lines: dict[str, int] = {}
    table = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _TABLE.match(line):
            table = f"{header[1]}."
            lines.setdefault(header[1], number)
        elif key := _KEY.match(line):
            lines.setdefault(table + key[1], number)
    return lines


def _short(given: object) -> str:
    text = given if isinstance(given, str) else repr(given)
    return text if len(text) <= 60 else f"{text[:57]}..."
