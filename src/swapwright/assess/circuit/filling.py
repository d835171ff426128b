"""Precharge as it goes: the link filling through its resistor, with what may be wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.course import (
    VOLTAGE,
    bleeds,
    by_device,
    capacitors,
    conducting,
    joined_to,
    largest_link,
    load_left_on,
    open_in_precharge,
    unhurried,
)
from swapwright.assess.circuit.place import places
from swapwright.assess.circuit.resistance import FULL
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Element
from swapwright.physics.circuit.contactor import making_current_bound
from swapwright.physics.circuit.network import Part
from swapwright.physics.circuit.precharge import end_share, rc_time_constant
from swapwright.physics.circuit.transient import Transient, run_transient
from swapwright.standards.circuit import DEAD_SHORT
from swapwright.standards.contactors import PRECHARGE_SHARES

LEAK = "the leak"
UNTIL = "hv.precharge.until"
TIMEOUT = "hv.precharge.timeout"
POINTS = 1001
TIME_CONSTANTS = 12.0
_LEAST = 0.02


@dataclass(frozen=True)
class FillingCase:
    """What is not as drawn: loads left on, another resistor ohm, a leak ohm, elements open."""

    loads: tuple[str, ...] = ()
    resistor: float | None = None
    leak: float | None = None
    opened: tuple[str, ...] = ()


@dataclass(frozen=True)
class Filled:
    """A precharge: what is to be filled, how it went, and where it ends.

    ``reached`` gives for each share of the pack's voltage the time s, None where it is not reached;
    ``until_time`` s is when the main contactor may close and ``timeout`` s when it is given up.
    ``end`` V is where it stands at the end of ``duration`` s, ``left`` V what is then, or was at
    ``until_time``, across the main contactor, and ``making`` A the most that closes on. Energies J,
    powers W are the resistor's. ``times`` s, ``volts`` V are its course.
    """

    voltage: float
    capacitance: float
    resistance: float
    until: float
    reached: Mapping[float, float | None]
    until_time: float | None
    timeout: float | None
    duration: float
    end: float
    left: float
    making: float | None
    peak_current: float
    energy: float
    power_at_end: float
    times: tuple[float, ...]
    volts: tuple[float, ...]

    @property
    def closes(self) -> bool:
        """Tell whether the main contactor may close before precharge is given up."""
        if self.until_time is None:
            return False
        return self.timeout is None or self.until_time <= self.timeout

    @property
    def end_share(self) -> float:
        """Return the share of the pack's voltage it ends at."""
        return self.end / self.voltage if self.voltage else 0.0

    def volts_at(self, share: float) -> float:
        """Return the volts on the link at a share of the pack's voltage."""
        return share * self.voltage


def end_share_unloaded(result: Filled, drawn: Filled) -> float:
    """Return the share it would end at with nothing on the link but its own bleeds.

    What these are is read from where the precharge ends as ``drawn``.
    """
    whole = drawn.end_share
    if not 0.0 < whole < 1.0:
        return whole
    bleed = drawn.resistance * whole / (1.0 - whole)
    return end_share(resistance=result.resistance, load=bleed)


def filled(book: FigureBook, case: FillingCase) -> Filled:
    """Return how the link fills; raise Missing where the circuit has no precharge or no link."""
    resistor = next(iter(book.circuit.of_kind(model.PRECHARGE_RESISTOR)), None)
    if resistor is None:
        raise Missing("hv.precharge.resistor")
    link = largest_link(book)
    if link is None:
        raise Missing("drive.inverter.link_capacitance")
    ohms = case.resistor or book.number(resistor.entry("resistance"))
    parts = _parts(book, case, resistor, ohms, link)
    whole = sum(part.value for part in parts if part.kind == "capacitor")
    slowest = rc_time_constant(resistance=ohms, capacitance=whole)
    timeout = book.get(TIMEOUT)
    duration = max(TIME_CONSTANTS * slowest, timeout or 0.0, _LEAST)
    pack = book.circuit.of_kind(model.PACK)[0]
    network = joined_to(unhurried(parts), pack.plus)
    done = run_transient(
        network,
        duration=duration,
        outputs=np.linspace(0.0, duration, POINTS).tolist(),
        peaks_of=[resistor.name],
    )
    return _told(book, done, resistor, link, (ohms, whole, timeout, duration))


def _parts(
    book: FigureBook, case: FillingCase, resistor: Element, ohms: float, link: Element
) -> list[Part]:
    circuit = book.circuit
    gone = {*by_device(circuit, case.opened), *open_in_precharge(circuit, link)}
    parts = conducting(book, gone)
    for relay in circuit.of_kind(model.PRECHARGE_RELAY):
        parts.append(Part(relay.name, "resistor", relay.plus, relay.minus, DEAD_SHORT.si))
    parts.append(Part(resistor.name, "resistor", resistor.plus, resistor.minus, ohms))
    parts += capacitors(book, (), 0.0)
    parts += bleeds(book, ())
    if case.leak is not None:
        parts.append(Part(LEAK, "resistor", link.plus, link.minus, max(case.leak, DEAD_SHORT.si)))
    for name in by_device(circuit, case.loads):
        parts.append(load_left_on(book, circuit.by_name[name]))
    return [part for part in parts if part.name not in gone]


def _told(
    book: FigureBook,
    done: Transient,
    resistor: Element,
    link: Element,
    run: tuple[float, float, float | None, float],
) -> Filled:
    ohms, whole, timeout, duration = run
    voltage = book.number(VOLTAGE)
    is_there = link.plus in done.voltages and link.minus in done.voltages
    volts = done.across(link.plus, link.minus) if is_there else np.zeros_like(done.times)
    shares = {share.si: _first(done, volts, share.si * voltage) for share in PRECHARGE_SHARES}
    until = book.get(UNTIL) or PRECHARGE_SHARES[-1].si
    until_time = _first(done, volts, until * voltage)
    end = float(volts[-1])
    left = voltage * (1.0 - until) if until_time is not None else voltage - end
    current = float(done.currents[resistor.name][-1]) if resistor.name in done.currents else 0.0
    loop = _loop_resistance(book, link)
    making = None
    if loop is not None:
        making = making_current_bound(voltage=max(left, 0.0), resistance=loop)
    return Filled(
        voltage,
        whole,
        ohms,
        until,
        shares,
        until_time,
        timeout,
        duration,
        end,
        left,
        making,
        abs(done.peaks.get(resistor.name, (0.0, 0.0))[0]),
        done.taken.get(resistor.name, 0.0),
        current**2 * ohms,
        tuple(done.times.tolist()),
        tuple(volts.tolist()),
    )


def _first(done: Transient, volts: np.typing.NDArray[np.float64], level: float) -> float | None:
    """Return when the link first stands at a voltage, between two output points."""
    over = np.nonzero(volts >= level)[0]
    if not len(over):
        return None
    place = int(over[0])
    if place == 0:
        return 0.0
    times, low, high = done.times, volts[place - 1], volts[place]
    part = (level - low) / (high - low)
    at = float(times[place - 1] + part * (times[place] - times[place - 1]))
    return at if isfinite(at) else None


def _loop_resistance(book: FigureBook, link: Element) -> float | None:
    """Return what limits the current the main contactor closes on: its whole loop."""
    for place in places(book.circuit):
        if {place.plus, place.minus} == {link.plus, link.minus}:
            return book.get(f"fault.{place.slug}.resistance_{FULL}")
    return None
