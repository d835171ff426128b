"""What the precharge resistor takes: current, power, energy, and the heat of several tries."""

from __future__ import annotations

from math import expm1

from swapwright.base.figure import Symbol, Working


def peak_current(*, voltage: float, resistance: float) -> float:
    """Return the current of a precharge's first moment.

    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    result: current [A]
    source: definition-ohm
    """
    return voltage / resistance


def peak_power(*, voltage: float, resistance: float) -> float:
    """Return the power in the precharge resistor at the first moment, or for good on a short.

    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    result: power [W]
    source: definition-electric-power
    """
    return voltage**2 / resistance


def resistor_energy(*, capacitance: float, voltage: float, share: float) -> float:
    """Return the energy one precharge leaves in its resistor, whatever its ohms.

    capacitance: of the link [F]
    voltage: of the pack [V]
    share: of the pack's voltage it is ended at [1]
    result: energy [J]
    source: definition-electric-power
    """
    return 0.5 * capacitance * voltage**2 * (1.0 - (1.0 - share) ** 2)


def mean_power_of_tries(*, energy: float, tries: float, period: float) -> float:
    """Return the mean power in the resistor while precharge is tried again and again.

    energy: of one try [J]
    tries: within the period [1]
    period: [s]
    result: power [W]
    source: definition-electric-power
    """
    return tries * energy / period


def resistor_heat_capacity(*, pulse: float, rise: float) -> float:
    """Return the heat capacity of a resistor's wire from its pulse rating.

    pulse: rated energy of one pulse [J]
    rise: that pulse warms it by [K]
    result: heat capacity [J/K]
    source: resistor-pulse-typical
    """
    return pulse / rise


def resistor_temperature_after_tries(
    *,
    ambient: float,
    energy: float,
    heat_capacity: float,
    tries: float,
    pause: float,
    thermal_time_constant: float,
) -> float:
    """Return the resistor's temperature just after the last of several tries.

    Each try warms it at once; in the pauses it cools towards the air.

    ambient: air around it [K]
    energy: of one try [J]
    heat_capacity: of the resistor [J/K]
    tries: one after the other [1]
    pause: from one try to the next [s]
    thermal_time_constant: of its cooling [s]
    result: temperature [K]
    source: incropera-2007-ch5, from memory
    """
    each = energy / heat_capacity
    cooled = pause / thermal_time_constant
    if cooled < 1e-12:
        return ambient + each * tries
    return ambient + each * expm1(-tries * cooled) / expm1(-cooled)


def shorted_energy(*, voltage: float, resistance: float, time: float) -> float:
    """Return the energy in the resistor when precharge into a shorted link is given up.

    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    time: until it is given up [s]
    result: energy [J]
    source: definition-electric-power
    """
    return voltage**2 / resistance * time


def time_to_energy(*, energy: float, voltage: float, resistance: float) -> float:
    """Return how long the resistor stands a shorted link.

    energy: it can take, its pulse rating [J]
    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    result: time [s]
    source: definition-electric-power
    """
    return energy * resistance / voltage**2


_V = Symbol("voltage", "V", 20.0, 1000.0, "pack voltage")
_R = Symbol("resistance", "ohm", 1.0, 1000.0, "precharge resistor")
_C = Symbol("capacitance", "F", 1e-5, 0.02, "link capacitance")
_T = Symbol("time", "s", 1e-3, 30.0, "time")
_Q = Symbol("share", "1", 0.3, 0.999, "share of the pack's voltage", "fraction")
_E = Symbol("energy", "J", 0.1, 5000.0, "energy of one try")
_OHM = ("definition-ohm",)
_POWER = ("definition-electric-power",)
_EMPTY = "the link starts empty, nothing on it draws current, the pack's voltage holds"
_LOADS = "a load on the link, for which there are figures of their own"

PEAK_CURRENT = Working(
    peak_current,
    "V/R",
    {"V": _V, "R": _R},
    Symbol("peak_current", "A", 0.0, 1e4, "first current of precharge"),
    _OHM,
    "the link is empty",
    "",
)

