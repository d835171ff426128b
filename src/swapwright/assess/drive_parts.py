"""The drive's parts with what their data sheets leave out filled by the typical of their kind.

What is filled is entered in the book under its build path, with the default's source as its past,
so it shows as assumed wherever it is used.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook, Source
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.table import Line, Map
from swapwright.build.car import Car
from swapwright.physics.drive.efficiency_map import loss_from_efficiency
from swapwright.physics.drive.generic_inverter import GenericInverter, complete_inverter
from swapwright.physics.drive.generic_motor import GenericMotor, complete_motor
from swapwright.physics.drive.inverter import InverterTerms
from swapwright.physics.drive.motor_loss import DC, MotorTerms, motor_losses
from swapwright.standards.ratings import (
    DEFAULT_PHASE_CURRENT_MARGIN,
    INVERTER_MAX_TEMPERATURE,
    RUNNING_WINDING_TEMPERATURE,
)

FloatArray = NDArray[np.float64]

_INVERTER_TERMS = ("loss_fixed", "loss_linear", "loss_square")
_UNITS = {
    "peak_torque": "N.m",
    "max_speed": "rad/s",
    "test_voltage": "V",
    "torque_per_amp": "N.m/A",
    "phase_resistance": "ohm",
    "back_emf": "V/(rad/s)",
    "no_load_current": "A",
    "brush_drop": "V",
    "iron_linear": "W/(rad/s)",
    "iron_square": "W/(rad/s)^2",
    "drag_linear": "N.m",
    "drag_cubic": "W/(rad/s)^3",
    "continuous_power": "W",
    "continuous_torque": "N.m",
    "inertia": "kg.m^2",
    "mass": "kg",
    "loss_fixed": "W",
    "loss_linear": "V",
    "loss_square": "ohm",
}

DIRECT = Value(1.0, "1", "default", "final-drive-none")
"""The ratio of a motor that drives a final drive without a gearbox."""

PREFIXES = ("drive", "drive.second")

BRAKING_WINDINGS = ("separately-excited", "permanent-magnet")
SERIES_WINDINGS = ("series", "compound")
"""Windings of a dc motor that brake as a generator, and those whose field carries the armature's
own current, which falls away or turns round as it brakes."""


def units(book: FigureBook) -> tuple[str, ...]:
    """Return the build paths of the drive units the car has."""
    return tuple(prefix for prefix in PREFIXES if f"{prefix}.motor" in book.car.part_names)


def figure_prefix(prefix: str) -> str:
    """Return what a unit's figure ids begin with: ``unit`` or ``unit2``."""
    return "unit" if prefix == "drive" else "unit2"


def can_regenerate(car: Car, prefix: str) -> bool:
    """Tell whether a unit's motor is known to brake as a generator: all but some dc ones."""
    winding = car.texts.get(f"{prefix}.motor.winding")
    return car.texts.get(f"{prefix}.motor.kind") != DC or winding in BRAKING_WINDINGS


def may_regenerate(car: Car, prefix: str) -> bool:
    """Tell whether a unit's motor brakes as a generator, or may for all the file says."""
    winding = car.texts.get(f"{prefix}.motor.winding")
    return car.texts.get(f"{prefix}.motor.kind") != DC or winding not in SERIES_WINDINGS


def total(book: FigureBook, figure_id: str, label: str, unit: str, of: str, kind: str) -> None:
    """Sum a figure or entry over the drive units; ``of`` has {unit} and {path} to fill."""
    rows: list[tuple[str, Source, float]] = [
        (path, of.format(unit=figure_prefix(path), path=path), 1.0)
        for path in units(book) or ("drive",)
    ]
    book.total(figure_id, label, unit, rows, kind)


def _assume(book: FigureBook, path: str, si: float, unit: str, source: str) -> None:
    if book.car.get(path) is None and path not in book.values:
        book.values[path] = Value(si, unit, "default", source)
        book.assumed.append(path)


def motor(book: FigureBook, prefix: str) -> GenericMotor:
    """Return a unit's motor, completed; raise Missing without a kind or a peak power."""
    path = f"{prefix}.motor"
    kind = book.car.text(f"{path}.kind")
    book.car.value(f"{path}.peak_power")
    given = {
        name: value.si
        for name in (*_UNITS, "peak_power")
        if (value := book.car.get(f"{path}.{name}")) is not None
    }
    complete = _completed(kind, tuple(given.items()))
    for name in complete.assumed:
        holder = complete if hasattr(complete, name) else complete.terms
        _assume(book, f"{path}.{name}", getattr(holder, name), _UNITS[name], "motor-losses-typical")
    return complete


@lru_cache(maxsize=32)
def _completed(kind: str, given: tuple[tuple[str, float], ...]) -> GenericMotor:
    return complete_motor(kind, dict(given))


