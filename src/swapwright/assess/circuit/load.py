"""Currents: what the simulated runs, the ratings and the branches draw through each device."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isnan, nan

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.resistance import LOW
from swapwright.assess.circuit.wiring import CONDUCTING, bounds, conductors
from swapwright.assess.runs import RecordedRun
from swapwright.assess.stages.ranges import CITY, RECORDED, share_behind
from swapwright.assess.stages.regen import NO_REGENERATION
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element
from swapwright.physics.circuit.carried import carried_current, power_current
from swapwright.physics.circuit.network import NetworkError, all_shares
from swapwright.simulate.run import COLUMNS
from swapwright.standards.ratings import MOST_BEHIND

FloatArray = NDArray[np.float64]

_CURRENT = COLUMNS.index("current")
CLIMB = "climb"
SPRINT = "sprint"
RUN_SOURCE = "swapwright-current-history"
LARGEST = "swapwright-largest-current"


@dataclass(frozen=True)
class History:
    """The pack's current over one simulated run: A of each step, and the step s.

    ``is_repeated`` tells whether a driver does this every day, or now and then. ``before`` is the
    steady current, A, that has warmed everything when the run begins.
    """

    name: str
    label: str
    currents: FloatArray
    step: float
    is_repeated: bool
    before: float

    @property
    def rms(self) -> float:
        """Return the root of the mean square, A."""
        return _rms(self.currents)


def _rms(currents: FloatArray) -> float:
    return float(np.sqrt(np.mean(np.square(currents)))) if len(currents) else 0.0


def loads(book: FigureBook) -> tuple[History, ...]:
    """Write the currents of the traction circuit, the branches and each device."""
    histories = _histories(book)
    _traction(book, histories)
    _branches(book)
    _devices(book)
    return histories


def _histories(book: FigureBook) -> tuple[History, ...]:
    """Return the current of each cycle, of the goal's climb and of full throttle."""
    found: list[History] = []

    def keep(name: str, label: str, run: RecordedRun | None, *, is_repeated: bool) -> None:
        if run is not None and run.steps:
            currents = np.ascontiguousarray(run.trace[: run.steps, _CURRENT])
            # A run goes on as it went before; full throttle comes on top of the hardest of them.
            before = _rms(currents)
            if name == SPRINT and found:
                before = max(other.rms for other in found)
            step = run.ledger.time / run.steps
            found.append(History(name, label, currents, step, is_repeated, before))

    if CITY not in book.recorded:
        return ()
    for name, (label, _) in RECORDED.items():
        run = book.recorded[name]
        # Beside town driving, a cycle the car cannot follow is no everyday of its life.
        can_follow = name == CITY or share_behind(run) <= MOST_BEHIND.si
        keep(name, label, run, is_repeated=can_follow)
    keep(CLIMB, "the goal's climb", book.recorded.get(CLIMB), is_repeated=False)
    keep(SPRINT, "full throttle", book.recorded.get(SPRINT), is_repeated=False)
    return tuple(found)


def _traction(book: FigureBook, histories: tuple[History, ...]) -> None:
    rms: dict[str, Value] = {}
    driven = {"mass": "mass.test", "a": "road.a", "c": "road.c"}
    for history in histories:
        if not history.is_repeated and history.name != CLIMB:
            continue
        figure_id = f"circuit.traction.rms_{history.name}"
        with book.attempt(figure_id):
            inputs = {name: book.value(path) for name, path in driven.items()}
            book.look_up(
                figure_id,
                f"pack current, root mean square, {history.label}",
                history.rms,
                "A",
                LookedUp("simulated run", history.label, "rms of the pack current", RUN_SOURCE),
                "current",
                **inputs,
            )
            rms[history.name] = book.value(figure_id)
    with book.attempt("circuit.traction.continuous"):
        if "circuit.traction.rms_city" in book.missing:
            book.value("circuit.traction.rms_city")
        rms["continuous rating"] = book.value("current.continuous_demand")
        _largest(book, "circuit.traction.continuous", "pack current for good", rms)
    for figure_id, label, each in (
        (
            "circuit.traction.peak",
            "pack current at peak power",
            {"half charge": "current.peak_demand", "nearly empty, cold": "cold.current_demand"},
        ),
        (
            "circuit.traction.reverse",
            "largest current into the pack",
            {"regeneration": "regen.peak_current", "charging": "charging.current"},
        ),
    ):
        with book.attempt(figure_id):
            values = {
                name: book.value(path)
                for name, path in each.items()
                if book.reasons.get(path) != NO_REGENERATION
            }
            _largest(book, figure_id, label, values)


