"""A copper conductor: resistance, drop, loss, weight, heat it holds, bend, the heat of its lugs.

Resistance per length is that of one conductor; a pair is two equal ones, out and back. Direct
current: no skin effect.
"""

from __future__ import annotations

from math import pi, sqrt

from swapwright.base.figure import Symbol, Working


def conductor_resistance(
    *,
    resistance_per_length: float,
    length: float,
    temperature: float,
    reference_temperature: float,
    temperature_coefficient: float,
) -> float:
    """Return the resistance of one conductor at a temperature.

    resistance_per_length: at the reference temperature [ohm/m]
    length: of the conductor, one way [m]
    temperature: of the conductor [K]
    reference_temperature: the resistance is given at [K]
    temperature_coefficient: of resistance at the reference temperature [1/K]
    result: resistance [ohm]
    source: iec-60028-1925-copper
    """
    warmth = 1.0 + temperature_coefficient * (temperature - reference_temperature)
    return resistance_per_length * length * warmth


def pair_voltage_drop(*, current: float, resistance: float) -> float:
    """Return the voltage lost in a pair of equal conductors, out and back.

    current: [A]
    resistance: of one conductor at its temperature [ohm]
    result: voltage [V]
    source: definition-ohm
    """
    return 2.0 * current * resistance


def pair_loss(*, current: float, resistance: float) -> float:
    """Return the heat made in a pair of equal conductors, out and back.

    current: steady, or root-mean-square of a duty [A]
    resistance: of one conductor at its temperature [ohm]
    result: power [W]
    source: definition-ohm
    """
    return 2.0 * current**2 * resistance


def cable_mass_per_length(
    *,
    area: float,
    conductor_diameter: float,
    overall_diameter: float,
    copper_density: float,
    insulation_density: float,
) -> float:
    """Return the mass of a single-core cable for each metre.

    area: of the conductor [m^2]
    conductor_diameter: over the conductor [m]
    overall_diameter: over all, larger than that [m]
    copper_density, insulation_density: [kg/m^3]
    result: [kg/m]
    source: definition-cable-cross-section
    """
    ring = pi / 4.0 * (overall_diameter**2 - conductor_diameter**2)
    return copper_density * area + insulation_density * ring


def heat_capacity_per_length(
    *,
    area: float,
    conductor_diameter: float,
    overall_diameter: float,
    copper_density: float,
    copper_specific_heat: float,
    insulation_density: float,
    insulation_specific_heat: float,
) -> float:
    """Return the heat a cable takes for each metre and kelvin; with no insulation, copper's alone.

    area: of the conductor [m^2]
    conductor_diameter: over the conductor [m]
    overall_diameter: over all; equal to that of the conductor for the copper alone [m]
    copper_density, insulation_density: [kg/m^3]
    copper_specific_heat, insulation_specific_heat: [J/kg/K]
    result: [J/m/K]
    source: definition-cable-cross-section
    """
    ring = pi / 4.0 * (overall_diameter**2 - conductor_diameter**2)
    copper = copper_density * copper_specific_heat * area
    return copper + insulation_density * insulation_specific_heat * ring


def thermal_time_constant(
    *, heat_capacity_per_length: float, temperature_rise: float, heat_per_length: float
) -> float:
    """Return how long a cable takes to come within a third of where it settles.

    heat_capacity_per_length: of the copper, for a lower bound, or of all the cable [J/m/K]
    temperature_rise: of the conductor over ambient, settled [K]
    heat_per_length: made there, settled [W/m]
    result: time [s]
    source: incropera-2007-ch5
    """
    return heat_capacity_per_length * temperature_rise / heat_per_length


def min_bend_radius(*, overall_diameter: float, bend_factor: float) -> float:
    """Return the smallest radius a cable may be laid round, to its inner side.

    overall_diameter: of the cable [m]
    bend_factor: smallest radius over diameter [1]
    result: radius [m]
    source: cable-bend-practice
    """
    return bend_factor * overall_diameter


