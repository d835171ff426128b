"""Each cable: what it may carry where it lies, how hot it runs, what a short circuit does to it."""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.load import RUN_SOURCE, History
from swapwright.base.errors import Missing
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.carried import lesser_temperature, temperature_at_current
from swapwright.physics.circuit.conductor import (
    heat_capacity_per_length,
    lug_heat,
    lug_temperature_rise,
    min_bend_radius,
    pair_loss,
    pair_voltage_drop,
    thermal_time_constant,
)
from swapwright.physics.circuit.conductor_heat import (
    CableBody,
    CableHeatResult,
    ampacity_estimate,
    conductance_per_length,
    heat_balance_ampacity,
    surface_coefficient,
)
from swapwright.physics.circuit.conductor_rating import (
    adiabatic_factor,
    ambient_factor,
    ampacity,
    withstand_joule_integral,
)
from swapwright.physics.circuit.thermal_step import peak_response
from swapwright.standards import conductors as table
from swapwright.standards.atmosphere import SEA_LEVEL_PRESSURE
from swapwright.standards.ratings import COPPER_SPECIFIC_HEAT

AIR = "hv.working_temperature"


def cables(book: FigureBook, histories: tuple[History, ...]) -> None:
    """Write what every cable may carry, and what it does carry."""
    for device in book.circuit.devices_of(model.CABLE):
        _temperatures(book, device)
        _ampacity(book, device)
        _running(book, device, histories)
        _short_circuit(book, device)
        _ends(book, device)


def max_temperatures(book: FigureBook) -> None:
    """Write the hottest each cable may be, which its resistance in the heat rests on."""
    for device in book.circuit.devices_of(model.CABLE):
        with book.attempt(f"circuit.{device.slug}.max_temperature"):
            grade = insulation_of(book, device)
            book.make(
                lesser_temperature,
                f"circuit.{device.slug}.max_temperature",
                label=f"hottest the conductor of {device.name} may be",
                insulation=grade.max_temperature,
                terminals=_terminals(book, device),
            )


TERMINALS = Value(363.15, "K", "standard", "terminals-90")
"""Where a single element says nothing of its ends; the short form's rows carry this default."""


def _terminals(book: FigureBook, device: Device) -> Value:
    """Return how hot a cable's ends may be; what is usual where the file says nothing."""
    entry = device.entry("terminals")
    if book.has(entry):
        return book.value(entry)
    return book.assume(entry, TERMINALS.si, "K", TERMINALS.ref)


def insulation_of(book: FigureBook, device: Device) -> table.InsulationClass:
    """Return the temperature class of a cable's insulation; raise Missing where it is not said."""
    return table.INSULATION_CLASSES[book.car.text(device.entry("insulation"))]


def routing_of(book: FigureBook, device: Device) -> table.Routing:
    """Return how a cable is laid; in a closed conduit where nothing is said."""
    return table.ROUTINGS[book.car.texts.get(device.entry("laid"), "conduit")]


def _temperatures(book: FigureBook, device: Device) -> None:
    ambient = device.entry("ambient")
    routing = routing_of(book, device)
    book.total(
        f"circuit.{device.slug}.ambient",
        f"air round {device.name}",
        "K",
        [
            ("as given", ambient if book.has(ambient) else AIR, 1.0),
            (routing.title, routing.added_ambient, 1.0),
        ],
        "temperature",
    )


def grouping_of(book: FigureBook, device: Device) -> Value:
    """Return what the other loaded cables of the bundle leave; raise Missing past the table."""
    bundled = device.entry("bundled")
    circuits = round(book.number(bundled)) if book.has(bundled) else 1
    if routing_of(book, device).name == "bundle":
        circuits = max(circuits, SMALLEST_BUNDLE)
    factor = table.grouping_factor(circuits)
    if factor is None:
        raise Missing(reason=f"no table says what a bundle of {circuits} loaded cables leaves")
    return factor


SMALLEST_BUNDLE = 2


