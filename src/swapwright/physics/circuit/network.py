"""A circuit solved at rest: steady currents, and what each pair of nodes can feed into a fault."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
import numpy.typing as npt

from swapwright.physics.circuit.part import (
    CHASSIS,
    Forest,
    Kind,
    Network,
    NetworkError,
    Part,
    refuse_bare_loop,
)

__all__ = [
    "DcSolution",
    "Fault",
    "Kind",
    "Network",
    "NetworkError",
    "Part",
    "Thevenin",
    "all_faults",
    "all_shares",
    "all_thevenin",
    "fault",
    "loop_inductance",
    "solve_dc",
    "thevenin",
]

Array = npt.NDArray[np.float64]
Pair = tuple[str, str]

_CONDUCTS = ("resistor", "source", "inductor")
_OWN_CURRENT = 1.0
"""ohm; below it a part's current is an unknown, not the difference of two equal voltages over R."""


@dataclass(frozen=True)
class _Equations:
    """Modified nodal analysis: ``matrix @ unknowns = known``; unknowns are voltages, currents."""

    index: Mapping[str, int]  # node -> row; the reference of an island is at -1
    island: Mapping[str, str]  # node -> the reference of its island
    branches: tuple[Part, ...]
    own: Mapping[str, int]  # part -> row of its current, where that is an unknown
    matrix: Array
    known: Array

    def port(self, a: str, b: str) -> Array:
        """Return the right-hand side of one ampere put in at ``a`` and taken out at ``b``."""
        column = np.zeros(len(self.known))
        for node, sign in ((a, 1.0), (b, -1.0)):
            if self.index[node] >= 0:
                column[self.index[node]] = sign
        return column

    def currents(self, unknowns: Array, *, driven: bool) -> Array:
        """Return the current of every branch, a to b: a row for each; undriven, emfs are zero."""
        padded = np.concatenate([unknowns, np.zeros((1, unknowns.shape[1]))])
        a = [self.index[part.a] for part in self.branches]
        b = [self.index[part.b] for part in self.branches]
        rows = [self.own.get(part.name, -1) for part in self.branches]
        emf = np.array([part.emf if driven else 0.0 for part in self.branches])
        ohms = np.array([part.ohms or 1.0 for part in self.branches])
        by_voltage = (padded[a] - padded[b] - emf[:, None]) / ohms[:, None]
        is_own = np.array(rows, dtype=np.intp)[:, None] >= 0
        return np.where(is_own, padded[rows], by_voltage)


def _islands(network: Network, branches: Sequence[Part], *, strong: bool) -> dict[str, str]:
    nodes = network.nodes
    forest, bare = Forest(nodes), Forest(nodes)
    for part in branches:
        if part.ohms == 0.0 and not bare.join(part):
            refuse_bare_loop(bare, part)
        forest.join(part)
    roots = {node: forest.root(node) for node in nodes}
    reference: dict[str, str] = {}
    if strong:
        # the end of the stoutest part: voltages between power nodes then keep their digits
        for part in sorted(branches, key=lambda branch: branch.ohms):
            reference.setdefault(roots[part.a], part.a)
    elif CHASSIS in roots:
        reference[roots[CHASSIS]] = CHASSIS
    for node in nodes:
        reference.setdefault(roots[node], node)
    return {node: reference[root] for node, root in roots.items()}


def _equations(network: Network, *, below: float, strong: bool) -> _Equations:
    branches = tuple(part for part in network.parts if part.kind in _CONDUCTS)
    island = _islands(network, branches, strong=strong)
    free = [node for node, reference in island.items() if node != reference]
    index = dict.fromkeys(island, -1) | {node: row for row, node in enumerate(free)}
    owning = [part for part in branches if part.ohms < below or part.ohms == 0.0]
    own = {part.name: row for row, part in enumerate(owning, start=len(free))}
    size = len(free) + len(own)
    places: list[int] = []
    values: list[float] = []
    known = [0.0] * (size + 1)  # the last one swallows what is put in at a reference
    for part in branches:
        i, j, row = index[part.a], index[part.b], own.get(part.name)
        emf, ohms = part.emf, part.ohms
        if row is None:
            siemens = 1.0 / ohms
            at = ((i, i, siemens), (j, j, siemens), (i, j, -siemens), (j, i, -siemens))
            known[i] += emf / ohms
            known[j] -= emf / ohms
        else:
            at = ((i, row, 1.0), (j, row, -1.0), (row, i, 1.0), (row, j, -1.0))
            places.append(row * size + row)
            values.append(-ohms)
            known[row] = emf
        for r, c, value in at:
            if r >= 0 and c >= 0:
                places.append(r * size + c)
                values.append(value)
    for part in network.parts:
        if part.kind == "current" and part.value:
            _refuse_apart(island, part)
            known[index[part.a]] -= part.value
            known[index[part.b]] += part.value
    flat: Array = np.bincount(np.array(places, np.intp), values, size * size).astype(np.float64)
    return _Equations(
        index, island, branches, own, flat.reshape(size, size), np.array(known[:size])
    )


