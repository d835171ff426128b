"""Where measured modules go: like with like in strings, evenly where several stand side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from swapwright.assess.book import FigureBook
from swapwright.assess.stages.salvage import Tested, tested
from swapwright.build.car import Car


@dataclass(frozen=True)
class Placed:
    """One measured module, and the string and the group there it is proposed for."""

    module: Tested
    capacity: float
    string: int
    group: int


@dataclass(frozen=True)
class Placing:
    """A proposal: every module's place, and the capacity C of the pack so and as the file has it.

    ``lacking`` are the serials whose capacity is not given; with any there is no proposal.
    """

    placed: tuple[Placed, ...]
    capacity: float
    capacity_as_listed: float
    lacking: tuple[str, ...]


def placing(car: Car) -> Placing:
    """Return where a car's measured modules give the most capacity.

    A string carries what its weakest group carries. Where each group is one module the weak ones
    go together, so that only one string is held back; where several stand side by side in a group
    the strong ones are put beside the weak ones.
    """
    book = FigureBook(car)
    modules = tested(book)
    lacking = tuple(each.serial for each in modules if not book.has(each.entry("capacity")))
    if lacking or not modules:
        return Placing((), 0.0, 0.0, lacking)
    capacities = {each: book.number(each.entry("capacity")) for each in modules}
    listed = _as_listed(modules, capacities)
    sizes = [[len(group) for group in string] for string in listed]
    best = sorted(modules, key=lambda each: -capacities[each])
    proposal: list[list[list[Tested]]] = []
    for string in sizes:
        count = sum(string)
        proposal.append(_shared(best[:count], string, capacities))
        best = best[count:]
    if _capacity(proposal, capacities) < _capacity(listed, capacities):
        proposal = listed
    placed = tuple(
        Placed(each, capacities[each], number, place)
        for number, string in enumerate(proposal, start=1)
        for place, group in enumerate(string, start=1)
        for each in group
    )
    return Placing(placed, _capacity(proposal, capacities), _capacity(listed, capacities), ())


def _as_listed(
    modules: Sequence[Tested], capacities: dict[Tested, float]
) -> list[list[list[Tested]]]:
    """Return the groups of each string as the file lists them."""
    strings: dict[int, dict[str, list[Tested]]] = {}
    for each in capacities:
        key = f"module {each.row}" if each.group is None else f"group {each.group}"
        strings.setdefault(each.string, {}).setdefault(key, []).append(each)
    return [list(groups.values()) for _, groups in sorted(strings.items())]


def _shared(
    modules: Sequence[Tested], sizes: Sequence[int], capacities: dict[Tested, float]
) -> list[list[Tested]]:
    """Share modules out over groups so that the weakest group has as much as it can.

    The strongest left goes where there will be least, were the rest of it of middling strength.
    """
    groups: list[list[Tested]] = [[] for _ in sizes]
    middle = fsum(capacities[each] for each in modules) / len(modules)

    def will_have(at: int) -> float:
        to_come = sizes[at] - len(groups[at])
        return fsum(capacities[each] for each in groups[at]) + to_come * middle

    for each in modules:
        with_room = [at for at, size in enumerate(sizes) if len(groups[at]) < size]
        groups[min(with_room, key=will_have)].append(each)
    return groups


def _capacity(strings: list[list[list[Tested]]], capacities: dict[Tested, float]) -> float:
    return fsum(
        min(fsum(capacities[each] for each in group) for group in string) for string in strings
    )
