"""The figures a person looks at first, and which of them say what."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.base.figure import Figure, SimulatedWorking
from swapwright.base.finding import Finding


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
    ("combined, at the wall", "consumption.combined_wall"),
    ("everyday, at the wall", "consumption.label"),
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

WINDOW = "pack.window"
"""The rule that says whether the pack can be charged as far as the range counts on."""

USABLE = "pack.usable_energy"


def strongest_fault(assessment: Assessment) -> str | None:
    """Return the id of the strongest short circuit of the full pack, None where none is known."""
    ids = [
        figure_id
        for figure_id in assessment.figures
        if figure_id.startswith("fault.") and figure_id.endswith(".current_full")
    ]
    return max(ids, key=lambda each: assessment.figures[each].value.si, default=None)


def waiting_times(assessment: Assessment) -> tuple[str, ...]:
    """Return the ids of the waiting times of the sections that hold charge, known or not."""
    named = (*assessment.figures, *assessment.missing)
    return tuple(each for each in named if re.fullmatch(r"wait\.\w+\.time", each))


def headline_ids() -> tuple[str, ...]:
    """Return the ids of every figure a person looks at first, in the order of the page."""
    ids: list[str] = [id_ for row in RANGES for id_ in (row.range, row.consumption)]
    ids += [figure_id for _, figure_id in (*WALL, *ROAD, *PACK)]
    ids += [*VOLTAGES, MAX_WORKING_VOLTAGE, *CELLS]
    ids += [figure_id for row in WEIGHTS for figure_id in (row.after, row.loaded)]
    return tuple(ids)


def out_of_reach(assessment: Assessment) -> Mapping[str, str]:
    """Return the headline figures that cannot stand as they are: id, and why in a few words.

    A figure that a *stop* judges must be put right first; what is counted on a window that
    the inverter cuts short is less than the window entered would give.
    """
    figures = assessment.figures
    found: dict[str, str] = {}
    for finding in assessment.findings:
        is_window = finding.rule == WINDOW and finding.verdict in ("stop", "fix")
        if not is_window and finding.verdict != "stop":
            continue
        judged = {USABLE} if is_window else {*finding.figures} - _limit(finding)
        word = "on a cut window" if is_window else "a stop"
        for figure_id in filter(figures.__contains__, headline_ids()):
            near = {figure_id, *_inputs(figures[figure_id])}
            if judged & (_under(figures, figure_id) if is_window else near):
                found.setdefault(figure_id, f"{word}, see {finding.rule}")
    return found


def _limit(finding: Finding) -> frozenset[str]:
    """Return the figure that is a finding's limit: it is not the one that has to change."""
    return frozenset() if finding.limit is None else frozenset({finding.limit.ref})


def _under(figures: Mapping[str, Figure], figure_id: str) -> frozenset[str]:
    """Return a figure's id and those of all it rests on."""
    found: set[str] = set()
    waiting = [figure_id]
    while waiting:
        name = waiting.pop()
        if name not in found and name in figures:
            found.add(name)
            waiting.extend(_inputs(figures[name]))
    return frozenset(found)


def _inputs(figure: Figure) -> Iterator[str]:
    if isinstance(figure.working, SimulatedWorking):
        yield figure.working.estimate.id
    for value in figure.inputs.values():
        yield value.ref
