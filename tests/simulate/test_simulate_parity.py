"""The compiled run against the same source run by the interpreter."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import plain_car
import pytest

from swapwright.simulate.charge import CHARGE_COLUMNS, ChargeState, Plug, charge_loop
from swapwright.simulate.run import drive_trace, fresh

CASES = {
    "one gear, limits far away": ({}, "udds", 1e-12),
    "three gears": ({"drive": plain_car.drive(gears=3)}, "udds", 1e-12),
    "two units": ({"drive": plain_car.drive(units=2)}, "udds", 1e-12),
    "a controller that holds back": (
        {"drive": plain_car.held_back(plain_car.drive(gears=3), gears=(0.6, 0.9, 1.0))},
        "us06",
        1e-9,
    ),
    "limits that bite": ({"pack": plain_car.pack(current_limit=90.0)}, "us06", 1e-9),
}

CHARGE = "a charge"


def results() -> dict[str, list[float]]:
    """Run every case and return state and ledger as plain numbers."""
    found = {}
    for name, (parts, cycle, _) in CASES.items():
        car = plain_car.car(**parts)
        state, book = drive_trace(car, fresh(car, soc=0.9), plain_car.trace(cycle))
        found[name] = [float(value) for value in (*state, *book)]
    record = np.zeros((2_000, len(CHARGE_COLUMNS)))
    plug = Plug(power=9e3, taper=3.0, target=0.0, ambient=293.15, coldest=273.15)
    pack = plain_car.pack(max_voltage=4.15, current_limit=40.0)
    empty = ChargeState(charge=0.9 * pack.capacity, v1=0.0, v2=0.0, temperature=293.15)
    state, book, steps = charge_loop(plain_car.cells(), pack, plug, empty, 30.0, record)
    sums = record[:steps].sum(axis=0)
    found[CHARGE] = [float(value) for value in (*state, *book, steps, *sums)]
    return found


@pytest.fixture(scope="module")
def interpreted() -> dict[str, list[float]]:
    code = "import json, test_simulate_parity as t; print(json.dumps(t.results()))"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=Path(__file__).parent,
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", [*CASES, CHARGE])
def test_compiled_and_interpreted_runs_give_one_ledger(name, interpreted):
    ours, theirs = np.array(results()[name]), np.array(interpreted[name])
    scale = np.maximum(np.abs(theirs), 1e-6 * np.max(np.abs(theirs)))
    assert np.max(np.abs(ours - theirs) / scale) < (1e-9 if name == CHARGE else CASES[name][2])
