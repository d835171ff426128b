"""What stands in the circuit of a car whose highest voltage is known: shares of it, in volts."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.circuit.section import SectionState
from swapwright.build.circuit.model import Element
from swapwright.standards.voltage_class import MAX_CLASS_A_DC


@dataclass(frozen=True)
class Spans:
    """Voltages V of a section: the highest between two points, what of it is left without charge,
    and the highest to the chassis with one isolation fault.
    """

    between: float
    driven: float
    to_chassis: float


def section_spans(state: SectionState, highest: float) -> Spans:
    """Return the voltages of a section, ``highest`` V being the pack's in any state."""
    return Spans(state.span * highest, state.driven_span * highest, state.pole_span * highest)


def box_voltage(pack: Element, highest: float) -> float:
    """Return the most V the ends of a box of modules can stand apart."""
    return pack.share * highest


def box_modules(pack: Element, in_string: float) -> int:
    """Return how many modules a box holds of a string of so many."""
    return round(pack.share * in_string)


def is_class_b(highest: float) -> bool:
    """Tell whether a circuit with this highest voltage [V] is of voltage class B, as a whole."""
    return highest > MAX_CLASS_A_DC.si
