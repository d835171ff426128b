"""Modules measured one by one: what a share, a string and strings side by side come to."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def measured_share(*, measured: float, rated: float) -> float:
    """Return a measured capacity over the rated one.

    measured, rated: [C]
    result: [1]
    source: the definition of a share
    """
    return measured / rated


def least_allowed(*, rated: float, share: float) -> float:
    """Return the least capacity a module is taken with.

    rated: [C]
    share: of it that has to be left [1]
    result: [C]
    source: the definition of a share
    """
    return rated * share


def resistance_allowed(*, middle: float, ratio: float) -> float:
    """Return the most resistance a module is taken with among others.

    middle: resistance of the middle one [ohm]
    ratio: most of it that is taken [1]
    result: [ohm]
    source: the definition of a ratio
    """
    return middle * ratio


def conductance(*, resistance: float) -> float:
    """Return the conductance of a resistance.

    resistance: [ohm]
    result: [1/ohm]
    source: the definition of conductance
    """
    return 1.0 / resistance


def resistance_of(*, conductance: float) -> float:
    """Return the resistance of a conductance.

    conductance: of all that stand side by side [1/ohm]
    result: [ohm]
    source: the definition of conductance
    """
    return 1.0 / conductance


def string_current(*, current: float, conductance: float, conductance_of_all: float) -> float:
    """Return what one of several strings side by side carries of the pack's current.

    current: of the pack [A]
    conductance: of this string [1/ohm]
    conductance_of_all: of all strings together [1/ohm]
    result: [A]
    source: Kirchhoff's laws, a current divider
    """
    return current * conductance / conductance_of_all


def spread_per_cell(*, spread: float, series: float) -> float:
    """Return a spread of module voltages as that of one cell in each.

    spread: of the modules' open voltages [V]
    series: cells in series in a module [1]
    result: [V]
    source: definition-series-parallel
    """
    return spread / series


_DEFINED = ("definition-series-parallel",)
_KIRCHHOFF = ("kirchhoff-current-law",)
_RESISTANCE = Symbol("resistance", "ohm", 1e-4, 1.0, "resistance", "resistance")


def _conductance(argument: str, label: str, low: float, high: float) -> Symbol:
    return Symbol(argument, "1/ohm", low, high, label, "conductance")


MEASURED_SHARE = Working(
    measured_share,
    "Q_m/Q",
    {
        "Q_m": Symbol("measured", "C", 1e3, 1e7, "measured capacity", "charge"),
        "Q": Symbol("rated", "C", 1e3, 1e7, "rated capacity", "charge"),
    },
    Symbol("h", "1", 0.0, 1e4, "measured over rated capacity", "fraction"),
    _DEFINED,
    "measured as the rating was: the same current and temperature, full to empty",
    "what ageing takes from now on",
)

LEAST_ALLOWED = Working(
    least_allowed,
    "Q*q",
    {
        "Q": Symbol("rated", "C", 1e3, 1e7, "rated capacity", "charge"),
        "q": Symbol("share", "1", 0.5, 1.0, "share that has to be left", "fraction"),
    },
    Symbol("Q_min", "C", 0.0, 1e7, "least capacity taken", "charge"),
    _DEFINED,
    "measured as the rating was: the same current and temperature, full to empty",
    "what ageing takes from now on",
)

RESISTANCE_ALLOWED = Working(
    resistance_allowed,
    "R_mid*s",
    {
        "R_mid": Symbol("middle", "ohm", 1e-5, 1.0, "middle resistance", "resistance"),
        "s": Symbol("ratio", "1", 1.0, 2.0, "most over the middle one", "ratio"),
    },
    Symbol("R_max", "ohm", 0.0, 2.0, "most resistance taken", "resistance"),
    _DEFINED,
    "all measured at one temperature and state of charge",
    "a joint that was loose while measuring",
)

CONDUCTANCE = Working(
    conductance,
    "1/R",
    {"R": _RESISTANCE},
    Symbol("G", "1/ohm", 0.0, 1e5, "conductance", "conductance"),
    _DEFINED,
    "one temperature and state of charge",
    "how it changes with them",
)

RESISTANCE_OF = Working(
    resistance_of,
    "1/G",
    {"G": _conductance("conductance", "conductance of all", 1.0, 1e5)},
    Symbol("R", "ohm", 0.0, 1.0, "resistance", "resistance"),
    _DEFINED,
    "one temperature and state of charge",
    "how it changes with them",
)

STRING_CURRENT = Working(
    string_current,
    "I*G_s/G",
    {
        "I": Symbol("current", "A", 1.0, 2000.0, "pack current", "current"),
        "G_s": _conductance("conductance", "conductance of this string", 0.5, 200.0),
        "G": _conductance("conductance_of_all", "conductance of all strings", 0.5, 2000.0),
    },
    Symbol("I_s", "A", 0.0, 1e6, "current of this string", "current"),
    _KIRCHHOFF,
    "strings at the same rest voltage, just after the current began",
    "how strings of unlike charge or warmth share later on",
)

SPREAD_PER_CELL = Working(
    spread_per_cell,
    "dV/n",
    {
        "dV": Symbol("spread", "V", 0.0, 10.0, "spread of module voltages", "voltage"),
        "n": Symbol("series", "1", 1.0, 100.0, "cells in series in a module", "count"),
    },
    Symbol("dv", "V", 0.0, 10.0, "spread as one cell sees it", "voltage"),
    _DEFINED,
    "the cells of one module are alike",
    "one bad cell in a module, which only its own voltage shows",
)

WORKINGS: tuple[Working, ...] = (
    SPREAD_PER_CELL,
    MEASURED_SHARE,
    LEAST_ALLOWED,
    RESISTANCE_ALLOWED,
    CONDUCTANCE,
    RESISTANCE_OF,
    STRING_CURRENT,
)