def lug_heat(*, current: float, contact_resistance: float, joints: float = 1.0) -> float:
    """Return the heat made in lugs and their faces.

    current: steady, or root-mean-square of a duty [A]
    contact_resistance: of one lug, crimp and face [ohm]
    joints: how many carry the current [1]
    result: power [W]
    source: definition-ohm
    """
    return current**2 * contact_resistance * joints


def lug_temperature_rise(
    *,
    heat: float,
    heat_share: float,
    thermal_conductivity: float,
    area: float,
    conductance_per_length: float,
) -> float:
    """Return how much hotter a lug is than its cable far away from it, by the long-fin formula.

    heat: of one lug [W]
    heat_share: of it that leaves along the cable [1]
    thermal_conductivity: of the conductor [W/m/K]
    area: of the conductor [m^2]
    conductance_per_length: from conductor to air [W/m/K]
    result: rise [K]
    source: incropera-2007-ch3
    """
    return heat_share * heat / sqrt(thermal_conductivity * area * conductance_per_length)


_R_PER = Symbol("resistance_per_length", "ohm/m", 1e-4, 2e-2, "resistance per length")
_R = Symbol("resistance", "ohm", 1e-5, 0.2, "resistance of one conductor")
_I = Symbol("current", "A", -1000.0, 1000.0, "current")
_AREA = Symbol("area", "m^2", 1e-6, 2e-4, "conductor size", "conductor_area")
_D_C = Symbol("conductor_diameter", "m", 1e-3, 2.5e-2, "diameter over the conductor", "length")
_D = Symbol("overall_diameter", "m", 2e-3, 3e-2, "diameter over all", "length")
_RHO_C = Symbol("copper_density", "kg/m^3", 8800.0, 9000.0, "density of copper")
_RHO_I = Symbol("insulation_density", "kg/m^3", 900.0, 1800.0, "density of the insulation")
_CAPACITY = Symbol(
    "heat_capacity_per_length", "J/m/K", 5.0, 800.0, "heat the cable takes per length and kelvin"
)

CONDUCTOR_RESISTANCE = Working(
    conductor_resistance,
    "R_l*l*(1 + alpha*(T - T_r))",
    {
        "R_l": _R_PER,
        "l": Symbol("length", "m", 0.01, 50.0, "length, one way", "length"),
        "T": Symbol("temperature", "K", 230.0, 530.0, "conductor temperature", "temperature"),
        "T_r": Symbol(
            "reference_temperature", "K", 290.0, 300.0, "the table's temperature", "temperature"
        ),
        "alpha": Symbol(
            "temperature_coefficient", "1/K", 0.0035, 0.0045, "rise of resistance with warmth"
        ),
    },
    Symbol("R", "ohm", 0.0, 2.0, "resistance of one conductor"),
    ("iec-60028-1925-copper", "iec-60228-2004-class5"),
    "direct current; one temperature all along; the most the standard allows for the size",
    "lugs and joints; aluminium",
)

PAIR_VOLTAGE_DROP = Working(
    pair_voltage_drop,
    "2*I*R",
    {"I": _I, "R": _R},
    Symbol("U", "V", -400.0, 400.0, "voltage lost out and back"),
    ("definition-ohm",),
    "both conductors alike",
    "lugs, fuses and contactors on the way",
)

PAIR_LOSS = Working(
    pair_loss,
    "2*I**2*R",
    {"I": _I, "R": _R},
    Symbol("P", "W", 0.0, 4e5, "heat made out and back"),
    ("definition-ohm",),
    "both conductors alike",
    "lugs, fuses and contactors on the way",
)

CABLE_MASS_PER_LENGTH = Working(
    cable_mass_per_length,
    "rho_c*S + rho_i*pi/4*(D**2 - d**2)",
    {"rho_c": _RHO_C, "S": _AREA, "rho_i": _RHO_I, "D": _D, "d": _D_C},
    Symbol("m", "kg/m", 0.0, 3.0, "mass of the cable per length"),
    ("definition-cable-cross-section", "cable-diameters-typical"),
    "one core, no screen; strands as long as the cable",
    "lay of the strands, a few percent; screen, lugs and conduit",
    valid="D > d",
)

