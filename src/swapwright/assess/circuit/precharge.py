"""Precharge and closing: how long it takes, what the resistor bears, what is left to close on."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.section import sections
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.contactor import (
    damping,
    making_current_bound,
    making_peak,
    surge_impedance,
)
from swapwright.physics.circuit.fault_current import discharge_i2t
from swapwright.physics.circuit.precharge import (
    end_voltage_at_power,
    largest_resistor,
    rc_time_constant,
    time_to_share,
    voltage_left_after,
    voltage_left_at_share,
)
from swapwright.physics.circuit.precharge_resistor import (
    mean_power_of_tries,
    peak_current,
    peak_power,
    resistor_energy,
    resistor_heat_capacity,
    resistor_temperature_after_tries,
    time_to_energy,
)
from swapwright.standards import contactors as table

VOLTAGE = "pack.max_working_voltage"
AIR = "hv.working_temperature"
UNTIL = "hv.precharge.until"
RESISTOR = "precharge.resistance"
NEEDS_CONTACTOR = (
    "time",
    "voltage_left",
    "voltage_allowed",
    "energy",
    "mean_power",
    "pulse",
    "temperature",
    "short_time",
    "making_bound",
)


def link(book: FigureBook) -> None:
    """Write the link's capacitance, which faults are fed by and precharge fills."""
    with book.attempt("link.capacitance"):
        link_capacitance(book, book.circuit, _resistor_of(book.circuit))


def _resistor_of(circuit: Circuit) -> Element | None:
    return next(iter(circuit.of_kind(model.PRECHARGE_RESISTOR)), None)


def precharge(book: FigureBook) -> None:
    """Write what filling the link takes, and what the main contactor then closes on."""
    circuit = book.circuit
    resistor = _resistor_of(circuit)
    if resistor is None:
        if book.car.has("hv.precharge.resistor"):  # there is no contactor to stand beside
            for name in NEEDS_CONTACTOR:
                book.note_missing(f"precharge.{name}", Missing("hv.contactors"))
        return
    rows: list[tuple[str, Source, float]] = [
        (each.name, each.entry("resistance"), 1.0)
        for each in circuit.of_kind(model.PRECHARGE_RESISTOR)[:1]
    ]
    book.total(RESISTOR, "precharge resistor", "ohm", rows, "resistance")
    _filling(book)
    _resistor(book, resistor)
    _closing(book, circuit, resistor)


def link_capacitance(book: FigureBook, circuit: Circuit, resistor: Element | None) -> None:
    """Write the capacitance the precharge fills: all of its section, loads' inputs with it.

    Raises Missing where the circuit has no capacitor.
    """
    behind = None if resistor is None else resistor.minus
    whole = next((each for each in sections(circuit) if behind in each.nodes), None)
    links = [
        each for each in circuit.of_kind(model.LINK) if whole is None or each.name in whole.elements
    ]
    if not links:
        raise Missing("drive.inverter.link_capacitance")
    rows: list[tuple[str, Source, float]] = [
        (each.name, each.entry("capacitance"), 1.0) for each in links
    ]
    book.total("link.capacitance", "capacitance of the link", "F", rows, "capacitance")


def _filling(book: FigureBook) -> None:
    """Write the time constant, and the time to each share and to where the contactor closes."""
    book.make(
        rc_time_constant,
        "precharge.time_constant",
        label="time constant of precharge",
        resistance=RESISTOR,
        capacitance="link.capacitance",
    )
    for share in table.PRECHARGE_SHARES:
        book.make(
            time_to_share,
            f"precharge.time_{share.si * 100:.0f}",
            label=f"precharge time to {share.si:.0%} of the pack's voltage",
            time_constant="precharge.time_constant",
            share=share,
        )
    book.make(
        time_to_share,
        "precharge.time",
        label="precharge time to the share the main contactor may close at",
        time_constant="precharge.time_constant",
        share=UNTIL,
    )
    book.make(
        voltage_left_at_share,
        "precharge.voltage_allowed",
        label="voltage that may be left across the main contactor",
        voltage=VOLTAGE,
        share=UNTIL,
    )
    if book.has("hv.precharge.timer") and not book.car.flags.get("hv.precharge.feedback", False):
        book.make(
            voltage_left_after,
            "precharge.voltage_left",
            label="voltage across the main contactor when the timer closes it",
            voltage=VOLTAGE,
            time_constant="precharge.time_constant",
            time="hv.precharge.timer",
        )
    elif book.car.flags.get("hv.precharge.feedback", False):
        book.total(
            "precharge.worst_share",
            "share of the pack's voltage the link may have when it seems to be there",
            "1",
            [("closes at", UNTIL, 1.0), ("two meters apart", table.MEASURED_APART, -1.0)],
            "fraction",
        )
        book.make(
            voltage_left_at_share,
            "precharge.voltage_left",
            label="voltage across the main contactor when it closes",
            voltage=VOLTAGE,
            share="precharge.worst_share",
        )
    else:
        # Nobody measures and no timer is named: nothing says what is left.
        book.note_missing("precharge.voltage_left", Missing("hv.precharge.feedback"))
    if book.has("hv.precharge.timeout"):
        book.make(
            largest_resistor,
            "precharge.largest_resistor",
            label="largest resistor that gets there before precharge is given up",
            time="hv.precharge.timeout",
            capacitance="link.capacitance",
            share=UNTIL,
        )
    _load_left_on(book)


