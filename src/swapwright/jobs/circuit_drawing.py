"""The one-line diagram and the coordination chart of a car, as SVG texts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from swapwright.assess.circuit.section import SwitchState
from swapwright.assess.circuit_query import box_modules, box_voltage, is_class_b
from swapwright.assess.queries import section_states
from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Figure, Value
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Device
from swapwright.build.revision import short
from swapwright.drawing.chart import Band, line_chart
from swapwright.drawing.diagram import one_line_diagram
from swapwright.drawing.sheet import SheetText
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import HIGHEST, STATE_WORDS, CircuitView
from swapwright.jobs.switches import switch_words
from swapwright.jobs.telling import tell, value_text
from swapwright.standards.voltage_class import MAX_CLASS_A_DC

CURVE = "circuit.coordination"
_SHOWN = ("stop", "fix", "unknown", "watch")
_KINDS = {
    "V": "voltage",
    "A": "current",
    "ohm": "resistance",
    "F": "capacitance",
    "m": "length",
    "m^2": "conductor_area",
    "W": "power",
    "s": "time",
}
LONGEST, SHORTEST = 1e4, 1e-3
"""s; the times a coordination chart spans."""


def diagram_of(
    checked: Checked,
    view: CircuitView,
    profile: str,
    state: SwitchState | str | None,
    *,
    links: Mapping[str, str] | None = None,
    titles: Mapping[str, str] | None = None,
) -> str:
    """Return the one-line diagram of a car, each section's state in a state of the switches.

    Switches thrown one by one are drawn as thrown. ``links`` and ``titles`` go with the devices.
    """
    car, assessment = checked.opened.car, checked.assessment
    highest = assessment.figures.get(HIGHEST)
    marks = {row.device.name: row.verdict for row in view.devices if row.verdict in _SHOWN}
    lines = [
        ("build file", checked.opened.file.rpartition("/")[2]),
        ("mark", car.texts.get("car.mark", "")),
        ("revision", short(assessment.revision)),
        ("region", assessment.region),
        ("maximum working voltage", _voltage_text(highest, profile)),
        ("voltage class", _class_text(highest, profile)),
        ("switches", _switch_words(checked, state)),
    ]
    return one_line_diagram(
        circuit_of(car),
        sheet=SheetText(
            assessment.name or "a car without a name", tuple(row for row in lines if row[1])
        ),
        labels={row.device.name: label_of(checked, row.device, profile) for row in view.devices},
        marks={name: str(verdict) for name, verdict in marks.items()},
        # Where the voltage is not known the sheet is drawn as if it were high.
        is_class_b=highest is None or is_class_b(highest.value.si),
        states=None if state is None else _node_states(checked, state),
        links=links,
        titles=titles,
        closed=state.closed if isinstance(state, SwitchState) else (),
    )


def _switch_words(checked: Checked, state: SwitchState | str | None) -> str:
    if isinstance(state, SwitchState):
        return switch_words(checked.opened.car, state)
    return STATE_WORDS.get(state or "", "")


def _voltage_text(highest: Figure | None, profile: str) -> str:
    return "" if highest is None else tell(highest.value.si, "voltage", profile)


def _class_text(highest: Figure | None, profile: str) -> str:
    """Return the voltage class of the whole joined circuit, and where it begins."""
    limit = tell(MAX_CLASS_A_DC.si, "voltage", profile, digits=2)
    if highest is None:
        return "not known, drawn as B"
    return f"B, above {limit} dc" if is_class_b(highest.value.si) else f"A, up to {limit} dc"


def _node_states(checked: Checked, state: SwitchState | str) -> dict[str, str]:
    return {
        node: each.word
        for each in section_states(checked.opened.car, state)
        for node in each.section.nodes
    }


def label_of(checked: Checked, device: Device, profile: str) -> tuple[str, ...]:
    """Return the lines that stand at a device: what it is, and what is asked of it."""
    car = checked.opened.car
    keys = _LINES.get(device.kind, ())
    lines = list(_WORDS[device.kind](checked, device, profile)) if device.kind in _WORDS else []
    for row in keys:
        texts = [_bare(entry_text(car.get(device.entry(key)), profile)) for key in row]
        line = " ".join(filter(None, texts))
        if line:
            lines.append(line)
    said = car.texts.get(device.entry("insulation"), "") if device.kind == model.CABLE else ""
    if said:
        lines.append(f"{said}, {car.texts.get(device.entry('laid'), 'conduit')}")
    current = checked.assessment.figures.get(f"circuit.{device.slug}.current")
    if current is not None and device.kind in (model.CABLE, model.FUSE):
        lines.append(f"carries {tell(current.value.si, 'current', profile)}")
    return tuple(lines)


def _pack_lines(checked: Checked, device: Device, profile: str) -> Iterable[str]:
    """Return how many modules a box holds of a string, and the most its ends can stand apart."""
    pack = device.first
    in_string = checked.opened.car.get("pack.modules_per_string")
    if in_string is not None:
        count = box_modules(pack, in_string.si)
        yield f"{count} module{'' if count == 1 else 's'}"
    if pack.parallel > 1.0:
        yield f"in each of {round(pack.parallel)} strings"
    highest = checked.assessment.figures.get(HIGHEST)
    if highest is not None:
        yield f"{tell(box_voltage(pack, highest.value.si), 'voltage', profile)} at most"


def _disconnect_lines(checked: Checked, device: Device, profile: str) -> Iterable[str]:
    yield "sees the whole pack"


def _inverter_lines(checked: Checked, device: Device, profile: str) -> Iterable[str]:
    """Return the window of dc voltage it runs in."""
    ends = (checked.opened.car.get(device.entry(f"{end}_voltage")) for end in ("min", "max"))
    low, high = (_bare(entry_text(each, profile)) for each in ends)
    if low and high:
        yield f"{low} to {high}"


_WORDS = {
    model.PACK: _pack_lines,
    model.DISCONNECT: _disconnect_lines,
    model.INVERTER: _inverter_lines,
}
"""What stands at a device before its entries."""

_LINES = {
    model.FUSE: (("rating", "voltage"),),
    model.CONTACTOR: (("carry", "voltage"),),
    model.PRECHARGE_RELAY: (("carry", "voltage"),),
    model.DISCONNECT: (("current", "voltage"),),
    model.CONNECTOR: (("current", "voltage"),),
    model.CABLE: (("size",), ("length",)),
    model.PRECHARGE_RESISTOR: (("resistance", "power"),),
    model.BLEED: (("resistance", "power"),),
    model.LINK: (("capacitance",),),
    model.Y_CAPACITOR: (("capacitance",),),
    model.LEAK: (("resistance",),),
    model.MONITOR: (("resistance",),),
    model.ACTIVE_DISCHARGE: (("time",),),
    model.LOAD: (("current", "power"),),
    model.CHARGER: (("current", "power"),),
    model.DCDC: (("current", "power"),),
    model.INLET: (("current", "power"),),
}


def entry_text(value: Value | None, profile: str) -> str:
    """Return an entry of the circuit as a person reads it, empty where there is none."""
    if value is None:
        return ""
    return value_text(value, _KINDS.get(value.unit, ""), profile)


def _bare(text: str) -> str:
    """Return a number without the noughts behind its point: sizes and ratings are round ones."""
    return re.sub(r"(?<=\d)\.0+(?=\s|$)", "", text)


def chart_of(checked: Checked, profile: str) -> str:
    """Return the coordination chart; raise InputError where the car has no fuse to chart."""
    curve = checked.assessment.curves.get(CURVE)
    if curve is None:
        problem = Problem(checked.opened.file, "hv.main_fuse", "no fuse is known: no chart")
        raise InputError(problem)
    levels = [mark.x for mark in curve.marks if mark.x is not None]
    bands = (Band("faults, weakest to strongest", min(levels), max(levels)),) if levels else ()
    return line_chart(
        curve,
        title=f"{checked.assessment.name or 'a car without a name'}: {curve.label}",
        log_x=True,
        log_y=True,
        y_range=(SHORTEST, LONGEST),
        y_label="time",
        bands=bands,
        notes=(
            "A fuse protects what lies above and to the right of its line of clearing; the car's "
            "own line has to stay below and to the left of what melts it.",
            f"Revision {short(checked.assessment.revision)}. Curves without a data sheet are "
            "typical ones.",
        ),
        profile=profile,
    )
