"""What an element carries of a current, and how hot the current makes it."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def carried_current(*, current: float, share: float) -> float:
    """Return the current an element carries of one drawn from the pack.

    current: drawn at the loads [A]
    share: of it that goes through the element [1]
    result: current [A]
    source: kirchhoff-current-law
    """
    return current * share


def power_current(*, power: float, voltage: float) -> float:
    """Return the current a load of constant power draws.

    power: of the load [W]
    voltage: the lowest it stands at [V]
    result: current [A]
    source: definition-electric-power
    """
    return power / voltage


def lesser_temperature(*, insulation: float, terminals: float) -> float:
    """Return the hottest a conductor may be: what its insulation and its ends both bear.

    insulation: hottest the conductor may be by its insulation [K]
    terminals: hottest its lugs, glands and terminals may be [K]
    result: temperature [K]
    source: cable-terminals-practice
    """
    return min(insulation, terminals)


def temperature_at_current(
    *, ambient: float, max_temperature: float, current: float, ampacity: float
) -> float:
    """Return a conductor's settled temperature from what it may carry where it lies.

    ambient: of the air round it [K]
    max_temperature: it reaches at its ampacity [K]
    current: steady, or the root of a duty's mean square [A]
    ampacity: continuous current that brings it to max_temperature there [A]
    result: temperature [K]
    source: conductor-square-law
    """
    return ambient + (max_temperature - ambient) * (current / ampacity) ** 2


def share_in_heat(*, share: float, ambient_factor: float) -> float:
    """Return how near a current comes to melting a fuse in warm air, from how near in its own.

    share: current over the melting current in the air it is rated in [1]
    ambient_factor: share of its rating the warmer air leaves [1]
    result: share [1]
    source: semiconductor-fuse-guide-ambient
    """
    return share / ambient_factor


_I = Symbol("current", "A", 0.1, 1000.0, "current")
_TEMPERATURE = Symbol("max_temperature", "K", 340.0, 450.0, "hottest it may be", "temperature")

CARRIED_CURRENT = Working(
    carried_current,
    "I*s",
    {"I": _I, "s": Symbol("share", "1", 0.0, 1.0, "share of the current", "fraction")},
    Symbol("carried_current", "A", 0.0, 1e4, "current carried"),
    ("kirchhoff-current-law",),
    "the share of a resistive network at rest",
    "what strings of unequal charge push into each other",
)

POWER_CURRENT = Working(
    power_current,
    "P/V",
    {
        "P": Symbol("power", "W", 1.0, 1e5, "power"),
        "V": Symbol("voltage", "V", 5.0, 1000.0, "lowest voltage"),
    },
    Symbol("power_current", "A", 0.0, 1e4, "current drawn"),
    ("definition-electric-power",),
    "constant power, at the lowest voltage",
    "starting current",
)

LESSER_TEMPERATURE = Working(
    lesser_temperature,
    "Min(T_i, T_t)",
    {
        "T_i": Symbol("insulation", "K", 340.0, 530.0, "insulation", "temperature"),
        "T_t": Symbol("terminals", "K", 320.0, 500.0, "lugs and terminals", "temperature"),
    },
    Symbol("max_temperature", "K", 300.0, 600.0, "hottest the conductor may be", "temperature"),
    ("cable-terminals-practice",),
    "a cable is as good as its ends",
    "",
)

TEMPERATURE_AT_CURRENT = Working(
    temperature_at_current,
    "T_a + (T_m - T_a)*(I/I_z)**2",
    {
        "T_a": Symbol("ambient", "K", 250.0, 335.0, "air round the cable", "temperature"),
        "T_m": _TEMPERATURE,
        "I": _I,
        "I_z": Symbol("ampacity", "A", 5.0, 1000.0, "continuous current allowed there"),
    },
    Symbol("temperature", "K", 200.0, 1e5, "conductor temperature", "temperature"),
    ("conductor-square-law",),
    "the rise goes with the square of the current; radiation makes it a little less at high rise",
    "temperature well above what it may be, where resistance grows with it",
)

SHARE_IN_HEAT = Working(
    share_in_heat,
    "s/A_1",
    {
        "s": Symbol("share", "1", 0.0, 5.0, "share of the melting current", "fraction"),
        "A_1": Symbol("ambient_factor", "1", 0.05, 1.2, "what the heat leaves", "fraction"),
    },
    Symbol("share_in_heat", "1", 0.0, 1e3, "share of the melting current there", "fraction"),
    ("semiconductor-fuse-guide-ambient",),
    "the melting current falls as the continuous one does",
    "short pulses, which the air hardly matters to",
)

WORKINGS: tuple[Working, ...] = (
    CARRIED_CURRENT,
    POWER_CURRENT,
    LESSER_TEMPERATURE,
    TEMPERATURE_AT_CURRENT,
    SHARE_IN_HEAT,
)