def _ampacity(book: FigureBook, device: Device) -> None:
    """Write the least of what published tables and the heat balance allow."""
    slug = device.slug
    made = ("ampacity", "conductance", "heat")
    with book.attempt(*(f"circuit.{slug}.{name}" for name in made)):
        hottest = book.value(f"circuit.{slug}.max_temperature")
        factors = {
            "grouping_factor": grouping_of(book, device),
            "routing_factor": routing_of(book, device).factor,
        }
        found: dict[str, Value] = {}
        for each, amps in table.published_ampacities(book.number(device.entry("size"))):
            if hottest.si > each.conductor_temperature.si:
                continue  # the table does not speak of a conductor this hot
            _of_table(book, device, each, amps, factors)
            found[each.name] = book.value(f"circuit.{slug}.ampacity_{model.slug(each.name)}")
        _of_balance(book, device, factors)
        found["heat balance"] = book.value(f"circuit.{slug}.ampacity_heat_balance")
        least = min(found, key=lambda name: found[name].si)
        book.look_up(
            f"circuit.{slug}.ampacity",
            f"current {device.name} may carry for good where it lies",
            found[least].si,
            "A",
            LookedUp("least of these", least, "continuous current", "swapwright-least-ampacity"),
            "current",
            **{model.slug(name): value for name, value in found.items()},
        )


def _of_table(
    book: FigureBook,
    device: Device,
    each: table.AmpacityTable,
    amps: float,
    factors: dict[str, Value],
) -> None:
    name = f"circuit.{device.slug}.{{}}_{model.slug(each.name)}"
    size = book.value(device.entry("size"))
    book.look_up(
        name.format("rated"),
        f"current of {device.name} by {each.title}",
        amps,
        "A",
        LookedUp(
            each.title,
            f"{size.si * 1e6:.4g} mm2",
            f"conductor 90 degC, air 30 degC, {each.bundling}",
            each.source,
        ),
        "current",
        size=size,
    )
    book.make(
        ambient_factor,
        name.format("ambient_factor"),
        label=f"what the air round {device.name} leaves of it",
        max_temperature=f"circuit.{device.slug}.max_temperature",
        ambient=f"circuit.{device.slug}.ambient",
        reference_ambient=each.ambient,
    )
    book.make(
        ampacity,
        name.format("ampacity"),
        label=f"current allowed by {each.title}",
        rated_current=name.format("rated"),
        ambient_factor=name.format("ambient_factor"),
        **factors,
    )


def body_of(book: FigureBook, device: Device, area: float | None = None) -> CableBody:
    """Return a cable as its heat sees it: as it is, or as one of another area would be."""
    size = book.number(device.entry("size")) if area is None else area
    typical = table.cable_diameters(size)
    stated = book.get(device.entry("diameter")) if area is None else None
    overall = stated or typical.overall
    return CableBody(
        resistance_per_length=table.class_5_resistance(size),
        conductor_diameter=min(typical.conductor, MOST_COPPER * overall),
        overall_diameter=overall,
        emissivity=table.CABLE_EMISSIVITY.si,
        insulation_conductivity=table.INSULATION_CONDUCTIVITY.si,
        reference_temperature=table.RESISTANCE_TEMPERATURE.si,
        temperature_coefficient=table.COPPER_TEMPERATURE_COEFFICIENT.si,
    )


MOST_COPPER = 0.95
"""Of a cable's diameter, its conductor's is at most this."""

BALANCE = (
    "q = I^2 R(T_c) = 2 pi k (T_c - T_s)/ln(D/d)",
    "q = pi D (h (T_s - T_a) + eps sigma (T_s^4 - T_a^4)), h of a horizontal cylinder in still air",
)
BALANCE_SOURCES = ("churchill-chu-1975-cylinder", "incropera-2007-ch3")
ONE = Value(1.0, "1", "standard", "conductor-square-law")
"""The heat balance is made at the cable's own ambient."""


def _of_balance(book: FigureBook, device: Device, factors: dict[str, Value]) -> None:
    """Write the current a heat balance in still air allows, with an independent short form."""
    slug = device.slug
    hottest = book.value(f"circuit.{slug}.max_temperature")
    air = book.value(f"circuit.{slug}.ambient")
    if air.si >= hottest.si:
        raise Missing(reason=f"the air round {device.name} is hotter than it may be")
    body = body_of(book, device)
    settled = heat_balance_ampacity(
        body, conductor_temperature=hottest.si, ambient=air.si, pressure=SEA_LEVEL_PRESSURE.si
    )
    _short_balance(book, device, body)
    figure_id, short = f"circuit.{slug}.balance", book.figures[f"estimate.{slug}.balance"]
    book.add(
        Figure(
            figure_id,
            f"current that brings {device.name} to the hottest it may be, free in still air",
            Value(settled.current, "A", "computed", figure_id),
            SimulatedWorking(
                equations=BALANCE,
                settings=MappingProxyType({"surface": f"{settled.surface_temperature:.1f} K"}),
                sources=BALANCE_SOURCES,
                ledger=_ledger(settled),
                estimate=short,
                deviation=(settled.current - short.value.si) / short.value.si,
            ),
            MappingProxyType({"estimate": short.value}),
            "current",
        )
    )
    book.look_up(
        f"circuit.{slug}.heat",
        f"heat a metre of {device.name} sheds at that current",
        settled.heat,
        "W/m",
        LookedUp("heat balance", device.name, "heat made in a metre", BALANCE_SOURCES[0]),
        balance=book.value(figure_id),
    )
    book.make(
        ampacity,
        f"circuit.{slug}.ampacity_heat_balance",
        label="current allowed by a heat balance",
        rated_current=figure_id,
        ambient_factor=ONE,
        **factors,
    )


