"""Pack: series and parallel, voltages, energy, resistance, currents, mass, volume, class."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.limit import lesser_share
from swapwright.physics.pack.cell import pulse_resistance
from swapwright.physics.pack.layout import (
    cell_count,
    cells_in_parallel,
    cells_in_series,
    joint_resistance_per_cell,
    mass_of_all,
    pack_current,
    volume_of_all,
)
from swapwright.physics.pack.pack import (
    c_rate,
    pack_capacity,
    pack_energy,
    pack_resistance,
    pack_voltage,
)
from swapwright.physics.pack.shape import box_volume, cylinder_volume
from swapwright.physics.pack.window import soc_at_rest_voltage, usable_energy
from swapwright.standards.marks import HALF_SOC, LOW_SOC
from swapwright.standards.ratings import TEN_SECONDS

NO_WINDOW = "no part of the usable window is within the inverter's voltage"

ONE_CELL = Value(1.0, "1", "standard", "definition-cell-as-module")
NO_MODULE_JOINTS = Value(0.0, "ohm", "standard", "definition-cell-as-module")
_CURRENTS = ("discharge_continuous", "discharge_peak", "charge_continuous", "charge_peak")


def pack(book: FigureBook) -> None:
    """Write what the pack is: counts, voltages, energy, resistance, currents, mass, volume."""
    _layout(book)
    _voltages(book)
    _energy(book)
    _resistance(book)
    _currents(book)
    _size(book)


def _layout(book: FigureBook) -> None:
    if "pack.module" in book.car.part_names:
        book.make(
            cells_in_series,
            "pack.series_cells",
            modules="pack.modules_per_string",
            module_series="pack.module.series",
        )
        book.make(
            cells_in_parallel,
            "pack.parallel_cells",
            strings="pack.strings",
            module_parallel="pack.module.parallel",
        )
    else:
        book.make(
            cells_in_series, "pack.series_cells", modules="pack.series", module_series=ONE_CELL
        )
        book.make(
            cells_in_parallel,
            "pack.parallel_cells",
            strings="pack.strings",
            module_parallel="pack.parallel",
        )
    book.make(cell_count, "pack.cells", series="pack.series_cells", parallel="pack.parallel_cells")


def _voltages(book: FigureBook) -> None:
    for state, source, label in (
        ("full", "pack.cell.max_voltage", "pack voltage, full"),
        ("nominal", "pack.cell.nominal_voltage", "pack voltage, nominal"),
        ("empty", "pack.cell.min_voltage", "pack voltage, lowest under load"),
    ):
        book.make(
            pack_voltage,
            f"pack.voltage_{state}",
            label=label,
            series="pack.series_cells",
            cell_voltage=source,
        )
    with book.attempt("pack.rest_voltage_low", "pack.rest_voltage_top"):
        ocv = book.car.line("pack.cell.ocv")
        for name, soc, label in (
            ("low", LOW_SOC, "rest voltage at 20 % charge"),
            ("top", book.value("pack.usable.to"), "rest voltage at the top of the usable window"),
        ):
            book.look_up(
                f"pack.cell_rest_{name}",
                f"cell {label}",
                ocv.at(soc.si),
                "V",
                LookedUp("rest voltage", f"{soc.si:.0%}", "V", "part-data-sheet"),
                "voltage",
                soc=soc,
            )
            book.make(
                pack_voltage,
                f"pack.rest_voltage_{name}",
                label=f"pack {label}",
                series="pack.series_cells",
                cell_voltage=f"pack.cell_rest_{name}",
            )


def _energy(book: FigureBook) -> None:
    book.make(
        pack_capacity,
        "pack.capacity",
        parallel="pack.parallel_cells",
        cell_capacity="pack.cell.capacity",
        health="pack.health",
    )
    book.make(
        pack_energy,
        "pack.energy",
        label="pack energy, gross",
        capacity="pack.capacity",
        nominal_voltage="pack.voltage_nominal",
    )
    _reach(book)
    with book.attempt("pack.usable_energy"):
        if book.number("pack.window_top") <= book.number("pack.usable.from"):
            raise Missing(reason=NO_WINDOW)
        book.make(
            usable_energy,
            "pack.usable_energy",
            label="pack energy, usable",
            energy="pack.energy",
            low="pack.usable.from",
            high="pack.window_top",
        )


def _reach(book: FigureBook) -> None:
    """Write the fullest charge the inverter may run at, and the top of the window it leaves."""
    with book.attempt("pack.reachable_soc"):
        limits = [
            (book.number(f"{path}.inverter.max_voltage"), f"{path}.inverter.max_voltage")
            for path in drive_parts.units(book)
        ]
        if not limits:
            raise Missing("drive.inverter.max_voltage")
        voltage, path = min(limits)
        book.look_up(
            "pack.reachable_soc",
            "fullest charge at which the inverter may run",
            reachable_top(book, path),
            "1",
            LookedUp(
                "rest voltage", f"{voltage:.0f} V of the pack", "state of charge", "part-data-sheet"
            ),
            "fraction",
            limit=book.value(path),
            series=book.value("pack.series_cells"),
        )
    book.make(
        lesser_share,
        "pack.window_top",
        label="top of the usable window, as far as the inverter reaches",
        first="pack.usable.to",
        second="pack.reachable_soc" if book.has("pack.reachable_soc") else "pack.usable.to",
    )


def joints(book: FigureBook) -> dict[str, Source]:
    """Return where the resistances between the cells of a string stand."""
    if "pack.module" in book.car.part_names:
        return {
            "modules": "pack.modules_per_string",
            "module_joints": "pack.module.joint_resistance",
            "string_joints": "pack.joint_resistance",
        }
    return {
        "modules": "pack.series",
        "module_joints": NO_MODULE_JOINTS,
        "string_joints": "pack.joint_resistance",
    }


def _resistance(book: FigureBook) -> None:
    module = "pack.module" in book.car.part_names
    shared = joints(book)
    for suffix, source, label in (
        ("", "pack.cell.resistance_10s", "pack resistance, 10 s, 25 degC"),
        ("_ohmic", "pack.cell.resistance_ohmic", "pack resistance, ohmic, 25 degC"),
    ):
        stack(book, f"pack.resistance{suffix}", label, source, shared)
    book.make_from(
        joint_resistance_per_cell,
        "pack.joints_per_cell",
        "",
        {
            "module_parallel": "pack.module.parallel" if module else "pack.parallel",
            "series": "pack.series_cells",
            **shared,
        },
    )
    for day, temperature in (
        ("_cold", "conditions.cold_day"),
        ("_hot", "conditions.hot_day"),
    ):
        _resistance_on(book, day, temperature, shared)


def _resistance_on(book: FigureBook, day: str, temperature: str, shared: dict[str, Source]) -> None:
    """Write the 10 s resistance at half charge with the cells at a day's temperature."""
    words = {"_cold": "cold day", "_hot": "hot day"}[day]
    parts = tuple(f"pack.cell_{part}{day}" for part in ("r0", "r1", "r2"))
    with book.attempt(*parts, f"pack.cell_resistance{day}", f"pack.resistance{day}"):
        ambient = book.value(temperature)
        for part in ("r0", "r1", "r2"):
            book.look_up(
                f"pack.cell_{part}{day}",
                f"cell {part}, {words}, half charge",
                book.car.map(f"pack.cell.{part}").at(ambient.si, HALF_SOC.si),
                "ohm",
                LookedUp(part, f"{ambient.si:.0f} K", "50 %", "part-data-sheet"),
                "resistance",
                temperature=ambient,
                soc=HALF_SOC,
            )
    book.make(
        pulse_resistance,
        f"pack.cell_resistance{day}",
        label=f"cell resistance, 10 s, {words}",
        r0=f"pack.cell_r0{day}",
        r1=f"pack.cell_r1{day}",
        c1="pack.cell.c1",
        r2=f"pack.cell_r2{day}",
        c2="pack.cell.c2",
        time=TEN_SECONDS,
    )
    stack(
        book,
        f"pack.resistance{day}",
        f"pack resistance, 10 s, {words}",
        f"pack.cell_resistance{day}",
        shared,
    )


