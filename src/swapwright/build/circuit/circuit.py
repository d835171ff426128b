"""The circuit of a car, from whichever form its file uses."""

from __future__ import annotations

from swapwright.build.car import Car
from swapwright.build.circuit.check import (
    MOST_ELEMENTS,
    circuit_faults,
    module_faults,
    name_faults,
    place_faults,
)
from swapwright.build.circuit.full_form import Fault, full_form
from swapwright.build.circuit.model import Circuit
from swapwright.build.circuit.short_form import short_form


def circuit_of(car: Car) -> Circuit:
    """Return the circuit of a car; an empty one where the file says nothing of it."""
    return circuit_and_faults(car)[0]


def circuit_and_faults(car: Car) -> tuple[Circuit, tuple[Fault, ...]]:
    """Return the circuit of a car and what is wrong with it, at their build paths."""
    if car.counts.get("hv.element", 0):
        circuit, faults = full_form(car)
        of_circuit = (*circuit_faults(circuit), *name_faults(circuit))
        return circuit, (*faults, *of_circuit, *module_faults(car, circuit))
    if not car.has("hv"):
        return Circuit(()), ()
    circuit = short_form(car)
    if len(circuit.elements) > MOST_ELEMENTS:
        return Circuit(()), (_too_many(len(circuit.elements)),)
    return circuit, (*place_faults(car), *name_faults(circuit))


def _too_many(elements: int) -> Fault:
    return Fault(
        "pack.strings",
        "the strings make a circuit of more elements than is solved",
        f"{elements} elements",
        f"at most {MOST_ELEMENTS}: count cells or modules side by side as parallel, not as strings",
    )
