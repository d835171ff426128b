"""The lightest cable that would pass where one lies, and what rules out the next thinner."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.cable import (
    body_of,
    grouping_of,
    insulation_of,
    routing_of,
)
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.cable_size import lightest_cable
from swapwright.physics.circuit.conductor_heat import heat_balance_ampacity
from swapwright.physics.circuit.conductor_rating import (
    adiabatic_factor,
    ambient_factor,
    withstand_joule_integral,
)
from swapwright.standards import conductors as table
from swapwright.standards.atmosphere import SEA_LEVEL_PRESSURE

SOURCE = "swapwright-lightest-cable"


def cable_choices(book: FigureBook) -> None:
    """Write for each cable the lightest standard size that passes every check of its current."""
    for device in book.circuit.devices_of(model.CABLE):
        with book.attempt(f"circuit.{device.slug}.lightest"):
            _choice(book, device)


def _choice(book: FigureBook, device: Device) -> None:
    slug = device.slug
    names = {
        "current for good": f"circuit.{slug}.current",
        "its fuse": f"circuit.{slug}.fuse_rating",
        "hard driving": f"circuit.{slug}.run_current",
    }
    currents = {name: book.value(path) for name, path in names.items() if path in book.values}
    for path in (f"circuit.{slug}.current", f"circuit.{slug}.fuse_i2t"):
        book.value(path)  # raises Missing: without these nothing can be chosen
    let_through = book.value(f"circuit.{slug}.fuse_i2t")

    @cache
    def ampacity(area: float) -> float:
        return size_ampacity(book, device, area)

    def carries(amps: float) -> Callable[[float], bool]:
        return lambda area: ampacity(area) >= amps

    checks = {name: carries(value.si) for name, value in currents.items()}
    checks["a short circuit"] = lambda area: _withstand(book, device, area) >= let_through.si
    found = lightest_cable(sizes=table.STANDARD_SIZES, checks=checks)
    if found.area is None:
        limits = " and ".join(found.limited_by)
        raise Missing(reason=f"no standard size does there: the thickest is ruled out by {limits}")
    limits = " and ".join(found.limited_by)
    limits = f"limited by {limits}" if limits else "the thinnest there is"
    book.look_up(
        f"circuit.{slug}.lightest",
        f"lightest standard size that would do for {device.name}",
        found.area,
        "m^2",
        LookedUp("standard sizes", limits, "area", SOURCE),
        "conductor_area",
        fuse_i2t=let_through,
        **{model.slug(name): value for name, value in currents.items()},
    )


def size_ampacity(book: FigureBook, device: Device, area: float) -> float:
    """Return what a cable of another size would carry for good where this one lies, A."""
    hottest = book.number(f"circuit.{device.slug}.max_temperature")
    air = book.number(f"circuit.{device.slug}.ambient")
    if air >= hottest:
        return 0.0
    balance = heat_balance_ampacity(
        body_of(book, device, area),
        conductor_temperature=hottest,
        ambient=air,
        pressure=SEA_LEVEL_PRESSURE.si,
    )
    amps = [balance.current]
    amps += [
        rated
        * ambient_factor(max_temperature=hottest, ambient=air, reference_ambient=each.ambient.si)
        for each, rated in table.published_ampacities(area)
        if hottest <= each.conductor_temperature.si
    ]
    return min(amps) * grouping_of(book, device).si * routing_of(book, device).factor.si


def _withstand(book: FigureBook, device: Device, area: float) -> float:
    material = table.INSULATION_MATERIALS[insulation_of(book, device).material]
    factor = adiabatic_factor(
        adiabatic_constant=table.ADIABATIC_CONSTANT.si,
        reciprocal_temperature=table.RECIPROCAL_TEMPERATURE.si,
        start=book.number(f"circuit.{device.slug}.max_temperature"),
        final=material.final_temperature.si,
    )
    return withstand_joule_integral(adiabatic_factor=factor, area=area)
