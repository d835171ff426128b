"""Drive: torque and speed limits, gearing, no-load voltage of a motor, losses at its ratings."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.stages.drive_ratings import ratings
from swapwright.base.figure import Value
from swapwright.physics.drive.gearing import overall_ratio, road_speed, tractive_force
from swapwright.physics.drive.limit import lesser_speed, lesser_torque
from swapwright.physics.drive.motor import (
    base_speed,
    corner_speed,
    current_limited_torque,
    torque_current,
)
from swapwright.physics.drive.motor_loss import PERMANENT_MAGNET
from swapwright.physics.drive.motor_voltage import speed_at_back_emf
from swapwright.physics.drive.regen import regen_force_limit
from swapwright.standards.voltage_class import MAX_CLASS_A_DC

ASKED_FOR = (
    "torque_cap",
    "speed_cap",
    "cap_phase_current",
    "corner_speed",
    "motor_phase_current",
    "lowest_overall",
    "tallest_overall",
    "top_speed",
    "peak_force",
    "peak_power",
    "continuous_power",
    "continuous_phase_current",
)
"""A unit's figures that others and the rules ask for: all missing where its motor is."""

TURNED = ("turned_speed", "highest_speed", "back_emf_at_limit")
"""A unit's figures that its top speed on the road is needed for (`stages.turning`)."""


def drive(book: FigureBook) -> None:
    """Write the figures of every drive unit."""
    prefixes = drive_parts.units(book)
    if "drive" not in prefixes:
        lacking = {f"unit.{figure}": ("drive.motor",) for figure in (*ASKED_FOR, *TURNED)}
        book.missing.update(lacking)
    for prefix in prefixes:
        name = drive_parts.figure_prefix(prefix)
        with book.attempt(*(f"{name}.{figure}" for figure in ASKED_FOR)):
            complete = drive_parts.motor(book, prefix)
            drive_parts.inverter(book, prefix, complete)
            _limits(book, prefix, name)
            _gearing(book, prefix, name)
            _back_emf(book, prefix, name)
            ratings(book, prefix, name, complete)
    _totals(book)
    book.make(
        regen_force_limit,
        "regen.force_limit",
        label="regeneration limit at the road",
        wheel_torque="drive.regen.wheel_torque",
        radius="tyre.radius",
    )


def _totals(book: FigureBook) -> None:
    """Write what all units together give at the road and by their ratings."""
    for figure_id, label, unit, of, kind in (
        (
            "drive.unlimited_force",
            "force at the road at the torque limits",
            "N",
            "{unit}.peak_force",
            "force",
        ),
        (
            "drive.peak_rating",
            "peak power of the motors",
            "W",
            "{path}.motor.peak_power",
            "power",
        ),
        (
            "drive.continuous_rating",
            "continuous power of the motors",
            "W",
            "{path}.motor.continuous_power",
            "power",
        ),
    ):
        drive_parts.total(book, figure_id, label, unit, of, kind)


def _least(
    book: FigureBook,
    function: Callable[..., float],
    figure_id: str,
    label: str,
    limits: list[str],
) -> None:
    """Fold the limits that are there into one by the lesser of two."""
    there = [limit for limit in limits if book.has(limit)]
    first = there[0]
    for step, second in enumerate(there[1:], start=1):
        last = step == len(there) - 1
        made = figure_id if last else f"{figure_id}.{step}"
        book.make(function, made, label=label, first=first, second=second)
        first = made
    if len(there) == 1:
        book.make(function, figure_id, label=label, first=first, second=first)


