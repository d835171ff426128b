"""The resolved Car: every scalar by its build path with its past, parts written out, tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from types import MappingProxyType

from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.finding import Acceptance
from swapwright.base.table import Line, Map

# The cell of a pack built from modules stands where the module has it, and again where every pack
# has its cell.
MODULE_CELL = "pack.module.cell"
PACK_CELL = "pack.cell"


@dataclass(frozen=True, eq=False)
class Car:
    """One car as designed, SI inside, frozen; equal and hashed by its revision.

    ``values``, ``texts``, ``flags``, ``numbers`` and ``tables`` are keyed by build path; a part's
    content stands below the part's path (``drive.motor.peak_torque``); a list's rows are numbered
    from 0 (``mass[0].x``). ``part_names`` gives the catalogue name a part came from, or the name
    of the car's own part. ``counts`` gives the length of each list (``mass`` -> 3).
    ``assumed`` lists the paths that stand on a default. The cell of a module stands twice, at
    ``pack.module.cell`` where the owner writes it and at ``pack.cell`` where it is used.
    """

    revision: str
    values: Mapping[str, Value]
    texts: Mapping[str, str]
    flags: Mapping[str, bool]
    numbers: Mapping[str, tuple[Value, ...]]
    tables: Mapping[str, Line | Map]
    part_names: Mapping[str, str]
    counts: Mapping[str, int]
    accepted: tuple[Acceptance, ...] = ()
    assumed: tuple[str, ...] = ()
    dates: Mapping[str, date] = field(default_factory=lambda: MappingProxyType({}))

    def __hash__(self) -> int:
        """Hash by revision."""
        return hash(self.revision)

    def __eq__(self, other: object) -> bool:
        """Compare by revision."""
        return isinstance(other, Car) and other.revision == self.revision

    def value(self, path: str) -> Value:
        """Return the value at a build path; raise Missing, naming the path, where there is none."""
        try:
            return self.values[path]
        except KeyError:
            raise Missing(path) from None

    def number(self, path: str) -> float:
        """Return the SI number at a build path; raise Missing where there is none."""
        return self.value(path).si

    def get(self, path: str) -> Value | None:
        """Return the value at a build path, or None."""
        return self.values.get(path)

    def text(self, path: str) -> str:
        """Return the text or choice at a build path; raise Missing where there is none."""
        try:
            return self.texts[path]
        except KeyError:
            raise Missing(path) from None

    def line(self, path: str) -> Line:
        """Return the line table at a build path; raise Missing where there is none."""
        table = self.tables.get(path)
        if not isinstance(table, Line):
            raise Missing(path)
        return table

    def map(self, path: str) -> Map:
        """Return the map table at a build path; raise Missing where there is none."""
        table = self.tables.get(path)
        if not isinstance(table, Map):
            raise Missing(path)
        return table

    def list(self, path: str) -> tuple[Value, ...]:
        """Return a list of values at a build path; raise Missing where there is none."""
        try:
            return self.numbers[path]
        except KeyError:
            raise Missing(path) from None

    def words(self, path: str) -> tuple[str, ...]:
        """Return a list of texts at a build path (``network.bus[0].nodes``); raise Missing."""
        if path not in self.counts:
            raise Missing(path)
        return tuple(self.text(f"{path}[{number}]") for number in range(self.counts[path]))

    def day(self, path: str) -> date:
        """Return the date at a build path; raise Missing where there is none."""
        try:
            return self.dates[path]
        except KeyError:
            raise Missing(path) from None

    def has(self, path: str) -> bool:
        """Tell whether anything stands at a build path or below it (a part, a section)."""
        return path in self._places

    @cached_property
    def _places(self) -> frozenset[str]:
        """Every path something stands at, and everything above it (``car``, ``mass[0]``)."""
        places: set[str] = set()
        for holder in (
            self.values,
            self.texts,
            self.flags,
            self.numbers,
            self.tables,
            self.dates,
            self.part_names,
        ):
            for path in holder:
                while path and path not in places:
                    places.add(path)
                    path = path[: max(path.rfind("."), path.rfind("["), 0)]
        return frozenset(places)

    def uncertain(self) -> tuple[str, ...]:
        """Return the build paths whose values are ranges, in path order.

        A module's cell counts once, at ``pack.cell``.
        """
        return tuple(
            sorted(
                path
                for path, value in self.values.items()
                if value.is_uncertain and not path.startswith(f"{MODULE_CELL}.")
            )
        )

    def with_values(self, changes: Mapping[str, float]) -> Car:
        """Return this car with the SI values at some paths replaced and no longer uncertain."""
        values = dict(self.values)
        for path, si in changes.items():
            values[path] = replace(self.value(path), si=si, low=None, high=None)
        mark = ",".join(f"{path}={si!r}" for path, si in sorted(changes.items()))
        return self.with_the_same_paths(
            MappingProxyType(values), revision=f"{self.revision}+{mark}"
        )

    def with_the_same_paths(self, values: Mapping[str, Value], revision: str = "") -> Car:
        """Return this car with other values at the very same paths."""
        copy = replace(self, values=values, revision=revision or self.revision)
        # Which places there are is worked out once: a band makes dozens of such cars.
        copy.__dict__["_places"] = self._places
        return copy