def _ledger(settled: CableHeatResult) -> MappingProxyType[str, float]:
    """Return the heat of a metre in a second, J: made positive, shed negative."""
    return MappingProxyType(
        {
            "made in a metre of copper": settled.heat,
            "to the air": -settled.convected,
            "radiated": -settled.radiated,
        }
    )


def _short_balance(book: FigureBook, device: Device, body: CableBody) -> None:
    slug = device.slug
    overall = _overall(book, device)
    book.make(
        surface_coefficient,
        f"circuit.{slug}.surface_coefficient",
        conductor_temperature=f"circuit.{slug}.max_temperature",
        ambient=f"circuit.{slug}.ambient",
        emissivity=table.CABLE_EMISSIVITY,
        surface_share=table.SURFACE_SHARE,
        convection_constant=table.CONVECTION_CONSTANT,
        overall_diameter=overall,
    )
    book.make(
        conductance_per_length,
        f"circuit.{slug}.conductance",
        conductor_diameter=Value(body.conductor_diameter, "m", "standard", table.DIAMETERS_SOURCE),
        insulation_conductivity=table.INSULATION_CONDUCTIVITY,
        surface_coefficient=f"circuit.{slug}.surface_coefficient",
        overall_diameter=overall,
    )
    book.make(
        ampacity_estimate,
        f"estimate.{slug}.balance",
        conductor_temperature=f"circuit.{slug}.max_temperature",
        ambient=f"circuit.{slug}.ambient",
        conductance_per_length=f"circuit.{slug}.conductance",
        resistance_per_length=f"circuit.{slug}.resistance_per_length",
        reference_temperature=table.RESISTANCE_TEMPERATURE,
        temperature_coefficient=table.COPPER_TEMPERATURE_COEFFICIENT,
    )


def _running(book: FigureBook, device: Device, histories: tuple[History, ...]) -> None:
    """Write temperature for good and over the simulated runs, voltage drop and loss."""
    slug = device.slug
    book.make(
        temperature_at_current,
        f"circuit.{slug}.temperature",
        label=f"conductor of {device.name}, current for good",
        ambient=f"circuit.{slug}.ambient",
        max_temperature=f"circuit.{slug}.max_temperature",
        current=f"circuit.{slug}.current",
        ampacity=f"circuit.{slug}.ampacity",
    )
    _transient(book, device, histories)
    for figure, function, label, current in (
        ("drop", pair_voltage_drop, "voltage lost in the pair at peak", "peak"),
        ("loss", pair_loss, "heat of the pair, current for good", "current"),
    ):
        book.make(
            function,
            f"circuit.{slug}.{figure}",
            label=f"{label}, {device.name}",
            current=f"circuit.{slug}.{current}",
            resistance=f"circuit.{slug}.resistance_hot",
        )


