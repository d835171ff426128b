"""Warmth in the cold: the pack brought to where it may be charged, and the cabin kept warm."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.physics.cooling.warmth import cabin_heat, pack_heat_capacity, warming_energy
from swapwright.physics.drive.thermal import steady_temperature, time_to_limit

COLD_DAY = "conditions.cold_day"
COLDEST_CHARGE = "pack.cell.min_charge_temperature"
HEATER = "pack.heater_power"
PATH = "pack.heat_path"
NOT_HEATED = "none"


def warming(book: FigureBook) -> None:
    """Write what the pack's heater does on a cold day, and what the cabin needs."""
    book.make(
        cabin_heat,
        "cooling.cabin_heat",
        label="heat that keeps the cabin warm on a cold day",
        conductance="cooling.cabin.conductance",
        inside="cooling.cabin.temperature",
        outside=COLD_DAY,
    )
    if book.car.texts.get("pack.heating", NOT_HEATED) != NOT_HEATED:
        _pack(book)


def _pack(book: FigureBook) -> None:
    book.make(
        steady_temperature,
        "cooling.pack_warmest",
        label="pack its heater reaches in the end on a cold day",
        loss=HEATER,
        conductance=PATH,
        ambient=COLD_DAY,
    )
    book.make(
        pack_heat_capacity,
        "cooling.pack_heat_capacity",
        label="heat the cells take for each degree",
        mass="pack.cell_mass",
        specific_heat="pack.cell.specific_heat",
    )
    reached, least = book.get("cooling.pack_warmest"), book.get(COLDEST_CHARGE)
    if reached is not None and least is not None and reached <= least:
        reason = "the pack's heater never warms it to where it may be charged"
        for figure in ("time", "energy"):
            book.note_missing(f"cooling.pack_warming_{figure}", Missing(reason=reason))
        return
    book.make(
        time_to_limit,
        "cooling.pack_warming_time",
        label="time from a cold day's pack to one that may be charged",
        loss=HEATER,
        conductance=PATH,
        heat_capacity="cooling.pack_heat_capacity",
        start=COLD_DAY,
        max_temperature=COLDEST_CHARGE,
        ambient=COLD_DAY,
    )
    book.make(
        warming_energy,
        "cooling.pack_warming_energy",
        label="energy the pack's heater takes for it",
        power=HEATER,
        time="cooling.pack_warming_time",
    )
