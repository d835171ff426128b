"""Procedures derived from a car and its assessment; what a run of one has reached; who may."""
