"""What the trade judges by where no standard gives a number; bands keep their two ends."""

from __future__ import annotations

from swapwright.base.figure import Value

WATCH_MARGIN = Value(0.10, "1", "standard", "swapwright-watch-margin")
"""A margin under this share of the limit is *watch*, unless the rule states its own band."""

MAX_PEAK_RATING_TIME = Value(60.0, "s", "standard", "motor-peak-rating-time-typical")
"""Past this time only the continuous rating (duty type S1) counts."""

END_OF_LIFE_HEALTH = Value(0.80, "1", "standard", "pack-health-end-typical")
"""Share of the new capacity a range promise is also given at."""

OCCUPANT_MASS = Value(75.0, "kg", "standard", "occupant-mass-typical")
"""One person aboard."""

DEFAULT_PHASE_CURRENT_MARGIN = Value(1.05, "1", "standard", "inverter-matched-to-motor")
"""Phase current of an inverter whose limit is not given, over the motor's at peak torque."""

INVERTER_MAX_TEMPERATURE = Value(358.15, "K", "standard", "inverter-temperature-typical")
"""Base plate temperature an inverter has given up its peak at, where its data sheet is silent."""

INVERTER_DERATE_SPAN = Value(15.0, "K", "standard", "inverter-temperature-typical")
MOTOR_DERATE_SPAN = Value(25.0, "K", "standard", "motor-derate-span-typical")
"""Over how many kelvin below their limit an inverter and a winding give up their peak."""

INVERTER_WARM_UP = Value(40.0, "s", "standard", "inverter-warm-up-typical")
"""Thermal time constant of an inverter's plate."""

RATING_AMBIENT = Value(313.15, "K", "standard", "iec-60034-1-ambient")
"""Ambient a continuous rating (duty type S1) is given at: 40 degC."""

RUNNING_WINDING_TEMPERATURE = Value(353.15, "K", "standard", "winding-running-typical")
"""Winding temperature losses are taken at on a cycle."""

MOST_BEHIND = Value(0.02, "1", "standard", "swapwright-cycle-followed")
"""Share of the time a car may be behind a cycle's speed and still be said to follow it."""

NO_DERATING = Value(1.0, "1", "standard", "swapwright-no-derating")
"""Share of its peak a drive keeps that heat takes nothing from."""

COPPER_SHARE = Value(0.10, "1", "standard", "motor-copper-share-typical")
"""Copper in a motor's mass: what warms as its winding where the peak rating does not tell."""

COPPER_SPECIFIC_HEAT = Value(385.0, "J/kg/K", "standard", "copper-specific-heat")

TEN_SECONDS = Value(10.0, "s", "standard", "cell-peak-10s-practice")
"""How long a cell's peak current is rated for."""

SHIFT_TIME = Value(0.8, "s", "standard", "clutchless-shift-typical")
"""Without torque between two gears of a kept gearbox."""

STEP_BUDGET = Value(400_000.0, "1", "standard", "swapwright-step-budget")
"""Steps the runs to empty of one assessment may take together."""
