"""A circuit in time, by its loops: how its stored energies change, and what every part carries.

Kirchhoff's voltage law is written around every independent loop. A tree of parts is grown from
those without inductance and of least resistance, so each part with inductance that closes a loop
carries a free current, and every other current follows from those and the capacitor voltages.
States are scaled to the square root of joules: the sum of their squares is twice the energy stored.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from swapwright.physics.circuit.network import Array
from swapwright.physics.circuit.part import (
    CHASSIS,
    Forest,
    Network,
    NetworkError,
    Part,
    refuse_bare_loop,
)

_SERIES = ("resistor", "capacitor", "source", "inductor")


@dataclass(frozen=True)
class Stored:
    """What does not jump when a switch moves: capacitor voltages and the currents of inductances.

    Both by part name; a part not named starts at its own ``start`` voltage, or without current.
    """

    voltages: Mapping[str, float]
    currents: Mapping[str, float]


@dataclass(frozen=True)
class Mesh:
    """A network as linear equations of its state ``z``: scaled states, then the constant ``unit``.

    With the currents ``p`` of the power parts: dz/dt = rate z + rate_power p; currents of the
    branches = current z + current_power p; and likewise for voltages across branches and power
    parts. A node's voltage is ``paths`` of the branch voltages, to the reference of its island.
    """

    branches: tuple[Part, ...]
    forced: tuple[Part, ...]
    loads: tuple[Part, ...]
    unit: float
    rate: Array
    rate_power: Array
    current: Array
    current_power: Array
    voltage: Array
    voltage_power: Array
    load_voltage: Array
    load_resistance: Array
    paths: Mapping[str, Array]
    island: Mapping[str, str]
    loops: Array  # of the free currents
    free: Array  # upper Cholesky factor of the inductance of the free loops
    forced_current: Array
    capacitors: tuple[int, ...]

    def state(self, stored: Stored) -> Array:
        """Return the state that keeps every flux and every capacitor's charge."""
        henries = np.array([part.henries for part in self.branches])
        carried = np.array([stored.currents.get(part.name, 0.0) for part in self.branches])
        flux = self.loops @ (henries * (carried - self.forced_current))
        # unscaled: (F' F) m = flux, so the scaled state F m is F'^-1 flux
        free = np.linalg.solve(self.free.T, flux)
        held = [
            stored.voltages.get(self.branches[k].name, self.branches[k].start)
            * self.branches[k].value ** 0.5
            for k in self.capacitors
        ]
        return np.array([*free, *held, self.unit])

    def stored(self, z: Array, power: Array) -> Stored:
        """Return what a state holds, by part."""
        currents = self.current @ z + self.current_power @ power
        return Stored(
            {
                self.branches[k].name: float(root / self.branches[k].value ** 0.5)
                for k, root in zip(self.capacitors, z[len(self.free) : -1], strict=True)
            },
            {
                part.name: float(each)
                for part, each in zip(self.branches, currents, strict=True)
                if part.henries
            },
        )

    def magnetic(self, currents: Mapping[str, float]) -> float:
        """Return the energy in the inductances at these currents [J]."""
        return 0.5 * sum(p.henries * currents.get(p.name, 0.0) ** 2 for p in self.branches)

    def electric(self, voltages: Mapping[str, float]) -> float:
        """Return the energy in the capacitors at these voltages [J]."""
        held = (self.branches[k] for k in self.capacitors)
        return 0.5 * sum(p.value * voltages.get(p.name, p.start) ** 2 for p in held)

    def across(self, a: str, b: str) -> Array | None:
        """Return the row that gives the voltage of ``a`` to ``b``; None where they float apart."""
        if a not in self.island or self.island[a] != self.island.get(b):
            return None
        return np.asarray(self.paths[a] - self.paths[b])


def _tree(network: Network, branches: Sequence[Part]) -> tuple[Forest, list[Part], list[Part]]:
    forest = Forest(network.nodes)
    tree: list[Part] = []
    links: list[Part] = []
    for part in sorted(branches, key=lambda each: (each.henries, each.ohms)):
        if forest.join(part):
            tree.append(part)
        elif part.henries == 0.0 and part.ohms == 0.0:
            refuse_bare_loop(forest, part)
        else:
            links.append(part)
    return forest, tree, links


def _walk(
    network: Network, tree: Sequence[Part], place: Mapping[str, int]
) -> tuple[dict[str, Array], dict[str, str]]:
    """Return for each node the signed parts on its way to its reference, and that reference."""
    beside: dict[str, list[tuple[str, Part]]] = {node: [] for node in network.nodes}
    for part in tree:
        beside[part.a].append((part.b, part))
        beside[part.b].append((part.a, part))
    first = [CHASSIS] if CHASSIS in beside else []
    paths: dict[str, Array] = {}
    island: dict[str, str] = {}
    for reference in (*first, *network.nodes):
        if reference in paths:
            continue
        paths[reference] = np.zeros(len(place))
        island[reference] = reference
        queue = [reference]
        for node in queue:
            for other, part in beside[node]:
                if other not in paths:
                    way = paths[node].copy()
                    way[place[part.name]] = 1.0 if part.a == other else -1.0
                    paths[other], island[other] = way, reference
                    queue.append(other)
    return paths, island


