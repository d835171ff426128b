"""Traction: the force and the grade that grip allows, by driven axle."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def traction_limit_rear(
    *,
    grip: float,
    mass: float,
    cg_x: float,
    cg_height: float,
    wheelbase: float,
    gravity: float = GRAVITY.si,
) -> float:
    """Return the greatest force rear wheels can put down on the level.

    grip: [1]
    mass: [kg]
    cg_x: behind the front axle [m]
    cg_height: [m]
    wheelbase: [m]
    gravity: [m/s^2]
    result: [N]
    source: Gillespie 1992, chapter 2, traction-limited acceleration, from memory
    """
    return grip * mass * gravity * (cg_x / wheelbase) / (1.0 - grip * cg_height / wheelbase)


def traction_limit_front(
    *,
    grip: float,
    mass: float,
    cg_x: float,
    cg_height: float,
    wheelbase: float,
    gravity: float = GRAVITY.si,
) -> float:
    """Return the greatest force front wheels can put down on the level.

    grip: [1]
    mass: [kg]
    cg_x: behind the front axle [m]
    cg_height: [m]
    wheelbase: [m]
    gravity: [m/s^2]
    result: [N]
    source: Gillespie 1992, chapter 2, traction-limited acceleration, from memory
    """
    front = 1.0 - cg_x / wheelbase
    return grip * mass * gravity * front / (1.0 + grip * cg_height / wheelbase)


def traction_limit_all(*, grip: float, mass: float, gravity: float = GRAVITY.si) -> float:
    """Return the greatest force four driven wheels can put down on the level.

    grip: [1]
    mass: [kg]
    gravity: [m/s^2]
    result: [N]
    source: Gillespie 1992, chapter 2, traction-limited acceleration, from memory
    """
    return grip * mass * gravity


def start_grade_rear(
    *, grip: float, cg_x: float, cg_height: float, wheelbase: float, c_rr: float
) -> float:
    """Return the steepest grade rear wheels can grip on at a crawl, rise over run.

    grip: [1]
    cg_x: behind the front axle [m]
    cg_height: [m]
    wheelbase: [m]
    c_rr: rolling resistance coefficient [1]
    result: [1]
    source: Gillespie 1992, chapters 1 and 2, balance on a grade, from memory
    """
    return (grip * cg_x / wheelbase - c_rr) / (1.0 - grip * cg_height / wheelbase)


def start_grade_front(
    *, grip: float, cg_x: float, cg_height: float, wheelbase: float, c_rr: float
) -> float:
    """Return the steepest grade front wheels can grip on at a crawl, rise over run.

    grip: [1]
    cg_x: behind the front axle [m]
    cg_height: [m]
    wheelbase: [m]
    c_rr: rolling resistance coefficient [1]
    result: [1]
    source: Gillespie 1992, chapters 1 and 2, balance on a grade, from memory
    """
    return (grip * (1.0 - cg_x / wheelbase) - c_rr) / (1.0 + grip * cg_height / wheelbase)


def start_grade_all(*, grip: float, c_rr: float) -> float:
    """Return the steepest grade four driven wheels can grip on at a crawl, rise over run.

    grip: [1]
    c_rr: rolling resistance coefficient [1]
    result: [1]
    source: Gillespie 1992, chapters 1 and 2, balance on a grade, from memory
    """
    return grip - c_rr


_SOURCES = ("gillespie-1992-ch2",)
_ASSUMES = "level, straight, dry road; both wheels of the axle grip alike; a locked or equal split"
_NOT_COVERED = "an open differential on a solid axle, which gives less; air lift; spring travel"
_LIMIT = Symbol("F_t", "N", 0.0, 6e4, "traction limit", "force")
_START = Symbol("s", "1", -0.1, 2.0, "steepest grade the tyres grip on", "grade")
_GEOMETRY = {
    "mu": symbol.GRIP,
    "x": symbol.CG_X,
    "h": symbol.CG_HEIGHT,
    "L": symbol.WHEELBASE,
}

TRACTION_LIMIT_REAR = Working(
    traction_limit_rear,
    "mu*m*g*(x/L)/(1 - mu*h/L)",
    {**_GEOMETRY, "m": symbol.MASS, "g": symbol.GRAVITY},
    _LIMIT,
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
    valid="L > mu*h",
)

TRACTION_LIMIT_FRONT = Working(
    traction_limit_front,
    "mu*m*g*(1 - x/L)/(1 + mu*h/L)",
    {**_GEOMETRY, "m": symbol.MASS, "g": symbol.GRAVITY},
    _LIMIT,
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
)

TRACTION_LIMIT_ALL = Working(
    traction_limit_all,
    "mu*m*g",
    {"mu": symbol.GRIP, "m": symbol.MASS, "g": symbol.GRAVITY},
    _LIMIT,
    _SOURCES,
    "every wheel grips alike and gets the torque its load can use",
    _NOT_COVERED,
)

START_GRADE_REAR = Working(
    start_grade_rear,
    "(mu*x/L - c_rr)/(1 - mu*h/L)",
    {**_GEOMETRY, "c_rr": symbol.ROLLING_COEFFICIENT},
    _START,
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
    valid="L > mu*h",
)

START_GRADE_FRONT = Working(
    start_grade_front,
    "(mu*(1 - x/L) - c_rr)/(1 + mu*h/L)",
    {**_GEOMETRY, "c_rr": symbol.ROLLING_COEFFICIENT},
    _START,
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
)

START_GRADE_ALL = Working(
    start_grade_all,
    "mu - c_rr",
    {"mu": symbol.GRIP, "c_rr": symbol.ROLLING_COEFFICIENT},
    _START,
    _SOURCES,
    "every wheel grips alike and gets the torque its load can use",
    _NOT_COVERED,
)

WORKINGS: tuple[Working, ...] = (
    TRACTION_LIMIT_REAR,
    TRACTION_LIMIT_FRONT,
    TRACTION_LIMIT_ALL,
    START_GRADE_REAR,
    START_GRADE_FRONT,
    START_GRADE_ALL,
)
