"""The speed a car is asked to drive: a regulation's cycle, a steady speed, or a CSV file."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.nearest import nearest
from swapwright.base.quantity import Unit, parse, unit_of
from swapwright.standards.cycles import CYCLES, cycle

FloatArray = NDArray[np.float64]

MAX_ROWS = 200_000
MAX_BYTES = 30_000_000
SHORTEST_STEP = 0.01
LONGEST_STEP = 5.0
EVEN_WITHIN = 0.02
"""Share by which two time steps of a file may differ."""

FASTEST = 150.0
STEEPEST = 1.0
STEADY = "steady:"
ROADS: Mapping[str, str] = MappingProxyType({"city": "udds", "highway": "hwfet"})
"""What a road is called, and the cycle that is driven for it."""

_EXAMPLES: Mapping[str, str] = MappingProxyType(
    {"metric": "90 km/h", "us": "60 mph", "uk": "60 mph"}
)
STEADY_TIME = 600
FORMS = "a column speed_kmh, speed_mph or speed_m/s, and if you like time_s and grade_%"

_HEADER = re.compile(r"\s*(time|speed|grade)\s*(?:[_ ]\s*(\S+)|\[(.+)\]|\((.+)\))?\s*", re.I)
_NO_UNIT = {"time": "s", "speed": "", "grade": ""}


@dataclass(frozen=True)
class Trace:
    """Speeds m/s, ``step`` s apart, and the sine of the grade of each step, empty on the level."""

    name: str
    title: str
    speeds: FloatArray
    grades: FloatArray
    step: float


def trace_of(given: str, profile: str = "metric") -> Trace:
    """Return the trace a person names: a cycle, ``city``, a steady ``90 km/h``, or a CSV file.

    ``profile`` is that of the units a hint names. Raises InputError where it is none of these, or
    where the file cannot be driven.
    """
    name = given.strip().casefold()
    name = ROADS.get(name, name)
    if name in CYCLES:
        found = cycle(name)
        return Trace(name, found.title, np.array(found.speeds), np.zeros(0), 1.0)
    if name.startswith(STEADY):
        return _steady(given.strip()[len(STEADY) :].strip())
    path = Path(given)
    if path.suffix.lower() == ".csv" or path.is_file():
        return read_trace(path)
    if name[:1].isdigit():
        return _steady(given.strip())
    raise InputError(
        Problem(
            "drive cycle",
            "",
            "there is no drive cycle of this name, and no such file",
            given=given,
            allowed=f"{', '.join((*CYCLES, *ROADS))}, a steady speed ('{_EXAMPLES[profile]}'), "
            "or a CSV file",
            nearest=nearest(given, (*CYCLES, *ROADS)),
        )
    )


def _steady(given: str) -> Trace:
    try:
        speed = parse(given, "speed").si
    except UnitError as error:
        problem = Problem("drive cycle", "", error.message, given, error.allowed, error.nearest)
        raise InputError(problem) from None
    if not 0.0 < speed <= FASTEST:
        raise InputError(Problem("drive cycle", "", "not a speed to drive at", given=given))
    speeds = np.full(STEADY_TIME + 1, speed)
    return Trace(f"{STEADY}{given}", f"{given}, steady", speeds, np.zeros(0), 1.0)


def read_trace(path: Path) -> Trace:
    """Read a CSV file of speed, and of time and grade where it has them.

    The header names each column with its unit (``speed_kmh``, ``speed [mph]``, ``grade_%``);
    without a time column rows are 1 s apart; other columns are left alone. Raises InputError with
    the row where something is amiss.
    """
    rows = _rows(path)
    _, header = next(rows, (0, []))
    columns = _columns(header, path)
    values: dict[str, list[float]] = {name: [] for name in columns}
    numbers: list[int] = []
    for number, row in rows:
        if not any(cell.strip() for cell in row):
            continue
        numbers.append(number)
        for name, (place, unit) in columns.items():
            values[name].append(_number(row, place, unit, name, number, path))
        _refuse_outside(values, number, path)
        if len(values["speed"]) > MAX_ROWS:
            raise InputError(_problem(path, number, f"more than {MAX_ROWS:,} rows"))
    speeds = np.array(values["speed"])
    if len(speeds) < 2:
        raise InputError(_problem(path, None, "the file has fewer than two rows of speed"))
    grades = np.zeros(0)
    if "grade" in values:
        slopes = np.array(values["grade"])
        grades = np.sin(np.arctan(0.5 * (slopes[1:] + slopes[:-1])))
    step = _step(values["time"], numbers, path) if "time" in values else 1.0
    return Trace(path.name, f"file {path.name}", speeds, grades, step)


def _rows(path: Path) -> Iterator[tuple[int, list[str]]]:
    """Yield (row number, cells); the separator is the comma, or what the header shows instead."""
    text = _text(path)
    first = text.partition("\n")[0]
    separator = next((mark for mark in (";", "\t") if mark in first), ",")
    reader = csv.reader(text.splitlines(), delimiter=separator)
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise InputError(_problem(path, reader.line_num, f"not a CSV row: {error}")) from None
        if separator == ";":
            row = [cell.replace(",", ".") for cell in row]
        yield reader.line_num, row


def _text(path: Path) -> str:
    try:
        if not path.is_file():
            raise InputError(_problem(path, None, "there is no such file"))
        if path.stat().st_size > MAX_BYTES:
            raise InputError(_problem(path, None, "too large for a drive cycle", "up to 30 MB"))
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(_problem(path, None, "not a text file", "CSV text in UTF-8")) from None
    except OSError as error:
        raise InputError(_problem(path, None, f"cannot be read: {error.strerror}")) from None
    if not text.strip():
        raise InputError(_problem(path, None, "the file is empty", FORMS))
    if "\0" in text:
        raise InputError(_problem(path, None, "not a text file", "CSV text in UTF-8"))
    return text


def _columns(header: Sequence[str], path: Path) -> dict[str, tuple[int, Unit]]:
    """Return place and unit of each column that is used."""
    found: dict[str, tuple[int, Unit]] = {}
    for place, cell in enumerate(header):
        match = _HEADER.fullmatch(cell)
        if match is None:
            continue
        name = match[1].lower()
        if name in found:
            raise InputError(_problem(path, 1, f"two columns of {name}", given=cell))
        spelling = match[2] or match[3] or match[4] or _NO_UNIT[name]
        if not spelling:
            raise InputError(
                _problem(path, 1, "the column does not name its unit", FORMS, given=cell)
            )
        try:
            found[name] = (place, unit_of(spelling, name))
        except UnitError as error:
            raise InputError(_problem(path, 1, error.message, error.allowed, given=cell)) from None
    if "speed" not in found:
        raise InputError(_problem(path, 1, "there is no column of speed", FORMS))
    return found


def _number(
    row: Sequence[str], place: int, unit: Unit, name: str, number: int, path: Path
) -> float:
    cell = row[place].strip() if place < len(row) else ""
    if not cell:
        raise InputError(_problem(path, number, f"a gap: the row has no {name}"))
    try:
        value = unit.to_si(float(cell))
    except ValueError:
        raise InputError(
            _problem(path, number, f"the {name} is not a number", given=cell)
        ) from None
    if not math.isfinite(value):
        raise InputError(_problem(path, number, f"the {name} is not a finite number", given=cell))
    return value


def _refuse_outside(values: dict[str, list[float]], number: int, path: Path) -> None:
    """Refuse a last row whose time does not rise or whose speed or grade no car drives."""
    speed = values["speed"][-1]
    if speed < 0.0:
        raise InputError(_problem(path, number, "the speed is negative"))
    if speed > FASTEST:
        raise InputError(_problem(path, number, "the speed is above 540 km/h: is the unit right?"))
    if "grade" in values and abs(values["grade"][-1]) > STEEPEST:
        raise InputError(_problem(path, number, "the grade is steeper than 100 %"))
    times = values.get("time", [])
    if len(times) > 1 and times[-1] <= times[-2]:
        raise InputError(_problem(path, number, "the time does not rise"))


def _step(times: Sequence[float], numbers: Sequence[int], path: Path) -> float:
    """Return the one step s between the rows; refuse steps that differ."""
    steps = np.diff(np.array(times))
    step = float(np.median(steps))
    uneven = np.nonzero(np.abs(steps - step) > EVEN_WITHIN * step + 1e-9)[0]
    if len(uneven):
        i = int(uneven[0])
        message = (
            f"a gap in time: {steps[i]:.3g} s between {times[i]:g} s and {times[i + 1]:g} s, "
            f"{step:.3g} s elsewhere"
        )
        raise InputError(_problem(path, numbers[i + 1], message, "rows evenly spaced in time"))
    if not SHORTEST_STEP <= step <= LONGEST_STEP:
        allowed = f"{SHORTEST_STEP:g} s to {LONGEST_STEP:g} s"
        raise InputError(_problem(path, None, f"rows {step:g} s apart cannot be driven", allowed))
    return step


def _problem(
    path: Path, row: int | None, message: str, allowed: str = "", given: str = ""
) -> Problem:
    short = given if len(given) <= 60 else f"{given[:57]}..."
    return Problem(str(path), "", message, given=short, allowed=allowed, line=row)
