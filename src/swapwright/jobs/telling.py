"""Numbers as people read them: with a band, told apart from their limit, in one unit."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.base.display import show, written
from swapwright.base.figure import Figure, Value
from swapwright.base.finding import Finding, Sense
from swapwright.jobs.grounds import finding_kind

MOST_DIGITS = 8
AT_THE_LIMIT = 1e-9
"""Share of a limit below which a value stands on it."""

_SENSES: Mapping[Sense, str] = {"at_most": "at most", "at_least": "at least", "within": "within"}
_OUTSIDE: Mapping[Sense, str] = {"at_most": "over", "at_least": "short", "within": "outside"}
_TOO: Mapping[Sense, str] = {"at_most": "too hot", "at_least": "too cold", "within": "outside"}


def tell(
    si: float,
    kind: str,
    profile: str,
    *,
    world: str = "electric",
    low: float | None = None,
    high: float | None = None,
    digits: int = 3,
) -> str:
    """Return an SI number as people read it; degrees apart are degrees, not kelvins."""
    text = show(si, kind, profile=profile, world=world, low=low, high=high, digits=digits)
    return text.replace(" K", " degC") if kind == "temperature_difference" else text


def value_text(value: Value, kind: str, profile: str, *, digits: int = 3) -> str:
    """Return a value as people read it, with its band where it has one.

    A value of no kind is shown in its SI unit.
    """
    if not kind:
        return f"{written(value.si, digits)} {value.unit}"
    return tell(value.si, kind, profile, low=value.low, high=value.high, digits=digits)


def both_texts(si: float, kind: str, profile: str) -> str:
    """Return an SI number in electric and engine terms: ``75.0 kW (102 PS)``.

    Where people think of power in horsepower, that comes first.
    """
    electric, engine = (tell(si, kind, profile, world=world) for world in ("electric", "engine"))
    if electric == engine:
        return electric
    is_turned = kind == "power" and profile != "metric"
    return f"{engine} ({electric})" if is_turned else f"{electric} ({engine})"


def in_one_unit(energies: Mapping[str, float]) -> Mapping[str, str]:
    """Return energies J as texts in one unit, so that they can be added up."""
    largest = max((abs(energy) for energy in energies.values()), default=0.0)
    unit, size, places = ("kWh", 3.6e6, 3) if largest >= 3.6e6 else ("Wh", 3600.0, 1)
    return {name: f"{energy / size:.{places}f} {unit}" for name, energy in energies.items()}


def against_limit(finding: Finding, figures: Mapping[str, Figure], profile: str) -> str:
    """Return a finding's value, its limit with where it comes from, and how far apart they are."""
    kind = finding_kind(finding, figures)
    value, limit = finding.value, finding.limit
    if value is None:
        return ""
    doubt = " (assumed)" if finding.assumed and not value.is_uncertain else ""
    if limit is None:
        return value_text(value, kind, profile) + doubt
    digits = _digits_apart(value, limit, kind, profile)
    said, bound = (value_text(each, kind, profile, digits=digits) for each in (value, limit))
    told = f"{said}{doubt}, {_SENSES[finding.sense]} {bound}{_whence(limit)}"
    apart = _apart(finding, value, limit, kind, profile)
    return f"{told}: {apart}" if apart else told


def _digits_apart(value: Value, limit: Value, kind: str, profile: str) -> int:
    """Return the digits it takes to tell a value from its limit."""
    bare = [Value(each.si, each.unit, each.origin, each.ref) for each in (value, limit)]
    for digits in range(3, MOST_DIGITS + 1):
        first, second = (value_text(each, kind, profile, digits=digits) for each in bare)
        if first != second:
            return digits
    return 3


def _whence(limit: Value) -> str:
    """Return in brackets what a limit is: a part's, an entry, a figure, a standard's."""
    if limit.origin == "part":
        return f" ({limit.ref.rpartition('/')[2]})"
    return " (assumed)" if limit.origin == "default" else f" ({limit.ref})"


def _apart(finding: Finding, value: Value, limit: Value, kind: str, profile: str) -> str:
    """Return how far a value is from its limit: a share, or degrees where a share says nothing."""
    apart = abs(value.si - limit.si)
    if apart <= AT_THE_LIMIT * max(abs(limit.si), abs(value.si)):
        return "exactly at the limit"
    is_below = value.si < limit.si
    is_outside = is_below if finding.sense == "at_least" else not is_below
    if kind == "temperature":
        far = tell(apart, "temperature_difference", profile, digits=2)
        return f"{far} {_TOO[finding.sense]}" if is_outside else f"{far} to spare"
    if finding.margin is None:
        return ""
    far = tell(abs(finding.margin), "fraction", profile, digits=2)
    return f"{far} {_OUTSIDE[finding.sense]}" if is_outside else f"{far} to spare"
