"""Due dates as a calendar other programs read: iCalendar, RFC 5545."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

LONGEST_LINE = 75
"""Bytes of a line before it is folded."""
PRODUCT = "-//Swapwright//shop//EN"


@dataclass(frozen=True)
class Dated:
    """One day to be told of: an id that stays, the day, what it is, and why."""

    id: str
    on: date
    title: str
    words: str


def calendar_text(days: Iterable[Dated], stamp: datetime) -> str:
    """Return days as a calendar, each all day; ``stamp`` is when it was made (UTC)."""
    made = stamp.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    for each in days:
        lines += [
            "BEGIN:VEVENT",
            f"UID:{each.id}@swapwright",
            f"DTSTAMP:{made}",
            f"DTSTART;VALUE=DATE:{each.on:%Y%m%d}",
            f"DTEND;VALUE=DATE:{each.on + timedelta(days=1):%Y%m%d}",
            f"SUMMARY:{_escaped(each.title)}",
            f"DESCRIPTION:{_escaped(each.words)}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{_folded(line)}\r\n" for line in lines)


def _escaped(text: str) -> str:
    """Return a text in which nothing means anything to a calendar's reader."""
    plain = "".join(
        each for each in text.replace("\r\n", "\n") if each.isprintable() or each == "\n"
    )
    for char in ("\\", ";", ","):
        plain = plain.replace(char, f"\\{char}")
    return plain.replace("\n", "\\n")


def _folded(line: str) -> str:
    """Return a line in pieces of so many bytes, never within a letter."""
    pieces: list[str] = []
    piece, used = "", 0
    for char in line:
        size = len(char.encode("utf-8"))
        # A piece that continues another begins with a space, which counts.
        if used + size > LONGEST_LINE - bool(pieces):
            pieces.append(piece)
            piece, used = "", 0
        piece, used = piece + char, used + size
    return "\r\n ".join([*pieces, piece])
