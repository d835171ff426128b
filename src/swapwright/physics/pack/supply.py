"""From the supply to the battery: current, power, and the road they are good for."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def continuous_current(*, rating: float, share: float) -> float:
    """Return the current a supply's circuit may carry for hours.

    rating: of the circuit's breaker [A]
    share: of it a load of hours may take [1]
    result: current [A]
    source: nec-2023-continuous-load, from memory
    """
    return rating * share


def phases_counted(*, chargers: float, own: float, phases: float, busiest: float) -> float:
    """Return the phases that would draw as much, were each loaded as the busiest is.

    chargers: in parallel [1]
    own: phases each of them is made for [1]
    phases: they draw from together [1]
    busiest: chargers that draw from the busiest phase [1]
    result: [1]
    source: definition-ac-power
    """
    return chargers * min(own, phases) / busiest


def supply_draw(*, power: float, efficiency: float, voltage: float, phases: float) -> float:
    """Return the current a charger draws in each phase to give an output.

    power: its output [W]
    efficiency: from the supply to its output [1]
    voltage: of the supply, across one phase [V]
    phases: it draws from [1]
    result: current in each phase [A]
    source: definition-ac-power
    """
    return power / (efficiency * voltage * phases)


def supply_power(*, voltage: float, current: float, phases: float) -> float:
    """Return the power drawn from a supply.

    voltage: across one phase [V]
    current: in each phase [A]
    phases: drawn from [1]
    result: power [W]
    source: definition-ac-power
    """
    return voltage * current * phases


def charger_output(*, rating: float, supply: float, efficiency: float) -> float:
    """Return what a charger gives: its rating, or what the supply leaves it.

    rating: its output at most [W]
    supply: power it may draw [W]
    efficiency: from the supply to its output [1]
    result: output [W]
    source: definition-machine-efficiency
    """
    return min(rating, supply * efficiency)


def into_battery(*, output: float, loads: float) -> float:
    """Return what of a charger's output the battery gets.

    output: of the charger [W]
    loads: pumps and controls that run meanwhile [W]
    result: power, none where the loads take all of it [W]
    source: definition-electric-power
    """
    return max(output - loads, 0.0)


def range_rate(*, power: float, stored: float, consumption: float) -> float:
    """Return the range a charging power adds in a time.

    power: into the battery [W]
    stored: share of it that is stored [1]
    consumption: of the battery per distance [J/m]
    result: range over time [m/s]
    source: mechanics-definitions
    """
    return power * stored / consumption


def pump_time(*, distance: float, fuel: float, flow: float) -> float:
    """Return the time to pump the fuel an engine needs for a distance.

    distance: to drive [m]
    fuel: consumption of the engine [m^3/m]
    flow: of the pump [m^3/s]
    result: time [s]
    source: mechanics-definitions
    """
    return distance * fuel / flow


def tank_range(*, tank: float, fuel: float) -> float:
    """Return how far a tank of fuel went.

    tank: its volume [m^3]
    fuel: consumption of the engine [m^3/m]
    result: distance [m]
    source: mechanics-definitions
    """
    return tank / fuel


def charge_cost(*, energy: float, price: float) -> float:
    """Return what a charge costs.

    energy: from the supply [J]
    price: of energy, in the owner's money [1/J]
    result: in the owner's money [1]
    source: definition-price
    """
    return energy * price


def window_filled(*, full: float, top: float) -> float:
    """Return the share of the top of the usable window that a charge reaches.

    full: state of charge at which a charge has died away [1]
    top: of the usable window [1]
    result: [1]
    source: definition-charge
    """
    return full / top


def share_stored(*, stored: float, drawn: float) -> float:
    """Return the share of the energy drawn from a supply that a charge stores.

    stored: in the cells [J]
    drawn: from the supply [J]
    result: efficiency of the whole charge [1]
    source: definition-machine-efficiency
    """
    return stored / drawn


_I = Symbol("current", "A", 0.0, 125.0, "current in each phase")
_V = Symbol("voltage", "V", 80.0, 500.0, "supply voltage")
_N = Symbol("phases", "1", 1.0, 3.0, "phases", "count")
_ETA = Symbol("efficiency", "1", 0.5, 1.0, "efficiency of the charger", "fraction")
_P = Symbol("power", "W", 100.0, 5e4, "charger output", "power")
_FUEL = Symbol("fuel", "m^3/m", 1e-8, 1e-6, "fuel consumption", "fuel_consumption")

CONTINUOUS_CURRENT = Working(
    continuous_current,
    "I_b * k",
    {
        "I_b": Symbol("rating", "A", 6.0, 125.0, "rating of the circuit", "current"),
        "k": Symbol("share", "1", 0.5, 1.0, "share for hours", "fraction"),
    },
    Symbol("continuous_current", "A", 0.0, 125.0, "current for hours", "current"),
    ("nec-2023-continuous-load",),
    "the circuit feeds nothing else",
    "wiring that is old, long or hot; what else the meter's fuse feeds",
)
PHASES_COUNTED = Working(
    phases_counted,
    "k * Min(m, n) / b",
    {
        "k": Symbol("chargers", "1", 1.0, 10.0, "chargers", "count"),
        "m": Symbol("own", "1", 1.0, 3.0, "phases of each", "count"),
        "n": _N,
        "b": Symbol("busiest", "1", 1.0, 10.0, "chargers on the busiest phase", "count"),
    },
    Symbol("phases_counted", "1", 0.0, 30.0, "phases loaded as the busiest", "count"),
    ("definition-ac-power",),
    "chargers alike, spread over the phases as evenly as they can be",
    "chargers all wired to one phase",
)
SUPPLY_DRAW = Working(
    supply_draw,
    "P / (eta * V * n)",
    {"P": _P, "eta": _ETA, "V": _V, "n": _N},
    Symbol("supply_draw", "A", 0.0, 1e4, "current from the supply", "current"),
    ("definition-ac-power",),
    "a power factor of one; phases loaded alike",
    "the first instant at the plug",
)
SUPPLY_POWER = Working(
    supply_power,
    "V * I * n",
    {"V": _V, "I": _I, "n": _N},
    Symbol("supply_power", "W", 0.0, 2e5, "power from the supply", "power"),
    ("definition-ac-power",),
    "a power factor of one; phases loaded alike",
    "sag of the supply's voltage",
)
CHARGER_OUTPUT = Working(
    charger_output,
    "Min(P_r, P_s * eta)",
    {
        "P_r": Symbol("rating", "W", 100.0, 5e4, "rated output", "power"),
        "P_s": Symbol("supply", "W", 100.0, 5e4, "power from the supply", "power"),
        "eta": _ETA,
    },
    Symbol("charger_output", "W", 0.0, 5e4, "charger output", "power"),
    ("definition-machine-efficiency", "definition-least-limit"),
    "one efficiency from full power to the least",
    "a charger that cuts back in the heat",
)
INTO_BATTERY = Working(
    into_battery,
    "Max(P_o - P_l, 0)",
    {
        "P_o": Symbol("output", "W", 0.0, 5e4, "charger output", "power"),
        "P_l": Symbol("loads", "W", 0.0, 400.0, "loads while charging", "power"),
    },
    Symbol("into_battery", "W", 0.0, 5e4, "power into the battery", "power"),
    ("definition-electric-power",),
    "",
    "",
)
RANGE_RATE = Working(
    range_rate,
    "P * eta / c",
    {
        "P": Symbol("power", "W", 100.0, 3e5, "power into the battery", "power"),
        "eta": Symbol("stored", "1", 0.5, 1.0, "share stored", "fraction"),
        "c": Symbol("consumption", "J/m", 200.0, 2000.0, "battery consumption", "consumption"),
    },
    Symbol("range_rate", "m/s", 0.0, 2000.0, "range per time of charging", "range_rate"),
    ("mechanics-definitions",),
    "full power: the slow end of a charge is left out",
    "cold, hills, a roof load: as the consumption it stands on",
)
PUMP_TIME = Working(
    pump_time,
    "s * f / Q",
    {
        "s": Symbol("distance", "m", 1e3, 1e6, "distance", "distance"),
        "f": _FUEL,
        "Q": Symbol("flow", "m^3/s", 1e-4, 1e-2, "flow of the pump", "flow"),
    },
    Symbol("pump_time", "s", 0.0, 1e5, "time at the pump", "time"),
    ("mechanics-definitions",),
    "",
    "the way to the pump, the queue and the till",
)
TANK_RANGE = Working(
    tank_range,
    "V / f",
    {"V": Symbol("tank", "m^3", 5e-3, 0.2, "tank", "volume"), "f": _FUEL},
    Symbol("tank_range", "m", 0.0, 1e8, "range of the tank", "distance"),
    ("mechanics-definitions",),
    "",
    "the reserve",
)
CHARGE_COST = Working(
    charge_cost,
    "E * p",
    {
        "E": Symbol("energy", "J", 1e6, 1e9, "energy from the supply"),
        "p": Symbol("price", "1/J", 1e-9, 1e-6, "price of energy", "price_of_energy"),
    },
    Symbol("charge_cost", "1", 0.0, 1e3, "cost of a charge", "money"),
    ("definition-price",),
    "one price at all hours",
    "standing charges",
)
SHARE_STORED = Working(
    share_stored,
    "E_s / E_w",
    {
        "E_s": Symbol("stored", "J", 1e6, 1e9, "energy stored"),
        "E_w": Symbol("drawn", "J", 1e6, 1e9, "energy from the supply"),
    },
    Symbol("share_stored", "1", 0.0, 1e3, "efficiency of a charge", "fraction"),
    ("definition-machine-efficiency",),
    "",
    "",
)
WINDOW_FILLED = Working(
    window_filled,
    "z_f / z_t",
    {
        "z_f": Symbol("full", "1", 0.0, 1.0, "charge died away at", "fraction"),
        "z_t": Symbol("top", "1", 0.1, 1.0, "top of the usable window", "fraction"),
    },
    Symbol("window_filled", "1", 0.0, 1e3, "share of the window's top reached", "fraction"),
    ("definition-charge",),
    "",
    "",
)

WORKINGS: tuple[Working, ...] = (
    CONTINUOUS_CURRENT,
    PHASES_COUNTED,
    SUPPLY_DRAW,
    SUPPLY_POWER,
    CHARGER_OUTPUT,
    INTO_BATTERY,
    RANGE_RATE,
    PUMP_TIME,
    TANK_RANGE,
    CHARGE_COST,
    SHARE_STORED,
    WINDOW_FILLED,
)
