"""What a garbled quantity most likely means: a spelling that can be read, or none."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress

from swapwright.base.errors import UnitError
from swapwright.base.kinds import KINDS, Kind, squash
from swapwright.base.quantity import parse

_NUMBER = r"[+-]?\d+(?:\.\d+)?"
_LEADING = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
_FIRST_DIGIT = re.compile(r"[+-]?\.?\d")
_CURRENCY = re.compile(r"[€$£]|\b(?:EUR|USD|GBP|CHF|AUD|NZD|euros?|dollars?|pounds?)\b", re.I)
_CENTS = re.compile(rf"({_NUMBER})\s*(?:ct|cents?|c|p|pence)\b\s*(.*)", re.I)
_CONTINENTAL = re.compile(r"([+-]?\d{1,3}(?:\.\d{3})+),(\d+)(.*)", re.DOTALL)
_FRACTION = re.compile(r"(?:(\d+)\s+)?(\d+)/([1-9]\d*)\s*([a-zA-Z\"'′″”’].*)", re.DOTALL)
_MARKED = re.compile(r"(\d+)([RrkKM])(\d*)")
_GAUGE = re.compile(r"#?(\d{1,2}|[1-4]/0)\s*(?:ga|gauge|g|gauge wire)\.?", re.I)
_HEX = re.compile(r"(?:0[xX])?([0-9a-fA-F]{2,8})[hH]?")
_LETTERS = {"R": "ohm", "r": "ohm", "k": "kohm", "K": "kohm", "M": "Mohm"}


def meant(text: str, kind: Kind, unit: str, fits: Callable[[float], bool]) -> str:
    """Return what a text of no such quantity most likely means, empty where nothing is likely.

    ``unit`` is the nearest known spelling of its unit, empty where there is none; ``fits`` tells
    whether an SI value is one the field would take.
    """
    if identifier := _identifier(text.strip(), fits) if kind.name == "count" else "":
        return identifier
    for candidate in _candidates(text.strip(), kind, unit):
        with suppress(UnitError):
            quantity = parse(candidate, kind.name)
            if fits(quantity.si):
                return candidate
    return ""


def names_another(text: str, kind: Kind) -> bool:
    """Tell whether a text ends in a unit of another kind: its number is no such quantity's."""
    match = _LEADING.fullmatch(text.strip())
    unit = squash(match[2]) if match else ""
    return bool(unit) and any(unit in other.units for other in KINDS.values() if other != kind)


def _identifier(text: str, fits: Callable[[float], bool]) -> str:
    """Return a hexadecimal number as a file takes it: 0x110 for 110h or "0x110" in quotes."""
    match = _HEX.fullmatch(text)
    is_marked = text[:2] in ("0x", "0X") or text[-1:] in ("h", "H")
    if match is None or not is_marked or not fits(float(int(match[1], 16))):
        return ""
    return f"0x{match[1].upper()} (without quotes)"


def _candidates(text: str, kind: Kind, unit: str) -> Iterator[str]:
    """Yield what may be meant, likeliest first."""
    if match := _CONTINENTAL.fullmatch(text):
        yield f"{match[1].replace('.', '')}.{match[2]}{match[3]}"
    if kind.name.startswith(("price", "money")):
        if match := _CENTS.fullmatch(text):
            yield f"{float(match[1]) / 100:g} {match[2]}".strip()
        yield " ".join(_CURRENCY.sub(" ", text).replace(" /", "/").replace("/", " /").split())
    if match := _FRACTION.fullmatch(text):
        sign = "in" if match[4] in ('"', "″", "”") else match[4]
        yield f"{int(match[1] or 0) + int(match[2]) / int(match[3]):g} {sign}"
    if kind.name == "resistance" and (match := _MARKED.fullmatch(text)):
        digits = f"{match[1]}.{match[3]}" if match[3] else match[1]
        yield f"{digits} {_LETTERS[match[2]]}"
    if kind.name == "conductor_area" and (match := _GAUGE.fullmatch(text)):
        yield f"{match[1]} AWG"
    yield from _with_another_unit(text, kind, unit)


def _with_another_unit(text: str, kind: Kind, unit: str) -> Iterator[str]:
    start = _FIRST_DIGIT.search(text)
    if start is None:
        return
    bare = text[start.start() :]
    match = _LEADING.fullmatch(bare)
    if match is None:
        return
    number, spelling = match[1], match[2].strip()
    if unit:
        yield f"{number} {unit}"
    if kind.name in ("area", "conductor_area") and spelling:
        yield f"{number} {spelling}^2"
    if kind.name == "temperature" and spelling in ("°", "º", "deg", "degree", "degrees"):
        yield f"{number} degC"
    yield bare
    first, _, rest = spelling.partition(" ")
    if not re.search(r"\d", rest):
        yield f"{number} {first}"
    is_share = spelling.startswith("/") and kind.name in ("fraction", "grade")
    if kind.name == "money" and spelling in ("k", "K"):
        yield f"{float(number) * 1000:.0f}"
    elif (
        kind.is_plain
        and not names_another(bare, kind)
        and (is_share or not re.search(r"\d", spelling))
    ):
        yield number
        yield f"{number} %"
    if not text.startswith("-"):
        yield f"-{bare}"