def _rows(rows: Sequence[Array], width: int) -> Array:
    return np.array(rows).reshape(len(rows), width)


def mesh(network: Network) -> Mesh:
    """Write the loop equations of a network.

    network: its parts; power parts stay outside, as currents yet unknown
    result: its equations; raises NetworkError naming the parts of a loop without resistance, or a
        load without a way back
    source: Kirchhoff's laws, fundamental loops of a spanning tree
    """
    branches = tuple(part for part in network.parts if part.kind in _SERIES)
    forced = tuple(part for part in network.parts if part.kind == "current")
    loads = tuple(part for part in network.parts if part.kind == "power" and part.value)
    place = {part.name: row for row, part in enumerate(branches)}
    _, tree, links = _tree(network, branches)
    paths, island = _walk(network, tree, place)
    width = len(branches)

    def loop(part: Part) -> Array:
        if island[part.a] != island[part.b]:
            raise NetworkError(
                f"{part.name}: its current has no way back between {part.a!r} and {part.b!r}",
                part.name,
            )
        way = paths[part.b] - paths[part.a]
        if part.name in place:
            way[place[part.name]] += 1.0
        return np.asarray(way)

    stiff = _rows([loop(part) for part in links if not part.henries], width)
    free = _rows([loop(part) for part in links if part.henries], width)
    driven = [part for part in forced if part.value]
    pushed = np.array([part.value for part in driven]) @ _rows([loop(p) for p in driven], width)
    pulled = _rows([loop(part) for part in loads], width)
    henries = np.array([part.henries for part in branches])
    for part, way in zip(loads, pulled, strict=True):
        if np.any(way * henries):
            raise NetworkError(
                f"{part.name}: a constant-power part needs a capacitor or a source without"
                " inductance across it",
                part.name,
            )
    return _assemble(branches, forced, loads, (stiff, free, pushed, pulled), (paths, island))


def _assemble(
    branches: tuple[Part, ...],
    forced: tuple[Part, ...],
    loads: tuple[Part, ...],
    ways: tuple[Array, Array, Array, Array],
    nodes: tuple[Mapping[str, Array], Mapping[str, str]],
) -> Mesh:
    stiff, free, pushed, pulled = ways
    width, power = len(branches), len(loads)
    ohms = np.array([part.ohms for part in branches])
    henries = np.array([part.henries for part in branches])
    emf = np.array([part.emf for part in branches])
    capacitors = tuple(k for k, part in enumerate(branches) if part.kind == "capacitor")
    farads = np.array([branches[k].value for k in capacitors])
    factor = np.linalg.cholesky((free * henries) @ free.T).T if len(free) else np.zeros((0, 0))
    back = np.linalg.inv(factor) if len(free) else factor
    count = len(free) + len(capacitors)
    # columns: free currents, capacitor voltages (both scaled), the constant, power currents
    base = np.zeros((width, count + 1 + power))
    base[:, : len(free)] = free.T @ back
    base[:, count] = pushed
    base[:, count + 1 :] = pulled.T
    held = np.zeros((width, count + 1 + power))  # voltages that flow of current does not make
    for column, k in enumerate(capacitors, start=len(free)):
        held[k, column] = branches[k].value ** -0.5
    held[:, count] = emf
    current = base
    if len(stiff):
        drops = stiff @ (ohms[:, None] * base + held)
        current = base - stiff.T @ np.linalg.solve((stiff * ohms) @ stiff.T, drops)
    voltage = ohms[:, None] * current + held
    rate = np.zeros((count + 1, count + 1 + power))
    rate[: len(free)] = -back.T @ (free @ voltage)
    rate[len(free) : count] = current[list(capacitors)] / np.sqrt(farads)[:, None]
    load_voltage = -pulled @ voltage
    voltage = voltage + henries[:, None] * (free.T @ (back @ rate[: len(free)]))
    unit = _unit(rate, count)
    for rows in (current, voltage, load_voltage, rate):
        rows[:, count] /= unit
    return Mesh(
        branches,
        forced,
        loads,
        unit,
        rate[:, : count + 1],
        rate[:, count + 1 :],
        current[:, : count + 1],
        current[:, count + 1 :],
        voltage[:, : count + 1],
        voltage[:, count + 1 :],
        load_voltage[:, : count + 1],
        -load_voltage[:, count + 1 :],
        *nodes,
        free,
        factor,
        pushed,
        capacitors,
    )


def _unit(rate: Array, count: int) -> float:
    """Return the constant's size that keeps it from being the largest thing in the equations."""
    fastest = float(np.abs(rate[:count, :count]).sum(axis=0).max(initial=0.0))
    push = float(np.abs(rate[:count, count]).sum())
    return push / fastest if push > 0.0 and fastest > 0.0 else 1.0
