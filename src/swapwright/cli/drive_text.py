"""A drive as a person reads it."""

from __future__ import annotations

from swapwright.cli.console import Console
from swapwright.jobs.assumptions import assumed_inputs
from swapwright.jobs.drive import Driven
from swapwright.jobs.opening import Opened
from swapwright.jobs.telling import both_texts, in_one_unit, tell

WAYS = {
    "drawn from the cells": "given by the cells",
    "climb": "height gained",
    "speed": "speed gained",
}
BAR = 30


def write_drive(console: Console, driven: Driven, opened: Opened, profile: str) -> None:
    """Write what a drive took, where the energy went and what held the car back."""
    order = driven.order
    name = opened.car.texts.get("car.name", "") or "a car without a name"
    again = ", repeated until the usable window is empty" if order.until_empty else ""
    console.line(f"{name}: {order.trace.title}, {order.day} day{again}", bold=True)
    _summary(console, driven, opened, profile)
    _split(console, driven, profile)
    _limits(console, driven, profile)
    _extremes(console, driven, profile)
    if driven.swings:
        console.heading("What moves the consumption most")
        nominal = driven.wall_per_distance.value
        ranked = sorted(driven.swings.items(), key=lambda row: -max(map(abs, row[1])))
        rows = [("input", "at its low end", "at its high end")]
        for path, ends in ranked:
            shares = [f"{100.0 * end / nominal:+.1f} %" if nominal else "" for end in ends]
            rows.append((path, shares[0], shares[1]))
        console.columns(rows)


def _summary(console: Console, driven: Driven, opened: Opened, profile: str) -> None:
    wall = driven.wall_per_distance
    shown = [
        tell(wall.value, "consumption", profile, world=world, low=wall.low, high=wall.high)
        for world in ("electric", "engine")
    ]
    soc = [tell(part, "fraction", profile) for part in (driven.soc_start, driven.soc_end)]
    rows = [
        ("distance", tell(driven.distance, "distance", profile)),
        ("time", tell(driven.duration, "time", profile)),
        ("state of charge", f"{soc[0]} to {soc[1]}"),
        ("from the battery", both_texts(driven.battery_energy, "energy", profile)),
        ("from the wall", both_texts(driven.wall_energy, "energy", profile)),
        ("consumption from the wall", " = ".join(shown)),
        ("at the wheels, driving", tell(driven.wheel_energy_out, "energy", profile)),
        ("at the wheels, braking", tell(driven.wheel_energy_in, "energy", profile)),
        ("auxiliaries", tell(driven.auxiliary_power, "power", profile)),
    ]
    console.columns(rows)
    for assumed in assumed_inputs(driven.assumed, opened.car, profile):
        console.line(f"  {assumed.path}, {assumed.text}, is assumed")
    if driven.soc_end < driven.floor and not driven.order.until_empty:
        console.wrapped("The pack ran below its usable window on the way.", indent=2)


def _split(console: Console, driven: Driven, profile: str) -> None:
    """Write the energies, each as a share of what was given."""
    console.heading("Where the energy went")
    given = sum(energy for energy in driven.energies.values() if energy > 0.0)
    block = "\u2588" if console.can_draw else "#"
    texts = in_one_unit({name: abs(energy) for name, energy in driven.energies.items()})
    wide = max(map(len, texts.values()))
    rows = []
    for name, energy in driven.energies.items():
        share = energy / given if given else 0.0
        if abs(share) < 5e-5:
            continue
        way = WAYS.get(name, name)
        if share > 0.0 and name != "drawn from the cells":
            way = f"{name}, given back" if name in WAYS else name
        percent = tell(abs(share), "fraction", profile, digits=2)
        rows.append((way, texts[name].rjust(wide), percent, block * round(BAR * abs(share))))
    console.columns(rows)


def _limits(console: Console, driven: Driven, profile: str) -> None:
    console.heading("What held the car back")
    rows = [(name, tell(seconds, "time", profile)) for name, seconds in driven.limits.items()]
    if rows:
        console.columns(rows)
    else:
        console.line("  nothing")
    if driven.shortfall > 0.0:
        console.line(f"  {tell(driven.shortfall, 'time', profile)} behind the cycle")


def _extremes(console: Console, driven: Driven, profile: str) -> None:
    console.heading("Extremes")
    volts = [tell(each, "voltage", profile) for each in (driven.least_voltage, driven.most_voltage)]
    console.columns(
        [
            ("pack voltage", f"{volts[0]} to {volts[1]}"),
            (
                "current out, in",
                f"{tell(driven.most_current, 'current', profile)}, "
                f"{tell(driven.most_charge_current, 'current', profile)}",
            ),
            ("hottest winding", tell(driven.hottest_motor, "temperature", profile)),
            ("hottest inverter", tell(driven.hottest_inverter, "temperature", profile)),
            ("hottest cell", tell(driven.hottest_cell, "temperature", profile)),
        ]
    )
