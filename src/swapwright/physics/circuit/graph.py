"""What hangs together in a graph: groups of joined nodes, and blocks that current can go round."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from typing import TypeVar

Node = TypeVar("Node", bound=Hashable)


def joined(edges: Iterable[tuple[Node, Node]]) -> Mapping[Node, Node]:
    """Return for each node that has an edge one node that stands for its group."""
    above: dict[Node, Node] = {}

    def top(node: Node) -> Node:
        while above.setdefault(node, node) != node:
            node = above[node]
        return node

    for one, other in edges:
        above[top(one)] = top(other)
    return {node: top(node) for node in list(above)}


def groups(
    nodes: Iterable[Node], edges: Iterable[tuple[Node, Node]]
) -> tuple[tuple[Node, ...], ...]:
    """Return the nodes in groups that edges join, in the order of the nodes."""
    of = joined(edges)
    found: dict[Node, list[Node]] = {}
    for node in nodes:
        found.setdefault(of.get(node, node), []).append(node)
    return tuple(tuple(group) for group in found.values())


def blocks(edges: Iterable[tuple[Node, Node]]) -> tuple[frozenset[int], ...]:
    """Return the blocks of a graph, each as the numbers of its edges.

    Two edges lie in one block where a closed path goes through both: only there can a source on one
    drive a current through the other. (Tarjan's search for cut vertices; from memory.)
    """
    listed = list(edges)
    at: dict[Node, list[int]] = {}
    for number, (one, other) in enumerate(listed):
        at.setdefault(one, []).append(number)
        at.setdefault(other, []).append(number)
    depth: dict[Node, int] = {}
    low: dict[Node, int] = {}
    found: list[frozenset[int]] = []
    for start in at:
        if start not in depth:
            _search(start, listed, at, depth, low, found)
    return tuple(found)


def _search(
    start: Node,
    edges: list[tuple[Node, Node]],
    at: Mapping[Node, list[int]],
    depth: dict[Node, int],
    low: dict[Node, int],
    found: list[frozenset[int]],
) -> None:
    """Search one group of nodes in depth, without recursion; add its blocks to those found."""
    taken: set[int] = set()
    stack: list[int] = []
    path: list[tuple[Node, int, Iterable[int]]] = [(start, -1, iter(at[start]))]
    depth[start] = low[start] = 0
    while path:
        node, entered, waiting = path[-1]
        edge = next((e for e in waiting if e not in taken), None)
        if edge is not None:
            taken.add(edge)
            stack.append(edge)
            one, other = edges[edge]
            far = other if one == node else one
            if far in depth:
                low[node] = min(low[node], depth[far])
            else:
                depth[far] = low[far] = len(path)
                path.append((far, edge, iter(at[far])))
            continue
        path.pop()
        if not path:
            continue
        above = path[-1][0]
        low[above] = min(low[above], low[node])
        if low[node] >= depth[above]:
            block = []
            while True:
                last = stack.pop()
                block.append(last)
                if last == entered:
                    break
            found.append(frozenset(block))
