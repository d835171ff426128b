"""Load a build file: from bytes on disk to a Build, or every problem in it at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from swapwright.base.csv_table import with_csv_tables
from swapwright.base.errors import InputError, Problem
from swapwright.base.nearest import nearest
from swapwright.build.agreement import note_disagreements
from swapwright.build.entries import read_entries, shown
from swapwright.build.lines import line_at, lines_of
from swapwright.build.written import Build

MAX_BYTES = 2_000_000
MAX_NESTING = 12
MAX_ELEMENTS = 500

Upgrade = Callable[[dict[str, Any]], dict[str, Any]]

# UPGRADES[n - 1] turns a file of format n into one of format n + 1.
UPGRADES: tuple[Upgrade, ...] = ()
FORMAT = len(UPGRADES) + 1

LONGEST_SHOWN = 60
LONGEST_GUESSED = 200
"""Signs of a line beyond which no guess is made at what was meant by it."""
MOST_STEPS = 200
"""Dots in one name of a file: more are nobody's, and take long to read."""
_BARE = re.compile(r"([\w.-]+)\s*=\s*([^=\s\"'\[{#][^\"'#=]*?)\s*(?:#.*)?")
_PLAIN_NUMBER = re.compile(r"(-?\d*)[.,](\d+)")
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


def load(path: Path) -> Build:
    """Read and check a build file.

    ``path`` is the file as the person named it. Raises InputError with every problem found, in
    the order of the lines.
    """
    file = str(path)
    try:
        return load_text(_decode(_bytes_of(path), file), file, folder=path.parent)
    except OSError as error:
        raise InputError(Problem(file, "", f"cannot be read: {error.strerror}")) from None


def load_text(text: str, file: str, *, folder: Path | None = None) -> Build:
    """Read and check the text of a build file.

    ``file`` is the name problems are reported under, ``folder`` where tables kept in CSV files are
    looked for (by default beside that file). Raises InputError with every problem found,
    in the order of the lines.
    """
    raw = upgraded(_parse(text, file), file)
    _refuse_oversize(raw, text, file)
    raw, faults = with_csv_tables(raw, Path(file).parent if folder is None else folder)
    found = read_entries(raw, file)
    for at, error in faults:
        found.fault(at, error.message, allowed=error.allowed)
    note_disagreements(found)
    if found.problems:
        raise InputError(*in_line_order(found.problems, lines_of(text)))
    return Build(
        file=file,
        text=text,
        raw=raw,
        entries=MappingProxyType(found.entries),
        parts=MappingProxyType(found.parts),
        counts=MappingProxyType(found.counts),
    )


def in_line_order(problems: list[Problem], lines: Mapping[str, int]) -> list[Problem]:
    """Return problems with their lines filled in from their paths, sorted by line."""
    placed = [
        problem if problem.line else replace(problem, line=line_at(lines, problem.path))
        for problem in problems
    ]
    return sorted(placed, key=lambda problem: (problem.line or 0, problem.path))


def upgraded(
    raw: dict[str, Any], file: str, upgrades: tuple[Upgrade, ...] = UPGRADES
) -> dict[str, Any]:
    """Return the content in today's format, whatever older format it was written in.

    Raises InputError where the format is missing, not a whole number, or newer than today's.
    """
    today = len(upgrades) + 1
    say = f"format = {today}"
    if "format" not in raw:
        raise InputError(Problem(file, "format", f"the file does not say its format; say {say}"))
    given = raw["format"]
    if isinstance(given, bool) or not isinstance(given, int) or given < 1:
        raise InputError(
            Problem(file, "format", "not a format", given=shown(given)[:60], allowed=say)
        )
    if given > today:
        raise InputError(
            Problem(
                file,
                "format",
                f"format {shown(given)} is newer than this release reads; get a newer one",
                given=f"format = {shown(given)}",
                allowed=say,
            )
        )
    for upgrade in upgrades[given - 1 :]:
        raw = upgrade(raw)
    return raw


