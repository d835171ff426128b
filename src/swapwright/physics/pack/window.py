"""The part of a pack that is used: energy between two states of charge, and how full it can get."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line
from swapwright.physics.pack.cell import rest_energy


def usable_share(*, low: float, high: float) -> float:
    """Return the share of a pack's charge between two states of charge.

    low: lower end of the window [1]
    high: upper end of the window [1]
    result: share [1]
    source: definition-charge
    """
    return high - low


def usable_energy(*, energy: float, low: float, high: float) -> float:
    """Return the rated energy between two states of charge, at nominal voltage throughout.

    energy: rated, of the whole pack [J]
    low: lower end of the window [1]
    high: upper end of the window [1]
    result: energy [J]
    source: definition-charge
    """
    return energy * (high - low)


def window_energy(
    *, ocv: Line, capacity: float, series: float, low: float, high: float, loss_share: float = 0.0
) -> float:
    """Return the energy a pack gives between two states of charge.

    ocv: a cell's rest voltage [V] against state of charge [1]
    capacity: of the pack [C]
    series: cells in series [1]
    low: lower end of the window [1]
    high: upper end of the window [1]
    loss_share: share lost in the pack's resistance at the rate it is used [1]
    result: energy at the terminals [J]
    source: plett-2015-ch2, from memory
    """
    at_rest = series * rest_energy(ocv=ocv, capacity=capacity, low=low, high=high)
    return at_rest * (1.0 - loss_share)


def soc_at_rest_voltage(*, ocv: Line, voltage: float) -> float:
    """Return the highest state of charge whose rest voltage does not pass a voltage.

    On a flat stretch that is its upper end; outside the curve it is 0 or 1.

    ocv: a cell's rest voltage, rising [V], against state of charge [1]
    voltage: of one cell at rest [V]
    result: state of charge [1]
    source: plett-2015-ch2, from memory
    """
    if voltage < ocv.y[0]:
        return ocv.x[0]
    if voltage >= ocv.y[-1]:
        return ocv.x[-1]
    above = next(i for i, y in enumerate(ocv.y) if y > voltage)
    x0, x1 = ocv.x[above - 1], ocv.x[above]
    y0, y1 = ocv.y[above - 1], ocv.y[above]
    return x0 + (x1 - x0) * (voltage - y0) / (y1 - y0)


def reachable_top(
    *, ocv: Line, series: float, max_voltage: float, resistance: float, current: float
) -> float:
    """Return the state of charge above which a pack's voltage passes a limit.

    With the regeneration current it is the fullest at which regeneration may be used; with no
    current the fullest at which the equipment may be switched on.

    ocv: a cell's rest voltage [V] against state of charge [1]
    series: cells in series [1]
    max_voltage: highest voltage the equipment takes [V]
    resistance: of the pack at its terminals [ohm]
    current: charging current, as a magnitude [A]
    result: state of charge [1]
    source: definition-ohm
    """
    rest = max_rest_voltage(max_voltage=max_voltage, resistance=resistance, current=current)
    return soc_at_rest_voltage(ocv=ocv, voltage=rest / series)


def max_rest_voltage(*, max_voltage: float, resistance: float, current: float) -> float:
    """Return the highest rest voltage that leaves room for a charging current.

    max_voltage: highest voltage the equipment takes [V]
    resistance: of the pack at its terminals [ohm]
    current: charging current, as a magnitude [A]
    result: rest voltage [V]
    source: definition-ohm
    """
    return max_voltage - current * resistance


_LOW = Symbol("low", "1", 0.0, 0.5, "low end of the window", "fraction")
_HIGH = Symbol("high", "1", 0.5, 1.0, "high end of the window", "fraction")

USABLE_SHARE = Working(
    usable_share,
    "z_2 - z_1",
    {"z_1": _LOW, "z_2": _HIGH},
    Symbol("usable_share", "1", 0.0, 1.0, "usable share", "fraction"),
    ("definition-charge",),
    "",
    "",
)

USABLE_ENERGY = Working(
    usable_energy,
    "E * (z_2 - z_1)",
    {"E": Symbol("energy", "J", 1e6, 1e9, "rated energy"), "z_1": _LOW, "z_2": _HIGH},
    Symbol("usable_energy", "J", 0.0, 1e9, "usable energy"),
    ("definition-charge",),
    "nominal voltage at every state of charge",
    "loss in the pack, cold, age",
)

MAX_REST_VOLTAGE = Working(
    max_rest_voltage,
    "V_max - I * R",
    {
        "V_max": Symbol("max_voltage", "V", 20.0, 900.0, "highest voltage"),
        "I": Symbol("current", "A", 0.0, 500.0, "charging current"),
        "R": Symbol("resistance", "ohm", 0.005, 0.5, "pack resistance"),
    },
    Symbol("max_rest_voltage", "V", 0.0, 900.0, "highest rest voltage"),
    ("definition-ohm",),
    "all cells equally full",
    "the fullest cell reaching its own limit first",
)

WORKINGS: tuple[Working, ...] = (
    USABLE_SHARE,
    USABLE_ENERGY,
    MAX_REST_VOLTAGE,
)
