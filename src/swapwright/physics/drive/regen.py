"""Regeneration: what a torque limit lets the motor take of the braking."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def regen_force_limit(*, wheel_torque: float, radius: float) -> float:
    """Return the braking force a torque limit at the wheels allows.

    wheel_torque: limit at all driven wheels together [N.m]
    radius: dynamic rolling radius [m]
    result: force [N]
    source: definition-gear-ratio
    """
    return wheel_torque / radius


REGEN_FORCE_LIMIT = Working(
    regen_force_limit,
    "T_w / r",
    {
        "T_w": Symbol("wheel_torque", "N.m", 10.0, 5000.0, "wheel torque limit"),
        "r": Symbol("radius", "m", 0.2, 0.5, "dynamic rolling radius"),
    },
    Symbol("regen_force_limit", "N", 0.0, 25e3, "regeneration force limit"),
    ("definition-gear-ratio",),
    "",
    "tyre grip",
)

WORKINGS: tuple[Working, ...] = (REGEN_FORCE_LIMIT,)
