"""The flow of a coolant loop: its coolant, what hoses and parts take, where the pump meets them."""

from __future__ import annotations

from types import MappingProxyType

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.cooling_loop import Loop
from swapwright.base.errors import Missing
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Value
from swapwright.physics.cooling.flow import (
    LoopBody,
    fitting_loss,
    flow_estimate,
    flow_share,
    friction_factor,
    hose_drop,
    hose_velocity,
    part_drop,
    probe_flow,
    pump_pressure,
    reynolds_number,
    working_flow,
)
from swapwright.physics.vehicle.constant import ICE_POINT
from swapwright.standards import coolants
from swapwright.standards.cooling import (
    BEND_LOSS,
    PART_DROP_FLOW,
    PART_DROPS,
    PART_ENDS_LOSS,
    PROBE_SHARE,
)

EQUATIONS = (
    "p_0 (1 - (Q/Q_0)^2) = (f L/d + K) rho v^2/2 + p_r (Q/Q_r)^2",
    "f of Re = rho v d/mu in a smooth hose, laminar, turbulent and between; v = Q/(pi d^2/4)",
)
EQUATION_SOURCES = ("churchill-1977-friction", "incropera-2007-ch8", "coolant-loop-practice")
HOUR = Value(3600.0, "s", "standard", "swapwright-loop-flow")
"""What the ledger of a flow is kept over."""

OWN_ENDS = ("pump", "hose")
"""Words in a list of parts at which no hose ends beside the pump's own curve."""

_LABELS = {
    "density": ("density of the coolant", "density"),
    "specific_heat": ("specific heat of the coolant", "specific_heat"),
    "viscosity": ("viscosity of the coolant", ""),
    "conductivity": ("heat conductivity of the coolant", ""),
}


def loop_flow(book: FigureBook, loop: Loop) -> LoopBody | None:
    """Write a loop's coolant and flow; return the loop as its flow sees it, where that is known."""
    with book.attempt(*(loop.figure(name) for name in (*_LABELS, "freezes"))):
        _coolant(book, loop)
    body = None
    with book.attempt(*map(loop.figure, ("parts_drop", "fitting_loss", "flow_computed"))):
        reference = _drops(book, loop)
        body = _solved(book, loop, reference)
        _at_flow(book, loop, "", loop.figure("flow_computed"), reference)
    measured = loop.entry("flow")
    counted = measured if book.has(measured) else loop.figure("flow_computed")
    book.total(
        loop.figure("flow"),
        f"coolant flow, {loop.name} loop",
        "m^3/s",
        [("measured" if counted == measured else "worked out", counted, 1.0)],
        "flow",
    )
    if book.has(measured, loop.entry("pump.flow")):
        book.make(
            flow_share,
            loop.figure("flow_share"),
            label=f"flow measured over flow worked out, {loop.name} loop",
            measured=measured,
            computed=loop.figure("flow_computed"),
        )
    return body


def _coolant(book: FigureBook, loop: Loop) -> None:
    """Write the coolant's properties at the hot day's air, and where it freezes."""
    kind = book.car.text(loop.entry("coolant.kind"))
    table = coolants.coolant_table(kind)
    if table is None:
        raise Missing(reason=f"there is no table of {kind} as a coolant")
    is_water = kind == coolants.WATER
    share = coolants.NO_ANTIFREEZE if is_water else book.value(loop.entry("coolant.share"))
    freezing = table.freezes_at(share.si)
    warm = book.value("conditions.hot_day")
    found = table.at(share.si, warm.si)
    if freezing is None or found is None:
        raise Missing(reason=f"no table says what {share.si:.0%} of {kind} in water does")
    title = kind if is_water else f"{kind} in water"
    celsius = f"{warm.si - ICE_POINT.si:.0f} degC"
    for name, (label, quantity) in _LABELS.items():
        column = f"{name.replace('_', ' ')} at {celsius}"
        book.look_up(
            loop.figure(name),
            f"{label}, {loop.name} loop, hot day",
            found[name],
            coolants.UNITS[name],
            LookedUp(title, f"{share.si:.0%}", column, coolants.SOURCE),
            quantity,
            share=share,
            temperature=warm,
        )
    book.look_up(
        loop.figure("freezes"),
        f"coolant begins to freeze, {loop.name} loop",
        freezing,
        "K",
        LookedUp(title, f"{share.si:.0%}", "freezing point", coolants.SOURCE),
        "temperature",
        share=share,
    )


