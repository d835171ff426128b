"""Coolants: density, specific heat, viscosity, conductivity and freezing point of each mix."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import exp, log

from swapwright.base.figure import Value

SOURCE = "ashrae-2001-glycols"

_TABLES: Mapping[str, str] = {
    "ethylene glycol": "ethylene-glycol",
    "propylene glycol": "propylene-glycol",
    "water": "ethylene-glycol",
}
"""The table a coolant is read from; water is the mix without antifreeze."""

WATER = "water"
NO_ANTIFREEZE = Value(0.0, "1", "standard", SOURCE)

PROPERTIES = ("density", "specific_heat", "viscosity", "conductivity")
UNITS: Mapping[str, str] = {
    "density": "kg/m^3",
    "specific_heat": "J/kg/K",
    "viscosity": "Pa.s",
    "conductivity": "W/m/K",
}
_SCALE = (1.0, 1.0, 1e-3, 1.0)
_ZERO_CELSIUS = 273.15
_FREEZES = "freezes"


@dataclass(frozen=True)
class CoolantTable:
    """One antifreeze in water, by share and temperature; frozen mixes are not in it.

    ``shares`` 0..1 by volume and ``temperatures`` K rise; ``rows`` hold the properties in the order
    of `PROPERTIES`, SI; ``freezing`` K is beside each share.
    """

    shares: tuple[float, ...]
    temperatures: tuple[float, ...]
    rows: Mapping[tuple[int, int], tuple[float, ...]]
    freezing: tuple[float, ...]

    def at(self, share: float, temperature: float) -> Mapping[str, float] | None:
        """Return each property; None outside the table or where a mix beside it is frozen.

        Straight between the points; of viscosity its logarithm.
        """
        corners = [
            (self.rows.get((i, j)), weight_i * weight_j)
            for i, weight_i in _between(self.shares, share)
            for j, weight_j in _between(self.temperatures, temperature)
        ]
        found: dict[str, float] = {}
        for place, name in enumerate(PROPERTIES):
            logarithmic = name == "viscosity"
            total = 0.0
            for row, weight in corners:
                if row is None:
                    return None
                total += weight * (log(row[place]) if logarithmic else row[place])
            found[name] = exp(total) if logarithmic else total
        return found if corners else None

    def freezes_at(self, share: float) -> float | None:
        """Return the temperature K at which a mix begins to freeze; None outside the table."""
        places = _between(self.shares, share)
        return sum(self.freezing[i] * weight for i, weight in places) if places else None


def _between(axis: tuple[float, ...], x: float) -> tuple[tuple[int, float], ...]:
    """Return the points beside x with their weights; nothing outside the axis."""
    if not axis[0] <= x <= axis[-1]:
        return ()
    low = min(bisect_right(axis, x), len(axis) - 1) - 1
    weight = (x - axis[low]) / (axis[low + 1] - axis[low])
    return tuple(each for each in ((low, 1.0 - weight), (low + 1, weight)) if each[1] > 0.0)


@cache
def coolant_table(kind: str) -> CoolantTable | None:
    """Return the table of a kind of coolant; None for one there is no table of."""
    name = _TABLES.get(kind)
    if name is None:
        return None
    text = (files(__package__) / "coolants" / f"{name}.txt").read_text(encoding="ascii")
    lines = [line.split() for line in text.splitlines() if line and not line.startswith("#")]
    points = [tuple(map(float, line)) for line in lines if line[0] != _FREEZES]
    shares = tuple(sorted({share for share, *_ in points}))
    degrees = tuple(sorted({degree for _, degree, *_ in points}))
    return CoolantTable(
        shares=tuple(share / 100.0 for share in shares),
        temperatures=tuple(degree + _ZERO_CELSIUS for degree in degrees),
        rows={
            (shares.index(share), degrees.index(degree)): tuple(
                number * scale for number, scale in zip(numbers, _SCALE, strict=True)
            )
            for share, degree, *numbers in points
        },
        freezing=tuple(float(line[2]) + _ZERO_CELSIUS for line in lines if line[0] == _FREEZES),
    )
