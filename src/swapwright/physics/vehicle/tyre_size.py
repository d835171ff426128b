"""Reading a tyre's size as it stands on the sidewall."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from swapwright.base.errors import UnitError
from swapwright.physics.vehicle.tyre import outside_diameter

ALLOWED = "a tyre size as on the sidewall: 175/70 R13 82T, 165 R13, 6.00-16, 31x10.50R15"

ASSUMED_METRIC_ASPECT = 0.82
"""A metric radial with no aspect printed; common practice, source id tyre-aspect-82-practice."""

ASSUMED_INCH_ASPECT = 1.00
"""An inch size such as 6.00-16; common practice, source id tyre-aspect-inch-practice."""

_INCH = 0.0254
_LONGEST = 60

_SERVICE = (
    r"(?:\s*\(?(?P<load>\d{2,3})(?:/(?P<dual>\d{2,3}))?\s*(?P<symbol>A[1-8]|[B-Y])\)?)?"
    r"(?:\s*(?:XL|RF|REINFORCED|EXTRA LOAD|TL|TT|M\+S|\d{1,2}\s?PR))*$"
)
# A dash for the build is a cross-ply's, which prints no aspect: 185/65-15 is a radial mistyped.
_METRIC = re.compile(
    r"(?P<prefix>P|LT|ST)?\s*(?P<width>\d{3})\s*(?:/\s*(?P<aspect>\d{2,3}))?\s*"
    r"(?P<old_symbol>[SHVZ])?\s*(?P<build>R|D|B|(?(aspect)(?!)|-))\s*(?P<rim>\d{2}(?:\.5)?)\s*"
    r"(?P<use>C|LT)?" + _SERVICE
)
_INCHES = re.compile(
    r"(?P<width>\d{1,2}\.\d{1,2})\s*(?P<old_symbol>[SHVZ])?\s*(?P<build>R|-|X)\s*"
    r"(?P<rim>\d{1,2}(?:\.5)?)\s*(?P<use>C|LT)?" + _SERVICE
)
_FLOTATION = re.compile(
    r"(?P<diameter>\d{2}(?:\.\d{1,2})?)\s*X\s*(?P<width>\d{1,2}\.\d{1,2})\s*"
    r"(?P<build>R|-)\s*(?P<rim>\d{2}(?:\.5)?)\s*(?P<use>C|LT)?" + _SERVICE
)


@dataclass(frozen=True)
class TyreSize:
    """A tyre's size: widths and diameters in m, aspect as a fraction, service description.

    ``load_indexes`` holds the single-fitment index and, where printed, the twin-fitment one;
    ``aspect_is_assumed`` tells that the sidewall does not print it.
    """

    text: str
    section_width: float
    aspect: float
    rim_diameter: float
    construction: Literal["radial", "bias"]
    use: Literal["car", "commercial"]
    load_indexes: tuple[int, ...]
    speed_symbol: str
    aspect_is_assumed: bool

    @property
    def outside_diameter(self) -> float:
        """Return the outside diameter, m."""
        return outside_diameter(
            rim_diameter=self.rim_diameter, section_width=self.section_width, aspect=self.aspect
        )


def tyre_size(text: str) -> TyreSize:
    """Read a size code such as ``175/70 R13 82T``.

    text: as on the sidewall. Raises UnitError, naming what is allowed and the likeliest spelling.
    Source: ISO 4000-1, tyre designation (from memory).
    """
    if len(text) > _LONGEST:
        raise UnitError("too long for a tyre size", ALLOWED)
    code = " ".join(text.upper().replace("×", "X").split())
    if match := _METRIC.match(code):
        size = _from_metric(text, match)
    elif match := _FLOTATION.match(code):
        size = _from_flotation(text, match)
    elif match := _INCHES.match(code):
        size = _from_inches(text, match)
    else:
        raise UnitError(f"{text!r} is not a tyre size", ALLOWED, _nearest(code))
    _check(size)
    return size


def _from_metric(text: str, match: re.Match[str]) -> TyreSize:
    aspect = match["aspect"]
    return _size(
        text,
        match,
        section_width=int(match["width"]) * 1e-3,
        aspect=int(aspect) * 1e-2 if aspect else ASSUMED_METRIC_ASPECT,
        aspect_is_assumed=aspect is None,
        old_symbol=match["old_symbol"],
        prefix=match["prefix"],
    )


def _from_inches(text: str, match: re.Match[str]) -> TyreSize:
    return _size(
        text,
        match,
        section_width=float(match["width"]) * _INCH,
        aspect=ASSUMED_INCH_ASPECT,
        aspect_is_assumed=True,
        old_symbol=match["old_symbol"],
    )


def _from_flotation(text: str, match: re.Match[str]) -> TyreSize:
    height = (float(match["diameter"]) - float(match["rim"])) / 2.0
    width = float(match["width"])
    return _size(
        text,
        match,
        section_width=width * _INCH,
        aspect=height / width if width > 0.0 else 0.0,
        aspect_is_assumed=False,
    )


def _size(
    text: str,
    match: re.Match[str],
    *,
    section_width: float,
    aspect: float,
    aspect_is_assumed: bool,
    old_symbol: str | None = None,
    prefix: str | None = None,
) -> TyreSize:
    is_commercial = match["use"] is not None or prefix == "LT"
    return TyreSize(
        text=text,
        section_width=section_width,
        aspect=aspect,
        rim_diameter=float(match["rim"]) * _INCH,
        construction="radial" if match["build"] == "R" else "bias",
        use="commercial" if is_commercial else "car",
        load_indexes=tuple(int(match[part]) for part in ("load", "dual") if match[part]),
        # Z only says "over 240 km/h": no symbol of the table.
        speed_symbol=match["symbol"] or (old_symbol if old_symbol in ("S", "H", "V") else "") or "",
        aspect_is_assumed=aspect_is_assumed,
    )


def _check(size: TyreSize) -> None:
    """Refuse a code that reads well but names no road tyre."""
    bounds = (
        ("section width", size.section_width, 0.075, 0.405, "75 to 405 mm (3 to 16 in)"),
        ("aspect ratio", size.aspect, 0.20, 1.05, "20 to 105"),
        ("rim diameter", size.rim_diameter, 8 * _INCH, 26 * _INCH, "8 to 26 in"),
    )
    for what, value, low, high, allowed in bounds:
        if not low <= value <= high:
            raise UnitError(f"{size.text!r}: no road tyre has such a {what}", f"{what} {allowed}")


def _nearest(code: str) -> str:
    """Guess what was meant where only the punctuation is off."""
    numbers = re.findall(r"\d+", code)
    if len(numbers) >= 3 and len(numbers[0]) == 3 and len(numbers[1]) == len(numbers[2]) == 2:
        return f"{numbers[0]}/{numbers[1]} R{numbers[2]}"
    if len(numbers) == 2 and len(numbers[0]) == 3 and len(numbers[1]) == 2:
        return f"{numbers[0]} R{numbers[1]}"
    return ""
