"""The supply: what circuit, pilot, cable, inlet and charger each allow, and which of them binds."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from swapwright.assess.book import FigureBook
from swapwright.assess.stages.cell_point import rest_voltage_at
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.supply import (
    charger_output,
    continuous_current,
    into_battery,
    phases_counted,
    supply_draw,
    supply_power,
)
from swapwright.standards.inlets import (
    CODED_INLETS,
    HOUSEHOLD,
    INLETS,
    PILOT,
    PLC,
    UNSAID_PHASES,
    Inlet,
)
from swapwright.standards.pilot import SOURCE as PILOT_SOURCE
from swapwright.standards.pilot import pilot_current, proximity_of
from swapwright.standards.supply import continuous_share, socket

LEAST = "definition-least-limit"
VOLTAGE, CURRENT, PHASES = (f"charging.supply.{key}" for key in ("voltage", "current", "phases"))
INLET = "charging.inlet"
REGION = "goals.region"
FOLLOWS = "charging.follows_pilot"
OWN_PHASES = "charging.charger.phases"
WINDOW = "the charger's output does not reach this pack's voltage"
PERCENT = 100.0


def supply(book: FigureBook) -> None:
    """Write the current the supply side allows, the draw, the output and the battery's share."""
    words = "where a charge begins"
    rest_voltage_at(book, "charging.start_cell", "charging.start_voltage", words, "charging.from")
    _inlet(book)
    _allowed(book)
    _phases(book)
    _drawn(book)
    _output(book)


def inlet_of(book: FigureBook) -> Inlet:
    """Return the car's inlet; raise Missing where the file names none."""
    return INLETS[book.car.text(INLET)]


def least_of(
    book: FigureBook, figure_id: str, label: str, limits: Mapping[str, str], table: str
) -> None:
    """Write the least of several currents by name of what allows it; those not given count not.

    ``limits`` gives figures or entries by what is said of them. One that was given and says
    nothing (a coding that is none) leaves the least unknown too.
    """
    with book.attempt(figure_id):
        found = {
            words: book.value(name)
            for words, name in limits.items()
            if book.has(name) or name in book.reasons
        }
        least = min(found, key=lambda words: found[words].si, default="")
        if not least:
            raise Missing(*limits.values())
        inputs = {words.replace(" ", "_").replace("'", ""): each for words, each in found.items()}
        book.look_up(
            figure_id,
            label,
            found[least].si,
            "A",
            LookedUp(table, least, "current", LEAST),
            "current",
            **inputs,
        )


def _inlet(book: FigureBook) -> None:
    """Write what the inlet bears of alternating current, as its kind says or as it is built."""
    if not book.car.texts.get(INLET):
        for part in ("phases", "ac_voltage", "rating"):
            book.note_missing(f"{INLET}_{part}", Missing(INLET))
        return
    inlet = inlet_of(book)
    at_home = socket(book.car.texts.get(REGION, "")).current
    rated = at_home if inlet.name == HOUSEHOLD else inlet.current
    rows = (
        ("charging.inlet_phases", "phases of the inlet", inlet.phases, "count"),
        (
            "charging.inlet_ac_voltage",
            "ac voltage of the inlet, across one phase",
            inlet.voltage,
            "",
        ),
        ("charging.inlet_rating", "ac current of the inlet", rated, "current"),
    )
    for figure_id, label, value, kind in rows:
        own = "charging.inlet_current"
        is_as_built = figure_id == "charging.inlet_rating" and inlet.dc_voltage is None
        if is_as_built and book.has(own):
            book.total(figure_id, label, "A", [("as built", own, 1.0)], "current")
        elif value is not None:
            _of_kind(book, figure_id, label, value, inlet.name, kind)
        elif is_as_built:
            book.note_missing(figure_id, Missing(own))


def _of_kind(
    book: FigureBook, figure_id: str, label: str, value: Value, name: str, kind: str
) -> None:
    cell = LookedUp("inlets by kind", name, label, value.ref)
    book.look_up(figure_id, label, value.si, value.unit, cell, kind)


