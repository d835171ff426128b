"""A charge's way to its end voltage and its dying away there, the cell's pairs settling meanwhile.

Nearly full a charge is over before the slow pair has settled: the current then meets less than the
resistance it would meet for hours, and what it meets depends on how long it takes. Both are found
together by trying.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Protocol

from swapwright.assess.book import FigureBook
from swapwright.assess.stages.cell_point import RESISTANCES
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.base.table import Line
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.charge_time import (
    charge_between,
    fading_time,
    held_current,
    settling_resistance,
    steady_time,
)
from swapwright.physics.pack.window import soc_at_rest_voltage

SHEET, METHOD = "part-data-sheet", "swapwright-charge-settling"
TRIED = "end voltage, found by trying"
_ROUNDS, _CLOSE, _STEP, _CALMER = 60, 5e-4, 0.5, 12
"""Rounds at most, the share of the time within which two of them agree, the part of a change each
takes, and after how many rounds it takes less: where the end voltage is reached in the first
seconds they swing to and fro."""
_SHORTEST = 1.0
"""The least time s a mean is taken over: it is divided by."""


class Estimated(Protocol):
    """Where a charge's limits stand; see `stages.charge_time.ChargeCase`."""

    @property
    def name(self) -> str:
        """What its figures end in."""

    @property
    def day(self) -> str:
        """The day it is charged on."""

    @property
    def power(self) -> str:
        """The power into the battery."""

    @property
    def current(self) -> str:
        """The current of charger or station."""

    @property
    def volts(self) -> str:
        """The voltage it ends at."""

    @property
    def target(self) -> str:
        """The state of charge it ends at."""

    @property
    def path(self) -> str:
        """The way of the cells' heat."""

    @property
    def around(self) -> str:
        """What lies at the end of that way: the day's air, or a coolant that other parts warm."""


class _Found(NamedTuple):
    """States of charge where the end voltage is reached and where it ends, and the s at it."""

    turn: float
    end: float
    lasted: float


