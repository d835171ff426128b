"""Fast charging with direct current: station, inlet, contactors, and the charge on them."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.days import AMBIENT, COLD, MILD, WORDS
from swapwright.assess.stages.cell_point import derating_at
from swapwright.assess.stages.charge_supply import INLET, inlet_of, least_of
from swapwright.assess.stages.charge_time import (
    ChargeCase,
    charge_curve,
    keep_charge,
    made_by,
    run_charge,
)
from swapwright.assess.stages.charge_worth import stored_rate
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.cell import derated_current
from swapwright.physics.pack.supply import supply_power
from swapwright.standards.inlets import FAST_INLETS
from swapwright.standards.supply import FAST_TO

STATION = "charging.station"
LOADS = "auxiliaries.charging"
ONE_LINE = Value(1.0, "1", "standard", "definition-electric-power")
STATION_SIDE = Value(1.0, "1", "standard", "charge-loads-not-counted")
"""Energy is counted from the station's outlet on: its own losses are its owner's."""
CASE = ChargeCase(
    "_fast", ", fast charging", MILD, "charging.fast_power", "charging.fast_limit",
    "charging.fast_voltage", "charging.fast_target",
)  # fmt: skip
UNSAID = (
    "charging.inlet_dc_voltage", "charging.inlet_dc_current", "charging.fast_limit",
    "charging.fast_current", "charging.fast_current_cold", *made_by(CASE),
)  # fmt: skip
"""What is not known of a station's charge while no inlet is named."""


def fast(book: FigureBook) -> None:
    """Write the limits of a fast charge and the charge itself, where the car has such an inlet."""
    inlet = book.car.texts.get(INLET, "")
    if not inlet and book.car.has(STATION):
        for figure_id in UNSAID:
            book.note_missing(figure_id, Missing(INLET))
    if inlet not in FAST_INLETS:
        return
    _inlet(book)
    _current(book)
    _cells(book)
    if not book.car.has(STATION):
        return
    _limits(book)
    with book.attempt(*made_by(CASE)):
        run = run_charge(book, CASE, STATION_SIDE, book.get(LOADS) or 0.0)
        keep_charge(book, CASE, run)
        label = "a fast charge at the station described"
        book.curves["charging.fast"] = charge_curve(run, "charging.fast", label)
    stored_rate(book, CASE.name, "fast charging")


def _inlet(book: FigureBook) -> None:
    """Write what the inlet bears of direct current: as it is built, else as its kind says."""
    inlet = inlet_of(book)
    for figure_id, own, value, what in (
        ("charging.inlet_dc_voltage", "charging.inlet_voltage", inlet.dc_voltage, "voltage"),
        ("charging.inlet_dc_current", "charging.inlet_current", inlet.dc_current, "current"),
    ):
        label = f"dc {what} of the inlet"
        if book.has(own):
            book.total(figure_id, label, book.value(own).unit, [("as built", own, 1.0)], what)
        elif value is not None:
            cell = LookedUp("inlets by kind", inlet.name, f"dc {what}", value.ref)
            book.look_up(figure_id, label, value.si, value.unit, cell, what)
        else:
            book.note_missing(figure_id, Missing(own))


def _current(book: FigureBook) -> None:
    """Write the current of a fast charge; with no station described, what any of them may give."""
    least_of(
        book,
        "charging.fast_limit",
        "current station, inlet and contactors allow",
        {
            "the station": f"{STATION}.current",
            "the inlet": "charging.inlet_dc_current",
            "the charge contactors": "charging.contactors.carry",
        },
        "least of station, inlet and contactors",
    )


def _cells(book: FigureBook) -> None:
    """Write what the cells take of a fast charge, warm and cold, and what is forced into them."""
    derating_at(
        book,
        "charging.fast_share",
        "share of the charge current the cells take on a mild day",
        "charge_derate",
        AMBIENT[MILD],
    )
    book.make(
        derated_current,
        "charging.fast_current_allowed",
        label="charging current the cells take on a mild day",
        rated_current="pack.charge_continuous",
        derate="charging.fast_share",
    )
    monitored = book.car.flags.get("charging.limited_by_pack", False)
    for day, allowed in (
        (MILD, "charging.fast_current_allowed"),
        (COLD, "charging.cold_current_allowed"),
    ):
        book.make(
            lesser_current,
            f"charging.fast_current{day}",
            label=f"current of a fast charge where nothing else limits it, {WORDS[day]}",
            first="charging.fast_limit",
            second=allowed if monitored else "charging.fast_limit",
        )


def _limits(book: FigureBook) -> None:
    """Write power, voltage and end of the fast charge."""
    ends = {"pack": "charging.end_voltage", "station": f"{STATION}.voltage"}
    with book.attempt("charging.fast_voltage"):
        values = {name: book.value(path) for name, path in ends.items()}
        lower = min(values, key=lambda name: values[name].si)
        book.look_up(
            "charging.fast_voltage",
            "voltage a fast charge ends at",
            values[lower].si,
            "V",
            LookedUp("lower of pack and station", lower, "voltage", "definition-least-limit"),
            "voltage",
            **values,
        )
    if book.has(f"{STATION}.power"):
        rows = [("as given", f"{STATION}.power", 1.0)]
        book.total("charging.fast_power", "power of the station", "W", rows, "power")
    else:
        book.make(
            supply_power,
            "charging.fast_power",
            label="power of the station",
            voltage="charging.fast_voltage",
            current=f"{STATION}.current",
            phases=ONE_LINE,
        )
    with book.attempt("charging.fast_target"):
        full = book.value("charging.full_soc")
        sooner = "80 %" if FAST_TO.si <= full.si else "as full as it gets"
        book.look_up(
            "charging.fast_target",
            "state of charge a fast charge is told to",
            min(FAST_TO.si, full.si),
            "1",
            LookedUp("where a fast charge ends", sooner, "state of charge", FAST_TO.ref),
            "fraction",
            full=full,
        )
