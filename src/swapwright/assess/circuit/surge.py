"""The link emptying itself into a fault: what it adds to what a fuse has to break."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.fault import SOLVED, Solved
from swapwright.assess.circuit.place import Place
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.wiring import conductors
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device
from swapwright.physics.circuit.contactor import damping, making_peak, surge_impedance
from swapwright.standards.circuit import LINK_INDUCTANCE, LINK_RESISTANCE

_NO_SHARE = 1e-6


def surges(
    book: FigureBook,
    guarded: Mapping[Place, tuple[Device, ...]],
    solved: Mapping[str, Solved],
) -> None:
    """Write the current each fuse has to break: the pack's, and the link's where it lies before it.

    The link's is that of a short at the converter the fuse is for, at the end of its cable. Where
    it cannot be worked out, what the fuse has to break is not known either.
    """
    for fuse in book.circuit.devices_of(model.FUSE):
        duty = f"circuit.{fuse.slug}.breaking_duty"
        rows: list[tuple[str, Source, float]] = [("pack", f"circuit.{fuse.slug}.most_fault", 1.0)]
        with book.attempt(duty):
            if FULL in solved and book.has(f"circuit.{fuse.slug}.most_fault"):
                place = _own_converter(book.circuit, fuse, guarded)
                if place is not None and _surge(book, fuse, place, solved[FULL]):
                    rows.append(("link", f"circuit.{fuse.slug}.link_peak", 1.0))
            label = f"current the {fuse.name} has to break"
            book.total(duty, label, "A", rows, "current")


def link_place(circuit: Circuit, solved: Solved) -> Place | None:
    """Return the place of the first capacitor of the link."""
    links = {(each.plus, each.minus) for each in circuit.of_kind(model.LINK)}
    return next((each for each in solved.faults if (each.plus, each.minus) in links), None)


def _own_converter(
    circuit: Circuit, fuse: Device, guarded: Mapping[Place, tuple[Device, ...]]
) -> Place | None:
    """Return the place of the converter a fuse is the last before."""
    ends = {(each.plus, each.minus) for each in circuit.of_kind(*model.CONVERTERS)}
    return next(
        (
            place
            for place, fuses in guarded.items()
            if fuses and fuses[-1] == fuse and (place.plus, place.minus) in ends
        ),
        None,
    )


def _surge(book: FigureBook, fuse: Device, place: Place, solved: Solved) -> bool:
    """Write the peak of the link's surge through a fuse; tell whether the link lies before it.

    Raises Missing where a resistance on the way, or a capacitor of the link, is not known.
    """
    link = link_place(book.circuit, solved)
    if link == place or not book.circuit.of_kind(model.LINK):
        return False
    if link is None or place not in solved.faults:
        conductors(book, FULL)
        return False
    if max(solved.faults[link].shares.get(each.name, 0.0) for each in fuse.elements) > _NO_SHARE:
        return False
    book.value("link.capacitance")
    far, near = solved.faults[place], solved.faults[link]
    slug, pack = fuse.slug, book.value(f"circuit.pack.resistance_{FULL}")
    for name, si, unit, own in (
        ("resistance", far.resistance - near.resistance, "ohm", LINK_RESISTANCE),
        ("inductance", far.inductance - near.inductance, "H", LINK_INDUCTANCE),
    ):
        label = f"{name} from the link to a fault at {place.name}"
        book.look_up(
            f"circuit.{slug}.{name}_from_link",
            label,
            max(si, 0.0),
            unit,
            LookedUp("solved network", place.name, name, SOLVED),
            name,
            pack=pack,
        )
        rows: list[tuple[str, Source, float]] = [
            ("path", f"circuit.{slug}.{name}_from_link", 1.0),
            ("capacitor", own, 1.0),
        ]
        book.total(
            f"circuit.{slug}.link_{name}", f"{label}, the capacitor's own in it", unit, rows, name
        )
    book.make(
        surge_impedance,
        f"circuit.{slug}.link_impedance",
        inductance=f"circuit.{slug}.link_inductance",
        capacitance="link.capacitance",
    )
    book.make(
        damping,
        f"circuit.{slug}.link_damping",
        resistance=f"circuit.{slug}.link_resistance",
        surge_impedance=f"circuit.{slug}.link_impedance",
    )
    book.make(
        making_peak,
        f"circuit.{slug}.link_peak",
        label=f"peak of the link emptying itself through the {fuse.name}",
        voltage="pack.max_working_voltage",
        surge_impedance=f"circuit.{slug}.link_impedance",
        damping=f"circuit.{slug}.link_damping",
    )
    return True
