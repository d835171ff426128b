"""The air the car moves through: standard pressure, humidity, density."""

from __future__ import annotations

from math import exp

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import (
    DRY_AIR_GAS_CONSTANT,
    GRAVITY,
    ICE_POINT,
    MAGNUS_PRESSURE,
    MAGNUS_TEMPERATURE,
    WATER_VAPOUR_GAS_CONSTANT,
)


def standard_pressure(
    *,
    altitude: float,
    sea_level_temperature: float,
    sea_level_pressure: float,
    lapse_rate: float,
    gravity: float = GRAVITY.si,
    gas_constant: float = DRY_AIR_GAS_CONSTANT.si,
) -> float:
    """Return the standard atmosphere's pressure at an altitude.

    altitude: geopotential, to 11 km [m]
    sea_level_temperature: [K]
    sea_level_pressure: [Pa]
    lapse_rate: [K/m]
    gravity: [m/s^2]
    gas_constant: of dry air [J/kg/K]
    result: [Pa]
    source: ISO 2533:1975, equations of the troposphere
    """
    warmth = 1.0 - lapse_rate * altitude / sea_level_temperature
    return float(sea_level_pressure * warmth ** (gravity / (gas_constant * lapse_rate)))


def saturation_pressure(
    *,
    temperature: float,
    ice_point: float = ICE_POINT.si,
    magnus_pressure: float = MAGNUS_PRESSURE.si,
    magnus_temperature: float = MAGNUS_TEMPERATURE.si,
) -> float:
    """Return the pressure of water vapour in saturated air.

    temperature: of the air [K]
    ice_point: [K]
    magnus_pressure: [Pa]
    magnus_temperature: [K]
    result: [Pa]
    source: Alduchov and Eskridge 1996, equation 21, from memory
    """
    celsius = temperature - ice_point
    return magnus_pressure * exp(17.625 * celsius / (celsius + magnus_temperature))


def vapour_pressure(*, humidity: float, saturation_pressure: float) -> float:
    """Return the pressure of the water vapour in air.

    humidity: relative [1]
    saturation_pressure: at the air's temperature [Pa]
    result: [Pa]
    source: the definition of relative humidity
    """
    return humidity * saturation_pressure


def air_density(
    *,
    temperature: float,
    pressure: float,
    vapour_pressure: float,
    dry_gas_constant: float = DRY_AIR_GAS_CONSTANT.si,
    vapour_gas_constant: float = WATER_VAPOUR_GAS_CONSTANT.si,
) -> float:
    """Return the density of moist air as a mixture of two ideal gases.

    temperature: [K]
    pressure: of the mixture [Pa]
    vapour_pressure: [Pa]
    dry_gas_constant, vapour_gas_constant: [J/kg/K]
    result: [kg/m^3]
    source: ASHRAE Fundamentals 2005, chapter 6, from memory
    """
    dry = (pressure - vapour_pressure) / (dry_gas_constant * temperature)
    return dry + vapour_pressure / (vapour_gas_constant * temperature)


_TEMPERATURE = Symbol("temperature", "K", 230.0, 325.0, "air temperature", "temperature")
_ALTITUDE = Symbol("altitude", "m", -450.0, 5500.0, "altitude", "length")
_T_0 = Symbol(
    "sea_level_temperature", "K", 280.0, 295.0, "standard sea level temperature", "temperature"
)
_P_0 = Symbol("sea_level_pressure", "Pa", 9e4, 11e4, "standard sea level pressure", "pressure")
_LAPSE = Symbol("lapse_rate", "K/m", 0.005, 0.008, "fall of temperature with altitude")
_GAS = Symbol("gas_constant", "J/kg/K", 280.0, 295.0, "gas constant of dry air")

STANDARD_PRESSURE = Working(
    standard_pressure,
    "p_0*(1 - L*h/T_0)**(g/(R*L))",
    {"p_0": _P_0, "T_0": _T_0, "L": _LAPSE, "h": _ALTITUDE, "g": symbol.GRAVITY, "R": _GAS},
    Symbol("p", "Pa", 4.5e4, 11e4, "air pressure at this altitude", "pressure"),
    ("iso-2533-1975-troposphere",),
    "the mean atmosphere of the middle latitudes; altitude taken as geopotential",
    "the day's weather, which moves the pressure by up to 3 %; altitudes above 11 km",
)

SATURATION_PRESSURE = Working(
    saturation_pressure,
    "p_m*exp(17.625*(T - T_i)/(T - T_i + T_m))",
    {
        "p_m": Symbol("magnus_pressure", "Pa", 600.0, 620.0, "Magnus pressure", "pressure"),
        "T": _TEMPERATURE,
        "T_i": Symbol("ice_point", "K", 273.0, 273.3, "ice point", "temperature"),
        "T_m": Symbol(
            "magnus_temperature", "K", 240.0, 246.0, "Magnus temperature", "temperature_difference"
        ),
    },
    Symbol("e_s", "Pa", 1.0, 2e4, "saturation pressure of water", "pressure"),
    ("alduchov-eskridge-1996-eq21", "bipm-si-9-celsius"),
    "saturation over liquid water; within 0.4 % from -40 to 50 degC",
    "saturation over ice",
)

VAPOUR_PRESSURE = Working(
    vapour_pressure,
    "phi*e_s",
    {
        "phi": Symbol("humidity", "1", 0.0, 1.0, "relative humidity", "fraction"),
        "e_s": Symbol(
            "saturation_pressure", "Pa", 10.0, 1.2e4, "saturation pressure of water", "pressure"
        ),
    },
    Symbol("e", "Pa", 0.0, 1.2e4, "vapour pressure", "pressure"),
    ("alduchov-eskridge-1996-eq21",),
    "the definition of relative humidity",
    "fog and rain",
)

AIR_DENSITY = Working(
    air_density,
    "(p - e)/(R_d*T) + e/(R_v*T)",
    {
        "p": Symbol("pressure", "Pa", 4.5e4, 1.1e5, "air pressure", "pressure"),
        "e": Symbol("vapour_pressure", "Pa", 0.0, 1.2e4, "vapour pressure", "pressure"),
        "T": _TEMPERATURE,
        "R_d": Symbol("dry_gas_constant", "J/kg/K", 280.0, 295.0, "gas constant of dry air"),
        "R_v": Symbol("vapour_gas_constant", "J/kg/K", 450.0, 470.0, "gas constant of vapour"),
    },
    Symbol("rho", "kg/m^3", 0.4, 1.7, "air density", "density"),
    ("ashrae-2005-fundamentals-ch6",),
    "air and water vapour are ideal gases; within 0.1 % of measured density",
    "dust, rain and fumes",
)

WORKINGS: tuple[Working, ...] = (
    STANDARD_PRESSURE,
    SATURATION_PRESSURE,
    VAPOUR_PRESSURE,
    AIR_DENSITY,
)
