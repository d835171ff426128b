"""Regeneration: what the motor may take of the braking, and what comes back."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working

# Regeneration starts to fade at one and a half times the fade speed and is gone at half of it
# (regen-fade-assumed).
FADE_WIDTH = 0.5


def regen_fade(*, speed: float, fade_speed: float) -> float:
    """Return the share of regeneration left as the car slows to rest.

    speed: road speed [m/s]
    fade_speed: where half is left [m/s]
    result: 1 at one and a half times the fade speed, 0 at half of it, straight between [1]
    source: regen-fade-assumed
    """
    return max(0.0, min(1.0, speed / fade_speed - FADE_WIDTH))


def regen_force_limit(*, wheel_torque: float, radius: float) -> float:
    """Return the braking force a torque limit at the wheels allows.

    wheel_torque: limit at all driven wheels together [N.m]
    radius: dynamic rolling radius [m]
    result: force [N]
    source: definition-gear-ratio
    """
    return wheel_torque / radius


def regen_force(*, braking: float, share: float, force_limit: float, fade: float) -> float:
    """Return the braking force the motor takes.

    braking: whole braking force, as a magnitude [N]
    share: share the motor may take [1]
    force_limit: most it may take at the road [N]
    fade: share left at this speed [1]
    result: force, as a magnitude [N]
    source: regen-blending-form
    """
    return min(share * braking, force_limit) * fade


def returned_energy(*, braking_energy: float, caught_share: float, efficiency: float) -> float:
    """Return the energy that braking puts back into the battery.

    braking_energy: at the wheels, over a distance or a cycle [J]
    caught_share: share of it the motor takes [1]
    efficiency: wheels to battery terminals [1]
    result: energy [J]
    source: energy-decomposition
    """
    return braking_energy * caught_share * efficiency


_SPEED = Symbol("speed", "m/s", 0.0, 40.0, "road speed")

REGEN_FADE = Working(
    regen_fade,
    "Max(0, Min(1, v / v_f - 0.5))",
    {"v": _SPEED, "v_f": Symbol("fade_speed", "m/s", 0.5, 10.0, "fade speed")},
    Symbol("regen_fade", "1", 0.0, 1.0, "share of regeneration left", "fraction"),
    ("regen-fade-assumed",),
    "fades in a straight line",
    "a maker's own curve",
)

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

REGEN_FORCE = Working(
    regen_force,
    "Min(s * F, F_max) * f",
    {
        "s": Symbol("share", "1", 0.0, 1.0, "share of the braking", "fraction"),
        "F": Symbol("braking", "N", 0.0, 1e4, "braking force"),
        "F_max": Symbol("force_limit", "N", 0.0, 1e4, "force limit"),
        "f": Symbol("fade", "1", 0.0, 1.0, "fade", "fraction"),
    },
    Symbol("regen_force", "N", 0.0, 1e4, "regeneration force"),
    ("regen-blending-form",),
    "friction brakes give the rest",
    "a battery too full or too cold to take it",
)

RETURNED_ENERGY = Working(
    returned_energy,
    "E_b * f * eta",
    {
        "E_b": Symbol("braking_energy", "J", 1e3, 1e8, "braking energy at the wheels"),
        "f": Symbol("caught_share", "1", 0.0, 1.0, "share caught", "fraction"),
        "eta": Symbol("efficiency", "1", 0.0, 1.0, "return efficiency", "fraction"),
    },
    Symbol("returned_energy", "J", 0.0, 1e8, "energy returned"),
    ("energy-decomposition",),
    "one mean efficiency for the whole cycle",
    "limits of the battery",
)

WORKINGS: tuple[Working, ...] = (
    REGEN_FADE,
    REGEN_FORCE_LIMIT,
    REGEN_FORCE,
    RETURNED_ENERGY,
)
