"""Consumption and range: from wheel energy to the battery, the wall, the label and petrol."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol


def steady_consumption(*, power: float, speed: float) -> float:
    """Return the energy per distance at a steady speed.

    power: [W]
    speed: [m/s]
    result: [J/m]
    source: the definition of consumption
    """
    return power / speed


def battery_power(*, wheel_power: float, efficiency: float, auxiliary_power: float) -> float:
    """Return the power drawn from the battery at a steady speed.

    wheel_power: [W]
    efficiency: battery to wheels [1]
    auxiliary_power: [W]
    result: [W]
    source: Guzzella and Sciarretta 2013, chapter 2, from memory
    """
    return wheel_power / efficiency + auxiliary_power


def wheel_power_left(*, terminal_power: float, auxiliary_power: float, efficiency: float) -> float:
    """Return what of a battery's power reaches the wheels at a steady speed.

    terminal_power: at the battery's terminals [W]
    auxiliary_power: [W]
    efficiency: battery to wheels [1]
    result: [W]
    source: Guzzella and Sciarretta 2013, chapter 2, from memory
    """
    return (terminal_power - auxiliary_power) * efficiency


def cycle_consumption_by_losses(
    *,
    traction: float,
    braking: float,
    caught_share: float,
    gear_efficiency: float,
    mean_loss: float,
    auxiliary_power: float,
    mean_speed: float,
) -> float:
    """Return battery energy per distance over a cycle, its losses given as a mean power.

    traction: driving wheel energy per distance [J/m]
    braking: braking wheel energy per distance [J/m]
    caught_share: share of the braking energy the motor takes [1]
    gear_efficiency: of the gears [1]
    mean_loss: of motor, inverter and pack, meant over time [W]
    auxiliary_power: [W]
    mean_speed: stops included [m/s]
    result: [J/m]
    source: Guzzella and Sciarretta 2013, chapter 2, from memory
    """
    returned = caught_share * braking * gear_efficiency
    return traction / gear_efficiency - returned + (mean_loss + auxiliary_power) / mean_speed


def loss_at_power(*, power: float, voltage: float, resistance: float) -> float:
    """Return the heat a power leaves in a pack's resistance.

    power: root mean square at the pack's terminals [W]
    voltage: [V]
    resistance: [ohm]
    result: [W]
    source: definition-ohm
    """
    return (power / voltage) ** 2 * resistance


def wall_consumption(*, consumption: float, charging_efficiency: float) -> float:
    """Return the energy per distance drawn from the wall.

    consumption: from the battery [J/m]
    charging_efficiency: wall to battery [1]
    result: [J/m]
    source: SAE J1634, recharge allocation, from memory
    """
    return consumption / charging_efficiency


def driving_range(*, usable_energy: float, consumption: float) -> float:
    """Return the distance the battery's energy lasts.

    usable_energy: between the ends of the usable window [J]
    consumption: from the battery [J/m]
    result: [m]
    source: SAE J1634, range from usable battery energy, from memory
    """
    return usable_energy / consumption


def aged_range(*, new_range: float, health: float) -> float:
    """Return the range left when a pack holds part of its new capacity.

    new_range: with the new pack [m]
    health: capacity left of new [1]
    result: range [m]
    source: the definition of range
    """
    return new_range * health


def label_consumption(*, consumption: float, adjustment: float) -> float:
    """Return the consumption a label shows for a consumption measured on the cycle.

    consumption: [J/m]
    adjustment: label over unadjusted economy [1]
    result: [J/m]
    source: 40 CFR 600, adjustment of two-cycle results
    """
    return consumption / adjustment


def combined_consumption(*, city: float, highway: float, city_share: float) -> float:
    """Return the combined consumption.

    The harmonic mean of economies is this plain mean of consumptions.

    city, highway: [J/m]
    city_share: of the distance [1]
    result: [J/m]
    source: 40 CFR 600.210, from memory
    """
    return city_share * city + (1.0 - city_share) * highway


def fuel_equivalent(*, consumption: float, fuel_energy: float, fuel_volume: float) -> float:
    """Return the volume of petrol that holds the energy, per distance.

    consumption: from the wall [J/m]
    fuel_energy: held by fuel_volume [J]
    fuel_volume: [m^3]
    result: [m^3/m]
    source: 40 CFR 600, petrol-equivalent fuel economy, from memory
    """
    return consumption * fuel_volume / fuel_energy


_GUZZELLA = ("guzzella-sciarretta-2013-ch2",)
_PER_DISTANCE = Symbol("consumption", "J/m", 150.0, 3000.0, "consumption", "consumption")
_RESULT = Symbol("e", "J/m", 0.0, 1e4, "consumption", "consumption")
_AUXILIARY = Symbol("auxiliary_power", "W", 0.0, 6000.0, "auxiliary power", "power")

STEADY_CONSUMPTION = Working(
    steady_consumption,
    "P/v",
    {"P": symbol.POWER, "v": symbol.SPEED},
    _RESULT,
    ("mechanics-definitions",),
    "steady speed",
    "stops, hills and gains of speed",
)

BATTERY_POWER = Working(
    battery_power,
    "P_w/eta + P_a",
    {
        "P_w": Symbol("wheel_power", "W", 500.0, 3e5, "power at the wheels", "power"),
        "eta": symbol.EFFICIENCY,
        "P_a": _AUXILIARY,
    },
    Symbol("P_b", "W", 0.0, 1e6, "power from the battery", "power"),
    _GUZZELLA,
    "power flows to the wheels",
    "braking; loss inside the battery",
)

WHEEL_POWER_LEFT = Working(
    wheel_power_left,
    "(P_b - P_a)*eta",
    {
        "P_b": Symbol("terminal_power", "W", 1e3, 3e5, "power at the battery's terminals", "power"),
        "P_a": _AUXILIARY,
        "eta": symbol.EFFICIENCY,
    },
    Symbol("P_w", "W", -1e4, 3e5, "power left at the wheels", "power"),
    _GUZZELLA,
    "the efficiency of the power that is needed",
    "braking; loss inside the battery",
)

WALL_CONSUMPTION = Working(
    wall_consumption,
    "e/eta_c",
    {
        "e": _PER_DISTANCE,
        "eta_c": Symbol(
            "charging_efficiency", "1", 0.5, 1.0, "efficiency wall to battery", "fraction"
        ),
    },
    Symbol("e_w", "J/m", 0.0, 1e4, "consumption from the wall", "consumption"),
    ("sae-j1634-2021-s8",),
    "charger and pack loss in one efficiency",
    "standby between charges, pack heating on the plug",
)

DRIVING_RANGE = Working(
    driving_range,
    "E_u/e",
    {
        "E_u": Symbol("usable_energy", "J", 5e6, 5e8, "usable energy", "energy"),
        "e": _PER_DISTANCE,
    },
    Symbol("s", "m", 0.0, 2e6, "range", "distance"),
    ("sae-j1634-2021-s8",),
    "the same driving until the window's low end",
    "power limits that come before the window's end",
)

LABEL_CONSUMPTION = Working(
    label_consumption,
    "e/k",
    {
        "e": _PER_DISTANCE,
        "k": Symbol("adjustment", "1", 0.5, 1.0, "label over unadjusted economy", "ratio"),
    },
    Symbol("e_l", "J/m", 0.0, 1e4, "consumption as labelled", "consumption"),
    ("us-40cfr600-label-formulas",),
    "city and highway cycles only were run",
    "the five-cycle method",
)

COMBINED_CONSUMPTION = Working(
    combined_consumption,
    "q*e_c + (1 - q)*e_h",
    {
        "q": Symbol("city_share", "1", 0.0, 1.0, "city share of the distance", "fraction"),
        "e_c": Symbol("city", "J/m", 150.0, 3000.0, "city consumption", "consumption"),
        "e_h": Symbol("highway", "J/m", 150.0, 3000.0, "highway consumption", "consumption"),
    },
    Symbol("e_m", "J/m", 0.0, 1e4, "combined consumption", "consumption"),
    ("us-40cfr600-label-formulas",),
    "shares of distance, not of time",
    "anybody's own mix of roads",
)

FUEL_EQUIVALENT = Working(
    fuel_equivalent,
    "e*V/E_f",
    {
        "e": _PER_DISTANCE,
        "V": Symbol("fuel_volume", "m^3", 1e-3, 5e-3, "volume of petrol", "volume"),
        "E_f": Symbol("fuel_energy", "J", 3e7, 1.6e8, "energy in that petrol", "energy"),
    },
    Symbol("b", "m^3/m", 0.0, 1e-6, "petrol equivalent", "fuel_consumption"),
    ("us-40cfr600-label-formulas",),
    "energy content only",
    "what either form of energy took to make",
)
AGED_RANGE = Working(
    aged_range,
    "x * h",
    {
        "x": Symbol("new_range", "m", 1e3, 1e6, "range with a new pack", "distance"),
        "h": Symbol("health", "1", 0.3, 1.0, "capacity left of new", "fraction"),
    },
    Symbol("aged_range", "m", 0.0, 1e6, "range with an aged pack", "distance"),
    ("pack-health-end-typical",),
    "consumption stays as it was",
    "more resistance with age",
)
CYCLE_CONSUMPTION_BY_LOSSES = Working(
    cycle_consumption_by_losses,
    "E_t / eta - s * E_b * eta + (P_loss + P_aux) / v",
    {
        "E_t": Symbol("traction", "J/m", 100.0, 2000.0, "driving wheel energy", "consumption"),
        "E_b": Symbol("braking", "J/m", 0.0, 800.0, "braking wheel energy", "consumption"),
        "s": Symbol("caught_share", "1", 0.0, 1.0, "share the motor takes", "fraction"),
        "eta": Symbol("gear_efficiency", "1", 0.8, 1.0, "efficiency of the gears", "fraction"),
        "P_loss": Symbol("mean_loss", "W", 0.0, 1e4, "mean loss of motor, inverter, pack"),
        "P_aux": Symbol("auxiliary_power", "W", 0.0, 5e3, "auxiliary power"),
        "v": Symbol("mean_speed", "m/s", 3.0, 40.0, "mean speed"),
    },
    Symbol("cycle_consumption_by_losses", "J/m", 0.0, 5e3, "battery consumption", "consumption"),
    ("guzzella-sciarretta-2013-ch2",),
    "losses at the root mean square torque and the mean speed stand for the cycle",
    "limits met on the way",
)
LOSS_AT_POWER = Working(
    loss_at_power,
    "(P / V)**2 * R",
    {
        "P": Symbol("power", "W", 0.0, 2e5, "root mean square power"),
        "V": Symbol("voltage", "V", 20.0, 900.0, "pack voltage"),
        "R": Symbol("resistance", "ohm", 1e-3, 1.0, "pack resistance"),
    },
    Symbol("loss_at_power", "W", 0.0, 1e5, "loss in the pack", "power"),
    ("definition-ohm",),
    "nominal voltage",
    "",
)

WORKINGS: tuple[Working, ...] = (
    STEADY_CONSUMPTION,
    BATTERY_POWER,
    WHEEL_POWER_LEFT,
    WALL_CONSUMPTION,
    DRIVING_RANGE,
    LABEL_CONSUMPTION,
    COMBINED_CONSUMPTION,
    FUEL_EQUIVALENT,
    AGED_RANGE,
    CYCLE_CONSUMPTION_BY_LOSSES,
    LOSS_AT_POWER,
)
