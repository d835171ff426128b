"""What drawings look like: ink on paper, thin rules, orange for voltage class B and nothing else.

Everything is told by word, shape, line width and line pattern first, so that a black and white
print says the same. Lengths are in millimetres on the sheet.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

INK = "#1b1b1b"
PAPER = "#ffffff"
RULE = "#8f8f8f"
GRID = "#dcdcdc"
SHADE = "#eeeeee"
ORANGE = "#f07800"
"""Conductors and parts of voltage class B, as on the car; no other thing has this colour."""

FONT = "Arial, Helvetica, Liberation Sans, DejaVu Sans Condensed, sans-serif"

TEXT = 3.1
SMALL = 2.5
LABEL = 4.0
"""What stands in the diagram itself, which is made smaller to fit its sheet."""
STATE = 3.2
HEADING = 3.4
TITLE = 5.0
LEADING = 1.22
"""Line spacing, in font sizes."""

HAIR = 0.18
THIN = 0.3
OUTLINE = 0.4
CONDUCTOR = 0.5
BUSBAR = 1.3
CASED = 1.25
CASED_BUSBAR = 2.3
CASING = 0.25
"""Ink on either side of an orange core: in black and white the line is a double one."""

DOT = 0.95

LIVE = "live"
MAY_BE_LIVE = "may be live"
STORED = "stored charge"
SEPARATED = "separated, not measured"

STATE_DASHES: Mapping[str, str | None] = MappingProxyType(
    {LIVE: None, MAY_BE_LIVE: "4 1.4", STORED: "4 1.2 1 1.2", SEPARATED: "1 1.6"}
)
"""How a section's line is broken, by what is known of it; a word stands beside it as well."""

SERIES_DASHES = (None, "5 1.8", "1.4 1.4", "5 1.4 1.2 1.4", "6 1.3 1.1 1.3 1.1 1.3", "3 1.1")
"""How the lines of a chart are told apart, in order."""

CAUTION = (
    "Caution: treat every part as live. Voltages are present until a person has measured absence, "
    "at every point, with a meter proved before and after."
)
STATUS = "design, not confirmed on the car"
