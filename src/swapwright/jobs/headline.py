"""The figures a person looks at first, and which of them say what."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class RangeRow:
    """One way of driving: its name, and the ids of its range and battery consumption."""

    label: str
    range: str
    consumption: str


RANGES: tuple[RangeRow, ...] = (
    RangeRow("city", "range.city", "consumption.city"),
    RangeRow("highway", "range.highway", "consumption.highway"),
    RangeRow("combined", "range.combined", "consumption.combined"),
    RangeRow("everyday driving", "range.everyday", "consumption.everyday"),
    RangeRow("combined, cold day", "range.combined_cold", "consumption.combined_cold"),
    RangeRow("at the goal's speed", "range.at_goal_speed", "consumption.at_goal_speed"),
)

WALL: tuple[tuple[str, str], ...] = (
    ("combined, from the wall", "consumption.combined_wall"),
    ("everyday, from the wall", "consumption.label"),
)

ROAD: tuple[tuple[str, str], ...] = (
    ("0-60 mph", "accel.0_60mph"),
    ("0-100 km/h", "accel.0_100kmh"),
    ("top speed", "top_speed.peak"),
    ("top speed, held", "top_speed.sustained"),
    ("steepest start", "start_grade.drive"),
    ("power at the road", "drive.peak_wheel_power"),
)

PACK: tuple[tuple[str, str], ...] = (
    ("energy, gross", "pack.energy"),
    ("energy, usable", "pack.usable_energy"),
)

VOLTAGES = ("pack.voltage_empty", "pack.voltage_nominal", "pack.voltage_full")
MAX_WORKING_VOLTAGE = "pack.max_working_voltage"
CELLS = ("pack.series_cells", "pack.parallel_cells", "pack.cells")


@dataclass(frozen=True)
class WeightRow:
    """One place weight stands: before (an entry), after and loaded (figures), and its limit."""

    label: str
    before: str
    after: str
    loaded: str
    limit: str


WEIGHTS: tuple[WeightRow, ...] = (
    WeightRow("whole car", "car.kerb_mass", "mass.kerb", "mass.loaded", "car.limits.gross"),
    WeightRow(
        "front axle",
        "car.axle_mass.front",
        "weight.front",
        "weight.front_loaded",
        "car.limits.front_axle",
    ),
    WeightRow(
        "rear axle",
        "car.axle_mass.rear",
        "weight.rear",
        "weight.rear_loaded",
        "car.limits.rear_axle",
    ),
)

CAUTION = (
    "High voltage kills. Treat every conductor as live until a person has measured that it is not, "
    "with a meter proved before and after. Local law, the maker's instructions and licensed "
    "practice come first."
)
"""What is said with every assessment."""
