"""Copper conductors: resistance, published currents and their factors, typical cables.

A current stands with its table, and the table with its conductor temperature, ambient and bundling:
tables differ by a quarter, and the stricter one is for whoever asks to take. Sizes are in m^2.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp, isclose, log, pi
from types import MappingProxyType

from swapwright.base.figure import Value

_MM = 1e-3
_MM2 = 1e-6
_PER_KM = 1e-3
_ZERO_CELSIUS = 273.15

CLASS_5_SOURCE = "iec-60228-2004-class5"
CLASS_5_SMALL_SOURCE = "iec-60228-2004-class5-small"
DIAMETERS_SOURCE = "cable-diameters-typical"


def _celsius(degrees: float, source: str) -> Value:
    return Value(degrees + _ZERO_CELSIUS, "K", "standard", source)


# Copper

COPPER_RESISTIVITY = Value(1.0 / 58.0e6, "ohm.m", "standard", "iec-60028-1925-copper")
"""Of annealed copper at 20 degC: 58 MS/m is 100 % IACS."""

COPPER_TEMPERATURE_COEFFICIENT = Value(0.00393, "1/K", "standard", "iec-60028-1925-copper")
RESISTANCE_TEMPERATURE = Value(293.15, "K", "standard", "iec-60028-1925-copper")
"""Tables of resistance are given at 20 degC."""

COPPER_DENSITY = Value(8960.0, "kg/m^3", "standard", "copper-density")
COPPER_THERMAL_CONDUCTIVITY = Value(390.0, "W/m/K", "standard", "copper-thermal-conductivity")

# Resistance


@dataclass(frozen=True)
class ConductorRow:
    """A size and its greatest resistance at 20 degC: m^2, ohm/m."""

    area: float
    resistance: float
    source: str


CLASS_5: tuple[ConductorRow, ...] = (
    *(
        ConductorRow(size * _MM2, ohms * _PER_KM, CLASS_5_SMALL_SOURCE)
        for size, ohms in ((1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30))
    ),
    *(
        ConductorRow(size * _MM2, ohms * _PER_KM, CLASS_5_SOURCE)
        for size, ohms in (
            *((10.0, 1.91), (16.0, 1.21), (25.0, 0.780), (35.0, 0.554)),
            *((50.0, 0.386), (70.0, 0.272), (95.0, 0.206), (120.0, 0.161)),
        )
    ),
)
"""Flexible plain copper, class 5; tinned wire is 1 to 2.5 % higher."""

STANDARD_SIZES: tuple[float, ...] = tuple(row.area for row in CLASS_5)
"""Sizes cable is sold in, m^2, thinnest first."""

# What insulation bears


@dataclass(frozen=True)
class InsulationClass:
    """A temperature class of car cable, the hottest its conductor may run, its usual covering."""

    name: str
    max_temperature: Value
    material: str
    material_source: str


@dataclass(frozen=True)
class InsulationMaterial:
    """A covering: the temperature it is worked at, and the one it bears in a short circuit."""

    name: str
    title: str
    max_temperature: Value
    final_temperature: Value


def _class(letter: str, degrees: float, material: str) -> InsulationClass:
    return InsulationClass(
        f"class {letter}",
        _celsius(degrees, "iso-6722-1-2011-temperature-classes"),
        material,
        material_source="insulation-material-of-class-typical",
    )


def _material(name: str, title: str, worked_at: float, final: float) -> InsulationMaterial:
    source = "iec-60364-5-54-2011-k"
    return InsulationMaterial(name, title, _celsius(worked_at, source), _celsius(final, source))


INSULATION_CLASSES: Mapping[str, InsulationClass] = MappingProxyType(
    {
        each.name: each
        for each in (
            _class("A", 85.0, "pvc"),
            _class("B", 100.0, "pvc"),
            _class("C", 125.0, "xlpe"),
            _class("D", 150.0, "xlpe"),
            _class("E", 175.0, "silicone"),
            _class("F", 200.0, "silicone"),
            _class("G", 225.0, "silicone"),
            _class("H", 250.0, "silicone"),
        )
    }
)

INSULATION_MATERIALS: Mapping[str, InsulationMaterial] = MappingProxyType(
    {
        each.name: each
        for each in (
            _material("pvc", "PVC", 70.0, 160.0),
            _material("pvc-90", "heat-resisting PVC", 90.0, 160.0),
            _material("rubber", "ordinary rubber", 85.0, 220.0),
            _material("xlpe", "cross-linked polyethylene or EPR", 90.0, 250.0),
            _material("silicone", "silicone rubber", 180.0, 350.0),
        )
    }
)

ADIABATIC_CONSTANT = Value(226.0e6, "A.s^0.5/m^2", "standard", "iec-60364-5-54-2011-k")
"""Of copper; 226 A.s^0.5 for each mm^2."""

RECIPROCAL_TEMPERATURE = Value(234.5, "K", "standard", "iec-60364-5-54-2011-k")
"""Kelvin below 0 degC at which the resistance of copper would run out."""

MAX_ADIABATIC_TIME = Value(5.0, "s", "standard", "iec-60364-5-54-2011-k")
"""Past this time a conductor sheds heat, and the adiabatic withstand says too little."""

# Published currents


@dataclass(frozen=True)
class AmpacityTable:
    """A published table of continuous currents: (m^2, A) rows, thinnest first."""

    name: str
    title: str
    conductor_temperature: Value
    ambient: Value
    bundling: str
    rows: tuple[tuple[float, float], ...]
    source: str


def awg_area(gauge: int) -> float:
    """Return the area of a solid AWG size in m^2; 1/0 is 0, 2/0 is -1 and so on (ASTM B258)."""
    diameter = 0.127e-3 * float(92.0 ** ((36 - gauge) / 39.0))
    return pi * diameter**2 / 4.0


def _table(
    name: str, title: str, bundling: str, rows: tuple[tuple[float, float], ...], source: str
) -> AmpacityTable:
    """Return a table for a conductor at 90 degC in air at 30 degC, which all of ours are."""
    warm, air = _celsius(90.0, source), _celsius(30.0, source)
    return AmpacityTable(name, title, warm, air, bundling, rows, source)


FLEXIBLE_CABLE = _table(
    "flexible-is9857",
    "IS 9857 maker's table, flexible rubber cable, 100 % duty",
    "one cable by itself",
    tuple(
        (size * _MM2, amps)
        for size, amps in (
            *((16.0, 117.0), (25.0, 157.0), (35.0, 196.0)),
            *((50.0, 248.0), (70.0, 309.0), (95.0, 374.0)),
        )
    ),
    source="flexible-cable-is9857-ratings",
)

FREE_AIR_IEC = _table(
    "free-air-iec",
    "IEC 60364-5-52 table B.52.12, XLPE copper in free air",
    "two single cores touching",
    tuple(
        (size * _MM2, amps)
        for size, amps in (
            *((25.0, 161.0), (35.0, 200.0), (50.0, 242.0)),
            *((70.0, 310.0), (95.0, 377.0), (120.0, 437.0)),
        )
    ),
    source="iec-60364-5-52-2009-b52-12",
)

FREE_AIR_NEC = _table(
    "free-air-nec",
    "NEC table 310.17, copper in free air",
    "one conductor by itself",
    tuple(
        (awg_area(gauge), amps)
        for gauge, amps in (
            *((8, 80.0), (6, 105.0), (4, 140.0), (3, 165.0), (2, 190.0)),
            *((1, 220.0), (0, 260.0), (-1, 300.0), (-2, 350.0), (-3, 405.0)),
        )
    ),
    source="nec-2023-310-17",
)

AMPACITY_TABLES: tuple[AmpacityTable, ...] = (FLEXIBLE_CABLE, FREE_AIR_IEC, FREE_AIR_NEC)

LOOM_WIRE = AmpacityTable(
    "flexible-vde",
    "DIN VDE 0298-4 table 11, flexible single cores in air",
    _celsius(70.0, "vde-0298-4-2023-table-11"),
    _celsius(30.0, "vde-0298-4-2023-table-11"),
    "one core by itself",
    tuple(
        (size * _MM2, amps)
        for size, amps in (
            *((0.75, 15.0), (1.0, 19.0), (1.5, 24.0), (2.5, 32.0), (4.0, 42.0), (6.0, 54.0)),
            *((10.0, 73.0), (16.0, 98.0), (25.0, 129.0), (35.0, 158.0), (50.0, 198.0)),
            *((70.0, 245.0), (95.0, 292.0), (120.0, 344.0)),
        )
    ),
    "vde-0298-4-2023-table-11",
)
"""For the thin wires of a 12 V loom, which the tables of high-voltage cable do not reach."""

GROUPING: Mapping[int, Value] = MappingProxyType(
    {
        circuits: Value(factor, "1", "standard", "iec-60364-5-52-2009-b52-17")
        for circuits, factor in ((1, 1.0), (2, 0.80), (3, 0.70), (4, 0.65), (6, 0.57))
    }
)
"""Loaded circuits bunched together -> what is left of the current of each."""


@dataclass(frozen=True)
class Routing:
    """A way of laying: what it leaves of the current, and how much warmer the air is there."""

    name: str
    title: str
    factor: Value
    added_ambient: Value


def _routing(name: str, title: str, factor: float, added: float = 0.0) -> Routing:
    return Routing(
        name,
        title,
        Value(factor, "1", "standard", "cable-routing-practice"),
        Value(added, "K", "standard", "cable-near-exhaust-practice"),
    )


ROUTINGS: Mapping[str, Routing] = MappingProxyType(
    {
        each.name: each
        for each in (
            _routing("free air", "in free air, held off surfaces", 1.0),
            _routing("clipped", "clipped to a surface", 0.95),
            _routing("conduit", "in closed conduit", 0.80),
            _routing("bundle", "in a bundle; its grouping says what is left", 1.0),
            _routing("near exhaust", "clipped, near the exhaust", 0.95, 30.0),
        )
    }
)

# Typical cables


@dataclass(frozen=True)
class CableDiameters:
    """Diameters of a single-core cable in m: over its conductor, over all."""

    area: float
    conductor: float
    overall: float
    source: str


CABLE_DIAMETERS: tuple[CableDiameters, ...] = tuple(
    CableDiameters(size * _MM2, conductor * _MM, overall * _MM, DIAMETERS_SOURCE)
    for size, conductor, overall in (
        *((1.5, 1.7, 2.9), (2.5, 2.2, 3.5), (4.0, 2.75, 4.3), (6.0, 3.4, 5.0)),
        *((10.0, 4.4, 6.2), (16.0, 5.6, 7.7), (25.0, 7.1, 9.5), (35.0, 8.5, 11.1)),
        *((50.0, 10.5, 13.5), (70.0, 12.5, 15.5), (95.0, 14.8, 18.2), (120.0, 16.6, 20.2)),
    )
)

CONDUCTOR_INDUCTANCE = Value(0.5e-6, "H/m", "standard", "cable-inductance-typical")
"""Of one conductor of a pair, for each metre of it."""

LUG_CONTACT_RESISTANCE = Value(50e-6, "ohm", "standard", "lug-contact-typical")
LUG_HEAT_SHARE = Value(0.5, "1", "standard", "lug-heat-share-assumed")
"""Share of a lug's heat that leaves along its cable."""

