"""Direct-current arc flash by the maximum power method: incident energy, boundary, time.

`arc` is the cross-check. Neither covers the plasma of a closed box, and below about 100 V they
disagree. The distance is from the arc to face and chest. No clothing class comes from here.
"""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working

# The published form is 0.01 cal/cm^2 per watt-second at 1 cm: centimetres squared cancel, and the
# calorie is 4.184 J. A half of the power spread over a sphere would be 0.0398.
_SPREAD = 0.01 * 4.184


def bolted_current(*, voltage: float, resistance: float) -> float:
    """Return the current of a dead short.

    voltage: of the source at rest [V]
    resistance: of source and loop up to the work point [ohm]
    result: current [A]
    source: definition-ohm
    """
    return voltage / resistance


def half_bolted_current(*, bolted: float) -> float:
    """Return the arc current at which a source gives most power: half the bolted one.

    bolted: current of a dead short [A]
    result: current [A]
    source: doan-2010-maximum-power, from memory
    """
    return 0.5 * bolted


def max_arc_power(*, voltage: float, resistance: float) -> float:
    """Return the most power a source can give an arc.

    voltage: of the source at rest [V]
    resistance: of source and loop up to the work point [ohm]
    result: power [W]
    source: doan-2010-maximum-power, from memory
    """
    return voltage**2 / (4.0 * resistance)


def arc_time(*, clearing: float, longest: float) -> float:
    """Return the time an arc counts for: until the fuse clears it, or until one has got away.

    clearing: of the fuse at the arc's current; infinite where nothing clears it [s]
    longest: that a person is taken to stay [s]
    result: time [s]
    source: nfpa-70e-arc-time
    """
    return min(clearing, longest)


def clearing_current(*, half: float, arc: float) -> float:
    """Return the arc current the fuse's clearing time is read at: the smaller, it takes longer.

    half: by the maximum power [A]
    arc: by the Stokes-Oppenlander equation [A]
    result: current [A]
    source: swapwright-arc-clearing-current
    """
    return min(half, arc)


def incident_energy(*, voltage: float, current: float, time: float, distance: float) -> float:
    """Return the incident energy in open air by the maximum power method.

    voltage: of the source at rest [V]
    current: of the arc, half the bolted one [A]
    time: the arc lasts [s]
    distance: from the arc [m]
    result: energy per area [J/m^2]
    source: doan-2010-maximum-power, from memory
    """
    return _SPREAD * voltage * current * time / distance**2


def boxed_energy(*, energy: float, box_factor: float) -> float:
    """Return the incident energy in front of an open box that throws the arc forward.

    energy: in open air [J/m^2]
    box_factor: how many times as much [1]
    result: energy per area [J/m^2]
    source: nfpa-70e-d5-box
    """
    return energy * box_factor


def arc_flash_boundary(
    *, voltage: float, current: float, time: float, box_factor: float, limit: float
) -> float:
    """Return the distance at which the incident energy has fallen to a limit.

    voltage: of the source at rest [V]
    current: of the arc, half the bolted one [A]
    time: the arc lasts [s]
    box_factor: 1 in open air [1]
    limit: energy per area that bare skin just stands [J/m^2]
    result: distance [m]
    source: doan-2010-maximum-power, from memory
    """
    return sqrt(_SPREAD * voltage * current * time * box_factor / limit)


_V = Symbol("voltage", "V", 20.0, 1000.0, "voltage at rest")
_R = Symbol("resistance", "ohm", 1e-3, 1.0, "resistance of source and loop")
_I = Symbol("current", "A", 5.0, 2e4, "arc current")
_T = Symbol("time", "s", 1e-4, 2.0, "time the arc lasts")
_D = Symbol("distance", "m", 0.1, 3.0, "distance from the arc")
_BOX = Symbol("box_factor", "1", 1.0, 3.0, "box factor", "factor")
_MAX_POWER = ("doan-2010-maximum-power",)
_ONE_RESISTANCE = "a voltage behind a resistance, up to 1000 V"
_NOT_BOXED = "plasma of a closed box, molten metal, pressure, cell gas; below 100 V the models part"

