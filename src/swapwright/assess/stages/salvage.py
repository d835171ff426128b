"""Modules out of another vehicle: each string as good as its weakest group, as measured."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import median_low

from swapwright.assess.book import FigureBook, Source
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.pack.layout import cell_count, current_per_cell
from swapwright.physics.pack.pack import pack_capacity
from swapwright.physics.pack.salvage import (
    conductance,
    least_allowed,
    measured_share,
    resistance_allowed,
    resistance_of,
    spread_per_cell,
    string_current,
)
from swapwright.standards.salvage import LEAST_CAPACITY, RESISTANCE_SPREAD

TESTED = "pack.tested"
SOURCE = "used-module-acceptance"
TABLE = "modules as measured"
JUDGED = (
    "salvage.listed",
    "salvage.wanted",
    "salvage.health",
    "salvage.resistance",
    "salvage.drop_spread",
    "salvage.cell_voltage_spread",
)
"""What nobody can tell of salvaged modules that were not measured."""

ALONE = Value(1.0, "1", "standard", "definition-series-parallel")
Row = tuple[str, Source, float]


@dataclass(frozen=True)
class Tested:
    """One module that was measured: its row, its serial, its string and its group there."""

    row: int
    serial: str
    string: int
    group: int | None

    def entry(self, name: str) -> str:
        """Return the build path of one of its data."""
        return f"{TESTED}[{self.row}].{name}"


def tested(book: FigureBook) -> tuple[Tested, ...]:
    """Return the modules that were measured, as the file lists them."""
    return tuple(
        Tested(
            row,
            book.car.texts.get(f"{TESTED}[{row}].serial", "module without a serial"),
            int(book.get(f"{TESTED}[{row}].string") or 1),
            None if (group := book.get(f"{TESTED}[{row}].group")) is None else int(group),
        )
        for row in range(book.car.counts.get(TESTED, 0))
    )


def strings_of(modules: Iterable[Tested]) -> dict[int, tuple[Tested, ...]]:
    """Return the modules of each string, by its number."""
    found: dict[int, tuple[Tested, ...]] = {}
    for each in modules:
        found[each.string] = (*found.get(each.string, ()), each)
    return dict(sorted(found.items()))


def layout_fault(book: FigureBook, modules: Sequence[Tested]) -> str:
    """Return what keeps the list from being the pack of the file, empty where it may be it.

    Raises Missing where the file does not say how long a string is.
    """
    serials = [each.serial for each in modules]
    if len(set(serials)) < len(serials):
        return "a serial stands in the list of measured modules more than once"
    strings = strings_of(modules)
    if any(number > (book.get("pack.strings") or 1.0) for number in strings):
        return "the list of measured modules names a string the pack does not have"
    length = "pack.modules_per_string" if has_modules(book) else "pack.series"
    wanted = book.number(length)
    if any(len(groups_of(members)) > wanted for members in strings.values()):
        return "the list of measured modules has more in a string than the pack has in series"
    complete = len(modules) >= (book.get("pack.strings") or 1.0) * wanted
    if complete and any(len(groups_of(members)) < wanted for members in strings.values()):
        return "a string of the list of measured modules is shorter than the pack's strings"
    return ""


def salvage(book: FigureBook) -> None:
    """Write capacity, resistance and sharing of strings by their measured modules."""
    modules = tested(book)
    if not modules:
        if book.car.flags.get("pack.salvaged", False):
            for figure in JUDGED:
                book.note_missing(figure, Missing(f"{TESTED}[].serial"))
        return
    fault = layout_fault(book, modules)
    if fault:
        for figure in (*JUDGED, "salvage.insulation"):
            book.note_missing(figure, Missing(reason=fault))
        return
    strings = strings_of(modules)
    _units(book, modules)
    for number, members in strings.items():
        _string(book, number, members)
    rows: list[Row] = [
        (f"string {number}", f"salvage.string_{number}.capacity", 1.0) for number in strings
    ]
    book.total("salvage.capacity", "capacity by the weakest of each string", "C", rows, "charge")
    book.make(
        pack_capacity,
        "salvage.rated_capacity",
        label="capacity of the pack, new",
        parallel="pack.parallel_cells",
        cell_capacity="pack.cell.capacity",
    )
    book.make(
        measured_share,
        "salvage.health",
        label="capacity by the weakest of each string, over the rated one",
        measured="salvage.capacity",
        rated="salvage.rated_capacity",
    )
    _side_by_side(book, tuple(strings))
    _spreads(book, modules)
    own = [(each.serial, each.entry("insulation")) for each in modules]
    _beside(book, "salvage.insulation", own)
    rows = [("all side by side", "salvage.insulation.resistance", 1.0)]
    label = "insulation of all modules to their cases, side by side"
    book.total("salvage.insulation", label, "ohm", rows, "resistance")


def has_modules(book: FigureBook) -> bool:
    """Tell whether the pack is made of modules, and not of cells."""
    return "pack.module" in book.car.part_names or book.has("pack.modules_per_string")


def _units(book: FigureBook, modules: Sequence[Tested]) -> None:
    """Write how many were measured, how many the pack has, and what one is rated for."""
    cell = LookedUp(TABLE, "all rows", "count", SOURCE)
    book.look_up("salvage.listed", "modules measured", float(len(modules)), "1", cell, "count")
    of_modules = has_modules(book)
    if of_modules:
        one: list[Row] = [("modules in the pack", "pack.modules", 1.0)]
        book.total("salvage.wanted", "modules the pack is made of", "1", one, "count")
    else:
        book.make(
            cell_count,
            "salvage.wanted",
            label="cells the pack is made of",
            series="pack.series_cells",
            parallel="pack.parallel_cells",
        )
    book.make(
        pack_capacity,
        "salvage.rated_module",
        label="capacity of one that was measured, new",
        parallel="pack.module.parallel" if of_modules else ALONE,
        cell_capacity="pack.cell.capacity",
    )


def groups_of(members: Sequence[Tested]) -> list[tuple[str, tuple[Tested, ...]]]:
    """Return the groups of a string: those that stand side by side, or each by itself."""
    found: dict[str, tuple[Tested, ...]] = {}
    for each in members:
        key = f"module_{each.row}" if each.group is None else f"group_{each.group}"
        found[key] = (*found.get(key, ()), each)
    return list(found.items())


def _string(book: FigureBook, number: int, members: Sequence[Tested]) -> None:
    """Write one string's capacity and resistance."""
    name = f"salvage.string_{number}"
    capacities: list[tuple[str, str]] = []
    resistances: list[Row] = []
    for key, group in groups_of(members):
        label = " and ".join(each.serial for each in group)
        if len(group) == 1:
            capacities.append((label, group[0].entry("capacity")))
            resistances.append((label, group[0].entry("resistance"), 1.0))
            continue
        own = f"{name}.{key}"
        rows: list[Row] = [(each.serial, each.entry("capacity"), 1.0) for each in group]
        book.total(f"{own}.capacity", f"capacity of {label}", "C", rows, "charge")
        capacities.append((label, f"{own}.capacity"))
        _beside(book, own, [(each.serial, each.entry("resistance")) for each in group])
        resistances.append((label, f"{own}.resistance", 1.0))
    _pick(
        book,
        f"{name}.capacity",
        f"capacity of string {number}: that of its weakest",
        capacities,
        min,
        "charge",
    )
    resistances.append(("joints", "pack.joint_resistance", 1.0))
    label = f"resistance of string {number}"
    book.total(f"{name}.resistance", label, "ohm", resistances, "resistance")


