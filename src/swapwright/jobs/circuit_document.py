"""What `circuit --json` prints: the circuit of one car, device by device."""

from __future__ import annotations

from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.assess.circuit.section import Reach, SectionState
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import HIGHEST, CircuitView, DeviceRow, PlaceRow, SectionRow, Spans
from swapwright.jobs.fitting import CableRow, CoilRow

Json = dict[str, Any]


def circuit_document(checked: Checked, view: CircuitView) -> Json:
    """Return the document: SI numbers, each key naming its unit, null where not known."""
    car = checked.opened.car
    return {
        "schema_version": SCHEMA_VERSION,
        "file": checked.opened.file,
        "name": car.texts.get("car.name", ""),
        "revision": car.revision,
        "devices": [_device(checked, row) for row in view.devices],
        "places": [_place(checked, row) for row in view.places],
        "sections": [_section(checked, row) for row in view.sections],
        "cables": [_cable(checked, row) for row in view.cables],
        "coils": [_coil(checked, row) for row in view.coils],
        "gaps": [{"name": name, "open_v": _number(checked, HIGHEST)} for name in view.gaps],
        "cautions": list(CAUTIONS),
    }


def _number(checked: Checked, name: str) -> float | None:
    figure = checked.assessment.figures.get(name)
    if figure is not None:
        return figure.value.si
    value = checked.opened.car.get(name)
    return None if value is None else value.si


def _device(checked: Checked, row: DeviceRow) -> Json:
    is_hot = row.load.endswith("temperature")
    load = _number(checked, row.load) if row.load else None
    return {
        "name": row.device.name,
        "kind": row.device.kind,
        "path": row.device.path,
        "elements": [element.name for element in row.device.elements],
        "current_a": _number(checked, row.current),
        "peak_a": _number(checked, row.peak),
        "limit_a": _number(checked, row.limit) if row.limit else None,
        "temperature_k": load if is_hot else None,
        "share_of_melting": None if is_hot else load,
        "verdict": row.verdict,
        "tightest_rule": None if row.tightest is None else row.tightest.rule,
        "margin": None if row.tightest is None else row.tightest.margin,
    }


def _place(checked: Checked, row: PlaceRow) -> Json:
    slug = row.place.slug
    states = {}
    for state, fuse, reason in row.clears:
        states[state] = {
            "current_a": _number(checked, f"fault.{slug}.current_{state}"),
            "time_constant_s": _number(checked, f"fault.{slug}.time_constant_{state}"),
            "clearing_s": _number(checked, f"fault.{slug}.clearing_{state}"),
            "fuse": fuse or None,
            "reason": reason,
        }
    return {"name": row.place.name, "path": row.place.path, "states": states}


def _section(checked: Checked, row: SectionRow) -> Json:
    return {
        "name": row.name,
        "states": {
            state: _state(each, spans)
            for (state, each), spans in zip(row.states, row.spans, strict=True)
        },
        "wait_s": _number(checked, f"wait.{row.slug}.time") if row.stores else None,
        "no_wait": row.no_wait,
        "stranded": [
            {"capacitor": each.capacitor.name, "fuses": list(each.fuses)} for each in row.stranded
        ],
    }


def _cable(checked: Checked, row: CableRow) -> Json:
    return {
        "name": row.device.name,
        "size_m2": _number(checked, row.size),
        "drop_v": _number(checked, row.drop),
        "bend_radius_m": _number(checked, row.bend),
        "lug_temperature_k": _number(checked, row.lug),
        "lightest_m2": _number(checked, row.lightest),
        "limits": row.limits,
    }


def _coil(checked: Checked, row: CoilRow) -> Json:
    return {
        "name": row.device.name,
        "holding_w": _number(checked, row.holding),
        "pull_in_v": _number(checked, row.pull_in),
        "drop_out_v": _number(checked, row.drop_out),
        "is_cut_back": row.is_cut_back,
    }


def _state(state: SectionState, spans: Spans | None) -> Json:
    return {
        "word": state.word,
        "reached_by": [_reach(each) for each in state.reached_by],
        "one_pole": list(state.one_pole),
        "between_v": None if spans is None else spans.between,
        "between_discharged_v": None if spans is None else spans.driven,
        "to_chassis_v": None if spans is None else spans.to_chassis,
        "stores": list(state.stores),
        "charges": [_reach(each) for each in state.charges],
    }


def _reach(reach: Reach) -> Json:
    return {
        "source": reach.source,
        "welded": list(reach.welded),
        "through_one": reach.through_one,
    }
