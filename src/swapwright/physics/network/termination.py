"""What an ohmmeter should read between the two wires of a CAN bus with the power off."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def bus_resistance(*, terminator: float, count: float) -> float:
    """Return the resistance between the two wires: the terminators side by side.

    terminator: each [ohm]
    count: terminators fitted [1]
    result: [ohm]
    source: Kirchhoff's laws
    """
    return terminator / count


BUS_RESISTANCE = Working(
    bus_resistance,
    "R_t/n",
    {
        "R_t": Symbol("terminator", "ohm", 50.0, 500.0, "each terminator", "resistance"),
        "n": Symbol("count", "1", 1.0, 10.0, "terminators", "count"),
    },
    Symbol("R", "ohm", 5.0, 500.0, "between the two wires", "resistance"),
    ("iso-11898-2-2016-termination",),
    "power off; the nodes' own inputs, tens of kilohms each, are left out",
    "a wire broken between meter and terminator",
)

WORKINGS: tuple[Working, ...] = (BUS_RESISTANCE,)