BEND_FACTOR = Value(6.0, "1", "standard", "cable-bend-practice")
"""Smallest bend radius over the cable's diameter."""

CABLE_EMISSIVITY = Value(0.9, "1", "standard", "cable-surface-typical")
INSULATION_CONDUCTIVITY = Value(0.25, "W/m/K", "standard", "cable-surface-typical")
INSULATION_DENSITY = Value(1300.0, "kg/m^3", "standard", "cable-insulation-heat-typical")
INSULATION_SPECIFIC_HEAT = Value(1500.0, "J/kg/K", "standard", "cable-insulation-heat-typical")

SURFACE_SHARE = Value(0.9, "1", "standard", "cable-surface-share-typical")
CONVECTION_CONSTANT = Value(
    1.32, "W/m^1.75/K^1.25", "standard", "holman-2010-simplified-convection"
)
"""For the short estimate of a cable's current by heat balance."""

# Look-ups


def class_5_resistance(area: float) -> float:
    """Return the greatest resistance at 20 degC of class 5 copper of any size, ohm/m.

    A row's own value at its size, a line through the logarithms between rows, and beyond the ends
    the end row's with the inverse of the area.
    """
    sizes = [row.area for row in CLASS_5]
    ohms = [row.resistance for row in CLASS_5]
    if area < sizes[0]:
        return ohms[0] * sizes[0] / area
    if area > sizes[-1] and not isclose(area, sizes[-1], rel_tol=1e-9):
        return ohms[-1] * sizes[-1] / area
    return _between(sizes, ohms, area)


