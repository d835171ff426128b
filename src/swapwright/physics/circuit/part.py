"""What a circuit is made of: parts between nodes, and which of them hang together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Literal

from swapwright.base.errors import SwapwrightError

Kind = Literal["resistor", "capacitor", "source", "inductor", "current", "power"]

CHASSIS = "chassis"


class NetworkError(SwapwrightError):
    """A network cannot be solved; ``names`` are the parts or nodes at fault."""

    def __init__(self, message: str, *names: str) -> None:
        """Keep the message and the names it speaks of."""
        self.names = names
        super().__init__(message)


@dataclass(frozen=True)
class Part:
    """One part between two nodes; its current counts from ``a`` to ``b``.

    ``value`` is ohm, F, V (emf, ``a`` positive), H, A drawn or W drawn by ``kind``; ``resistance``
    and ``inductance`` lie in series; ``start`` is a capacitor's voltage at the outset; below
    ``cutoff`` volts a power part draws as a resistance.
    """

    name: str
    kind: Kind
    a: str
    b: str
    value: float
    resistance: float = 0.0
    inductance: float = 0.0
    start: float = 0.0
    cutoff: float = 0.0

    @property
    def ohms(self) -> float:
        """Return the series resistance [ohm]."""
        return self.value if self.kind == "resistor" else self.resistance

    @property
    def henries(self) -> float:
        """Return the series inductance [H]."""
        return self.value if self.kind == "inductor" else self.inductance

    @property
    def emf(self) -> float:
        """Return the emf, zero unless a source [V]."""
        return self.value if self.kind == "source" else 0.0


@dataclass(frozen=True)
class Network:
    """Parts that meet at nodes of the same name."""

    parts: tuple[Part, ...]

    def __post_init__(self) -> None:
        """Refuse what no solver could make sense of."""
        seen: set[str] = set()
        for part in self.parts:
            if part.name in seen:
                raise NetworkError(f"two parts are called {part.name!r}", part.name)
            seen.add(part.name)
            _check(part)

    @property
    def nodes(self) -> tuple[str, ...]:
        """Return the nodes in the order the parts name them."""
        return tuple(dict.fromkeys(node for part in self.parts for node in (part.a, part.b)))

    def part(self, name: str) -> Part:
        """Return a part by name; raises NetworkError."""
        for part in self.parts:
            if part.name == name:
                return part
        raise NetworkError(f"no part is called {name!r}", name)

    def changed(self, changes: Mapping[str, Part | None]) -> Network:
        """Return the network with parts replaced, added, or (None) taken out."""
        kept = (changes.get(part.name, part) for part in self.parts)
        known = {part.name for part in self.parts}
        added = (part for name, part in changes.items() if name not in known)
        return Network(tuple(part for part in (*kept, *added) if part is not None))


def _check(part: Part) -> None:
    if part.a == part.b:
        raise NetworkError(f"{part.name}: both ends are at node {part.a!r}", part.name, part.a)
    numbers = (part.value, part.resistance, part.inductance, part.start, part.cutoff)
    if not all(map(isfinite, numbers)):
        raise NetworkError(f"{part.name}: a value is not a finite number", part.name)
    if min(part.resistance, part.inductance, part.cutoff) < 0.0:
        raise NetworkError(f"{part.name}: resistance or inductance is negative", part.name)
    if part.kind == "resistor" and (part.value < 0.0 or part.resistance):
        raise NetworkError(f"{part.name}: a resistor has one resistance, not negative", part.name)
    if part.kind in ("capacitor", "inductor") and part.value <= 0.0:
        raise NetworkError(f"{part.name}: a {part.kind} needs a value above zero", part.name)
    if part.kind == "inductor" and part.inductance:
        raise NetworkError(f"{part.name}: an inductor has one inductance", part.name)


class Forest:
    """Which nodes hang together, and by which parts: a tree for each island."""

    def __init__(self, nodes: Iterable[str]) -> None:
        """Start with every node by itself."""
        self._up = {node: node for node in nodes}
        self._branches: list[Part] = []

    def root(self, node: str) -> str:
        """Return the node that stands for the island of a node."""
        up = self._up
        while up[node] != node:
            up[node] = up[up[node]]
            node = up[node]
        return node

    def join(self, part: Part) -> bool:
        """Join the ends of a part; False where they already hang together."""
        one, other = self.root(part.a), self.root(part.b)
        if one == other:
            return False
        self._up[other] = one
        self._branches.append(part)
        return True

    def loop(self, part: Part) -> tuple[str, ...]:
        """Return the names of the parts on the way between the ends of a part, and its own."""
        beside: dict[str, list[tuple[str, str]]] = {}
        for branch in self._branches:
            beside.setdefault(branch.a, []).append((branch.b, branch.name))
            beside.setdefault(branch.b, []).append((branch.a, branch.name))
        ways: dict[str, tuple[str, ...]] = {part.a: (part.name,)}
        queue = [part.a]
        for node in queue:
            for other, name in beside.get(node, ()):
                if other not in ways:
                    ways[other] = (*ways[node], name)
                    queue.append(other)
        return ways[part.b]


def refuse_bare_loop(forest: Forest, part: Part) -> None:
    """Raise NetworkError: a part without resistance closes a loop that has none."""
    names = forest.loop(part)
    raise NetworkError(
        f"a loop without resistance: {', '.join(names)}; give one of them its resistance", *names
    )
