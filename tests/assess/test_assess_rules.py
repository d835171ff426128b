"""Every rule at its limit: clearly met, just inside, just outside, and with an input missing.

The rows of `rule_cases/` say what each rule judges; nothing is simulated here. A rule that
judges every fuse, every cable ... is tried on a circuit of one ``thing`` of that kind.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from example_cars import ALL_CARS, assessment_of, car_from, changed, text_of
from project_files import SOURCE, relative
from tables_of_rules import rows

from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import judge
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.finding import Finding
from swapwright.base.sources import all_sources
from swapwright.build.asked import field_of
from swapwright.build.car import Car
from swapwright.build.circuit.model import Circuit, Element
from swapwright.build.shape import part_kind

CASES = rows("rule_cases", "rule")
WORDS = rows("rule_cases", "words")
PRESENT = rows("rule_cases", "present")
LAYOUT = rows("rule_cases", "layout")
"""Tried in `test_assess_arrangement`."""
ASKED = rows("rule_cases", "asked")
"""Rules that are met or ask, and judge no number: what is taken out, and what they need."""
BY_ID: Mapping[str, Rule] = {rule.id: rule for rule in RULES}
LIMIT = 400.0
HAIR = 1e-6

every_rule = pytest.mark.parametrize("case", CASES, ids=[case["rule"] for case in CASES])
every_rule_of_presence = pytest.mark.parametrize(
    "case", PRESENT, ids=[case["rule"] for case in PRESENT]
)
every_word_rule = pytest.mark.parametrize("case", WORDS, ids=[case["rule"] for case in WORDS])


def circuit_of_one(case: Mapping[str, Any]) -> Circuit:
    """Return a circuit of the one thing a rule judges, and of what has to stand beside it."""
    thing = Element("thing", case["each"], "a", "b", "thing", "hv.thing", string=1)
    if "beside" not in case:
        return Circuit((thing,))
    return Circuit(
        (thing, Element("other", case["beside"], "a", "b", "other", "hv.other", string=2))
    )


def named(*paths: str) -> dict[str, str]:
    """Return a name for every part that has one of these entries: one not named is asked for."""
    above = {path[:dot] for path in paths for dot, sign in enumerate(path) if sign == "."}
    places = ((path, field_of(path)) for path in above)
    return {path: "light" for path, row in places if row is not None and part_kind(row)}


def context_of(
    case: Mapping[str, Any],
    value: float | None,
    limit: float | None = LIMIT,
    origins: Mapping[str, str] | None = None,
    flags: Mapping[str, bool] | None = None,
) -> Context:
    """Return a car of which only what the rule looks at is known, at this value and limit."""
    numbers = dict.fromkeys(case.get("also", ()), 1.0)
    numbers[case["value"]] = value
    if isinstance(case["limit"], str):
        numbers[case["limit"]] = limit
    values = {
        name: Value(si, "1", (origins or {}).get(name, "entered"), name)  # type: ignore[arg-type]
        for name, si in numbers.items()
        if si is not None
    }
    texts, counts = case.get("texts", {}), case.get("counts", {})
    flags = {**case.get("flags", {}), **(flags or {})}
    car = Car("light", values, texts, flags, {}, {}, named(*numbers), counts)
    book = FigureBook(car)
    if "each" in case:
        book.circuit = circuit_of_one(case)
        book.values.update(values)
        for name in numbers.keys() - values.keys():
            book.note_missing(name, Missing(name))
    return Context(car, book)


def word_finding(case: Mapping[str, Any], words: Mapping[str, str | bool]) -> Finding:
    """Return the finding of a rule that judges words, on a car that says these and regenerates.

    A word that is true or false is a flag; ``also`` are the numbers the rule needs besides.
    """
    flags = {name: said for name, said in words.items() if isinstance(said, bool)}
    texts = {name: said for name, said in words.items() if isinstance(said, str)}
    lists = {name.partition("[")[0] for name in texts if "[" in name}
    counts = {
        path: len({name.partition("]")[0] for name in texts if name.startswith(f"{path}[")})
        for path in lists
    }
    torque = Value(100.0, "N.m", "entered", "drive.regen.wheel_torque")
    values = {path: Value(si, "1", "entered", path) for path, si in case.get("also", {}).items()}
    parts = named(case.get("needs", ""))
    car = Car("light", {torque.ref: torque, **values}, texts, flags, {}, {}, parts, counts)
    book = FigureBook(car)
    if "each" in case:
        book.circuit = circuit_of_one(case)
    ((finding,), skipped, _) = judge(Context(car, book), (BY_ID[case["rule"]],))
    assert not skipped
    return finding


def verdict_at(case: Mapping[str, Any], margin: float) -> Finding:
    """Return the finding at a margin (a share of the limit, positive inside)."""
    limit = LIMIT if isinstance(case["limit"], str) else case["limit"]
    sign = -1.0 if case["sense"] == "at_most" else 1.0
    findings, skipped, run = judge(
        context_of(case, limit * (1.0 + sign * margin)), (BY_ID[case["rule"]],)
    )
    assert not skipped
    assert run == 1
    assert len(findings) == 1
    assert findings[0].margin == pytest.approx(margin, abs=1e-9)
    return findings[0]


def band_of(case: Mapping[str, Any]) -> float:
    return case["band"] if "band" in case else case["band_kelvin"] / LIMIT


@pytest.mark.guard
def test_every_rule_stands_in_the_table_once_and_once_among_the_rules():
    rows = [case["rule"] for case in (*CASES, *WORDS, *PRESENT, *LAYOUT, *ASKED)]
    assert sorted(rows) == sorted(BY_ID)
    assert len(BY_ID) == len(RULES)


@pytest.mark.arithmetic
@every_rule
def test_well_inside_its_limit_a_rule_is_met_and_asks_for_nothing(case):
    finding = verdict_at(case, max(1.5 * band_of(case), 0.2))
    assert finding.verdict == "met"
    assert finding.remedy == ""


@pytest.mark.arithmetic
@every_rule
def test_just_inside_its_limit_a_rule_watches_unless_it_has_no_band(case):
    band = band_of(case)
    assert verdict_at(case, HAIR).verdict == ("watch" if band else "met")
    assert verdict_at(case, 0.0).verdict == ("watch" if band else "met")
    if band:
        assert verdict_at(case, band - HAIR).verdict == "watch"
        assert verdict_at(case, band + HAIR).verdict == "met"


@pytest.mark.arithmetic
@every_rule
def test_just_outside_its_limit_a_rule_says_so_and_what_to_do(case):
    finding = verdict_at(case, -HAIR)
    assert finding.verdict == case["outside"]
    assert finding.remedy
    assert finding.text != verdict_at(case, 0.5).text


@pytest.mark.arithmetic
@every_rule
def test_without_an_input_a_rule_is_unknown_and_names_it(case):
    names = [case["value"], *([case["limit"]] if isinstance(case["limit"], str) else [])]
    unknowns = 0
    for lost in names:
        kept = {name: None if name == lost else LIMIT for name in names}
        context = context_of(case, kept[case["value"]], kept.get(case["limit"]))
        findings, skipped, _ = judge(context, (BY_ID[case["rule"]],))
        if skipped:  # what is missing is the wish itself: no goal, no setting
            assert BY_ID[case["rule"]].skip_reason
            continue
        (finding,) = findings
        assert finding.verdict == "unknown"
        assert finding.could_be == case.get("could_be", case["outside"])
        assert finding.needs == (lost,)
        assert lost in finding.remedy
        unknowns += 1
    assert unknowns


@pytest.mark.arithmetic
@every_word_rule
def test_a_rule_of_words_is_met_stops_or_asks(case):
    met = word_finding(case, case["met"])
    assert met.verdict == "met"
    assert met.remedy == ""
    stop = word_finding(case, {**case["met"], **case["beyond"]})
    assert stop.verdict == case.get("outside", "stop") == BY_ID[case["rule"]].worst
    assert stop.remedy
    assert stop.text != met.text
    assert stop.sources


@pytest.mark.arithmetic
@every_word_rule
def test_a_rule_of_words_without_its_word_is_unknown_and_names_it(case):
    lost = case.get("lost", case["needs"])
    kept = {
        name: word
        for name, word in case["met"].items()
        if lost not in (name, name.partition("[")[0])
    }
    if "_second" in case["rule"]:
        kept["drive.second.motor.note"] = "a motor of which little is known"
    finding = word_finding(case, kept)
    assert finding.verdict == "unknown"
    assert finding.could_be == case.get("outside", "stop")
    assert finding.needs == (case["needs"],)


@pytest.mark.arithmetic
@pytest.mark.parametrize("case", ASKED, ids=[case["rule"] for case in ASKED])
def test_a_rule_that_only_asks_is_met_by_what_is_said_and_asks_where_it_is_not(case):
    verdicts = []
    for text in (text_of(case["car"]), changed(text_of(case["car"]), {case["path"]: None})):
        car = car_from(text)
        findings, _, _ = judge(Context(car, FigureBook(car)), (BY_ID[case["rule"]],))
        (found,) = (each for each in findings if each.subject == case["subject"])
        verdicts.append(found.verdict)
    assert verdicts == ["met", "unknown"]
    assert found.could_be == BY_ID[case["rule"]].worst == case["outside"]
    assert list(found.needs) == case["needs"]


@pytest.mark.arithmetic
@every_rule_of_presence
def test_a_rule_of_presence_is_met_by_the_thing_and_asks_where_it_is_not_given(case):
    met = word_finding(case, {})
    assert met.verdict == "met"
    assert met.remedy == ""
    also = {name: si for name, si in case.get("also", {}).items() if name != case["needs"]}
    missing = word_finding({"rule": case["rule"], "also": also}, {})
    assert missing.verdict == "unknown"
    assert missing.could_be == "stop" == BY_ID[case["rule"]].worst
    assert missing.needs == (case["needs"],)
    assert missing.remedy


@pytest.mark.arithmetic
@pytest.mark.parametrize("standard", ["welding cable", "other"])
def test_cable_that_is_not_made_for_cars_is_watched_on_a_circuit_of_class_b(standard: str):
    case = next(case for case in WORDS if case["rule"] == "circuit.cable_standard")
    finding = word_finding(case, {"hv.thing.standard": standard})
    assert finding.verdict == "watch"
    assert finding.remedy


@pytest.mark.arithmetic
def test_battery_cable_will_do_on_a_circuit_of_class_a():
    case = next(case for case in WORDS if case["rule"] == "circuit.cable_standard")
    case = {**case, "also": {"pack.max_working_voltage": 58.4}}
    assert word_finding(case, case["beyond"]).verdict == "met"


@pytest.mark.arithmetic
def test_a_contactor_that_is_not_polarised_breaks_both_ways_what_it_breaks_forward():
    case = next(case for case in CASES if case["rule"] == "circuit.contactor_reverse")
    case = {**case, "limit": "hv.thing.break_forward"}
    verdicts = {}
    for polarised in (True, False):
        for current in (0.5 * LIMIT, 1.1 * LIMIT):
            context = context_of(case, current, flags={"hv.thing.polarised": polarised})
            ((finding,), _, _) = judge(context, (BY_ID[case["rule"]],))
            verdicts[polarised, current > LIMIT] = finding.verdict
    assert verdicts[False, False] == "met"
    assert verdicts[False, True] == "fix"
    assert verdicts[True, False] == verdicts[True, True] == "unknown"


@pytest.mark.arithmetic
def test_an_inverter_that_does_not_say_what_it_drives_is_asked_about():
    case = {"rule": "drive.inverter_kind", "needs": "drive.inverter.drives"}
    finding = word_finding(case, {"drive.motor.kind": "induction"})
    assert finding.verdict == "unknown"
    assert finding.needs == ("drive.inverter.drives",)


DECLARED = {
    "current.cell_peak_cold": "drive.limited_by_pack",
    "regen.full_charge_cold": "drive.regen.limited_by_pack",
    "regen.cell_current_cold": "drive.regen.limited_by_pack",
    "charging.supply_current": "charging.follows_pilot",
    "charging.cable_current": "charging.follows_pilot",
    "charging.inlet_current": "charging.follows_pilot",
    "charging.cold_current": "charging.limited_by_pack",
    "charging.fast_current": "charging.limited_by_pack",
    "charging.fast_current_cold": "charging.limited_by_pack",
}
"""Rules that may be met on the owner's word alone, and the word."""


