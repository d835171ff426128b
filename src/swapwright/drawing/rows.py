"""The heights of a chain's nodes between two rails, and how high each element is."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Element
from swapwright.drawing.placed import Texts, label_room
from swapwright.drawing.skeleton import Chain
from swapwright.drawing.symbol import extent

MIN_ROW = 18.5
DRIVE_LIFT = 6.0
"""How far over the middle of a drive its label stands: its motor is where the label would be."""


class Heights:
    """How high each element is with its label; what stands in series has rows of one height."""

    def __init__(self, chains: Iterable[Chain], texts: Texts) -> None:
        """Measure the labels of everything that stands in some chains."""
        self.texts = texts
        series = [
            self._label(element)
            for chain in chains
            for element in (*chain.elements, *(e for side in chain.sides for e in side.elements))
            if element.kind in model.SERIES
        ]
        self.row = max([MIN_ROW, *series]) + texts.state_room

    def _label(self, element: Element) -> float:
        return self.texts.height(element, label_room(element.kind)) + 1.5

    def of(self, element: Element) -> float:
        """Return how high an element is [mm]."""
        if element.kind in model.SERIES:
            return self.row
        label = self._label(element)
        if element.kind == model.INVERTER:
            label = 2.0 * (label + DRIVE_LIFT)
        room = self.texts.state_room
        symbol = 2.0 * extent(element.kind).reach + 4.0 + room
        return max(label, symbol, MIN_ROW) + room


class Rows:
    """The heights of a chain's nodes: its ends hang at the rails, its core stands between."""

    def __init__(self, chain: Chain, heights: Heights) -> None:
        """Measure a chain."""
        self.chain = chain
        self.heights = heights
        kinds = [element.kind for element in chain.elements]
        series = [kind in model.SERIES for kind in kinds]
        self.head = next((n for n, each in enumerate(series) if not each), len(kinds))
        rest = series[self.head :]
        self.tail = next((n for n, each in enumerate(reversed(rest)) if not each), len(rest))
        self.down = self._least()
        self.total = self.down[-1]

    def _least(self) -> list[float]:
        """Return the least height of each node below the first one."""
        places = [0.0]
        for number, element in enumerate(self.chain.elements, start=1):
            least = places[-1] + self.heights.of(element)
            for side in self.chain.sides:
                if side.end == number:
                    needed = sum(map(self.heights.of, side.elements))
                    least = max(least, places[side.start] + needed)
            places.append(least)
        return places

    def places(self, between: float) -> list[float]:
        """Return the height of each node where the rails are so far from each other."""
        last = len(self.chain.elements)
        foot = last - self.tail
        upper = self.down[self.head]
        lower = between - (self.total - self.down[foot])
        span = self.down[foot] - upper
        heights = []
        for number, least in enumerate(self.down):
            if number <= self.head and number < last:
                heights.append(least)
            elif number >= foot:
                heights.append(between - (self.total - least))
            else:
                heights.append(upper + (least - upper) / span * (lower - upper))
        return heights
