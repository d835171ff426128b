"""Charts of cooling: pump and loop over flow, and the coolant over the goal's climb."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isnan, nan

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.cooling_loop import CLIMB, HIGHWAY, Loop
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.physics.cooling.flow import LoopBody
from swapwright.physics.cooling.heat import coolant_after

FLOW_ID, CLIMB_ID = "cooling.working_point", "cooling.coolant"
FLOW_SOURCES = ("churchill-1977-friction", "coolant-loop-practice")
CLIMB_SOURCES = ("incropera-2007-ch5", "incropera-2007-ch11")
POINTS = 41
STEPS = 61


def flow_chart(book: FigureBook, bodies: Mapping[Loop, LoopBody]) -> Curve | None:
    """Return each pump's pressure and each loop's drop over flow; None where no flow is known."""
    if not bodies:
        return None
    flows = np.linspace(0.0, max(body.free_flow for body in bodies.values()), POINTS)
    series: list[Series] = []
    marks: list[Mark] = []
    for loop, body in bodies.items():
        pump = [body.pump_at(flow) if flow <= body.free_flow else nan for flow in flows]
        taken = [body.hoses_at(flow) + body.parts_at(flow) if flow > 0.0 else 0.0 for flow in flows]
        most = body.shut_off_pressure
        for label, line in (
            (f"pump, {loop.name} loop", pump),
            (f"hoses and parts, {loop.name} loop", [p if p <= most else nan for p in taken]),
        ):
            series.append(Series(label, "pressure", "Pa", _points(line)))
        marks.append(Mark(f"{loop.name} loop", x=book.number(loop.figure("flow_computed"))))
        measured = book.get(loop.entry("flow"))
        if measured is not None:
            marks.append(Mark(f"{loop.name} loop, measured", x=measured))
    return Curve(
        FLOW_ID,
        "where each pump meets its loop",
        Axis("coolant flow", "flow", "m^3/s", tuple(flows.tolist())),
        tuple(series),
        tuple(marks),
        FLOW_SOURCES,
    )


def climb_chart(book: FigureBook, loops: Sequence[Loop]) -> Curve | None:
    """Return the hottest coolant over the goal's climb; None where no climb is worked out."""
    known = [loop for loop in loops if book.has(loop.figure("climb_end"))]
    if not known:
        return None
    times = np.linspace(0.0, book.number("goals.climb.for"), STEPS)
    series, marks = [], []
    for loop in known:
        way = {
            "start": book.number(loop.figure(f"hottest_{HIGHWAY}")),
            "settled": book.number(loop.figure(f"hottest_{CLIMB}")),
            "effectiveness": book.number(loop.figure("effectiveness")),
            "capacity_rate": book.number(loop.figure("capacity_rate")),
            "heat_capacity": book.number(loop.figure("heat_capacity")),
        }
        line = [coolant_after(time=float(time), **way) for time in times]
        series.append(
            Series(f"hottest coolant, {loop.name} loop", "temperature", "K", _points(line))
        )
        limit = book.get(loop.entry("max_temperature"))
        if limit is not None:
            marks.append(Mark(f"limit, {loop.name} loop", y=limit))
    return Curve(
        CLIMB_ID,
        "coolant over the goal's climb, hot day",
        Axis("time", "time", "s", tuple(times.tolist())),
        tuple(series),
        tuple(marks),
        CLIMB_SOURCES,
    )


def _points(line: Sequence[float]) -> tuple[float | None, ...]:
    return tuple(None if isnan(value) else float(value) for value in line)
