"""How quick the whole assessment is: warm, and `swapwright check` from a cold process.

The references: the pace of this machine against the quiet one (see `reference.slowness`), one UDDS
run in the same process, and an interpreter that only starts and imports numpy.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

from bench.reference import ROOT, shortest, slowness
from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import assess, design
from swapwright.build.car import Car
from swapwright.build.load import load
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
WARM_GOAL, COLD_GOAL = 0.050, 1.0
_GOES, _STARTS = 40, 7


def _car(path: Path) -> Car:
    return resolve(load(path), Catalogue())


def warm() -> None:
    """Print the time of a whole assessment of each example, and of one UDDS run beside it."""
    print("whole assessment, warm (goal 50 ms, 20 aimed at, on the quiet machine)")
    for path in EXAMPLES:
        car = _car(path)
        book = FigureBook(car, keep=False)
        design(book)
        kit = setup(book)
        one = shortest(lambda kit=kit: runs.on_cycle(kit, "udds", soc=0.6), 30)
        whole = shortest(lambda car=car: assess(car), _GOES)
        reading = shortest(lambda path=path: _car(path), _GOES)
        pace = slowness()
        print(
            f"  {path.stem:14s} {whole * 1e3:6.1f} ms, quiet {whole / pace * 1e3:5.1f} ms"
            f" = {whole / WARM_GOAL / pace:4.2f} of the goal, {whole / one:5.0f} UDDS runs;"
            f" reading the file {reading * 1e3:4.1f} ms"
        )


def _started(*arguments: str) -> float:
    begun = time.perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False)
    return time.perf_counter() - begun


def cold() -> None:
    """Print the time of `swapwright check` from a new process, kernels cached."""
    check = ("-m", "swapwright.cli", "check", str(EXAMPLES[-1]))
    bare = ("-c", "import numpy")
    _started(*check)
    checks = [_started(*check) for _ in range(_STARTS)]
    bares = [_started(*bare) for _ in range(_STARTS)]
    middle, reference, pace = statistics.median(checks), statistics.median(bares), slowness()
    print(
        "swapwright check from a cold process, kernels cached (goal 1.0 s, 0.5 aimed at)\n"
        f"  {middle:.2f} s median, {min(checks):.2f} s least, quiet {middle / pace:.2f} s"
        f" = {middle / COLD_GOAL / pace:.2f} of the goal,"
        f" {middle / reference:.1f} times an interpreter that imports numpy ({reference:.2f} s)"
    )


def main() -> None:
    """Print everything."""
    warm()
    cold()


if __name__ == "__main__":
    main()
