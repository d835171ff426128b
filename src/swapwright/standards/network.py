"""What a CAN bus and the lines beside it are judged by, and who must tell whom what."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value

TERMINATORS = Value(2.0, "1", "standard", "iso-11898-2-2016-termination")
"""One at each end of the wire."""

TERMINATOR = Value(120.0, "ohm", "standard", "iso-11898-2-2016-termination")
TERMINATOR_BAND = Value(0.1, "1", "standard", "can-termination-band-practice")
"""The resistance of the line, which each terminator has to within a tenth."""

MIN_BUS_RESISTANCE = Value(54.0, "ohm", "standard", "can-termination-band-practice")
MAX_BUS_RESISTANCE = Value(66.0, "ohm", "standard", "can-termination-band-practice")
"""Between the two wires, power off: two terminators side by side, each within a tenth."""

MAX_LOAD = Value(0.70, "1", "standard", "can-load-practice")
"""Share of the time a bus may be busy, every frame at its longest."""

LOAD_BAND = Value(0.2857, "1", "standard", "can-load-practice")
"""Above half of the time a bus has little room for what is added later: 0.70 less 0.2857 of it."""

MISSED_FRAMES = Value(2.0, "1", "standard", "can-timeout-practice")
"""Frames lost in a row that must not stop the car: a time-out of three periods."""


@dataclass(frozen=True)
class Reach:
    """How far a bus reaches at a bit rate, and how far a node may stand off it."""

    bit_rate: Value
    length: Value
    stub: Value


_LENGTH, _STUB = "can-length-by-bit-rate", "can-stub-practice"


def _reach(bit_rate: float, length: float, stub: float) -> Reach:
    return Reach(
        Value(bit_rate, "bit/s", "standard", _LENGTH),
        Value(length, "m", "standard", _LENGTH),
        Value(stub, "m", "standard", _STUB),
    )


REACH = (
    _reach(125e3, 500.0, 2.0),
    _reach(250e3, 250.0, 1.0),
    _reach(500e3, 100.0, 0.3),
    _reach(1e6, 40.0, 0.3),
)
"""By rising bit rate; between two of them the faster one's row holds, above the last none."""


PACK, CHARGER, INVERTER, CONTROLLER = (
    "pack controller",
    "charger",
    "inverter",
    "vehicle controller",
)

ROLES = (
    (PACK, ("pack controller", "pack monitor", "bms", "battery management")),
    (CHARGER, ("charger", "obc")),
    (INVERTER, ("inverter", "motor controller", "mcu")),
    (CONTROLLER, ("vehicle controller", "vehicle control unit", "vcu")),
)
"""What a node does, by what its name says; the first that fits counts."""


@dataclass(frozen=True)
class Signal:
    """What must be told: by one of ``givers``, to the first of ``takers`` the car has.

    ``silence`` is the longest a taker may go without it and carry on.
    """

    name: str
    givers: tuple[str, ...]
    takers: tuple[str, ...]
    silence: Value


DRIVE_SILENCE = Value(0.5, "s", "standard", "can-silence-drive-practice")
CHARGE_SILENCE = Value(5.0, "s", "standard", "can-silence-charge-practice")
"""How long a driving and a charging car may go on without word of what it obeys."""


def _drive(name: str, giver: str, *takers: str) -> Signal:
    return Signal(name, (giver,), takers, DRIVE_SILENCE)


def _charge(name: str, givers: tuple[str, ...], *takers: str) -> Signal:
    return Signal(name, givers, takers, CHARGE_SILENCE)


SIGNALS = (
    _drive("torque request", CONTROLLER, INVERTER),
    _drive("drive enable", CONTROLLER, INVERTER),
    _drive("torque made", INVERTER, CONTROLLER),
    _drive("motor speed", INVERTER, CONTROLLER),
    _drive("drive temperatures", INVERTER, CONTROLLER),
    _drive("link voltage", INVERTER, PACK, CONTROLLER),
    _drive("drive faults", INVERTER, CONTROLLER, PACK),
    _drive("discharge limit", PACK, CONTROLLER, INVERTER),
    _drive("regeneration limit", PACK, CONTROLLER, INVERTER),
    _drive("contactor state", PACK, CONTROLLER, INVERTER),
    _drive("pack faults", PACK, CONTROLLER, INVERTER),
    _charge("state of charge", (PACK,), CONTROLLER),
    _charge("cell voltages", (PACK,), CONTROLLER),
    _charge("cell temperatures", (PACK,), CONTROLLER),
    _charge("charge limits", (PACK, CONTROLLER), CHARGER),
    _charge("charge enable", (PACK, CONTROLLER), CHARGER),
    _charge("charger output", (CHARGER,), PACK, CONTROLLER),
    _charge("charger faults", (CHARGER,), PACK, CONTROLLER),
)
"""By function, what charger, pack controller, inverter and vehicle controller need of each other.

source: can-signals-practice
"""

SIGNAL_NAMES = tuple(signal.name for signal in SIGNALS)

WAKE_UP, INTERLOCK, CRASH_CUT, EMERGENCY, DRIVE_INHIBIT, CHARGE_LINE = (
    "wake-up",
    "interlock",
    "crash cut",
    "emergency stop",
    "drive inhibit",
    "charge enable",
)
LINE_KINDS = (WAKE_UP, INTERLOCK, CRASH_CUT, EMERGENCY, DRIVE_INHIBIT, CHARGE_LINE)

OPEN_CUTS = "open cuts"
FAIL_STATES = (OPEN_CUTS, "closed cuts")
"""What a line does to what it holds: it is let go by a break, or only by a signal."""

PROTECTIONS = (
    (INTERLOCK, "hv.interlock"),
    (CRASH_CUT, "hv.inertia_switch"),
    (EMERGENCY, "network.emergency_stop"),
    (DRIVE_INHIBIT, "charging.drive_lockout"),
)
"""Lines that must act with the bus dead, and where the file says that the car has them."""

MIN_PEDAL_TRACKS = Value(2.0, "1", "standard", "pedal-two-track-practice")
MAX_PEDAL_DIFFERENCE = Value(0.10, "1", "standard", "pedal-plausibility-formula-sae-2023")
"""Share of the travel the two tracks may differ by and still be believed."""
MAX_PEDAL_TIME = Value(0.1, "s", "standard", "pedal-plausibility-formula-sae-2023")
"""How long they may differ by more before the torque is taken away."""
