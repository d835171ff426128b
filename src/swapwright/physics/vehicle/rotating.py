"""Rotating masses: what wheels and motor add when the car gains speed."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol


def rotating_factor(*, wheel_inertia: float, mass: float, radius: float) -> float:
    """Return effective mass over mass from the wheels alone.

    wheel_inertia: of all wheels together [kg.m^2]
    mass: [kg]
    radius: rolling radius [m]
    result: [1]
    source: Gillespie 1992, chapter 2, from memory
    """
    return 1.0 + wheel_inertia / (mass * radius**2)


def effective_mass(*, mass: float, rotating_factor: float, reflected_mass: float) -> float:
    """Return the mass the tractive force has to accelerate.

    mass: [kg]
    rotating_factor: of wheels and shafts, without the motor [1]
    reflected_mass: [kg]
    result: [kg]
    source: Gillespie 1992, chapter 2, from memory
    """
    return mass * rotating_factor + reflected_mass


_SOURCES = ("gillespie-1992-ch2",)
_REFLECTED = Symbol("reflected_mass", "kg", 0.0, 400.0, "mass the motor's inertia adds", "mass")
_FACTOR = Symbol("rotating_factor", "1", 1.0, 1.2, "rotating mass factor", "ratio")

ROTATING_FACTOR = Working(
    rotating_factor,
    "1 + I_w/(m*r**2)",
    {
        "I_w": Symbol("wheel_inertia", "kg.m^2", 1.0, 20.0, "inertia of all wheels", "inertia"),
        "m": symbol.MASS,
        "r": symbol.RADIUS,
    },
    Symbol("f", "1", 1.0, 1.5, "rotating mass factor", "ratio"),
    _SOURCES,
    "wheels roll without slip",
    "shafts, brakes and motor",
)

EFFECTIVE_MASS = Working(
    effective_mass,
    "m*f + m_m",
    {"m": symbol.MASS, "f": _FACTOR, "m_m": _REFLECTED},
    Symbol("m_e", "kg", 300.0, 7000.0, "effective mass", "mass"),
    _SOURCES,
    "motor and wheels turn with the car",
    "a slipping clutch or spinning wheel",
)

WORKINGS: tuple[Working, ...] = (ROTATING_FACTOR, EFFECTIVE_MASS)
