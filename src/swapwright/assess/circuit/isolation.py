"""Isolation from the chassis: what is asked for, what is there, what one fault makes of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.circuit.place import potentials
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.physics.circuit.isolation import (
    monitor_reading,
    ohms_per_volt,
    parallel_resistance,
    pole_voltage,
    required_isolation,
    touch_current,
)
from swapwright.physics.circuit.y_capacitor import (
    balanced_rail_energy,
    faulted_rail_energy,
    touch_energy,
)
from swapwright.standards.body import DRY_SOURCE, body_impedance
from swapwright.standards.isolation import AC_OHMS_PER_VOLT, DC_OHMS_PER_VOLT

VOLTAGE = "pack.max_working_voltage"
POLES = ("positive", "negative")
LEAKS = "kirchhoff-leaks"
DEAD_FAULT = Value(0.0, "ohm", "standard", LEAKS)
_NO_SHARE = 1e-6


def isolation(book: FigureBook) -> None:
    """Write isolation resistances, the monitor's reading, touch currents and stored energy."""
    _required(book)
    _legs(book)
    _monitor(book)
    _pole_voltages(book)
    _touch(book)
    _stored(book)


def _required(book: FigureBook) -> None:
    """Write what the regulation asks for; as joined to ac, unless its protection is documented."""
    is_protected = book.car.flags.get("hv.ac_protection", False)
    asked = DC_OHMS_PER_VOLT if is_protected else AC_OHMS_PER_VOLT
    book.look_up(
        "isolation.required_per_volt",
        "isolation resistance per volt that the joined circuit must keep",
        asked.si,
        "ohm/V",
        LookedUp(
            "isolation resistance",
            "ac parts protected for life, documented" if is_protected else "dc and ac joined",
            "least resistance per volt",
            asked.ref,
        ),
        "resistance_per_voltage",
    )
    for name, label, per_volt in (
        ("floor", "isolation resistance no circuit may fall below", DC_OHMS_PER_VOLT),
        ("required", "isolation resistance the joined circuit must keep", _PER_VOLT),
    ):
        book.make(
            required_isolation,
            f"isolation.{name}",
            label=label,
            resistance_per_volt=per_volt,
            voltage=VOLTAGE,
        )


_PER_VOLT = "isolation.required_per_volt"


def _legs(book: FigureBook) -> None:
    """Write each pole's leak as measured and with the monitor, and all of them side by side."""
    measured = _paths(book, model.LEAK)
    monitors = _paths(book, model.MONITOR)
    names: dict[str, str] = {}
    for pole in POLES:
        leaks = measured[pole] or [f"hv.isolation.{pole}"]
        names[pole] = _side_by_side(book, f"isolation.measured_{pole}", f"{pole}, measured", leaks)
        every = [names[pole], *monitors[pole]]
        whole = _side_by_side(book, f"isolation.{pole}", f"{pole}, monitor's own with it", every)
        if whole != f"isolation.{pole}":
            rows: list[tuple[str, Source, float]] = [("as measured", whole, 1.0)]
            label = f"isolation resistance, {pole} pole"
            book.total(f"isolation.{pole}", label, "ohm", rows, "resistance")
    _least(book, "isolation.measured", "weaker pole's isolation resistance, measured", names)
    both = {pole: f"isolation.{pole}" for pole in POLES}
    _least(book, "isolation.lesser", "weaker pole's isolation resistance", both)
    book.make(
        monitor_reading,
        "isolation.resistance",
        label="isolation resistance of everything together: what the monitor should read",
        plus_leak="isolation.positive",
        minus_leak="isolation.negative",
    )
    book.make(
        ohms_per_volt,
        "isolation.per_volt",
        label="isolation resistance per volt",
        resistance="isolation.resistance",
        voltage=VOLTAGE,
    )


def _paths(book: FigureBook, kind: str) -> Mapping[str, list[str]]:
    """Return the resistances from each pole to the chassis, by the names of their values.

    One between the poles counts as one at each pole that draws the same.
    """
    found: dict[str, list[str]] = {pole: [] for pole in POLES}
    for element, above in _to_chassis(book.circuit, kind):
        for pole, share in (("positive", above), ("negative", 1.0 - above)):
            if share > 1.0 - _NO_SHARE:
                found[pole].append(element.entry("resistance"))
            elif share > _NO_SHARE:
                found[pole].append(_as_at_pole(book, element, pole, share))
    return found


def _to_chassis(circuit: Circuit, *kinds: str) -> Iterable[tuple[Element, float]]:
    """Yield the elements to the chassis, and how high in the pack: 0 at minus, 1 at plus."""
    levels = potentials(circuit)
    top = max(levels.values(), default=0.0)
    for element in circuit.of_kind(*kinds):
        node = element.plus if element.minus == CHASSIS else element.minus
        if node in levels and top > 0.0:
            yield element, levels[node] / top


def _as_at_pole(book: FigureBook, element: Element, pole: str, share: float) -> str:
    figure_id = f"isolation.{model.slug(element.name)}_{pole}"
    with book.attempt(figure_id):
        resistance = book.value(element.entry("resistance"))
        book.look_up(
            figure_id,
            f"{element.name}, as it counts at the {pole} pole",
            resistance.si / share,
            "ohm",
            LookedUp("leak between the poles", element.name, f"at the {pole} pole", LEAKS),
            "resistance",
            resistance=resistance,
        )
    return figure_id


def _side_by_side(book: FigureBook, figure_id: str, what: str, paths: list[str]) -> str:
    """Write paths side by side as one figure; return its name, or that of the only path."""
    whole = paths[0]
    for number, path in enumerate(paths[1:], start=1):
        is_last = number == len(paths) - 1
        name = figure_id if is_last else f"{figure_id}_{number}"
        book.make(
            parallel_resistance,
            name,
            label=f"isolation resistance, {what}",
            first=whole,
            second=path,
        )
        whole = name
    return whole