def _bytes_of(path: Path) -> bytes:
    file = str(path)
    if not path.exists():
        near = nearest(path.name, [entry.name for entry in _neighbours(path)])
        raise InputError(Problem(file, "", "there is no such file", nearest=near))
    if not path.is_file():
        raise InputError(Problem(file, "", "not a file", allowed="a build file (*.toml)"))
    size = path.stat().st_size
    if size > MAX_BYTES:
        raise InputError(
            Problem(
                file, "", "too large for a build file", given=f"{size} bytes", allowed="up to 2 MB"
            )
        )
    return path.read_bytes()


def _neighbours(path: Path) -> list[Path]:
    return sorted(path.parent.glob("*.toml")) if path.parent.is_dir() else []


def _decode(data: bytes, file: str) -> str:
    not_text = InputError(Problem(file, "", "not a text file", allowed="TOML text in UTF-8"))
    if b"\0" in data:
        raise not_text
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise not_text from None


def _parse(text: str, file: str) -> dict[str, Any]:
    for number, line in enumerate(text.splitlines(), start=1):
        if _has_many_steps(line):
            raise InputError(replace(_too_deep(file, ""), line=number))
    try:
        raw = tomllib.loads(text)
    except RecursionError:
        raise InputError(_too_deep(file, "")) from None
    except ValueError as error:  # TOMLDecodeError, or a number with thousands of digits
        said = str(error)
        where = _AT_LINE.search(said)
        last = text.count("\n") + 1
        at = (int(where[1]) if where[1] else last) if where else None
        message = f"not sound TOML: {_AT_LINE.sub('', said)}"
        raise InputError(_unsound(text, file, message, at)) from None
    if not raw:
        raise InputError(Problem(file, "", "the file is empty", allowed="start with: format = 1"))
    return raw


def _has_many_steps(line: str) -> bool:
    """Tell whether a line begins with a name of very many steps; rows of numbers have commas."""
    name = line.partition("=")[0]
    return name.count(".") > MOST_STEPS and "," not in name


def _unsound(text: str, file: str, message: str, line: int | None) -> Problem:
    """Return the problem of a text that is no TOML, with the line it stumbles over."""
    lines = text.splitlines()
    written = lines[line - 1].strip() if line and line <= len(lines) else ""
    bare = _BARE.fullmatch(written) if len(written) <= LONGEST_GUESSED else None
    allowed = "values with units and words in double quotes"
    if "overwrite" in message or "already" in message or "twice" in message:
        message, allowed = "not sound TOML: this is said twice", "each key and each [section] once"
    elif written.count("{") > written.count("}"):
        allowed = "a table in { } on one line, however long, or its keys under a [header]"
    return Problem(
        file,
        "",
        message,
        given=written if len(written) <= LONGEST_SHOWN else f"{written[: LONGEST_SHOWN - 3]}...",
        allowed=allowed,
        nearest=_quoted(bare[1], bare[2]) if bare else "",
        line=line,
    )


def _quoted(key: str, value: str) -> str:
    """Return an entry as TOML takes it: a plain number with a point, anything else in quotes."""
    number = _PLAIN_NUMBER.fullmatch(value)
    return f"{key} = {number[1] or 0}.{number[2]}" if number else f'{key} = "{value}"'


def _too_deep(file: str, path: str) -> Problem:
    return Problem(file, path, "nested too deep", allowed=f"up to {MAX_NESTING} levels")


def _refuse_oversize(raw: dict[str, Any], text: str, file: str) -> None:
    problems = list(_oversize(raw, file))
    if problems:
        raise InputError(*in_line_order(problems, lines_of(text)))


def _oversize(raw: dict[str, Any], file: str) -> Iterator[Problem]:
    waiting: list[tuple[str, Any, int]] = [("", raw, 0)]
    while waiting:
        path, content, depth = waiting.pop()
        if isinstance(content, dict):
            below = [(f"{path}.{key}" if path else key, item) for key, item in content.items()]
        elif isinstance(content, list):
            below = [(f"{path}[{number}]", item) for number, item in enumerate(content)]
        else:
            continue
        if depth > MAX_NESTING:
            yield _too_deep(file, path[:80])
        elif len(below) > MAX_ELEMENTS:
            yield Problem(
                file,
                path[:80],
                "too long a list",
                given=f"{len(below)} elements",
                allowed=f"up to {MAX_ELEMENTS}",
            )
        else:
            waiting.extend((at, item, depth + 1) for at, item in below)
