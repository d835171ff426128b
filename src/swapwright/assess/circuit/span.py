"""How much of the pack's voltage can stand between two points, part of the circuit open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess.circuit.place import potentials
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.graph import groups

Levels = Mapping[str, float]
"""Potentials of nodes, the pack's whole voltage as 1."""


def islands(graph: tuple[Element, ...]) -> tuple[Levels, ...]:
    """Return the potentials of the nodes a graph's packs reach, island by island.

    A load, a bleed or a capacitor between two islands conducts: an open gap then sees what both
    hold together. Of several such bridges the one that leaves the most counts.
    """
    known = potentials(Circuit(graph))
    nodes = dict.fromkeys(node for e in graph for node in (e.plus, e.minus))
    along = [(e.plus, e.minus) for e in graph if e.kind == model.PACK or e.kind in model.SERIES]
    found = [{node: known.get(node, 0.0) for node in group} for group in groups(nodes, along)]
    bridges = [(e.plus, e.minus) for e in graph if e.kind in model.ACROSS]
    while True:
        best: tuple[float, int, int, dict[str, float]] | None = None
        of = {node: number for number, island in enumerate(found) for node in island}
        for one, other in bridges:
            first, second = of[one], of[other]
            if first == second:
                continue
            shift = found[first][one] - found[second][other]
            whole = found[first] | {node: at + shift for node, at in found[second].items()}
            span = range_over(whole, whole)
            if best is None or span > best[0]:
                best = span, first, second, whole
        if best is None:
            break
        _, first, second, whole = best
        found = [each for n, each in enumerate(found) if n not in (first, second)] + [whole]
    return tuple(found)


def range_over(levels: Levels, nodes: Iterable[str]) -> float:
    """Return the largest difference of potential between some nodes, the pack's whole as 1."""
    there = [levels[node] for node in nodes if node in levels]
    return max(there) - min(there) if there else 0.0
