"""What a figure stands on, down to the defaults nobody confirmed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess.book import FigureBook
from swapwright.base.figure import SimulatedWorking, Value


def assumed_under(
    book: FigureBook,
    names: Iterable[str],
    paths: Mapping[tuple[str, float], str] | None = None,
) -> tuple[str, ...]:
    """Return the build paths of the defaults that figures or entries of these names rest on.

    ``paths`` is what `default_paths` gives of the book, where it is asked for many times.
    """
    if paths is None:
        paths = default_paths(book)
    found: set[str] = set()
    seen: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        figure = book.figures.get(name)
        if figure is None:
            entry = book.car.get(name)
            if entry is not None and entry.origin == "default":
                found.add(name)
            continue
        if isinstance(figure.working, SimulatedWorking):
            waiting.append(figure.working.estimate.id)
        for value in figure.inputs.values():
            if value.origin == "default":
                found.add(paths.get((value.ref, value.si), value.ref))
            elif value.origin == "computed":
                waiting.append(value.ref)
    return tuple(sorted(found))


def default_paths(book: FigureBook) -> Mapping[tuple[str, float], str]:
    """Return the path of each default of the car, by its source and number."""
    entries: dict[str, Value] = {**book.car.values, **book.values}
    return {
        (value.ref, value.si): path for path, value in entries.items() if value.origin == "default"
    }