PEAK_POWER = Working(
    peak_power,
    "V**2/R",
    {"V": _V, "R": _R},
    Symbol("peak_power", "W", 0.0, 1e7, "first power in the resistor"),
    _POWER,
    "the link is empty, or shorted",
    "",
)

RESISTOR_ENERGY = Working(
    resistor_energy,
    "C*V**2/2*(1 - (1 - q)**2)",
    {"C": _C, "V": _V, "q": _Q},
    Symbol("resistor_energy", "J", 0.0, 1e5, "energy of one precharge in the resistor"),
    _POWER,
    _EMPTY,
    _LOADS,
)

MEAN_POWER_OF_TRIES = Working(
    mean_power_of_tries,
    "n*E/t",
    {
        "n": Symbol("tries", "1", 1.0, 20.0, "tries", "count"),
        "E": _E,
        "t": Symbol("period", "s", 1.0, 3600.0, "time they are made in"),
    },
    Symbol("mean_power_of_tries", "W", 0.0, 1e6, "mean power of repeated tries"),
    _POWER,
    "each try fills an empty link",
    "",
)

RESISTOR_HEAT_CAPACITY = Working(
    resistor_heat_capacity,
    "E/dT",
    {
        "E": Symbol("pulse", "J", 0.1, 1e4, "pulse rating"),
        "dT": Symbol("rise", "K", 50.0, 400.0, "rise of that pulse", "temperature_difference"),
    },
    Symbol("resistor_heat_capacity", "J/K", 0.0, 1e3, "heat capacity of the resistor's wire"),
    ("resistor-pulse-typical",),
    "the pulse rating takes the wire from room temperature to its limit",
    "ceramic and case, which take up heat as well: the truth is cooler",
)

RESISTOR_TEMPERATURE_AFTER_TRIES = Working(
    resistor_temperature_after_tries,
    "T + E/C_h*(1 - exp(-n*t_p/tau))/(1 - exp(-t_p/tau))",
    {
        "T": Symbol("ambient", "K", 230.0, 400.0, "air around it", "temperature"),
        "E": _E,
        "C_h": Symbol("heat_capacity", "J/K", 0.05, 500.0, "heat capacity of the resistor"),
        "n": Symbol("tries", "1", 1.0, 20.0, "tries", "count"),
        "t_p": Symbol("pause", "s", 1.0, 600.0, "from one try to the next"),
        "tau": Symbol("thermal_time_constant", "s", 5.0, 900.0, "time constant of its cooling"),
    },
    Symbol(
        "resistor_temperature", "K", 0.0, 1e6, "resistor's temperature after them", "temperature"
    ),
    ("incropera-2007-ch5",),
    "each try is short against the cooling",
    "the wire hotter than the case during a try",
)

SHORTED_ENERGY = Working(
    shorted_energy,
    "V**2/R*t",
    {"V": _V, "R": _R, "t": _T},
    Symbol("shorted_energy", "J", 0.0, 1e8, "energy in the resistor, link shorted"),
    _POWER,
    "the full pack voltage stands across the resistor",
    "",
)

TIME_TO_ENERGY = Working(
    time_to_energy,
    "E*R/V**2",
    {"E": Symbol("energy", "J", 0.1, 1e4, "energy the resistor can take"), "R": _R, "V": _V},
    Symbol("time_to_energy", "s", 0.0, 1e5, "time the resistor stands a shorted link"),
    _POWER,
    "the full pack voltage stands across the resistor",
    "",
)

WORKINGS: tuple[Working, ...] = (
    PEAK_CURRENT,
    PEAK_POWER,
    RESISTOR_ENERGY,
    MEAN_POWER_OF_TRIES,
    RESISTOR_HEAT_CAPACITY,
    RESISTOR_TEMPERATURE_AFTER_TRIES,
    SHORTED_ENERGY,
    TIME_TO_ENERGY,
)