@pytest.mark.arithmetic
@pytest.mark.parametrize("rule", DECLARED)
def test_what_stands_on_the_owners_word_alone_says_so_and_has_it_proved(rule: str):
    case = next(case for case in CASES if case["rule"] == rule)
    words = {}
    for flags in ({}, {DECLARED[rule]: False}, {DECLARED[rule]: True}):
        context = context_of(case, 0.5 * LIMIT, flags=flags)
        ((finding,), _, _) = judge(context, (BY_ID[rule],))
        assert finding.verdict == "met"
        words[flags.get(DECLARED[rule], None)] = finding.text
    assert words[None] == words[False] != words[True]
    assert words[True].startswith("Met by declaration")
    assert "commissioning" in words[True]


@pytest.mark.arithmetic
@pytest.mark.parametrize("rule", DECLARED)
def test_the_owners_word_does_not_carry_a_value_beyond_its_limit(rule: str):
    case = next(case for case in CASES if case["rule"] == rule)
    context = context_of(case, 1.1 * LIMIT, flags={DECLARED[rule]: True})
    ((finding,), _, _) = judge(context, (BY_ID[rule],))
    assert finding.verdict == case["outside"]
    assert "declaration" not in finding.text


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "case",
    [case for case in CASES if "motor.back_emf" in str(case.get("also"))],
    ids=lambda case: case["rule"],
)
def test_a_typical_back_emf_cannot_carry_a_verdict(case):
    (typical,) = case["also"]
    context = context_of(case, 0.1 * LIMIT, origins={typical: "default"})
    ((finding,), _, _) = judge(context, (BY_ID[case["rule"]],))
    assert finding.verdict == "unknown"
    assert finding.needs == (typical,)


