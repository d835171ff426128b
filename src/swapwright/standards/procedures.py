"""Limits of the procedures: absence of voltage, first power, distances, what is worn and used."""

from __future__ import annotations

from swapwright.base.figure import Value
from swapwright.standards.voltage_class import MAX_CLASS_A_DC, MAX_CLASS_B_DC

VERIFY_ORDER = "nfpa-70e-120.5-order"
"""Source of the order: find, open, look, let go, block, lock, prove and test, short."""

PROVE_TESTER = "osha-1910.333-prove-the-tester"
TREAT_AS_LIVE = "osha-1910.333-stored-energy"
DISCONNECT_PRACTICE = "service-disconnect-practice"
WALK_ROUND = "walk-round-practice"
SECOND_PERSON = "second-person-practice"
WHEELS = "wheels-still-practice"
TWELVE_VOLT = "twelve-volt-off-practice"
RESCUE = "rescue-practice"
HOSPITAL = "shock-hospital-practice"
DAMAGED = "damaged-pack-practice"
INSIDE = "inside-pack-practice"
FIRST_POWER = "first-power-practice"
INSULATION_TEST = "insulation-test-practice"

CLASS_BOUNDARY_DC = MAX_CLASS_A_DC
CLASS_BOUNDARY_AC = Value(30.0, "V", "standard", "iso-6469-3-voltage-class")
"""The law's lines; no target of a person at work."""

WORST_VOLTAGE = MAX_CLASS_B_DC
"""What an orange part may stand at where the file does not say: the top of class B."""

QUARANTINE_DISTANCE = Value(15.0, "m", "standard", "damaged-pack-practice")
"""Between a hurt pack, outdoors, and anything that burns or anybody who need not be there."""

WATCH_AFTER_DAMAGE = Value(86_400.0, "s", "standard", "damaged-pack-practice")
"""How long a hurt pack is watched before anybody takes it for quiet: a day at the least."""

MIN_INSULATION = Value(1e6, "ohm", "standard", "insulation-test-practice")
"""Of a new build, each pole to the chassis, before first power."""

BENCH_CURRENT = Value(1.0, "A", "standard", "first-power-practice")
"""Most a current-limited supply may give into the bus on the dry run."""

VOLTAGE_AGREES = Value(0.05, "1", "standard", "swapwright-readings-agree")
"""How far a reading may lie from what the design expects and still agree, as a share."""

AMBIENT_RISE = Value(20.0, "K", "standard", "first-power-practice")
"""Most a joint may be warmer than its neighbours after first power."""

LOW_SIDE_SPREAD = Value(0.1, "1", "standard", "first-power-practice")
"""How far the 12 V side may lie from what its converter is set to, as a share."""

PROOF_AGREES = Value(0.1, "1", "standard", "swapwright-readings-agree")
"""Share by which a meter on its proving source may differ from what that gives, and from what it
showed before."""
LEAST_PROOF = MAX_CLASS_A_DC
"""The least dc voltage a meter is proved on: far above what absence is looked for at."""
