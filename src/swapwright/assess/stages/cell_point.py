"""The cell at one temperature and state of charge: its resistance for 10 s, and the pack's."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, standard
from swapwright.assess.stages.pack import joints, stack
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.pack.cell import ROOM_TEMPERATURE, pulse_resistance
from swapwright.physics.pack.pack import pack_voltage
from swapwright.standards.ratings import TEN_SECONDS

WARM_CELL = standard(ROOM_TEMPERATURE, "K", "plett-2015-ch2")
"""The cell temperature data sheets rate resistance and current at: 25 degC."""

RESISTANCES = ("r0", "r1", "r2")


def resistance_at(
    book: FigureBook, start: str, words: str, temperature: Value | str, soc: Value | str
) -> None:
    """Write what 10 s of current meet at a temperature and a state of charge.

    Makes ``<start>.r0``, ``.r1``, ``.r2`` and ``.cell_resistance`` of the cell, and
    ``<start>.resistance`` of the whole pack with its joints. ``temperature`` and ``soc`` are values
    or the names of entries.
    """
    with book.attempt(*(f"{start}.{part}" for part in RESISTANCES)):
        kelvin = book.value(temperature) if isinstance(temperature, str) else temperature
        charge = book.value(soc) if isinstance(soc, str) else soc
        for part in RESISTANCES:
            book.look_up(
                f"{start}.{part}",
                f"cell {part}, {words}",
                book.car.map(f"pack.cell.{part}").at(kelvin.si, charge.si),
                "ohm",
                LookedUp(part, f"{kelvin.si:.0f} K", f"{charge.si:.0%}", "part-data-sheet"),
                "resistance",
                temperature=kelvin,
                soc=charge,
            )
    book.make(
        pulse_resistance,
        f"{start}.cell_resistance",
        label=f"cell resistance, 10 s, {words}",
        r0=f"{start}.r0",
        r1=f"{start}.r1",
        c1="pack.cell.c1",
        r2=f"{start}.r2",
        c2="pack.cell.c2",
        time=TEN_SECONDS,
    )
    stack(
        book,
        f"{start}.resistance",
        f"pack resistance, 10 s, {words}",
        f"{start}.cell_resistance",
        joints(book),
    )


def rest_voltage_at(book: FigureBook, cell: str, pack: str, words: str, soc: str) -> None:
    """Write the rest voltage of cell and pack at a state of charge, under these two ids."""
    with book.attempt(cell):
        charge = book.value(soc)
        book.look_up(
            cell,
            f"cell rest voltage, {words}",
            book.car.line("pack.cell.ocv").at(charge.si),
            "V",
            LookedUp("rest voltage", f"{charge.si:.0%}", "V", "part-data-sheet"),
            "voltage",
            soc=charge,
        )
    book.make(
        pack_voltage,
        pack,
        label=f"pack rest voltage, {words}",
        series="pack.series_cells",
        cell_voltage=cell,
    )


def derating_at(book: FigureBook, figure_id: str, label: str, table: str, temperature: str) -> None:
    """Write the share of a rated current a table of the cell allows at a temperature."""
    with book.attempt(figure_id):
        kelvin = book.value(temperature)
        book.look_up(
            figure_id,
            label,
            book.car.line(f"pack.cell.{table}").at(kelvin.si),
            "1",
            LookedUp(table.replace("_", " "), f"{kelvin.si:.0f} K", "share", "part-data-sheet"),
            "fraction",
            temperature=kelvin,
        )
