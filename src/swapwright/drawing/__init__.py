"""Drawings as SVG, made from what is already known: the circuit's one-line diagram, charts."""
