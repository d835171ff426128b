"""What a person can enter in a stage: each entry as written, or what stands in for it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from swapwright.assess.swing_query import shares_moved
from swapwright.base.field import Field
from swapwright.base.figure import Value
from swapwright.base.quantity import KINDS
from swapwright.build.car import Car
from swapwright.build.shape import FIELDS, is_life_critical, part_kind, rows_by_path
from swapwright.build.unused import kept_for
from swapwright.jobs.check import Checked
from swapwright.jobs.lacking import fill_next
from swapwright.jobs.merging import text_at
from swapwright.jobs.stage import Stage
from swapwright.jobs.telling import tell, value_text

Origin = Literal["entered", "part", "default", "none"]
LEAST_MOVED = 5e-4
"""Share of the range below which an uncertain entry moves nothing to speak of."""
MOVES_MOST = "range.combined"
"""The figure that uncertain inputs are ranked by."""

_ROW = re.compile(r"\[\d+\]")


@dataclass(frozen=True)
class Entry:
    """One entry of a form.

    ``text`` is as written in the file, empty where it says nothing; ``stands_in`` is then what a
    part or a default gives. ``moves`` is the most an uncertain entry moves the combined range by,
    as a share of it; ``waiting`` how many figures and rules wait for one that is missing.
    """

    path: str
    label: str
    help: str
    kind: str
    part_kind: str
    choices: tuple[str, ...]
    text: str
    stands_in: str
    origin: Origin
    allowed: str
    line: int | None
    moves: float
    waiting: int
    is_life_critical: bool

    @property
    def is_at_hand(self) -> bool:
        """Tell whether a person wants to see it without looking for it."""
        is_doubted = self.origin == "default" and self.is_life_critical
        return bool(self.text or self.waiting or is_doubted or self.moves > LEAST_MOVED)


@dataclass(frozen=True)
class Group:
    """Entries that stand together: a table of the file, a row of a list, or a part.

    ``list_path`` is that of the list a row belongs to, ``row`` its number.
    """

    path: str
    title: str
    entries: tuple[Entry, ...]
    list_path: str = ""
    row: int | None = None
    is_part: bool = False

    @property
    def said(self) -> int:
        """Return how many of its entries the file says something of."""
        return sum(1 for entry in self.entries if entry.text)

    @property
    def at_hand(self) -> tuple[Entry, ...]:
        """The entries to see at once: what the file says, what is waited for, what moves much."""
        return tuple(entry for entry in self.entries if entry.is_at_hand)

    @property
    def others(self) -> tuple[Entry, ...]:
        """The entries that may stay folded away."""
        return tuple(entry for entry in self.entries if not entry.is_at_hand)


@dataclass(frozen=True)
class NewRow:
    """A list that rows can be added to: its path, what a row is, and the entries a row needs."""

    path: str
    title: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class Form:
    """Everything that can be entered in a stage."""

    groups: tuple[Group, ...]
    new_rows: tuple[NewRow, ...]

    def has(self, path: str) -> bool:
        """Tell whether an entry of this path stands in the form."""
        return any(each.path == path for group in self.groups for each in group.entries)


def form_of(stage: Stage, checked: Checked, profile: str) -> Form:
    """Return the form of a stage for a car."""
    reader = _Reader(checked, profile)
    groups: dict[str, list[Field]] = {}
    lists: dict[str, list[Field]] = {}
    parts: list[tuple[str, Field]] = []
    car = checked.opened.car
    for row in FIELDS:
        if not _is_of(stage, row.path) or kept_for(row.path) is not None or row.path == "format":
            continue
        if "[]" in row.path:
            lists.setdefault(row.path.partition("[]")[0], []).append(row)
            continue
        groups.setdefault(row.path.rpartition(".")[0], []).append(row)
        if part_kind(row) is not None and car.has(row.path):
            parts.append((row.path, row))
    made = [
        Group(path, title_of(path), tuple(reader.entry(row.path, row) for row in rows))
        for path, rows in groups.items()
    ]
    for path, rows in lists.items():
        for number in range(car.counts.get(path, 0)):
            made.append(_row_group(reader, path, rows, number))
            at = f"{path}[{number}]"
            parts += [
                (row.path.replace(f"{path}[]", at, 1), row)
                for row in rows
                if part_kind(row) is not None and car.has(row.path.replace(f"{path}[]", at, 1))
            ]
    made += [_part_group(reader, path, row) for path, row in parts]
    new_rows = tuple(
        NewRow(path, title_of(path), tuple(_blank(reader, path, row) for row in rows))
        for path, rows in lists.items()
    )
    return Form(tuple(group for group in made if group.entries), new_rows)


def part_group(checked: Checked, place: str, profile: str) -> Group | None:
    """Return the entries of the part at a place, None where no part stands there."""
    row = rows_by_path().get(_ROW.sub("[]", place))
    if row is None or part_kind(row) is None or not checked.opened.car.has(place):
        return None
    return _part_group(_Reader(checked, profile), place, row)


def _is_of(stage: Stage, path: str) -> bool:
    return re.split(r"[.\[]", path, maxsplit=1)[0] in stage.sections


def _row_group(reader: _Reader, path: str, rows: Iterable[Field], number: int) -> Group:
    at = f"{path}[{number}]"
    entries = tuple(reader.entry(row.path.replace(f"{path}[]", at, 1), row) for row in rows)
    named = next((each.text for each in entries if each.text and each.kind in ("name", "text")), "")
    title = f"{title_of(path)} {number + 1}"
    return Group(at, f"{title}: {named}" if named else title, entries, path, number)


def _part_group(reader: _Reader, path: str, row: Field) -> Group:
    own = [
        (f"{path}{key.removeprefix(_ROW.sub('[]', path))}", field)
        for key, field in rows_by_path().items()
        if key.startswith(f"{_ROW.sub('[]', path)}.") and kept_for(key) is None
    ]
    known = {each.path for each in FIELDS}
    entries = tuple(
        reader.entry(at, field)
        for at, field in own
        if _ROW.sub("[]", at) not in known and not at.endswith(".part")
    )
    name = reader.car.part_names.get(path, "")
    return Group(path, f"{row.label}: {name}", entries, is_part=True)


def _blank(reader: _Reader, path: str, row: Field) -> Entry:
    count = reader.car.counts.get(path, 0)
    return reader.entry(row.path.replace(f"{path}[]", f"{path}[{count}]", 1), row)


def title_of(path: str) -> str:
    """Return what a table or a list of the file is called: the last words of its path."""
    plain = _ROW.sub("", path)
    return _TITLES.get(plain) or plain.rpartition(".")[2].replace("_", " ")


_TITLES: Mapping[str, str] = {
    "car": "the donor car",
    "car.limits": "limits on the plate",
    "car.engine_before": "the engine it had",
    "car.road_load": "road load",
    "car.axle_mass": "donor's axle loads",
    "conditions": "weather and place",
    "goals": "what it is to do",
    "goals.range": "range",
    "goals.climb": "climb",
    "drive": "motor, inverter, gears",
    "drive.regen": "regeneration",
    "drive.second": "second drive unit",
    "auxiliaries": "loads beside the drive",
    "pack.usable": "usable window",
    "pack.boxes": "box",
    "charging": "charging",
    "charging.contactors": "charge contactors",
    "hv": "the circuit as a whole",
    "hv.disconnect": "service disconnect",
    "hv.isolation": "isolation, measured",
    "hv.element": "element",
    "hv.branch": "branch",
    "hv.cable": "cable",
    "hv.connector": "connector",
    "lv": "12 V",
    "shop": "people at the car",
    "shop.meter": "meter",
    "mass": "what comes out or goes in",
    "accepted": "accepted by the owner",
}


class _Reader:
    """Reads the entries of one car."""

    def __init__(self, checked: Checked, profile: str) -> None:
        self.car: Car = checked.opened.car
        self.build = checked.opened.build
        self.profile = profile
        assessment = checked.assessment
        self.moves = shares_moved(assessment, MOVES_MOST)
        self.waiting = {
            each.path: each.figures + each.rules for each in fill_next(assessment, self.car)
        }

    def entry(self, path: str, row: Field) -> Entry:
        """Return one entry as it stands."""
        text = text_at(self.build.raw, path)
        stands_in, origin = ("", "entered") if text else self._stand_in(path, row)
        return Entry(
            path,
            row.label,
            row.help,
            row.kind,
            part_kind(row) or "",
            () if row.kind.startswith("list:") else row.choices,
            text,
            stands_in,
            origin,  # type: ignore[arg-type]
            allowed_text(row, self.profile),
            self.build.line(path) if text else None,
            self.moves.get(path, 0.0),
            self.waiting.get(path, 0),
            is_life_critical(path),
        )

    def _stand_in(self, path: str, row: Field) -> tuple[str, str]:
        value = self.car.get(path)
        if value is not None:
            return value_text(value, row.kind, self.profile), _origin(value)
        if path in self.car.flags:
            return ("yes" if self.car.flags[path] else "no"), self._origin_of(path)
        if path in self.car.texts:
            return self.car.texts[path], self._origin_of(path)
        if path in self.car.numbers:
            texts = (
                value_text(e, row.kind.partition(":")[2], "metric") for e in self.car.list(path)
            )
            return ", ".join(texts), "part"
        if f"{path}[0]" in self.car.texts:
            return ", ".join(self.car.words(path)), "part"
        if path in self.car.tables:
            return "a table of the part", "part"
        if path in self.car.part_names and row.kind.startswith("part:"):
            return self.car.part_names[path], "part"
        return "", "none"

    def _origin_of(self, path: str) -> str:
        return "default" if path in self.car.assumed else "part"


def _origin(value: Value) -> str:
    return "default" if value.origin == "default" else "part"


def allowed_text(row: Field, profile: str) -> str:
    """Return in words what an entry takes."""
    if row.kind in KINDS:
        ends = [
            None if end is None else tell(end, row.kind, profile) for end in (row.low, row.high)
        ]
        low, high = ends
        if low and high:
            return f"{low} to {high}"
        return f"at least {low}" if low else f"at most {high}" if high else row.kind
    if row.kind == "flag":
        return "true or false"
    if row.kind == "date":
        return "a day, as 2026-11-27"
    if row.kind == "choice":
        return ", ".join(row.choices)
    if row.kind.startswith("list:"):
        among = f", of {', '.join(row.choices)}" if row.choices else ""
        return f"a list in square brackets{among}"
    if row.kind.startswith("part:"):
        return f"the name of a {row.kind.partition(':')[2]} of the catalogue"
    if row.kind.startswith(("curve:", "map:")):
        return "a table; write it in the file"
    return "a name" if row.kind == "name" else "words"
