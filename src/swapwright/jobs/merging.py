"""Changes of two people to one file: merged entry by entry, or told where they meet."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

BOM = "\ufeff"
_IN_ROW = re.compile(r"([^\[]+)\[(\d+)\](.*)")
_LONGEST_TOLD = 200


@dataclass(frozen=True)
class Conflict:
    """One entry two people changed: what it was, what it is now, and what was typed.

    ``is_before_known`` tells whether what it was is still known; ``path`` is where it stands now.
    """

    path: str
    before: str
    now: str
    typed: str
    is_before_known: bool = True


def raw_of(text: str) -> Mapping[str, Any] | None:
    """Return what a build file's text says, as written; None where it is no sound TOML."""
    try:
        return tomllib.loads(text.removeprefix(BOM))
    except (ValueError, RecursionError):
        return None


def merged(
    entries: Mapping[str, str | None], base: Mapping[str, Any] | None, now: Mapping[str, Any]
) -> Mapping[str, str | None] | Conflict:
    """Return changes typed over one file as they have to be made to what it is now.

    ``base`` is the file as the person had it, None where that is not known any more. A row keeps
    what was typed for it where other rows came or went meanwhile, and a new row comes after those
    another person added. What another person changed is never written over: that is a conflict.
    """
    placed: dict[str, str | None] = {}
    for path, typed in entries.items():
        if base is None:
            meeting = _blind(path, typed, now)
        else:
            at = _placed(path, base, now)
            meeting = _meeting(path, at, typed, base, now)
            path = at or path
        if meeting is not None:
            return meeting
        placed[path] = typed
    return placed


def _blind(path: str, typed: str | None, now: Mapping[str, Any]) -> Conflict | None:
    """Return the conflict of a change of which nobody knows what it was made from."""
    found = value_at(now, path)
    is_row = _IN_ROW.fullmatch(path) is not None
    if not is_row and (found is None or _is_said(found, typed)):
        return None
    return Conflict(path, "", told(found), typed or "", is_before_known=False)


def _placed(path: str, base: Mapping[str, Any], now: Mapping[str, Any]) -> str | None:
    """Return where an entry stands now, None where the row it belongs to is not to be found."""
    parts = _IN_ROW.fullmatch(path)
    if parts is None:
        return path
    name, number, rest = parts[1], int(parts[2]), parts[3]
    old, new = (_rows(each, name) for each in (base, now))
    if old == new:
        return path
    if number >= len(old):
        return f"{name}[{number - len(old) + len(new)}]{rest}"
    row = old[number]
    if number < len(new) and new[number] == row:
        return path
    moved = [at for at, each in enumerate(new) if each == row and old[at : at + 1] != [row]]
    if moved:
        return f"{name}[{moved[0]}]{rest}"
    return path if len(old) == len(new) else None


def _rows(raw: Mapping[str, Any], name: str) -> list[Any]:
    found = value_at(raw, name)
    return found if isinstance(found, list) else []


def _meeting(
    path: str,
    at: str | None,
    typed: str | None,
    base: Mapping[str, Any],
    now: Mapping[str, Any],
) -> Conflict | None:
    old = value_at(base, path)
    if at is None:
        return Conflict(path, told(old), told(value_at(now, path)), typed or "")
    new = value_at(now, at)
    if old != new and not _is_said(new, typed):
        return Conflict(at, told(old), told(new), typed or "")
    for above, there in zip(_above(path), _above(at), strict=True):
        was, named = _part_name(value_at(base, above)), _part_name(value_at(now, there))
        if was and named and was != named:
            return Conflict(at, was, named, typed or "")
    return None


def _is_said(found: Any, typed: str | None) -> bool:
    """Tell whether an entry says already, and says no more than, what was typed."""
    if found is None:
        return not typed
    return not isinstance(found, dict) and written_text(found) == (typed or "")


def _above(path: str) -> Iterator[str]:
    """Yield the paths of what an entry lies within, the nearest first."""
    while "." in path:
        path = path.rpartition(".")[0]
        yield path


def _part_name(found: Any) -> str:
    return written_text(found) if isinstance(found, str | dict) else ""


def value_at(raw: Mapping[str, Any], path: str) -> Any:
    """Return what a build file says at a path, None where it says nothing."""
    here: Any = raw
    for step in path.replace("[", ".[").split("."):
        try:
            here = here[int(step[1:-1])] if step.startswith("[") else here[step]
        except (KeyError, IndexError, TypeError, ValueError):
            return None
    return here


def text_at(raw: Mapping[str, Any], path: str) -> str:
    """Return what a build file says at a path, as a person would type it; empty for nothing."""
    found = value_at(raw, path)
    return "" if found is None else written_text(found)


def written_text(entry: Any) -> str:
    """Return an entry of a build file as a person would type it into a field."""
    if isinstance(entry, bool):
        return "true" if entry else "false"
    if isinstance(entry, dict):
        named = entry.get("part")
        return named if isinstance(named, str) else ""
    if isinstance(entry, list | tuple):
        return _inline(entry)
    return str(entry)


def told(entry: Any) -> str:
    """Return an entry in words short enough for a line: a part with all that is said of it."""
    text = "" if entry is None else _inline(entry) if isinstance(entry, dict) else ""
    text = text or ("" if entry is None else written_text(entry))
    return text if len(text) <= _LONGEST_TOLD else f"{text[:_LONGEST_TOLD]}..."


def _inline(entry: Any) -> str:
    """Return an entry as it stands within a list or an inline table of a build file."""
    if isinstance(entry, dict):
        return "{ " + ", ".join(f"{key} = {_inline(each)}" for key, each in entry.items()) + " }"
    if isinstance(entry, list | tuple):
        return f"[{', '.join(map(_inline, entry))}]"
    return json.dumps(entry, ensure_ascii=False) if isinstance(entry, str) else written_text(entry)
