"""What is left of a rating once the coolant comes hotter than the rating was given at."""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working


def power_at_coolant(
    *, power: float, max_temperature: float, rated_coolant: float, coolant: float, ambient: float
) -> float:
    """Return the power a part holds for good on coolant that its own heat warms.

    The part is as far above its coolant, and its coolant as far above the air, as the loss is
    large; with loss as the square of the power the limit of the part gives the power. Coolant that
    comes no hotter than at the rating takes nothing away, and adds nothing that a sheet promises.

    power: rating [W]
    max_temperature: of the part [K]
    rated_coolant: that comes in, at which the rating is given, below the limit [K]
    coolant: that comes in once the rating is held for good [K]
    ambient: of the air, below the limit [K]
    result: [W]
    source: iec-60034-1-ambient, losses that go with the square of the power
    """
    left = (max_temperature - ambient) / (max_temperature - rated_coolant + coolant - ambient)
    return power * sqrt(min(1.0, left))


POWER_AT_COOLANT = Working(
    power_at_coolant,
    "P*sqrt(Min(1, (T_m - T_a)/(T_m - T_r + T_i - T_a)))",
    {
        "P": Symbol("power", "W", 1e3, 3e5, "rating", "power"),
        "T_m": Symbol("max_temperature", "K", 350.0, 480.0, "limit of the part", "temperature"),
        "T_r": Symbol("rated_coolant", "K", 283.15, 345.0, "coolant of the rating", "temperature"),
        "T_i": Symbol("coolant", "K", 283.15, 373.15, "coolant that comes in", "temperature"),
        "T_a": Symbol("ambient", "K", 253.15, 323.15, "air", "temperature"),
    },
    Symbol("P_l", "W", 0.0, 5e5, "power that lasts", "power"),
    ("iec-60034-1-ambient",),
    "loss goes with the square of power, in this part and in those before it",
    "iron and drag loss, which do not fall with power",
    "T_i - T_a > 0",
)

WORKINGS: tuple[Working, ...] = (POWER_AT_COOLANT,)
