"""A DBC file read into rows of a build file: all of it, or every fault of it by line."""

from __future__ import annotations

import json
import logging
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from swapwright.base.errors import InputError, Problem
from swapwright.build.car import Car
from swapwright.build.circuit.model import slug
from swapwright.build.load import load_text
from swapwright.build.network import Bus, is_extended, network_of
from swapwright.jobs.text_file import plain_bytes

MAX_BYTES = 2_000_000
MOST_BYTES_OF_A_FRAME = 8
MOST_READINGS = 25
"""How often a faulty file is read again for the faults behind the first."""
LEFT_OUT = 2
"""Tries at a line after which its own statement is left out."""
NO_FURTHER = "it was read no further after so many faults: there may be more"
NO_READER = "a DBC is read with cantools, which is not installed"
HOW = "pip install 'swapwright[network]'"

_TEXT = re.compile(r'"(?:[^"\\]|\\.)*"', re.DOTALL)
_MESSAGE = re.compile(r"^BO_\s+(\d+)\s+(\w+)\s*:\s*(\d+)\s+(\w+)")
_BEGUN = re.compile(r"^BO_\s+(\d+)")
"""A message, be its line sound or not: what speaks of it is at no fault."""
_ABOUT = re.compile(
    r"^(?:(?:BA_\s+\"[^\"]*\"|CM_)\s+(?:BO_|SG_)|VAL_|SIG_VALTYPE_|BO_TX_BU_)\s+(\d+)\b"
)
_STATEMENT = re.compile(r"[A-Z][A-Z_]*\b|\s+SG_\s")
_SIGNAL = re.compile(r"\s+SG_\s")
_LINE = re.compile(r"line (\d+), column (\d+)")
_OF_MESSAGE = re.compile(r"message (\w+)")
_ROW = re.compile(r"network\.message\[(\d+)\]\.?(\w*)")
_EXTENDED = 0x80000000
_NO_FRAME = 0xC0000000
"""The number under which the format keeps signals of no message."""


@dataclass(frozen=True)
class _Row:
    """One message of a DBC: its line, and the entries of the build file that come of it."""

    line: int
    entries: dict[str, Any]
    signals: tuple[str, ...]


def rows_of_dbc(path: Path, car: Car, document: str, bus: Bus) -> str:
    """Return the messages of a DBC file as rows for a build file's text.

    They are written as the document writes its messages, as ``[[network.message]]`` tables or as
    lines of one list. Raises InputError with every fault by its line; nothing is given then.
    """
    text = _text_of(path)
    file = str(path)
    database, problems = _read(text, file)
    told = {problem.line for problem in problems}
    problems += [problem for problem in _faults(text, file) if problem.line not in told]
    rows = () if database is None else _rows(text, database, bus)
    for more in (_taken(rows, car, file, bus), _misfits(rows, file, bus)):
        told = {problem.line for problem in problems}
        problems += [problem for problem in more if problem.line not in told]
    if problems:
        raise InputError(*sorted(problems, key=lambda problem: problem.line or 0))
    is_list = re.search(r"^\s*message\s*=\s*\[", document, re.MULTILINE) is not None
    return "".join(_inline(row) if is_list else _block(row) for row in rows)


def _text_of(path: Path) -> str:
    """Return a DBC's text; its writers use UTF-8 or the Western code page."""
    try:
        data = plain_bytes(path, MAX_BYTES)
    except OSError as error:
        raise InputError(Problem(str(path), "", f"cannot be read: {error.strerror}")) from None
    with suppress(UnicodeDecodeError):
        return data.decode("utf-8-sig")
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError:
        raise InputError(Problem(str(path), "", "not a text file")) from None


def _bare(text: str) -> list[str]:
    """Return the lines with the inside of every quoted text blanked out, line ends kept."""

    def blank(found: re.Match[str]) -> str:
        return '"' + re.sub(r"[^\n]", " ", found[0][1:-1]) + '"'

    return _TEXT.sub(blank, text).split("\n")


