"""What a car's file does not say yet: what to type next, and why a figure is not there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from swapwright.assess.assessment import Assessment
from swapwright.build.car import Car
from swapwright.jobs.entry_row import entry_rows, field_of
from swapwright.jobs.telling import tell

TOP_SPEED = "top_speed.peak"
NOTHING: Mapping[str, tuple[str, ...]] = MappingProxyType({})
_PATH = re.compile(r"[\w.\[\]-]+")
_PACK = {"pack.series": "pack.modules_per_string", "pack.parallel": "pack.module"}
"""What to type for a pack that is neither named as modules nor as cells yet."""


@dataclass(frozen=True)
class Wanted:
    """One entry to fill in: its path, what it is, and how many figures and rules wait for it."""

    path: str
    label: str
    figures: int
    rules: int


def reason_of(assessment: Assessment, figure_id: str) -> str:
    """Return in words why a figure is not there though every input is; empty where one lacks."""
    return _reason(assessment.missing.get(figure_id, ()))


def _reason(lacking: tuple[str, ...]) -> str:
    return lacking[0] if len(lacking) == 1 and not _PATH.fullmatch(lacking[0]) else ""


def headline_reason(assessment: Assessment, figure_id: str, label: str, profile: str) -> str:
    """Return the reason as it stands behind a figure's label, with the top speed of a sprint."""
    reason = reason_of(assessment, figure_id).removeprefix(f"{label} is ")
    fastest = assessment.figures.get(TOP_SPEED)
    if reason and fastest is not None and figure_id.startswith("accel."):
        reason += f" (tops out at {tell(fastest.value.si, 'speed', profile)})"
    return reason


def lacks_of(assessment: Assessment, car: Car, figure_id: str) -> tuple[str, ...]:
    """Return the entries that would give a figure, as a person can type them."""
    return typed(assessment.missing.get(figure_id, ()), car, assessment.missing)


def typed(
    names: Iterable[str], car: Car, missing: Mapping[str, tuple[str, ...]] = NOTHING
) -> tuple[str, ...]:
    """Return what a person can type for the inputs that are missing.

    An entry of a part nobody has named becomes the place where the part is named; a figure that is
    ``missing`` itself becomes what it lacks.
    """
    found: dict[str, None] = {}
    seen: set[str] = set()
    waiting = list(reversed([*names]))
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        if name in missing:
            if not _reason(missing[name]):
                waiting.extend(reversed(missing[name]))
        elif field_of(name) is not None or name in _sections():
            found[_place(name, car)] = None
    return tuple(found)


def fill_next(assessment: Assessment, car: Car) -> tuple[Wanted, ...]:
    """Return what to fill in next, most telling first: what most figures and rules wait for."""
    figures: dict[str, int] = {}
    rules: dict[str, int] = {}
    for figure_id in assessment.missing:
        for path in lacks_of(assessment, car, figure_id):
            figures[path] = figures.get(path, 0) + 1
    for finding in assessment.findings:
        if finding.verdict == "unknown":
            for path in typed(finding.needs, car, assessment.missing):
                rules[path] = rules.get(path, 0) + 1
    wanted = [
        Wanted(path, _label(path), figures.get(path, 0), rules.get(path, 0))
        for path in {**figures, **rules}
    ]
    return tuple(sorted(wanted, key=lambda each: (-each.figures - each.rules, each.path)))


@lru_cache(maxsize=1)
def _sections() -> frozenset[str]:
    return frozenset(path.rpartition(".")[0] for path in entry_rows())


def as_written(path: str) -> str:
    """Return a path as a file has it: an entry of a list's rows as ``[[mass]] load``."""
    head, brackets, rest = path.partition("[].")
    return f"[[{head}]] {rest}" if brackets else path


def _label(path: str) -> str:
    row = field_of(path)
    return "" if row is None else row.label


def _place(path: str, car: Car) -> str:
    """Return the place to fill in for a path: that of the part, where it is not named yet."""
    if path.startswith("pack.") and not car.has("pack.module") and not car.has("pack.cell"):
        if car.has("pack.series"):
            return "pack.cell" if path.startswith("pack.cell.") else path
        if path.startswith("pack.cell"):
            return "pack.module"
        return _PACK.get(path, path)
    steps = path.split(".")
    for count in range(1, len(steps)):
        above = ".".join(steps[:count])
        row = field_of(above)
        if row is not None and row.kind.startswith("part:") and not car.has(above):
            return above
    return path
