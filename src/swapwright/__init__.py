"""Swapwright: from donor car to signed-off electric conversion."""

__version__ = "0.1.0"
