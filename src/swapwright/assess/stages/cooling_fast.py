"""A fast charge on the hot day: how warm cells and coolant get, and what heat holds it to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.charge_runs import REFUSED, ChargeRun
from swapwright.assess.cooling_curves import fast_chart
from swapwright.assess.cooling_loop import CONVERTER, FAST, PACK, Loop, heat_of, makes_heat
from swapwright.assess.days import AMBIENT, HOT
from swapwright.assess.stages import charge_fast
from swapwright.assess.stages.cell_point import derating_at
from swapwright.assess.stages.charge_supply import INLET
from swapwright.assess.stages.charge_time import (
    RUN,
    ChargeCase,
    keep_charge,
    made_by,
    run_charge,
)
from swapwright.assess.stages.cooling_heat import carried, settled
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.physics.cooling.heat import coolant_hot, power_at_heat
from swapwright.physics.cooling.plate import coolant_on_plate, path_through_plate
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.cell import derated_current
from swapwright.simulate.charge import CHARGE_COLUMNS, CHARGE_LIMITS
from swapwright.standards.inlets import FAST_INLETS

FloatArray = NDArray[np.float64]

CASE = replace(charge_fast.CASE, name="_fast_hot", words=", fast charging, hot day", day=HOT)
PLATE = "pack.plate_path"
WORDS = "fast charging"
ALLOWED, FORCED = "charging.fast_current_allowed_hot", "charging.fast_current_hot"
HELD, UNHELD = "charging.fast_held_hot", "charging.fast_unheld_hot"
LOST, MEAN_POWER = "cooling.pack_fast", "charging.mean_power_fast_hot"
OF_STATION = tuple(f"{charge_fast.STATION}.{key}" for key in ("current", "voltage"))
"""What a fast charge cannot be run without."""
HOTTEST = f"charging.hottest_cell{CASE.name}"
OF_RUN = (*made_by(CASE), HELD, UNHELD, MEAN_POWER, LOST)


def fast_charge(book: FigureBook, loops: Sequence[Loop]) -> None:
    """Write a fast charge on the hot day, and what it does to the loops that cool the pack."""
    car = book.car
    inlet = car.texts.get(INLET, "")
    if not car.has(charge_fast.STATION):
        if inlet in FAST_INLETS:
            for figure_id in (ALLOWED, FORCED):
                book.note_missing(figure_id, Missing(*OF_STATION))
        return
    if inlet and inlet not in FAST_INLETS:
        return
    plated = [loop for loop in loops if _may_cool_pack(book, loop)]
    with book.attempt(*OF_RUN, *(loop.figure("fast_end") for loop in plated)):
        if not inlet:
            raise Missing(INLET)
        for loop in plated:
            loop.parts(car)  # says what keeps a loop from being known
            _way(book, loop)
        case = _case(book, plated)
        run = run_charge(book, case, charge_fast.STATION_SIDE, book.get(charge_fast.LOADS) or 0.0)
        keep_charge(book, case, run)
        _held(book, run)
        _mean(book, run)
        for loop in plated:
            _coolant(book, loop)
        book.curves["cooling.fast"] = fast_chart(book, plated, run)
    _into_cells(book)


def around_of(loop: Loop) -> str:
    """Return the figure of a loop's coolant without the heat of the cells."""
    return loop.figure(f"around_{FAST}")


def _may_cool_pack(book: FigureBook, loop: Loop) -> bool:
    said = loop.entry("parts") in book.car.counts
    return not said or PACK in loop.parts(book.car)


def _case(book: FigureBook, plated: Sequence[Loop]) -> ChargeCase:
    """Return the charge with the way of its cells' heat: of several loops the poorest."""
    if not plated:
        return CASE
    worst = min(plated, key=lambda loop: book.number(loop.figure("pack_path")))
    return replace(CASE, path=worst.figure("pack_path"), other_end=around_of(worst))


def _way(book: FigureBook, loop: Loop) -> None:
    """Write the way of the cells' heat through a loop, and its coolant without that heat."""
    book.make_from(
        path_through_plate,
        loop.figure("pack_path"),
        f"heat per degree from the cells through the {loop.name} loop to the air",
        {"plate": PLATE, **carried(loop)},
    )
    label = f"coolant of the {loop.name} loop without the cells' heat, {WORDS}, hot day"
    if CONVERTER in loop.parts(book.car):
        book.make_from(
            coolant_hot,
            around_of(loop),
            label,
            {"ambient": AMBIENT[HOT], "heat": heat_of(book, CONVERTER, FAST), **carried(loop)},
        )
    else:
        air: list[tuple[str, Source, float]] = [("air", AMBIENT[HOT], 1.0)]
        book.total(around_of(loop), label, "K", air, "temperature")


