"""Where measured modules go: like with like in strings, evenly where several stand side by side."""

from __future__ import annotations

from collections.abc import Collection, Sequence
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
    """A proposal: each taken module's place, and the capacity C of the pack so and as listed.

    ``lacking`` are the serials whose capacity is not given; with any there is no proposal.
    ``short`` is how many modules the listed places are short of: with any no capacity is told.
    """

    placed: tuple[Placed, ...]
    capacity: float
    capacity_as_listed: float
    lacking: tuple[str, ...]
    short: int = 0


def placing(car: Car, left_out: Collection[str] = ()) -> Placing:
    """Return where a car's measured modules give the most capacity, some serials left out.

    A string carries what its weakest group carries. Where each group is one module the weak ones
    go together, so that only one string is held back; where several stand side by side in a group
    the strong ones are put beside the weak ones.
    """
    book = FigureBook(car)
    everyone = tested(book)
    modules = [each for each in everyone if each.serial not in left_out]
    lacking = tuple(each.serial for each in modules if not book.has(each.entry("capacity")))
    if lacking or not modules:
        return Placing((), 0.0, 0.0, lacking)
    capacities = {each: book.number(each.entry("capacity")) for each in modules}
    listed = _as_listed(everyone)
    sizes = [[len(group) for group in string] for string in listed]
    best = sorted(modules, key=lambda each: -capacities[each])
    proposal: list[list[list[Tested]]] = []
    for string in sizes:
        count = sum(string)
        proposal.append(_shared(best[:count], string, capacities))
        best = best[count:]
    short = len(everyone) - len(modules)
    if not short and _capacity(proposal, capacities) < _capacity(listed, capacities):
        proposal = listed
    placed = tuple(
        Placed(each, capacities[each], number, place)
        for number, string in enumerate(proposal, start=1)
        for place, group in enumerate(string, start=1)
        for each in group
    )
    if short:
        return Placing(placed, 0.0, 0.0, (), short)
    return Placing(placed, _capacity(proposal, capacities), _capacity(listed, capacities), ())


def _as_listed(modules: Sequence[Tested]) -> list[list[list[Tested]]]:
    """Return the groups of each string as the file lists them."""
    strings: dict[int, dict[str, list[Tested]]] = {}
    for each in modules:
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
    middle = fsum(capacities[each] for each in modules) / max(len(modules), 1)

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
