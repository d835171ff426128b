"""What protects each cable, connector and contactor, and what it lets through to them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.fault import RISE, SOLVED, Solved, melting_points
from swapwright.assess.circuit.place import Place
from swapwright.assess.circuit.resistance import FULL, words_of
from swapwright.assess.circuit.surge import link_place
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.contactor import overload_current
from swapwright.physics.circuit.fault_current import discharge_i2t
from swapwright.physics.circuit.fuse_melting import melting_current
from swapwright.standards.fuses import CURVE_TOLERANCE

PROTECTED = (model.CABLE, model.CONTACTOR, model.CONNECTOR)
I2T = "A^2.s"
_NO_SHARE = 1e-6
OVERLOADS = tuple(np.geomspace(0.1, 300.0, 25).tolist())
"""s; the times a contactor is compared with its fuse at."""


@dataclass(frozen=True)
class Protection:
    """A fuse before a device, and how much of the device's current goes through the fuse.

    ``ratio`` is the device's current over the fuse's: 2 behind two strings with a fuse each.
    """

    fuse: Device
    ratio: float


def protections(
    book: FigureBook,
    guarded: Mapping[Place, tuple[Device, ...]],
    solved: Mapping[str, Solved],
) -> None:
    """Write for each cable and contactor the fuse before it, and the most it lets through."""
    for device in book.circuit.devices_of(*PROTECTED):
        made = ("fuse_rating", "fuse_i2t", "fault_i2t", "until_fuse")
        with book.attempt(*(f"circuit.{device.slug}.{name}" for name in made)):
            found = protecting(book, device, guarded, solved)
            _rating(book, device, found)
            with book.attempt(*(f"circuit.{device.slug}.{name}" for name in made[1:3])):
                _let_through(book, device, found, solved)
            if device.kind == model.CONTACTOR:
                _until_fuse(book, device, found)


def protecting(
    book: FigureBook,
    device: Device,
    guarded: Mapping[Place, tuple[Device, ...]],
    solved: Mapping[str, Solved],
) -> Protection:
    """Return the smallest fuse that ends a short at the near end of a device.

    Raises Missing where there is none, or where its rating is not known.
    """
    starts = {element.plus for element in device.elements}
    nodes = starts | {element.minus for element in device.elements}
    near = [place for place in guarded if place.plus in starts] or [
        place for place in guarded if {place.plus, place.minus} & nodes
    ]
    fuses = [fuse for place in near for fuse in guarded[place]]
    found = [Protection(fuse, 1.0) for fuse in fuses] or _in_turn(book, device, solved)
    if not found:
        if book.circuit.of_kind(model.FUSE) or book.car.counts.get("hv.element", 0):
            reason = f"nothing clears a fault at {device.name}: no fuse lies before it"
            raise Missing(reason=reason)
        raise Missing("hv.main_fuse")
    return min(found, key=lambda each: book.number(each.fuse.entry("rating")) * each.ratio)


def _in_turn(book: FigureBook, device: Device, solved: Mapping[str, Solved]) -> list[Protection]:
    """Return the fuses that only together end a short behind a device, as those of two strings."""
    found = []
    for state, each in solved.items():
        place = _behind(device, each)
        if place is None or not book.has(f"fault.{place.slug}.clearing_{state}"):
            continue
        share = _share(device, each.faults[place].shares)
        for fuse in book.circuit.devices_of(model.FUSE):
            part = _share(fuse, each.faults[place].shares)
            if part > _NO_SHARE and share > _NO_SHARE:
                found.append(Protection(fuse, share / part))
    return found


def _behind(device: Device, solved: Solved) -> Place | None:
    """Return the place at the far end of a device."""
    ends = {element.minus for element in device.elements}
    return next((place for place in solved.faults if place.plus in ends), None)


def _share(device: Device, shares: Mapping[str, float]) -> float:
    return max((shares.get(element.name, 0.0) for element in device.elements), default=0.0)


def _rating(book: FigureBook, device: Device, found: Protection) -> None:
    rating = book.value(found.fuse.entry("rating"))
    book.look_up(
        f"circuit.{device.slug}.fuse_rating",
        f"current that the fuses before {device.name} let flow for good",
        rating.si * found.ratio,
        "A",
        LookedUp("fuses in its path", found.fuse.name, f"rating, times {found.ratio:.3g}", SOLVED),
        "current",
        rating=rating,
    )


def _let_through(
    book: FigureBook, device: Device, found: Protection, solved: Mapping[str, Solved]
) -> None:
    """Write the most I2t of a fault behind a device: strong and quick, or weak and slow."""
    slug, fuse = device.slug, found.fuse
    sheet = book.value(f"circuit.{fuse.slug}.clearing_i2t")
    energies = {"its data sheet": sheet.si * found.ratio**2}
    inputs: dict[str, Value] = {"clearing": sheet}
    for state, each in solved.items():
        place = _behind(device, each)
        share = 0.0 if place is None else _share(device, each.faults[place].shares)
        if place is None or share <= _NO_SHARE:
            continue
        current = book.value(f"fault.{place.slug}.current_{state}")
        time = book.value(f"fault.{place.slug}.clearing_{state}")
        rise = each.faults[place].time_constant * RISE
        # While it rises the current is lower: that time is waited for, but heats next to nothing.
        energies[words_of(state)] = (share * current.si) ** 2 * max(time.si - rise, 0.0)
        inputs |= {f"current_{state}": current, f"time_{state}": time}
    worst = max(energies, key=energies.__getitem__)
    book.look_up(
        f"circuit.{slug}.fuse_i2t",
        f"most I2t that the {fuse.name} lets through to {device.name}",
        energies[worst],
        I2T,
        LookedUp("largest of these", worst, "I2t", SOLVED),
        "joule_integral",
        **inputs,
    )
    if device.kind == model.CONTACTOR:
        _with_link(book, device, solved)


def _with_link(book: FigureBook, device: Device, solved: Mapping[str, Solved]) -> None:
    """Write the most I2t a fault on either side drives through a contactor.

    On the pack's side the link's capacitors empty themselves back through it.
    """
    slug = device.slug
    energies = {"pack": book.value(f"circuit.{slug}.fuse_i2t")}
    resistance = _from_link(book, device, solved)
    if resistance is not None and book.has("link.capacitance"):
        book.look_up(
            f"circuit.{slug}.link_resistance",
            f"resistance between the link and the near end of {device.name}",
            resistance,
            "ohm",
            LookedUp("solved network", device.name, "resistance to the link", SOLVED),
            "resistance",
            pack=book.value(f"circuit.pack.resistance_{FULL}"),
        )
        book.make(
            discharge_i2t,
            f"circuit.{slug}.link_i2t",
            label=f"I2t of the link emptying itself back through {device.name}",
            capacitance="link.capacitance",
            voltage="pack.max_working_voltage",
            resistance=f"circuit.{slug}.link_resistance",
        )
        energies["link"] = book.value(f"circuit.{slug}.link_i2t")
    worst = max(energies, key=lambda name: energies[name].si)
    book.look_up(
        f"circuit.{slug}.fault_i2t",
        f"most I2t of a fault through {device.name}, from the pack or the link",
        energies[worst].si,
        I2T,
        LookedUp("largest of these", worst, "I2t", SOLVED),
        "joule_integral",
        **energies,
    )


def _from_link(book: FigureBook, device: Device, solved: Mapping[str, Solved]) -> float | None:
    """Return the resistance from the link to the near end of a device the link lies behind."""
    if FULL not in solved:
        return None
    each = solved[FULL]
    link = link_place(book.circuit, each)
    starts = {element.plus for element in device.elements}
    near = next((p for p in each.faults if p.plus in starts), None)
    if link is None or near is None or _share(device, each.faults[link].shares) <= _NO_SHARE:
        return None
    between = each.faults[link].resistance - each.faults[near].resistance
    return between if 0.0 < between < inf else None


def _until_fuse(book: FigureBook, device: Device, found: Protection) -> None:
    """Write how much more the fuse lets flow than a contactor carries, at the worst time."""
    carry = book.value(device.entry("carry"))
    curve = book.car.tables.get(device.entry("overload"))
    currents, times = melting_points(book, found.fuse.first)
    slow = 1.0 + CURVE_TOLERANCE.si

    def carried(time: float) -> float:
        if curve is None:
            return carry.si
        line = book.car.line(device.entry("overload"))
        return max(overload_current(time=time, times=line.x, currents=line.y), carry.si)

    ratios = {
        time: slow
        * found.ratio
        * melting_current(time=time, currents=currents, times=times)
        / carried(time)
        for time in OVERLOADS
    }
    worst = max(ratios, key=ratios.__getitem__)
    book.look_up(
        f"circuit.{device.slug}.until_fuse",
        f"current the {found.fuse.name} lets flow over what {device.name} bears as long",
        ratios[worst],
        "1",
        LookedUp("melting and overload curves", f"{worst:.3g} s", "ratio", "contactor-practice"),
        "ratio",
        carry=carry,
        rating=book.value(found.fuse.entry("rating")),
    )
