"""Cells and packs: voltage, resistance, energy, power and charging."""
