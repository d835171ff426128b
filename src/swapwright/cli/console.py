"""Writing to a terminal: width, colour where there is one, verdicts by word and shape."""

from __future__ import annotations

import os
import re
import shutil
import sys
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest

import click

from swapwright.base.finding import Verdict

WIDEST = 100
NARROWEST = 60
LONGEST_UNBROKEN = 16
"""Characters up to which a cell is a quantity and no sentence."""

# No state is orange, amber or yellow: orange is kept for high voltage.
COLOURS: Mapping[str, str] = {
    "stop": "bright_red",
    "fix": "magenta",
    "unknown": "blue",
    "watch": "cyan",
    "met": "green",
}
SHAPES: Mapping[str, str] = {
    "stop": "\u2bc3",  # octagon
    "fix": "\u25b2",  # triangle
    "unknown": "\u25cb?",  # hollow circle with a question mark
    "watch": "\u25c6",  # diamond
    "met": "\u2713",  # tick
}
PLAIN_SHAPES: Mapping[str, str] = {
    "stop": "[X]",
    "fix": "/!\\",
    "unknown": "(?)",
    "watch": "< >",
    "met": "[v]",
}

_FIXED = "\u00a0"
"""A space no line is broken at."""
_QUANTITY = re.compile(r"(?<=\d) (?=\S)")
# Typed as degC, read as the sign.
_DEGREES = re.compile(r"\bdeg([CF])\b")


def plain(text: str) -> str:
    """Return a text with whatever does not print (control codes above all) spelled out."""
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii")
        for letter in text
    )


def _unbroken(cell: str) -> str:
    """Return a cell whose number stays with its unit wherever the cell is broken."""
    return _QUANTITY.sub(_FIXED, cell) if len(cell) <= LONGEST_UNBROKEN else cell


def _longest_word(cell: str) -> int:
    return max(map(len, cell.split(" ")), default=0)


def _narrowed(widths: list[int], leasts: list[int], room: int) -> list[int]:
    """Return columns made narrower, the widest first, as far as their longest words let them."""
    made = list(widths)
    while sum(made) > room:
        free = [place for place, least in enumerate(leasts) if made[place] > least]
        if not free:
            break
        widest = max(free, key=lambda place: (made[place], place))
        made[widest] -= 1
    return made


def _in_lines(cell: str, width: int) -> list[str]:
    return textwrap.wrap(cell, max(width, 1), break_long_words=False, break_on_hyphens=False) or [
        ""
    ]


def _width() -> int:
    wide = shutil.get_terminal_size((WIDEST, 24)).columns if sys.stdout.isatty() else WIDEST
    return min(max(wide, NARROWEST), WIDEST)


def _has_colour() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def _encoding() -> str:
    return getattr(sys.stdout, "encoding", None) or "utf-8"


def _can_draw() -> bool:
    try:
        "".join(SHAPES.values()).encode(_encoding())
    except (UnicodeEncodeError, LookupError):
        return False
    return True


@dataclass(frozen=True)
class Console:
    """Where a command writes: the terminal's width, and what it can show."""

    width: int = field(default_factory=_width)
    has_colour: bool = field(default_factory=_has_colour)
    can_draw: bool = field(default_factory=_can_draw)
    encoding: str = field(default_factory=_encoding)

    def line(self, text: str = "", *, style: str = "", bold: bool = False) -> None:
        """Write one line; ``style`` is a colour's name."""
        shown = (
            plain(self._drawn(text)).encode(self.encoding, "backslashreplace").decode(self.encoding)
        )
        if self.has_colour and (style or bold):
            shown = click.style(shown, fg=style or None, bold=bold)
        click.echo(shown.rstrip(), color=self.has_colour)

    def _drawn(self, text: str) -> str:
        """Return a text with the sign of a degree, where the terminal has one."""
        return _DEGREES.sub("\u00b0\\1", text) if self.can_draw else text

    def heading(self, text: str) -> None:
        """Write an empty line and a heading."""
        self.line()
        self.line(text, bold=True)

    def wrapped(self, text: str, *, indent: int = 0, first: str = "") -> None:
        """Write a text over as many lines as it takes, indented; ``first`` opens the first one."""
        start = first or " " * indent
        for row in textwrap.wrap(
            plain(text),
            self.width,
            initial_indent=start,
            subsequent_indent=" " * indent,
            break_long_words=False,
            break_on_hyphens=False,
        ):
            self.line(row)

    def columns(self, rows: Sequence[Sequence[str]], *, indent: int = 2, gap: int = 2) -> None:
        """Write rows as a table whose columns are as wide as they need, numbers or not.

        Where they do not fit beside each other the widest go on below themselves; a number stays
        with its unit.
        """
        rows = [[_unbroken(self._drawn(plain(cell))) for cell in row] for row in rows]
        columns = list(zip(*rows, strict=True))
        widths = [max(map(len, column)) for column in columns]
        leasts = [max(map(_longest_word, column)) for column in columns]
        room = self.width - indent - gap * (len(widths) - 1)
        widths = _narrowed(widths, leasts, room)
        for row in rows:
            pieces = [_in_lines(cell, width) for cell, width in zip(row, widths, strict=True)]
            for parts in zip_longest(*pieces, fillvalue=""):
                cells = [part.ljust(width) for part, width in zip(parts, widths, strict=True)]
                line = " " * indent + (" " * gap).join(cells)
                self.line(line.replace(_FIXED, " "))

    def verdict(self, verdict: Verdict) -> str:
        """Return a verdict's shape and word, all of one width."""
        shapes = SHAPES if self.can_draw else PLAIN_SHAPES
        return f"{shapes[verdict]:<3} {verdict:<7}"
