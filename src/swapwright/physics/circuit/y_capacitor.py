"""Energy in the Y-capacitors between the poles and the chassis: in balance, faulted, touched."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def balanced_rail_energy(*, capacitance: float, voltage: float) -> float:
    """Return the energy of one rail's Y-capacitors while the pack floats in balance.

    capacitance: from one pole to the chassis [F]
    voltage: of the whole pack [V]
    result: energy [J]
    source: definition-capacitor
    """
    return capacitance * voltage**2 / 8.0


def faulted_rail_energy(*, capacitance: float, voltage: float) -> float:
    """Return the energy of one rail's Y-capacitors once the other pole touches the chassis.

    capacitance: from one pole to the chassis [F]
    voltage: of the whole pack [V]
    result: energy [J]
    source: definition-capacitor
    """
    return 0.5 * capacitance * voltage**2


def touch_energy(*, capacitance: float, voltage: float) -> float:
    """Return the energy that meets a person touching one pole and the chassis of a balanced pack.

    Both rails stand behind the hand, twice the capacitance at half the voltage.

    capacitance: from one pole to the chassis [F]
    voltage: of the whole pack [V]
    result: energy [J]
    source: definition-capacitor
    """
    return 0.25 * capacitance * voltage**2


_C = Symbol("capacitance", "F", 1e-9, 1e-5, "capacitance from one pole to the chassis")
_V = Symbol("voltage", "V", 10.0, 1000.0, "maximum working voltage of the pack")
_CAPACITOR = ("definition-capacitor",)
_FLOATS = "nothing but the Y-capacitors ties the pack to the chassis"

BALANCED_RAIL_ENERGY = Working(
    balanced_rail_energy,
    "C*(V/2)**2/2",
    {"C": _C, "V": _V},
    Symbol(
        "balanced_rail_energy", "J", 0.0, 100.0, "energy of one rail's Y-capacitors, in balance"
    ),
    _CAPACITOR,
    f"{_FLOATS}; both rails alike",
    "capacitance of the cells to their case",
)

FAULTED_RAIL_ENERGY = Working(
    faulted_rail_energy,
    "C*V**2/2",
    {"C": _C, "V": _V},
    Symbol(
        "faulted_rail_energy",
        "J",
        0.0,
        100.0,
        "energy of a rail's Y-capacitors, other pole on the chassis",
    ),
    _CAPACITOR,
    "the fault to chassis has no resistance",
    "capacitance of the cells to their case",
)

TOUCH_ENERGY = Working(
    touch_energy,
    "2*C*(V/2)**2/2",
    {"C": _C, "V": _V},
    Symbol("touch_energy", "J", 0.0, 100.0, "energy into a hand on one pole"),
    _CAPACITOR,
    f"{_FLOATS}; both rails alike",
    "current that goes on through the isolation resistance afterwards",
)

WORKINGS: tuple[Working, ...] = (BALANCED_RAIL_ENERGY, FAULTED_RAIL_ENERGY, TOUCH_ENERGY)