@dataclass(frozen=True)
class _Tail:
    """What a charge's end is worked out from, SI: the cell's parts, and the pack's limits."""

    ocv: Line
    cell: dict[str, float]
    voltage: float
    series: float
    parallel: float
    capacity: float
    start: float
    target: float
    steady: float
    most: float
    taper: float

    def resistance(self, begun: float, lasted: float) -> float:
        """Return the mean resistance ohm from ``begun`` s after the start for ``lasted`` s."""
        return settling_resistance(**self.cell, begun=begun, lasted=max(lasted, _SHORTEST))

    def current(self, soc: float, ohms: float) -> float:
        """Return the current A the end voltage drives at a state of charge."""
        return held_current(
            voltage=self.voltage,
            series=self.series,
            rest_voltage=self.ocv.at(soc),
            resistance=ohms,
            parallel=self.parallel,
        )

    def reached(self, current: float, ohms: float) -> float:
        """Return the state of charge at which a current A reaches the end voltage."""
        rest = self.voltage / self.series - current / self.parallel * ohms
        return min(max(soc_at_rest_voltage(ocv=self.ocv, voltage=rest), self.start), self.target)

    def found(self) -> _Found:
        """Return where the end voltage is reached and the charge ends, tried until it agrees."""
        begun, lasted = 0.0, _SHORTEST
        turn = end = self.target
        for number in range(_ROUNDS):
            last_ohms = self.resistance(begun + lasted, _SHORTEST)
            turn = self.reached(self.most, self.resistance(begun, _SHORTEST))
            end = max(self.reached(self.taper, last_ohms), turn)
            to_turn = self.capacity * (turn - self.start) / self.steady
            ohms = self.resistance(begun, lasted)
            first = min(self.current(turn, ohms), self.most)
            last = self.current(end, ohms)
            if last <= 0.0:
                raise Missing(reason="the cells rest above the voltage the charge is to end at")
            at_end = fading_time(charge=self.capacity * (end - turn), first=first, last=last)
            apart = max(abs(to_turn - begun), abs(max(at_end, _SHORTEST) - lasted))
            if apart < _CLOSE * (begun + lasted):
                break
            part = _STEP / (1 + number // _CALMER)
            begun += part * (to_turn - begun)
            lasted += part * (max(at_end, _SHORTEST) - lasted)
        return _Found(turn, end, lasted)


def write_tail(book: FigureBook, case: Estimated, at: str) -> None:
    """Write the time to the end voltage, the time at it, and both together."""
    _cell_parts(book, case, at)
    tail = _tail(book, case, at)
    found = tail.found()
    inputs = {
        "end_voltage": book.value(case.volts),
        "temperature": book.value(f"{at}.cell_temperature"),
        "current": book.value(f"{at}.current_at_turn"),
        "start": book.value("charging.from"),
        "target": book.value(case.target),
        "taper": book.value("charging.taper"),
    }
    for name, label, si, unit, kind in (
        ("turn", "state of charge where the end voltage is reached", found.turn, "1", "fraction"),
        ("end", "state of charge where the charge ends", found.end, "1", "fraction"),
        (
            "lasted",
            "time the resistance at the end voltage is meant over",
            found.lasted,
            "s",
            "time",
        ),
    ):
        book.look_up(
            f"{at}.{name}", label, si, unit, LookedUp(TRIED, name, unit, METHOD), kind, **inputs
        )
    for place, label in (("turn", "reached"), ("end", "left again")):
        soc = book.value(f"{at}.{place}")
        book.look_up(
            f"{at}.rest_at_{place}",
            f"rest voltage of a cell where the end voltage is {label}",
            tail.ocv.at(soc.si),
            "V",
            LookedUp("rest voltage", f"{soc.si:.1%}", "V", SHEET),
            "voltage",
            soc=soc,
        )
    _times(book, case, at)


def _cell_parts(book: FigureBook, case: Estimated, at: str) -> None:
    """Write the parts of the cell's resistance as warm as it then is, where the charge ends."""
    kelvin, soc = book.value(f"{at}.cell_temperature"), book.value(case.target)
    for part in RESISTANCES:
        book.look_up(
            f"{at}.{part}",
            f"cell {part} where the charge ends",
            book.car.map(f"pack.cell.{part}").at(kelvin.si, soc.si),
            "ohm",
            LookedUp(part, f"{kelvin.si:.0f} K", f"{soc.si:.0%}", SHEET),
            "resistance",
            temperature=kelvin,
            soc=soc,
        )


def _tail(book: FigureBook, case: Estimated, at: str) -> _Tail:
    return _Tail(
        ocv=book.car.line("pack.cell.ocv"),
        cell={
            **{part: book.number(f"{at}.{part}") for part in RESISTANCES},
            "joints": book.number("pack.joints_per_cell"),
            "c1": book.number("pack.cell.c1"),
            "c2": book.number("pack.cell.c2"),
        },
        voltage=book.number(case.volts),
        series=book.number("pack.series_cells"),
        parallel=book.number("pack.parallel_cells"),
        capacity=book.number("pack.capacity"),
        start=book.number("charging.from"),
        target=book.number(case.target),
        steady=book.number(f"{at}.current"),
        most=book.number(f"{at}.current_at_turn"),
        taper=book.number("charging.taper"),
    )


def _times(book: FigureBook, case: Estimated, at: str) -> None:
    book.make(
        charge_between,
        f"{at}.charge_to_turn",
        label="charge put in on the way to the end voltage",
        capacity="pack.capacity",
        low="charging.from",
        high=f"{at}.turn",
    )
    book.make(
        steady_time,
        f"{at}.time_to_turn",
        label="time to the end voltage",
        charge=f"{at}.charge_to_turn",
        current=f"{at}.current",
    )
    book.make(
        charge_between,
        f"{at}.charge_at_end",
        label="charge put in at the end voltage",
        capacity="pack.capacity",
        low=f"{at}.turn",
        high=f"{at}.end",
    )
    book.make(
        settling_resistance,
        f"{at}.tail_resistance",
        label="resistance of a cell at the end voltage, its pairs settling",
        **{part: f"{at}.{part}" for part in RESISTANCES},
        joints="pack.joints_per_cell",
        c1="pack.cell.c1",
        c2="pack.cell.c2",
        begun=f"{at}.time_to_turn",
        lasted=f"{at}.lasted",
    )
    for name, place, label in (
        ("driven_current", "turn", "current the end voltage drives where it is reached"),
        ("last_current", "end", "current the charge is ended at"),
    ):
        book.make(
            held_current,
            f"{at}.{name}",
            label=label,
            voltage=case.volts,
            series="pack.series_cells",
            rest_voltage=f"{at}.rest_at_{place}",
            resistance=f"{at}.tail_resistance",
            parallel="pack.parallel_cells",
        )
    book.make(
        lesser_current,
        f"{at}.first_current",
        label="current where the end voltage is reached",
        first=f"{at}.current_at_turn",
        second=f"{at}.driven_current",
    )
    book.make(
        fading_time,
        f"{at}.time_at_end",
        label="time at the end voltage",
        charge=f"{at}.charge_at_end",
        first=f"{at}.first_current",
        last=f"{at}.last_current",
    )
    book.total(
        f"{at}.time",
        "time of a charge, in short",
        "s",
        [("to the end voltage", f"{at}.time_to_turn", 1.0), ("at it", f"{at}.time_at_end", 1.0)],
        "time",
    )
