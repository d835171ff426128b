"""What a meter showed: read as it was typed, and held against what was expected.

No value is ever refused. One that does not fit is the most important of all: it is the welded
contactor, the second source, or the dead lead.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from swapwright.base.errors import UnitError
from swapwright.base.quantity import parse
from swapwright.procedures.step import Quantity, ReadingSpec
from swapwright.standards import procedures as table

KIND_OF: Mapping[Quantity, str] = MappingProxyType(
    {
        "dc voltage": "voltage",
        "ac voltage": "voltage",
        "resistance": "resistance",
        "current": "current",
        "temperature": "temperature",
    }
)

Word = Literal[
    "as expected",
    "higher than expected",
    "lower than expected",
    "not verified: find the source",
    "above the class boundary",
    "risen since the first reading",
]

_NUMBER = re.compile(r"\s*[-+−]?\s*(\d*)(?:[.,](\d+))?\s*(.*)", re.DOTALL)
_DECIMAL_COMMA = re.compile(r"^(\s*[-+−]?\d+),(\d+)")
_ABOUT = re.compile(r"\s*([<>≤≥~≈])")
_ABOVE = (">", "≥")
_OVER = re.compile(r"\s*(?:[-+−]?\s*OL|over\s*range|overload)\b.*", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True)
class Entered:
    """A reading in SI; infinite where the meter said it was over its range.

    ``step`` is what one count of its last digit is worth.
    """

    si: float
    step: float = 0.0


@dataclass(frozen=True)
class AskAgain:
    """A text that is not yet a reading: what to type, and whether it is kept as a first entry.

    A number without its unit, or with the unit of another quantity, is kept as it was typed.
    """

    words: str
    is_kept: bool


def read(text: str, quantity: Quantity, unit: str) -> Entered | AskAgain:
    """Return what a typed text says; ``unit`` is the one a person is asked for.

    Where a comma may part thousands or decimals, the larger reading counts.
    """
    if _OVER.fullmatch(text):
        return Entered(math.inf)
    about = _ABOUT.match(text)
    if about is not None:
        return _about(about[1], read(text[about.end() :], quantity, unit), quantity)
    found = _parsed(text, KIND_OF[quantity])
    if found is not None:
        return Entered(found, _last_digit(text, KIND_OF[quantity]))
    match = _NUMBER.fullmatch(text)
    if match is None or not (match[1] or match[2]):
        return AskAgain(f"not a number with a unit: type it as on the meter, as 0.3 {unit}", False)
    return AskAgain(f"which unit? Type the number with it, as 0.3 {unit}", True)


def _about(sign: str, found: Entered | AskAgain, quantity: Quantity) -> Entered | AskAgain:
    """Return a reading that is told as about, above or below a number.

    Above a number of volts there may be any; of ohms the number is the least there is.
    """
    if isinstance(found, Entered) and sign in _ABOVE and KIND_OF[quantity] == "voltage":
        return Entered(math.inf)
    return found


def _parsed(text: str, kind: str) -> float | None:
    for each in (text, _DECIMAL_COMMA.sub(r"\1.\2", text)):
        if ".." in each:
            return None
        try:
            return parse(each, kind).si
        except UnitError:
            continue
    return None


def _last_digit(text: str, kind: str) -> float:
    """Return what one count of a reading's last digit is worth, SI; 0 where it cannot be told."""
    match = _NUMBER.fullmatch(_DECIMAL_COMMA.sub(r"\1.\2", text))
    if match is None:
        return 0.0
    try:
        one, none = parse(f"1 {match[3]}", kind).si, parse(f"0 {match[3]}", kind).si
    except UnitError:
        return 0.0
    return float((one - none) * 10.0 ** -len(match[2] or ""))


@dataclass(frozen=True)
class Judgement:
    """What a reading is against its step; ``stops`` tells whether the job stops by it."""

    word: Word
    words: str

    @property
    def stops(self) -> bool:
        """Tell whether the job stops and the car is treated as live."""
        return self.word != "as expected"


def judge(spec: ReadingSpec, entered: Entered, first: Entered | None = None) -> Judgement:
    """Hold a reading against its step; ``first`` is the one of the first round, where it repeats.

    A voltage counts whichever way round the leads were. Both directions contradict: nothing where
    volts were expected is a dead lead, a wrong point or a blown fuse in the meter.
    """
    is_voltage = KIND_OF[spec.quantity] == "voltage"
    value = abs(entered.si) if is_voltage else entered.si
    if spec.limit is not None and value > spec.limit:
        return _above(spec, value)
    if value > spec.expected.high:
        return Judgement("higher than expected", spec.expected.words)
    if value < spec.expected.low:
        return Judgement("lower than expected", spec.expected.words)
    if first is not None and is_voltage and value - abs(first.si) > _allowed(entered, first):
        return Judgement(
            "risen since the first reading", "something feeds it: a source is still there"
        )
    return Judgement("as expected", spec.expected.words)


def _allowed(entered: Entered, first: Entered) -> float:
    """Return by how much a reading may differ by its last digit alone."""
    return max(entered.step, first.step) * 1.000_001


def _above(spec: ReadingSpec, value: float) -> Judgement:
    is_ac = spec.quantity == "ac voltage"
    boundary = table.CLASS_BOUNDARY_AC if is_ac else table.CLASS_BOUNDARY_DC
    if value > boundary.si:
        return Judgement("above the class boundary", "high voltage stands here: treat it as live")
    return Judgement(
        "not verified: find the source",
        "it is below the class boundary, and above what absence may be verified at",
    )
