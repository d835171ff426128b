"""People at the circuit: gloves and meter it asks for, current through a body, arc flash.

No energy here names a class of clothing, and no small one lowers the caution: the plasma of a
closed box is not covered, and at low voltage the two ways of reckoning part.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.fault import Solved, cleared
from swapwright.assess.circuit.fuse import curve_input
from swapwright.assess.circuit.place import Place, places
from swapwright.assess.circuit.resistance import FULL, words_of
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.physics.circuit.arc import Arc, arc_energy, arc_on_source, enclosure_energy
from swapwright.physics.circuit.arc_flash import (
    arc_flash_boundary,
    arc_time,
    boxed_energy,
    clearing_current,
    half_bolted_current,
    incident_energy,
)
from swapwright.physics.circuit.body import body_current, dc_zone, heart_current
from swapwright.standards import arc_flash as flash
from swapwright.standards import body as table
from swapwright.standards.gloves import BASELINE_CLASS, GLOVES, least_glove_class
from swapwright.standards.gloves import SOURCE as GLOVES_SOURCE
from swapwright.standards.meters import MIN_METER_CATEGORY, MIN_METER_VOLTAGE
from swapwright.standards.ratings import TEN_SECONDS

VOLTAGE = "pack.max_working_voltage"
NOTHING_CLEARS = "nothing clears this fault"
BOX = flash.ENCLOSURES[0]
"""What a car's junction box is nearest to."""

FEET, HANDS = "left hand to feet", "hand to hand"
SKINS: tuple[tuple[str, table.Skin], ...] = (("dry", "dry"), ("wet", "saltwater-wet"))


def people(book: FigureBook, solved: Mapping[str, Solved]) -> None:
    """Write what a person at the circuit needs and meets; ``solved`` are the faults of `faults`."""
    _gloves(book)
    _meter(book)
    for name, skin in SKINS:
        _body(book, name, skin)
    for place in work_points(book.circuit):
        made = (f"arc_flash.{place.slug}.{name}" for name in ("energy", "time", "clearing"))
        with book.attempt(*made):
            _arc_flash(book, solved, place)


def _gloves(book: FigureBook) -> None:
    """Write the voltage of the least glove class whose ac figure covers the pack's dc one."""
    with book.attempt("people.glove_voltage"):
        voltage = book.value(VOLTAGE)
        least = least_glove_class(voltage.si)
        if least is None:
            raise Missing(reason="no class of gloves covers this voltage")
        is_higher = least.ac.si > GLOVES[BASELINE_CLASS].ac.si
        worn = f"gloves of class {least.name}"
        if not is_higher:
            worn = f"gloves of class {BASELINE_CLASS} at least, as the trade wears"
            if least.name != BASELINE_CLASS:
                worn += f"; by the ac figure class {least.name} would cover the car"
        book.look_up(
            "people.glove_voltage",
            f"{worn}: its ac voltage",
            least.ac.si,
            "V",
            LookedUp("glove classes", f"class {least.name}", "highest ac voltage", GLOVES_SOURCE),
            "voltage",
            voltage=voltage,
        )


def _meter(book: FigureBook) -> None:
    with book.attempt("people.meter_voltage"):
        voltage = book.value(VOLTAGE)
        is_car = voltage.si > MIN_METER_VOLTAGE.si
        book.look_up(
            "people.meter_voltage",
            f"voltage the meter and its leads need, {MIN_METER_CATEGORY}",
            max(voltage.si, MIN_METER_VOLTAGE.si),
            "V",
            LookedUp(
                "larger of these",
                "maximum working voltage" if is_car else MIN_METER_CATEGORY,
                "rated voltage",
                MIN_METER_VOLTAGE.ref,
            ),
            "voltage",
            voltage=voltage,
            baseline=MIN_METER_VOLTAGE,
        )


