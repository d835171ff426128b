"""Corner loads: what each wheel carries, from the four pads and the masses beside the middle."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def side_moment(*, axle_part: float, y: float) -> float:
    """Return the moment about the car's middle line of a mass's part on one axle.

    axle_part: what one axle carries of the mass [kg]
    y: right of the middle line [m]
    result: positive where the right wheel gains [kg.m]
    source: Gillespie 1992, chapter 1, moments, from memory
    """
    return axle_part * y


def corner_load(
    *,
    corner: float,
    axle_load: float,
    axle_before: float,
    moment: float,
    track: float,
    side: float,
) -> float:
    """Return the load on one wheel of an axle.

    corner: load on that wheel before the conversion [kg]
    axle_load: of the axle now [kg]
    axle_before: of the axle before [kg]
    moment: of what came and went, about the middle line [kg.m]
    track: [m]
    side: 1 for the right wheel, -1 for the left one [1]
    result: [kg]
    source: Gillespie 1992, chapter 1, moments, from memory
    """
    return corner + (axle_load - axle_before) / 2.0 + side * moment / track


def heavier(*, left: float, right: float) -> float:
    """Return the greater of two wheels' loads.

    left, right: [kg]
    result: [kg]
    source: the definition of a greatest value
    """
    return max(left, right)


def side_share(*, front: float, rear: float, mass: float) -> float:
    """Return the share of the car's mass on its heavier side.

    front, rear: loads of the right wheels [kg]
    mass: of the whole car [kg]
    result: [1]
    source: the definition of a share
    """
    right = (front + rear) / mass
    return max(right, 1.0 - right)


def pads_difference(*, pads: float, mass: float) -> float:
    """Return how far the sum of the pads is from the kerb mass, as a share of it.

    pads: sum of the four [kg]
    mass: of the car at the kerb [kg]
    result: [1]
    source: the definition of a relative difference
    """
    return abs(pads - mass) / mass


_MOMENTS = ("gillespie-1992-ch1-axle-loads",)
_DEFINED = ("mechanics-definitions",)


def _wheel(argument: str, label: str) -> Symbol:
    return Symbol(argument, "kg", 20.0, 2000.0, label, "mass")


SIDE_MOMENT = Working(
    side_moment,
    "m_a*y",
    {
        "m_a": Symbol("axle_part", "kg", -600.0, 3000.0, "part on the axle", "mass"),
        "y": Symbol("y", "m", -1.5, 1.5, "place right of the middle line", "position"),
    },
    Symbol("M", "kg.m", -5000.0, 5000.0, "moment about the middle line", "mass_moment"),
    _MOMENTS,
    "car level and at rest",
    "a body so stiff that it shares a side load between both axles otherwise",
)

CORNER_LOAD = Working(
    corner_load,
    "m_c + (m_a - m_b)/2 + s*M/t",
    {
        "m_c": _wheel("corner", "load on this wheel before"),
        "m_a": Symbol("axle_load", "kg", 50.0, 4000.0, "axle load now", "mass"),
        "m_b": Symbol("axle_before", "kg", 50.0, 4000.0, "axle load before", "mass"),
        "s": Symbol("side", "1", -1.0, 1.0, "1 on the right, -1 on the left", "ratio"),
        "M": Symbol("moment", "kg.m", -200.0, 200.0, "moment about the middle line", "mass_moment"),
        "t": Symbol("track", "m", 0.5, 3.0, "track", "length"),
    },
    Symbol("m_w", "kg", -1e4, 1e4, "load on this wheel", "mass"),
    _MOMENTS,
    "each axle carries the side load of what stands over it",
    "a body so stiff that it shares a side load between both axles otherwise; springs set unevenly",
)

HEAVIER = Working(
    heavier,
    "Max(m_l, m_r)",
    {"m_l": _wheel("left", "left wheel"), "m_r": _wheel("right", "right wheel")},
    Symbol("m_w", "kg", 0.0, 2000.0, "load on the heavier wheel", "mass"),
    _DEFINED,
    "both wheels of one axle",
    "what a corner taken fast adds",
)

SIDE_SHARE = Working(
    side_share,
    "Max((m_f + m_r)/m, 1 - (m_f + m_r)/m)",
    {
        "m_f": _wheel("front", "right front wheel"),
        "m_r": _wheel("rear", "right rear wheel"),
        "m": Symbol("mass", "kg", 300.0, 5000.0, "mass", "mass"),
    },
    Symbol("q", "1", 0.0, 1.0, "share of the heavier side", "fraction"),
    _DEFINED,
    "car level and at rest",
    "the driver alone aboard",
)

PADS_DIFFERENCE = Working(
    pads_difference,
    "Abs(m_p - m)/m",
    {
        "m_p": Symbol("pads", "kg", 200.0, 5000.0, "sum of the four pads", "mass"),
        "m": Symbol("mass", "kg", 300.0, 5000.0, "kerb mass", "mass"),
    },
    Symbol("d", "1", 0.0, 20.0, "difference of the pads from the kerb mass", "fraction"),
    _DEFINED,
    "both weighed in the same state",
    "which of the two is right",
)

WORKINGS: tuple[Working, ...] = (SIDE_MOMENT, CORNER_LOAD, HEAVIER, SIDE_SHARE, PADS_DIFFERENCE)
