"""The pedal: what part of the torque the controller allows a force at the road takes."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def allowed_force(
    *, force: float, gear_share: float, charge_share: float, cell_share: float
) -> float:
    """Return the force at the road of all the torque the controller allows in a gear.

    force: at the torque limit of motor, inverter and gearbox in that gear [N]
    gear_share, charge_share, cell_share: share of the torque allowed by gear, by state of charge
        and by cell temperature [1]
    result: force at the road, the gears' drag not yet taken off [N]
    source: swapwright-controller-shares
    """
    return force * gear_share * charge_share * cell_share


def torque_share(*, force: float, drag: float, allowed: float) -> float:
    """Return the share of the allowed torque that a force at the road takes.

    force: at the road [N]
    drag: the gears' own drag, as a force at the road [N]
    allowed: force at the road of all the allowed torque [N]
    result: share, above 1 where the force is more than is allowed [1]
    source: swapwright-controller-shares
    """
    return (force + drag) / allowed


_SOURCES = ("swapwright-controller-shares",)

ALLOWED_FORCE = Working(
    allowed_force,
    "F_t*s_g*s_q*s_T",
    {
        "F_t": Symbol("force", "N", 200.0, 20000.0, "force at the torque limit", "force"),
        "s_g": Symbol("gear_share", "1", 0.05, 1.0, "share allowed in the gear", "fraction"),
        "s_q": Symbol("charge_share", "1", 0.05, 1.0, "share allowed by charge", "fraction"),
        "s_T": Symbol("cell_share", "1", 0.05, 1.0, "share allowed by cell warmth", "fraction"),
    },
    Symbol("F_a", "N", 0.0, 20000.0, "force at the road the controller allows", "force"),
    _SOURCES,
    "shares of several limits multiply, each of them of the torque limit",
    "what voltage and power leave of the torque above base speed",
)

TORQUE_SHARE = Working(
    torque_share,
    "(F + F_d)/F_a",
    {
        "F": Symbol("force", "N", 0.0, 8000.0, "force at the road", "force"),
        "F_d": Symbol("drag", "N", 0.0, 200.0, "the gears' drag", "force"),
        "F_a": Symbol("allowed", "N", 200.0, 20000.0, "force the controller allows", "force"),
    },
    Symbol("s", "1", 0.0, 10.0, "share of the allowed torque", "fraction"),
    _SOURCES,
    "all motors are asked for the same share of theirs",
    "what voltage and power leave of the torque above base speed",
)

WORKINGS: tuple[Working, ...] = (ALLOWED_FORCE, TORQUE_SHARE)
