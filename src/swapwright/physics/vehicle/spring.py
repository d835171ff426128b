"""Springs: how far an axle sits lower, and the rate that puts it back."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def ride_drop(
    *, load: float, load_before: float, spring_rate: float, gravity: float = GRAVITY.si
) -> float:
    """Return how far an axle sits lower than before, on the springs it has.

    load, load_before: of the axle [kg]
    spring_rate: at each wheel [N/m]
    gravity: [m/s^2]
    result: negative where it sits higher [m]
    source: Gillespie 1992, chapter 5, suspension, Hooke's law, from memory
    """
    return (load - load_before) * gravity / (2.0 * spring_rate)


def ride_change(*, drop: float) -> float:
    """Return how far ride height moves, up or down.

    drop: [m]
    result: [m]
    source: the definition of an absolute value
    """
    return abs(drop)


def restoring_rate(*, spring_rate: float, load: float, load_before: float) -> float:
    """Return the spring rate that holds the old ride height and the old bounce under a new load.

    spring_rate: at each wheel, as it is [N/m]
    load, load_before: of the axle [kg]
    result: [N/m]
    source: Gillespie 1992, chapter 5, ride rate and static deflection, from memory
    """
    return spring_rate * load / load_before


_RIDE = ("gillespie-1992-ch5-ride-rate",)
_LOAD = Symbol("load", "kg", 50.0, 4000.0, "axle load", "mass")
_BEFORE = Symbol("load_before", "kg", 50.0, 4000.0, "axle load before", "mass")
_RATE = Symbol("spring_rate", "N/m", 3e3, 3e5, "spring rate at the wheel", "spring_rate")

RIDE_DROP = Working(
    ride_drop,
    "(m - m_b)*g/(2*k)",
    {"m": _LOAD, "m_b": _BEFORE, "g": symbol.GRAVITY, "k": _RATE},
    Symbol("d", "m", -3.0, 3.0, "drop of the ride height", "position"),
    _RIDE,
    "springs with one rate over this travel, two wheels on the axle",
    "bump stops, sagged springs, friction of the leaves",
)

RIDE_CHANGE = Working(
    ride_change,
    "Abs(d)",
    {"d": Symbol("drop", "m", -0.3, 0.3, "drop of the ride height", "position")},
    Symbol("c", "m", 0.0, 0.3, "change of the ride height", "length"),
    ("mechanics-definitions",),
    "car level and at rest",
    "one side alone",
)

RESTORING_RATE = Working(
    restoring_rate,
    "k*m/m_b",
    {"k": _RATE, "m": _LOAD, "m_b": _BEFORE},
    Symbol("k_n", "N/m", 0.0, 1e7, "spring rate that restores the height", "spring_rate"),
    _RIDE,
    "springs with one rate over this travel; the wheels' own mass left out of neither load",
    "dampers, which have to follow; rates above which a car rides harshly",
)

WORKINGS: tuple[Working, ...] = (RIDE_DROP, RIDE_CHANGE, RESTORING_RATE)
