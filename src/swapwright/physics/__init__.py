"""Formulas: SI numbers in, SI numbers out, each beside the working that shows it."""
