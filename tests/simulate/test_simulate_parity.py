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


def results() -> dict[str, list[float]]:
    """Run every case and return state and ledger as plain numbers."""
    found = {}
    for name, (parts, cycle, _) in CASES.items():
        car = plain_car.car(**parts)
        state, book = drive_trace(car, fresh(car, soc=0.9), plain_car.trace(cycle))
        found[name] = [float(value) for value in (*state, *book)]
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
@pytest.mark.parametrize("name", CASES)
def test_compiled_and_interpreted_runs_give_one_ledger(name, interpreted):
    ours, theirs = np.array(results()[name]), np.array(interpreted[name])
    scale = np.maximum(np.abs(theirs), 1e-6 * np.max(np.abs(theirs)))
    assert np.max(np.abs(ours - theirs) / scale) < CASES[name][2]