def _frames(text: str) -> Iterator[tuple[int, int, str, int]]:
    """Yield line, number, name and length of every message as it is written."""
    for number, line in enumerate(_bare(text), start=1):
        found = _MESSAGE.match(line)
        if found and int(found[1]) != _NO_FRAME:
            yield number, int(found[1]), found[2], int(found[3])


def _faults(text: str, file: str) -> Iterator[Problem]:
    """Yield what the reader of the format lets pass."""
    numbers: dict[int, str] = {}
    names: set[str] = set()
    for line, number, name, size in _frames(text):
        if number in numbers:
            message = f"another message has this identifier: {numbers[number]}"
            yield Problem(file, name, message, given=f"{number}", line=line)
        elif name in names:
            yield Problem(file, name, "another message has this name", given=name, line=line)
        if size > MOST_BYTES_OF_A_FRAME:
            message = "more than one classical frame holds; no other frame is covered"
            yield Problem(file, name, message, allowed="0 to 8", line=line)
        numbers.setdefault(number, name)
        names.add(name)
    lines = _bare(text)
    begun = {int(found[1]) for content in lines if (found := _BEGUN.match(content))}
    for line, content in enumerate(lines, start=1):
        about = _ABOUT.match(content)
        if about and int(about[1]) not in begun and int(about[1]) != _NO_FRAME:
            message = "it speaks of a message there is none of"
            yield Problem(file, "", message, allowed="the number of a BO_ line", line=line)


def _read(text: str, file: str) -> tuple[Any, list[Problem]]:
    """Return the database of a DBC's text, None where none comes of it, and every fault met.

    The reader of the format stops at the first fault; what it stumbles over is left out, and the
    rest read again, so that the faults behind it are told too.
    """
    try:
        import cantools
    except ImportError:
        raise InputError(Problem(file, "", NO_READER, allowed=HOW)) from None
    # It logs, on standard error, what is told here by line.
    logging.getLogger("cantools").addHandler(logging.NullHandler())
    problems: list[Problem] = []
    left, tries = text, Counter[int]()
    for _ in range(MOST_READINGS):
        try:
            return cantools.database.load_string(left, "dbc", strict=True), problems
        except cantools.Error as error:
            said = str(error).removeprefix("DBC: ").strip('"')
        problem, column = _told(left, file, said)
        line = problem.line or 1
        if not tries[line] and not _is_defined(text, said):
            problems.append(problem)
        shorter = _without(left, line, tries[line] if column == 1 else LEFT_OUT)
        tries[line] += 1
        if shorter == left:
            return None, problems
        left = shorter
    problems.append(Problem(file, "", NO_FURTHER, line=text.count("\n") + 1))
    return None, problems


def _is_defined(text: str, said: str) -> bool:
    """Tell whether a fault is that an attribute is not known whose own definition is at fault."""
    word = re.escape(said.strip("'"))
    return re.search(rf'^BA_DEF_\s[^;]*"{word}"', text, re.MULTILINE) is not None


def _without(text: str, line: int, tried: int) -> str:
    """Return a DBC's text less the statement a line belongs to, every other line where it was.

    A message goes with its signals. A fault at the very beginning of a statement may be that the
    one before does not end: ``tried`` 0 ends that one, 1 leaves it out, more the line's own.
    """
    lines = text.split("\n")
    starts = [number for number, content in enumerate(_bare(text)) if _STATEMENT.match(content)]
    before = [number for number in starts if number < (line if tried >= LEFT_OUT else line - 1)]
    start = before[-1] if before else min(line, len(lines)) - 1
    is_message = lines[start].startswith("BO_ ")
    ends = (n for n in starts if n > start and not (is_message and _SIGNAL.match(lines[n])))
    own = range(start, next(ends, len(lines)))
    if tried == 0:
        last = max((number for number in own if lines[number].strip()), default=start)
        lines[last] += ";"
        return "\n".join(lines)
    for number in own:
        lines[number] = ""
    return "\n".join(lines)