def _transient(book: FigureBook, device: Device, histories: tuple[History, ...]) -> None:
    """Write how hot the simulated runs make a cable, its copper and covering taking up heat."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.run_temperature"):
        body = body_of(book, device)
        book.make(
            heat_capacity_per_length,
            f"circuit.{slug}.heat_capacity",
            label=f"heat a metre of {device.name} takes up for each kelvin",
            area=device.entry("size"),
            conductor_diameter=Value(
                body.conductor_diameter, "m", "standard", table.DIAMETERS_SOURCE
            ),
            overall_diameter=_overall(book, device),
            copper_density=table.COPPER_DENSITY,
            copper_specific_heat=COPPER_SPECIFIC_HEAT,
            insulation_density=table.INSULATION_DENSITY,
            insulation_specific_heat=table.INSULATION_SPECIFIC_HEAT,
        )
        book.total(
            f"circuit.{slug}.rise",
            f"rise of {device.name} at the hottest it may be",
            "K",
            [
                ("hottest it may be", f"circuit.{slug}.max_temperature", 1.0),
                ("air round it", f"circuit.{slug}.ambient", -1.0),
            ],
            "temperature_difference",
        )
        book.make(
            thermal_time_constant,
            f"circuit.{slug}.time_constant",
            label=f"time {device.name} takes to warm",
            heat_capacity_per_length=f"circuit.{slug}.heat_capacity",
            temperature_rise=f"circuit.{slug}.rise",
            heat_per_length=f"circuit.{slug}.heat",
        )
        if book.number(f"circuit.{slug}.peak") > book.number(f"circuit.{slug}.current"):
            _over_runs(book, device, histories)


def _over_runs(book: FigureBook, device: Device, histories: tuple[History, ...]) -> None:
    """Write the steady current that warms a cable as the worst of the simulated runs does."""
    slug = device.slug
    time_constant = book.value(f"circuit.{slug}.time_constant")
    share = book.value(f"circuit.{slug}.share")
    squares = {
        history.label: peak_response(
            currents=history.currents,
            dt=history.step,
            time_constants=np.array([time_constant.si]),
            weights=np.ones(1),
            start=history.before**2,
        )
        for history in histories
    }
    if not squares:
        raise Missing(*book.missing.get("circuit.traction.rms_city", ()))
    worst = max(squares, key=squares.__getitem__)
    book.look_up(
        f"circuit.{slug}.run_current",
        f"steady current that warms {device.name} as the worst run does",
        share.si * float(np.sqrt(squares[worst])),
        "A",
        LookedUp("simulated run", worst, "highest filtered mean square, its root", RUN_SOURCE),
        "current",
        time_constant=time_constant,
        share=share,
    )
    book.make(
        temperature_at_current,
        f"circuit.{slug}.run_temperature",
        label=f"conductor of {device.name}, worst of the simulated runs",
        ambient=f"circuit.{slug}.ambient",
        max_temperature=f"circuit.{slug}.max_temperature",
        current=f"circuit.{slug}.run_current",
        ampacity=f"circuit.{slug}.ampacity",
    )


def _short_circuit(book: FigureBook, device: Device) -> None:
    """Write the I2t a cable bears in a short circuit, starting as hot as it may be."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.withstand"):
        material = table.INSULATION_MATERIALS[insulation_of(book, device).material]
        book.make(
            adiabatic_factor,
            f"circuit.{slug}.adiabatic_factor",
            label=f"short-circuit withstand k of {device.name}",
            adiabatic_constant=table.ADIABATIC_CONSTANT,
            reciprocal_temperature=table.RECIPROCAL_TEMPERATURE,
            start=f"circuit.{slug}.max_temperature",
            final=material.final_temperature,
        )
        book.make(
            withstand_joule_integral,
            f"circuit.{slug}.withstand",
            label=f"I2t that {device.name} bears",
            adiabatic_factor=f"circuit.{slug}.adiabatic_factor",
            area=device.entry("size"),
        )


def _ends(book: FigureBook, device: Device) -> None:
    """Write the bend it may be laid in, and what its lugs add in heat."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.bend_radius"):
        book.make(
            min_bend_radius,
            f"circuit.{slug}.bend_radius",
            label=f"tightest bend for {device.name}",
            overall_diameter=_overall(book, device),
            bend_factor=table.BEND_FACTOR,
        )
    book.make(
        lug_heat,
        f"circuit.{slug}.lug_heat",
        label=f"heat of one lug of {device.name}",
        current=f"circuit.{slug}.current",
        contact_resistance=table.LUG_CONTACT_RESISTANCE,
    )
    book.make(
        lug_temperature_rise,
        f"circuit.{slug}.lug_rise",
        label=f"what a lug of {device.name} is hotter than its cable",
        heat=f"circuit.{slug}.lug_heat",
        heat_share=table.LUG_HEAT_SHARE,
        thermal_conductivity=table.COPPER_THERMAL_CONDUCTIVITY,
        area=device.entry("size"),
        conductance_per_length=f"circuit.{slug}.conductance",
    )
    book.total(
        f"circuit.{slug}.lug_temperature",
        f"lug of {device.name}, current for good",
        "K",
        [
            ("conductor", f"circuit.{slug}.temperature", 1.0),
            ("lug over it", f"circuit.{slug}.lug_rise", 1.0),
        ],
        "temperature",
    )


def _overall(book: FigureBook, device: Device) -> Value:
    stated = device.entry("diameter")
    if book.has(stated):
        return book.value(stated)
    typical = table.cable_diameters(book.number(device.entry("size")))
    return Value(typical.overall, "m", "standard", typical.source)