def _body(book: FigureBook, name: str, skin: table.Skin) -> None:
    """Write the current through a body from pole to pole, and what the heart sees of it."""
    impedance = f"people.impedance_{name}"
    with book.attempt(impedance):
        voltage = book.value(VOLTAGE)
        found = table.body_impedance(voltage.si, skin=skin)
        book.look_up(
            impedance,
            f"impedance of a body, hand to hand, {skin}",
            found.si,
            "ohm",
            LookedUp(
                "body impedance", f"{voltage.si:.4g} V", "the lowest 5 % of people", found.ref
            ),
            "resistance",
            voltage=voltage,
        )
    current = f"people.current_{name}"
    label = f"current through a body from pole to pole, {skin}"
    book.make(body_current, current, label=label, voltage=VOLTAGE, impedance=impedance)
    for suffix, path in (("hands", HANDS), ("feet", FEET)):
        book.make(
            heart_current,
            f"people.heart_{suffix}_{name}",
            label=f"the same as the heart sees it, {path}, {skin}",
            factor=table.HEART_FACTORS[path],
            current=current,
        )
    with book.attempt(f"people.zone_{name}"):
        through, heart = book.value(current), book.value(f"people.heart_feet_{name}")
        zone = dc_zone(
            current=through.si,
            heart=heart.si,
            time=TEN_SECONDS.si,
            perception=table.DC_PERCEPTION.si,
            curve_b=table.DC_CURVE_B,
            curve_c1=table.DC_CURVE_C1,
            error=table.DC_CURVE_ERROR.si,
        )
        book.look_up(
            f"people.zone_{name}",
            f"zone of effects while it lasts, {FEET}, {skin}: for information, never a limit",
            float(zone.removeprefix("DC-")),
            "1",
            LookedUp("zones of direct current, off a drawing", zone, FEET, table.DC_PERCEPTION.ref),
            "count",
            current=through,
            heart=heart,
        )


def work_points(circuit: Circuit, there: tuple[Place, ...] | None = None) -> tuple[Place, ...]:
    """Return where arc flash is reckoned: pack parts, terminals, behind main parts, converters.

    ``there`` are the circuit's places, where they are at hand.
    """
    found = places(circuit) if there is None else there
    return tuple(place for place in found if _is_work_point(circuit, place))


def _is_work_point(circuit: Circuit, place: Place) -> bool:
    element = circuit.by_name[place.element]
    if element.kind in (model.FUSE, model.CONTACTOR):
        return not element.path.startswith(("hv.branch", "charging."))
    return element.kind == model.PACK or element.kind in model.CONVERTERS


@dataclass(frozen=True)
class _Reckoned:
    """An arc at a place in one state of the pack; ``clearing`` is None where nothing clears it."""

    state: str
    voltage: float
    half: float
    arc: Arc
    current: float
    clearing: float | None
    words: str

    @property
    def time(self) -> float:
        """Return how long it counts for, s."""
        longest = flash.MAX_ARC_TIME.si
        if self.clearing is None:
            return longest
        return arc_time(clearing=self.clearing, longest=longest)

    @property
    def work(self) -> float:
        """Return what ranks the states: voltage, current and time of the maximum power method."""
        return self.voltage * self.half * self.time


def _reckoned(book: FigureBook, solved: Solved, place: Place, state: str) -> _Reckoned:
    fault = solved.faults[place]
    equation = flash.STOKES_OPPENLANDER
    half = half_bolted_current(bolted=fault.prospective)
    arc = arc_on_source(
        voltage=fault.voltage,
        resistance=fault.resistance,
        gap=flash.DEFAULT_GAP.si,
        electrode_voltage=equation.electrode_voltage.si,
        doubling_gap=equation.doubling_gap.si,
        reference_current=equation.reference_current.si,
        exponent=equation.exponent.si,
        limit_current=equation.limit_current.si,
        limit_doubling_gap=equation.limit_doubling_gap.si,
    )
    current = clearing_current(half=half, arc=arc.current)
    clearing: float | None
    try:
        clearing, words = cleared(book, solved, place, state, current / fault.prospective)
    except Missing as missing:
        if missing.paths:
            raise
        clearing, words = None, missing.reason
    return _Reckoned(state, fault.voltage, half, arc, current, clearing, words)


def _arc_flash(book: FigureBook, solved: Mapping[str, Solved], place: Place) -> None:
    """Write an arc's time, energy and reach at a place, in the worse state of the pack."""
    full = book.value(f"fault.{place.slug}.voltage_{FULL}")
    if full.si > flash.MAX_POWER_MAX_VOLTAGE.si:
        raise Missing(reason="the maximum power method does not go as far as this voltage")
    each = [
        _reckoned(book, solved[state], place, state)
        for state in solved
        if f"fault.{place.slug}.current_{state}" in book.values
    ]
    worst = max(each, key=lambda reckoned: reckoned.work)
    _time(book, place, worst)
    _max_power(book, place, worst)
    _arc_equation(book, place, worst)


