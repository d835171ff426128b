"""Quantities as people write them: a text with a unit in, an SI number out, and back again."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from swapwright.base.display import both_worlds, show
from swapwright.base.errors import UnitError, WorkingError
from swapwright.base.kinds import BARE_GALLONS, KINDS, Kind, Unit, gauge_area, squash
from swapwright.base.nearest import nearest

__all__ = [
    "KINDS",
    "Kind",
    "Quantity",
    "Unit",
    "bare_gallon",
    "both_worlds",
    "kind_of_unit",
    "parse",
    "show",
    "si_unit",
    "unit_of",
]

LONGEST = 200

_NUMBER = (
    r"[+-]?(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?(?![0-9,])"
    r"|[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]+)?(?![0-9])"
    r"|[0-9]+(?:\.(?!\.)[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
)
_MEASURED = re.compile(rf"((?>{_NUMBER}))\s*+((?![-.*^·]).*)", re.DOTALL)
_GRADE = re.compile(r"1\s*(?:in|:)\s*([0-9.]+)")
_GAUGE = re.compile(r"#?\s*(AWG)?\s*(?:([1-4])/0|(0{1,4})|([1-9][0-9]?))\s*(AWG)?", re.I)
_DASHED = re.compile(r"([0-9.]+)\s*(?:-|–|—|to|…)\s*([0-9.]+)(.*)", re.DOTALL)
_SPACES = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2212": "-"})


@dataclass(frozen=True)
class Quantity:
    """A quantity as written: its text, its SI value and SI unit, and its range where it has one."""

    text: str
    si: float
    unit: str
    low: float | None = None
    high: float | None = None


def parse(text: str, kind: str) -> Quantity:
    """Return the quantity a text says: ``150 hp``, ``0.30..0.38 m^2``, ``2/0 AWG``.

    ``kind`` names the quantity kind. A range ``a..b`` gives its middle as the SI value.
    Raises UnitError, naming what is allowed, when the text is not such a quantity.
    """
    the_kind = _kind(kind)
    if len(text) > LONGEST:
        raise UnitError(f"a quantity of {len(text)} characters is too long", _allowed(the_kind))
    clean = text.translate(_SPACES).strip()
    special = _special(clean, kind)
    if special is not None:
        return Quantity(clean, _bounded(special, clean, the_kind), the_kind.unit)
    if ".." in clean:
        return _range(clean, the_kind)
    number, spelling = _split(clean, the_kind)
    si = _convert(number, unit_of(spelling, kind, given=clean), clean, the_kind)
    return Quantity(clean, si, the_kind.unit)


def unit_of(spelling: str, kind: str, *, given: str = "") -> Unit:
    """Return the unit a spelling names for a kind; raise UnitError where it names none.

    ``given`` is the whole text, for the message. Upper and lower case may vary, but not in a unit
    that begins with m or M: a milliohm is no megohm.
    """
    the_kind = _kind(kind)
    squashed = squash(spelling)
    found = the_kind.units.get(squashed)
    if found is not None:
        return found
    if not squashed.startswith(("m", "M")):
        folded = squashed.casefold()
        for known, unit in the_kind.units.items():
            if known.casefold() == folded and not known.startswith("M"):
                return unit
    _refuse_a_dash(given, the_kind)
    raise _no_such_unit(spelling, the_kind, given)


def bare_gallon(text: str) -> str:
    """Return ``gal``, ``mpg`` or ``gpm`` where a quantity's text does not say whose gallon it is.

    Empty for any other text.
    """
    for end in text.translate(_SPACES).split(".."):
        match = _MEASURED.fullmatch(end.strip())
        if match is not None and (unit := BARE_GALLONS.get(squash(match[2]).casefold())):
            return unit
    return ""


def si_unit(kind: str) -> str:
    """Return the SI unit of a kind."""
    return _kind(kind).unit


def kind_of_unit(unit: str) -> str:
    """Return the first kind with an SI unit; raise UnitError where there is none."""
    for name, kind in KINDS.items():
        if kind.unit == unit:
            return name
    units = {kind.unit.replace(".", ""): kind.unit for kind in KINDS.values()}
    likeliest = units.get(unit) or nearest(unit, units.values())  # the dot is what people leave out
    raise UnitError(f"no quantity is kept in {unit!r}", nearest=likeliest)


def _kind(name: str) -> Kind:
    try:
        return KINDS[name]
    except KeyError:
        raise WorkingError(f"there is no quantity kind {name!r}") from None


def _allowed(kind: Kind) -> str:
    units = [spelling for spelling in kind.offered if spelling]
    words = ", ".join(units)
    if kind.name == "conductor_area":
        words += ", AWG (2 AWG, 2/0 AWG)"
    if not kind.is_plain:
        return f"{kind.label}: {words}"
    return f"{kind.label}: a plain number" + (f" or {words}" if units else "")


def _split(text: str, kind: Kind) -> tuple[float, str]:
    """Return the number and the unit's spelling of one text."""
    if not text:
        raise UnitError("nothing is written here", _allowed(kind))
    match = _MEASURED.fullmatch(text)
    if match is None:
        _refuse_a_dash(text, kind)
        raise UnitError(f"{text!r} is not a number with a unit", _allowed(kind))
    digits, spelling = match[1], match[2]
    if spelling.startswith(","):
        pointed = f"{digits}.{spelling[1:]}".replace(",", "")
        raise UnitError("a decimal comma cannot be read: use a point", _allowed(kind), pointed)
    return float(digits.replace(",", "").replace(" ", "")), spelling


