"""Each fuse: what it may carry, how near the runs bring it to melting, what it lets through."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.fault import (
    SOLVED,
    Solved,
    heat_model,
    least_breaking,
    melting_points,
)
from swapwright.assess.circuit.load import RUN_SOURCE, History
from swapwright.assess.circuit.place import Place
from swapwright.assess.circuit.resistance import FULL, LOW
from swapwright.assess.circuit.wiring import conductors
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.carried import share_in_heat
from swapwright.physics.circuit.fault_current import fault_current
from swapwright.physics.circuit.fuse import (
    ambient_factor,
    clearing_i2t,
    continuous_current,
    discrimination_ratio,
    permitted_voltage,
    pulse_share,
    voltage_factor,
)
from swapwright.physics.circuit.fuse_melting import melting_current, melting_time_on_fault
from swapwright.physics.circuit.thermal_step import peak_response
from swapwright.standards import fuses as table
from swapwright.standards.conductors import MAX_ADIABATIC_TIME
from swapwright.standards.ratings import TEN_SECONDS

AIR = "hv.working_temperature"
CURVE = "fuse-curve-tolerance-typical"
I2T = "A^2.s"


def fuse_energies(book: FigureBook) -> None:
    """Write each fuse's pre-arcing and clearing I2t, of its data sheet or typical of its rating."""
    for device in book.circuit.devices_of(model.FUSE):
        slug = device.slug
        with book.attempt(f"circuit.{slug}.pre_arcing_i2t"):
            _pre_arcing(book, device)
        _clearing(book, device)


def _pre_arcing(book: FigureBook, device: Device) -> None:
    stated, label = device.entry("pre_arcing_i2t"), f"I2t that melts the {device.name}"
    figure_id = f"circuit.{device.slug}.pre_arcing_i2t"
    if book.car.get(stated) is not None:
        rows: list[tuple[str, Source, float]] = [("data sheet", stated, 1.0)]
        book.total(figure_id, label, I2T, rows, "joule_integral")
        return
    rating = book.value(device.entry("rating"))
    energy = table.GENERIC_MELTING.pre_arcing * rating.si**2
    typical = book.assume(stated, energy, I2T, table.GENERIC_MELTING.source)
    book.look_up(
        figure_id,
        f"{label}, typical of its rating",
        typical.si,
        I2T,
        LookedUp("typical fuse", f"{rating.si:.4g} A", "pre-arcing", table.GENERIC_MELTING.source),
        "joule_integral",
        rating=rating,
        typical=typical,
    )


def _clearing(book: FigureBook, device: Device) -> None:
    stated, label = device.entry("clearing_i2t"), f"I2t that the {device.name} lets through"
    figure_id = f"circuit.{device.slug}.clearing_i2t"
    if book.car.get(stated) is not None:
        rows: list[tuple[str, Source, float]] = [("data sheet", stated, 1.0)]
        book.total(figure_id, label, I2T, rows, "joule_integral")
        return
    factor = book.assume(stated, table.ARCING_FACTOR.si, "1", table.ARCING_FACTOR.ref)
    book.make(
        clearing_i2t,
        figure_id,
        label=f"{label}, typical",
        pre_arcing_i2t=f"circuit.{device.slug}.pre_arcing_i2t",
        arcing_factor=factor,
    )


def fuses(
    book: FigureBook,
    histories: tuple[History, ...],
    solved: Mapping[str, Solved],
    guarded: Mapping[Place, tuple[Device, ...]],
) -> None:
    """Write what each fuse carries, opens and lets through."""
    for device in book.circuit.devices_of(model.FUSE):
        _carrying(book, device)
        _melting(book, device, histories)
        _faults(book, device, solved, guarded)
        _discrimination(book, device, guarded)


def _carrying(book: FigureBook, device: Device) -> None:
    slug = device.slug
    book.make(
        ambient_factor,
        f"circuit.{slug}.ambient_factor",
        label=f"what the heat round the {device.name} leaves of its rating",
        ambient=AIR,
        reference=table.RATING_TEMPERATURE,
        limit=table.MELT_LIMIT_TEMPERATURE,
    )
    book.make(
        continuous_current,
        f"circuit.{slug}.allowed",
        label=f"current the {device.name} may carry for good, in its heat and coming and going",
        rating=device.entry("rating"),
        ambient_factor=f"circuit.{slug}.ambient_factor",
        cyclic_factor=table.CYCLIC_FACTOR,
    )


