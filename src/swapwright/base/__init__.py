"""Units, errors, sources and the types every other package speaks in."""
