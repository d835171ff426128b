"""Rules on the circuit's layout: what stands before what, tried on whole cars."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from example_cars import CATALOGUE, car_from, changed, text_of
from tables_of_rules import rows

from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context
from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import judge
from swapwright.base.finding import Finding
from swapwright.build.circuit.expansion import full_form_text
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve

CASES = rows("rule_cases", "layout")
BY_ID = {rule.id: rule for rule in RULES}

every_case = pytest.mark.parametrize("case", CASES, ids=[case["rule"] for case in CASES])


def finding(case: Mapping[str, Any], text: str) -> Finding:
    car = car_from(text)
    ((found,), skipped, _) = judge(Context(car, FigureBook(car)), (BY_ID[case["rule"]],))
    assert not skipped
    return found


def with_changes(text: str, changes: Mapping[str, str]) -> str:
    """Return a build file with values changed; an empty one is left out."""
    return changed(text, {path: to or None for path, to in changes.items()})


def sound(case: Mapping[str, Any]) -> str:
    text = with_changes(text_of(case["car"]), case.get("sound", {}))
    return with_changes(text, case.get("with", {}))


def broken(case: Mapping[str, Any]) -> str:
    if "drawn" not in case:
        return with_changes(sound(case), case["broken"])
    build = load_text(sound(case), "a car")
    drawn = full_form_text(build, resolve(build, CATALOGUE))
    was, becomes = case["drawn"]
    assert was in drawn
    return drawn.replace(was, becomes)


@pytest.mark.arithmetic
@every_case
def test_a_circuit_laid_out_well_meets_the_rule(case):
    met = finding(case, sound(case))
    assert met.verdict == "met"
    assert met.remedy == ""
    assert met.sources


@pytest.mark.arithmetic
@every_case
def test_a_circuit_laid_out_wrongly_is_told_what_stands_where(case):
    wrong = finding(case, broken(case))
    assert wrong.verdict == case["outside"] == BY_ID[case["rule"]].worst
    assert wrong.remedy
    assert wrong.text.endswith(")")
    assert wrong.text != finding(case, sound(case)).text


@pytest.mark.arithmetic
@every_case
def test_where_the_file_says_nothing_of_it_the_layout_is_unknown(case):
    text = sound(case) if "drawn" in case else broken(case)
    unsaid = finding(case, with_changes(text, case["unsaid"]))
    assert unsaid.verdict == "unknown"
    assert unsaid.could_be == case["outside"]
    assert unsaid.needs == (case["needs"],)