HEAT_CAPACITY_PER_LENGTH = Working(
    heat_capacity_per_length,
    "rho_c*c_c*S + rho_i*c_i*pi/4*(D**2 - d**2)",
    {
        "rho_c": _RHO_C,
        "c_c": Symbol("copper_specific_heat", "J/kg/K", 380.0, 400.0, "specific heat of copper"),
        "S": _AREA,
        "rho_i": _RHO_I,
        "c_i": Symbol(
            "insulation_specific_heat", "J/kg/K", 900.0, 2300.0, "specific heat of the insulation"
        ),
        "D": _D,
        "d": _D_C,
    },
    Symbol("C", "J/m/K", 0.0, 2e3, "heat the cable takes per length and kelvin"),
    ("definition-cable-cross-section", "cable-diameters-typical"),
    "copper and insulation warm together",
    "conduit and what the cable lies against, which make it slower to warm",
    valid="D >= d",
)

THERMAL_TIME_CONSTANT = Working(
    thermal_time_constant,
    "C*dT/q",
    {
        "C": _CAPACITY,
        "dT": Symbol(
            "temperature_rise", "K", 2.0, 150.0, "settled rise over ambient",
            "temperature_difference",
        ),
        "q": Symbol("heat_per_length", "W/m", 1.0, 200.0, "heat made per length, settled"),
    },
    Symbol("tau", "s", 0.0, 2e5, "thermal time constant"),
    ("incropera-2007-ch5",),
    "one lump; heat leaves in proportion to the rise",
    "",
)  # fmt: skip

MIN_BEND_RADIUS = Working(
    min_bend_radius,
    "k*D",
    {
        "k": Symbol("bend_factor", "1", 3.0, 12.0, "radius over diameter", "ratio"),
        "D": Symbol("overall_diameter", "m", 1e-3, 4e-2, "diameter over all", "length"),
    },
    Symbol("r", "m", 0.0, 0.5, "smallest bend radius", "length"),
    ("cable-bend-practice",),
    "laid for good, bent once",
    "what the maker asks for; a cable that moves",
)

LUG_HEAT = Working(
    lug_heat,
    "n*I**2*R_j",
    {
        "n": Symbol("joints", "1", 1.0, 20.0, "lugs", "count"),
        "I": _I,
        "R_j": Symbol("contact_resistance", "ohm", 1e-6, 1e-3, "resistance of one lug"),
    },
    Symbol("P_j", "W", 0.0, 2e4, "heat of the lugs"),
    ("definition-ohm", "lug-contact-typical"),
    "crimped and torqued as their maker says",
    "a loose, dirty or half-crimped lug, which may make a hundred times as much",
)

LUG_TEMPERATURE_RISE = Working(
    lug_temperature_rise,
    "s*P_j/sqrt(k*S*g)",
    {
        "s": Symbol("heat_share", "1", 0.2, 1.0, "share that leaves along the cable", "fraction"),
        "P_j": Symbol("heat", "W", 0.01, 100.0, "heat of one lug"),
        "k": Symbol("thermal_conductivity", "W/m/K", 370.0, 400.0, "conductivity of copper"),
        "S": _AREA,
        "g": Symbol(
            "conductance_per_length", "W/m/K", 0.1, 2.0, "from conductor to air, per length"
        ),
    },
    Symbol("dT_j", "K", 0.0, 1e4, "lug over its cable", "temperature_difference"),
    ("incropera-2007-ch3", "lug-heat-share-assumed"),
    "a cable longer than about half a metre carries its share away and sheds it to the air",
    "what is bolted to the lug being hotter than the cable",
)

WORKINGS: tuple[Working, ...] = (
    CONDUCTOR_RESISTANCE,
    PAIR_VOLTAGE_DROP,
    PAIR_LOSS,
    CABLE_MASS_PER_LENGTH,
    HEAT_CAPACITY_PER_LENGTH,
    THERMAL_TIME_CONSTANT,
    MIN_BEND_RADIUS,
    LUG_HEAT,
    LUG_TEMPERATURE_RISE,
)
