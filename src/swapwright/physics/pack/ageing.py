"""Two published fits of cell ageing: shapes to learn from, never a promise for another cell.

Both were fitted to one small cell each. They tell how ageing goes with temperature, voltage and
use; the numbers belong to those cells.
"""

from __future__ import annotations

from math import exp, log, pow, sqrt

import numpy as np

from swapwright.base.figure import Symbol, Working

GAS_CONSTANT = 8.314  # J/(mol K), as in the fits (wang-2011)
AMPERE_HOUR = 3600.0  # C
DAY = 86400.0  # s

# The fit's factor [per cent of capacity] by C-rate (wang-2011).
WANG_RATES = (0.5, 2.0, 6.0, 10.0)
WANG_FACTORS = (31630.0, 21681.0, 12934.0, 15512.0)
WANG_EXPONENT = 0.55


def wang_factor(c_rate: float) -> float:
    """Return the fit's factor at a C-rate, its logarithm interpolated between the rates fitted.

    c_rate: held to the range fitted, 0.5 to 10 [1]
    result: factor, as a fraction of capacity [1]
    source: wang-2011; the interpolation is ours
    """
    return (
        exp(float(np.interp(c_rate, WANG_RATES, [log(factor) for factor in WANG_FACTORS]))) / 100.0
    )


def wang_activation_temperature(c_rate: float) -> float:
    """Return the fit's activation energy at a C-rate, over the gas constant.

    c_rate: [1]
    result: temperature [K]
    source: wang-2011
    """
    return (31700.0 - 370.3 * c_rate) / GAS_CONSTANT


def wang_capacity_loss(
    *,
    factor: float,
    activation_temperature: float,
    temperature: float,
    throughput: float,
    ampere_hour: float = AMPERE_HOUR,
    exponent: float = WANG_EXPONENT,
) -> float:
    """Return the capacity lost by a 2 Ah graphite/LFP cell after a throughput of charge.

    factor: from `wang_factor` [1]
    activation_temperature: from `wang_activation_temperature` [K]
    temperature: of the cell [K]
    throughput: charge drawn over its life [C]
    ampere_hour: the unit the fit counts in [C]
    exponent: of the throughput [1]
    result: capacity lost, as a fraction [1]
    source: wang-2011
    """
    return (
        factor
        * exp(-activation_temperature / temperature)
        * pow(throughput / ampere_hour, exponent)
    )


def schmalstieg_calendar_factor(*, voltage: float, temperature: float) -> float:
    """Return the fit's factor of capacity lost with time.

    voltage: mean cell voltage [V]
    temperature: of the cell [K]
    result: fraction lost per day to the power of three quarters [1]
    source: schmalstieg-2014
    """
    return (7.543 * voltage - 23.75) * 1e6 * exp(-6976.0 / temperature)


def schmalstieg_cycle_factor(*, rms_voltage: float, depth: float) -> float:
    """Return the fit's factor of capacity lost with use.

    rms_voltage: root mean square cell voltage over the cycle [V]
    depth: depth of each cycle [1]
    result: fraction lost per root of an ampere-hour [1]
    source: schmalstieg-2014
    """
    return 7.348e-3 * (rms_voltage - 3.667) ** 2 + 7.6e-4 + 4.081e-3 * depth


def schmalstieg_capacity(
    *,
    calendar_factor: float,
    time: float,
    cycle_factor: float,
    throughput: float,
    day: float = DAY,
    ampere_hour: float = AMPERE_HOUR,
) -> float:
    """Return the capacity left of a 2.05 Ah NMC cell after a time and a throughput.

    calendar_factor: from `schmalstieg_calendar_factor` [1]
    time: age [s]
    cycle_factor: from `schmalstieg_cycle_factor` [1]
    throughput: charge drawn over its life [C]
    day: the unit of time the fit counts in [s]
    ampere_hour: the unit of charge the fit counts in [C]
    result: capacity left of new [1]
    source: schmalstieg-2014
    """
    calendar = calendar_factor * pow(time / day, 0.75)
    return 1.0 - calendar - cycle_factor * sqrt(throughput / ampere_hour)


def schmalstieg_resistance(
    *,
    voltage: float,
    temperature: float,
    rms_voltage: float,
    depth: float,
    time: float,
    throughput: float,
) -> float:
    """Return the resistance over new of a 2.05 Ah NMC cell after a time and a throughput.

    voltage: mean cell voltage [V]
    temperature: of the cell [K]
    rms_voltage: root mean square cell voltage over the cycle [V]
    depth: depth of each cycle [1]
    time: age [s]
    throughput: charge drawn over its life [C]
    result: resistance over new [1]
    source: schmalstieg-2014
    """
    calendar = (5.270 * voltage - 16.32) * 1e5 * exp(-5986.0 / temperature)
    cycle = max(2.153e-4 * (rms_voltage - 3.725) ** 2 - 1.521e-5 + 2.798e-4 * depth, 1.5e-5)
    return 1.0 + calendar * pow(time / DAY, 0.75) + cycle * throughput / AMPERE_HOUR


_AH = Symbol("ampere_hour", "C", 1800.0, 3600.0, "one ampere-hour")
_QT = Symbol("throughput", "C", 3600.0, 1e8, "charge drawn over its life")

WANG_CAPACITY_LOSS = Working(
    wang_capacity_loss,
    "B * exp(-T_a / T) * (Q / Q_1)**z",
    {
        "B": Symbol("factor", "1", 100.0, 400.0, "factor of the fit"),
        "T_a": Symbol("activation_temperature", "K", 3000.0, 4000.0, "activation temperature"),
        "T": Symbol("temperature", "K", 263.15, 333.15, "cell temperature"),
        "Q": _QT,
        "Q_1": _AH,
        "z": Symbol("exponent", "1", 0.5, 0.6, "exponent of the fit"),
    },
    Symbol("wang_capacity_loss", "1", 0.0, 10.0, "capacity lost", "fraction"),
    ("wang-2011",),
    "a graphite/LFP 26650 cell of about 2 Ah",
    "any other cell; calendar ageing apart from use",
)

SCHMALSTIEG_CAPACITY = Working(
    schmalstieg_capacity,
    "1 - a * (t / t_d)**0.75 - b * sqrt(Q / Q_1)",
    {
        "a": Symbol("calendar_factor", "1", 1e-5, 1e-3, "calendar factor"),
        "t": Symbol("time", "s", 86400.0, 6e8, "age"),
        "b": Symbol("cycle_factor", "1", 1e-4, 1e-2, "cycle factor"),
        "Q": _QT,
        "t_d": Symbol("day", "s", 43200.0, 86400.0, "one day"),
        "Q_1": _AH,
    },
    Symbol("schmalstieg_capacity", "1", -10.0, 1.0, "capacity left", "fraction"),
    ("schmalstieg-2014",),
    "an NMC 18650 cell of 2.05 Ah",
    "any other cell; sudden fade at the end of life",
)

WORKINGS: tuple[Working, ...] = (
    WANG_CAPACITY_LOSS,
    SCHMALSTIEG_CAPACITY,
)
