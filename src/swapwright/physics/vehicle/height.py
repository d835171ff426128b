"""Height of the centre of gravity, and the sideways pull at which a car rolls over."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol


def height_moment(*, mass: float, height: float) -> float:
    """Return the moment of one mass about the road.

    mass: [kg]
    height: of its centre of gravity above the road [m]
    result: [kg.m]
    source: Gillespie 1992, chapter 1, moments, from memory
    """
    return mass * height


def cg_height(*, moment: float, mass: float) -> float:
    """Return the height of the centre of gravity from the moments of all masses.

    moment: of all masses about the road [kg.m]
    mass: of the whole car [kg]
    result: [m]
    source: Gillespie 1992, chapter 1, moments, from memory
    """
    return moment / mass


def rollover_threshold(*, track: float, cg_height: float) -> float:
    """Return the sideways acceleration over gravity at which a rigid car begins to roll over.

    track: [m]
    cg_height: [m]
    result: [1]
    source: Gillespie 1992, chapter 9, quasi-static rollover of a rigid vehicle, from memory
    """
    return track / (2.0 * cg_height)


_ROWS = ("gillespie-1992-ch1-axle-loads",)
_MOMENT = Symbol("moment", "kg.m", 50.0, 5000.0, "moment about the road", "mass_moment")

HEIGHT_MOMENT = Working(
    height_moment,
    "m*z",
    {
        "m": Symbol("mass", "kg", 0.0, 5000.0, "mass", "mass"),
        "z": Symbol("height", "m", 0.0, 3.0, "height above the road", "length"),
    },
    Symbol("M", "kg.m", 0.0, 15000.0, "moment about the road", "mass_moment"),
    _ROWS,
    "car level and at rest; springs do not settle",
    "how far the body sits lower on its springs",
)

CG_HEIGHT = Working(
    cg_height,
    "M/m",
    {"M": _MOMENT, "m": symbol.MASS},
    Symbol("h", "m", 0.0, 20.0, "height of the centre of gravity", "length"),
    _ROWS,
    "car level and at rest; springs do not settle",
    "how far the body sits lower on its springs",
)

ROLLOVER_THRESHOLD = Working(
    rollover_threshold,
    "t/(2*h)",
    {
        "t": Symbol("track", "m", 0.5, 3.0, "track", "length"),
        "h": symbol.CG_HEIGHT,
    },
    Symbol("n", "1", 0.0, 6.0, "sideways acceleration over gravity that rolls it", "over_gravity"),
    ("gillespie-1992-ch9-rollover",),
    "a rigid car on a level road, slowly pulled sideways",
    "roll on the springs, tyres that give way, kerbs and soft ground: each lowers it",
)

WORKINGS: tuple[Working, ...] = (HEIGHT_MOMENT, CG_HEIGHT, ROLLOVER_THRESHOLD)
