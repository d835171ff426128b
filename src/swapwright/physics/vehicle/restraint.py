"""Restraint of a pack box: what a crash asks of its mounting, and what its bolts hold."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def restraint_load(*, mass: float, acceleration: float) -> float:
    """Return the force with which a box pulls at its mounting.

    mass: [kg]
    acceleration: [m/s^2]
    result: [N]
    source: Newton's second law
    """
    return mass * acceleration


def bolts_in_shear(
    *, bolts: float, strength: float, area: float, factor: float, margin: float
) -> float:
    """Return the shear force a group of bolts holds, threads in the plane of shear.

    bolts: how many share the load alike [1]
    strength: nominal tensile strength of the bolts [Pa]
    area: tensile stress area of one bolt [m^2]
    factor: of shear over tension [1]
    margin: partial factor of the resistance [1]
    result: [N]
    source: EN 1993-1-8, table 3.4, from memory
    """
    return bolts * factor * strength * area / margin


RESTRAINT_LOAD = Working(
    restraint_load,
    "m*a",
    {
        "m": Symbol("mass", "kg", 1.0, 1500.0, "mass of the box", "mass"),
        "a": Symbol("acceleration", "m/s^2", 10.0, 300.0, "crash acceleration", "acceleration"),
    },
    Symbol("F", "N", 0.0, 5e5, "load on the mounting", "force"),
    ("mechanics-definitions",),
    "the box moves with the body as one piece",
    "the tipping of a tall box, which loads some bolts in tension",
)

BOLTS_IN_SHEAR = Working(
    bolts_in_shear,
    "n*alpha*f_ub*A_s/gamma",
    {
        "n": Symbol("bolts", "1", 1.0, 60.0, "bolts", "count"),
        "alpha": Symbol("factor", "1", 0.5, 0.6, "shear over tension", "ratio"),
        "f_ub": Symbol("strength", "Pa", 3e8, 1.3e9, "tensile strength of the bolt", "pressure"),
        "A_s": Symbol("area", "m^2", 1e-5, 5e-4, "stress area of one bolt", "area"),
        "gamma": Symbol("margin", "1", 1.0, 1.5, "partial factor", "ratio"),
    },
    Symbol("F_v", "N", 0.0, 3e7, "shear force the bolts hold", "force"),
    ("en-1993-1-8-table-3-4",),
    "every bolt carries the same share, in single shear through its threads",
    "the sheet metal, weld or rail the bolts go into, which often tears first; spreader plates",
)

WORKINGS: tuple[Working, ...] = (RESTRAINT_LOAD, BOLTS_IN_SHEAR)
