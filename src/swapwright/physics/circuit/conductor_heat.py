"""A single cable in still air: the heat its current makes against what its surface sheds.

The full balance is solved by root finding and has no closed form; beside it stands a short estimate
that has one, and shares nothing with it but the cable.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, log, pi, sqrt

from swapwright.base.figure import Symbol, Value, Working
from swapwright.physics.vehicle.constant import DRY_AIR_GAS_CONSTANT, GRAVITY, ICE_POINT

STEFAN_BOLTZMANN = Value(5.670374e-8, "W/m^2/K^4", "standard", "codata-2018-stefan-boltzmann")

AIR_VISCOSITY = Value(1.716e-5, "Pa.s", "standard", "sutherland-air-viscosity")
SUTHERLAND_TEMPERATURE = Value(110.4, "K", "standard", "sutherland-air-viscosity")
"""Viscosity of air at the ice point, and how it grows with warmth."""

AIR_CONDUCTIVITY = Value(0.0241, "W/m/K", "standard", "air-conductivity-power-law")
AIR_CONDUCTIVITY_POWER = Value(0.9, "1", "standard", "air-conductivity-power-law")
"""Conductivity of air at the ice point, and the power of temperature it grows with."""

PRANDTL = Value(0.71, "1", "standard", "air-conductivity-power-law")

_PRANDTL_PART = (1.0 + (0.559 / PRANDTL.si) ** (9.0 / 16.0)) ** (8.0 / 27.0)
_HIGHEST_RISE = 5000.0
"""Past this rise of the surface the search for where it settles gives up, K."""

_ROUNDS = 100


@dataclass(frozen=True)
class CableBody:
    """A single-core cable as its heat sees it.

    ``resistance_per_length`` ohm/m at ``reference_temperature`` K, with ``temperature_coefficient``
    1/K; ``conductor_diameter`` and ``overall_diameter`` m; ``emissivity`` of the covering;
    ``insulation_conductivity`` W/m/K.
    """

    resistance_per_length: float
    conductor_diameter: float
    overall_diameter: float
    emissivity: float
    insulation_conductivity: float
    reference_temperature: float
    temperature_coefficient: float

    def hot_resistance(self, temperature: float) -> float:
        """Return the resistance per length at a conductor temperature, ohm/m."""
        warmth = 1.0 + self.temperature_coefficient * (temperature - self.reference_temperature)
        return self.resistance_per_length * warmth

    @property
    def thermal_resistance(self) -> float:
        """Resistance of a metre of insulation to heat, K.m/W."""
        wall = log(self.overall_diameter / self.conductor_diameter)
        return wall / (2.0 * pi * self.insulation_conductivity)


@dataclass(frozen=True)
class CableHeatResult:
    """A cable settled: A, K, and the heat made and shed for each metre, W/m."""

    current: float
    conductor_temperature: float
    surface_temperature: float
    heat: float
    convected: float
    radiated: float


def surface_temperature(
    cable: CableBody, *, conductor_temperature: float, ambient: float, pressure: float
) -> float:
    """Return the temperature of a cable's surface between its conductor and the air.

    conductor_temperature: held [K]
    ambient: of the still air and of all the surface sees [K]
    pressure: of the air [Pa]
    result: temperature [K]
    source: churchill-chu-1975-cylinder, incropera-2007-ch3
    """
    if conductor_temperature <= ambient:
        return conductor_temperature
    whole = conductor_temperature - ambient
    conductance = 1.0 / cable.thermal_resistance

    def excess(rise: float) -> float:
        return sum(_shed(cable, rise, ambient, pressure)) - conductance * (whole - rise)

    return ambient + _root(excess, whole)


def heat_balance_ampacity(
    cable: CableBody, *, conductor_temperature: float, ambient: float, pressure: float
) -> CableHeatResult:
    """Return the current that holds a conductor at a temperature, and where its heat goes.

    conductor_temperature: to be held [K]
    ambient: of the still air; where it is the hotter the current is none [K]
    pressure: of the air [Pa]
    result: current [A], temperatures [K], heat per length [W/m]
    source: churchill-chu-1975-cylinder, incropera-2007-ch3
    """
    if conductor_temperature <= ambient:
        return CableHeatResult(0.0, conductor_temperature, conductor_temperature, 0.0, 0.0, 0.0)
    surface = surface_temperature(
        cable, conductor_temperature=conductor_temperature, ambient=ambient, pressure=pressure
    )
    heat = (conductor_temperature - surface) / cable.thermal_resistance
    current = sqrt(heat / cable.hot_resistance(conductor_temperature))
    convected, radiated = _shed(cable, surface - ambient, ambient, pressure)
    return CableHeatResult(current, conductor_temperature, surface, heat, convected, radiated)


def heat_balance_temperature(
    cable: CableBody, *, current: float, ambient: float, pressure: float
) -> CableHeatResult:
    """Return the temperature a cable settles at with a current, and where its heat goes.

    current: steady, or root-mean-square of a duty [A]
    ambient: of the still air [K]
    pressure: of the air [Pa]
    result: current [A], temperatures [K], heat per length [W/m]; all but the current infinite
        where no temperature balances it
    source: churchill-chu-1975-cylinder, incropera-2007-ch3
    """
    if current == 0.0:
        return CableHeatResult(0.0, ambient, ambient, 0.0, 0.0, 0.0)
    wall = cable.thermal_resistance

    def excess(rise: float) -> float:
        shed = sum(_shed(cable, rise, ambient, pressure))
        return shed - current**2 * cable.hot_resistance(ambient + rise + wall * shed)

    most = 50.0
    while excess(most) < 0.0:
        if most > _HIGHEST_RISE:
            return CableHeatResult(current, inf, inf, inf, inf, inf)
        most *= 2.0
    rise = _root(excess, most)
    convected, radiated = _shed(cable, rise, ambient, pressure)
    conductor = ambient + rise + wall * (convected + radiated)
    heat = current**2 * cable.hot_resistance(conductor)
    return CableHeatResult(current, conductor, ambient + rise, heat, convected, radiated)


def _shed(cable: CableBody, rise: float, ambient: float, pressure: float) -> tuple[float, float]:
    """Return the heat a metre gives to the air and radiates at a rise of its surface, W/m."""
    diameter = cable.overall_diameter
    surface = ambient + rise
    film = ambient + 0.5 * rise
    warmth = film / ICE_POINT.si
    conductivity = AIR_CONDUCTIVITY.si * warmth**AIR_CONDUCTIVITY_POWER.si
    sutherland = SUTHERLAND_TEMPERATURE.si
    viscosity = AIR_VISCOSITY.si * warmth**1.5 * (ICE_POINT.si + sutherland) / (film + sutherland)
    kinematic = viscosity * DRY_AIR_GAS_CONSTANT.si * film / pressure
    rayleigh = GRAVITY.si / film * rise * diameter**3 / kinematic**2 * PRANDTL.si
    nusselt = (0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / _PRANDTL_PART) ** 2
    # The difference of the fourth powers, written so that a small rise is not lost in rounding.
    fourth_powers = rise * (surface + ambient) * (surface**2 + ambient**2)
    radiance = cable.emissivity * STEFAN_BOLTZMANN.si * fourth_powers
    return pi * nusselt * conductivity * rise, pi * diameter * radiance


def _root(excess: Callable[[float], float], high: float) -> float:
    """Return where a function rising from below passes zero, up to ``high`` (Illinois method)."""
    low, below, above = 0.0, excess(0.0), excess(high)
    close = -1e-12 * below
    side = 0
    for _ in range(_ROUNDS):
        # Reckoned from the low end, so that rounding never takes it below no rise at all.
        middle = low - below * (high - low) / (above - below)
        value = excess(middle)
        if abs(value) <= close or not low < middle < high:
            return middle
        if value > 0.0:
            high, above = middle, value
            below *= 0.5 if side > 0 else 1.0
            side = 1
        else:
            low, below = middle, value
            above *= 0.5 if side < 0 else 1.0
            side = -1
    return 0.5 * (low + high)


def surface_coefficient(
    *,
    conductor_temperature: float,
    ambient: float,
    overall_diameter: float,
    emissivity: float,
    surface_share: float,
    convection_constant: float,
    stefan_boltzmann: float = STEFAN_BOLTZMANN.si,
) -> float:
    """Return in short what a cable's surface sheds for each area and kelvin, air and radiation.

    conductor_temperature: above ambient [K]
    ambient: of the still air [K]
    overall_diameter: of the cable [m]
    emissivity: of its covering [1]
    surface_share: of the conductor's rise that stands between surface and air [1]
    convection_constant: of a horizontal cylinder in air [W/m^1.75/K^1.25]
    stefan_boltzmann: [W/m^2/K^4]
    result: [W/m^2/K]
    source: holman-2010-simplified-convection
    """
    rise = surface_share * (conductor_temperature - ambient)
    convection = convection_constant * float((rise / overall_diameter) ** 0.25)
    return convection + 4.0 * emissivity * stefan_boltzmann * (ambient + 0.5 * rise) ** 3


def conductance_per_length(
    *,
    conductor_diameter: float,
    overall_diameter: float,
    insulation_conductivity: float,
    surface_coefficient: float,
) -> float:
    """Return the heat a metre of cable sheds for each kelvin of its conductor over the air.

    conductor_diameter: over the conductor [m]
    overall_diameter: over all, larger than that [m]
    insulation_conductivity: [W/m/K]
    surface_coefficient: what the surface sheds [W/m^2/K]
    result: [W/m/K]
    source: incropera-2007-ch3
    """
    wall = log(overall_diameter / conductor_diameter) / (2.0 * pi * insulation_conductivity)
    return 1.0 / (wall + 1.0 / (pi * overall_diameter * surface_coefficient))


def ampacity_estimate(
    *,
    conductor_temperature: float,
    ambient: float,
    conductance_per_length: float,
    resistance_per_length: float,
    reference_temperature: float,
    temperature_coefficient: float,
) -> float:
    """Return in short the current that holds a conductor at a temperature.

    conductor_temperature: above ambient [K]
    ambient: of the still air [K]
    conductance_per_length: from conductor to air [W/m/K]
    resistance_per_length: at the reference temperature [ohm/m]
    reference_temperature: the resistance is given at [K]
    temperature_coefficient: of resistance at the reference temperature [1/K]
    result: current [A]
    source: conductor-square-law
    """
    warmth = 1.0 + temperature_coefficient * (conductor_temperature - reference_temperature)
    heat = (conductor_temperature - ambient) * conductance_per_length
    return sqrt(heat / (resistance_per_length * warmth))


_T_C = Symbol("conductor_temperature", "K", 345.0, 530.0, "conductor temperature", "temperature")
_T_A = Symbol("ambient", "K", 243.0, 400.0, "air round the cable", "temperature")
_D = Symbol("overall_diameter", "m", 3e-3, 3e-2, "diameter over all", "length")
_ALONE = "one cable lying level in still air, held off surfaces"
_WARMER = "T_c > T_a + 1"

SURFACE_COEFFICIENT = Working(
    surface_coefficient,
    "K*(s*(T_c - T_a)/D)**0.25 + 4*eps*sigma*(T_a + s*(T_c - T_a)/2)**3",
    {
        "T_c": _T_C,
        "T_a": _T_A,
        "D": _D,
        "eps": Symbol("emissivity", "1", 0.1, 1.0, "emissivity of the covering", "fraction"),
        "s": Symbol("surface_share", "1", 0.5, 1.0, "share of the rise at the surface", "fraction"),
        "K": Symbol(
            "convection_constant", "W/m^1.75/K^1.25", 1.0, 1.6, "convection of a level cylinder"
        ),
        "sigma": Symbol(
            "stefan_boltzmann", "W/m^2/K^4", 5.6e-8, 5.7e-8, "Stefan-Boltzmann constant"
        ),
    },
    Symbol("h", "W/m^2/K", 0.0, 100.0, "shed by the surface"),
    ("holman-2010-simplified-convection", "codata-2018-stefan-boltzmann"),
    _ALONE,
    "wind, sun, neighbours; within 5 % of the full balance's current from 6 to 120 mm²",
    valid=_WARMER,
)

CONDUCTANCE_PER_LENGTH = Working(
    conductance_per_length,
    "1/(log(D/d)/(2*pi*k_i) + 1/(pi*D*h))",
    {
        "D": _D,
        "d": Symbol("conductor_diameter", "m", 1e-3, 2.5e-2, "over the conductor", "length"),
        "k_i": Symbol("insulation_conductivity", "W/m/K", 0.1, 0.6, "conductivity of insulation"),
        "h": Symbol("surface_coefficient", "W/m^2/K", 3.0, 60.0, "shed by the surface"),
    },
    Symbol("g", "W/m/K", 0.0, 10.0, "from conductor to air, per length"),
    ("incropera-2007-ch3",),
    _ALONE,
    "a screen and air gaps in the cable",
    valid="D > d",
)

AMPACITY_ESTIMATE = Working(
    ampacity_estimate,
    "sqrt(g*(T_c - T_a)/(R_l*(1 + alpha*(T_c - T_r))))",
    {
        "T_c": _T_C,
        "T_a": _T_A,
        "g": Symbol("conductance_per_length", "W/m/K", 0.1, 2.0, "from conductor to air"),
        "R_l": Symbol("resistance_per_length", "ohm/m", 1e-4, 2e-2, "resistance per length"),
        "T_r": Symbol(
            "reference_temperature", "K", 290.0, 300.0, "the table's temperature", "temperature"
        ),
        "alpha": Symbol(
            "temperature_coefficient", "1/K", 0.0035, 0.0045, "rise of resistance with warmth"
        ),
    },
    Symbol("I", "A", 0.0, 3000.0, "continuous current by heat balance, in short"),
    ("conductor-square-law", "iec-60028-1925-copper"),
    _ALONE,
    "lugs, glands and what they are bolted to, which may bear less than the cable",
    valid=_WARMER,
)

WORKINGS: tuple[Working, ...] = (SURFACE_COEFFICIENT, CONDUCTANCE_PER_LENGTH, AMPACITY_ESTIMATE)