def _least(book: FigureBook, figure_id: str, label: str, names: Mapping[str, str]) -> None:
    with book.attempt(figure_id):
        found = {pole: book.value(name) for pole, name in names.items()}
        weaker = min(found, key=lambda pole: found[pole].si)
        book.look_up(
            figure_id,
            label,
            found[weaker].si,
            "ohm",
            LookedUp("lesser of these", f"{weaker} pole", "isolation resistance", LEAKS),
            "resistance",
            **found,
        )


def _monitor(book: FigureBook) -> None:
    for name, words in (("alarm", "sounds its alarm"), ("warning", "warns")):
        entry = f"hv.isolation_monitor.{name}"
        if name == "alarm" or book.has(entry):
            book.make(
                required_isolation,
                f"isolation.{name}",
                label=f"isolation resistance at which the monitor {words}",
                resistance_per_volt=entry,
                voltage=VOLTAGE,
            )


def _pole_voltages(book: FigureBook) -> None:
    """Write each pole's voltage to the chassis, and what one dead fault makes of it."""
    for own, other in (POLES, POLES[::-1]):
        book.make(
            pole_voltage,
            f"isolation.{own}_voltage",
            label=f"{own} pole to chassis, no fault",
            voltage=VOLTAGE,
            own_leak=f"isolation.{own}",
            other_leak=f"isolation.{other}",
        )
    book.make(
        pole_voltage,
        "isolation.faulted_voltage",
        label="a pole to chassis, the other pole on it: one fault",
        voltage=VOLTAGE,
        own_leak="isolation.lesser",
        other_leak=DEAD_FAULT,
    )


def _touch(book: FigureBook) -> None:
    """Write the current through a dry body on one pole: without a fault, and with one."""
    with book.attempt("isolation.touch_current", "isolation.touch_current_faulted"):
        plus, minus = (book.number(f"isolation.{pole}") for pole in POLES)
        touched, other = POLES if plus >= minus else POLES[::-1]
        for suffix, words, stands, other_leak in (
            ("", "no fault", f"isolation.{touched}_voltage", f"isolation.{other}"),
            ("_faulted", "the other pole on the chassis", VOLTAGE, DEAD_FAULT),
        ):
            _body(book, f"isolation.body{suffix}", stands, words)
            book.make(
                touch_current,
                f"isolation.touch_current{suffix}",
                label=f"current through a dry body from a pole to the chassis, {words}",
                voltage=VOLTAGE,
                touched_leak=f"isolation.{touched}",
                other_leak=other_leak,
                impedance=f"isolation.body{suffix}",
            )


def _body(book: FigureBook, figure_id: str, stands: str, words: str) -> None:
    with book.attempt(figure_id):
        voltage = book.value(stands)
        book.look_up(
            figure_id,
            f"impedance of a dry body, hand to hand, {words}",
            body_impedance(voltage.si).si,
            "ohm",
            LookedUp(
                "body impedance", f"{voltage.si:.4g} V", "the lowest 5 % of people", DRY_SOURCE
            ),
            "resistance",
            voltage=voltage,
        )


ENERGIES = (
    ("balanced", "one rail, the pack floating in balance", balanced_rail_energy),
    ("faulted", "one rail, the other pole on the chassis", faulted_rail_energy),
    ("touch", "into a hand on one pole, the pack in balance", touch_energy),
)
"""The three energies of the Y-capacitors: which one is meant has to be said."""


def _stored(book: FigureBook) -> None:
    """Write the three energies of the Y-capacitors, and the worst of them by name."""
    ids = [f"isolation.y_energy_{name}" for name, _, _ in ENERGIES]
    with book.attempt("isolation.y_energy", *ids):
        capacitance = _larger_rail(book)
        for name, words, function in ENERGIES:
            book.make(
                function,
                f"isolation.y_energy_{name}",
                label=f"energy of the Y-capacitors, {words}",
                capacitance=capacitance,
                voltage=VOLTAGE,
            )
        found = {name: book.value(f"isolation.y_energy_{name}") for name, _, _ in ENERGIES}
        worst = max(found, key=lambda name: found[name].si)
        book.look_up(
            "isolation.y_energy",
            "energy of the Y-capacitors, the worst way",
            found[worst].si,
            "J",
            LookedUp(
                "largest of these",
                next(words for name, words, _ in ENERGIES if name == worst),
                "energy",
                "definition-capacitor",
            ),
            "energy",
            **found,
        )


def _larger_rail(book: FigureBook) -> str:
    """Return the name of the capacitance to the chassis of the pole that has more of it."""
    rails: dict[str, list[str]] = {pole: [] for pole in POLES}
    for element, above in _to_chassis(book.circuit, model.Y_CAPACITOR):
        rails["positive" if above > 0.5 else "negative"].append(element.entry("capacitance"))
    if not any(rails.values()):
        raise (
            Missing(reason=NO_Y)
            if book.circuit.elements and _is_in_full(book)
            else Missing("hv.y_capacitance")
        )
    sums = {pole: sum(map(book.number, names)) for pole, names in rails.items()}
    larger = max(sums, key=lambda pole: sums[pole])
    rows: list[tuple[str, Source, float]] = [(name, name, 1.0) for name in rails[larger]]
    label = f"capacitance from the {larger} pole to the chassis"
    book.total("isolation.y_capacitance", label, "F", rows, "capacitance")
    return "isolation.y_capacitance"


def _is_in_full(book: FigureBook) -> bool:
    return bool(book.car.counts.get("hv.element", 0))


NO_Y = "the circuit names no y-capacitor; say so with one of no capacitance"
