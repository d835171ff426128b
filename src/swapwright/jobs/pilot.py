"""What a mechanic reads at a charging inlet: the pilot's volts and duty, the proximity's ohms."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.quantity import parse
from swapwright.jobs.check import NOTHING_OPEN, OPEN
from swapwright.standards.pilot import (
    NOT_READY,
    STATE_TOLERANCE,
    Proximity,
    band_of,
    pilot_current,
    pilot_state,
    proximity_of,
)

INLETS = ("type 1", "type 2")
NO_CURRENT = ("A", "E", "F")
WHERE = "readings"
ALLOWED = "a voltage, a duty in percent and a resistance, as '9 V' '53 %' '220 ohm'"
CAUTIONS = (
    "Mains stands at the inlet from state C on. Measure the pilot at a breakout of its own or with "
    "the plug's contacts covered, never with a probe beside the mains contacts.",
    "The pilot says nothing of the protective earth: measure its resistance to the body apart.",
    "Local law, the supply's and the charger's makers come first.",
)
_DUTY = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*%\s*")


@dataclass(frozen=True)
class PilotLine:
    """One thing a reading says: what was read, what it means, what to look at next."""

    read: str
    words: str
    next: str = ""
    sources: tuple[str, ...] = ()


@dataclass(frozen=True)
class PilotAnswer:
    """What the readings say together; ``current`` is the most the car may draw, A, None for none.

    ``is_told`` is false where a reading is none's, or two contradict each other.
    """

    lines: tuple[PilotLine, ...]
    current: float | None
    current_words: str
    is_told: bool

    @property
    def status(self) -> int:
        """The exit status: open where something has to be found out."""
        return NOTHING_OPEN if self.is_told else OPEN


@dataclass(frozen=True)
class _Read:
    volts: float | None = None
    duty: float | None = None
    ohms: float | None = None


def read_pilot(readings: Iterable[str], inlet: str) -> PilotAnswer:
    """Return what the readings at an inlet say; raise InputError for a text that is no reading."""
    if inlet not in INLETS:
        raise InputError(
            Problem(WHERE, "inlet", "there is no such inlet", inlet, ", ".join(INLETS))
        )
    read = _read(tuple(readings))
    lines = [
        *(_state(read.volts) if read.volts is not None else ()),
        *(_duty(read.duty) if read.duty is not None else ()),
        *(_proximity(read.ohms, inlet) if read.ohms is not None else ()),
    ]
    odd = [*_contradictions(read)]
    limit, words = _limit(read, inlet)
    return PilotAnswer(
        (*lines, *odd), limit, words, not odd and all(each.sources for each in lines)
    )


def _read(texts: tuple[str, ...]) -> _Read:
    if not texts:
        raise InputError(Problem(WHERE, "", "there is nothing to interpret", "", ALLOWED))
    found: dict[str, float] = {}
    for text in texts:
        kind, value = _one(text)
        if kind in found:
            raise InputError(
                Problem(WHERE, "", "this kind of reading is there twice", text, ALLOWED)
            )
        found[kind] = value
    return _Read(found.get("volts"), found.get("duty"), found.get("ohms"))


def _one(text: str) -> tuple[str, float]:
    duty = _DUTY.fullmatch(text)
    if duty is not None:
        value = float(duty[1].replace(",", "."))
        if value > NOT_READY:
            raise InputError(Problem(WHERE, "", "a duty is no more than 100 %", text, ALLOWED))
        return "duty", value
    for kind, name in (("voltage", "volts"), ("resistance", "ohms")):
        try:
            return name, parse(text, kind).si
        except UnitError:
            continue
    raise InputError(Problem(WHERE, "", "this is no reading of a pilot", text, ALLOWED))


def _state(volts: float) -> Iterable[PilotLine]:
    state = pilot_state(volts)
    if state is None:
        words = f"no state: each has {STATE_TOLERANCE.si:.0f} V to either side"
        what = "A loose contact, a resistor of another value, or the mean of a pulsed pilot: read "
        yield PilotLine(f"{volts:.4g} V", words, f"{what}its positive peak.")
        return
    words = f"state {state.letter}: {state.words}"
    yield PilotLine(f"{volts:.4g} V", words, state.next, (STATE_TOLERANCE.ref,))


def _duty(duty: float) -> Iterable[PilotLine]:
    source = (STATE_TOLERANCE.ref,)
    if duty == NOT_READY:
        yield PilotLine("100 %", "a steady pilot: the supply is not ready", "", source)
        return
    current = pilot_current(duty)
    told = "" if current is None else f"up to {current:.3g} A: "
    yield PilotLine(f"{duty:.4g} %", f"{told}{band_of(duty).words}", "", source)


def _proximity(ohms: float, inlet: str) -> Iterable[PilotLine]:
    found: Proximity | None = proximity_of(ohms, inlet)
    if found is None:
        words = f"no coding of a {inlet} plug"
        yield PilotLine(f"{ohms:.4g} ohm", words, "Read it with the plug in and the supply off.")
        return
    yield PilotLine(f"{ohms:.4g} ohm", found.words, "", (found.source,))


def _contradictions(read: _Read) -> Iterable[PilotLine]:
    """Yield what cannot be so together."""
    state = None if read.volts is None else pilot_state(read.volts)
    if state is None or read.duty is None:
        return
    is_pulsed = 0.0 < read.duty < NOT_READY
    if state.letter in ("E", "F") and is_pulsed:
        words = f"state {state.letter} has no pulses, and {read.duty:.4g} % was read"
        yield PilotLine("both", words, "Read both again, at the same contact.")


def _limit(read: _Read, inlet: str) -> tuple[float | None, str]:
    """Return the lowest of what pilot and cable allow, and in words whose it is."""
    state = None if read.volts is None else pilot_state(read.volts)
    if state is not None and state.letter in NO_CURRENT:
        return None, f"in state {state.letter} nothing flows"
    limits = []
    if read.duty is not None:
        current = None if read.duty == NOT_READY else pilot_current(read.duty)
        limits.append((0.0 if current is None else current, "the pilot"))
    cable = None if read.ohms is None else proximity_of(read.ohms, inlet)
    if cable is not None and cable.current is not None:
        limits.append((cable.current, "the cable"))
    if not limits:
        return None, "neither the pilot's duty nor a cable's coding was read"
    least, whose = min(limits)
    if least == 0.0:
        return None, f"{whose} allows none"
    words = f"{whose} allows no more; the charger's own limit may be lower still"
    return least, words if state is None or state.letter != "B" else f"once in state C; {words}"
