"""Brake vacuum: stops left when the pump fails, and how long the pump runs for each stop."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.physics.vehicle.vacuum import (
    assisted_stops,
    pump_down_time,
    pump_time_per_stop,
    reachable_vacuum,
    share_of_interval,
    vacuum_lost,
)
from swapwright.standards.vacuum import LEAST_VACUUM, PUMP_REACH, STOP_INTERVAL

BOOSTER = "brakes.booster"
WITH_PUMP = "electric vacuum pump"
_FIGURES = ("cut_in", "cut_out", "stops", "duty", "reachable")


def vacuum(book: FigureBook) -> None:
    """Write the vacuum of a booster with an electric pump; other cars have none."""
    if BOOSTER not in book.car.texts:
        for figure in _FIGURES:
            book.note_missing(f"brakes.vacuum_{figure}", Missing(BOOSTER))
        return
    if book.car.texts[BOOSTER] == WITH_PUMP:
        _store(book)
        _pump(book)


def _store(book: FigureBook) -> None:
    for end in ("cut_in", "cut_out"):
        words = end.replace("_", "s ")
        book.total(
            f"brakes.vacuum_{end}",
            f"vacuum at which the pump {words}",
            "Pa",
            [("below the air outside", f"brakes.{end}", -1.0)],
            "pressure",
        )
    book.total(
        "brakes.vacuum_store",
        "vacuum store",
        "m^3",
        [
            ("reservoir", "brakes.reservoir", 1.0),
            ("the booster's own chamber", "brakes.booster_chamber", 1.0),
        ],
        "volume",
    )
    book.make(
        vacuum_lost,
        "brakes.vacuum_lost",
        label="vacuum a firm stop takes out of the store",
        air_pressure="air.pressure",
        air_per_stop="brakes.booster_air",
        store="brakes.vacuum_store",
    )
    book.make(
        assisted_stops,
        "brakes.vacuum_stops",
        label="firm stops with assistance left when the pump fails",
        vacuum="brakes.vacuum_cut_in",
        least_vacuum=LEAST_VACUUM,
        vacuum_lost="brakes.vacuum_lost",
    )


def _pump(book: FigureBook) -> None:
    book.make(
        reachable_vacuum,
        "brakes.vacuum_reachable",
        label="deepest vacuum a pump draws in the air outside",
        air_pressure="air.pressure",
        share=PUMP_REACH,
    )
    cycle = {"from_vacuum": "brakes.vacuum_cut_in", "to_vacuum": "brakes.vacuum_cut_out"}
    book.make(
        pump_down_time,
        "brakes.vacuum_pump_run",
        label="run of the vacuum pump from cut-in to cut-out",
        store="brakes.vacuum_store",
        pump_flow="brakes.pump_flow",
        air_pressure="air.pressure",
        **cycle,
    )
    book.make(
        pump_time_per_stop,
        "brakes.vacuum_run_per_stop",
        label="run of the vacuum pump for each firm stop",
        pump_down_time="brakes.vacuum_pump_run",
        vacuum_lost="brakes.vacuum_lost",
        **cycle,
    )
    book.make(
        share_of_interval,
        "brakes.vacuum_duty",
        label=f"share of the time the vacuum pump runs, a firm stop every {STOP_INTERVAL.si:.0f} s",
        time="brakes.vacuum_run_per_stop",
        interval=STOP_INTERVAL,
    )
