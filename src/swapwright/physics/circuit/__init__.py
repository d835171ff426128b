"""The high-voltage circuit: conductors, fuses, contactors, faults, discharge, isolation."""
