"""What the benches compare with: the machine's own pace, the interpreter, an integrator."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numba
import numpy as np
from scipy.integrate import solve_ivp

ROOT = Path(__file__).resolve().parent.parent
CARS = ROOT / "tests" / "simulate"
"""Where the plain car of the tests is."""
sys.path.insert(0, str(CARS))

QUIET = {"exponential": 3.0e-9, "square root": 5.1e-9, "division": 3.5e-9}
"""Seconds each loop below takes per turn on the quiet 2-core machine of the goals."""


@numba.njit(nogil=True)
def _exponentials(turns: int) -> float:
    total = 0.0
    for i in range(turns):
        total += math.exp(-i * 1e-6)
    return total


@numba.njit(nogil=True)
def _square_roots(turns: int) -> float:
    value = 1.0
    for _ in range(turns):
        value = math.sqrt(value + 1.0)
    return value


@numba.njit(nogil=True)
def _divisions(turns: int) -> float:
    value = 1.0
    for _ in range(turns):
        value = 1.0 / (value + 1.0)
    return value


def shortest(work: Callable[[], object], times: int) -> float:
    """Return the least time s of several goes, after one that does not count."""
    work()
    least = math.inf
    for _ in range(times):
        begun = time.perf_counter()
        work()
        least = min(least, time.perf_counter() - begun)
    return least


def slowness(threads: int = 1) -> float:
    """Return how many times slower than the quiet machine this one is now (1 is as quick).

    ``threads`` loops are run at once, so that a busy second core shows.
    """
    turns = 200_000

    def together(loop: Callable[[int], float]) -> None:
        if threads == 1:
            loop(turns)
            return
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(loop, [turns] * threads))

    loops = {
        "exponential": _exponentials,
        "square root": _square_roots,
        "division": _divisions,
    }
    ratios = [
        shortest(lambda loop=loop: together(loop), 15) / turns / QUIET[name]
        for name, loop in loops.items()
    ]
    return math.prod(ratios) ** (1.0 / len(ratios))


def interpreted(code: str) -> float:
    """Return what a piece of code prints as a number, run with compilation switched off."""
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=CARS,
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    return float(done.stdout)


def integrated(currents: np.ndarray) -> float:
    """Return the time s an adaptive integrator takes for the cell alone, restarted each second."""

    def rates(_time: float, y: np.ndarray, amps: float) -> list[float]:
        return [(amps - y[0] / 3e-4) / 3e4, (amps - y[1] / 3e-4) / 3e5, amps]

    def run() -> None:
        state = np.zeros(3)
        for amps in currents:
            state = solve_ivp(rates, (0.0, 1.0), state, args=(amps,), rtol=1e-6).y[:, -1]

    return shortest(run, 1)
