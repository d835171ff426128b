"""The 12 V budget: mean currents of the loads, the converter that feeds them, what the pack gives.

Currents and powers are means over a case of use, but where they are said to be peaks.
"""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def mean_current(*, current: float, duty: float) -> float:
    """Return the mean current of a load that is on for a share of the time.

    current: while it is on [A]
    duty: share of the time it is on [1]
    result: current [A]
    source: definition-mean-of-a-duty
    """
    return current * duty


def supply_power(*, current: float, voltage: float) -> float:
    """Return the power that feeds a current at the system's voltage.

    current: of all loads together [A]
    voltage: the converter holds the system at [V]
    result: power [W]
    source: definition-electric-power
    """
    return current * voltage


def drawn_power(*, power: float, efficiency: float) -> float:
    """Return what a converter takes from the pack for the power it gives.

    power: given [W]
    efficiency: of the converter [1]
    result: power [W]
    source: definition-efficiency-of-a-converter
    """
    return power / efficiency


def sized_power(*, power: float, size_factor: float) -> float:
    """Return the rating the trade would fit for a worst-case power.

    power: of the worst case [W]
    size_factor: rating over worst case [1]
    result: power [W]
    source: dcdc-size-practice
    """
    return power * size_factor


def derated_power(
    *, power: float, temperature: float, full_power_to: float, no_power_at: float
) -> float:
    """Return what heat leaves of a converter's rating: a straight line down to nothing.

    power: rated [W]
    temperature: of the air or coolant at the converter [K]
    full_power_to: it gives its rating up to here [K]
    no_power_at: it has switched itself off here, above that [K]
    result: power [W]
    source: dcdc-derating-linear
    """
    left = (no_power_at - temperature) / (no_power_at - full_power_to)
    return power * min(1.0, max(0.0, left))


_P = Symbol("power", "W", 1.0, 1e4, "power")
_I = Symbol("current", "A", 0.0, 500.0, "current")

MEAN_CURRENT = Working(
    mean_current,
    "I*d",
    {"I": _I, "d": Symbol("duty", "1", 0.0, 1.0, "share of the time on", "fraction")},
    Symbol("I_m", "A", 0.0, 500.0, "mean current"),
    ("definition-mean-of-a-duty",),
    "long enough for the battery to even out what switches on and off",
    "the current while it is on, which the lowest voltage rests on; starting current",
)

SUPPLY_POWER = Working(
    supply_power,
    "I*V",
    {"I": _I, "V": Symbol("voltage", "V", 5.0, 60.0, "system voltage")},
    Symbol("P", "W", 0.0, 3e4, "power"),
    ("definition-electric-power",),
    "every load draws its current at this voltage",
    "loads that draw more as the voltage falls",
)

DRAWN_POWER = Working(
    drawn_power,
    "P/eta",
    {"P": _P, "eta": Symbol("efficiency", "1", 0.4, 1.0, "efficiency", "fraction")},
    Symbol("P_pack", "W", 0.0, 3e4, "power taken from the pack"),
    ("definition-efficiency-of-a-converter",),
    "one efficiency at every load",
    "what the converter takes with no load; at light load it is less efficient",
)

SIZED_POWER = Working(
    sized_power,
    "P*k",
    {"P": _P, "k": Symbol("size_factor", "1", 1.0, 2.0, "rating over worst case", "factor")},
    Symbol("P_size", "W", 0.0, 2e4, "rating the trade would fit"),
    ("dcdc-size-practice",),
    "the worst case lasts",
    "",
)

DERATED_POWER = Working(
    derated_power,
    "P*Min(1, Max(0, (T_0 - T)/(T_0 - T_1)))",
    {
        "P": _P,
        "T": Symbol("temperature", "K", 250.0, 390.0, "at the converter", "temperature"),
        "T_1": Symbol("full_power_to", "K", 300.0, 360.0, "full power up to", "temperature"),
        "T_0": Symbol("no_power_at", "K", 330.0, 400.0, "no power from", "temperature"),
    },
    Symbol("P_T", "W", 0.0, 1e4, "power it gives there"),
    ("dcdc-derating-linear",),
    "its rating falls along a straight line between its sheet's two temperatures",
    "what the converter itself adds to its air where it stands boxed in",
    valid="T_0 > T_1 + 5",
)

WORKINGS: tuple[Working, ...] = (
    MEAN_CURRENT,
    SUPPLY_POWER,
    DRAWN_POWER,
    SIZED_POWER,
    DERATED_POWER,
)
