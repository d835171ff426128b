"""What a figure stands on, down to the defaults nobody confirmed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess.book import FigureBook
from swapwright.base.figure import Figure, SimulatedWorking

_NONE: frozenset[str] = frozenset()


class Grounds:
    """The defaults under the figures of one book, each figure looked into once."""

    def __init__(self, book: FigureBook) -> None:
        """Start on a book that is written to its end."""
        self._book = book
        self._paths = _default_paths(book)
        self._under: dict[str, frozenset[str]] = {}

    def assumed_under(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return the build paths of the defaults that figures or entries of these names rest on."""
        return tuple(sorted(_NONE.union(*map(self._of, names))))

    def _of(self, name: str) -> frozenset[str]:
        found = self._under.get(name)
        if found is None:
            figure = self._book.figures.get(name)
            found = self._of_entry(name) if figure is None else self._of_figure(figure)
            self._under[name] = found
        return found

    def _of_entry(self, name: str) -> frozenset[str]:
        entry = self._book.car.get(name)
        is_default = entry is not None and entry.origin == "default"
        return frozenset((name,) if is_default else ())

    def _of_figure(self, figure: Figure) -> frozenset[str]:
        # Most figures rest on one set, or on none: sets are joined only where they differ.
        own, under = _NONE, self._under
        if isinstance(figure.working, SimulatedWorking):
            own = self._of(figure.working.estimate.id)
        for value in figure.inputs.values():
            if value.origin == "computed":
                more = under.get(value.ref)
                if more is None:
                    more = self._of(value.ref)
            elif value.origin == "default":
                more = frozenset((self._paths.get((value.ref, value.si), value.ref),))
            else:
                continue
            if more and more is not own:
                own = own | more if own else more
        return own


def _default_paths(book: FigureBook) -> Mapping[tuple[str, float], str]:
    """Return the path of each default of the car, by its source and number."""
    return {
        (value.ref, value.si): path
        for entries in (book.car.values, book.values)
        for path, value in entries.items()
        if value.origin == "default"
    }
