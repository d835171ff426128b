"""How much room text takes, and how it is broken into lines."""

from __future__ import annotations

import re

# Widths in font sizes of a common sans-serif face, and what other faces may add to them.
_WIDTHS = {
    each: width
    for letters, width in (
        ("ijl|'", 0.22),
        (" ft.,:;/!I[]", 0.28),
        ('r-()"²³', 0.33),
        ("cksvxyzJ", 0.5),
        ("FTZ", 0.61),
        ("ABEKPSVXY&", 0.67),
        ("wCDHNRU", 0.72),
        ("GOQΩ", 0.78),
        ("mM", 0.83),
        ("W%—…@", 1.0),
    )
    for each in letters
}
_USUAL = 0.56
_IDEOGRAPH = 1.0
_FIRST_IDEOGRAPH = 0x2E80
_OF_BOLD = 1.08
_OTHER_FACES = 1.06
ELLIPSIS = "…"
_UNIT = re.compile(r"(?<=\d )[A-Za-z/.^0-9()]+")
_SIGNS = (
    (re.compile(r"\^2\b"), "²"),
    (re.compile(r"\^3\b"), "³"),
    (re.compile(r"(?<=[A-Za-z²³])\.(?=[A-Za-z])"), "·"),
    (re.compile(r"\bu(?=(?:ohm|[FHAVs])\b)"), "µ"),
    (re.compile(r"(?<![A-Za-z])([µmkMG]?)ohm\b"), r"\1Ω"),
    (re.compile(r"^deg(?=[CF]\b)"), "°"),
)
LONGEST_UNIT = 5


def in_signs(text: str) -> str:
    """Return a text with the units behind its numbers as the trade draws them: ``70 mm²``."""
    return _UNIT.sub(lambda found: unit_in_signs(found.group()), text)


def unit_in_signs(unit: str) -> str:
    """Return a unit as the trade draws it: ``°C``, ``N·m``."""
    for pattern, sign in _SIGNS:
        unit = pattern.sub(sign, unit)
    return unit


def text_width(text: str, size: float, *, is_bold: bool = False) -> float:
    """Return about how wide a line of text is, rather too wide than too narrow."""
    wide = sum(map(_character, text)) * size * _OTHER_FACES
    return wide * _OF_BOLD if is_bold else wide


def _character(each: str) -> float:
    return _WIDTHS.get(each, _IDEOGRAPH if ord(each) >= _FIRST_IDEOGRAPH else _USUAL)


def wrapped(
    text: str, size: float, room: float, *, is_bold: bool = False, most: int | None = None
) -> tuple[str, ...]:
    """Return text in lines no wider than ``room``; ``most`` lines, the last one cut short."""
    lines: list[str] = []
    now = ""
    for word in _words(text, size, room, is_bold):
        longer = f"{now} {word}" if now else word
        if text_width(longer, size, is_bold=is_bold) <= room:
            now = longer
            continue
        if now:
            lines.append(now)
        *whole, now = _pieces(word, size, room, is_bold)
        lines += whole
    if now:
        lines.append(now)
    if most is not None and len(lines) > most:
        lines = lines[:most]
        lines[-1] = _cut(lines[-1], size, room, is_bold)
    return tuple(lines)


def _words(text: str, size: float, room: float, is_bold: bool) -> list[str]:
    """Return what stays together on a line: a word, a number with its unit if there is room."""
    together: list[str] = []
    for word in text.split():
        last = together[-1] if together else ""
        is_unit = last[-1:].isdigit() and " " not in last and len(word) <= LONGEST_UNIT
        both = f"{last} {word}"
        if (
            is_unit
            and (word[:1].isalpha() or word[:1] == "°")
            and text_width(both, size, is_bold=is_bold) <= room
        ):
            together[-1] = both
        else:
            together.append(word)
    return together


def _pieces(word: str, size: float, room: float, is_bold: bool) -> list[str]:
    """Break a word that is too wide for a line by itself."""
    head, hyphen, tail = word.partition("-")
    if head and tail and text_width(head + hyphen, size, is_bold=is_bold) <= room:
        return [head + hyphen, *_pieces(tail, size, room, is_bold)]
    pieces = [""]
    for each in word:
        if pieces[-1] and text_width(pieces[-1] + each, size, is_bold=is_bold) > room:
            pieces.append("")
        pieces[-1] += each
    return pieces


def _cut(text: str, size: float, room: float, is_bold: bool) -> str:
    while text and text_width(text + ELLIPSIS, size, is_bold=is_bold) > room:
        text = text[:-1]
    return text.rstrip() + ELLIPSIS
