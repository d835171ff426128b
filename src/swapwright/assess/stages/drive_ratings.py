"""What a drive unit loses and draws at its peak and continuous ratings, and its heat model."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.base.figure import LookedUp
from swapwright.physics.drive.generic_motor import GenericMotor
from swapwright.physics.drive.inverter import inverter_loss
from swapwright.physics.drive.limit import lesser_speed, lesser_torque
from swapwright.physics.drive.motor import corner_speed, power_limited_torque, shaft_power
from swapwright.physics.drive.thermal import (
    conductance_from_continuous,
    heat_capacity_from_mass,
    heat_capacity_from_peak,
)
from swapwright.standards.ratings import (
    COPPER_SHARE,
    COPPER_SPECIFIC_HEAT,
    RATING_AMBIENT,
    RUNNING_WINDING_TEMPERATURE,
)

OWN_PEAK = "own_peak"
"""The motor's peak by its data sheet, whatever the software allows: its heat model rests on it."""


def ratings(book: FigureBook, prefix: str, name: str, complete: GenericMotor) -> None:
    """Write losses and power drawn at the peak and continuous points, and the heat model."""
    motor = f"{prefix}.motor"
    for point, power, torque in (
        ("peak", f"{motor}.peak_power", f"{name}.torque_cap"),
        ("continuous", f"{motor}.continuous_power", f"{motor}.continuous_torque"),
        (OWN_PEAK, f"{motor}.peak_power", f"{motor}.peak_torque"),
    ):
        _point(book, name, point, power, torque)
        _motor_loss(book, prefix, name, point, complete)
        if point != OWN_PEAK:
            _power(book, prefix, name, point)
    _heat(book, prefix, name)


def _point(book: FigureBook, name: str, point: str, power: str, torque: str) -> None:
    """Write the speed and torque at which a rating's power meets its torque."""
    book.make(
        corner_speed,
        f"{name}.{point}_speed",
        label=f"motor speed at which {point} power meets {point} torque",
        peak_power=power,
        peak_torque=torque,
    )
    book.make(
        lesser_speed,
        f"{name}.{point}_point_speed",
        label=f"speed of the {point} point",
        first=f"{name}.{point}_speed",
        second=f"{name}.speed_cap",
    )
    book.make(
        power_limited_torque,
        f"{name}.{point}_power_torque",
        label=f"torque that {point} power allows there",
        power=power,
        speed=f"{name}.{point}_point_speed",
    )
    book.make(
        lesser_torque,
        f"{name}.{point}_point_torque",
        label=f"torque of the {point} point",
        first=torque,
        second=f"{name}.{point}_power_torque",
    )


def _loss_source(measured: bool, complete: GenericMotor) -> str:
    if measured:
        return "part-data-sheet"
    return "motor-losses-typical" if complete.assumed else "krause-2002-pm-machine"


def _motor_loss(
    book: FigureBook, prefix: str, name: str, point: str, complete: GenericMotor
) -> None:
    speed = book.number(f"{name}.{point}_point_speed")
    torque = book.number(f"{name}.{point}_point_torque")
    loss, current = drive_parts.point_loss(book, prefix, complete, speed, torque)
    measured = drive_parts.efficiency_map(book, prefix) is not None
    cell = LookedUp(
        "efficiency map" if measured else "motor loss terms",
        f"{speed:.1f} rad/s",
        f"{torque:.1f} N.m",
        _loss_source(measured, complete),
    )
    inputs = {
        "speed": book.value(f"{name}.{point}_point_speed"),
        "torque": book.value(f"{name}.{point}_point_torque"),
        "voltage": book.value("pack.voltage_nominal"),
    }
    for what, label, si, unit, kind in (
        ("motor_loss", "motor loss", loss, "W", "power"),
        ("phase_current", "phase current", current, "A", "current"),
    ):
        book.look_up(
            f"{name}.{point}_{what}",
            f"{label} at the {point} point",
            si,
            unit,
            cell,
            kind,
            **inputs,
        )


def _power(book: FigureBook, prefix: str, name: str, point: str) -> None:
    _inverter_loss(
        book,
        prefix,
        f"{name}.{point}_inverter_loss",
        f"inverter loss at the {point} point",
        f"{name}.{point}_phase_current",
    )
    book.make(
        shaft_power,
        f"{name}.{point}_shaft_power",
        label=f"shaft power at the {point} point",
        torque=f"{name}.{point}_point_torque",
        speed=f"{name}.{point}_point_speed",
    )
    book.total(
        f"{name}.{point}_power",
        f"power drawn from the pack at the {point} point",
        "W",
        [
            ("shaft", f"{name}.{point}_shaft_power", 1.0),
            ("motor loss", f"{name}.{point}_motor_loss", 1.0),
            ("inverter loss", f"{name}.{point}_inverter_loss", 1.0),
        ],
        "power",
    )


def _inverter_loss(book: FigureBook, prefix: str, figure_id: str, label: str, current: str) -> None:
    book.make(
        inverter_loss,
        figure_id,
        label=label,
        loss_fixed=f"{prefix}.inverter.loss_fixed",
        loss_linear=f"{prefix}.inverter.loss_linear",
        loss_square=f"{prefix}.inverter.loss_square",
        phase_current=current,
    )


def _heat(book: FigureBook, prefix: str, name: str) -> None:
    """Write the heat path and capacity of the winding and the heat path of the inverter."""
    book.make(
        conductance_from_continuous,
        f"{name}.winding_conductance",
        label="heat path of the winding",
        continuous_loss=f"{name}.continuous_motor_loss",
        max_temperature=f"{prefix}.motor.max_winding_temperature",
        ambient=RATING_AMBIENT,
    )
    _winding_capacity(book, prefix, name)
    steady = f"{prefix}.inverter.phase_current_continuous"
    _inverter_loss(
        book,
        prefix,
        f"{name}.inverter_rated_loss",
        "inverter loss at its continuous current",
        steady if book.has(steady) else f"{name}.continuous_phase_current",
    )
    book.make(
        conductance_from_continuous,
        f"{name}.inverter_conductance",
        label="heat path of the inverter",
        continuous_loss=f"{name}.inverter_rated_loss",
        max_temperature=f"{prefix}.inverter.max_temperature",
        ambient=RATING_AMBIENT,
    )


def _winding_capacity(book: FigureBook, prefix: str, name: str) -> None:
    """Write the winding's heat capacity from the peak rating, or from the copper.

    A peak that loses no more than the continuous rating never passes the limit and tells nothing.
    """
    peak, lasting = f"{name}.{OWN_PEAK}_motor_loss", f"{name}.continuous_motor_loss"
    figure_id, label = f"{name}.winding_heat_capacity", "heat capacity of the winding"
    if book.has(peak, lasting) and book.number(peak) <= book.number(lasting):
        book.make(
            heat_capacity_from_mass,
            figure_id,
            label=label,
            mass=f"{prefix}.motor.mass",
            share=COPPER_SHARE,
            specific_heat=COPPER_SPECIFIC_HEAT,
        )
        return
    book.make(
        heat_capacity_from_peak,
        figure_id,
        label=label,
        peak_loss=peak,
        peak_time=f"{prefix}.motor.peak_time",
        conductance=f"{name}.winding_conductance",
        start=RUNNING_WINDING_TEMPERATURE,
        max_temperature=f"{prefix}.motor.max_winding_temperature",
        ambient=RATING_AMBIENT,
    )
