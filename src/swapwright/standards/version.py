"""The edition of everything in this package; part of every car's revision."""

DATA_VERSION = "2026.11.2"
"""Year, month and count of the standards' data; a change of any value changes this."""