def _told(text: str, file: str, said: str) -> tuple[Problem, int]:
    """Return what the reader of the format says, with the line it means, and the column or 0."""
    place, about = _LINE.search(said), _OF_MESSAGE.search(said)
    if place is not None:
        line = int(place[1])
        given = text.split("\n")[line - 1].strip() if line <= text.count("\n") + 1 else ""
        message = f"no DBC from column {place[2]} on"
        return Problem(file, "", message, given[:60], line=line), int(place[2])
    lines = {name: line for line, _, name, _ in _frames(text)}
    line_of = lines.get(about[1]) if about is not None else None
    if line_of is None:
        line_of = _line_with(text, said.strip("'"))
    name = about[1] if about else ""
    return Problem(file, name, f"no sound DBC: {said}", line=line_of), 0


def _line_with(text: str, word: str) -> int | None:
    """Return the first line a word stands on, else the last line there is."""
    lines = text.split("\n")
    return next((n for n, line in enumerate(lines, start=1) if word and word in line), len(lines))


def _rows(text: str, database: Any, bus: Bus) -> Sequence[_Row]:
    lines = {number: line for line, number, _, _ in _frames(text)}
    nodes = {slug(node): node for node in bus.nodes}
    rows = []
    for message in database.messages:
        entries: dict[str, Any] = {"name": message.name, "bus": bus.name}
        if message.senders:
            entries["sender"] = nodes.get(slug(message.senders[0]), message.senders[0])
        entries["identifier"] = message.frame_id
        if message.is_extended_frame:
            entries["extended"] = True
        entries["bytes"] = message.length
        if message.cycle_time:
            entries["period"] = f"{message.cycle_time} ms"
        signals = tuple(signal.name for signal in message.signals)
        number = message.frame_id | (_EXTENDED if message.is_extended_frame else 0)
        rows.append(_Row(lines.get(number, 1), entries, signals))
    return sorted(rows, key=lambda row: row.line)


def _taken(rows: Sequence[_Row], car: Car, file: str, bus: Bus) -> Iterator[Problem]:
    """Yield a problem for every message whose name or identifier the build file has already."""
    network = network_of(car)
    names = {message.name for message in network.messages}
    numbers = {
        (int(value.si), is_extended(car, message)): message.name
        for message in network.on(bus)
        if (value := car.get(f"{message.path}.identifier")) is not None
    }
    for row in rows:
        name = row.entries["name"]
        key = (row.entries["identifier"], row.entries.get("extended", False))
        if name in names:
            yield Problem(file, name, "the build file has a message of this name", line=row.line)
        elif key in numbers:
            message = f"the build file has this identifier on this bus: {numbers[key]}"
            yield Problem(file, name, message, given=f"0x{key[0]:X}", line=row.line)


def _misfits(rows: Sequence[_Row], file: str, bus: Bus) -> Iterator[Problem]:
    """Yield a problem for every row a build file would not take, at the line of the DBC."""
    head = f"format = 1\n[[network.bus]]\nname = {_written(bus.name)}\n"
    try:
        load_text(head + "".join(map(_block, rows)), file)
    except InputError as error:
        for problem in error.problems:
            found = _ROW.match(problem.path)
            row = rows[int(found[1])] if found else rows[0]
            key = found[2] if found else problem.path
            at = f"{row.entries['name']}.{key}" if key else row.entries["name"]
            yield Problem(
                file, at, problem.message, problem.given, problem.allowed, "", line=row.line
            )


def _written(value: Any) -> str:
    """Return a value as TOML has it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value) if isinstance(value, int) else json.dumps(value, ensure_ascii=False)


def _entry(key: str, value: Any) -> str:
    return f"0x{value:X}" if key == "identifier" else _written(value)


def _block(row: _Row) -> str:
    width = max(map(len, row.entries))
    lines = [f"{key.ljust(width)} = {_entry(key, value)}" for key, value in row.entries.items()]
    return "\n".join(("[[network.message]]", *_signals(row), *lines, "", ""))


def _inline(row: _Row) -> str:
    entries = ", ".join(f"{key} = {_entry(key, value)}" for key, value in row.entries.items())
    notes = "".join(f"  {note}\n" for note in _signals(row))
    return f"{notes}  {{ {entries} }},\n"


def _signals(row: _Row) -> tuple[str, ...]:
    """Return a comment with what the DBC says stands in the message; carries is for a person."""
    return (f"# signals: {', '.join(row.signals)}",) if row.signals else ()
