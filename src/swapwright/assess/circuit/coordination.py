"""The coordination chart: fuses, cable, contactor and the car itself on one chart of time."""

from __future__ import annotations

from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.fault import Points, melting_points
from swapwright.assess.circuit.load import RUN_SOURCE, History
from swapwright.assess.circuit.resistance import FULL, LOW
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.standards.conductors import MAX_ADIABATIC_TIME
from swapwright.standards.fuses import CURVE_TOLERANCE

FloatArray = NDArray[np.float64]

CURVE_ID = "circuit.coordination"
SOURCES = ("fuse-curve-tolerance-typical", "part-data-sheet", RUN_SOURCE)
LEAST = 10.0
"""A; where the chart begins."""
POINTS = 61
BEYOND = 1.5
"""How far past the strongest fault it goes."""
WINDOWS = 24
"""Lengths of time looked at in the car's own currents."""


def coordination(book: FigureBook, histories: tuple[History, ...]) -> Curve:
    """Return the chart of times against current; raise Missing where the circuit has no fuse."""
    fuses = [d for d in book.circuit.devices_of(model.FUSE) if book.has(d.entry("rating"))]
    if not fuses:
        raise Missing("hv.main_fuse")
    fuses.sort(key=lambda device: -book.number(device.entry("rating")))
    marks = _faults(book)
    strongest = max((mark.x or 0.0 for mark in marks), default=0.0)
    top = max(strongest, book.number(fuses[0].entry("rating")) * LEAST) * BEYOND
    currents = np.geomspace(LEAST, top, POINTS)
    series = [
        *_of_fuse(book, fuses[0], currents, with_clearing=True),
        *(line for each in fuses[1:2] for line in _of_fuse(book, each, currents)),
        *_of_cable(book, currents),
        *_of_contactor(book, currents),
    ]
    if histories:
        series.append(_line("this car through the main fuse", _drawn(histories, currents)))
    points = tuple(currents.tolist())
    return Curve(
        CURVE_ID,
        "how long each bears a current, and how long this car draws it",
        Axis("current", "current", "A", points),
        tuple(series),
        marks,
        SOURCES,
    )


def _line(label: str, times: FloatArray) -> Series:
    """Return one line; a current it has no time for is a gap."""
    kept = tuple(each if isfinite(each) and each > 0.0 else None for each in times.tolist())
    return Series(label, "time", "s", kept)


def _faults(book: FigureBook) -> tuple[Mark, ...]:
    """Return the strongest fault of the full pack and the weakest of the nearly empty one."""
    found: list[Mark] = []
    for state, words, choose in ((LOW, "weakest fault", min), (FULL, "strongest fault", max)):
        ids = [
            figure_id
            for figure_id in book.figures
            if figure_id.startswith("fault.") and figure_id.endswith(f".current_{state}")
        ]
        if ids:
            found.append(Mark(words, x=choose(map(book.number, ids))))
    return tuple(found)


def _of_fuse(
    book: FigureBook, device: Device, currents: FloatArray, *, with_clearing: bool = False
) -> tuple[Series, ...]:
    curve = melting_points(book, device.first)
    melts = _line(f"{device.name} melts", _melting(currents, *curve))
    slug = device.slug
    if not with_clearing or not book.has(f"circuit.{slug}.clearing_i2t"):
        return (melts,)
    whole, pre = (book.number(f"circuit.{slug}.{name}_i2t") for name in ("clearing", "pre_arcing"))
    slow = _melting(currents / (1.0 + CURVE_TOLERANCE.si), *curve)
    cleared = slow + (whole - pre) / np.square(currents)
    return melts, _line(f"{device.name} has cleared, slowest of its make", cleared)


def _melting(currents: FloatArray, amps: Points, times: Points) -> FloatArray:
    """Return the melting time of each current; `melting_time` over a whole axis."""
    inside = np.exp(np.interp(np.log(currents), np.log(amps), np.log(times)))
    beyond = times[-1] * np.square(amps[-1] / currents)
    found = np.where(currents >= amps[-1], beyond, inside)
    return np.where(currents < amps[0], inf, found)


def _of_cable(book: FigureBook, currents: FloatArray) -> tuple[Series, ...]:
    """Return what the main cable bears: the one that carries most."""
    cables = [
        device
        for device in book.circuit.devices_of(model.CABLE)
        if book.has(f"circuit.{device.slug}.withstand", f"circuit.{device.slug}.peak")
    ]
    if not cables:
        return ()
    main = max(cables, key=lambda device: book.number(f"circuit.{device.slug}.peak"))
    withstand = book.number(f"circuit.{main.slug}.withstand")
    bears = withstand / np.square(currents)
    bears = np.where(bears <= MAX_ADIABATIC_TIME.si, bears, inf)
    return (_line(f"{main.name} bears", bears),)


def _of_contactor(book: FigureBook, currents: FloatArray) -> tuple[Series, ...]:
    """Return what the largest contactor with an overload curve carries."""
    rated = [
        device
        for device in book.circuit.devices_of(model.CONTACTOR)
        if book.has(device.entry("carry"))
        and book.car.tables.get(device.entry("overload")) is not None
    ]
    if not rated:
        return ()
    main = max(rated, key=lambda device: book.number(device.entry("carry")))
    curve = book.car.line(main.entry("overload"))
    amps, times = np.log(curve.y[::-1]), np.log(curve.x[::-1])
    is_on = (currents >= curve.y[-1]) & (currents <= curve.y[0])
    carries = np.where(is_on, np.exp(np.interp(np.log(currents), amps, times)), inf)
    return (_line(f"{main.name} carry", carries),)


def _drawn(histories: tuple[History, ...], currents: FloatArray) -> FloatArray:
    """Return for each current the longest time over which the car draws it, root mean square."""
    longest = max(len(each.currents) * each.step for each in histories)
    shortest = min(each.step for each in histories)
    lengths = np.geomspace(shortest, longest, WINDOWS)
    squares = np.zeros(WINDOWS)
    for each in histories:
        sums = np.concatenate([[0.0], np.cumsum(np.square(each.currents))])
        for place, length in enumerate(lengths.tolist()):
            steps = max(round(length / each.step), 1)
            if steps < len(sums):
                most = float((sums[steps:] - sums[:-steps]).max()) / steps
                squares[place] = max(squares[place], most)
    # What a longer window reaches a shorter one reaches too: only ever falling, it can be read.
    drawn = np.sqrt(np.maximum.accumulate(squares[::-1]))
    found: FloatArray = np.exp(
        np.interp(
            np.log(currents),
            np.log(np.maximum(drawn, np.finfo(float).tiny)),
            np.log(lengths[::-1]),
            right=inf,
        )
    )
    return found