def _allowed(book: FigureBook) -> None:
    """Write the current of circuit, pilot and cable, and the least of the supply side."""
    is_said = book.car.texts.get(REGION, "") != "" and REGION not in book.car.assumed
    counted = "" if is_said else "; its region not said, counted as where it is least"
    book.make(
        continuous_current,
        "charging.circuit_current",
        label=f"current the supply's circuit carries for hours{counted}",
        rating="charging.supply.breaker",
        share=continuous_share(book.car.texts.get(REGION, ""), is_said=is_said),
    )
    if book.has("charging.pilot"):
        with book.attempt("charging.pilot_current"):
            _pilot(book)
    if book.car.texts.get(INLET, CODED_INLETS[0]) in CODED_INLETS:
        with book.attempt("charging.cable_current"):
            _cable(book)
    least_of(
        book,
        "charging.supply_limit",
        "current the supply side allows in each phase",
        {
            "the supply": CURRENT,
            "the supply's circuit": "charging.circuit_current",
            "the pilot": "charging.pilot_current",
            "the cable": "charging.cable_current",
            "the inlet": "charging.inlet_rating",
        },
        "least of the supply side",
    )


def _pilot(book: FigureBook) -> None:
    duty = book.value("charging.pilot")
    current = pilot_current(PERCENT * duty.si)
    if current is None:
        raise Missing(reason="the pilot's duty allows no current")
    book.look_up(
        "charging.pilot_current",
        "current the pilot allows",
        current,
        "A",
        LookedUp("duty of the pilot", f"{PERCENT * duty.si:.4g} %", "current", PILOT_SOURCE),
        "current",
        duty=duty,
    )


def _cable(book: FigureBook) -> None:
    ohms = book.value("charging.proximity")
    found = proximity_of(ohms.si, CODED_INLETS[0])
    if found is None or found.current is None:
        raise Missing(reason="the cable's proximity resistor is no coding of a type 2 plug")
    book.look_up(
        "charging.cable_current",
        "current the cable bears by its coding",
        found.current,
        "A",
        LookedUp("proximity resistor", f"{found.ohms:.0f} ohm", "current", found.source),
        "current",
        resistance=ohms,
    )


def _phases(book: FigureBook) -> None:
    """Write how many phases are drawn from, and how the chargers share them."""
    with book.attempt("charging.phases_used"):
        values = {"supply": book.value(PHASES)}
        if not book.car.texts.get(INLET):
            values["inlet_not_named"] = UNSAID_PHASES
        elif book.has("charging.inlet_phases"):
            values["inlet"] = book.value("charging.inlet_phases")
        if book.has(OWN_PHASES):
            label = "phases of all chargers together"
            book.total("charging.phases_of_chargers", label, "1", _each(book, OWN_PHASES), "count")
            values["charger"] = book.value("charging.phases_of_chargers")
        fewest = min(values, key=lambda side: values[side].si)
        book.look_up(
            "charging.phases_used",
            "phases the charger draws from",
            values[fewest].si,
            "1",
            LookedUp("fewest of supply, inlet and charger", fewest, "phases", LEAST),
            "count",
            **values,
        )
    _spread(book)


def _spread(book: FigureBook) -> None:
    """Write how chargers spread over the phases as evenly as they can be load the busiest one."""
    own = OWN_PHASES if book.has(OWN_PHASES) else "charging.phases_used"
    with book.attempt("charging.on_busiest_phase"):
        inputs = {
            "chargers": book.value("charging.chargers"),
            "own": book.value(own),
            "phases": book.value("charging.phases_used"),
        }
        phases = max(inputs["phases"].si, 1.0)
        lines = inputs["chargers"].si * min(inputs["own"].si, phases)
        book.look_up(
            "charging.on_busiest_phase",
            "chargers on the busiest phase",
            float(ceil(lines / phases)),
            "1",
            LookedUp(
                "chargers spread over the phases",
                f"{lines:.0f} over {phases:.0f}",
                "on the busiest",
                "definition-ac-power",
            ),
            "count",
            **inputs,
        )
    book.make(
        phases_counted,
        "charging.phases_counted",
        label="phases loaded as the busiest",
        chargers="charging.chargers",
        own=own,
        phases="charging.phases_used",
        busiest="charging.on_busiest_phase",
    )