def _time(book: FigureBook, place: Place, arc: _Reckoned) -> None:
    """Write the currents of an arc, and how long it lasts at the smaller of them."""
    name, at = f"arc_flash.{place.slug}.{{}}", f"an arc between the poles, {place.name}"
    state = words_of(arc.state)
    book.make(
        half_bolted_current,
        name.format("half_current"),
        label=f"current of {at}, half the short circuit's, {state}",
        bolted=f"fault.{place.slug}.current_{arc.state}",
    )
    book.look_up(
        name.format("arc_current"),
        f"current of {at}, by the arc equation, {state}",
        arc.arc.current,
        "A",
        LookedUp(EQUATION, place.name, "arc current", flash.STOKES_OPPENLANDER.source),
        "current",
        voltage=book.value(f"fault.{place.slug}.voltage_{arc.state}"),
        resistance=book.value(f"fault.{place.slug}.resistance_{arc.state}"),
        gap=flash.DEFAULT_GAP,
    )
    smaller = "arc_current" if arc.arc.current < arc.half else "half_current"
    current = book.value(name.format(smaller))
    if arc.clearing is None:
        book.note_missing(name.format("clearing"), Missing(reason=arc.words))
        book.look_up(
            name.format("time"),
            f"time {at} counts for: {arc.words}",
            arc.time,
            "s",
            LookedUp(NOTHING_CLEARS, place.name, "longest time", flash.MAX_ARC_TIME.ref),
            "time",
            current=current,
        )
        return
    fuse = book.circuit.by_name[arc.words].device
    device = next(each for each in book.circuit.devices_of(model.FUSE) if each.name == fuse)
    book.look_up(
        name.format("clearing"),
        f"time until a fuse ends {at}, at the smaller current, {state}",
        arc.clearing,
        "s",
        LookedUp("fuse curve", arc.words, "slowest of its make", "swapwright-arc-clearing-current"),
        "time",
        current=current,
        rating=curve_input(book, device),
    )
    book.make(
        arc_time,
        name.format("time"),
        label=f"time {at} counts for",
        clearing=name.format("clearing"),
        longest=flash.MAX_ARC_TIME,
    )


EQUATION = "arc of Stokes and Oppenlander on the source"


def _max_power(book: FigureBook, place: Place, arc: _Reckoned) -> None:
    name = f"arc_flash.{place.slug}.{{}}"
    burns = {
        "voltage": f"fault.{place.slug}.voltage_{arc.state}",
        "current": name.format("half_current"),
        "time": name.format("time"),
    }
    book.make_from(
        incident_energy,
        name.format("energy_open"),
        f"incident energy in open air, {place.name}",
        {**burns, "distance": flash.WORKING_DISTANCE},
    )
    book.make(
        boxed_energy,
        name.format("energy"),
        label=f"incident energy out of a box, maximum power, {place.name}",
        energy=name.format("energy_open"),
        box_factor=flash.BOX_FACTOR,
    )
    book.make_from(
        arc_flash_boundary,
        name.format("boundary"),
        f"arc-flash boundary, {place.name}",
        {**burns, "box_factor": flash.BOX_FACTOR, "limit": flash.BOUNDARY_ENERGY},
    )


def _arc_equation(book: FigureBook, place: Place, arc: _Reckoned) -> None:
    """Write the incident energy by the arc equation, where the equation speaks of such an arc."""
    name = f"arc_flash.{place.slug}.{{}}"
    if not arc.arc.is_sustained:
        reason = "the arc equation does not speak of an arc as weak as this"
        book.note_missing(name.format("energy_cross"), Missing(reason=reason))
        return
    book.look_up(
        name.format("power"),
        f"power of the arc by the arc equation, {place.name}",
        arc.arc.power,
        "W",
        LookedUp(EQUATION, place.name, "arc power", flash.STOKES_OPPENLANDER.source),
        "power",
        current=book.value(name.format("arc_current")),
    )
    book.make(
        arc_energy,
        name.format("heat"),
        label=f"energy of the arc by the arc equation, {place.name}",
        power=name.format("power"),
        time=name.format("time"),
    )
    book.make(
        enclosure_energy,
        name.format("energy_cross"),
        label=f"incident energy out of a box, arc equation, {place.name}",
        energy=name.format("heat"),
        distance=flash.WORKING_DISTANCE,
        reach=BOX.reach,
        focus=BOX.focus,
    )
