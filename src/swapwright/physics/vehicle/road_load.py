"""Road load: rolling, air and grade forces, and the three-term form of a coast-down."""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def rolling_force(*, c_rr: float, mass: float, grade: float, gravity: float = GRAVITY.si) -> float:
    """Return the rolling resistance of the whole car.

    c_rr: rolling resistance coefficient [1]
    mass: [kg]
    grade: rise over run [1]
    gravity: [m/s^2]
    result: [N]
    source: Gillespie 1992, chapter 4, from memory
    """
    return c_rr * mass * gravity / sqrt(1.0 + grade * grade)


def aerodynamic_force(*, density: float, cd_a: float, speed: float, headwind: float) -> float:
    """Return the air's resistance.

    density: [kg/m^3]
    cd_a: drag area [m^2]
    speed: over the road [m/s]
    headwind: [m/s]
    result: negative where a tailwind outruns the car [N]
    source: Gillespie 1992, chapter 4, from memory
    """
    relative = speed + headwind
    return 0.5 * density * cd_a * relative * abs(relative)


def grade_force(*, mass: float, grade: float, gravity: float = GRAVITY.si) -> float:
    """Return the pull of gravity down a grade.

    mass: [kg]
    grade: rise over run [1]
    gravity: [m/s^2]
    result: uphill is positive [N]
    source: Gillespie 1992, chapter 4, from memory
    """
    return mass * gravity * grade / sqrt(1.0 + grade * grade)


def road_load(*, a: float, b: float, c: float, speed: float, headwind: float) -> float:
    """Return the level road load in the three-term form.

    a: [N]
    b: [N/(m/s)]
    c: [N/(m/s)^2]
    speed: [m/s]
    headwind: acting on the third term [m/s]
    result: [N]
    source: SAE J2263, three-term road load force
    """
    relative = speed + headwind
    return a + b * speed + c * relative * abs(relative)


def road_load_a(*, c_rr: float, mass: float, gravity: float = GRAVITY.si) -> float:
    """Return coefficient A of a car known by its tyres.

    c_rr: [1]
    mass: [kg]
    gravity: [m/s^2]
    result: [N]
    source: Gillespie 1992, chapter 4, from memory
    """
    return c_rr * mass * gravity


def road_load_c(*, density: float, cd_a: float) -> float:
    """Return coefficient C of a car known by its drag area.

    density: [kg/m^3]
    cd_a: [m^2]
    result: [N/(m/s)^2]
    source: Gillespie 1992, chapter 4, from memory
    """
    return 0.5 * density * cd_a


def apparent_rolling_coefficient(*, a: float, mass: float, gravity: float = GRAVITY.si) -> float:
    """Return the rolling coefficient that coefficient A amounts to.

    It also holds bearing and brake drag, so it is no tyre maker's number.

    a: [N]
    mass: as tested [kg]
    gravity: [m/s^2]
    result: [1]
    source: Gillespie 1992, chapter 4, from memory
    """
    return a / (mass * gravity)


def apparent_drag_area(*, c: float, density: float) -> float:
    """Return the drag area that coefficient C amounts to.

    It also holds tyre losses that grow with speed, so it is no wind tunnel's number.

    c: [N/(m/s)^2]
    density: of the air C belongs to [kg/m^3]
    result: [m^2]
    source: Gillespie 1992, chapter 4, from memory
    """
    return 2.0 * c / density


def road_load_a_at_mass(*, a: float, mass: float, test_mass: float) -> float:
    """Return coefficient A carried over to another mass.

    Rolling resistance goes with load.

    a: at test_mass [N]
    mass: [kg]
    test_mass: [kg]
    result: [N]
    source: Gillespie 1992, chapter 4, from memory
    """
    return a * mass / test_mass


