"""The high-voltage circuit of a car, device by device, place by place, section by section."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.assess.circuit.discharge import stored
from swapwright.assess.circuit.place import Place, places
from swapwright.assess.circuit.resistance import STATES as PACK_STATES
from swapwright.assess.circuit.section import Section, SectionState, SwitchState, sections
from swapwright.assess.circuit.stranded import Stranded, stranded
from swapwright.assess.circuit_query import Spans as Spans
from swapwright.assess.circuit_query import section_spans
from swapwright.assess.queries import GAP_OPEN, KEY_OFF, RUNNING, section_states
from swapwright.base.figure import Figure, LookedUp
from swapwright.base.finding import SEVERITY, Finding, Verdict
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device
from swapwright.jobs.check import OPEN, STOP, Checked, is_open
from swapwright.jobs.fitting import CableRow, CoilRow, cable_rows, coil_rows
from swapwright.jobs.lacking import reason_of
from swapwright.jobs.naming import circuit_in

ABOUT = ("circuit", "isolation", "insulation", "people")
"""What the names of the circuit's own rules begin with."""

HIGHEST = "pack.max_working_voltage"
GAP_WORDS = "disconnect open, plug and 12 V off, wheels still"
UNPLUGGED_WORDS = "plug and 12 V off, wheels still; there is no disconnect to open"
PACK_STAYS = "no waiting empties it"
THROWN = "as thrown"
STATE_WORDS = {KEY_OFF: "key off", GAP_OPEN: GAP_WORDS, RUNNING: "running", THROWN: THROWN}
"""The states of the switches by name, and the one for switches thrown one by one."""

_RATING = {
    model.FUSE: "rating",
    model.CONTACTOR: "carry",
    model.DISCONNECT: "current",
    model.CONNECTOR: "current",
    model.PRECHARGE_RELAY: "carry",
}
_LIMIT = {model.FUSE: "allowed", model.CABLE: "ampacity"}
_LOAD = {
    model.CABLE: ("run_temperature", "temperature"),
    model.FUSE: ("run_of_melting",),
}


@dataclass(frozen=True)
class DeviceRow:
    """One device: its figures' ids, its verdict, and the margin of what is tightest.

    ``sizes`` are build paths of what it is; ``limit`` is a figure's id or a build path.
    """

    device: Device
    sizes: tuple[str, ...]
    current: str
    peak: str
    load: str
    limit: str
    verdict: Verdict | None
    tightest: Finding | None


@dataclass(frozen=True)
class PlaceRow:
    """One place: ids of its figures by the pack's state, and what ends a fault there."""

    place: Place
    clears: tuple[tuple[str, str, str], ...]
    """State, the fuse that ends it (empty: none), the reason where none does."""


@dataclass(frozen=True)
class SectionRow:
    """One section: what it is in each state of the switches, and how long to wait.

    ``spans`` gives its voltages for each state, None where the pack's voltage is not known;
    ``no_wait`` says why there is no waiting time, ``emptied_by`` names what empties its capacitors,
    ``stranded`` which of these a blown fuse cuts off from it.
    """

    name: str
    slug: str
    states: tuple[tuple[str, SectionState], ...]
    spans: tuple[Spans | None, ...]
    stores: bool
    no_wait: str
    emptied_by: tuple[str, ...]
    stranded: tuple[Stranded, ...]


@dataclass(frozen=True)
class CircuitView:
    """The circuit of one car as a page or a document shows it."""

    devices: tuple[DeviceRow, ...]
    places: tuple[PlaceRow, ...]
    sections: tuple[SectionRow, ...]
    cables: tuple[CableRow, ...]
    coils: tuple[CoilRow, ...]
    findings: tuple[Finding, ...]
    gaps: tuple[str, ...]
    """The disconnects: open, each has to stand the whole pack's voltage."""


def circuit_view(
    checked: Checked, states: Iterable[SwitchState | str] = (KEY_OFF, GAP_OPEN)
) -> CircuitView:
    """Return a car's circuit; raise InputError where its file says nothing of one.

    Its sections are those of the named states; switches thrown one by one go by `THROWN`.
    """
    car, assessment = checked.opened.car, checked.assessment
    circuit = circuit_in(car, checked.opened.file)
    findings = tuple(f for f in assessment.findings if f.rule.partition(".")[0] in ABOUT)
    return CircuitView(
        tuple(_device(car, assessment, circuit, device, findings) for device in circuit.devices),
        tuple(_place(assessment, circuit, place) for place in places(circuit)),
        _sections(car, assessment, circuit, tuple(states)),
        cable_rows(assessment, circuit),
        coil_rows(car, circuit),
        findings,
        tuple(device.name for device in circuit.devices_of(model.DISCONNECT)),
    )


def circuit_status(view: CircuitView) -> int:
    """Return the exit status of what is judged of the circuit."""
    if any(finding.verdict == "stop" for finding in view.findings):
        return STOP
    return OPEN if any(map(is_open, view.findings)) else 0


