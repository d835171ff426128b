"""Discharge: how long each section holds charge once it is opened, and how long to wait.

Each path that empties a section's capacitors is taken at its worst. The waiting time stands on the
paths that are left when the most helpful one has failed; where none is left there is no waiting
time, and the section is discharged as live work. Neither is there one where the pack itself stands
in a section: no waiting empties a pack. Y-capacitors drain through the leaks alone.
"""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.isolation import NO_Y
from swapwright.assess.circuit.section import Section, sections
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.discharge import (
    bleed_power,
    equivalent_resistance,
    stored_energy,
    time_to_energy,
    time_to_voltage,
    worst_capacitance,
    worst_resistance,
)
from swapwright.physics.circuit.isolation import parallel_resistance
from swapwright.standards import discharge as table

VOLTAGE = "pack.max_working_voltage"
NO_WAIT = (
    "no waiting time exists: with one path failed nothing empties {} any more; it is discharged by "
    "the maker's method, as live work"
)


NO_EMPTYING = (
    "no waiting empties the section {}: the pack itself stands in it, joined in one pole at least"
)
SOLVED = "kirchhoff-current-law"


def discharges(book: FigureBook) -> None:
    """Write stored energy, discharge times and the waiting time of each section."""
    for section in never_emptied(book.circuit):
        reason = Missing(reason=NO_EMPTYING.format(section.name))
        for name in ("time", "least"):
            book.note_missing(f"wait.{section.slug}.{name}", reason)
    for section in stored(book.circuit):
        _stored(book, section)
        _paths(book, section)
        _times(book, section)
        _y_capacitors(book, section)
        with book.attempt(f"wait.{section.slug}.time"):
            _wait(book, section, "time", "failed")
        with book.attempt(f"wait.{section.slug}.least"):
            _wait(book, section, "least", "whole")
    for device in book.circuit.devices_of(model.BLEED):
        book.make(
            bleed_power,
            f"circuit.{device.slug}.power",
            label=f"power of the {device.name} at the highest voltage",
            voltage=VOLTAGE,
            resistance=device.entry("resistance"),
        )


@model.kept
def stored(circuit: Circuit) -> tuple[Section, ...]:
    """Return the sections that can be waited for: with a capacitor, and without a pack."""
    return _holding(circuit, with_pack=False)


@model.kept
def never_emptied(circuit: Circuit) -> tuple[Section, ...]:
    """Return the sections in which a pack stands beside a capacitor: no waiting empties them."""
    return _holding(circuit, with_pack=True)


def _holding(circuit: Circuit, *, with_pack: bool) -> tuple[Section, ...]:
    return tuple(
        section
        for section in sections(circuit)
        if _of(circuit, section, model.LINK)
        and bool(_of(circuit, section, model.PACK)) == with_pack
    )


def _of(circuit: Circuit, section: Section, *kinds: str) -> tuple[Element, ...]:
    inside = set(section.elements)
    return tuple(element for element in circuit.of_kind(*kinds) if element.name in inside)


def _stored(book: FigureBook, section: Section) -> None:
    slug = section.slug
    rows: list[tuple[str, Source, float]] = [
        (each.name, each.entry("capacitance"), 1.0)
        for each in _of(book.circuit, section, model.LINK)
    ]
    label = f"capacitance of the section {section.name}"
    book.total(f"wait.{slug}.capacitance", label, "F", rows, "capacitance")
    book.make(
        worst_capacitance,
        f"wait.{slug}.worst_capacitance",
        label=f"{label}, at its upper tolerance",
        capacitance=f"wait.{slug}.capacitance",
        tolerance=table.CAPACITOR_TOLERANCE,
    )
    book.make(
        stored_energy,
        f"wait.{slug}.energy",
        label=f"energy stored in the section {section.name}",
        capacitance=f"wait.{slug}.worst_capacitance",
        voltage=VOLTAGE,
    )


