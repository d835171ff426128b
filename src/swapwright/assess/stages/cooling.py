"""Cooling loops: heat made, flow, temperatures, a fast charge, charts; and warmth in the cold."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.cooling_curves import climb_chart, flow_chart
from swapwright.assess.cooling_loop import cooled, loops
from swapwright.assess.stages.cooling_fast import fast_charge
from swapwright.assess.stages.cooling_flow import loop_flow
from swapwright.assess.stages.cooling_heat import loop_heat
from swapwright.assess.stages.cooling_made import heat_made
from swapwright.assess.stages.warming import warming


def cooling(book: FigureBook) -> None:
    """Write heat, flow and temperatures of every loop, and what warms pack and cabin."""
    every = loops(book.car)
    heat_made(book, cooled(book.car))
    bodies = {}
    for loop in every:
        body = loop_flow(book, loop)
        if body is not None:
            bodies[loop] = body
        loop_heat(book, loop)
    fast_charge(book, every)
    for loop in every:
        flow = flow_chart(book, loop, bodies[loop]) if loop in bodies else None
        for chart in (flow, climb_chart(book, loop)):
            if chart is not None:
                book.curves[chart.id] = chart
    warming(book)
