"""Resolve a Build into a Car: parts written out, defaults filled, everything with its origin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from types import MappingProxyType
from typing import Any, TypeVar

from swapwright.base.errors import InputError, Problem
from swapwright.base.field import Field
from swapwright.base.figure import Value
from swapwright.base.finding import Acceptance
from swapwright.base.nearest import nearest
from swapwright.base.quantity import si_unit
from swapwright.base.table import Line, Map
from swapwright.build.car import MODULE_CELL, PACK_CELL, Car
from swapwright.build.circuit.circuit import circuit_and_faults
from swapwright.build.revision import revision_of
from swapwright.build.shape import DEFAULT_INSTEAD, DEFAULT_NEEDS, FIELDS, GEAR_CHANGES, part_kind
from swapwright.build.written import Build, Entry, PartRef
from swapwright.catalogue.agreement import disagreements
from swapwright.catalogue.fields import PART_FIELDS
from swapwright.catalogue.read import Catalogue, Part

T = TypeVar("T")

_DEFAULTS = tuple(row for row in FIELDS if row.default is not None and row.path != "format")
_PART_DEFAULTS: Mapping[str, tuple[Field, ...]] = MappingProxyType(
    {
        kind: tuple(row for row in rows if row.default is not None)
        for kind, rows in PART_FIELDS.items()
    }
)
# (kind of part, key) -> the kind of the part nested there: a module's cell.
_NESTED_KINDS: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        (kind, row.path): nested
        for kind, rows in PART_FIELDS.items()
        for row in rows
        if (nested := part_kind(row)) is not None
    }
)


def resolve(build: Build, catalogue: Catalogue, *, data_version: str = "") -> Car:
    """Return the car a build describes.

    ``catalogue`` gives the parts named in it; ``data_version`` names the edition of the standards'
    data and goes into the revision. Raises InputError, with every problem, where a part is not in
    the catalogue or its file is faulty.
    """
    content = _Content(counts=dict(build.counts))
    for path, entry in build.entries.items():
        if path != "format":
            content.put(path, entry)
    _place_parts(content, _with_branch_charger(build, catalogue), build, catalogue)
    _refuse_contradictions(content, build)
    _fill_defaults(content)
    _mirror_module_cell(content)
    car = Car(
        revision="",
        values=_in_order(content.values),
        texts=_in_order(content.texts),
        flags=_in_order(content.flags),
        numbers=_in_order(content.numbers),
        tables=_in_order(content.tables),
        part_names=_in_order(content.part_names),
        counts=_in_order(content.counts),
        accepted=_acceptances(content),
        assumed=tuple(sorted(content.assumed)),
        dates=_in_order(content.dates),
    )
    _refuse_faulty_circuit(car, build)
    return replace(car, revision=revision_of(car, data_version))


def _refuse_faulty_circuit(car: Car, build: Build) -> None:
    """Raise InputError where the circuit has ends, loops or places that cannot be."""
    faults = circuit_and_faults(car)[1]
    if faults:
        raise InputError(
            *(
                Problem(
                    build.file,
                    fault.path,
                    fault.message,
                    given=fault.given,
                    allowed=fault.allowed,
                    nearest=fault.near,
                    line=build.line(fault.path),
                )
                for fault in faults
            )
        )


@dataclass
class _Content:
    """A car being put together; the first thing put at a path stays."""

    values: dict[str, Value] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    flags: dict[str, bool] = field(default_factory=dict)
    numbers: dict[str, tuple[Value, ...]] = field(default_factory=dict)
    tables: dict[str, Line | Map] = field(default_factory=dict)
    dates: dict[str, date] = field(default_factory=dict)
    part_names: dict[str, str] = field(default_factory=dict)
    part_kinds: dict[str, str] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    assumed: list[str] = field(default_factory=list)

    def put(self, path: str, entry: Entry) -> None:
        """Keep one entry under the mapping of its type; a list of texts becomes numbered texts."""
        if isinstance(entry, Value):
            self.values.setdefault(path, entry)
        elif isinstance(entry, bool):
            self.flags.setdefault(path, entry)
        elif isinstance(entry, str):
            self.texts.setdefault(path, entry)
        elif isinstance(entry, date):
            self.dates.setdefault(path, entry)
        elif isinstance(entry, Line | Map):
            self.tables.setdefault(path, entry)
        else:
            self._put_list(path, entry)

    def _put_list(self, path: str, entry: tuple[Value, ...] | tuple[str, ...]) -> None:
        if path in self.counts:
            return
        self.counts[path] = len(entry)
        numbers = tuple(item for item in entry if isinstance(item, Value))
        if numbers:
            self.numbers[path] = numbers
        for number, item in enumerate(entry):
            if isinstance(item, str):
                self.texts[f"{path}[{number}]"] = item

    def put_part(self, path: str, kind: str, name: str) -> None:
        """Keep what part stands at a path."""
        if path not in self.part_names:
            self.part_names[path] = name
            self.part_kinds[path] = kind

    def has(self, path: str) -> bool:
        """Tell whether something stands at a path itself."""
        return (
            path in self.values
            or path in self.texts
            or path in self.flags
            or path in self.numbers
            or path in self.tables
            or path in self.dates
            or path in self.counts
        )

    def has_below(self, path: str) -> bool:
        """Tell whether a part stands at a path, or anything below it."""
        below = f"{path}."
        return path in self.part_names or any(
            key.startswith(below)
            for holder in (self.values, self.texts, self.flags, self.part_names)
            for key in holder
        )

    def assume(self, path: str, row: Field) -> None:
        """Put a row's default at a path that has nothing yet, and list it as assumed."""
        if self.has(path) or row.default is None:
            return
        self.assumed.append(path)
        if isinstance(row.default, str | bool):
            self.put(path, row.default)
        else:
            low, high = row.spread or (None, None)
            unit = si_unit(row.kind)
            default = float(row.default)
            self.put(path, Value(default, unit, "default", row.default_source, low, high))