def _solved(equations: _Equations, ports: Array) -> Array:
    """Return the unknowns with the sources at work, then those of one ampere at each port."""
    right = np.column_stack([equations.known, ports.T])
    return np.linalg.solve(equations.matrix, right).astype(np.float64, copy=False)


def _refuse_apart(island: Mapping[str, str], part: Part) -> None:
    if island[part.a] != island[part.b]:
        raise NetworkError(
            f"{part.name}: its current has no way back between {part.a!r} and {part.b!r}",
            part.name,
        )


@dataclass(frozen=True)
class DcSolution:
    """A network at rest: capacitors carry nothing, inductors drop nothing.

    voltages: of each node to the reference of its island [V]
    references: the reference node of each node's island
    currents: through each part, a to b [A]
    powers: taken by each part, negative where it gives [W]
    residual: largest current that does not add up at a node [A]
    """

    voltages: Mapping[str, float]
    references: Mapping[str, str]
    currents: Mapping[str, float]
    powers: Mapping[str, float]
    residual: float

    def across(self, a: str, b: str) -> float:
        """Return the voltage of ``a`` to ``b``; raises NetworkError where they float apart."""
        for node in (a, b):
            if node not in self.voltages:
                raise NetworkError(f"no node is called {node!r}", node)
        if self.references[a] != self.references[b]:
            raise NetworkError(f"nothing joins {a!r} and {b!r}: no voltage between them", a, b)
        return self.voltages[a] - self.voltages[b]


def solve_dc(network: Network) -> DcSolution:
    """Solve a network at rest.

    network: its parts
    result: voltages, currents and powers; raises NetworkError naming the part at fault
    source: modified nodal analysis; power parts by Newton's method on their currents
    """
    equations = _equations(network, below=_OWN_CURRENT, strong=False)
    loads = [part for part in network.parts if part.kind == "power" and part.value]
    for part in loads:
        _refuse_apart(equations.island, part)
    ports = np.zeros((len(loads), len(equations.known)))
    for row, part in enumerate(loads):
        ports[row] = equations.port(part.a, part.b)
    found = _solved(equations, ports)
    unknowns, seen = found[:, 0], found[:, 1:]
    drawn = _load_currents(loads, ports, unknowns, seen)
    unknowns = unknowns - seen @ drawn
    padded = [*unknowns.tolist(), 0.0]
    voltages = {node: padded[row] for node, row in equations.index.items()}
    currents = {part.name: 0.0 for part in network.parts}
    carried = equations.currents(unknowns[:, None], driven=True)[:, 0].tolist()
    currents |= {part.name: each for part, each in zip(equations.branches, carried, strict=True)}
    currents |= {part.name: part.value for part in network.parts if part.kind == "current"}
    currents |= {part.name: float(each) for part, each in zip(loads, drawn, strict=True)}
    left = dict.fromkeys(voltages, 0.0)
    for part in network.parts:
        left[part.a] -= currents[part.name]
        left[part.b] += currents[part.name]
    powers = {
        part.name: (voltages[part.a] - voltages[part.b]) * currents[part.name]
        for part in network.parts
    }
    residual = max(map(abs, left.values()), default=0.0)
    return DcSolution(voltages, equations.island, currents, powers, residual)


def _load_currents(loads: Sequence[Part], ports: Array, at_rest: Array, seen: Array) -> Array:
    """Return the currents at which each power part gets its power, on the upper branch."""
    power = np.array([part.value for part in loads])
    idle, impedance = ports @ at_rest, ports @ seen
    current = np.zeros(len(loads))
    for part, voltage in zip(loads, idle, strict=True):
        if abs(voltage) < 1e-9:
            raise NetworkError(f"{part.name}: no source reaches it", part.name)
    for _ in range(100):
        voltage = idle - impedance @ current
        missing = voltage * current - power
        if np.all(np.abs(missing) <= 1e-12 * np.abs(power)):
            return current
        jacobian = np.diag(voltage) - current[:, None] * impedance
        try:
            step = np.linalg.solve(jacobian, -missing)
        except np.linalg.LinAlgError:
            break
        size, share = np.linalg.norm(missing), 1.0
        while share > 1e-6:
            tried = current + share * step
            left = np.linalg.norm((idle - impedance @ tried) * tried - power)
            if left < size:
                break
            share /= 2.0
        else:
            # no step gets nearer: either as near as the arithmetic goes, or there is no answer
            if np.all(np.abs(missing) <= 1e-9 * np.abs(power)):
                return current
            break
        current = tried
    others = idle - impedance @ current + np.diag(impedance) * current
    most = others**2 / (4.0 * np.maximum(np.diag(impedance), 1e-300))
    worst = int(np.argmax(power / np.maximum(most, 1e-300)))
    raise NetworkError(
        f"{loads[worst].name}: asks {power[worst]:.6g} W, more than the network can give it"
        f" (at most about {most[worst]:.6g} W)",
        loads[worst].name,
    )