BOLTED_CURRENT = Working(
    bolted_current,
    "V / R",
    {"V": _V, "R": _R},
    Symbol("bolted_current", "A", 0.0, 1e6, "current of a dead short", "current"),
    ("definition-ohm",),
    _ONE_RESISTANCE,
    "the discharge of the link capacitors, which comes first",
)

HALF_BOLTED_CURRENT = Working(
    half_bolted_current,
    "0.5 * I_bf",
    {"I_bf": Symbol("bolted", "A", 10.0, 1e5, "current of a dead short")},
    Symbol("half_bolted_current", "A", 0.0, 1e5, "arc current by the maximum power", "current"),
    _MAX_POWER,
    "the arc matches the source",
    _NOT_BOXED,
)

MAX_ARC_POWER = Working(
    max_arc_power,
    "V**2 / (4 * R)",
    {"V": _V, "R": _R},
    Symbol("max_arc_power", "W", 0.0, 1e9, "most power an arc can take"),
    _MAX_POWER,
    _ONE_RESISTANCE,
    "",
)

ARC_TIME = Working(
    arc_time,
    "Min(t_f, t_c)",
    {
        "t_f": Symbol("clearing", "s", 1e-3, 100.0, "clearing time of the fuse"),
        "t_c": Symbol("longest", "s", 1.0, 2.0, "longest time a person stays"),
    },
    Symbol("arc_time", "s", 0.0, 2.0, "time the arc counts for"),
    ("nfpa-70e-arc-time",),
    "nothing holds the person there",
    "a person who cannot get away",
)

CLEARING_CURRENT = Working(
    clearing_current,
    "Min(I_h, I_a)",
    {
        "I_h": Symbol("half", "A", 5.0, 5e4, "arc current by the maximum power"),
        "I_a": Symbol("arc", "A", 5.0, 5e4, "arc current by the arc equation"),
    },
    Symbol("clearing_current", "A", 0.0, 5e4, "current the clearing time is read at", "current"),
    ("swapwright-arc-clearing-current",),
    "",
    "",
)

INCIDENT_ENERGY = Working(
    incident_energy,
    "0.01 * 4.184 * V * I * t / d**2",
    {"V": _V, "I": _I, "t": _T, "d": _D},
    Symbol("incident_energy", "J/m^2", 0.0, 1e9, "incident energy by the maximum power"),
    _MAX_POWER,
    "open air; half the bolted current all the time",
    _NOT_BOXED,
)

BOXED_ENERGY = Working(
    boxed_energy,
    "E * f",
    {"E": Symbol("energy", "J/m^2", 1.0, 1e8, "incident energy in open air"), "f": _BOX},
    Symbol("boxed_energy", "J/m^2", 0.0, 1e9, "incident energy out of a box"),
    ("nfpa-70e-d5-box",),
    "a box of about half a metre, open to the front",
    _NOT_BOXED,
)

ARC_FLASH_BOUNDARY = Working(
    arc_flash_boundary,
    "sqrt(0.01 * 4.184 * V * I * t * f / E_b)",
    {
        "V": _V,
        "I": _I,
        "t": _T,
        "f": _BOX,
        "E_b": Symbol("limit", "J/m^2", 1e4, 1e5, "energy at the boundary"),
    },
    Symbol("arc_flash_boundary", "m", 0.0, 100.0, "arc-flash boundary", "length"),
    _MAX_POWER,
    "half the bolted current all the time",
    _NOT_BOXED,
)

WORKINGS: tuple[Working, ...] = (
    BOLTED_CURRENT,
    HALF_BOLTED_CURRENT,
    MAX_ARC_POWER,
    ARC_TIME,
    CLEARING_CURRENT,
    INCIDENT_ENERGY,
    BOXED_ENERGY,
    ARC_FLASH_BOUNDARY,
)