def _device(
    car: Car,
    assessment: Assessment,
    circuit: Circuit,
    device: Device,
    findings: tuple[Finding, ...],
) -> DeviceRow:
    own = [finding for finding in findings if _is_about(finding, device, circuit)]
    verdicts = sorted((finding.verdict for finding in own), key=SEVERITY.index)
    told = [finding for finding in own if finding.margin is not None and _is_rating(finding)]
    tightest = min(told, key=lambda f: (SEVERITY.index(f.verdict), f.margin), default=None)
    name = f"circuit.{device.slug}"
    load = next(
        (
            f"{name}.{each}"
            for each in _LOAD.get(device.kind, ())
            if f"{name}.{each}" in assessment.figures
        ),
        "",
    )
    rating = _RATING.get(device.kind)
    limit = f"{name}.{_LIMIT[device.kind]}" if device.kind in _LIMIT else ""
    if not limit and rating is not None:
        limit = device.entry(rating)
    return DeviceRow(
        device,
        tuple(path for path in _sizes(device) if car.has(path)),
        f"{name}.current" if f"{name}.draw" not in assessment.figures else f"{name}.draw",
        f"{name}.peak",
        load,
        limit,
        verdicts[0] if verdicts else None,
        tightest,
    )


def _is_rating(finding: Finding) -> bool:
    """Tell whether a finding judges what a device bears, not the people before it."""
    return not finding.rule.startswith("people.")


def _is_about(finding: Finding, device: Device, circuit: Circuit) -> bool:
    """Tell whether a finding judges a device: by its path, one of its data, or its figures."""
    if any(name.startswith(f"circuit.{device.slug}.") for name in finding.figures):
        return True
    return any(_is_of(subject, device, circuit) for subject in (finding.subject, *finding.also))


def _is_of(subject: str, device: Device, circuit: Circuit) -> bool:
    """Tell whether a build path is a device's, or of what stands at its path."""
    paths = {element.path for element in device.elements}
    entries = {path for element in device.elements for path in element.entries.values()}
    if subject in paths | entries:
        return True
    above = [each.path for each in circuit.elements if f"{subject}.".startswith(f"{each.path}.")]
    return bool(above) and max(above, key=len) in paths and device.kind not in _WITHOUT_PATH


_WITHOUT_PATH = (model.LINK, model.BLEED)
"""Kinds that stand at the path of what they belong to: only their own entries are theirs."""


def _sizes(device: Device) -> tuple[str, ...]:
    """Return the build paths of what says how large a device is."""
    keys = {
        model.FUSE: ("rating", "voltage"),
        model.CONTACTOR: ("carry", "voltage"),
        model.PRECHARGE_RELAY: ("carry", "voltage"),
        model.DISCONNECT: ("current", "voltage"),
        model.CONNECTOR: ("current", "voltage"),
        model.CABLE: ("size", "length"),
        model.PRECHARGE_RESISTOR: ("resistance", "power"),
        model.BLEED: ("resistance", "power"),
        model.LINK: ("capacitance",),
        model.Y_CAPACITOR: ("capacitance",),
        model.LEAK: ("resistance",),
        model.MONITOR: ("resistance",),
        model.ACTIVE_DISCHARGE: ("time",),
    }.get(device.kind, ())
    return tuple(device.entry(key) for key in keys)


def _place(assessment: Assessment, circuit: Circuit, place: Place) -> PlaceRow:
    clears = []
    for state in PACK_STATES:
        figure_id = f"fault.{place.slug}.clearing_{state}"
        figure = assessment.figures.get(figure_id)
        if figure is not None:
            clears.append((state, _fuse_of(circuit, figure), ""))
        else:
            clears.append((state, "", reason_of(assessment, figure_id) or "not known"))
    return PlaceRow(place, tuple(clears))


def _fuse_of(circuit: Circuit, figure: Figure) -> str:
    """Return the device that ends a fault, by the element a clearing time was read for."""
    name = figure.working.row if isinstance(figure.working, LookedUp) else ""
    element = circuit.by_name.get(name)
    return name if element is None else element.device


def _sections(
    car: Car, assessment: Assessment, circuit: Circuit, states: tuple[SwitchState | str, ...]
) -> tuple[SectionRow, ...]:
    by_state = [
        (state if isinstance(state, str) else THROWN, section_states(car, state))
        for state in states
    ]
    waited = {section.name for section in stored(circuit)}
    cut_off = stranded(circuit)
    rows = []
    for number, section in enumerate(sections(circuit)):
        each = tuple((state, found[number]) for state, found in by_state)
        spans = tuple(_spans(assessment, found) for _, found in each)
        reason = reason_of(assessment, f"wait.{section.slug}.time")
        rows.append(
            SectionRow(
                section.name,
                section.slug,
                each,
                spans,
                section.name in waited,
                PACK_STAYS if _has_pack(circuit, section) else reason,
                _emptied_by(circuit, section),
                tuple(one for one in cut_off if one.capacitor.name in section.elements),
            )
        )
    return tuple(rows)


def _has_pack(circuit: Circuit, section: Section) -> bool:
    return any(circuit.by_name[name].kind == model.PACK for name in section.elements)


def _emptied_by(circuit: Circuit, section: Section) -> tuple[str, ...]:
    paths = circuit.of_kind(model.BLEED, model.ACTIVE_DISCHARGE)
    return tuple(path.name for path in paths if path.name in section.elements)


def _spans(assessment: Assessment, state: SectionState) -> Spans | None:
    highest = assessment.figures.get(HIGHEST)
    return None if highest is None else section_spans(state, highest.value.si)


def words_of_state(state: str, gaps: tuple[str, ...]) -> str:
    """Return a state of the switches in words; a car without a disconnect has none to open."""
    return UNPLUGGED_WORDS if state == GAP_OPEN and not gaps else STATE_WORDS[state]