@dataclass(frozen=True)
class Thevenin:
    """What two nodes are as a source: voltage of the first to the second [V], resistance [ohm].

    Where nothing joins them the resistance is infinite and the voltage zero.
    """

    voltage: float
    resistance: float


@dataclass(frozen=True)
class Fault:
    """A short circuit between two nodes, fed by the sources at rest.

    prospective: settled current, first node to second [A]
    time_constant: the single L/R with the same charge missing while the current rises [s]
    voltage: before the fault [V]
    resistance, inductance: of the loop [ohm], [H]
    shares: of its current in every conducting part, by name, 1 for all of it [1]
    """

    prospective: float
    time_constant: float
    voltage: float
    resistance: float
    inductance: float
    shares: Mapping[str, float]


def _seen(network: Network, pairs: Sequence[Pair]) -> tuple[_Equations, Array, list[Thevenin]]:
    equations = _equations(network, below=0.0, strong=True)
    island = equations.island
    for a, b in pairs:
        for node in (a, b):
            if node not in island:
                raise NetworkError(f"no node is called {node!r}", node)
    ports = np.zeros((len(pairs), len(equations.known)))
    for row, (a, b) in enumerate(pairs):
        if island[a] == island[b]:
            ports[row] = equations.port(a, b)
    found = _solved(equations, ports)
    voltages = ports @ found[:, 0]
    resistances = np.einsum("ij,ji->i", ports, found[:, 1:])
    theirs = [
        Thevenin(float(voltage), max(float(ohms), 0.0)) if island[a] == island[b] else _NOTHING
        for (a, b), voltage, ohms in zip(pairs, voltages, resistances, strict=True)
    ]
    return equations, found[:, 1:], theirs


_NOTHING = Thevenin(0.0, inf)


def all_thevenin(network: Network, pairs: Sequence[Pair]) -> tuple[Thevenin, ...]:
    """Return what each pair of nodes is as a source, from one solution for all of them.

    network: its parts; capacitors are open, power parts left out: they hold no voltage of their own
    pairs: (node, node)
    result: voltage [V] and resistance [ohm] of each pair
    source: Thevenin's theorem
    """
    return tuple(_seen(network, pairs)[2])


def thevenin(network: Network, a: str, b: str) -> Thevenin:
    """Return what two nodes are as a source (see `all_thevenin`)."""
    return all_thevenin(network, [(a, b)])[0]


def all_faults(network: Network, pairs: Sequence[Pair]) -> tuple[Fault, ...]:
    """Return the short circuit between each pair of nodes, from one solution for all of them.

    The inductance is that of one ampere spread as at rest, each part counting by the square of its
    share: a bleed beside the loop then does not short it out, as it would with its own inductance.

    network: its parts; capacitors are open (their discharge is a transient), power parts left out
    pairs: (node, node)
    result: settled current [A], time constant [s], loop and shares [1] of each pair; raises
        NetworkError where nothing limits the current
    source: Thevenin's theorem; slope of an impedance with frequency is the energy stored in it
    """
    equations, spread, theirs = _seen(network, pairs)
    currents = equations.currents(spread, driven=False)
    each_henries = np.array([part.henries for part in equations.branches])
    inductances = each_henries @ currents**2
    faults = []
    for (a, b), each, henries, shares in zip(
        pairs, theirs, inductances.tolist(), _shares(equations, currents, theirs), strict=True
    ):
        if each.resistance == 0.0:
            raise NetworkError(f"nothing limits a fault between {a!r} and {b!r}", a, b)
        current = each.voltage / each.resistance
        lag = henries / each.resistance
        faults.append(Fault(current, lag, each.voltage, each.resistance, henries, shares))
    return tuple(faults)


def fault(network: Network, a: str, b: str) -> Fault:
    """Return the short circuit between two nodes (see `all_faults`)."""
    return all_faults(network, [(a, b)])[0]


def loop_inductance(network: Network, a: str, b: str) -> float:
    """Return the inductance a fault between two nodes works against (see `all_faults`) [H]."""
    return fault(network, a, b).inductance


def all_shares(network: Network, pairs: Sequence[Pair]) -> tuple[Mapping[str, float], ...]:
    """Return how a current drawn between each pair of nodes divides over the parts.

    network: its parts; capacitors are open, power parts left out
    pairs: (node, node)
    result: for each pair the share of its current in every conducting part, by name, 1 for all of
        it [1]
    source: superposition of one ampere on a network at rest
    """
    equations, spread, theirs = _seen(network, pairs)
    return _shares(equations, equations.currents(spread, driven=False), theirs)


def _shares(
    equations: _Equations, currents: Array, theirs: Sequence[Thevenin]
) -> tuple[Mapping[str, float], ...]:
    """Return by part's name what one ampere at each port is in it; nothing where none flows."""
    names = [part.name for part in equations.branches]
    return tuple(
        {} if each is _NOTHING else dict(zip(names, row, strict=True))
        for each, row in zip(theirs, np.abs(currents.T).tolist(), strict=True)
    )
