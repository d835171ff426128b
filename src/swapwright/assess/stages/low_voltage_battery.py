"""The 12 V battery alone: days parked, minutes with the converter dead, the lowest voltage."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.assess.book import FigureBook, Source
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.carried import power_current
from swapwright.physics.low_voltage.battery import (
    charge_time,
    lead_acid_time,
    loaded_voltage,
    typical_resistance,
    worst_resistance,
)
from swapwright.standards.low_voltage import (
    BATTERIES,
    COIL_VOLTAGE,
    COLD_FACTOR,
    RATED_TIME,
    RESERVE_CURRENT,
    WHOLE,
    BatteryKind,
)

CAPACITY = "lv.battery.capacity"
COILS = (model.CONTACTOR, model.PRECHARGE_RELAY)
CURVE_POINTS = 40
_OF_KIND = (
    "lv.reserve_capacity",
    "lv.night_time",
    "lv.hazard_time",
    "lv.parked_time",
    "lv.flat_time",
    "lv.lowest_voltage",
    "lv.key_on_voltage",
)


def battery(book: FigureBook) -> None:
    """Write how long the battery lasts by itself, and how low it is pulled."""
    _coils(book)
    with book.attempt(*_OF_KIND):
        kind = BATTERIES[book.car.text("lv.battery.kind")]
        _times(book, kind)
        _voltages(book, kind)
        with book.attempt():
            book.curves["lv.reserve"] = _reserve_curve(book, kind)


def _times(book: FigureBook, kind: BatteryKind) -> None:
    for figure, label, share, current in (
        ("lv.reserve_capacity", "reserve capacity: full, at 25 A", WHOLE, RESERVE_CURRENT),
        (
            "lv.night_time",
            "driving at night with the converter dead",
            kind.share,
            "lv.current.night",
        ),
        ("lv.hazard_time", "hazard lamps alone", kind.share, "lv.hazard_current"),
    ):
        _lasts(book, kind, figure, label, share, current)
    for figure, label, share in (
        ("lv.parked_time", "parked until the battery may no longer wake the car", kind.share),
        ("lv.flat_time", "parked until the battery is flat", WHOLE),
    ):
        book.make(
            charge_time,
            figure,
            label=label,
            capacity=CAPACITY,
            share=share,
            current="lv.current.parked",
        )


def _lasts(
    book: FigureBook, kind: BatteryKind, figure: str, label: str, share: Value, current: Source
) -> None:
    """Write how long a share of the battery lasts; Peukert's law is of lead-acid alone."""
    if kind.exponent is None:
        book.make(charge_time, figure, label=label, capacity=CAPACITY, share=share, current=current)
        return
    book.make(
        lead_acid_time,
        figure,
        label=label,
        capacity=CAPACITY,
        share=share,
        current=current,
        rated_time=RATED_TIME,
        exponent=kind.exponent,
    )


def _voltages(book: FigureBook, kind: BatteryKind) -> None:
    """Write the voltage at the fuse box with the converter dead, and when the contactors close."""
    resistance = "lv.battery.resistance"
    if not book.has(resistance):
        resistance = "lv.battery_resistance"
        book.make(
            typical_resistance,
            resistance,
            resistance_capacity=kind.resistance_capacity,
            capacity=CAPACITY,
        )
    book.make(
        worst_resistance,
        "lv.battery_worst_resistance",
        label="internal resistance of the 12 V battery, cold and used",
        resistance=resistance,
        factor=COLD_FACTOR,
    )
    book.total(
        "lv.key_on_current",
        "12 V current as the contactors close, at night",
        "A",
        [
            ("everything on at night", "lv.peak.night", 1.0),
            ("coils pulling in", "lv.coils_pull_in_current", 1.0),
        ],
        "current",
    )
    for figure, label, current in (
        (
            "lv.lowest_voltage",
            "lowest 12 V at the fuse box, converter dead, everything on",
            "lv.worst_peak",
        ),
        (
            "lv.key_on_voltage",
            "lowest 12 V at the fuse box as the contactors close",
            "lv.key_on_current",
        ),
    ):
        book.make(
            loaded_voltage,
            figure,
            label=label,
            rest_voltage=kind.rest_voltage,
            current=current,
            battery_resistance="lv.battery_worst_resistance",
            wire_resistance="lv.main.resistance",
        )


def _coils(book: FigureBook) -> None:
    """Write what the coils of the circuit take by their sheets, held and all pulling in at once."""
    devices = book.circuit.devices_of(*COILS)
    for figure, label, entry in (
        ("lv.coils_hold", "power of all coils held, by their sheets", _holding),
        ("lv.coils_pull_in", "power of all coils pulling in at once, by their sheets", _pulling),
    ):
        with book.attempt(figure):
            book.total(figure, label, "W", _each(devices, book, entry), "power")
    book.make(
        power_current,
        "lv.coils_pull_in_current",
        label="current of all coils pulling in at once",
        power="lv.coils_pull_in",
        voltage=COIL_VOLTAGE,
    )


def _each(
    devices: tuple[Device, ...], book: FigureBook, entry: Callable[[FigureBook, Device], str]
) -> list[tuple[str, Source, float]]:
    """Return a row for each coil; a contactor in both poles has two."""
    if not devices:
        raise Missing("hv.contactors")
    return [
        (element.name, entry(book, device), 1.0)
        for device in devices
        for element in device.elements
    ]


def _holding(book: FigureBook, device: Device) -> str:
    return device.entry("coil_power")


def _pulling(book: FigureBook, device: Device) -> str:
    """Return where the power of a coil that pulls in stands: its own where it is cut back later."""
    own, flag = device.entry("pull_in_power"), device.entry("economiser")
    if book.has(own):
        return own
    if flag not in book.car.flags:
        raise Missing(flag)
    return own if book.car.flags[flag] else device.entry("coil_power")


def _reserve_curve(book: FigureBook, kind: BatteryKind) -> Curve:
    """Return how long the usable share of the battery lasts over the current it feeds."""
    capacity, least = book.number(CAPACITY), book.number("lv.hazard_current")
    most = book.number("lv.worst_peak")
    if most <= least:
        raise Missing(reason="every load together draws less than the hazard lamps")
    step = (most / least) ** (1.0 / (CURVE_POINTS - 1))
    currents = tuple(least * step**n for n in range(CURVE_POINTS))
    times = tuple(
        charge_time(capacity=capacity, share=kind.share.si, current=current)
        if kind.exponent is None
        else lead_acid_time(
            capacity=capacity,
            share=kind.share.si,
            current=current,
            rated_time=RATED_TIME.si,
            exponent=kind.exponent.si,
        )
        for current in currents
    )
    return Curve(
        "lv.reserve",
        "time the 12 V battery lasts by itself, against the current it feeds",
        Axis("12 V current", "current", "A", currents),
        (Series("time the battery lasts", "time", "s", times),),
        (
            Mark("hazard lamps", x=least),
            Mark("driving at night", x=book.number("lv.current.night")),
            Mark("everything on at once", x=most),
        ),
        ("peukert-1897", "lv-usable-share-practice"),
    )
