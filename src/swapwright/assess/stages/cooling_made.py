"""The heat made in the parts that coolant cools: for good, over simulated runs, and charging."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.cooling_loop import (
    CHARGER,
    CHARGING,
    CLIMB,
    CONTINUOUS,
    CONVERTER,
    DRIVE_PARTS,
    PACK,
    RUNS,
)
from swapwright.assess.runs import RecordedRun
from swapwright.assess.stages.climb import CLIMBED
from swapwright.assess.stages.pack import joints, stack
from swapwright.base.figure import LookedUp
from swapwright.physics.cooling.warmth import conversion_loss, pack_heat
from swapwright.simulate.run import COLUMNS

DRIVEN = {
    "mass": "mass.test",
    "a": "road.a",
    "b": "road.b",
    "c": "road.c",
    "loss_factor": "drive.loss_factor",
}
"""What a cycle is run on, by the name it has beside a figure."""

SOURCE = "swapwright-run-heat"
_PACK_PARTS = ("r0", "r1", "r2")


def heat_made(book: FigureBook, cooled: frozenset[str]) -> None:
    """Write the heat of every part that some loop cools."""
    for state, label in RUNS.items():
        _over_run(book, cooled, state, label)
    if PACK in cooled:
        _pack(book)
    if CHARGER in cooled:
        own = "charging.charger.efficiency"
        book.make(
            conversion_loss,
            "cooling.charger_loss",
            label="heat of the chargers",
            power="charging.total_power",
            efficiency=own if book.has(own) else "charging.efficiency",
        )
    if CONVERTER in cooled:
        book.make(
            conversion_loss,
            "cooling.dcdc_loss",
            label="heat of the dc-dc converter at its rated power",
            power="lv.dcdc.power",
            efficiency="lv.dcdc.efficiency",
        )


def _over_run(book: FigureBook, cooled: frozenset[str], state: str, label: str) -> None:
    """Write the mean heat of drive and pack over a simulated run."""
    wanted = {
        f"cooling.{drive_parts.figure_prefix(unit)}_{kind}_{state}": (unit, kind)
        for part, (unit, kind) in DRIVE_PARTS.items()
        if part in cooled and unit in drive_parts.units(book)
    }
    pack = f"cooling.pack_{state}"
    with book.attempt(*wanted, *((pack,) if PACK in cooled else ())):
        run = book.recorded.get(state)
        if run is None:
            # What stands in the run's way stands in the way of a figure that is read from it.
            book.value("climb.battery_power" if state == CLIMB else "circuit.traction.rms_city")
            return
        for figure_id, (unit, kind) in wanted.items():
            which = "" if unit == "drive" else "second "
            energy = drive_heat(book, run, unit, kind)
            _keep(book, figure_id, f"mean heat of the {which}{kind}", state, label, run, energy)
        if PACK in cooled:
            lost = run.ledger.ohmic + run.ledger.polarisation
            _keep(book, pack, "mean heat of the cells", state, label, run, lost)


def drive_heat(book: FigureBook, run: RecordedRun, unit: str, kind: str) -> float:
    """Return the heat J a motor or an inverter made over a run; the ledger holds both units'."""
    both = run.ledger.motor if kind == "motor" else run.ledger.inverter
    if len(drive_parts.units(book)) == 1:
        return both
    own = first_unit_heat(run, kind)
    return own if unit == "drive" else both - own


def first_unit_heat(run: RecordedRun, kind: str) -> float:
    """Return the heat J the first motor or inverter made: what warmed it, and what left it."""
    first, before = run.setup.drive.first, run.before
    start, path, warming = (
        (before.motor_temperature, first.motor_conductance, first.motor_warming)
        if kind == "motor"
        else (before.inverter_temperature, first.inverter_conductance, first.inverter_warming)
    )
    ends = run.trace[:, COLUMNS.index(f"{kind}_temperature")]
    step = run.ledger.time / run.steps
    left = path * step * float(np.sum(np.concatenate(([start], ends[:-1])) - run.setup.ambient))
    return left + (float(ends[-1]) - start) / warming


def _keep(
    book: FigureBook,
    figure_id: str,
    what: str,
    state: str,
    label: str,
    run: RecordedRun,
    energy: float,
) -> None:
    ran: Mapping[str, str] = CLIMBED if state == CLIMB else DRIVEN
    book.look_up(
        figure_id,
        f"{what}, {label}",
        energy / run.ledger.time,
        "W",
        LookedUp("simulated run", f"{run.ledger.time:.0f} s", "loss over time", SOURCE),
        "power",
        **{name: book.value(path) for name, path in ran.items()},
    )


def _pack(book: FigureBook) -> None:
    """Write the cells' heat at the drive's continuous rating and charging, settled, hot day."""
    rows: list[tuple[str, Source, float]] = [
        (part, f"pack.cell_{part}_hot", 1.0) for part in _PACK_PARTS
    ]
    book.total(
        "cooling.pack_cell_resistance",
        "cell resistance, settled, hot day, half charge",
        "ohm",
        rows,
        "resistance",
    )
    stack(
        book,
        "cooling.pack_resistance",
        "pack resistance, settled, hot day, half charge",
        "cooling.pack_cell_resistance",
        joints(book),
    )
    for state, label, current in (
        (
            CONTINUOUS,
            "heat of the pack at continuous power",
            "current.continuous_demand",
        ),
        (CHARGING, "heat of the pack while charging", "charging.current"),
    ):
        book.make(
            pack_heat,
            f"cooling.pack_{state}",
            label=label,
            current=current,
            resistance="cooling.pack_resistance",
        )