def stack(
    book: FigureBook, figure_id: str, label: str, cell_resistance: str, shared: dict[str, Source]
) -> None:
    """Write the resistance of the whole stack with its joints."""
    book.make_from(
        pack_resistance,
        figure_id,
        label,
        {
            "series": "pack.series_cells",
            "parallel": "pack.parallel_cells",
            "cell_resistance": cell_resistance,
            "strings": "pack.strings",
            **shared,
        },
    )


def _currents(book: FigureBook) -> None:
    for name in _CURRENTS:
        book.make(
            pack_current,
            f"pack.{name}",
            label=f"pack current, {name.replace('_', ' ')}",
            cell_current=f"pack.cell.{name}",
            parallel="pack.parallel_cells",
        )
        book.make(
            c_rate,
            f"pack.{name}_rate",
            label=f"C-rate, {name.replace('_', ' ')} limit",
            current=f"pack.{name}",
            capacity="pack.capacity",
        )


def _size(book: FigureBook) -> None:
    book.make(
        mass_of_all,
        "pack.cell_mass",
        label="mass of the cells",
        count="pack.cells",
        each="pack.cell.mass",
    )
    if "pack.module" in book.car.part_names:
        book.make(
            cell_count,
            "pack.modules",
            label="modules in the pack",
            series="pack.modules_per_string",
            parallel="pack.strings",
        )
        book.make(
            mass_of_all,
            "pack.mass",
            label="mass of the modules",
            count="pack.modules",
            each="pack.module.mass",
        )
    else:
        book.note_missing("pack.modules", Missing("pack.module"))
        book.total(
            "pack.mass",
            "mass of the pack's cells",
            "kg",
            [("cells", "pack.cell_mass", 1.0)],
            "mass",
        )
    with book.attempt("pack.cell_volume", "pack.volume"):
        _cell_volume(book)
    book.make(
        volume_of_all,
        "pack.volume",
        label="volume of the cells",
        count="pack.cells",
        each="pack.cell_volume",
    )


def _cell_volume(book: FigureBook) -> None:
    if book.car.text("pack.cell.format") == "cylindrical":
        book.make(
            cylinder_volume,
            "pack.cell_volume",
            diameter="pack.cell.diameter",
            height="pack.cell.height",
        )
        return
    book.make(
        box_volume,
        "pack.cell_volume",
        length="pack.cell.length",
        width="pack.cell.width",
        height="pack.cell.height",
    )


def reachable_top(book: FigureBook, max_voltage: str) -> float:
    """Return the fullest state of charge whose rest voltage the named limit allows.

    Raises Missing where the cell's curve, the series count or the limit is not there.
    """
    ocv = book.car.line("pack.cell.ocv")
    series = book.number("pack.series_cells")
    limit = book.number(max_voltage)
    return soc_at_rest_voltage(ocv=ocv, voltage=limit / series)
