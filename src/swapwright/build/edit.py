"""Change one value of a build file, keeping every other byte; save without losing work."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import shutil
import sys
import tempfile
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from itertools import pairwise
from pathlib import Path
from typing import Any

from swapwright.base.errors import InputError, Problem
from swapwright.base.quantity import KINDS
from swapwright.build.lines import lines_of
from swapwright.build.near import near_key
from swapwright.build.shape import SHAPE, Node, PartPlace, Rows, Section

Step = str | int

_BOM = "\ufeff"
_PATH = re.compile(r"[A-Za-z0-9_-]+(?:\[[0-9]{1,4}\])?(?:\.[A-Za-z0-9_-]+(?:\[[0-9]{1,4}\])?)*")
_STEP = re.compile(r"[A-Za-z0-9_-]+|\[[0-9]+\]")
_ON_A_LINE = r'"(?:[^"\\]|\\.)*"(?!")|[+-]?[0-9][\w.+-]*|true|false'
"""A text, a number or a flag that ends on the line it begins on."""
_NUMBER = re.compile(r"[+-]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def edit(document: str, path: str, text: str | None) -> str:
    """Return a build file's text with one value changed, added, or taken out.

    ``path`` is dotted, rows numbered from 0 (``mass[2].x``; one past the last row adds a row);
    ``text`` is what a person typed (``300 A``, ``2``, ``[2, 3]``, ``true``), None takes the value
    out. A value typed for a part given by name turns the name into that part with an override.
    Raises InputError where the path is not one of a build file, there is nothing to take out, the
    document is not sound TOML, or the change cannot be made without touching something else.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    steps = _steps(path)
    node = _node_at(steps, path)
    mark, body = (_BOM, document[1:]) if document.startswith(_BOM) else ("", document)
    try:
        item = None if text is None else _item(node, text, path)
        spliced = None if item is None else _spliced(body, steps, item, path)
        if spliced is not None:
            return mark + spliced
        expected = tomllib.loads(body)
        tree = tomlkit.parse(body)
        if item is None:
            _take_out(tree, steps, path)
            _take_out(expected, steps, path)
        else:
            _put(tree, steps, item, path, _new_in_document)
            _put(expected, steps, item.unwrap(), path, _new_plain)
        changed: str = tomlkit.dumps(tree)
        is_sound = _canonical(tomllib.loads(changed)) == _canonical(expected)
    except (TOMLKitError, ValueError) as error:
        raise _refusal(path, f"cannot be changed: {error}", text) from None
    if not is_sound:
        raise _refusal(
            path, "cannot be changed without touching other lines; edit it by hand", text
        )
    return mark + changed


def _spliced(body: str, steps: list[Step], item: Any, path: str) -> str | None:
    """Return the text with one value exchanged on the line it stands on; None where it does not.

    The usual change, several times as quick as taking the whole document apart. It holds only if
    what it says then is exactly what was asked for, and nothing else has moved.
    """
    number, key = lines_of(body).get(path), steps[-1]
    if number is None or not isinstance(key, str):
        return None
    lines = body.split("\n")
    line = lines[number - 1]
    found = list(re.finditer(rf"(?<![\w.-]){re.escape(key)}\s*=\s*({_ON_A_LINE})", line))
    if len(found) != 1:
        return None
    start, end = found[0].span(1)
    lines[number - 1] = line[:start] + str(item.as_string()) + line[end:]
    changed = "\n".join(lines)
    try:
        expected = tomllib.loads(body)
        _put(expected, steps, item.unwrap(), path, _new_plain)
        is_sound = _canonical(tomllib.loads(changed)) == _canonical(expected)
    except (InputError, ValueError, TypeError):
        return None
    return changed if is_sound else None


def read_document(path: Path) -> tuple[str, str]:
    """Return a file's text, byte for byte, and its content hash for `save`.

    Raises InputError where the file cannot be read as text.
    """
    try:
        data = path.read_bytes()
        return data.decode("utf-8"), hashlib.sha256(data).hexdigest()
    except OSError as error:
        raise InputError(Problem(str(path), "", f"cannot be read: {error.strerror}")) from None
    except UnicodeDecodeError:
        message, allowed = "cannot be read: not a text file", "TOML text in UTF-8"
        raise InputError(Problem(str(path), "", message, allowed=allowed)) from None