def _refuse_a_dash(text: str, kind: Kind) -> None:
    match = _DASHED.fullmatch(text)
    if match is not None:
        likely = f"{match[1]}..{match[2]}{match[3]}"
        raise UnitError("a range is written with two points", _allowed(kind), likely)


def _range(text: str, kind: Kind) -> Quantity:
    below, _, above = text.partition("..")
    low_number, low_spelling = _split(below.strip(), kind)
    high_number, high_spelling = _split(above.strip(), kind)
    low_unit = unit_of(low_spelling or high_spelling, kind.name, given=text)
    high_unit = unit_of(high_spelling or low_spelling, kind.name, given=text)
    low = _convert(low_number, low_unit, text, kind)
    high = _convert(high_number, high_unit, text, kind)
    if low_unit.inverse and high_unit.inverse:
        low, high = high, low
    if kind.name == "count":
        raise UnitError("a whole number cannot be a range", _allowed(kind))
    if low > high:
        raise UnitError("the range is upside down: write the lower end first", _allowed(kind))
    return Quantity(text, low / 2.0 + high / 2.0, kind.unit, low, high)


def _convert(number: float, unit: Unit, text: str, kind: Kind) -> float:
    return _bounded(unit.to_si(number), text, kind)


def _bounded(si: float, text: str, kind: Kind) -> float:
    if not math.isfinite(si):
        raise UnitError(f"{text!r} is not a finite number", _allowed(kind))
    if kind.name == "count" and si != int(si):
        raise UnitError(f"{text!r} is not a whole number", _allowed(kind))
    if not kind.low <= si <= kind.high:
        raise UnitError(f"{text!r} is beyond what {kind.label} can be", _allowed(kind))
    return si


def _special(text: str, kind: str) -> float | None:
    """Return the SI value of a text in a form only one kind has: 2/0 AWG, 41:10, 1 in 8."""
    if kind == "conductor_area":
        return _gauge_area(text)
    if kind == "grade":
        match = _GRADE.fullmatch(text)
        return None if match is None else 1.0 / _part(match[1], kind)
    if kind in ("ratio", "factor") and ":" in text:
        top, _, bottom = text.partition(":")
        return _part(top, kind) / _part(bottom, kind)
    return None


def _part(text: str, kind: str) -> float:
    """Return one side of a ratio, which must be a number above zero."""
    number, spelling = _split(text.strip(), KINDS[kind])
    if spelling or not number > 0.0:
        message = f"{text.strip()!r} cannot stand in a ratio"
        raise UnitError(message, "two numbers above zero: 41:10")
    return number


def _gauge_area(text: str) -> float | None:
    """Return the area [m^2] of an American wire gauge from 40 to 4/0; source astm-b258-2018."""
    match = _GAUGE.fullmatch(text)
    if match is None or (match[1] is None) == (match[5] is None):
        return None
    if match[2]:
        number = 1 - int(match[2])
    elif match[3]:
        number = 1 - len(match[3])
    else:
        number = int(match[4])
    if number > 40:
        return None
    return gauge_area(number)


def _no_such_unit(spelling: str, kind: Kind, given: str) -> UnitError:
    if not spelling.strip():
        example = f"{given} {kind.offered[0]}" if given else kind.offered[0]
        return UnitError(f"{kind.label} needs a unit", _allowed(kind), example)
    squashed = squash(spelling)
    elsewhere = [other.noun for other in KINDS.values() if squashed in other.units]
    if elsewhere:
        message = f"{spelling!r} is a unit of {elsewhere[0]}, not of {kind.noun}"
        return UnitError(message, _allowed(kind))
    by_case = {
        kind.units[squash(name)]: name
        for name in reversed(kind.spellings)
        if squash(name).casefold() == squashed.casefold()
    }
    likely = " or ".join(by_case.values()) or nearest(spelling, filter(None, kind.spellings))
    return UnitError(f"{spelling!r} is not a unit of {kind.noun}", _allowed(kind), likely)