def _beside(book: FigureBook, own: str, parts: Sequence[tuple[str, str]]) -> None:
    """Write the conductances of what stands side by side, their sum, and its resistance."""
    rows: list[Row] = []
    for place, (label, resistance) in enumerate(parts, start=1):
        figure = f"{own}.conductance_{place}"
        book.make(conductance, figure, label=f"conductance of {label}", resistance=resistance)
        rows.append((label, figure, 1.0))
    book.total(f"{own}.conductance", "conductance side by side", "1/ohm", rows, "conductance")
    book.make(
        resistance_of,
        f"{own}.resistance",
        label="resistance side by side",
        conductance=f"{own}.conductance",
    )


def _pick(
    book: FigureBook,
    figure_id: str,
    label: str,
    parts: Sequence[tuple[str, str]],
    which: Callable[[list[float]], float],
    kind: str,
) -> None:
    """Write the one of several measured numbers that counts."""
    lacking: list[Missing] = []
    known: list[tuple[float, str, str]] = []
    for name, path in parts:
        try:
            value = book.value(path)
        except Missing as missing:
            lacking.append(missing)
        else:
            known.append((value.si, name, path))
    if lacking or not known:
        book.note_missing(figure_id, *lacking)
        return
    chosen = which([number for number, _, _ in known])
    _, name, path = next(each for each in known if each[0] == chosen)
    value = book.value(path)
    cell = LookedUp(TABLE, name, path.rpartition(".")[2], SOURCE)
    book.look_up(figure_id, label, chosen, value.unit, cell, kind, measured=value)


def _side_by_side(book: FigureBook, strings: Sequence[int]) -> None:
    """Write the resistance of all strings, and what each carries of the strongest current."""
    own = [(f"string {number}", f"salvage.string_{number}.resistance") for number in strings]
    _beside(book, "salvage", own)
    book.make(
        current_per_cell,
        "salvage.string_current_allowed",
        label="peak current the cells of one string allow",
        current="pack.discharge_peak",
        parallel="pack.strings",
    )
    for place, number in enumerate(strings, start=1):
        book.make(
            string_current,
            f"salvage.string_{number}.current",
            label=f"what string {number} carries of the most current drawn",
            current="current.peak_demand",
            conductance=f"salvage.conductance_{place}",
            conductance_of_all="salvage.conductance",
        )


def _spreads(book: FigureBook, modules: Sequence[Tested]) -> None:
    """Write how far the modules differ: capacity, resistance, self-discharge, voltage."""

    def of(name: str) -> list[tuple[str, str]]:
        return [(each.serial, each.entry(name)) for each in modules]

    book.make(
        least_allowed,
        "salvage.least_allowed",
        label="least capacity one is taken with",
        rated="salvage.rated_module",
        share=LEAST_CAPACITY,
    )
    figure = "salvage.middle_resistance"
    _pick(book, figure, "middle resistance", of("resistance"), median_low, "resistance")
    book.make(
        resistance_allowed,
        "salvage.resistance_allowed",
        label="most resistance one is taken with",
        middle=figure,
        ratio=RESISTANCE_SPREAD,
    )
    for name, words in (("drop", "fall of the voltage in a week"), ("voltage", "open voltage")):
        for word, pick in (("highest", max), ("lowest", min)):
            figure = f"salvage.{word}_{name}"
            _pick(book, figure, f"{word} {words}", of(name), pick, "voltage")
        rows: list[Row] = [
            ("highest", f"salvage.highest_{name}", 1.0),
            ("lowest", f"salvage.lowest_{name}", -1.0),
        ]
        book.total(f"salvage.{name}_spread", f"spread of the {words}", "V", rows, "voltage")
    book.make(
        spread_per_cell,
        "salvage.cell_voltage_spread",
        label="spread of the open voltage, for one cell",
        spread="salvage.voltage_spread",
        series="pack.module.series" if has_modules(book) else ALONE,
    )
