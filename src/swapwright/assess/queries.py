"""Questions asked of one car beside its assessment: pure functions of the car and a state."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.circuit.earth import EarthResult, earth_faults
from swapwright.assess.circuit.emptying import Emptied, emptied
from swapwright.assess.circuit.fault import solve
from swapwright.assess.circuit.filling import Filled, FillingCase, filled
from swapwright.assess.circuit.place import Place, places
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.section import (
    CONTACTORS,
    SectionState,
    SwitchState,
    live_or_not,
)
from swapwright.assess.circuit.short import ShortResult, short_circuit
from swapwright.assess.solve import before_circuit
from swapwright.assess.weight_query import weight_findings_with as weight_findings_with
from swapwright.assess.weight_query import weights_with as weights_with
from swapwright.base.errors import Missing
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.physics.circuit.network import NetworkError

KEY_OFF, RUNNING, GAP_OPEN = "key-off", "running", "disconnect-open"
STATES = (KEY_OFF, GAP_OPEN, RUNNING)
"""The car at rest with the key off; its service disconnect open too, everything from outside taken
away; and driving."""


@lru_cache(maxsize=4)
def _book(car: Car) -> FigureBook:
    """Return a car's figures with its circuit's, made once."""
    book = FigureBook(car)
    before_circuit(book)
    circuit(book)
    return book


def number_of(car: Car, name: str) -> float | None:
    """Return the SI number of a figure or an entry of a car, None where there is none."""
    return _book(car).get(name)


def switch_state(car: Car, state: str) -> SwitchState:
    """Return the switches of a car in one of the states; no contactor counts as measured."""
    switches = [element for element in circuit_of(car).elements if element.is_switch]
    if state == RUNNING:
        return SwitchState(frozenset(element.name for element in switches))
    if state == GAP_OPEN:
        return SwitchState(joined=frozenset())
    gaps = frozenset(element.name for element in switches if element.kind == model.DISCONNECT)
    return SwitchState(gaps)


def section_states(car: Car, state: SwitchState | str) -> tuple[SectionState, ...]:
    """Return what each section of the circuit is in a state of the switches."""
    switches = switch_state(car, state) if isinstance(state, str) else state
    return live_or_not(circuit_of(car), switches)


def welded_states(car: Car, welded: Iterable[str]) -> tuple[SectionState, ...]:
    """Return what each section is with the key off, some contactors welded, all others open."""
    stuck = frozenset(welded)
    found = circuit_of(car)
    gaps = {element.name for element in found.of_kind(model.DISCONNECT)}
    others = {e.name for e in found.elements if e.kind in CONTACTORS} - stuck
    return live_or_not(found, SwitchState(stuck | gaps, measured_open=frozenset(others)))


def fault_at(car: Car, place: Place, *, state: str = FULL) -> ShortResult:
    """Return what a dead short between the poles at a place does; raise Missing."""
    book = _book(car)
    with _told():
        return short_circuit(book, solve(book, state, places(book.circuit)), place, state)


def precharge_with(car: Car, case: FillingCase) -> Filled:
    """Return how the link fills in a case; raise Missing where it cannot."""
    with _told():
        return filled(_book(car), case)


def discharge_with(car: Car, opened: Iterable[str] = ()) -> tuple[Emptied, ...]:
    """Return how each section empties with some of its paths open; raise Missing."""
    with _told():
        return emptied(_book(car), tuple(opened))


def earthed(car: Car, nodes: tuple[str, ...]) -> tuple[EarthResult, ...]:
    """Return what one or two nodes on the chassis do, the gap closed and open; raise Missing."""
    with _told():
        return earth_faults(_book(car), nodes)


@contextmanager
def _told() -> Iterator[None]:
    """Turn a network that cannot be solved into a figure that cannot be made."""
    try:
        yield
    except NetworkError as error:
        raise Missing(reason=str(error)) from None
