"""Charges an assessment runs on a car's cells: what they are given, and where the energy went."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook
from swapwright.assess.energy import stored_energy
from swapwright.assess.kernel_inputs import NO_LIMIT, cells_and_pack
from swapwright.base.errors import Missing
from swapwright.simulate.charge import (
    CHARGE_COLUMNS,
    CHARGE_ENDS,
    ChargeLedger,
    ChargeState,
    Plug,
    charge_loop,
)
from swapwright.simulate.inputs import Cells, Pack

FloatArray = NDArray[np.float64]

STEP, SHORTEST_STEP = 15.0, 0.25
"""Seconds; from 1 s to 15 s a charge of hours changes by a thousandth."""
LEAST_STEPS, ENOUGH_STEPS = 240, 2000
"""Steps of a charge at its full current: one from nearly full, over in minutes, goes in finer; one
of more than a working day on a household socket in longer."""
MOST_STEPS = 40_000
LONGEST = 7.0 * 24.0 * 3600.0
"""Seconds, as `TOO_LONG` says."""
ROOM = 1.5
SPARE_STEPS = 1_000
TOO_LONG = "a charge on this supply takes more than a week"
REFUSED = "the cells take no current at this temperature"
FULL_ALREADY = "charging.from is no lower than the state of charge the charge ends at"


@dataclass(frozen=True)
class Charging:
    """What a charge is given.

    ``power`` W into the pack, ``loads`` W beside it, ``efficiency`` 1 from the supply to both;
    ``current`` A of the pack at most, ``volts`` V it ends at; states of charge from and to;
    ``ambient`` K of the cells when it begins; ``taper`` A of the pack it ends at. ``conductance``
    W/K is the way of the whole pack's heat, ``around`` K what lies at its end.
    """

    power: float
    loads: float
    efficiency: float
    current: float
    volts: float
    start: float
    target: float
    ambient: float
    taper: float
    conductance: float
    around: float


@dataclass(frozen=True)
class ChargeRun:
    """One finished charge in steps of ``step`` s, each recorded in `CHARGE_COLUMNS`."""

    given: Charging
    cells: Cells
    pack: Pack
    step: float
    before: ChargeState
    after: ChargeState
    ledger: ChargeLedger
    trace: FloatArray

    @property
    def delivered(self) -> float:
        """Return the energy J into the pack and the loads beside it."""
        return self.ledger.energy + self.given.loads * self.ledger.time

    @property
    def drawn(self) -> float:
        """Return the energy J from the supply."""
        return self.delivered / self.given.efficiency

    @cached_property
    def stored(self) -> float:
        """Return the energy J the cells hold more at rest than before."""
        return stored_energy(self.cells, self.pack, self.after.charge) - stored_energy(
            self.cells, self.pack, self.before.charge
        )

    @property
    def end(self) -> float:
        """Return the state of charge at the end."""
        return 1.0 - self.after.charge / self.pack.capacity

    @cached_property
    def energy(self) -> Mapping[str, float]:
        """Return where the energy went, J: what was drawn positive, every use negative."""
        return MappingProxyType(
            {
                "from the supply": self.drawn,
                "charger": self.delivered - self.drawn,
                "pumps and controls": -self.given.loads * self.ledger.time,
                "cell resistance": -self.ledger.ohmic - self.ledger.polarisation,
                "cell relaxation": -self.ledger.relaxation,
                "stored in the cells": -self.stored,
            }
        )


def charged(book: FigureBook, given: Charging) -> ChargeRun:
    """Charge a car's cells; raise Missing where they refuse, or it takes too long."""
    cells, pack = cells_and_pack(book)
    series, parallel = pack.series, pack.parallel
    pack = pack._replace(
        max_voltage=given.volts / series,
        current_limit=min(given.current, NO_LIMIT) / parallel,
        conductance=given.conductance / (series * parallel),
    )
    if given.start >= given.target:
        raise Missing(reason=FULL_ALREADY)
    if given.power <= 0.0:
        raise Missing(reason="pumps and controls take all the supply gives")
    plug = Plug(
        power=given.power,
        taper=given.taper / parallel,
        target=(1.0 - given.target) * pack.capacity,
        ambient=given.around,
        coldest=book.get("pack.cell.min_charge_temperature") or 0.0,
    )
    before = ChargeState((1.0 - given.start) * pack.capacity, 0.0, 0.0, given.ambient)
    current = min(given.current, given.power / given.volts)
    whole = pack.capacity * parallel / current
    lasts = (given.target - given.start) * whole
    steady = _longest_step(pack)
    step = min(
        max(lasts / LEAST_STEPS, SHORTEST_STEP),
        max(STEP, float(math.ceil(lasts / ENOUGH_STEPS))),
        steady,
    )
    steps = min(int(ROOM * whole / step) + SPARE_STEPS, MOST_STEPS)
    after, ledger, trace = _run(cells, pack, plug, before, step, steps)
    if CHARGE_ENDS[int(ledger.end)] == "too long" and (steps < MOST_STEPS or step < STEP):
        step = min(STEP, steady)
        after, ledger, trace = _run(cells, pack, plug, before, step, MOST_STEPS)
    ended = CHARGE_ENDS[int(ledger.end)]
    if ended == "too long" or ledger.time > LONGEST:
        raise Missing(reason=TOO_LONG)
    if ended == "cells refuse" or not len(trace):
        raise Missing(reason=REFUSED)
    return ChargeRun(given, cells, pack, step, before, after, ledger, trace)


def _longest_step(pack: Pack) -> float:
    """Return the step s up to which cells settle at the air's warmth and do not swing about it."""
    rate = pack.conductance * pack.warming
    return 1.0 / rate if rate > 0.0 else math.inf


def _run(
    cells: Cells, pack: Pack, plug: Plug, before: ChargeState, step: float, steps: int
) -> tuple[ChargeState, ChargeLedger, FloatArray]:
    record = np.empty((steps, len(CHARGE_COLUMNS)))
    after, ledger, taken = charge_loop(cells, pack, plug, before, step, record)
    return after, ledger, record[:taken]
