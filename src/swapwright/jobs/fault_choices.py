"""What of a car's circuit can be told to go wrong: places, loads, what may be open."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.circuit.place import places
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of

_MAY_BE_OPEN = (
    model.PRECHARGE_RELAY,
    model.PRECHARGE_RESISTOR,
    model.BLEED,
    model.ACTIVE_DISCHARGE,
    model.LINK,
)
_EMPTYING = (model.BLEED, model.ACTIVE_DISCHARGE)


@dataclass(frozen=True)
class FaultChoices:
    """The names a fault may be asked at: places, loads left on, what is open in each of two."""

    places: tuple[str, ...]
    loads: tuple[str, ...]
    open_in_precharge: tuple[str, ...]
    open_in_discharge: tuple[str, ...]
    has_precharge: bool


def fault_choices(car: Car) -> FaultChoices:
    """Return what can be told to go wrong in a car's circuit."""
    circuit = circuit_of(car)
    return FaultChoices(
        tuple(place.name for place in places(circuit)),
        tuple(device.name for device in circuit.devices_of(*model.CONVERTERS)),
        tuple(device.name for device in circuit.devices_of(*_MAY_BE_OPEN)),
        tuple(device.name for device in circuit.devices_of(*_EMPTYING)),
        bool(circuit.devices_of(model.PRECHARGE_RESISTOR)),
    )