def _held(book: FigureBook, run: ChargeRun) -> None:
    """Write where warm cells hold the charge back most: what they take, and what would be there."""
    allowed, wanted, warm = _currents(book, run)
    held = np.minimum(allowed, wanted)
    at = int(np.argmax((wanted - held) / wanted))
    if held[at] >= wanted[at]:
        at = int(np.argmax(warm))
    soc = run.trace[at, CHARGE_COLUMNS.index("soc")]
    cell = LookedUp("simulated run", f"cells at {warm[at]:.0f} K", f"at {soc:.0%}", RUN)
    for figure_id, label, current in (
        (HELD, "current of a fast charge where warm cells hold it back most", held[at]),
        (
            UNHELD,
            "current it would have there if they took all they are rated for",
            wanted[at],
        ),
    ):
        book.look_up(
            figure_id, f"{label}, hot day", float(current), "A", cell, "current",
            hottest=book.value(HOTTEST), rated=book.value("pack.charge_continuous"),
        )  # fmt: skip


def _currents(book: FigureBook, run: ChargeRun) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return over a charge what the cells take, what it would draw but for that, and their warmth.

    A step that voltage, power or station hold is not held by heat: it draws what it would anyhow.
    """
    column = {name: run.trace[:, i] for i, name in enumerate(CHARGE_COLUMNS)}
    warm = np.concatenate(([run.given.ambient], column["temperature"][:-1]))
    derate = book.car.line("pack.cell.charge_derate")
    rated = book.number("pack.charge_continuous")
    allowed = rated * np.interp(warm, derate.x, derate.y)
    wanted = np.minimum(min(run.given.current, rated), run.given.power / column["volts"])
    by_cells = column["limit"] == CHARGE_LIMITS.index("cells")
    return np.where(by_cells, allowed, wanted), wanted, warm


def _mean(book: FigureBook, run: ChargeRun) -> None:
    """Write the mean heat of the cells and the mean power into the pack."""
    for figure_id, label, energy in (
        (LOST, "mean heat of the cells", run.ledger.ohmic + run.ledger.polarisation),
        (MEAN_POWER, "mean power into the battery", run.ledger.energy),
    ):
        book.look_up(
            figure_id,
            f"{label}, {WORDS}, hot day",
            energy / run.ledger.time,
            "W",
            LookedUp("simulated run", f"{run.ledger.time:.0f} s", "energy over time", RUN),
            "power",
            time=book.value(f"charging.time{CASE.name}"),
        )


def _coolant(book: FigureBook, loop: Loop) -> None:
    """Write a loop's temperatures: the mean heat settled, and at the charge's hottest cells."""
    hot = [part for part in loop.parts(book.car) if makes_heat(part, FAST)]
    settled(book, loop, hot, FAST, WORDS)
    book.make_from(
        coolant_on_plate,
        loop.figure("fast_end"),
        f"hottest coolant, {loop.name} loop, in a fast charge, hot day",
        {"cells": HOTTEST, "plate": PLATE, "around": around_of(loop), **carried(loop)},
    )
    book.make(
        power_at_heat,
        loop.figure("fast_power"),
        label=f"fast-charging power whose heat the {loop.name} loop sheds for good, hot day",
        power=MEAN_POWER,
        heat_allowed=loop.figure("heat_allowed"),
        heat=loop.figure(f"heat_{FAST}"),
    )


def _into_cells(book: FigureBook) -> None:
    """Write what the hottest cells take, and what reaches them.

    Cells that refuse a charge from the start are as hot as the air, and take nothing.
    """
    refuse = book.reasons.get(HOTTEST) == REFUSED
    derating_at(
        book,
        "charging.fast_share_hot",
        "share of the charge current the cells take at their hottest in a fast charge, hot day",
        "charge_derate",
        AMBIENT[HOT] if refuse else HOTTEST,
    )
    book.make(
        derated_current,
        ALLOWED,
        label="charging current the cells take there",
        rated_current="pack.charge_continuous",
        derate="charging.fast_share_hot",
    )
    monitored = book.car.flags.get("charging.limited_by_pack", False)
    book.make(
        lesser_current,
        FORCED,
        label="current of a fast charge where nothing else limits it, hot day",
        first="charging.fast_limit",
        second=ALLOWED if monitored else "charging.fast_limit",
    )