def _drops(book: FigureBook, loop: Loop) -> Source:
    """Write what all parts take at their reference flow; return where that flow stands."""
    parts = loop.parts(book.car)
    given = loop.entry("drops")
    reference: Source = PART_DROP_FLOW
    pressures: tuple[Source, ...] = tuple(PART_DROPS[part] for part in parts)
    if given in book.car.counts:
        pressures, reference = book.car.list(given), loop.entry("drops_at")
    book.total(
        loop.figure("parts_drop"),
        f"pressure all parts take at the flow of their data, {loop.name} loop",
        "Pa",
        [(part, pressure, 1.0) for part, pressure in zip(parts, pressures, strict=True)],
        "pressure",
    )
    ends = sum(part not in OWN_ENDS for part in parts)
    book.make(
        fitting_loss,
        loop.figure("fitting_loss"),
        label=f"loss coefficients of fittings and bends, {loop.name} loop",
        parts=Value(float(ends), "1", "entered", loop.entry("parts")),
        end_loss=PART_ENDS_LOSS,
        bends=loop.entry("hose.bends"),
        bend_loss=BEND_LOSS,
    )
    return reference


def _at_flow(book: FigureBook, loop: Loop, stem: str, flow: str, reference: Source) -> None:
    """Write what the hoses take at a flow; with no stem, what parts and pump do there as well."""

    def name(figure: str) -> str:
        return f"{stem}{loop.figure(figure)}"

    words = f"{loop.name} loop" + (", short estimate" if stem else "")
    book.make(
        hose_velocity,
        name("velocity"),
        label=f"velocity in the hoses, {words}",
        flow=flow,
        bore=loop.entry("hose.bore"),
    )
    book.make(
        reynolds_number,
        name("reynolds"),
        label=f"Reynolds number in the hoses, {words}",
        density=loop.figure("density"),
        velocity=name("velocity"),
        bore=loop.entry("hose.bore"),
        viscosity=loop.figure("viscosity"),
    )
    book.make(
        friction_factor,
        name("friction"),
        label=f"friction factor of the hoses, {words}",
        reynolds=name("reynolds"),
    )
    book.make(
        hose_drop,
        name("hose_drop"),
        label=f"pressure the hoses take, {words}",
        friction_factor=name("friction"),
        length=loop.entry("hose.length"),
        bore=loop.entry("hose.bore"),
        fitting_loss=loop.figure("fitting_loss"),
        density=loop.figure("density"),
        velocity=name("velocity"),
    )
    if stem:
        return
    book.make(
        part_drop,
        name("parts_drop_at_flow"),
        label=f"pressure all parts take, {words}",
        pressure=loop.figure("parts_drop"),
        reference_flow=reference,
        flow=flow,
    )
    book.make(
        pump_pressure,
        name("pump_pressure"),
        label=f"pressure the pump gives, {words}",
        shut_off_pressure=loop.entry("pump.pressure"),
        free_flow=loop.entry("pump.flow"),
        flow=flow,
    )


def _solved(book: FigureBook, loop: Loop, reference: Source) -> LoopBody:
    """Write the flow at which the pump gives what the loop takes, with its short estimate."""
    stem = "estimate."
    book.make(
        probe_flow,
        f"{stem}{loop.figure('probe_flow')}",
        share=PROBE_SHARE,
        free_flow=loop.entry("pump.flow"),
    )
    _at_flow(book, loop, stem, f"{stem}{loop.figure('probe_flow')}", reference)
    book.make(
        flow_estimate,
        f"{stem}{loop.figure('flow')}",
        label=f"coolant flow, {loop.name} loop, short estimate",
        shut_off_pressure=loop.entry("pump.pressure"),
        free_flow=loop.entry("pump.flow"),
        parts_drop=loop.figure("parts_drop"),
        reference_flow=reference,
        hose_drop=f"{stem}{loop.figure('hose_drop')}",
        probe_flow=f"{stem}{loop.figure('probe_flow')}",
    )
    short = book.value(f"{stem}{loop.figure('flow')}")
    at = reference if isinstance(reference, Value) else book.value(reference)
    body = LoopBody(
        shut_off_pressure=book.number(loop.entry("pump.pressure")),
        free_flow=book.number(loop.entry("pump.flow")),
        bore=book.number(loop.entry("hose.bore")),
        length=book.number(loop.entry("hose.length")),
        fitting_loss=book.number(loop.figure("fitting_loss")),
        parts_drop=book.number(loop.figure("parts_drop")),
        reference_flow=at.si,
        density=book.number(loop.figure("density")),
        viscosity=book.number(loop.figure("viscosity")),
    )
    met = working_flow(body)
    figure_id = loop.figure("flow_computed")
    book.add(
        Figure(
            figure_id,
            f"coolant flow worked out, {loop.name} loop",
            Value(met.flow, "m^3/s", "computed", figure_id),
            SimulatedWorking(
                equations=EQUATIONS,
                settings=MappingProxyType({"pressure": f"{met.pump / 1000.0:.1f} kPa"}),
                sources=EQUATION_SOURCES,
                ledger=MappingProxyType(
                    {
                        "the pump gives in an hour": met.pump * met.flow * HOUR.si,
                        "hoses, fittings and bends": -met.hoses * met.flow * HOUR.si,
                        "parts": -met.parts * met.flow * HOUR.si,
                    }
                ),
                estimate=book.figures[short.ref],
                deviation=(met.flow - short.si) / short.si,
            ),
            MappingProxyType({"estimate": short}),
            "flow",
        )
    )
    return body
