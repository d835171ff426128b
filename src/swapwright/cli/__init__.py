"""The terminal face: one file per command; each parses, calls one job and prints."""
