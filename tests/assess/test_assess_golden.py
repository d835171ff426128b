"""What the example cars are told today: every finding that is not *met*, and the planted faults."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from example_cars import FLAWED, SOUND, assessment_of, by_rule

GOLDEN = tomllib.loads((Path(__file__).parent / "golden_findings.toml").read_text(encoding="utf-8"))
VERDICTS = ("stop", "fix", "unknown", "watch")

every_sound_car = pytest.mark.parametrize("name", SOUND)


def told(name: str) -> dict[str, list[str]]:
    """Return the rules by verdict, in order, and those the owner accepted."""
    findings = assessment_of(name).findings
    lists = {
        verdict: sorted({finding.rule for finding in findings if finding.verdict == verdict})
        for verdict in VERDICTS
    }
    lists["accepted"] = sorted({finding.rule for finding in findings if finding.accepted})
    return {verdict: rules for verdict, rules in lists.items() if rules}


@pytest.mark.golden
@pytest.mark.parametrize("name", (*SOUND, FLAWED))
def test_a_car_is_told_what_it_was_told_before(name: str):
    assert told(name) == GOLDEN[name]


@pytest.mark.golden
@every_sound_car
def test_a_sound_car_has_nothing_to_stop_for_and_no_fix_its_owner_has_not_accepted(name: str):
    lists = told(name)
    assert "stop" not in lists
    assert "unknown" not in lists
    assert lists.get("fix", []) == lists.get("accepted", [])


PLANTED: dict[str, dict[str, str]] = {
    "1 inverter voltage": {"voltage.inverter_full": "stop"},
    "7 charger window": {"charging.window_high": "stop"},
    "8 rear axle": {"weight.rear_axle": "stop", "brakes.rate": "fix"},
    "9 peak current": {"current.cell_peak": "stop"},
    "18 regeneration": {"regen.full_charge": "stop", "regen.cold_cells": "stop"},
    "19 usable window": {"pack.window": "fix"},
    "21 air in the coolant": {"cooling.air_bleed": "fix"},
}
"""Faults of the flawed car outside its high-voltage circuit, by their numbers, and who finds each.

Those of the circuit are in `test_assess_circuit`.
"""


@pytest.mark.golden
@pytest.mark.parametrize("planted", PLANTED)
def test_a_planted_fault_is_found(planted: str):
    verdicts = PLANTED[planted]
    found = by_rule(assessment_of(FLAWED))
    assert {rule: found[rule].verdict for rule in verdicts} == verdicts
    for rule in verdicts:
        assert found[rule].remedy
        assert found[rule].margin is not None
        assert found[rule].margin < 0.0