def _with_branch_charger(build: Build, catalogue: Catalogue) -> dict[str, PartRef]:
    """Return the parts, a charger named only as a branch's load put where chargers stand."""
    parts = dict(build.parts)
    if "charging.charger" not in parts:
        for number in range(build.counts.get("hv.branch", 0)):
            load = build.entries.get(f"hv.branch[{number}].load")
            if isinstance(load, str) and catalogue.has("charger", load):
                parts["charging.charger"] = PartRef("charger", load)
                break
    return parts


def _place_parts(
    content: _Content, parts: Mapping[str, PartRef], build: Build, catalogue: Catalogue
) -> None:
    problems: list[Problem] = []
    for path, ref in parts.items():
        if ref.name is None:
            content.put_part(path, ref.kind, path)
            continue
        try:
            part = catalogue.get(ref.kind, ref.name)
        except InputError as error:
            problems.extend(_part_problems(path, ref, error, build, catalogue))
            continue
        content.put_part(path, ref.kind, ref.name)
        _write_out(content, path, part, parts)
    if problems:
        raise InputError(*problems)


def _write_out(content: _Content, path: str, part: Part, parts: Mapping[str, PartRef]) -> None:
    """Put a part's content below its path, except below the nested parts the build replaces."""
    named = [key for key in part.parts if _is_named(parts.get(f"{path}.{key}"))]
    replaced = tuple(f"{key}." for key in named)
    holders: tuple[Mapping[str, Entry], ...] = (
        part.values,
        part.texts,
        part.flags,
        part.numbers,
        part.words,
        part.tables,
    )
    for holder in holders:
        for key, entry in holder.items():
            if not key.startswith(replaced):
                content.put(f"{path}.{key}", entry)
    for key, name in part.parts.items():
        if key not in named:
            content.put_part(f"{path}.{key}", _NESTED_KINDS[part.kind, key], name)


def _is_named(ref: PartRef | None) -> bool:
    return ref is not None and ref.name is not None