def curve_input(book: FigureBook, device: Device) -> Value:
    """Return the rating a melting curve stands for; a default where the curve is a typical one."""
    rating = book.value(device.entry("rating"))
    if book.car.tables.get(device.entry("melting")) is not None:
        return rating
    return book.assume(device.entry("melting"), rating.si, "A", table.GENERIC_MELTING.source)


def _melting(book: FigureBook, device: Device, histories: tuple[History, ...]) -> None:
    """Write how near peak power and the simulated runs bring a fuse to melting."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.melting_10s", f"circuit.{slug}.melting_5s"):
        currents, times = melting_points(book, device.first)
        rating = curve_input(book, device)
        for name, time, label in (
            ("melting_10s", TEN_SECONDS, "in ten seconds"),
            ("melting_5s", MAX_ADIABATIC_TIME, "in five seconds"),
        ):
            melts = melting_current(time=time.si, currents=currents, times=times)
            slow = 1.0 + table.CURVE_TOLERANCE.si if name == "melting_5s" else 1.0
            book.look_up(
                f"circuit.{slug}.{name}",
                f"current that melts the {device.name} {label}",
                melts * slow,
                "A",
                LookedUp("melting curve", f"{time.si:.0f} s", "current", CURVE),
                "current",
                rating=rating,
                time=time,
            )
    book.make(
        pulse_share,
        f"circuit.{slug}.peak_share",
        label=f"peak current over what melts the {device.name} in ten seconds",
        current=f"circuit.{slug}.peak",
        melting_current=f"circuit.{slug}.melting_10s",
    )
    _in_heat(book, device, "peak_share", "peak_of_melting")
    if book.has(f"circuit.{slug}.peak", f"circuit.{slug}.current"):
        is_steady = book.number(f"circuit.{slug}.peak") <= book.number(f"circuit.{slug}.current")
        with book.attempt(f"circuit.{slug}.run_share"):
            if is_steady:
                _steady(book, device)
            else:
                _over_runs(book, device, histories, "run_share", is_repeated=True)
        if not is_steady:
            with book.attempt(f"circuit.{slug}.hard_share"):
                _over_runs(book, device, histories, "hard_share", is_repeated=False)
            _in_heat(book, device, "hard_share", "hard_of_melting")
    else:  # neither can be told: both figures are missing, and say what for
        with book.attempt(f"circuit.{slug}.run_share", f"circuit.{slug}.hard_share"):
            book.value(f"circuit.{slug}.current")
            book.value(f"circuit.{slug}.peak")
        _in_heat(book, device, "hard_share", "hard_of_melting")
    _in_heat(book, device, "run_share", "run_of_melting")


def _in_heat(book: FigureBook, device: Device, share: str, figure: str) -> None:
    book.make(
        share_in_heat,
        f"circuit.{device.slug}.{figure}",
        label=f"{_WORDS[figure]} of the {device.name}, in its heat",
        share=f"circuit.{device.slug}.{share}",
        ambient_factor=f"circuit.{device.slug}.ambient_factor",
    )


_WORDS = {
    "peak_of_melting": "peak current over the melting current",
    "run_of_melting": "everyday driving over the melting current",
    "hard_of_melting": "climb or full throttle over the melting current",
}


def _steady(book: FigureBook, device: Device) -> None:
    """Write how near a steady load comes to the least current that melts its fuse."""
    slug = device.slug
    currents, _ = melting_points(book, device.first)
    book.look_up(
        f"circuit.{slug}.melting_least",
        f"least current that melts the {device.name}",
        currents[0],
        "A",
        LookedUp("melting curve", "longest time", "current", CURVE),
        "current",
        rating=curve_input(book, device),
    )
    book.make(
        pulse_share,
        f"circuit.{slug}.run_share",
        label=f"steady current over the least that melts the {device.name}",
        current=f"circuit.{slug}.current",
        melting_current=f"circuit.{slug}.melting_least",
    )


def _over_runs(
    book: FigureBook,
    device: Device,
    histories: tuple[History, ...],
    name: str,
    *,
    is_repeated: bool,
) -> None:
    """Run currents through the fuse's network of heat; write the nearest it comes to melting.

    Those of every day, or those of now and then: the climb, full throttle.
    """
    constants, weights = heat_model(*melting_points(book, device.first))
    share = book.value(f"circuit.{device.slug}.share")
    found = {
        history.label: share.si
        * float(
            np.sqrt(
                peak_response(
                    currents=history.currents,
                    dt=history.step,
                    time_constants=np.array(constants),
                    weights=np.array(weights),
                    start=history.before**2,
                )
            )
        )
        for history in histories
        if history.is_repeated == is_repeated
    }
    if not found and "circuit.traction.rms_city" in book.missing:
        book.value("circuit.traction.rms_city")
    if not found:
        raise Missing(reason="the car follows none of the cycles, and no climb is asked of it")
    worst = max(found, key=found.__getitem__)
    what = "everyday driving comes" if is_repeated else "the climb or full throttle come"
    book.look_up(
        f"circuit.{device.slug}.{name}",
        f"nearest that {what} to melting the {device.name}, as a current",
        found[worst],
        "1",
        LookedUp("simulated run through the melting curve", worst, "share", RUN_SOURCE),
        "fraction",
        rating=curve_input(book, device),
        share=share,
    )


_NO_SHARE = 1e-6
OF_STRONGEST = (
    "most_fault",
    "voltage_factor",
    "permitted_voltage",
    "melting_time",
    "let_through",
)
"""What rests on the strongest fault a fuse has to open."""


def _faults(
    book: FigureBook,
    device: Device,
    solved: Mapping[str, Solved],
    guarded: Mapping[Place, tuple[Device, ...]],
) -> None:
    """Write the strongest and the weakest fault a fuse has to open."""
    slug, names = device.slug, [element.name for element in device.elements]

    def current(state: str, place: Place) -> float:
        fault = solved[state].faults.get(place)
        shares = {} if fault is None else fault.shares
        share = max(shares.get(name, 0.0) for name in names)
        return share * solved[state].faults[place].prospective if share > _NO_SHARE else 0.0

    for state, made in ((FULL, OF_STRONGEST), (LOW, ("least_fault",))):
        with book.attempt(*(f"circuit.{slug}.{name}" for name in made)):
            _reached(book, device, solved, state, current)
            if state == LOW and any(
                fuses and fuses[-1] == device and place not in solved[LOW].faults
                for place, fuses in guarded.items()
            ):
                conductors(book, LOW)  # the weakest of them may be the one nobody can tell
    if FULL in solved:
        strongest = max(solved[FULL].faults, key=lambda place: current(FULL, place), default=None)
        if strongest is not None and current(FULL, strongest) > 0.0:
            _fault(book, device, strongest, FULL, "most_fault", current(FULL, strongest))
            _opening(book, device, strongest)
    if LOW in solved and f"circuit.{slug}.least_fault" not in book.missing:
        own = [
            place
            for place, fuses in guarded.items()
            if place in solved[LOW].faults
            and fuses
            and fuses[-1] == device
            and current(LOW, place) > 0.0
        ]
        own = own or [place for place in solved[LOW].faults if current(LOW, place) > 0.0]
        weakest = min(own, key=lambda place: current(LOW, place), default=None)
        if weakest is not None:
            _fault(book, device, weakest, LOW, "least_fault", current(LOW, weakest))
    with book.attempt(f"circuit.{slug}.sure_current"):
        least = least_breaking(book, device.first) or 0.0
        melts = book.value(f"circuit.{slug}.melting_5s")
        inputs = {"melting": melts}
        if least > 0.0:
            inputs["min_breaking"] = book.value(device.entry("min_breaking"))
        row = "melting in five seconds" if melts.si >= least else "least it breaks"
        book.look_up(
            f"circuit.{slug}.sure_current",
            f"least current the {device.name} is sure to open in five seconds",
            max(melts.si, least),
            "A",
            LookedUp("larger of these", row, "current", CURVE),
            "current",
            **inputs,
        )


def _reached(
    book: FigureBook,
    device: Device,
    solved: Mapping[str, Solved],
    state: str,
    current: Callable[[str, Place], float],
) -> None:
    """Raise Missing where no fault goes through a fuse, or none could be solved."""
    if state not in solved:
        conductors(book, state)
        raise Missing(reason="the circuit's short circuits could not be solved")
    if not any(current(state, place) > 0.0 for place in solved[state].faults):
        conductors(book, state)
        raise Missing(reason=f"no short circuit between the poles goes through the {device.name}")


def _fault(
    book: FigureBook, device: Device, place: Place, state: str, name: str, current: float
) -> None:
    words = "strongest" if name == "most_fault" else "weakest"
    book.look_up(
        f"circuit.{device.slug}.{name}",
        f"{words} fault the {device.name} has to open",
        current,
        "A",
        LookedUp("solved network", place.name, "its share of the fault", SOLVED),
        "current",
        fault=book.value(f"fault.{place.slug}.current_{state}"),
    )


def _opening(book: FigureBook, device: Device, place: Place) -> None:
    """Write the voltage a fuse may open at this L/R, when it melts and what it lets through."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.voltage_factor"):
        lag = book.value(f"fault.{place.slug}.time_constant_{FULL}")
        by = table.VOLTAGE_BY_TIME_CONSTANT
        if book.has(device.entry("time_constant")):
            book.look_up(
                f"circuit.{slug}.time_constant",
                f"L/R of the strongest fault the {device.name} has to open",
                lag.si,
                "s",
                LookedUp("solved network", place.name, "L/R", SOLVED),
                "time",
                time_constant=lag,
            )
        book.look_up(
            f"circuit.{slug}.voltage_factor",
            f"share of its voltage the {device.name} may open at this L/R",
            voltage_factor(time_constant=lag.si, times=by.times, factors=by.factors),
            "1",
            LookedUp("dc voltage against L/R", f"{lag.si * 1e3:.3g} ms", "share", by.source),
            "fraction",
            time_constant=lag,
        )
    book.make(
        permitted_voltage,
        f"circuit.{slug}.permitted_voltage",
        label=f"dc voltage the {device.name} opens at this L/R",
        voltage=device.entry("voltage"),
        factor=f"circuit.{slug}.voltage_factor",
    )
    with book.attempt(f"circuit.{slug}.melting_time"):
        currents, times = melting_points(book, device.first)
        fault = book.value(f"circuit.{slug}.most_fault")
        energy = book.value(f"circuit.{slug}.pre_arcing_i2t")
        time = melting_time_on_fault(
            prospective=fault.si,
            time_constant=lag.si,
            pre_arcing_i2t=energy.si,
            currents=currents,
            times=times,
        )
        book.look_up(
            f"circuit.{slug}.melting_time",
            f"time in which the strongest fault melts the {device.name}",
            time,
            "s",
            LookedUp("rising fault through its I2t", device.name, "time", "iec-60269-1-2014-i2t"),
            "time",
            fault=fault,
            pre_arcing=energy,
            time_constant=lag,
        )
    book.make(
        fault_current,
        f"circuit.{slug}.let_through",
        label=f"highest current the {device.name} lets through",
        prospective=f"circuit.{slug}.most_fault",
        time_constant=f"fault.{place.slug}.time_constant_{FULL}",
        time=f"circuit.{slug}.melting_time",
    )


def _discrimination(
    book: FigureBook, device: Device, guarded: Mapping[Place, tuple[Device, ...]]
) -> None:
    """Write how near a fuse behind another comes to melting that one too."""
    before = [
        fuses[fuses.index(device) - 1]
        for fuses in guarded.values()
        if device in fuses and fuses.index(device) > 0
    ]
    if before:
        book.make(
            discrimination_ratio,
            f"circuit.{device.slug}.discrimination",
            label=f"I2t the {device.name} lets through over what melts the {before[0].name}",
            branch_clearing_i2t=f"circuit.{device.slug}.clearing_i2t",
            main_pre_arcing_i2t=f"circuit.{before[0].slug}.pre_arcing_i2t",
        )