def _load_left_on(book: FigureBook) -> None:
    """Write where precharge ends if the dc-dc converter starts to draw before it is over."""
    if not book.circuit.of_kind(model.DCDC):
        return
    needed = "lv.dcdc.power"
    if book.has(VOLTAGE, RESISTOR, needed) and book.number(VOLTAGE) ** 2 < (
        4.0 * book.number(needed) * book.number(RESISTOR)
    ):
        reason = "with the dc-dc converter left on, precharge never gets anywhere"
        book.note_missing("precharge.loaded_voltage", Missing(reason=reason))
        return
    book.make(
        end_voltage_at_power,
        "precharge.loaded_voltage",
        label="link voltage precharge ends at with the dc-dc converter left on",
        voltage=VOLTAGE,
        resistance=RESISTOR,
        power="lv.dcdc.power",
    )


def _resistor(book: FigureBook, resistor: Element) -> None:
    """Write the resistor's first instant, its pulse, its tries, and how it bears a short."""
    book.make(
        peak_current,
        "precharge.peak_current",
        label="precharge current at the first instant",
        voltage=VOLTAGE,
        resistance=RESISTOR,
    )
    book.make(
        peak_power,
        "precharge.peak_power",
        label="precharge resistor's power at the first instant",
        voltage=VOLTAGE,
        resistance=RESISTOR,
    )
    book.make(
        resistor_energy,
        "precharge.energy",
        label="energy one precharge leaves in the resistor",
        capacitance="link.capacitance",
        voltage=VOLTAGE,
        share=WHOLE if not book.has(UNTIL) else UNTIL,
    )
    if book.has("hv.precharge.pause"):
        book.make(
            mean_power_of_tries,
            "precharge.mean_power",
            label="mean power of tries repeated without end",
            energy="precharge.energy",
            tries=ONE_TRY,
            period="hv.precharge.pause",
        )
    pulse = "precharge.pulse"
    _pulse(book, resistor, pulse)
    book.make(
        resistor_heat_capacity,
        "precharge.heat_capacity",
        label="heat the precharge resistor takes up for each kelvin",
        pulse=pulse,
        rise=table.PULSE_RISE,
    )
    book.make(
        resistor_temperature_after_tries,
        "precharge.temperature",
        label="precharge resistor after its last try",
        ambient=AIR,
        energy="precharge.energy",
        heat_capacity="precharge.heat_capacity",
        tries="hv.precharge.tries",
        pause="hv.precharge.pause",
        thermal_time_constant=table.RESISTOR_COOLING_TIME,
    )
    book.make(
        time_to_energy,
        "precharge.short_time",
        label="time until a shorted link has used up the precharge resistor's pulse",
        energy=pulse,
        voltage=VOLTAGE,
        resistance=RESISTOR,
    )


def _pulse(book: FigureBook, resistor: Element, figure_id: str) -> None:
    """Write the energy of one pulse the resistor bears: of its sheet, or typical of its watts."""
    stated, label = resistor.entry("pulse"), "energy of one pulse the precharge resistor bears"
    if book.car.get(stated) is not None:
        rows: list[tuple[str, Source, float]] = [("data sheet", stated, 1.0)]
        book.total(figure_id, label, "J", rows, "energy")
        return
    with book.attempt(figure_id):
        rating = book.value(resistor.entry("power"))
        energy = table.TYPICAL_PULSE_TIME.si * rating.si
        typical = book.assume(stated, energy, "J", table.TYPICAL_PULSE_TIME.ref)
        book.look_up(
            figure_id,
            f"{label}, typical of its watts",
            typical.si,
            "J",
            LookedUp("typical wirewound resistor", "pulse", "J", table.TYPICAL_PULSE_TIME.ref),
            "energy",
            rating=rating,
            typical=typical,
        )


WHOLE = Value(1.0, "1", "standard", "swapwright-whole-step")
ONE_TRY = Value(1.0, "1", "standard", "swapwright-whole-step")


def _closing(book: FigureBook, circuit: Circuit, resistor: Element) -> None:
    """Write the current the main contactor closes on: from the volts left, not from a share."""
    loop = _loop(book, circuit, resistor)
    if loop is None:
        return
    book.make(
        making_current_bound,
        "precharge.making_bound",
        label="current the main contactor closes on, by resistance alone",
        voltage="precharge.voltage_left",
        resistance=f"fault.{loop}.resistance_{FULL}",
    )
    book.make(
        surge_impedance,
        "precharge.surge_impedance",
        inductance=f"fault.{loop}.inductance_{FULL}",
        capacitance="link.capacitance",
    )
    book.make(
        damping,
        "precharge.damping",
        resistance=f"fault.{loop}.resistance_{FULL}",
        surge_impedance="precharge.surge_impedance",
    )
    book.make(
        making_peak,
        "precharge.making_current",
        label="current the main contactor closes on",
        voltage="precharge.voltage_left",
        surge_impedance="precharge.surge_impedance",
        damping="precharge.damping",
    )
    book.make(
        discharge_i2t,
        "precharge.making_i2t",
        label="I2t the main contactor closes on",
        capacitance="link.capacitance",
        voltage="precharge.voltage_left",
        resistance=f"fault.{loop}.resistance_{FULL}",
    )
    book.make(
        making_peak,
        "precharge.skipped_current",
        label="current the main contactor would close on with no precharge at all",
        voltage=VOLTAGE,
        surge_impedance="precharge.surge_impedance",
        damping="precharge.damping",
    )


def _loop(book: FigureBook, circuit: Circuit, resistor: Element) -> str | None:
    """Return the place whose loop the main contactor closes: the largest capacitor's."""
    links = [each for each in circuit.of_kind(model.LINK) if book.has(each.entry("capacitance"))]
    largest = max(links, key=lambda each: book.number(each.entry("capacitance")), default=None)
    if largest is None:
        return None
    inverter = next(
        (
            each
            for each in circuit.of_kind(*model.CONVERTERS)
            if (each.plus, each.minus) == (largest.plus, largest.minus)
        ),
        None,
    )
    return None if inverter is None else model.slug(inverter.name)
