"""Which cars are charged with alternating current, and which may be where the file leaves it open.

What a file does not say may be there: a charger whose inlet is not named has one.
"""

from __future__ import annotations

from swapwright.assess.rules.compare import asks_for
from swapwright.build.car import Car
from swapwright.standards.inlets import CODED_INLETS, FAST_INLETS, INLETS

INLET, STATION = "charging.inlet", "charging.station"
SUPPLY, VOLTAGE, BREAKER = (f"charging.supply.{key}" for key in ("current", "voltage", "breaker"))
is_supplied = asks_for("charging.charger", SUPPLY, VOLTAGE, BREAKER)
has_plug = asks_for("charging.charger", SUPPLY, VOLTAGE, BREAKER, INLET, STATION)


def lacks_inlet(car: Car) -> bool:
    """Tell whether something is there that an inlet belongs to, and no inlet is named."""
    return INLET not in car.texts and has_plug(car)


def takes_ac(car: Car) -> bool:
    """Tell whether the inlet has contacts for alternating current, or may have."""
    inlet = INLETS.get(car.texts.get(INLET, ""))
    return lacks_inlet(car) if inlet is None else inlet.phases is not None


def charges_ac(car: Car) -> bool:
    """Tell whether anything in the file is charged with alternating current."""
    inlet = INLETS.get(car.texts.get(INLET, ""))
    return is_supplied(car) or (inlet is not None and inlet.phases is not None)


def may_be_coded(car: Car) -> bool:
    """Tell whether the inlet's loose cable has a coding, or may have where none is named."""
    return car.texts.get(INLET) in CODED_INLETS or (INLET not in car.texts and is_supplied(car))


def is_fast(car: Car) -> bool:
    """Tell whether the inlet brings direct current; of a station whose inlet is not named it may."""
    return car.texts.get(INLET) in FAST_INLETS or (INLET not in car.texts and car.has(STATION))


def at_station(car: Car) -> bool:
    """Tell whether the car is charged at a station described, or may be."""
    return is_fast(car) and car.has(STATION)
