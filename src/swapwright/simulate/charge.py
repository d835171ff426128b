"""A charge, step by step: as much power as is there, within current, cells and voltage, to its end.

The cell is the one the drive steps: rest voltage, ohmic resistance, two RC pairs and heat. Nothing
is told when to go over from one power to one voltage; each step takes the most its limits allow.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.pack.cell_step import (
    Cells,
    Look,
    OpenCell,
    Pack,
    close_cell,
    current_for_power,
    has_bends,
    lift,
    look_up,
    open_cell,
    over_bends,
)

FloatArray = NDArray[np.float64]

CHARGE_COLUMNS = ("time", "power", "volts", "current", "soc", "temperature", "limit")
"""What a charge writes a column of, per step, at the step's end: s, W, V, A, 1, K."""

CHARGE_LIMITS = ("power", "current", "cells", "voltage")
"""What holds the current of a step, by its code."""

CHARGE_ENDS = ("too long", "full enough", "current has died away", "cells refuse")
"""Why a charge ended, by its code."""

_WHOLE_FILTER = 1e18
"""A filled overload filter A^2: the current for good, not that of ten seconds."""
_NO_CEILING = 2.0
_NO_CURRENT = 1e-9
_WARM_ENOUGH = 1e-3


class Plug(NamedTuple):
    """What a charge is given, and when it ends.

    ``power`` W into the pack at most; ``taper`` A per cell it ends at once the voltage holds it;
    ``target`` C drawn per cell it ends at; ``ambient`` K; ``coldest`` K cells are charged at.
    The pack's own limits of voltage and current are those of the charge.
    """

    power: float
    taper: float
    target: float
    ambient: float
    coldest: float


class ChargeState(NamedTuple):
    """Where the cells are: C drawn since full, V over the RC pairs, K."""

    charge: float
    v1: float
    v2: float
    temperature: float


class ChargeLedger(NamedTuple):
    """What a charge came to: s, J of the whole pack, s held by voltage, hottest K, how it ended."""

    time: float
    energy: float
    ohmic: float
    polarisation: float
    relaxation: float
    held: float
    hottest: float
    end: float


@inlined
def held_by(
    pack: Pack, plug: Plug, look: Look, opened: OpenCell, wanted: float, temperature: float
) -> float:
    """Return what holds the current of a step, as a code of `CHARGE_LIMITS`; ``wanted`` A."""
    if wanted >= opened.least:
        return 0.0
    if temperature < plug.coldest or -opened.least >= look.charge:
        return 2.0
    return 1.0 if -opened.least >= pack.current_limit else 3.0


@kernel
def charge_loop(
    cells: Cells,
    pack: Pack,
    plug: Plug,
    state: ChargeState,
    dt: float,
    record: FloatArray,
) -> tuple[ChargeState, ChargeLedger, int]:
    """Charge in steps of ``dt`` s until an end or until ``record`` [steps, columns] is full.

    The last step is cut short where the target lies within it. Return the steps taken.
    """
    count = pack.series * pack.parallel
    each = -plug.power / count
    charge, v1, v2, temperature = state.charge, state.v1, state.v2, state.temperature
    time = energy = ohmic = polarisation = relaxation = held = end = 0.0
    hottest = temperature
    steps = 0
    while steps < record.shape[0] and end == 0.0:
        step = dt
        look = look_up(cells, pack, charge, temperature, step)
        opened = open_cell(
            cells, pack, look, charge, v1, v2, 0.0, _WHOLE_FILTER,
            temperature, _NO_CEILING, plug.coldest,
        )  # fmt: skip
        wanted = current_for_power(opened.volts, opened.ohms, each)
        current = max(wanted, opened.least)
        limit = held_by(pack, plug, look, opened, wanted, temperature)
        mean = opened.volts
        if has_bends(opened.line, charge, current * step):
            mean, current = over_bends(cells, pack, opened, charge, current, each, step)
        if current > -_NO_CURRENT:
            if limit == 3.0:
                end = 2.0
            elif temperature <= plug.ambient + _WARM_ENOUGH:
                end = 3.0
            current = 0.0
            mean = opened.volts
            step = 0.0 if end > 0.0 else dt
        elif charge + current * step <= plug.target:
            step = max((plug.target - charge) / current, 0.0)
            end = 1.0
            if step > 0.0:
                look = look_up(cells, pack, charge, temperature, step)
                opened = open_cell(
                    cells, pack, look, charge, v1, v2, 0.0, _WHOLE_FILTER,
                    temperature, _NO_CEILING, plug.coldest,
                )  # fmt: skip
                mean = opened.volts + lift(cells, pack, opened.line, charge, current * step)
        elif limit == 3.0 and -current <= plug.taper:
            end = 2.0
        if step <= 0.0:
            break
        closed = close_cell(cells, look, opened, mean, v1, v2, current, temperature)
        cooled = pack.conductance * (temperature - plug.ambient) * step
        charge += current * step
        v1, v2 = closed.v1, closed.v2
        temperature += (closed.heat - cooled) * pack.warming
        time += step
        energy -= closed.energy * count
        ohmic += closed.ohmic * count
        polarisation += closed.polarisation * count
        relaxation += closed.relaxation * count
        if limit == 3.0:
            held += step
        hottest = max(hottest, temperature)
        record[steps, 0] = time
        record[steps, 1] = -closed.energy * count / step
        record[steps, 2] = pack.series * (mean - opened.ohms * current)
        record[steps, 3] = -current * pack.parallel
        record[steps, 4] = 1.0 - charge * pack.per_capacity
        record[steps, 5] = temperature
        record[steps, 6] = limit
        steps += 1
    return (
        ChargeState(charge, v1, v2, temperature),
        ChargeLedger(time, energy, ohmic, polarisation, relaxation, held, hottest, end),
        steps,
    )
