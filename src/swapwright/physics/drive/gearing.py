"""Gears between motor and road: speeds, torques, forces and the inertia the road feels."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def overall_ratio(*, gearbox_ratio: float, final_drive: float) -> float:
    """Return the ratio from motor to wheels.

    gearbox_ratio: of the gear engaged [1]
    final_drive: [1]
    result: motor turns per wheel turn [1]
    source: definition-gear-ratio
    """
    return gearbox_ratio * final_drive


def road_speed(*, motor_speed: float, ratio: float, radius: float) -> float:
    """Return the road speed at a motor speed.

    motor_speed: [rad/s]
    ratio: motor turns per wheel turn [1]
    radius: dynamic rolling radius [m]
    result: road speed [m/s]
    source: definition-gear-ratio
    """
    return motor_speed * radius / ratio


def motor_speed(*, road_speed: float, ratio: float, radius: float) -> float:
    """Return the motor speed at a road speed.

    road_speed: [m/s]
    ratio: motor turns per wheel turn [1]
    radius: dynamic rolling radius [m]
    result: motor speed [rad/s]
    source: definition-gear-ratio
    """
    return road_speed * ratio / radius


def tractive_force(*, torque: float, ratio: float, efficiency: float, radius: float) -> float:
    """Return the force at the road of a motor torque, driving.

    torque: at the motor shaft [N.m]
    ratio: motor turns per wheel turn [1]
    efficiency: motor shaft to road [1]
    radius: dynamic rolling radius [m]
    result: force [N]
    source: gillespie-1992-ch2, from memory
    """
    return torque * ratio * efficiency / radius


def shaft_power_for_wheel(*, power: float, efficiency: float) -> float:
    """Return the motor power that puts a power on the road.

    power: at the road [W]
    efficiency: of the gears [1]
    result: power [W]
    source: definition-machine-efficiency
    """
    return power / efficiency


def reflected_mass(*, inertia: float, ratio: float, radius: float) -> float:
    """Return the mass a motor's inertia adds to the car through the gears.

    inertia: of the rotor and all that turns with it [kg.m^2]
    ratio: motor turns per wheel turn [1]
    radius: dynamic rolling radius [m]
    result: mass [kg]
    source: gillespie-1992-ch2, from memory
    """
    return inertia * ratio**2 / radius**2


_RATIO = Symbol("ratio", "1", 1.0, 30.0, "overall ratio, motor to wheel", "ratio")
_RADIUS = Symbol("radius", "m", 0.2, 0.5, "dynamic rolling radius")
_ETA = Symbol("efficiency", "1", 0.5, 1.0, "driveline efficiency", "fraction")
_TORQUE = Symbol("torque", "N.m", 10.0, 1000.0, "motor torque")
OVERALL_RATIO = Working(
    overall_ratio,
    "i_g * i_f",
    {
        "i_g": Symbol("gearbox_ratio", "1", 0.5, 15.0, "gear ratio", "ratio"),
        "i_f": Symbol("final_drive", "1", 0.5, 10.0, "final drive ratio", "ratio"),
    },
    Symbol("overall_ratio", "1", 0.0, 150.0, "overall ratio", "ratio"),
    ("definition-gear-ratio",),
    "",
    "",
)

ROAD_SPEED = Working(
    road_speed,
    "omega * r / i",
    {
        "omega": Symbol("motor_speed", "rad/s", 1.0, 2000.0, "motor speed"),
        "r": _RADIUS,
        "i": _RATIO,
    },
    Symbol("road_speed", "m/s", 0.0, 1000.0, "road speed"),
    ("definition-gear-ratio",),
    "no slip of tyres or clutch",
    "tyre growth at speed",
)

MOTOR_SPEED = Working(
    motor_speed,
    "v * i / r",
    {
        "v": Symbol("road_speed", "m/s", 0.1, 80.0, "road speed"),
        "i": _RATIO,
        "r": _RADIUS,
    },
    Symbol("motor_speed", "rad/s", 0.0, 2e4, "motor speed"),
    ("definition-gear-ratio",),
    "no slip of tyres or clutch",
    "tyre growth at speed",
)

TRACTIVE_FORCE = Working(
    tractive_force,
    "T * i * eta / r",
    {"T": _TORQUE, "i": _RATIO, "eta": _ETA, "r": _RADIUS},
    Symbol("tractive_force", "N", 0.0, 2e5, "tractive force"),
    ("gillespie-1992-ch2",),
    "steady speed",
    "tyre grip, rotating inertia",
)

REFLECTED_MASS = Working(
    reflected_mass,
    "J * i**2 / r**2",
    {
        "J": Symbol("inertia", "kg.m^2", 0.001, 1.0, "rotor inertia"),
        "i": _RATIO,
        "r": _RADIUS,
    },
    Symbol("reflected_mass", "kg", 0.0, 2e4, "mass equivalent of the motor's inertia"),
    ("gillespie-1992-ch2",),
    "rigid driveline",
    "",
)
SHAFT_POWER_FOR_WHEEL = Working(
    shaft_power_for_wheel,
    "P / eta",
    {
        "P": Symbol("power", "W", 100.0, 5e5, "power at the road"),
        "eta": Symbol("efficiency", "1", 0.7, 1.0, "efficiency of the gears", "fraction"),
    },
    Symbol("shaft_power_for_wheel", "W", 0.0, 1e6, "motor power"),
    ("definition-machine-efficiency",),
    "the same efficiency at every load",
    "drag of the gears at light load",
)

WORKINGS: tuple[Working, ...] = (
    OVERALL_RATIO,
    ROAD_SPEED,
    MOTOR_SPEED,
    TRACTIVE_FORCE,
    REFLECTED_MASS,
    SHAFT_POWER_FOR_WHEEL,
)