def published_ampacities(area: float) -> tuple[tuple[AmpacityTable, float], ...]:
    """Return (table, A) of each table whose sizes reach round this one; none beyond its ends."""
    return tuple(
        (table, _between([size for size, _ in rows], [amps for _, amps in rows], area))
        for table in AMPACITY_TABLES
        for rows in [table.rows]
        if rows[0][0] * (1.0 - 1e-9) <= area <= rows[-1][0] * (1.0 + 1e-9)
    )


def loom_wire_current(area: float) -> float | None:
    """Return the current of `LOOM_WIRE` for a size, A; None beyond its ends."""
    sizes = [size for size, _ in LOOM_WIRE.rows]
    if not sizes[0] * (1.0 - 1e-9) <= area <= sizes[-1] * (1.0 + 1e-9):
        return None
    return _between(sizes, [amps for _, amps in LOOM_WIRE.rows], area)


def cable_diameters(area: float) -> CableDiameters:
    """Return the typical diameters of any size; beyond the ends they go with the root of area."""
    sizes = [row.area for row in CABLE_DIAMETERS]
    inside = min(max(area, sizes[0]), sizes[-1])
    grown = (area / inside) ** 0.5
    conductor = _between(sizes, [row.conductor for row in CABLE_DIAMETERS], inside)
    overall = _between(sizes, [row.overall for row in CABLE_DIAMETERS], inside)
    return CableDiameters(area, conductor * grown, overall * grown, DIAMETERS_SOURCE)


def grouping_factor(circuits: int) -> Value | None:
    """Return what bunching leaves; the next larger group's between rows, None beyond the last."""
    return next((factor for count, factor in GROUPING.items() if count >= circuits), None)


def _between(x: Sequence[float], y: Sequence[float], at: float) -> float:
    """Return y at a point within x by a line through the logarithms, exact at the rows."""
    for known, value in zip(x, y, strict=True):
        if isclose(at, known, rel_tol=1e-9):
            return value
    above = next(i for i, known in enumerate(x) if known > at)
    weight = log(at / x[above - 1]) / log(x[above] / x[above - 1])
    return y[above - 1] * exp(weight * log(y[above] / y[above - 1]))
