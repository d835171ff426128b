"""Every curve of a car as a chart: which drawing shows it, and what is said below it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from swapwright.base.curve import Curve, Mark
from swapwright.base.display import show
from swapwright.base.errors import InputError, Problem
from swapwright.build.revision import short
from swapwright.drawing.chart import line_chart
from swapwright.drawing.lettering import in_signs
from swapwright.drawing.traces import traces
from swapwright.jobs import circuit_drawing
from swapwright.jobs.chart_table import ChartTable, chart_table
from swapwright.jobs.check import Checked
from swapwright.jobs.stage import STAGES, Stage, curve_kind

FULL, SMALL = 277.0, 130.0
"""mm; how wide a chart is on a sheet of its own, and within a page beside other things."""
SMALL_HEIGHT = 88.0
ROOM = 0.08
"""Share of an axis left free beyond the outermost line or level."""


@dataclass(frozen=True)
class _Look:
    """How a curve is drawn: ``words`` say what to look for; ``y_range`` [SI] where it is fixed.

    With ``is_around_lines`` levels far from every line are told below it, not drawn.
    """

    words: str
    is_log: bool = False
    y_range: tuple[float, float] | None = None
    is_around_lines: bool = False


_LOOKS: Mapping[str, _Look] = MappingProxyType(
    {
        "drive.gears": _Look(
            "What the motor puts to the wheels in each gear at full power, against what the road "
            "asks. The old engine's line is the most it could have done with gears for every speed."
        ),
        "drive.motor": _Look(
            "What the motor gives at its shaft with this inverter and this pack, for a short pull "
            "and for good. The single points are the old engine's."
        ),
        "drive.force": _Look(
            "What the drive can put to the road in each state, above what the level road asks. "
            "Where a line meets the road load is the top speed in that state."
        ),
        "drive.pedal": _Look(
            "How much of the torque each travel of the pedal asks for. The upright lines are where "
            "the foot holds a speed, with half a pack."
        ),
        "pack.voltage": _Look(
            "The pack at rest, pulled down by full power and pushed up by regeneration. "
            "The level lines are where each part's window begins and ends, and the lowest dc "
            "ratings of contactors and fuses.",
            is_around_lines=True,
        ),
        "run.city": _Look(
            "One city cycle from the top of the usable window, on a mild day, step by step."
        ),
        "lv.reserve": _Look(
            "How long the battery feeds the 12 V side once the converter has died, down to the "
            "charge it should keep. The upright lines are the car's own currents.",
            is_log=True,
        ),
        "charging.charge": _Look(
            "Constant power until the end voltage. Where the voltage then stands still the current "
            "dies away."
        ),
        "charging.fast": _Look("What the station gives, held back by whichever allows least then."),
        "cooling.working_point": _Look(
            "Where the pump's line and the loop's line meet is the flow worked out; where a flow "
            "was measured the temperatures rest on that one."
        ),
        "cooling.coolant": _Look(
            "The coolant on the goal's climb on a hot day, from the temperature it has before. The "
            "level line is the hottest the loop's parts allow."
        ),
        "cooling.fast": _Look(
            "Cells and the coolant on their plate while a station charges, from cells as warm as "
            "the air of the hot day. The level lines are the hottest each may get."
        ),
        "brakes.balance": _Look(
            "Where the brakes' own line lies above an ideal one the front wheels lock first; where "
            "it lies below, the rear ones do."
        ),
        circuit_drawing.CURVE: _Look(
            "Left of and below its line a part bears a current for that long. The car's own line "
            "stays left of what melts the main fuse; the fuse clears left of what the cable bears.",
            is_log=True,
            y_range=(circuit_drawing.SHORTEST, circuit_drawing.LONGEST),
        ),
    }
)
_PLAIN = _Look("")


def _look_of(curve_id: str) -> _Look:
    return _LOOKS.get(curve_kind(curve_id), _PLAIN)


def stage_of_curve(curve_id: str) -> Stage | None:
    """Return the stage a curve stands in, None where it belongs to none."""
    first = curve_id.partition(".")[0]
    named = (stage for stage in STAGES if curve_kind(curve_id) in stage.curves)
    return next(named, None) or next((each for each in STAGES if first in each.rules), None)


def is_curve_of_stage(curve_id: str) -> bool:
    """Tell whether some stage draws a curve of this id, though a car may not have it yet."""
    return any(curve_kind(curve_id) in stage.curves for stage in STAGES)


def curve_of(checked: Checked, curve_id: str) -> Curve | None:
    """Return a curve of a car, None where it has none of this id or nothing in it can be drawn."""
    curve = checked.assessment.curves.get(curve_id)
    if curve is None or not any(_is_number(y) for line in curve.ys for y in line.points):
        return None
    return curve


def _is_number(value: float | None) -> bool:
    return value is not None and math.isfinite(value)


def words_of(curve_id: str) -> str:
    """Return what is to be seen in a curve, in a sentence or two."""
    return _look_of(curve_id).words


def table_of(checked: Checked, curve_id: str, profile: str, world: str = "electric") -> ChartTable:
    """Return a curve of a car as numbers in display units; raise InputError where it has none."""
    look = _look_of(curve_id)
    curve = _curve(checked, curve_id)
    return chart_table(
        curve,
        profile,
        world,
        is_log=look.is_log,
        y_range=look.y_range,
        is_around_lines=look.is_around_lines,
    )


def svg_of(
    checked: Checked,
    curve_id: str,
    profile: str,
    world: str = "electric",
    *,
    is_small: bool = False,
) -> str:
    """Return a curve of a car as an SVG file; raise InputError where the car has no such curve.

    ``is_small`` is for a page that names the chart itself and has room for half a sheet.
    """
    curve = _curve(checked, curve_id)
    name = checked.assessment.name or "a car without a name"
    title = f"{name}: {curve.label}, revision {short(checked.assessment.revision)}"
    if curve_id == circuit_drawing.CURVE and not is_small:
        return circuit_drawing.chart_of(checked, profile)
    return _drawn(curve, title, profile, world, is_small=is_small)


@lru_cache(maxsize=24)
def _drawn(curve: Curve, title: str, profile: str, world: str, *, is_small: bool) -> str:
    """Return the drawing of a curve; several kinds of quantity stand in panels of their own."""
    look = _look_of(curve.id)
    width = SMALL if is_small else FULL
    if len({series.kind for series in curve.ys}) != 1:
        return traces(
            curve,
            title=title,
            width_mm=width,
            profile=profile,
            world=world,
            has_title=not is_small,
        )
    kind = curve.ys[0].kind
    y_range, beyond = _around_lines(curve, look)
    marks = _with_levels(curve.marks, kind, profile, world)
    told = [mark for mark in marks if mark.y in beyond]
    return line_chart(
        replace(curve, marks=tuple(mark for mark in marks if mark not in told)),
        title=title,
        log_x=look.is_log,
        log_y=look.is_log,
        width_mm=width,
        height_mm=SMALL_HEIGHT if is_small else 190.0,
        y_range=y_range,
        notes=(f"Beyond this chart: {'; '.join(mark.label for mark in told)}.",) if told else (),
        profile=profile,
        world=world,
        has_title=not is_small,
    )


def _around_lines(
    curve: Curve, look: _Look
) -> tuple[tuple[float, float] | None, tuple[float, ...]]:
    """Return the ends of an axis its lines and levels fill well, and the levels left out of it."""
    levels = [mark.y for mark in curve.marks if mark.y is not None]
    if look.y_range is not None or not levels:
        return look.y_range, ()
    points = [y for series in curve.ys for y in series.points if y is not None]
    low, high = min(points), max(points)
    reach = high - low if look.is_around_lines else math.inf
    near = [each for each in levels if low - reach <= each <= high + reach]
    ends = min((low, *near)), max((high, *near))
    room = ROOM * (ends[1] - ends[0]) or 1.0
    return (ends[0] - room, ends[1] + room), tuple(each for each in levels if each not in near)


def _with_levels(marks: tuple[Mark, ...], kind: str, profile: str, world: str) -> tuple[Mark, ...]:
    """Return marks whose labels say their levels too, those of one level as one."""
    levels: dict[float, list[str]] = {}
    for mark in marks:
        if mark.y is not None:
            levels.setdefault(mark.y, []).append(mark.label)
    told = (
        Mark(
            f"{'; '.join(names)}: {in_signs(show(level, kind, profile=profile, world=world))}",
            y=level,
        )
        for level, names in levels.items()
    )
    return (*(mark for mark in marks if mark.y is None), *told)


def _curve(checked: Checked, curve_id: str) -> Curve:
    curve = curve_of(checked, curve_id)
    if curve is None:
        message = "this car has no such curve: what it is drawn from is not known"
        raise InputError(Problem(checked.opened.file, "", message, given=curve_id))
    return curve