@pytest.mark.arithmetic
def test_a_pack_nothing_is_said_to_warm_is_asked_about():
    case = next(case for case in CASES if case["rule"] == "current.cold_charge")
    context = context_of({**case, "texts": {}}, 2.0 * LIMIT)
    ((finding,), _, _) = judge(context, (BY_ID[case["rule"]],))
    assert finding.needs == ("pack.heating",)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("volts", "letter"), [(60.0, "A"), (60.1, "B"), (1500.0, "B")])
def test_a_pack_of_exactly_60_volts_is_still_class_a(volts: float, letter: str):
    case = next(case for case in CASES if case["rule"] == "voltage.class")
    ((finding,), _, _) = judge(context_of(case, volts), (BY_ID[case["rule"]],))
    assert f"Voltage class {letter}" in finding.text


@pytest.mark.arithmetic
@pytest.mark.parametrize("rule", ["goals.zero_to_60", "goals.zero_to_100"])
def test_a_sprint_past_the_top_speed_is_out_of_reach_not_unknown(rule: str):
    case = {"value": "top_speed.peak", "limit": rule, "sense": "at_least"}
    for speed, verdict in ((20.0, "fix"), (40.0, "unknown")):
        ((finding,), _, _) = judge(context_of(case, speed), (BY_ID[rule],))
        assert finding.verdict == verdict
    assert finding.needs == ({"goals.zero_to_60": "accel.0_60mph"}.get(rule, "accel.0_100kmh"),)


@pytest.mark.guard
@every_rule
def test_a_rule_cites_its_sources_and_speaks_without_numbers(case):
    rule = BY_ID[case["rule"]]
    assert rule.sources
    assert set(rule.sources) <= set(all_sources())
    for margin in (0.5, -HAIR):
        finding = verdict_at(case, margin)
        said = finding.text if rule.over is None else finding.text.partition(": ")[2]
        words = said.replace("50 mph", "").replace("0-60 mph", "").replace("10 s", "")
        words = words.replace("0-100 km/h", "").replace("12 V", "")
        assert not any(letter.isdigit() for letter in words), finding.text


@pytest.mark.guard
@pytest.mark.parametrize("path", sorted((SOURCE / "assess" / "rules").glob("*.py")), ids=relative)
def test_a_rule_holds_no_limit_of_its_own(path: Path):
    numbers = [
        node.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and type(node.value) in (int, float)
    ]
    assert set(numbers) <= {0, 1}


@pytest.mark.guard
@pytest.mark.parametrize("name", ALL_CARS)
def test_a_value_and_its_limit_share_their_unit(name: str):
    for finding in assessment_of(name).findings:
        if finding.value is not None and finding.limit is not None:
            assert finding.value.unit == finding.limit.unit, finding.rule