def road_load_a_at_temperature(
    *, a: float, temperature: float, reference_temperature: float, temperature_factor: float
) -> float:
    """Return coefficient A at an ambient temperature from A at the reference temperature.

    a: at reference_temperature [N]
    temperature, reference_temperature: of the air [K]
    temperature_factor: fall of rolling resistance with warmth [1/K]
    result: [N]
    source: SAE J1263, correction of rolling resistance, solved for ambient, from memory
    """
    return a / (1.0 + temperature_factor * (temperature - reference_temperature))


def road_load_c_at_density(*, c: float, density: float, test_density: float) -> float:
    """Return coefficient C carried over to another air density.

    c: at test_density [N/(m/s)^2]
    density, test_density: [kg/m^3]
    result: [N/(m/s)^2]
    source: 40 CFR 1066.310, density terms of the correction
    """
    return c * density / test_density


def power_at_speed(*, force: float, speed: float) -> float:
    """Return the power that moves a force at a speed.

    force: [N]
    speed: [m/s]
    result: [W]
    source: the definition of power
    """
    return force * speed


_GILLESPIE = ("gillespie-1992-ch4",)
_TEST_MASS = Symbol("test_mass", "kg", 300.0, 5000.0, "mass as tested", "mass")
_TEST_DENSITY = Symbol("test_density", "kg/m^3", 0.6, 1.5, "air density as tested", "density")
_TEMPERATURE = Symbol("temperature", "K", 253.0, 318.0, "air temperature", "temperature")
_REFERENCE = Symbol(
    "reference_temperature", "K", 288.0, 298.0, "reference air temperature", "temperature"
)
_FACTOR = Symbol(
    "temperature_factor", "1/K", 0.004, 0.012, "fall of rolling resistance with warmth"
)
_A = Symbol("A_t", "N", 0.0, 2000.0, "road load coefficient A", "force")
_C = Symbol("C_t", "N/(m/s)^2", 0.0, 10.0, "road load coefficient C", "force_per_speed_square")

ROLLING_FORCE = Working(
    rolling_force,
    "c_rr*m*g/sqrt(1 + s**2)",
    {"c_rr": symbol.ROLLING_COEFFICIENT, "m": symbol.MASS, "g": symbol.GRAVITY, "s": symbol.GRADE},
    Symbol("F_r", "N", 0.0, 2000.0, "rolling resistance", "force"),
    _GILLESPIE,
    "one coefficient for all tyres, the same at every speed",
    "cornering, soft ground, standing water, tyres below pressure",
)

AERODYNAMIC_FORCE = Working(
    aerodynamic_force,
    "rho*CdA*(v + w)*Abs(v + w)/2",
    {"rho": symbol.DENSITY, "CdA": symbol.DRAG_AREA, "v": symbol.SPEED, "w": symbol.HEADWIND},
    Symbol("F_a", "N", -1000.0, 8000.0, "air resistance", "force"),
    _GILLESPIE,
    "wind straight along the road; one drag area at every speed",
    "crosswind, open windows, roof loads, slipstream of other cars",
)

GRADE_FORCE = Working(
    grade_force,
    "m*g*s/sqrt(1 + s**2)",
    {"m": symbol.MASS, "g": symbol.GRAVITY, "s": symbol.GRADE},
    Symbol("F_g", "N", -3e4, 3e4, "grade resistance", "force"),
    _GILLESPIE,
    "an even grade",
    "curves and changes of grade",
)

ROAD_LOAD = Working(
    road_load,
    "A + B*v + C*(v + w)*Abs(v + w)",
    {
        "A": symbol.ROAD_LOAD_A,
        "B": symbol.ROAD_LOAD_B,
        "C": symbol.ROAD_LOAD_C,
        "v": symbol.SPEED,
        "w": symbol.HEADWIND,
    },
    Symbol("F", "N", -1000.0, 1e4, "level road load", "force"),
    ("sae-j2263-2008-three-term",),
    "coefficients at the day's air and mass; wind acts on the third term only",
    "grade, crosswind, wet road; speeds far outside the coast-down",
)