def _paths(book: FigureBook, section: Section) -> None:
    """Write the resistance of every path at its worst: bleeds hot and high, active discharge."""
    for element in _of(book.circuit, section, model.BLEED):
        book.make(
            worst_resistance,
            _path(section, element),
            label=f"{element.name} at its upper tolerance, hot",
            resistance=element.entry("resistance"),
            tolerance=table.RESISTOR_TOLERANCE,
            temperature_factor=table.RESISTOR_TEMPERATURE_FACTOR,
            rise=table.RESISTOR_RISE,
        )
    for element in _of(book.circuit, section, model.ACTIVE_DISCHARGE):
        book.make(
            equivalent_resistance,
            _path(section, element),
            label=f"{element.name} as a resistance",
            time=element.entry("time"),
            capacitance=f"wait.{section.slug}.capacitance",
            voltage=VOLTAGE,
            target=table.DISCHARGED_VOLTAGE,
        )


def _path(section: Section, element: Element) -> str:
    return f"wait.{section.slug}.path_{model.slug(element.name)}"


def _times(book: FigureBook, section: Section) -> None:
    """Write the times to 60 V and to the energy limit: all paths whole, and the best one failed."""
    slug = section.slug
    elements = _of(book.circuit, section, model.BLEED, model.ACTIVE_DISCHARGE)
    with book.attempt(f"wait.{slug}.paths"):
        _count(book, section, elements)
    with book.attempt(*(f"wait.{slug}.resistance_{state}" for state in ("whole", "failed"))):
        paths = [_path(section, element) for element in elements]
        if not paths:
            _refuse_silence(book)
        worst = {path: book.number(path) for path in paths}
        best = min(paths, key=worst.__getitem__, default=None)
        for state, left in (("whole", paths), ("failed", [p for p in paths if p != best])):
            _together(book, left, section, state)
    for state, words in (
        ("whole", "all paths whole"),
        ("failed", "the most helpful path failed"),
    ):
        for name, function, what, target in (
            ("to_60v", time_to_voltage, "60 V", {"target": table.DISCHARGED_VOLTAGE}),
            (
                "to_energy",
                time_to_energy,
                "the stored-energy limit",
                {"energy": table.DISCHARGED_ENERGY},
            ),
        ):
            book.make_from(
                function,
                f"wait.{slug}.{name}_{state}",
                f"time of the section {section.name} to {what}, {words}",
                {
                    "resistance": f"wait.{slug}.resistance_{state}",
                    "capacitance": f"wait.{slug}.worst_capacitance",
                    "voltage": VOLTAGE,
                    **target,
                },
            )


def _count(book: FigureBook, section: Section, elements: tuple[Element, ...]) -> None:
    """Write how many paths empty a section; raise Missing where one of them is not described."""
    if not elements:
        _refuse_silence(book)
    given = {
        model.slug(element.name): book.value(
            element.entry("time" if element.kind == model.ACTIVE_DISCHARGE else "resistance")
        )
        for element in elements
    }
    book.look_up(
        f"wait.{section.slug}.paths",
        f"paths that empty the section {section.name}",
        float(len(given)),
        "1",
        LookedUp("solved network", section.name, "bleeds and active discharge", SOLVED),
        "count",
        **given,
    )


def _refuse_silence(book: FigureBook) -> None:
    """Raise Missing where the file says nothing at all of how the circuit is emptied."""
    is_written_out = book.car.counts.get("hv.element", 0)
    if not is_written_out and not book.circuit.of_kind(model.BLEED, model.ACTIVE_DISCHARGE):
        raise Missing("hv.bleed")


def _together(book: FigureBook, paths: list[str], section: Section, state: str) -> None:
    """Write the resistance of several paths side by side, two by two; missing where none is."""
    figure_id = f"wait.{section.slug}.resistance_{state}"
    if not paths:
        book.note_missing(figure_id, Missing(reason=NO_WAIT.format(section.name)))
        return
    whole = paths[0]
    label = f"paths that empty the section {section.name}"
    for number, path in enumerate(paths[1:], start=1):
        joined = figure_id if number == len(paths) - 1 else f"{figure_id}.{number}"
        book.make(parallel_resistance, joined, label=label, first=whole, second=path)
        whole = joined
    if len(paths) == 1:
        rows: list[tuple[str, Source, float]] = [(state, paths[0], 1.0)]
        book.total(figure_id, label, "ohm", rows, "resistance")


