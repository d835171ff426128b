"""A dc fuse in its place: what it may carry there, and what it lets through when it opens."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np

from swapwright.base.figure import Symbol, Working


def ambient_factor(*, ambient: float, reference: float, limit: float) -> float:
    """Return the share of its rating a fuse carries in warmer air; none at all above its limit.

    ambient: air around the fuse [K]
    reference: air its rating is given in [K]
    limit: air in which it would carry nothing [K]
    result: factor A1 [1]
    source: semiconductor-fuse-guide-ambient
    """
    return sqrt(max(0.0, (limit - ambient) / (limit - reference)))


def least_rating(*, current: float, ambient_factor: float, cyclic_factor: float) -> float:
    """Return the least rating of a fuse that carries a duty for years.

    current: of the duty, rms [A]
    ambient_factor: A1, for the air around it [1]
    cyclic_factor: A2, for a load that comes and goes [1]
    result: rating [A]; infinite where the air alone is too hot
    source: semiconductor-fuse-guide-ambient
    """
    carried = ambient_factor * cyclic_factor
    return current / carried if carried > 0.0 else inf


def continuous_current(*, rating: float, ambient_factor: float, cyclic_factor: float) -> float:
    """Return the rms current a fuse may carry where it stands.

    rating: of the fuse [A]
    ambient_factor: A1, for the air around it [1]
    cyclic_factor: A2, for a load that comes and goes [1]
    result: current, rms [A]
    source: semiconductor-fuse-guide-ambient
    """
    return rating * ambient_factor * cyclic_factor


def cold_resistance(*, rating: float, drop: float) -> float:
    """Return a fuse's cold resistance where its data sheet is silent.

    rating: of the fuse [A]
    drop: across a cold fuse at its rating [V]
    result: resistance [ohm]
    source: fuse-cold-drop-typical
    """
    return drop / rating


def permitted_voltage(*, voltage: float, factor: float) -> float:
    """Return the dc voltage a fuse may open at the time constant of its circuit.

    voltage: dc rating [V]
    factor: share of it left at this time constant, from `voltage_factor` [1]
    result: voltage [V]
    source: fuse-voltage-time-constant-typical
    """
    return voltage * factor


def voltage_factor(
    *, time_constant: float, times: tuple[float, ...], factors: tuple[float, ...]
) -> float:
    """Return the share of its dc rating a fuse may open at a circuit's time constant.

    time_constant: L/R of the circuit [s]
    times, factors: the table, times rising [s], [1]; its ends hold outside, none beyond the last
    result: share [1]
    source: fuse-voltage-time-constant-typical
    """
    if time_constant > times[-1]:
        return 0.0
    return float(np.interp(time_constant, times, factors))


def pulse_share(*, current: float, melting_current: float) -> float:
    """Return how near a pulse comes to melting the fuse.

    current: of the pulse [A]
    melting_current: that melts the fuse in the pulse's time [A]
    result: share [1]
    source: semiconductor-fuse-guide-overload
    """
    return current / melting_current


def clearing_i2t(*, pre_arcing_i2t: float, arcing_factor: float) -> float:
    """Return the whole I2t a fuse lets through where its data sheet gives only the melting part.

    pre_arcing_i2t: until its element has melted [A^2.s]
    arcing_factor: whole over pre-arcing, near its full voltage [1]
    result: I2t [A^2.s]
    source: fuse-arcing-typical
    """
    return pre_arcing_i2t * arcing_factor


def arcing_time(*, clearing_i2t: float, pre_arcing_i2t: float, current: float) -> float:
    """Return how long a melted fuse goes on arcing at a current.

    clearing_i2t, pre_arcing_i2t: of the fuse, whole and until melted [A^2.s]
    current: it opens [A]
    result: time [s]
    source: iec-60269-1-2014-i2t, from memory
    """
    return (clearing_i2t - pre_arcing_i2t) / current**2


def i2t_share(*, let_through: float, withstand: float) -> float:
    """Return the share of a cable's or a contactor's withstand that a fuse lets through.

    let_through: whole clearing I2t of the fuse [A^2.s]
    withstand: I2t that does not harm what the fuse protects [A^2.s]
    result: share [1]
    source: iec-60269-1-2014-i2t, from memory
    """
    return let_through / withstand


def discrimination_ratio(*, branch_clearing_i2t: float, main_pre_arcing_i2t: float) -> float:
    """Return how near a fault on a branch comes to melting the main fuse as well.

    branch_clearing_i2t: whole I2t of the branch fuse [A^2.s]
    main_pre_arcing_i2t: that melts the main fuse [A^2.s]
    result: ratio; below one the branch fuse opens alone [1]
    source: iec-60269-1-2014-i2t, from memory
    """
    return branch_clearing_i2t / main_pre_arcing_i2t


_GUIDE = "semiconductor-fuse-guide-ambient"
_I2T = "iec-60269-1-2014-i2t"
_A1 = Symbol("ambient_factor", "1", 0.1, 1.3, "factor of the air around it, A1", "factor")
_A2 = Symbol("cyclic_factor", "1", 0.3, 1.0, "factor of a load that comes and goes, A2", "factor")
_RATING = Symbol("rating", "A", 1.0, 1000.0, "rating of the fuse")
_RMS = Symbol("current", "A", 0.5, 1000.0, "current of the duty, rms")
_CONDUCTORS = "conductors of the size the fuse was tested with; air that moves little"
_CLEARING = Symbol("clearing_i2t", "A^2.s", 1e3, 1e7, "clearing I2t")
_PRE_ARCING = Symbol("pre_arcing_i2t", "A^2.s", 1.0, 1e3, "pre-arcing I2t")

AMBIENT_FACTOR = Working(
    ambient_factor,
    "sqrt(Max(0, (a - T)/(a - T_0)))",
    {
        "a": Symbol("limit", "K", 400.0, 425.0, "air in which it carries nothing", "temperature"),
        "T": Symbol("ambient", "K", 230.0, 430.0, "air around the fuse", "temperature"),
        "T_0": Symbol("reference", "K", 293.0, 305.0, "air of its rating", "temperature"),
    },
    Symbol("ambient_factor", "1", 0.0, 1.5, "factor of the air around the fuse, A1", "fraction"),
    (_GUIDE,),
    _CONDUCTORS,
    "forced air; thick or thin conductors; height above sea level",
)

LEAST_RATING = Working(
    least_rating,
    "I/(A_1*A_2)",
    {"I": _RMS, "A_1": _A1, "A_2": _A2},
    Symbol("least_rating", "A", 0.0, 1e5, "least rating of the fuse"),
    (_GUIDE,),
    _CONDUCTORS,
    "short pulses, which are held against the melting curve",
)

CONTINUOUS_CURRENT = Working(
    continuous_current,
    "I_n*A_1*A_2",
    {"I_n": _RATING, "A_1": _A1, "A_2": _A2},
    Symbol("continuous_current", "A", 0.0, 1e4, "current the fuse may carry there, rms"),
    (_GUIDE,),
    _CONDUCTORS,
    "short pulses, which are held against the melting curve",
)

COLD_RESISTANCE = Working(
    cold_resistance,
    "U/I_n",
    {"U": Symbol("drop", "V", 0.02, 0.3, "drop across a cold fuse at its rating"), "I_n": _RATING},
    Symbol("cold_resistance", "ohm", 0.0, 1.0, "cold resistance of the fuse"),
    ("fuse-cold-drop-typical",),
    "a cold fuse; a warm one has up to half as much again",
    "joints of its terminals",
)

PERMITTED_VOLTAGE = Working(
    permitted_voltage,
    "U_n*k",
    {
        "U_n": Symbol("voltage", "V", 50.0, 1500.0, "dc rating of the fuse"),
        "k": Symbol("factor", "1", 0.0, 1.0, "share left at this time constant", "factor"),
    },
    Symbol("permitted_voltage", "V", 0.0, 2000.0, "dc voltage the fuse may open"),
    ("fuse-voltage-time-constant-typical",),
    "falls with the time constant as such fuses usually do",
    "the fuse's own data, which go before this",
)

PULSE_SHARE = Working(
    pulse_share,
    "I/I_m",
    {
        "I": Symbol("current", "A", 1.0, 5000.0, "current of the pulse"),
        "I_m": Symbol("melting_current", "A", 1.0, 2e4, "current that melts it in that time"),
    },
    Symbol("pulse_share", "1", 0.0, 1e4, "pulse over melting current", "fraction"),
    ("semiconductor-fuse-guide-overload",),
    "the fuse has cooled since the pulse before",
    "",
)

CLEARING_I2T = Working(
    clearing_i2t,
    "W_p*k_a",
    {
        "W_p": Symbol("pre_arcing_i2t", "A^2.s", 1.0, 1e6, "pre-arcing I2t"),
        "k_a": Symbol("arcing_factor", "1", 1.0, 6.0, "clearing over pre-arcing", "factor"),
    },
    Symbol("clearing_i2t", "A^2.s", 0.0, 1e8, "clearing I2t"),
    ("fuse-arcing-typical",),
    "opened near its full voltage",
    "the fuse's own data, which go before this",
)

ARCING_TIME = Working(
    arcing_time,
    "(W_c - W_p)/I**2",
    {
        "W_c": _CLEARING,
        "W_p": _PRE_ARCING,
        "I": Symbol("current", "A", 20.0, 5e4, "current it opens"),
    },
    Symbol("arcing_time", "s", 0.0, 1e3, "time it goes on arcing"),
    (_I2T,),
    "the arcing I2t of a high fault holds at every current, and the current does not fall",
    "a current below the least the fuse can break: it may arc on",
)

I2T_SHARE = Working(
    i2t_share,
    "W_c/W_w",
    {
        "W_c": Symbol("let_through", "A^2.s", 1.0, 1e7, "I2t let through"),
        "W_w": Symbol("withstand", "A^2.s", 1e3, 1e9, "I2t withstood"),
    },
    Symbol("i2t_share", "1", 0.0, 1e6, "let-through over withstand", "fraction"),
    (_I2T,),
    "no heat leaves while the fuse opens",
    "",
)

DISCRIMINATION_RATIO = Working(
    discrimination_ratio,
    "W_c/W_p",
    {
        "W_c": Symbol("branch_clearing_i2t", "A^2.s", 1.0, 1e7, "clearing I2t of the branch fuse"),
        "W_p": Symbol("main_pre_arcing_i2t", "A^2.s", 1.0, 1e7, "pre-arcing I2t of the main fuse"),
    },
    Symbol("discrimination_ratio", "1", 0.0, 1e6, "branch clearing over main melting", "fraction"),
    (_I2T,),
    "the same current flows through both; the main fuse is cold",
    "what the main fuse carries for other branches",
)

WORKINGS: tuple[Working, ...] = (
    AMBIENT_FACTOR,
    LEAST_RATING,
    CONTINUOUS_CURRENT,
    COLD_RESISTANCE,
    PERMITTED_VOLTAGE,
    PULSE_SHARE,
    CLEARING_I2T,
    ARCING_TIME,
    I2T_SHARE,
    DISCRIMINATION_RATIO,
)