def _largest(book: FigureBook, figure_id: str, label: str, values: Mapping[str, Value]) -> None:
    """Write the largest of several currents."""
    name = max(values, key=lambda each: values[each].si)
    inputs = {model.slug(each): value for each, value in values.items()}
    book.look_up(
        figure_id,
        label,
        values[name].si,
        "A",
        LookedUp("largest of these", name, "current", LARGEST),
        "current",
        **inputs,
    )


TAKEN = "pack.charge_continuous"


def _branches(book: FigureBook) -> None:
    """Write what each converter beside the inverter draws."""
    for device in book.circuit.devices_of(*(model.CONVERTERS - {model.INVERTER})):
        figure_id = f"circuit.{device.slug}.draw"
        stated = device.entry("current")
        label = f"current of {device.name}"
        if book.has(stated):
            rows: list[tuple[str, Source, float]] = [("as given", stated, 1.0)]
            book.total(figure_id, label, "A", rows, "current")
        elif device.kind == model.INLET and not book.has(device.entry("power")):
            rows = [("what the cells take, which the station is told", TAKEN, 1.0)]
            book.total(figure_id, label, "A", rows, "current")
        elif device.kind == model.CHARGER and book.has("charging.charger.max_current"):
            rows = [("charger's highest", "charging.charger.max_current", 1.0)]
            book.total(figure_id, label, "A", rows, "current")
        else:
            power = "lv.dcdc.power" if device.kind == model.DCDC else device.entry("power")
            book.make(
                power_current, figure_id, label=label, power=power, voltage="pack.voltage_empty"
            )


def _devices(book: FigureBook) -> None:
    """Write the share, the lasting and the peak current of each device along the poles."""
    circuit = book.circuit
    try:
        shares = _shares(book)
    except Missing as missing:
        for device in circuit.devices_of(*CONDUCTING):
            for name in OF_DEVICE:
                book.note_missing(f"circuit.{device.slug}.{name}", missing)
        return
    charging = {each.name for each in circuit.devices_of(model.CHARGER, model.INLET)}
    for device in circuit.devices_of(*CONDUCTING):
        made = tuple(f"circuit.{device.slug}.{name}" for name in OF_DEVICE)
        with book.attempt(*made):
            found = _carried(device, shares)
            if not found:
                raise Missing(reason=f"no load of the circuit draws current through {device.name}")
            if any(map(isnan, found.values())):
                conductors(book, LOW)  # raises Missing with what is not known
            _device(book, device, found, charging)


OF_DEVICE = ("current", "peak", "reverse")


def _device(
    book: FigureBook, device: Device, shares: Mapping[str, float], charging: set[str]
) -> None:
    """Write what a device carries: driving, all its loads together; charging, each by itself."""
    slug = device.slug
    first = next(iter(shares))
    _share(book, device, first, shares[first], f"circuit.{slug}.share")
    driving = [load for load in shares if load not in charging]
    if model.INVERTER in driving:
        driving = [model.INVERTER]  # the simulated runs have the other loads in them
    names = {"current": "lasting", "peak": "peak"}
    if device.kind == model.CONTACTOR:
        names["reverse"] = "largest reverse"
    for name, what in names.items():
        label = f"{what} current of {device.name}"
        rows: list[tuple[str, Source, float]] = [
            (load, _of_load(book, device, load, name, shares[load], is_first=load == first), 1.0)
            for load in driving
        ]
        each = {
            load: _of_load(book, device, load, name, shares[load], is_first=load == first)
            for load in shares
            if load in charging
        }
        figure_id = f"circuit.{slug}.{name}"
        if not each or not rows:
            rows = rows or [(load, path, 1.0) for load, path in each.items()]
            book.total(figure_id, label, "A", rows, "current")
            continue
        book.total(f"{figure_id}_driving", f"{label}, driving", "A", rows, "current")
        values = {"driving": book.value(f"{figure_id}_driving")}
        values |= {load: book.value(path) for load, path in each.items()}
        _largest(book, figure_id, label, values)


