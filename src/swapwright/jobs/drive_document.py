"""What a drive says to other programs: a JSON document, and a CSV table of every step."""

from __future__ import annotations

import csv
import io
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.errors import InputError, Problem
from swapwright.build.car import Car
from swapwright.jobs.drive import WATT_HOUR_PER_MILE, Driven
from swapwright.simulate.inputs import LIMITS
from swapwright.simulate.run import COLUMNS

UNITS = {
    "time": "s",
    "speed": "m_per_s",
    "distance": "m",
    "wheel_force": "n",
    "power": "w",
    "volts": "v",
    "current": "a",
    "cell_temperature": "k",
    "motor_temperature": "k",
    "inverter_temperature": "k",
}
"""The unit each column's name ends with; the others have none."""

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def drive_document(driven: Driven, car: Car) -> dict[str, Any]:
    """Return the document of `drive --json`: SI numbers, each key naming its unit."""
    wall = driven.wall_per_distance
    order = driven.order
    return {
        "schema_version": SCHEMA_VERSION,
        "name": car.texts.get("car.name", ""),
        "revision": car.revision,
        "cycle": order.trace.name,
        "day": order.day,
        "until_empty": order.until_empty,
        "distance_m": driven.distance,
        "duration_s": driven.duration,
        "wheel_energy_positive_j": driven.wheel_energy_out,
        "wheel_energy_negative_j": driven.wheel_energy_in,
        "battery_energy_j": driven.battery_energy,
        "wall_energy_j": driven.wall_energy,
        "wall_wh_per_mi": {
            "value": wall.value / WATT_HOUR_PER_MILE,
            "low": wall.low / WATT_HOUR_PER_MILE,
            "high": wall.high / WATT_HOUR_PER_MILE,
        },
        "shortfall_s": driven.shortfall,
        "soc_start": driven.soc_start,
        "soc_end": driven.soc_end,
        "energy_split_j": dict(driven.energies),
        "limits_s": dict(driven.limits),
        "min_voltage_v": driven.least_voltage,
        "max_voltage_v": driven.most_voltage,
        "max_current_a": driven.most_current,
        "max_charge_current_a": driven.most_charge_current,
        "max_motor_temperature_k": driven.hottest_motor,
        "max_inverter_temperature_k": driven.hottest_inverter,
        "max_cell_temperature_k": driven.hottest_cell,
        "auxiliary_power_w": driven.auxiliary_power,
        "assumed": list(driven.assumed),
    }


def refuse_overwriting(path: Path, *inputs: Path) -> None:
    """Raise InputError where a file to be written is one of those read."""
    for each in inputs:
        if path.resolve() == each.resolve():
            message = "this file is read by the same command and must not be written over"
            raise InputError(Problem(str(path), "", message))


def write_table(driven: Driven, path: Path) -> None:
    """Write a drive's steps as CSV, whole or not at all; raise InputError where it cannot be."""
    folder = path.parent
    try:
        handle, name = tempfile.mkstemp(dir=folder, prefix=f".{path.name[:40]}.", suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
                file.writelines(_lines(driven))
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        message = f"cannot be written: {error.strerror}"
        raise InputError(Problem(str(path), "", message)) from None


def text_cell(text: str) -> str:
    """Return a text so that no spreadsheet takes it for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def _lines(driven: Driven) -> Iterator[str]:
    buffer = io.StringIO()
    writer = csv.writer(buffer)
    writer.writerow(f"{name}_{UNITS[name]}" if name in UNITS else name for name in COLUMNS)
    yield buffer.getvalue()
    limit, gear = COLUMNS.index("limit"), COLUMNS.index("gear")
    for row in driven.table.tolist():
        buffer.seek(0)
        buffer.truncate()
        cells: list[str] = [f"{number:.9g}" for number in row]
        cells[gear] = str(int(row[gear]) + 1)
        cells[limit] = text_cell(LIMITS[int(row[limit])])
        writer.writerow(cells)
        yield buffer.getvalue()
