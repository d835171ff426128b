"""The switches of a car as a person throws them on paper: which are closed, what is joined."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.assess.circuit.section import FROM_OUTSIDE, SwitchState
from swapwright.assess.queries import RUNNING, STATES, switch_state
from swapwright.base.errors import Problem
from swapwright.base.nearest import nearest
from swapwright.build.car import Car
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit
from swapwright.jobs.circuit import STATE_WORDS

MOST_NAMED = 60
"""Characters of a name nobody knows that are repeated."""


@dataclass(frozen=True)
class Switch:
    """One switch of the circuit; one pole of a device that stands in both."""

    name: str
    kind: str
    is_closed: bool


@dataclass(frozen=True)
class Outside:
    """Something outside the circuit that makes sources of converters while it is joined."""

    name: str
    makes: tuple[str, ...]
    is_joined: bool


@dataclass(frozen=True)
class Thrown:
    """A car's switches as thrown; ``named`` is the state of that name, empty where it has none.

    Where ``problems`` are told everything counts as closed and joined: what is not understood
    never makes a section look better.
    """

    state: SwitchState
    named: str
    switches: tuple[Switch, ...]
    outside: tuple[Outside, ...]
    problems: tuple[Problem, ...] = ()


def thrown_to(car: Car, named: str) -> Thrown:
    """Return a car's switches in one of the named states."""
    if named not in STATES:
        problem = _unknown("there is no such state of the switches", named, STATES)
        return _thrown(car, switch_state(car, RUNNING), (problem,))
    return _thrown(car, switch_state(car, named))


def thrown(car: Car, closed: Iterable[str], joined: Iterable[str]) -> Thrown:
    """Return a car's switches thrown one by one: the closed ones and what is joined, by name."""
    found = circuit_of(car)
    switches = [element.name for element in found.elements if element.is_switch]
    sources = _sources(found)
    shut, joint = frozenset(closed), frozenset(joined)
    problems = [
        _unknown("this car has no such switch", name, switches)
        for name in sorted(shut - set(switches))
    ]
    problems += [
        _unknown("nothing of this name can be joined", name, sources)
        for name in sorted(joint - set(FROM_OUTSIDE.values()))
    ]
    if problems:
        return _thrown(car, switch_state(car, RUNNING), tuple(problems))
    return _thrown(car, SwitchState(shut, joint))


def switch_words(car: Car, state: SwitchState) -> str:
    """Return a state of a car's switches in words: its name, or what is closed and joined."""
    as_thrown = _thrown(car, state)
    if as_thrown.named:
        return STATE_WORDS[as_thrown.named]
    closed = ", ".join(each.name for each in as_thrown.switches if each.is_closed)
    joined = ", ".join(each.name for each in as_thrown.outside if each.is_joined)
    return f"closed: {closed or 'none'}; joined: {joined or 'nothing'}"


def _thrown(car: Car, state: SwitchState, problems: tuple[Problem, ...] = ()) -> Thrown:
    found = circuit_of(car)
    sources = _sources(found)
    return Thrown(
        state,
        next((each for each in STATES if _is_same(car, state, each, sources)), ""),
        tuple(
            Switch(element.name, element.kind, element.name in state.closed)
            for element in found.elements
            if element.is_switch
        ),
        tuple(Outside(name, makes, name in state.joined) for name, makes in sources.items()),
        problems,
    )


def _is_same(car: Car, state: SwitchState, named: str, sources: Iterable[str]) -> bool:
    other = switch_state(car, named)
    there = frozenset(sources)
    return state.closed == other.closed and state.joined & there == other.joined & there


def _sources(circuit: Circuit) -> dict[str, tuple[str, ...]]:
    """Return what can be joined from outside, and of which converters it makes sources."""
    found: dict[str, tuple[str, ...]] = {}
    for element in circuit.elements:
        outside = FROM_OUTSIDE.get(element.kind)
        if outside is not None:
            found[outside] = (*found.get(outside, ()), element.name)
    return found


def _unknown(message: str, given: str, names: Iterable[str]) -> Problem:
    known = list(names)
    given = given[:MOST_NAMED]
    return Problem("", "", message, given, ", ".join(known), nearest(given, known))