def _limits(book: FigureBook, prefix: str, name: str) -> None:
    motor, inverter = f"{prefix}.motor", f"{prefix}.inverter"
    book.make(
        corner_speed,
        f"{name}.corner_speed",
        peak_power=f"{motor}.peak_power",
        peak_torque=f"{motor}.peak_torque",
    )
    book.make(
        current_limited_torque,
        f"{name}.phase_torque",
        label="torque at the inverter's phase current limit",
        torque_per_amp=f"{motor}.torque_per_amp",
        phase_current=f"{inverter}.phase_current_limit",
    )
    _least(
        book,
        lesser_torque,
        f"{name}.torque_cap",
        "torque limit of motor, inverter and software",
        [
            f"{motor}.peak_torque",
            f"{name}.phase_torque",
            f"{prefix}.torque_limit",
        ],
    )
    _least(
        book,
        lesser_speed,
        f"{name}.speed_cap",
        "speed limit of motor and software",
        [f"{motor}.max_speed", f"{prefix}.speed_limit"],
    )
    book.make(
        torque_current,
        f"{name}.cap_phase_current",
        label="phase current at the torque limit",
        torque=f"{name}.torque_cap",
        torque_per_amp=f"{motor}.torque_per_amp",
    )
    book.make(
        torque_current,
        f"{name}.motor_phase_current",
        label="phase current at the motor's peak torque",
        torque=f"{motor}.peak_torque",
        torque_per_amp=f"{motor}.torque_per_amp",
    )
    for state in ("full", "nominal", "empty"):
        book.make(
            base_speed,
            f"{name}.base_speed_{state}",
            label=f"base speed, pack {state}",
            test_base_speed=f"{name}.corner_speed",
            dc_voltage=f"pack.voltage_{state}",
            test_voltage=f"{motor}.test_voltage",
        )


def _gearing(book: FigureBook, prefix: str, name: str) -> None:
    gears = drive_parts.gears(book, prefix)
    gearbox = f"{prefix}.gearbox"
    efficiency = (
        f"{gearbox}.efficiency"
        if book.car.get(f"{gearbox}.efficiency") is not None
        else Value(1.0, "1", "default", "final-drive-none")
    )
    for number, ratio in gears:
        gear = f"{name}.gear{number}"
        book.make(
            overall_ratio,
            f"{gear}.overall",
            label=f"overall ratio, gear {number}",
            gearbox_ratio=ratio,
            final_drive=f"{prefix}.final_drive",
        )
        book.make(
            road_speed,
            f"{gear}.top_speed",
            label=f"road speed at the motor's limit, gear {number}",
            motor_speed=f"{name}.speed_cap",
            ratio=f"{gear}.overall",
            radius="tyre.radius",
        )
        book.make(
            tractive_force,
            f"{gear}.force",
            label=f"force at the road at the torque limit, gear {number}",
            torque=f"{name}.torque_cap",
            ratio=f"{gear}.overall",
            efficiency=efficiency,
            radius="tyre.radius",
        )
    overall = {number: book.get(f"{name}.gear{number}.overall") or 0.0 for number, _ in gears}
    lowest = max(overall, key=lambda number: overall[number])
    highest = min(overall, key=lambda number: overall[number])
    for figure_id, label, source, unit, kind in (
        (
            f"{name}.peak_force",
            "largest force at the road",
            f"{name}.gear{lowest}.force",
            "N",
            "force",
        ),
        (
            f"{name}.top_speed",
            "road speed the motor can reach",
            f"{name}.gear{highest}.top_speed",
            "m/s",
            "speed",
        ),
        (
            f"{name}.lowest_overall",
            "overall ratio of the lowest gear used",
            f"{name}.gear{lowest}.overall",
            "1",
            "ratio",
        ),
        (
            f"{name}.tallest_overall",
            "overall ratio of the tallest gear used",
            f"{name}.gear{highest}.overall",
            "1",
            "ratio",
        ),
    ):
        book.total(figure_id, label, unit, [("gear", source, 1.0)], kind)


def _back_emf(book: FigureBook, prefix: str, name: str) -> None:
    """Write where a turning permanent-magnet motor is itself a source, with its gating stopped."""
    motor = f"{prefix}.motor"
    if book.car.texts.get(f"{motor}.kind") != PERMANENT_MAGNET:
        return
    levels = (
        ("60v", "60 V dc", MAX_CLASS_A_DC),
        ("pack", "the full pack", "pack.voltage_full"),
        ("inverter", "the inverter's absolute maximum", f"{prefix}.inverter.absolute_max_voltage"),
    )
    for level, label, voltage in levels:
        book.make(
            speed_at_back_emf,
            f"{name}.back_emf_{level}_motor_speed",
            label=f"motor speed at which its back-EMF reaches {label}",
            voltage=voltage,
            back_emf=f"{motor}.back_emf",
        )
        book.make(
            road_speed,
            f"{name}.back_emf_{level}_speed",
            label=f"road speed at which the turning motor's back-EMF reaches {label}",
            motor_speed=f"{name}.back_emf_{level}_motor_speed",
            ratio=f"{name}.lowest_overall",
            radius="tyre.radius",
        )