def envelope(book: FigureBook, prefix: str, complete: GenericMotor) -> Line:
    """Return the motor's torque envelope, from its part or from its ratings."""
    try:
        return book.car.line(f"{prefix}.motor.envelope")
    except Missing:
        return complete.envelope


def inverter(book: FigureBook, prefix: str, complete: GenericMotor) -> GenericInverter:
    """Return a unit's inverter losses, completed from the motor's rating where not given."""
    path = f"{prefix}.inverter"
    peak = complete.terms.peak_current
    _assume(
        book,
        f"{path}.phase_current_limit",
        peak * DEFAULT_PHASE_CURRENT_MARGIN.si,
        "A",
        DEFAULT_PHASE_CURRENT_MARGIN.ref,
    )
    limit = book.number(f"{path}.phase_current_limit")
    filled = complete_inverter(
        rated_power=complete.terms.peak_power,
        phase_current_limit=limit,
        given={
            name: value.si
            for name in _INVERTER_TERMS
            if (value := book.car.get(f"{path}.{name}")) is not None
        },
    )
    for name, si in (
        ("loss_fixed", filled.terms.fixed),
        ("loss_linear", filled.terms.linear),
        ("loss_square", filled.terms.square),
    ):
        _assume(book, f"{path}.{name}", si, _UNITS[name], "inverter-losses-typical")
    _assume(
        book,
        f"{path}.max_temperature",
        INVERTER_MAX_TEMPERATURE.si,
        "K",
        INVERTER_MAX_TEMPERATURE.ref,
    )
    return filled


def inverter_terms(book: FigureBook, prefix: str) -> InverterTerms:
    """Return the loss terms of a unit's inverter, as given or as `inverter` filled them."""
    return InverterTerms(
        fixed=book.number(f"{prefix}.inverter.loss_fixed"),
        linear=book.number(f"{prefix}.inverter.loss_linear"),
        square=book.number(f"{prefix}.inverter.loss_square"),
    )


def loss_and_current(
    terms: MotorTerms,
    efficiency: Map | None,
    speeds: FloatArray,
    torques: FloatArray,
    dc_voltage: float,
) -> tuple[FloatArray, FloatArray]:
    """Return a motor's loss W and phase current A rms over [speed, torque], running warm.

    The loss is a measured efficiency map's where there is one, else that of the loss terms.
    """
    losses = motor_losses(
        terms=terms,
        speeds=speeds,
        torques=torques,
        dc_voltage=dc_voltage,
        winding_temperature=RUNNING_WINDING_TEMPERATURE.si,
    )
    if efficiency is None:
        return losses.total, losses.current
    return loss_from_efficiency(efficiency, speeds, torques), losses.current


def efficiency_map(book: FigureBook, prefix: str) -> Map | None:
    """Return the motor's measured efficiency map, or None."""
    table = book.car.tables.get(f"{prefix}.motor.efficiency_map")
    return table if isinstance(table, Map) else None


def point_loss(
    book: FigureBook, prefix: str, complete: GenericMotor, speed: float, torque: float
) -> tuple[float, float]:
    """Return a motor's loss W and phase current A rms at one speed rad/s and torque N.m."""
    voltage = book.number("pack.voltage_nominal")
    return _at_point(complete.terms, efficiency_map(book, prefix), speed, torque, voltage)


@lru_cache(maxsize=16)
def _at_point(
    terms: MotorTerms, efficiency: Map | None, speed: float, torque: float, voltage: float
) -> tuple[float, float]:
    """Return a motor's loss W and phase current A rms at one point; every cycle stands still."""
    loss, current = loss_and_current(
        terms, efficiency, np.array([speed]), np.array([torque]), voltage
    )
    return float(loss[0, 0]), float(current[0, 0])


def gears(book: FigureBook, prefix: str) -> tuple[tuple[int, Value], ...]:
    """Return the gears in use as (number, ratio), lowest gear first; without a gearbox, direct."""
    path = f"{prefix}.gearbox"
    if path not in book.car.part_names:
        final_drive = book.car.get(f"{prefix}.final_drive")
        if final_drive is None or final_drive.origin == "default":
            raise Missing(path)
        return ((1, DIRECT),)
    ratios = book.car.list(f"{path}.ratios")
    use = book.car.numbers.get(f"{path}.use")
    numbers = [int(value.si) for value in use] if use else list(range(1, len(ratios) + 1))
    wrong = [number for number in numbers if not 1 <= number <= len(ratios)]
    if wrong:
        raise Missing(f"{path}.use")
    in_use = [(number, ratios[number - 1]) for number in numbers]
    return tuple(sorted(in_use, key=lambda gear: -gear[1].si))