def _each(book: FigureBook, path: str) -> list[tuple[str, str | Value, float]]:
    """Return a row for each charger with an entry of it."""
    count = int(book.get("charging.chargers") or 1)
    return [(f"charger {n + 1}", path, 1.0) for n in range(count)]


def efficiency_of(book: FigureBook) -> str:
    """Return the name of the efficiency from the supply to the charger's output."""
    own = "charging.charger.efficiency"
    return own if book.has(own) else "charging.efficiency"


def _drawn(book: FigureBook) -> None:
    """Write what the charger would draw, what it does draw, and what it draws by its own rules."""
    book.make(
        supply_draw,
        "charging.draw_at_rating",
        label="current in each phase for the charger's full output",
        power="charging.total_power",
        efficiency=efficiency_of(book),
        voltage=VOLTAGE,
        phases="charging.phases_counted",
    )
    own, wanted = "charging.charger.max_input_current", "charging.draw_at_rating"
    if book.has(own):
        count = int(book.get("charging.on_busiest_phase") or 1)
        book.total(
            "charging.input_limit",
            "most the chargers draw from the busiest phase",
            "A",
            _each(book, own)[:count],
            "current",
        )
        wanted = "charging.input_limit"
    book.make(
        lesser_current,
        "charging.wanted_current",
        label="current the charger draws from each phase, left to itself",
        first="charging.draw_at_rating",
        second=wanted,
    )
    book.make(
        lesser_current,
        "charging.input_current",
        label="current from each phase of the supply",
        first="charging.wanted_current",
        second="charging.supply_limit",
    )
    kind = INLETS.get(book.car.texts.get(INLET, ""))
    has_pilot = kind is not None and kind.language in (PILOT, PLC)
    follows = has_pilot and book.car.flags.get(FOLLOWS, False)
    book.make(
        lesser_current,
        "charging.supply_draw",
        label="current the charger takes where nothing else limits it",
        first="charging.wanted_current",
        second="charging.input_current" if follows else "charging.wanted_current",
    )


def _output(book: FigureBook) -> None:
    """Write power from the supply, the charger's output, and what of it the battery gets."""
    if book.car.has("charging.supply.voltage") or book.car.has(CURRENT):
        book.make(
            supply_power,
            "charging.input_power",
            voltage=VOLTAGE,
            current="charging.input_current",
            phases="charging.phases_counted",
        )
        book.make(
            charger_output,
            "charging.output",
            rating="charging.total_power",
            supply="charging.input_power",
            efficiency=efficiency_of(book),
        )
    else:
        rows = [("rating; no supply is described", "charging.total_power", 1.0)]
        book.total("charging.output", "charger output", "W", rows, "power")
    left_for_battery(book, "charging.battery_power", "power into the battery", "charging.output")


def left_for_battery(book: FigureBook, figure_id: str, label: str, output: str) -> None:
    """Write what of a charger's output the battery gets beside pumps and controls.

    Where no charger says its efficiency, the typical one has them in it already. A charger whose
    window misses the pack gives it nothing.
    """
    with book.attempt(figure_id):
        within_window(book)
        _left(book, figure_id, label, output)


def _left(book: FigureBook, figure_id: str, label: str, output: str) -> None:
    if book.has("charging.charger.efficiency"):
        book.make(into_battery, figure_id, label=label, output=output, loads="auxiliaries.charging")
    else:
        book.total(figure_id, label, "W", [("charger output", output, 1.0)], "power")


def within_window(book: FigureBook) -> None:
    """Raise Missing where the charger's window does not reach from the start to the end."""
    low, high = (book.get(f"charging.charger.{end}_voltage") for end in ("min", "max"))
    start, end = book.number("charging.start_voltage"), book.number("charging.end_voltage")
    if (high is not None and high < end) or (low is not None and low > start):
        raise Missing(reason=WINDOW)
