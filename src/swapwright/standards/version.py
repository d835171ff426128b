"""The edition of everything in this package; part of every car's revision."""

DATA_VERSION = "2026.11"
"""Year and month the standards' data were last changed; a change of any value changes this."""
