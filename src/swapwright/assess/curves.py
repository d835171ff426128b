"""Curves of an assessment: drive map, pack voltage, traces over a cycle, and those of a stage."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.drive_curves import drive_gears, drive_motor
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.stages.performance import MAP_END, drive_map
from swapwright.assess.voltage_windows import voltage_windows
from swapwright.base.curve import Axis, Curve, Series
from swapwright.base.errors import Missing
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import COLUMNS
from swapwright.standards.marks import HALF_SOC, LOW_SOC

FloatArray = NDArray[np.float64]

MAP_SOURCES = ("swapwright-drive-map",)
MAP_STATES = (
    ("full, mild day", "", 1.0, False),
    ("half charge, mild day", "", HALF_SOC.si, False),
    ("20 % charge, cold day", "_cold", LOW_SOC.si, False),
    ("half charge, continuous", "", HALF_SOC.si, True),
)
MAP_POINTS = 60
SOC_POINTS = 41
_TRACES = (
    ("speed", "speed", "speed", "m/s"),
    ("power", "power", "power", "W"),
    ("volts", "voltage", "voltage", "V"),
    ("current", "current", "current", "A"),
    ("soc", "state of charge", "fraction", "1"),
    ("cell_temperature", "cell temperature", "temperature", "K"),
    ("motor_temperature", "motor temperature", "temperature", "K"),
    ("inverter_temperature", "inverter temperature", "temperature", "K"),
)
"""Of a run's columns: the column, its label, kind and unit."""


def curves(book: FigureBook) -> dict[str, Curve]:
    """Return every curve the car's figures allow."""
    made = dict(book.curves)
    for make in (drive_gears, drive_motor, _force_map, _pack_voltage, _city_trace):
        try:
            curve = make(book)
        except Missing:
            continue
        made[curve.id] = curve
    return made


def _points(values: FloatArray) -> tuple[float, ...]:
    return tuple(values.tolist())


def _force_map(book: FigureBook) -> Curve:
    """Return force at the road over speed in several states, each point with its limit."""
    speeds = np.linspace(0.0, book.number("drive.top_speed") * MAP_END, MAP_POINTS)
    kits: dict[str, Setup] = {day: setup(book, day=day) for day in ("", "_cold")}
    series = []
    road: FloatArray = np.zeros(MAP_POINTS)
    for label, day, soc, hot in MAP_STATES:
        table = drive_map(kits[day], speeds, soc=soc, hot=hot)
        if day == "":
            road = table[:, DELIVERED.index("road_load")]
        series.append(
            Series(
                f"deliverable, {label}",
                "force",
                "N",
                _points(table[:, DELIVERED.index("force")]),
                tuple(LIMITS[int(code)] for code in table[:, DELIVERED.index("limit")]),
            )
        )
    series.append(Series("road load, level", "force", "N", _points(road)))
    return Curve(
        "drive.force",
        "force at the road against speed",
        Axis("road speed", "speed", "m/s", _points(speeds)),
        tuple(series),
        sources=MAP_SOURCES,
    )


def _pack_voltage(book: FigureBook) -> Curve:
    """Return the pack's voltage over state of charge, at rest, at full power and regenerating."""
    ocv = book.car.line("pack.cell.ocv")
    series = book.number("pack.series_cells")
    soc = np.linspace(0.0, 1.0, SOC_POINTS)
    rest = series * np.interp(soc, ocv.x, ocv.y)
    lines = [Series("at rest", "voltage", "V", _points(rest))]
    resistance = book.number("pack.resistance")
    for label, current, sign in (
        ("at full power, 10 s", "current.peak_demand", -1.0),
        ("at the strongest regeneration, 10 s", "regen.peak_current", 1.0),
    ):
        amps = book.get(current)
        if amps is not None:
            lines.append(Series(label, "voltage", "V", _points(rest + sign * amps * resistance)))
    return Curve(
        "pack.voltage",
        "pack voltage against state of charge",
        Axis("state of charge", "fraction", "1", _points(soc)),
        tuple(lines),
        voltage_windows(book),
        ("part-data-sheet",),
    )


def _city_trace(book: FigureBook) -> Curve:
    """Return speed, power, voltage, current, charge and temperatures over one city cycle."""
    run = book.recorded.get("city") or runs.recorded_cycle(
        setup(book), "udds", soc=book.number("pack.window_top")
    )
    columns = {name: i for i, name in enumerate(COLUMNS)}
    return Curve(
        "run.city",
        "one city cycle (UDDS)",
        Axis("time", "time", "s", _points(run.trace[:, columns["time"]])),
        tuple(
            Series(label, kind, unit, _points(run.trace[:, columns[name]]))
            for name, label, kind, unit in _TRACES
        ),
        sources=("us-40cfr86-app1-a",),
    )
