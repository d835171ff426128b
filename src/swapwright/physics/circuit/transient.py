"""A circuit while its switches move: charging, discharging, faults, and where the energy went."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from swapwright.physics.circuit.interval import (
    Ask,
    Run,
    Watch,
    check_loads,
    power_currents,
    power_currents_along,
    run_linear,
    run_stiff,
)
from swapwright.physics.circuit.mesh import Mesh, Stored, mesh
from swapwright.physics.circuit.network import Array, Pair, solve_dc
from swapwright.physics.circuit.part import Network, NetworkError, Part

Changes = Mapping[str, Part | None]


@dataclass(frozen=True)
class At:
    """Parts replaced, added or taken out at a time [s]."""

    time: float
    changes: Changes
    name: str = ""


@dataclass(frozen=True)
class When:
    """Parts replaced, added or taken out the first time a condition holds; then never again.

    ``of`` is a pair of nodes for a voltage, a part for a current (a to b) or for the integral of
    its current squared since the start. It holds at ``level`` and above, or where not ``rising``
    at it and below. With ``relative_to`` a voltage's level is a share of the voltage there. It is
    not looked at before ``armed`` [s], nor while its nodes float apart or its part is out.
    """

    kind: Literal["voltage", "current", "i2t"]
    of: Pair | str
    level: float
    changes: Changes
    rising: bool = True
    relative_to: Pair | None = None
    armed: float = 0.0
    name: str = ""


Event = At | When


@dataclass(frozen=True)
class Happened:
    """An event that came about.

    time: [s]
    arc_energy: of magnetic fields, which the opening contacts had to swallow [J]
    stored_drop: energy no longer stored in any part of the network, the arc's included [J]
    """

    time: float
    event: Event
    arc_energy: float
    stored_drop: float


@dataclass(frozen=True)
class Transient:
    """What a circuit did in time.

    times: the output points; an event at one of them has happened [s]
    voltages: of every node to the reference of its island, zero where nothing is joined to it [V]
    currents: of every part, a to b, zero where it is out [A]
    taken: heat in the resistance of each part [J]
    given: by the emf of each source [J]
    drawn: by each current and power part [J]
    squares: integral of each part's current squared [A2s]
    peaks: greatest current, either way, of each part asked for, and its time [A], [s]
    stored_at_start, stored_at_end: in capacitors and inductances [J]
    log: the events that came about, in order
    final: the network as it stands, its capacitors starting where they now are
    """

    times: Array
    voltages: Mapping[str, Array]
    currents: Mapping[str, Array]
    taken: Mapping[str, float]
    given: Mapping[str, float]
    drawn: Mapping[str, float]
    squares: Mapping[str, float]
    peaks: Mapping[str, tuple[float, float]]
    stored_at_start: float
    stored_at_end: float
    log: tuple[Happened, ...]
    final: Network

    def across(self, a: str, b: str) -> Array:
        """Return the voltage of ``a`` to ``b`` at the output points."""
        return self.voltages[a] - self.voltages[b]

    @property
    def imbalance(self) -> float:
        """Return the energy unaccounted for, as a share of the largest entry of the ledger."""
        entries = [
            *self.given.values(),
            *(-each for each in self.taken.values()),
            *(-each for each in self.drawn.values()),
            *(-each.stored_drop for each in self.log),
            self.stored_at_start,
            -self.stored_at_end,
        ]
        return abs(sum(entries)) / max(map(abs, entries), default=1.0) if any(entries) else 0.0


@dataclass
class _Ledger:
    """The sums of a run while it goes on."""

    squares: dict[str, float] = field(default_factory=dict)
    taken: dict[str, float] = field(default_factory=dict)
    given: dict[str, float] = field(default_factory=dict)
    drawn: dict[str, float] = field(default_factory=dict)
    peaks: dict[str, tuple[float, float]] = field(default_factory=dict)

    def add(self, equations: Mesh, run: Run, asked: Sequence[int], time: float) -> None:
        """Add what flowed in an interval that began at ``time``."""
        squares, charges = run.squares.tolist(), run.charges.tolist()
        for part, square, charge in zip(equations.branches, squares, charges, strict=True):
            _add(self.squares, part.name, square)
            if part.ohms:
                _add(self.taken, part.name, part.ohms * square)
            if part.kind == "source":
                _add(self.given, part.name, -part.emf * charge)
        for part, flux in zip(equations.forced, run.forced.tolist(), strict=True):
            _add(self.drawn, part.name, part.value * flux)
            _add(self.squares, part.name, part.value**2 * run.length)
        for part, energy in zip(equations.loads, run.drawn.tolist(), strict=True):
            _add(self.drawn, part.name, energy)
        for k, (current, moment) in zip(asked, run.peaks, strict=True):
            name = equations.branches[k].name
            if abs(current) > abs(self.peaks.get(name, (0.0, 0.0))[0]):
                self.peaks[name] = (current, time + moment)


def _add(sums: dict[str, float], name: str, more: float) -> None:
    sums[name] = sums.get(name, 0.0) + more


def run_transient(
    network: Network,
    *,
    duration: float,
    events: Sequence[Event] = (),
    outputs: int | Sequence[float] = 201,
    peaks_of: Sequence[str] = (),
    settled: bool = False,
) -> Transient:
    """Follow a network in time while its switches move.

    network: its parts; capacitors at their start voltages, inductances without current
    duration: [s]
    events: switchings, by time or by condition
    outputs: how many evenly spaced output points, or their times [s]
    peaks_of: parts whose greatest current is wanted
    settled: start from rest with the sources at work instead: capacitors whose ends are joined at
        rest take that voltage, inductances that current
    result: what it did; raises NetworkError naming the part or node at fault
    source: Kirchhoff's laws; between events the matrix exponential, with power parts Radau IIA
    """
    times = np.linspace(0.0, duration, outputs) if isinstance(outputs, int) else np.array(outputs)
    if len(times) and (times[0] < 0.0 or times[-1] > duration or np.any(np.diff(times) < 0.0)):
        raise NetworkError("output times must rise from 0 to the duration")
    _check_events(network, events)
    course = _Course(network, times, tuple(peaks_of), _at_rest(network) if settled else _NOTHING)
    pending = list(events)
    while True:
        due = [each for each in pending if isinstance(each, At) and each.time <= course.now]
        if due:
            first = min(due, key=lambda each: each.time)
            pending.remove(first)
            course.switch(first)
            continue
        if course.now >= duration:
            break
        breaks = [each.time if isinstance(each, At) else each.armed for each in pending]
        until = min([duration, *(each for each in breaks if each > course.now)])
        fired = course.advance(until, _armed(pending, course.now))
        if fired is not None:
            pending.remove(fired)
            course.switch(fired)
    return course.finish()


def _armed(pending: Sequence[Event], now: float) -> list[When]:
    return [each for each in pending if isinstance(each, When) and each.armed <= now]


def _check_events(network: Network, events: Sequence[Event]) -> None:
    changed = [part for event in events for part in event.changes.values() if part is not None]
    parts = {part.name for part in (*network.parts, *changed)}
    nodes = {node for part in (*network.parts, *changed) for node in (part.a, part.b)}
    for event in events:
        for name, part in event.changes.items():
            if name not in parts or (part is not None and part.name != name):
                raise NetworkError(f"an event changes {name!r}, which is no part", name)
        if isinstance(event, At):
            continue
        pairs = (event.of, event.relative_to) if event.kind == "voltage" else ()
        for pair in pairs:
            for node in pair or ():
                if node not in nodes:
                    raise NetworkError(f"an event watches {node!r}, which is no node", node)
        if event.kind != "voltage" and event.of not in parts:
            raise NetworkError(f"an event watches {event.of!r}, which is no part", str(event.of))


_NOTHING = Stored({}, {})


def _at_rest(network: Network) -> Stored:
    rest = solve_dc(network)
    held = {
        part.name: rest.across(part.a, part.b)
        for part in network.parts
        if part.kind == "capacitor" and rest.references[part.a] == rest.references[part.b]
    }
    return Stored(held, rest.currents)


class _Course:
    """A run while it goes on: the network as it stands, its state, and the sums so far."""

    def __init__(
        self, network: Network, times: Array, peaks_of: tuple[str, ...], stored: Stored
    ) -> None:
        self.now = 0.0
        self._times, self._peaks_of = times, peaks_of
        self._next = 0  # the first output point not yet written
        self._voltages: dict[str, Array] = {}
        self._currents: dict[str, Array] = {}
        self._ledger, self._log = _Ledger(), list[Happened]()
        self._take(network, stored)
        self._start = self._energy(self._stored())

    def _take(self, network: Network, stored: Stored) -> None:
        self._network, self._mesh = network, mesh(network)
        check_loads(self._mesh)
        self._z = self._mesh.state(stored)

    def _stored(self) -> Stored:
        return self._mesh.stored(self._z, power_currents(self._mesh, self._z))

    def _energy(self, stored: Stored) -> float:
        return self._mesh.magnetic(stored.currents) + self._mesh.electric(stored.voltages)

    def switch(self, event: Event) -> None:
        """Change the parts of an event, fluxes and charges kept where a loop still carries them."""
        before = self._stored()
        magnetic, energy = self._mesh.magnetic(before.currents), self._energy(before)
        self._take(self._network.changed(event.changes), before)
        after = self._stored()
        arc = magnetic - self._mesh.magnetic(after.currents)
        self._log.append(Happened(self.now, event, arc, energy - self._energy(after)))

    def advance(self, until: float, whens: Sequence[When]) -> When | None:
        """Go on to a time, or to the first of the conditions; return that one."""
        rows = {id(when): self._watch(when) for when in whens}
        seen = [when for when in whens if rows[id(when)] is not None]
        watches = [watch for watch in rows.values() if watch is not None]
        names = [part.name for part in self._mesh.branches]
        peaks = [names.index(name) for name in self._peaks_of if name in names]
        asked = self._times[self._next :]
        asked = np.clip(asked[asked < until] - self.now, 0.0, until - self.now)
        go = run_stiff if self._mesh.loads else run_linear
        run = go(self._mesh, self._z, Ask(until - self.now, asked, peaks, watches))
        self._write(run.states)
        self._ledger.add(self._mesh, run, peaks, self.now)
        self._z = run.end
        self.now = until if run.fired is None else self.now + run.length
        return None if run.fired is None else seen[run.fired]

    def _write(self, states: Array) -> None:
        here = self._mesh
        power = power_currents_along(here, states)
        voltage = states @ here.voltage.T + power @ here.voltage_power.T
        current = states @ here.current.T + power @ here.current_power.T
        columns = {part.name: current[:, k] for k, part in enumerate(here.branches)}
        columns |= {part.name: np.full(len(states), part.value) for part in here.forced}
        columns |= {part.name: power[:, k] for k, part in enumerate(here.loads)}
        rows = slice(self._next, self._next + len(states))
        for name, values in columns.items():
            self._currents.setdefault(name, np.zeros(len(self._times)))[rows] = values
        for node, way in here.paths.items():
            self._voltages.setdefault(node, np.zeros(len(self._times)))[rows] = voltage @ way
        self._next += len(states)

    def _watch(self, when: When) -> Watch | None:
        here = self._mesh
        names = [part.name for part in here.branches]
        if when.kind == "voltage":
            way = here.across(*when.of)
            other = here.across(*when.relative_to) if when.relative_to else None
            if way is None or (when.relative_to and other is None):
                return None
            if other is not None:
                way = way - when.level * other
            row, power = way @ here.voltage, way @ here.voltage_power
        elif when.of in names:
            k = names.index(str(when.of))
            row, power = here.current[k].copy(), here.current_power[k]
            if when.kind == "i2t":
                missing = when.level - self._ledger.squares.get(str(when.of), 0.0)
                row = row if not here.loads else np.eye(len(names))[k]
                return Watch(row, power, is_square=True, level=missing)
        elif any(when.of == part.name for part in (*here.forced, *here.loads)):
            raise NetworkError(f"{when.of}: an event cannot watch a current part", str(when.of))
        else:
            return None
        if when.relative_to is None:
            row[-1] -= when.level / here.unit
        return Watch(row, power) if when.rising else Watch(-row, -power)

    def finish(self) -> Transient:
        """Return what the run did."""
        self._write(np.tile(self._z, (len(self._times) - self._next, 1)))
        stored, ledger = self._stored(), self._ledger
        held = {
            part.name: replace(part, start=stored.voltages[part.name])
            for part in self._network.parts
            if part.kind == "capacitor"
        }
        frozen = MappingProxyType
        return Transient(
            times=self._times,
            voltages=frozen(self._voltages),
            currents=frozen(self._currents),
            taken=frozen(ledger.taken),
            given=frozen(ledger.given),
            drawn=frozen(ledger.drawn),
            squares=frozen(ledger.squares),
            peaks=frozen(ledger.peaks),
            stored_at_start=self._start,
            stored_at_end=self._energy(stored),
            log=tuple(self._log),
            final=self._network.changed(held),
        )
