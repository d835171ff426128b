"""Cells and packs: voltage, resistance, energy, heat, charging and ageing."""
