"""Tables of a part or a standard: a line through points, and a map over two axes."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """A piecewise linear line through (x, y) points, x rising; SI values and their units."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    x_unit: str
    y_unit: str

    def at(self, x: float) -> float:
        """Return y at x by linear interpolation; the end values hold outside the points."""
        low, weight = _place(self.x, x)
        return self.y[low] if weight == 0.0 else _mix(self.y[low], self.y[low + 1], weight)


@dataclass(frozen=True)
class Map:
    """A bilinear map z[row][column] over two rising axes; SI values and their units."""

    rows: tuple[float, ...]
    columns: tuple[float, ...]
    z: tuple[tuple[float, ...], ...]
    row_unit: str
    column_unit: str
    z_unit: str

    def at(self, row: float, column: float) -> float:
        """Return z by bilinear interpolation; the edge values hold outside the map."""
        r, wr = _place(self.rows, row)
        c, wc = _place(self.columns, column)

        def across(line: tuple[float, ...]) -> float:
            return line[c] if wc == 0.0 else _mix(line[c], line[c + 1], wc)

        low = across(self.z[r])
        return low if wr == 0.0 else _mix(low, across(self.z[r + 1]), wr)


def _place(axis: tuple[float, ...], x: float) -> tuple[int, float]:
    """Return the cell index and the weight of its upper end."""
    if x <= axis[0]:
        return 0, 0.0
    if x >= axis[-1]:
        return len(axis) - 1, 0.0
    low = bisect_right(axis, x) - 1
    return low, (x - axis[low]) / (axis[low + 1] - axis[low])


def _mix(low: float, high: float, weight: float) -> float:
    return low + (high - low) * weight
