"""What the drive can put on the road at each speed, with the pack's voltage in the loop.

At each speed, state of charge and temperature the force is the least of tyre grip, motor, inverter,
dc current, voltage and cell limits; each point names the limit that sets it. The pack's voltage
sags under the very power that is asked, so voltage and power are brought together by iteration.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import kernel
from swapwright.physics.pack.cell_step import current_for_power, look_up, open_cell
from swapwright.simulate.demand import (
    choose_gear,
    forces_available,
    gears_in,
    resistance,
    split,
    torque_left,
)
from swapwright.simulate.inputs import Setup, State
from swapwright.simulate.limit import TYRE_GRIP, force_within

FloatArray = NDArray[np.float64]

_ROUNDS = 12
_CLOSE = 1e-5
"""Volts within which voltage and power agree."""
_INSTANT = 0.1
_ASK_FOR_ALL = 1.0e6

DELIVERED = ("force", "limit", "power", "volts", "current", "gear", "road_load")
"""The columns `deliverable_force` writes."""


@kernel
def deliverable_force(
    setup: Setup, state: State, speeds: FloatArray, sin_grade: float, out: FloatArray
) -> None:
    """Write, for each road speed m/s, what the car can deliver in a state (columns `DELIVERED`).

    Force N at the road, the code of its limit, pack power W, volts V, current A, the gear's place
    in the list, and the road load N there. The state is taken as it stands: rested cells of a
    `fresh` state give the first instant of a pull.
    """
    body, drive, cells, pack = setup.body, setup.drive, setup.cells, setup.pack
    look = look_up(cells, pack, state.charge, state.cell_temperature, _INSTANT)
    opened = open_cell(
        cells,
        pack,
        look,
        state.charge,
        state.v1,
        state.v2,
        state.overload,
        state.overload_charge,
        state.cell_temperature,
        1.0,
        0.0,
    )
    count = pack.series * pack.parallel
    most_power = count * opened.most * (opened.volts - opened.ohms * opened.most)
    budget = most_power - body.auxiliary_power
    left, left_2 = torque_left(setup, state)
    for i in range(speeds.shape[0]):
        speed = speeds[i]
        volts = pack.series * opened.volts
        force, limit, amps, power = 0.0, 0.0, 0.0, 0.0
        gear, gear_2 = 0.0, 0.0
        for _ in range(_ROUNDS):
            if drive.first.gears > 1:
                gear = choose_gear(
                    drive.first, drive.ratio_scale, gear, speed, _ASK_FOR_ALL, volts, left
                )
            if drive.units > 1 and drive.second.gears > 1:
                gear_2 = choose_gear(
                    drive.second, drive.ratio_scale, gear_2, speed, _ASK_FOR_ALL, volts, left_2
                )
            gears = gears_in(setup, gear, gear_2)
            first, second, limit = forces_available(drive, gears, speed, volts, left, left_2)
            force = first + second
            if body.drive_force_limit < force:
                force = body.drive_force_limit
                limit = TYRE_GRIP
            power = split(drive, gears, speed, force, first, second).electrical
            if power > budget:
                force = force_within(setup, gears, speed, force, first, second, budget)
                limit = opened.most_limit
                power = budget
            power += body.auxiliary_power
            amps = current_for_power(opened.volts, opened.ohms, min(power, most_power) / count)
            sagged = pack.series * (opened.volts - opened.ohms * amps)
            if abs(sagged - volts) < _CLOSE:
                break
            volts = 0.2 * volts + 0.8 * sagged
        road = resistance(body, speed, sin_grade)
        out[i, 0] = force
        out[i, 1] = limit
        out[i, 2] = power
        out[i, 3] = volts
        out[i, 4] = amps * pack.parallel
        out[i, 5] = gear
        out[i, 6] = road.rolling + road.aero + road.climb