def _y_capacitors(book: FigureBook, section: Section) -> None:
    """Write how long a section's Y-capacitors take to drain by the leaks, both poles together.

    The monitor is left out: it may be off. One pole had stood on the chassis, so that they start
    from the whole voltage.
    """
    slug = section.slug
    found = _of(book.circuit, section, model.Y_CAPACITOR)
    with book.attempt(*(f"wait.{slug}.{name}" for name in _y_times(book, section).values())):
        if not found:
            raise _no_y(book)
        label = f"capacitance of the section {section.name} to the chassis"
        rows: list[tuple[str, Source, float]] = [
            (each.name, each.entry("capacitance"), 1.0) for each in found
        ]
        book.total(f"wait.{slug}.y_capacitance", label, "F", rows, "capacitance")
        book.make(
            worst_capacitance,
            f"wait.{slug}.worst_y_capacitance",
            label=f"{label}, at its upper tolerance",
            capacitance=f"wait.{slug}.y_capacitance",
            tolerance=table.CAPACITOR_TOLERANCE,
        )
        leak = _leak(book, section)
        for words, name in _y_times(book, section).items():
            is_to_voltage = name == "y_to_60v"
            book.make_from(
                time_to_voltage if is_to_voltage else time_to_energy,
                f"wait.{slug}.{name}",
                f"time of the section {section.name}, {words}",
                {
                    "resistance": leak,
                    "capacitance": f"wait.{slug}.worst_y_capacitance",
                    "voltage": VOLTAGE,
                    **(
                        {"target": table.DISCHARGED_VOLTAGE}
                        if is_to_voltage
                        else {"energy": table.DISCHARGED_ENERGY}
                    ),
                },
            )


def _y_times(book: FigureBook, section: Section) -> Mapping[str, str]:
    """Return the times a section's Y-capacitors need; none where they all stand elsewhere."""
    if book.circuit.of_kind(model.Y_CAPACITOR) and not _of(
        book.circuit, section, model.Y_CAPACITOR
    ):
        return {}
    return {
        "Y-capacitors to 60 V": "y_to_60v",
        "Y-capacitors to the stored-energy limit": "y_to_energy",
    }


def _no_y(book: FigureBook) -> Missing:
    if book.car.counts.get("hv.element", 0):
        return Missing(reason=NO_Y)
    return Missing("hv.y_capacitance")


def _leak(book: FigureBook, section: Section) -> str:
    """Write all leaks to the chassis side by side, as measured; return the figure's name."""
    leaks = [each.entry("resistance") for each in book.circuit.of_kind(model.LEAK)]
    if not book.car.counts.get("hv.element", 0) or not leaks:
        leaks = ["hv.isolation.positive", "hv.isolation.negative"]
    whole = leaks[0]
    for number, leak in enumerate(leaks[1:], start=1):
        is_last = number == len(leaks) - 1
        joined = f"wait.{section.slug}.leak{'' if is_last else f'_{number}'}"
        label = "isolation resistance of both poles together, the monitor left out"
        book.make(parallel_resistance, joined, label=label, first=whole, second=leak)
        whole = joined
    return whole


def _wait(book: FigureBook, section: Section, name: str, state: str) -> None:
    """Write the longest of the times a section has to be waited for."""
    slug = section.slug
    times: Mapping[str, Value] = {
        "to 60 V": book.value(f"wait.{slug}.to_60v_{state}"),
        "to the stored-energy limit": book.value(f"wait.{slug}.to_energy_{state}"),
        "shop floor": table.SHOP_WAIT,
    }
    for words, figure in _y_times(book, section).items():
        times = {**times, words: book.value(f"wait.{slug}.{figure}")}
    if book.has("hv.maker_wait"):
        times = {**times, "maker's figure": book.value("hv.maker_wait")}
    longest = max(times, key=lambda each: times[each].si)
    words = "" if name == "time" else ", every path working"
    book.look_up(
        f"wait.{slug}.{name}",
        f"waiting time of the section {section.name}{words}",
        times[longest].si,
        "s",
        LookedUp("longest of these", longest, "time", "swapwright-longest-wait"),
        "time",
        **{model.slug(each): value for each, value in times.items()},
    )
