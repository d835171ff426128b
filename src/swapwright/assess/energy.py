"""The energy ledger of a run: what the pack gave and where it went, closing from both sides."""

from __future__ import annotations

import numpy as np

from swapwright.simulate.demand import gears_in
from swapwright.simulate.inputs import Cells, Ledger, Pack, Setup, State


def stored_energy(cells: Cells, pack: Pack, charge: float) -> float:
    """Return the energy J the pack holds at rest above empty, with ``charge`` C drawn per cell.

    The exact integral of the piecewise linear rest voltage over charge, whose ends go on straight
    as they do in the time step: a run may draw a little more than there is.
    """
    ocv = cells.ocv
    width = 1.0 / (len(ocv) - 1)
    soc = 1.0 - charge / pack.capacity
    whole = max(min(int(soc // width), len(ocv) - 2), 0)
    part = soc - whole * width
    below = float(np.sum(ocv[1 : whole + 1] + ocv[:whole])) * 0.5 * width
    area = below + part * (ocv[whole] + 0.5 * part * (ocv[whole + 1] - ocv[whole]) / width)
    return float(area) * pack.capacity * pack.series * pack.parallel


def kinetic_energy(setup: Setup, state: State) -> float:
    """Return the kinetic energy J of the car with its turning parts."""
    return 0.5 * gears_in(setup, state.gear, state.gear_2).mass * state.speed**2


def energy_ledger(setup: Setup, before: State, after: State, ledger: Ledger) -> dict[str, float]:
    """Return where the pack's energy went, J: the pack's own positive, every use negative.

    The entries sum to zero within rounding; the stored energy is taken from the cells' states, not
    from the terminals, so the sum checks the run from independent sides.
    """
    return {
        "drawn from the cells": stored_energy(setup.cells, setup.pack, before.charge)
        - stored_energy(setup.cells, setup.pack, after.charge),
        "not delivered": ledger.unserved,
        "cell resistance": -ledger.ohmic - ledger.polarisation,
        "cell relaxation": -ledger.relaxation,
        "auxiliaries": -ledger.auxiliaries,
        "inverter": -ledger.inverter,
        "motor": -ledger.motor,
        "driveline": -ledger.driveline - ledger.spin_down,
        "tyres": -ledger.tyres,
        "air": -ledger.aero,
        "climb": -ledger.climb,
        "friction brakes": -ledger.friction,
        "speed": kinetic_energy(setup, before) - kinetic_energy(setup, after),
    }
