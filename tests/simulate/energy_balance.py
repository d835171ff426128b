"""The energy balances of a run, each from sides that share no arithmetic with the time step."""

from __future__ import annotations

import numpy as np

from swapwright.simulate.inputs import Ledger, Setup, State


def stored(car: Setup, charge: float) -> float:
    """The pack's energy J at rest: the area under the rest voltage, by many small trapezoids.

    Below empty and above full the curve's last piece goes straight on.
    """
    soc = 1.0 - charge / car.pack.capacity
    ocv = car.cells.ocv
    inner = np.linspace(0.0, 1.0, len(ocv))
    places = np.concatenate([[-1.0], inner, [2.0]])
    volts = np.concatenate(
        [
            [ocv[0] - (ocv[1] - ocv[0]) / inner[1]],
            ocv,
            [ocv[-1] + (ocv[-1] - ocv[-2]) / inner[1]],
        ]
    )
    knots = np.unique(np.append(places[places < soc], soc))
    area = np.trapezoid(np.interp(knots, places, volts), knots)
    return area * car.pack.capacity * car.pack.series * car.pack.parallel


def moving(car: Setup, state: State) -> float:
    """The kinetic energy J with turning rotors."""
    mass = car.body.rolling_mass
    units = ((car.drive.first, state.gear), (car.drive.second, state.gear_2))
    for unit, gear in units[: car.drive.units]:
        mass += unit.inertia * (unit.speed_ratio[int(gear)] * car.drive.ratio_scale) ** 2
    return 0.5 * mass * state.speed**2


def imbalances(car: Setup, before: State, after: State, book: Ledger) -> dict[str, float]:
    """The three balances of a run, each over its largest entry."""
    net = book.terminal_out - book.terminal_in
    work = book.wheel_positive - book.wheel_negative
    losses = book.driveline + book.motor + book.inverter
    spin = book.spin_up - book.spin_down
    used = work + losses + book.auxiliaries + book.friction + book.spin_up - book.unserved
    drawn = stored(car, before.charge) - stored(car, after.charge)
    gained = moving(car, after) - moving(car, before) - spin
    largest = max(book.terminal_out, book.wheel_positive, book.wheel_negative, 1.0)
    return {
        "pack": (drawn - net - book.ohmic - book.polarisation - book.relaxation) / largest,
        "road": (work - gained - book.tyres - book.aero - book.climb) / largest,
        "drive": (net - used) / largest,
    }


def worst(car: Setup, before: State, after: State, book: Ledger) -> float:
    return max(abs(value) for value in imbalances(car, before, after, book).values())
