"""Voltage classes A and B. A limit belongs to the class below it: exactly 60 V dc is class A."""

from __future__ import annotations

from swapwright.base.figure import Value

SOURCE = "iso-6469-3-voltage-class"

MAX_CLASS_A_DC = Value(60.0, "V", "standard", SOURCE)
MAX_CLASS_B_DC = Value(1500.0, "V", "standard", SOURCE)
