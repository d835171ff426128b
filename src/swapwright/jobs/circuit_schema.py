"""The JSON Schemas of what the commands of the circuit print."""

from __future__ import annotations

from swapwright.assess.circuit.section import LIVE, MAY_BE_LIVE, SEPARATED, STORED
from swapwright.assess.queries import STATES
from swapwright.base.finding import SEVERITY
from swapwright.build.circuit.model import KINDS
from swapwright.build.schema import DRAFT
from swapwright.jobs.output_schema import NUMBER, TEXT, TEXTS, VERSION, Schema, or_null, record

_MAYBE = or_null(NUMBER)


def circuit_schema() -> Schema:
    """Return the schema of `circuit --json`."""
    return {
        "$schema": DRAFT,
        "title": "circuit",
        "description": "what swapwright circuit --json prints",
        **record(
            schema_version=VERSION,
            file=TEXT,
            name=TEXT,
            revision=TEXT,
            devices=_list(_device()),
            places=_list(_place()),
            sections=_list(_section()),
            cables=_list(_cable()),
            coils=_list(_coil()),
            gaps=_list(record(name=TEXT, open_v=_MAYBE)),
            cautions=TEXTS,
        ),
    }


def _list(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def _device() -> Schema:
    measures = ("current_a", "peak_a", "limit_a", "temperature_k", "share_of_melting", "margin")
    return record(
        name=TEXT,
        kind={"enum": list(KINDS)},
        path=TEXT,
        elements=TEXTS,
        verdict=or_null({"enum": list(SEVERITY)}),
        tightest_rule=or_null(TEXT),
        **dict.fromkeys(measures, _MAYBE),
    )


def _cable() -> Schema:
    measures = ("size_m2", "drop_v", "bend_radius_m", "lug_temperature_k", "lightest_m2")
    return record(name=TEXT, limits=TEXT, **dict.fromkeys(measures, _MAYBE))


def _coil() -> Schema:
    measures = ("holding_w", "pull_in_v", "drop_out_v")
    is_cut_back = or_null({"type": "boolean"})
    return record(name=TEXT, is_cut_back=is_cut_back, **dict.fromkeys(measures, _MAYBE))


def _place() -> Schema:
    state = record(
        current_a=_MAYBE, time_constant_s=_MAYBE, clearing_s=_MAYBE, fuse=or_null(TEXT), reason=TEXT
    )
    return record(name=TEXT, path=TEXT, states=record(full=state, low=state))


def _section() -> Schema:
    reach = record(source=TEXT, welded=TEXTS, through_one={"type": "boolean"})
    state = record(
        word={"enum": [LIVE, MAY_BE_LIVE, STORED, SEPARATED]},
        reached_by=_list(reach),
        one_pole=TEXTS,
        between_v=_MAYBE,
        between_discharged_v=_MAYBE,
        to_chassis_v=_MAYBE,
        stores=TEXTS,
        charges=_list(reach),
    )
    states = {
        "type": "object",
        "propertyNames": {"enum": list(STATES)},
        "additionalProperties": state,
    }
    stranded = _list(record(capacitor=TEXT, fuses=TEXTS))
    return record(name=TEXT, states=states, wait_s=_MAYBE, no_wait=TEXT, stranded=stranded)


def fault_schema() -> Schema:
    """Return the schema of `fault --json`."""
    fact = record(key=TEXT, label=TEXT, value=_MAYBE, unit=TEXT, words=TEXT)
    account = record(
        title=TEXT,
        facts=_list(fact),
        moments=_list(record(time_s=NUMBER, text=TEXT)),
        groups=_list(record(title=TEXT, facts=_list(fact))),
        notes=TEXTS,
    )
    return {
        "$schema": DRAFT,
        "title": "fault",
        "description": "what swapwright fault --json prints",
        **record(
            schema_version=VERSION,
            name=TEXT,
            revision=TEXT,
            accounts=_list(account),
            cautions=TEXTS,
        ),
    }


def isolation_schema() -> Schema:
    """Return the schema of `isolation-test --json`."""
    readings = ("plus_v", "minus_v", "with_resistor_v", "pack_v")
    measures = (
        "resistor_ohm",
        "meter_ohm",
        "isolation_ohm",
        "other_pole_ohm",
        "combined_ohm",
        "ohm_per_v",
        "place_from_minus",
        "resistor_power_w",
        "resistor_voltage_v",
        "wait_s",
    )
    return {
        "$schema": DRAFT,
        "title": "isolation test",
        "description": "what swapwright isolation-test --json prints",
        **record(
            schema_version=VERSION,
            name=TEXT,
            revision=TEXT,
            readings=record(**dict.fromkeys(readings, _MAYBE)),
            weak_pole=or_null({"enum": ["plus", "minus"]}),
            required_ohm_per_v=NUMBER,
            floor_ohm_per_v=NUMBER,
            module=TEXT,
            contradictions=TEXTS,
            notes=TEXTS,
            cautions=TEXTS,
            exit_status={"type": "integer"},
            **dict.fromkeys(measures, _MAYBE),
        ),
    }
