"""Heat of the brakes: one stop, and a hill driven down with nothing else to hold the car."""

from __future__ import annotations

import math

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol


def stop_energy(*, mass: float, speed: float) -> float:
    """Return what the brakes take up in one stop.

    mass: [kg]
    speed: [m/s]
    result: [J]
    source: the definition of kinetic energy
    """
    return mass * speed * speed / 2.0


def stop_rise(*, energy: float, share: float, rotor_mass: float, specific_heat: float) -> float:
    """Return how much hotter one brake of an axle gets in one stop.

    energy: of the car [J]
    share: of the braking at this axle [1]
    rotor_mass: disc or drum of one wheel [kg]
    specific_heat: of its iron [J/kg/K]
    result: [K]
    source: Limpert 1999, chapter 3, single stop, from memory
    """
    return energy * share / (2.0 * rotor_mass * specific_heat)


def descent_power(*, grade_force: float, road_load: float, speed: float) -> float:
    """Return what has to be held back to drive down a hill at a steady speed.

    grade_force: pull of the hill [N]
    road_load: rolling and air resistance at that speed [N]
    speed: [m/s]
    result: zero where the hill does not even keep the car going [W]
    source: balance of forces
    """
    return max(0.0, grade_force - road_load) * speed


def descent_temperature(
    *,
    ambient: float,
    power: float,
    share: float,
    conductance: float,
    time: float,
    rotor_mass: float,
    specific_heat: float,
) -> float:
    """Return how hot one brake of an axle gets on a hill driven down on the brakes alone.

    ambient: [K]
    power: to be held back of the whole car [W]
    share: of the braking at this axle [1]
    conductance: from one disc or drum to the air [W/K]
    time: [s]
    rotor_mass: disc or drum of one wheel [kg]
    specific_heat: of its iron [J/kg/K]
    result: [K]
    source: Limpert 1999, chapter 3, continued braking, one lumped mass, from memory
    """
    settled = power * share / (2.0 * conductance)
    return ambient + settled * (1.0 - math.exp(-time * conductance / (rotor_mass * specific_heat)))


_HEAT = ("limpert-1999-ch3-brake-heat",)
_SHARE = Symbol("share", "1", 0.05, 0.95, "share of the braking at this axle", "fraction")
_ROTOR = Symbol("rotor_mass", "kg", 1.0, 20.0, "disc or drum of one wheel", "mass")
_CP = Symbol("specific_heat", "J/kg/K", 400.0, 600.0, "specific heat of the iron", "specific_heat")
_ONE_MASS = "all heat goes into the disc or drum, which is of one temperature"

STOP_ENERGY = Working(
    stop_energy,
    "m*v**2/2",
    {"m": symbol.MASS, "v": symbol.SPEED},
    Symbol("E", "J", 0.0, 1e7, "energy of one stop", "energy"),
    ("mechanics-definitions",),
    "from this speed to rest, by the brakes alone",
    "turning parts, resistances and regeneration, each a few per cent",
)

STOP_RISE = Working(
    stop_rise,
    "E*phi/(2*m_r*c)",
    {
        "E": Symbol("energy", "J", 1e3, 1e7, "energy of one stop", "energy"),
        "phi": _SHARE,
        "m_r": _ROTOR,
        "c": _CP,
    },
    Symbol("dT", "K", 0.0, 1e5, "rise of a brake's temperature", "temperature_difference"),
    _HEAT,
    _ONE_MASS,
    "the face, which is hotter for seconds; cooling during the stop",
)

DESCENT_POWER = Working(
    descent_power,
    "Max(0, F_g - F_r)*v",
    {
        "F_g": Symbol("grade_force", "N", 0.0, 8000.0, "pull of the hill", "force"),
        "F_r": Symbol("road_load", "N", 50.0, 3000.0, "road load", "force"),
        "v": symbol.SPEED,
    },
    Symbol("P", "W", 0.0, 1e6, "power to hold back", "power"),
    ("mechanics-definitions",),
    "steady speed, no regeneration (a full pack takes none)",
    "drag of the motor and gears",
)

DESCENT_TEMPERATURE = Working(
    descent_temperature,
    "T_a + P*phi/(2*G)*(1 - exp(-t*G/(m_r*c)))",
    {
        "T_a": Symbol("ambient", "K", 250.0, 320.0, "air temperature", "temperature"),
        "P": Symbol("power", "W", 0.0, 1e5, "power to hold back", "power"),
        "phi": _SHARE,
        "G": Symbol("conductance", "W/K", 1.0, 50.0, "heat to the air", "thermal_conductance"),
        "t": Symbol("time", "s", 1.0, 7200.0, "time", "time"),
        "m_r": _ROTOR,
        "c": _CP,
    },
    Symbol("T", "K", 200.0, 1e5, "temperature of a brake", "temperature"),
    _HEAT,
    f"{_ONE_MASS}; cold at the top",
    "brakes already hot, wind shut off by wheel covers, radiation when glowing",
)

WORKINGS: tuple[Working, ...] = (STOP_ENERGY, STOP_RISE, DESCENT_POWER, DESCENT_TEMPERATURE)