ROAD_LOAD_A = Working(
    road_load_a,
    "c_rr*m*g",
    {"c_rr": symbol.ROLLING_COEFFICIENT, "m": symbol.MASS, "g": symbol.GRAVITY},
    _A,
    _GILLESPIE,
    "rolling resistance does not change with speed",
    "drag of brakes and bearings",
)

ROAD_LOAD_C = Working(
    road_load_c,
    "rho*CdA/2",
    {"rho": symbol.DENSITY, "CdA": symbol.DRAG_AREA},
    _C,
    _GILLESPIE,
    "one drag area at every speed",
    "tyre losses that grow with speed",
)

APPARENT_ROLLING_COEFFICIENT = Working(
    apparent_rolling_coefficient,
    "A/(m*g)",
    {"A": symbol.ROAD_LOAD_A, "m": symbol.MASS, "g": symbol.GRAVITY},
    Symbol("c_rr", "1", 0.0, 0.1, "apparent rolling resistance coefficient", "ratio"),
    _GILLESPIE,
    "all of A is rolling resistance",
    "telling tyre losses from brake and bearing drag",
)

APPARENT_DRAG_AREA = Working(
    apparent_drag_area,
    "2*C/rho",
    {"C": symbol.ROAD_LOAD_C, "rho": symbol.DENSITY},
    Symbol("CdA", "m^2", 0.0, 10.0, "apparent drag area", "area"),
    _GILLESPIE,
    "all of C is air resistance",
    "telling air from tyre losses that grow with speed",
)

ROAD_LOAD_A_AT_MASS = Working(
    road_load_a_at_mass,
    "A*m/m_t",
    {"A": symbol.ROAD_LOAD_A, "m": symbol.MASS, "m_t": _TEST_MASS},
    _A,
    _GILLESPIE,
    "rolling resistance in proportion to load, tyres at the pressure the load asks for",
    "drag of brakes and bearings, which does not grow with load",
)

ROAD_LOAD_A_AT_TEMPERATURE = Working(
    road_load_a_at_temperature,
    "A/(1 + k*(T - T_r))",
    {"A": symbol.ROAD_LOAD_A, "k": _FACTOR, "T": _TEMPERATURE, "T_r": _REFERENCE},
    _A,
    ("sae-j1263-2010-rolling-correction",),
    "tyres and lubricants warmed through at this air temperature",
    "the first minutes from cold; the procedure holds from 5 to 35 degC, beyond is extrapolation",
)

ROAD_LOAD_C_AT_DENSITY = Working(
    road_load_c_at_density,
    "C*rho/rho_t",
    {"C": symbol.ROAD_LOAD_C, "rho": symbol.DENSITY, "rho_t": _TEST_DENSITY},
    _C,
    ("us-40cfr1066-310-correction",),
    "all of C is air resistance",
    "tyre losses that grow with speed",
)

POWER_AT_SPEED = Working(
    power_at_speed,
    "F*v",
    {"F": Symbol("force", "N", -2e4, 2e4, "force along the road", "force"), "v": symbol.SPEED},
    Symbol("P", "W", -1e6, 1e6, "power at the wheels", "power"),
    ("mechanics-definitions",),
    "steady speed",
    "gaining or losing speed",
)

WORKINGS: tuple[Working, ...] = (
    ROLLING_FORCE,
    AERODYNAMIC_FORCE,
    GRADE_FORCE,
    ROAD_LOAD,
    ROAD_LOAD_A,
    ROAD_LOAD_C,
    APPARENT_ROLLING_COEFFICIENT,
    APPARENT_DRAG_AREA,
    ROAD_LOAD_A_AT_MASS,
    ROAD_LOAD_A_AT_TEMPERATURE,
    ROAD_LOAD_C_AT_DENSITY,
    POWER_AT_SPEED,
)