def _part_problems(
    path: str, ref: PartRef, error: InputError, build: Build, catalogue: Catalogue
) -> Iterable[Problem]:
    name = ref.name or ""
    if catalogue.has(ref.kind, name):
        return error.problems
    names = catalogue.names(ref.kind)
    return (
        Problem(
            build.file,
            path,
            f"there is no such {ref.kind} in the catalogue",
            given=name,
            allowed=", ".join(names) or f"a {ref.kind} written in full",
            nearest=nearest(name, names),
            line=build.line(path),
        ),
    )


def _refuse_contradictions(content: _Content, build: Build) -> None:
    """Raise InputError where what the file says of a part contradicts the rest of that part."""
    problems: list[Problem] = []
    for path, kind in content.part_kinds.items():
        below = f"{path}."
        if not any(at.startswith(below) for at in build.entries):
            continue
        for key, message, allowed in disagreements(
            kind,
            _below(content.values, path),
            _below(content.numbers, path),
            _below(content.tables, path),
        ):
            at = f"{path}.{key}"
            problems.append(Problem(build.file, at, message, allowed=allowed, line=build.line(at)))
    if problems:
        raise InputError(*problems)


def _fill_defaults(content: _Content) -> None:
    for path, kind in content.part_kinds.items():
        for row in _PART_DEFAULTS[kind]:
            content.assume(f"{path}.{row.path}", row)
    given = {need: content.has_below(need) for need in DEFAULT_NEEDS.values()}
    for row in _DEFAULTS:
        needs = (need for below, need in DEFAULT_NEEDS.items() if _is_below(row.path, below))
        instead = DEFAULT_INSTEAD.get(row.path)
        if instead is not None and content.has(instead):
            continue
        gearbox = GEAR_CHANGES.get(row.path)
        if gearbox is not None and not _changes_gear(content, gearbox):
            continue
        if all(given[need] for need in needs):
            for path in _expanded(row.path, content.counts):
                content.assume(path, row)


def _changes_gear(content: _Content, gearbox: str) -> bool:
    """Tell whether the driver changes gear on the move: more than one in use, and not at rest."""
    in_box = content.counts.get(f"{gearbox}.ratios", 0)
    in_use = content.counts.get(f"{gearbox}.use", in_box)
    return in_use > 1 and content.texts.get(f"{gearbox}.shift") != "at rest"


def _below(entries: Mapping[str, T], path: str) -> dict[str, T]:
    """Return the entries below a path, by the rest of their paths."""
    start = f"{path}."
    return {at.removeprefix(start): entries[at] for at in entries if at.startswith(start)}


def _is_below(path: str, above: str) -> bool:
    return path == above or path.startswith(f"{above}.")


def _expanded(path: str, counts: Mapping[str, int]) -> Iterator[str]:
    """Yield a Field path once for each row the car has of its list."""
    head, brackets, rest = path.partition("[]")
    if not brackets:
        yield path
        return
    for number in range(counts.get(head, 0)):
        yield from _expanded(f"{head}[{number}]{rest}", counts)


def _mirror_module_cell(content: _Content) -> None:
    """Put the cell of the pack's module at ``pack.cell`` too, where all packs have theirs."""
    if MODULE_CELL not in content.part_names:
        return
    content.put_part(PACK_CELL, "cell", content.part_names[MODULE_CELL])
    holders: tuple[dict[str, Any], ...] = (
        content.values,
        content.texts,
        content.flags,
        content.numbers,
        content.tables,
        content.counts,
    )
    for holder in holders:
        for path in [path for path in holder if path.startswith(f"{MODULE_CELL}.")]:
            holder[PACK_CELL + path.removeprefix(MODULE_CELL)] = holder[path]


def _acceptances(content: _Content) -> tuple[Acceptance, ...]:
    return tuple(
        Acceptance(
            rule=content.texts[f"{row}.rule"],
            reason=content.texts[f"{row}.reason"],
            by=content.texts[f"{row}.by"],
            date=content.dates[f"{row}.date"],
            until=content.dates.get(f"{row}.until"),
        )
        for row in _expanded("accepted[]", content.counts)
    )


def _in_order(entries: Mapping[str, T]) -> Mapping[str, T]:
    return MappingProxyType(dict(sorted(entries.items())))