def content_hash(text: str) -> str:
    """Return the hash `save` compares: SHA-256 of the text in UTF-8, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def save(path: Path, text: str, expected_hash: str) -> str:
    """Write a build file whole or not at all, and return its new content hash.

    ``expected_hash`` is the content hash the change was based on. Raises InputError where the file
    has another content by now, or cannot be written.
    """
    _refuse_another(path, expected_hash)
    try:
        _replace_file(path, text.encode("utf-8"), expected_hash)
    except OSError as error:
        raise InputError(Problem(str(path), "", f"cannot be written: {error.strerror}")) from None
    return content_hash(text)


def _refuse_another(path: Path, expected_hash: str) -> None:
    if read_document(path)[1] != expected_hash:
        message = "the file was changed by someone else since it was opened; open it again"
        raise InputError(Problem(str(path), "", message))


def _replace_file(path: Path, data: bytes, expected_hash: str) -> None:
    target = path.resolve()
    found = target.stat()
    if not (found.st_mode & 0o222 and os.access(target, os.W_OK)):
        # Exchanging it would get round what the owner said of it.
        raise PermissionError(errno.EACCES, "the file is marked as read-only")
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if sys.platform != "win32":
            with suppress(OSError):
                os.chown(temporary, found.st_uid, found.st_gid)
        shutil.copymode(target, temporary)
        with _alone_in(target.parent):
            # Looked at once more: writing the other file took its time.
            _refuse_another(path, expected_hash)
            temporary.replace(target)
    finally:
        temporary.unlink(missing_ok=True)


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """Let no other process of ours exchange a file of a folder meanwhile, where that can be had."""
    if sys.platform == "win32":
        yield
        return
    import fcntl

    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # a file system that knows no locks
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _refusal(path: str, message: str, text: str | None = None) -> InputError:
    return InputError(Problem("", path, message, given=(text or "")[:60]))


def _steps(path: str) -> list[Step]:
    if not _PATH.fullmatch(path):
        raise _refusal(path[:120], "not the path of a value")
    found = _STEP.findall(path)
    return [int(step[1:-1]) if step.startswith("[") else step for step in found]


def _node_at(steps: list[Step], path: str) -> Node:
    """Return what a build file may hold at a path; raise InputError where it may hold nothing."""
    node: Node = SHAPE
    for step in steps:
        if isinstance(step, int):
            if not isinstance(node, Rows):
                raise _refusal(path, "this is not a list of rows")
            node = node.row
            continue
        section = node.section if isinstance(node, PartPlace) else node
        if not isinstance(section, Section):
            raise _refusal(path, f"there is nothing called {step} here")
        if step not in section.children:
            near = near_key(section, step, path)
            raise InputError(
                Problem("", path, f"there is no such key as {step}", given=step, nearest=near)
            )
        node = section.children[step]
    return node


def _item(node: Node, text: str, path: str) -> Any:
    """Return what a person typed as the TOML item the place takes."""
    import tomlkit

    if isinstance(node, Section | Rows):
        raise _refusal(path, "this is a section; change one value of it", text)
    kind = "part" if isinstance(node, PartPlace) else node.kind
    written = text.strip()
    is_toml = (
        (kind == "part" and written.startswith("{"))
        or kind.startswith(("list:", "curve:", "map:"))
        or (kind == "flag" and written in ("true", "false"))
        or (kind == "date" and _DAY.fullmatch(written) is not None)
        or (kind in KINDS and KINDS[kind].is_plain and _NUMBER.fullmatch(written) is not None)
    )
    return tomlkit.value(written) if is_toml else tomlkit.string(text)


def _put(root: Any, steps: list[Step], item: Any, path: str, new: Callable[..., Any]) -> None:
    here = root
    for step, after in pairwise(steps):
        if isinstance(step, int):
            here = _row(here, step, path, new)
        else:
            if step not in here:
                here[step] = new(here, is_list=isinstance(after, int))
            elif isinstance(here[step], str):
                part = new(here, is_list=False, part=str(here[step]))
                here[step] = part
            here = here[step]
    here[steps[-1]] = item


def _row(rows: Any, number: int, path: str, new: Callable[..., Any]) -> Any:
    if number > len(rows):
        raise _refusal(path, f"there is no row {number}; the next new one is {len(rows)}")
    if number == len(rows):
        rows.append(new(rows, is_list=False))
    return rows[number]


def _new_plain(_: Any, *, is_list: bool, part: str | None = None) -> Any:
    if is_list:
        return []
    return {} if part is None else {"part": part}


def _new_in_document(parent: Any, *, is_list: bool, part: str | None = None) -> Any:
    """Return a new table or list in the form its surroundings have: by header, or inline."""
    import tomlkit
    from tomlkit.items import AoT, Table

    if is_list:
        return (
            tomlkit.aot() if isinstance(parent, Table | tomlkit.TOMLDocument) else tomlkit.array()
        )
    if part is None and isinstance(parent, AoT | tomlkit.TOMLDocument):
        return tomlkit.table()
    table = tomlkit.inline_table()
    if part is not None:
        table["part"] = part
    return table


def _take_out(root: Any, steps: list[Step], path: str) -> None:
    here = root
    try:
        for step in steps[:-1]:
            here = here[step]
        del here[steps[-1]]
    except (KeyError, IndexError, TypeError):
        raise _refusal(path, "there is nothing here to take out") from None


def _canonical(content: Any) -> str:
    return json.dumps(content, sort_keys=True, default=str)