def _share(book: FigureBook, device: Device, load: str, share: float, figure_id: str) -> None:
    book.look_up(
        figure_id,
        f"share of the current of {load} that {device.name} carries",
        share,
        "1",
        LookedUp(
            "solved network", device.name, f"of the current of {load}", "kirchhoff-current-law"
        ),
        "fraction",
    )


TRACTION = {
    "current": "circuit.traction.continuous",
    "peak": "circuit.traction.peak",
    "reverse": "circuit.traction.reverse",
}


def _of_load(
    book: FigureBook, device: Device, load: str, name: str, share: float, *, is_first: bool
) -> str:
    """Write what a device carries of one load, and return that figure's id."""
    slug, of = device.slug, model.slug(load)
    whole = TRACTION[name] if load == model.INVERTER else f"circuit.{of}.draw"
    made = name if load == model.INVERTER else "draw"
    figure_id = f"circuit.{slug}.{made}_of_{of}"
    if figure_id in book.values or figure_id in book.missing:
        return figure_id
    share_id = f"circuit.{slug}.share" if is_first else f"circuit.{slug}.share_of_{of}"
    if share_id not in book.values:
        _share(book, device, load, share, share_id)
    book.make(
        carried_current,
        figure_id,
        label=f"current of {load} through {device.name}",
        current=whole,
        share=share_id,
    )
    return figure_id


def _carried(device: Device, shares: Mapping[str, Mapping[str, float]]) -> Mapping[str, float]:
    """Return the share of each load's current that a device carries, traction first."""
    carried: dict[str, float] = {}
    for load, each in shares.items():
        found = [abs(each.get(element.name, 0.0)) for element in device.elements]
        share = nan if any(map(isnan, found)) else max(found)
        if isnan(share) or share > _NO_SHARE:
            carried[load] = share if isnan(share) else round(share, _DIGITS)
    return carried


_NO_SHARE = 1e-6
_DIGITS = 9
"""Of a share; behind them stands what the solver rounded, which must not move a verdict."""


def _shares(book: FigureBook) -> Mapping[str, Mapping[str, float]]:
    """Return for each load the share of its current in every element; inverters count as one."""
    circuit = book.circuit
    inverters = circuit.of_kind(model.INVERTER)
    others = circuit.of_kind(*(model.CONVERTERS - {model.INVERTER}))
    wanted: list[Element] = [*inverters, *others]
    pairs = [(element.plus, element.minus) for element in wanted]
    try:
        each = [all_shares(network, pairs) for network in bounds(book, LOW)]
    except NetworkError as error:
        raise Missing(reason=str(error)) from None
    solved = tuple(map(_alike, each[0], each[-1]))
    found: dict[str, Mapping[str, float]] = {}
    if inverters:
        found[model.INVERTER] = _split(book, circuit, solved[: len(inverters)])
    for element, share in zip(others, solved[len(inverters) :], strict=True):
        found[element.device] = share
    return found


def _alike(one: Mapping[str, float], other: Mapping[str, float]) -> Mapping[str, float]:
    """Return the shares that are the same whatever the resistances nobody knows; nan for others."""
    return {
        name: share if abs(share - other[name]) < _NO_SHARE else nan for name, share in one.items()
    }


def _split(
    book: FigureBook, circuit: Circuit, shares: tuple[Mapping[str, float], ...]
) -> Mapping[str, float]:
    """Return the shares of the traction current, inverters drawing by their motors' peak power."""
    powers = [
        book.get(f"{unit}.peak_power") or 1.0
        for unit in ("unit", "unit2")[: len(circuit.of_kind(model.INVERTER))]
    ]
    whole = sum(powers)
    mixed: dict[str, float] = {}
    for power, share in zip(powers, shares, strict=True):
        for name, value in share.items():
            mixed[name] = mixed.get(name, 0.0) + value * power / whole
    return mixed
