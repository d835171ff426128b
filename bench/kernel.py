"""How quick the time step is: one run, one candidate of a batch, a fresh process."""

from __future__ import annotations

import subprocess
import sys

import numpy as np

from bench.reference import CARS, integrated, interpreted, shortest, slowness
from swapwright.simulate.batch import alike, run_batch
from swapwright.simulate.run import COLUMNS, NO_GRADE, drive_trace, fresh, run_recorded

import plain_car  # isort: skip - found on the path that bench.reference adds

CANDIDATES = 10_000
GOALS_US = {"one gear, one motor": 100.0}
GOALS_RATE = {"one gear, one motor": 34.0, "three gears": 15.0, "two motors": 15.0}
"""What must hold: microseconds of one UDDS, million candidate-steps a second on two cores."""
KINDS = {
    "one gear, one motor": {},
    "three gears": {"gears": 3},
    "two motors": {"units": 2},
}
_INTERPRETED = """
import time, plain_car
from swapwright.simulate.run import drive_trace, fresh
car, speeds = plain_car.car(), plain_car.trace("udds")
begun = time.perf_counter()
drive_trace(car, fresh(car, soc=0.9), speeds)
print(time.perf_counter() - begun)
"""
_FRESH = """
import time
begun = time.perf_counter()
import plain_car
from swapwright.simulate.run import drive_trace, fresh
car = plain_car.car()
drive_trace(car, fresh(car, soc=0.9), plain_car.trace("udds"))
print(time.perf_counter() - begun)
"""


def single_runs(speeds: np.ndarray) -> float:
    """Print the time of one run of each kind of car; return the first's, s."""
    first = 0.0
    print(f"{'one UDDS':24}{'us':>9}{'us, quiet':>11}{'ns/step':>9}{'quiet/goal':>12}")
    for name, drive in KINDS.items():
        car = plain_car.car(drive=plain_car.drive(**drive))
        before = fresh(car, soc=0.9)
        pace = slowness()
        took = shortest(lambda car=car, before=before: drive_trace(car, before, speeds), 400)
        steps = len(speeds) - 1
        goal = GOALS_US.get(name)
        share = f"{took / pace * 1e6 / goal:12.2f}" if goal else ""
        print(
            f"{name:24}{took * 1e6:9.1f}{took / pace * 1e6:11.1f}{took / steps * 1e9:9.1f}{share}"
        )
        first = first or took
    return first


def batches(speeds: np.ndarray) -> None:
    """Print the candidate-steps a second of each kind of car, on one thread and on two."""
    print(
        f"\n{'batch, M candidate-steps/s':28}{'threads':>8}{'now':>9}{'quiet':>9}{'quiet/goal':>12}"
    )
    for name, drive in KINDS.items():
        car = plain_car.car(drive=plain_car.drive(**drive))
        before = fresh(car, soc=0.9)
        cars = alike(car, CANDIDATES)
        cars = cars._replace(mass=np.linspace(1200.0, 1700.0, CANDIDATES))
        for workers in (1, 2):
            pace = slowness(workers)
            took = shortest(
                lambda car=car, before=before, cars=cars, workers=workers: run_batch(
                    car, before, speeds, cars, workers=workers
                ),
                3,
            )
            rate = CANDIDATES * (len(speeds) - 1) / took / 1e6
            share = f"{rate * pace / GOALS_RATE[name]:12.2f}" if workers > 1 else ""
            print(f"{name:28}{workers:8}{rate:9.1f}{rate * pace:9.1f}{share}")


def ratios(speeds: np.ndarray, took: float) -> None:
    """Print how many times quicker a run is than the references."""
    car = plain_car.car()
    record = np.zeros((len(speeds) - 1, len(COLUMNS)))
    run_recorded(car, fresh(car, soc=0.9), speeds, NO_GRADE, 1.0, record)
    cell = integrated(record[:, COLUMNS.index("current")])
    print(
        f"\nthe same source interpreted       {interpreted(_INTERPRETED) / took:9.0f} times slower"
    )
    print(f"solve_ivp, the cell's part alone  {cell / took:9.0f} times slower")


def fresh_process() -> None:
    """Print the time from an empty process to a first UDDS result, kernels cached."""
    took = []
    for _ in range(3):
        done = subprocess.run(
            [sys.executable, "-c", _FRESH], cwd=CARS, capture_output=True, text=True, check=True
        )
        took.append(float(done.stdout))
    print(f"\nfresh process, import to first result, kernels cached: {min(took):.2f} s")


def main() -> None:
    """Print everything."""
    speeds = plain_car.trace("udds")
    print(f"this machine now is {slowness():.2f} times slower than when quiet\n")
    took = single_runs(speeds)
    batches(speeds)
    ratios(speeds, took)
    fresh_process()


if __name__ == "__main__":
    main()
