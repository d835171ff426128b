"""A wire of the 12 V loom: what it may carry where it lies, and the fuse its load wants."""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working


def wire_ampacity(
    *,
    rated_current: float,
    rated_temperature: float,
    rated_ambient: float,
    max_temperature: float,
    ambient: float,
    loom_factor: float,
) -> float:
    """Return the continuous current of a wire in warm air, beside others; never above its table's.

    rated_current: of its table [A]
    rated_temperature: of the conductor at that current [K]
    rated_ambient: of the air at that current [K]
    max_temperature: its own insulation bears [K]
    ambient: of the air round the loom [K]
    loom_factor: what the loaded wires beside it leave [1]
    result: current [A]
    source: conductor-square-law
    """
    rise = max(0.0, max_temperature - ambient)
    return rated_current * loom_factor * min(1.0, sqrt(rise / (rated_temperature - rated_ambient)))


def fuse_wanted(*, current: float, fuse_share: float) -> float:
    """Return the smallest fuse that carries a load for good.

    current: of the load while it is on [A]
    fuse_share: of its rating a fuse carries for good [1]
    result: rating [A]
    source: iso-8820-3-continuous
    """
    return current / fuse_share


def share_lost(*, drop: float, voltage: float) -> float:
    """Return what share of the system's voltage is lost on the way to a load and back.

    drop: voltage lost [V]
    voltage: of the system [V]
    result: share [1]
    source: definition-ohm
    """
    return drop / voltage


_CELSIUS = "temperature"

WIRE_AMPACITY = Working(
    wire_ampacity,
    "I_r*f*Min(1, sqrt(Max(0, T_m - T_a)/(T_r - T_0)))",
    {
        "I_r": Symbol("rated_current", "A", 5.0, 400.0, "current of its table"),
        "f": Symbol("loom_factor", "1", 0.3, 1.0, "left by the wires beside it", "factor"),
        "T_m": Symbol("max_temperature", "K", 340.0, 480.0, "its insulation bears", _CELSIUS),
        "T_a": Symbol("ambient", "K", 260.0, 360.0, "air round the loom", _CELSIUS),
        "T_r": Symbol("rated_temperature", "K", 340.0, 370.0, "conductor, in the table", _CELSIUS),
        "T_0": Symbol("rated_ambient", "K", 293.0, 313.0, "air, in the table", _CELSIUS),
    },
    Symbol("I_z", "A", 0.0, 400.0, "continuous current of the wire"),
    ("conductor-square-law", "vde-0298-4-2023-table-11"),
    "heat leaves in proportion to the rise; the table's current is not passed in cold air",
    "hot parts beside the loom; terminals and connectors, which may bear less",
)

FUSE_WANTED = Working(
    fuse_wanted,
    "I/s",
    {
        "I": Symbol("current", "A", 0.0, 300.0, "current while it is on"),
        "s": Symbol("fuse_share", "1", 0.5, 1.0, "share of its rating for good", "fraction"),
    },
    Symbol("I_f", "A", 0.0, 600.0, "smallest fuse that lasts"),
    ("iso-8820-3-continuous",),
    "a blade or strip fuse in the warmth of a car",
    "the starting current of a motor or a lamp, which a fuse rides over for a moment",
)

SHARE_LOST = Working(
    share_lost,
    "U/V",
    {
        "U": Symbol("drop", "V", 0.0, 10.0, "voltage lost out and back"),
        "V": Symbol("voltage", "V", 5.0, 60.0, "system voltage"),
    },
    Symbol("s", "1", 0.0, 2.0, "share of the voltage lost", "fraction"),
    ("definition-ohm",),
    "",
    "",
)

WORKINGS: tuple[Working, ...] = (WIRE_AMPACITY, FUSE_WANTED, SHARE_LOST)
