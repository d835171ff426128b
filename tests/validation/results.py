"""What the model says of the listed cars, beside what was measured, as the tables of a page.

``python tests/validation/results.py`` writes the tables into ``docs/validation.md`` anew.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from list_car import FOLDER, build_text, rows_of

from swapwright.assess.solve import assess
from swapwright.base.kinds import MILE
from swapwright.build.load import load
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

PAGE = FOLDER.parents[1] / "docs" / "validation.md"
GALLON = 33_705.0  # Wh per gallon of gasoline, 40 CFR 600
WATT_HOUR_PER_MILE = MILE / 3600.0  # J/m to Wh/mi
TESTS = (("city", "udds"), ("highway", "highway"))


@dataclass(frozen=True)
class Result:
    """One test of one car: consumption from the wall measured, predicted, and its band, Wh/mi."""

    car: str
    title: str
    test: str
    measured: float
    predicted: float
    low: float
    high: float

    @property
    def error(self) -> float:
        """Return predicted over measured, less one."""
        return self.predicted / self.measured - 1.0

    @property
    def is_inside(self) -> bool:
        """Tell whether what was measured lies in the band."""
        return self.low <= self.measured <= self.high

    @property
    def half_width(self) -> float:
        """Return the wider half of the band over the prediction."""
        return max(self.high - self.predicted, self.predicted - self.low) / self.predicted


def measured(cell: dict[str, Any]) -> float:
    """Return a cell's consumption from the wall, Wh/mi."""
    return float(cell["wall"]) if "wall" in cell else GALLON / float(cell["mpge"])


def title_of(row: dict[str, Any]) -> str:
    """Return what a row's car is called in a table."""
    return f"{row['class']}, {row['year']}"


@cache
def results(file: str) -> tuple[Result, ...]:
    """Assess every car of a file of rows by its build file and return both tests of each."""
    found = []
    catalogue = Catalogue()
    with TemporaryDirectory() as folder:
        for name, row in rows_of(file).items():
            path = Path(folder) / f"{name}.toml"
            path.write_text(build_text(row), encoding="utf-8")
            figures = assess(resolve(load(path), catalogue)).figures
            for test, key in TESTS:
                value = figures[f"consumption.{test}_wall"].value
                low, high = value.low, value.high
                assert low is not None and high is not None
                predicted, low, high = (WATT_HOUR_PER_MILE * si for si in (value.si, low, high))
                found.append(
                    Result(name, title_of(row), test, measured(row[key]), predicted, low, high)
                )
    return tuple(found)


def first_run() -> tuple[Result, ...]:
    """Return the first run of the eight, as it was."""
    cars, first = rows_of("cars.toml"), rows_of("first_run.toml")
    return tuple(
        Result(
            name,
            title_of(row),
            test,
            measured(row[key]),
            first[name][key]["wall"],
            first[name][key]["low"],
            first[name][key]["high"],
        )
        for name, row in cars.items()
        for test, key in TESTS
    )


def mean_error(found: Iterable[Result]) -> float:
    """Return the mean absolute error."""
    errors = [abs(result.error) for result in found]
    return sum(errors) / len(errors)


def summary(found: tuple[Result, ...]) -> str:
    """Return the mean absolute error, the worst case, the tests inside and the widest band."""
    worst = max(found, key=lambda result: abs(result.error))
    inside = sum(result.is_inside for result in found)
    widest = max(result.half_width for result in found)
    return (
        f"Mean absolute error {mean_error(found):.1%}; worst {worst.error:+.0%} "
        f"({worst.title}, {worst.test}); {inside} of {len(found)} inside their bands; "
        f"widest band {widest:.0%} to one side."
    )


def table(found: tuple[Result, ...]) -> list[str]:
    """Return the lines of a table of results."""
    lines = [
        "| car | test | measured | predicted | error | 80 % band | |",
        "|---|---|---|---|---|---|---|",
    ]
    lines.extend(
        f"| {r.title} | {r.test} | {r.measured:.0f} | {r.predicted:.0f} | {r.error:+.1%} "
        f"| {r.low:.0f} to {r.high:.0f} | {'inside' if r.is_inside else '**outside**'} |"
        for r in found
    )
    return [*lines, "", summary(found)]


def tables() -> dict[str, list[str]]:
    """Return the lines of every table of the page, by its name there."""
    return {
        "first run": table(first_run()),
        "eight cars": table(results("cars.toml")),
        "further cars": table(results("further_cars.toml")),
    }


def with_tables(page: str, made: dict[str, list[str]]) -> str:
    """Return the page with its tables replaced, each between its two marks."""
    for name, lines in made.items():
        start, end = f"<!-- table: {name} -->\n", "<!-- end -->"
        before, _, rest = page.partition(start)
        _, _, after = rest.partition(end)
        page = "\n".join((before + start.rstrip("\n"), "", *lines, "", end + after))
    return page


def main() -> None:
    """Write the tables into the page anew."""
    PAGE.write_text(with_tables(PAGE.read_text(encoding="utf-8"), tables()), encoding="utf-8")


if __name__ == "__main__":
    main()
