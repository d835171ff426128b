"""One input of a sound car broken at a time: exactly the rules that should speak up do."""

from __future__ import annotations

from typing import Any

import pytest
from example_cars import SOUND, assessment_of, car_from, changed, text_of, worse
from tables_of_rules import rows

from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import assess

ROWS = rows("mutations", "row")
VERDICTS = ("stop", "fix", "unknown", "watch")


def expected(row: dict[str, Any]) -> dict[str, str]:
    return {rule: verdict for verdict in VERDICTS for rule in row.get(verdict, ())}


@pytest.mark.golden
@pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: f"{row['car']}: {row['path']} = {row.get('to', 'left out')[:24]}"
)
def test_a_single_fault_makes_exactly_its_own_rules_speak(row: dict[str, Any]):
    changes = {row["path"]: row.get("to"), **row.get("also", {})}
    broken = car_from(changed(text_of(row["car"]), changes))
    assert worse(assessment_of(row["car"]), assess(broken)) == expected(row)


@pytest.mark.guard
def test_the_table_breaks_every_sound_car_and_every_rule():
    assert len(ROWS) >= 60
    assert set(SOUND) <= {row["car"] for row in ROWS}
    spoken = {rule for row in ROWS for rule in expected(row)}
    assert spoken == {rule.id for rule in RULES}


@pytest.mark.guard
def test_no_row_of_the_table_stands_twice_or_breaks_nothing():
    faults = [(row["car"], row["path"], row.get("to")) for row in ROWS]
    assert len(set(faults)) == len(faults)
    assert all(expected(row) for row in ROWS)
