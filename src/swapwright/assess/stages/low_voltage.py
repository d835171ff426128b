"""The 12 V side: its loads in each case of use, the converter that feeds them, the pack behind."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.stages.low_voltage_battery import battery
from swapwright.assess.stages.low_voltage_wire import wires
from swapwright.assess.stages.vacuum import vacuum
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.physics.circuit.carried import power_current
from swapwright.physics.low_voltage.budget import (
    derated_power,
    drawn_power,
    mean_current,
    sized_power,
    supply_power,
)
from swapwright.standards.low_voltage import SIZE_FACTOR

NO_LOADS = "lv.load[].current"
WORST_SOURCE = "swapwright-worst-lv-case"


@dataclass(frozen=True)
class Case:
    """A case of use: its key in a load's duty, its words, whether the car is driven in it."""

    name: str
    label: str
    is_driven: bool


CASES = (
    Case("day", "driving by day", True),
    Case("night", "driving at night in rain", True),
    Case("winter", "driving on a winter night", True),
    Case("charging", "charging", False),
    Case("parked", "parked", False),
)
FED = CASES[:-1]
"""Cases in which the converter runs."""


@dataclass(frozen=True)
class Load:
    """One load of the list: its row, its name, where its current stands."""

    row: int
    name: str
    current: str

    def duty(self, case: Case) -> str:
        """Return the build path of its duty in a case."""
        return f"lv.load[{self.row}].duty.{case.name}"


def low_voltage(book: FigureBook) -> None:
    """Write the 12 V side: budget, converter, battery, wires, and the brakes' vacuum."""
    loads = _loads(book)
    for case in CASES:
        _case(book, loads, case)
    _worst(book)
    _converter(book)
    _draw(book)
    wires(book, {load.row: (load.name, load.current) for load in loads})
    battery(book)
    vacuum(book)


def _loads(book: FigureBook) -> tuple[Load, ...]:
    """Return the loads of the list, a current made of each power."""
    loads = []
    for row in range(book.car.counts.get("lv.load", 0)):
        at = f"lv.load[{row}]"
        name = book.car.texts.get(f"{at}.name", f"load {row + 1}")
        current = f"{at}.current"
        if not book.has(current) and book.has(f"{at}.power"):
            current = f"lv.load.{row}.current"
            book.make(
                power_current,
                current,
                label=f"current of {name}",
                power=f"{at}.power",
                voltage="lv.voltage",
            )
        loads.append(Load(row, name, current))
    return tuple(loads)


def _share_on(book: FigureBook, load: Load, case: Case) -> float:
    """Return the share of the time a load is on: none in a case its duty does not name."""
    if not any(book.has(load.duty(each)) for each in CASES):
        return 1.0 if case.is_driven else 0.0
    return book.get(load.duty(case)) or 0.0


def _case(book: FigureBook, loads: tuple[Load, ...], case: Case) -> None:
    """Write the mean current of a case, load by load, and what flows with all of them on."""
    figures = (f"lv.current.{case.name}", f"lv.peak.{case.name}")
    if not loads:
        for figure in figures if case.is_driven else figures[:1]:
            book.note_missing(figure, Missing(NO_LOADS))
        return
    means: list[tuple[str, Source, float]] = []
    peaks: list[tuple[str, Source, float]] = []
    if case.name == "parked":
        means.append(("asleep", "lv.sleep_current", 1.0))
    for load in loads:
        share = _share_on(book, load, case)
        if share <= 0.0:
            continue
        mean = load.current
        if share < 1.0:
            mean = f"lv.load.{load.row}.{case.name}"
            book.make(
                mean_current,
                mean,
                label=f"mean current of {load.name}, {case.label}",
                current=load.current,
                duty=load.duty(case),
            )
        means.append((load.name, mean, 1.0))
        peaks.append((load.name, load.current, 1.0))
    book.total(figures[0], f"12 V current, {case.label}", "A", means, "current")
    if case.is_driven:
        label = f"12 V current with everything on at once, {case.label}"
        book.total(figures[1], label, "A", peaks, "current")


def _worst(book: FigureBook) -> None:
    """Write the largest mean current of all cases, and the largest with everything on at once."""
    for figure, what, label, cases in (
        ("current", "mean current", "largest 12 V current over time", FED),
        (
            "peak",
            "current with everything on",
            "largest 12 V current at one moment",
            tuple(case for case in CASES if case.is_driven),
        ),
    ):
        with book.attempt(f"lv.worst_{figure}"):
            found = {case.name: book.value(f"lv.{figure}.{case.name}") for case in cases}
            worst = max(cases, key=lambda case: found[case.name].si)
            book.look_up(
                f"lv.worst_{figure}",
                f"{label}: {worst.label}",
                found[worst.name].si,
                "A",
                LookedUp("12 V loads by case", worst.label, what, WORST_SOURCE),
                "current",
                **found,
            )


def _converter(book: FigureBook) -> None:
    """Write what the converter has to give at worst, and what it can give in the heat."""
    book.make(
        supply_power,
        "lv.worst_power",
        label="12 V power in the worst case",
        current="lv.worst_current",
        voltage="lv.voltage",
    )
    book.make(
        sized_power,
        "lv.size_wanted",
        label="rating the trade would give the converter",
        power="lv.worst_power",
        size_factor=SIZE_FACTOR,
    )
    own = "lv.dcdc_temperature"
    book.make(
        derated_power,
        "lv.hot_power",
        label="power of the converter at its hottest",
        power="lv.dcdc.power",
        temperature=own if book.has(own) else "hv.working_temperature",
        full_power_to="lv.dcdc.full_power_to",
        no_power_at="lv.dcdc.no_power_at",
    )
    book.make(
        power_current,
        "lv.dcdc_current",
        label="most current the converter gives",
        power="lv.dcdc.power",
        voltage="lv.voltage",
    )


def _draw(book: FigureBook) -> None:
    """Write what the 12 V side takes from the pack in each case, the converter's loss with it."""
    for case in FED:
        book.make(
            supply_power,
            f"lv.power.{case.name}",
            label=f"12 V power, {case.label}",
            current=f"lv.current.{case.name}",
            voltage="lv.voltage",
        )
        book.make(
            drawn_power,
            f"lv.draw.{case.name}",
            label=f"taken from the pack for the 12 V side, {case.label}",
            power=f"lv.power.{case.name}",
            efficiency="lv.dcdc.efficiency",
        )
