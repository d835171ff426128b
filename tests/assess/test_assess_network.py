"""The network of the example cars: planted faults, and what a car with no messages is told."""

from __future__ import annotations

import pytest
from example_cars import FLAWED, SOUND, assessment_of, by_rule, car_from, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.build.network import role_of

BUS = """
[[network.bus]]
name          = "{name}"
bit_rate      = "{rate}"
nodes         = [{nodes}]
terminated_at = [{ends}]
"""


def network_findings(assessment: Assessment) -> dict[str, str]:
    found = by_rule(assessment)
    return {rule: each.verdict for rule, each in found.items() if rule.startswith("network.")}


@pytest.mark.golden
@pytest.mark.parametrize(
    ("rule", "named"),
    [
        ("network.terminators", "no terminator"),
        ("network.termination", "not there"),
        ("network.bit_rates", "(pack controller)"),
    ],
)
def test_the_planted_faults_of_the_bus_are_found(rule: str, named: str):
    finding = by_rule(assessment_of(FLAWED))[rule]
    assert finding.verdict == "fix"
    assert named in finding.text
    assert finding.remedy


@pytest.mark.golden
def test_nothing_else_of_the_flawed_cars_network_is_found_fault_with():
    found = network_findings(assessment_of(FLAWED))
    planted = {"network.terminators", "network.termination", "network.bit_rates"}
    assert {rule for rule, verdict in found.items() if verdict != "met"} == planted


@pytest.mark.golden
@pytest.mark.parametrize("name", SOUND)
def test_a_sound_cars_network_meets_every_rule(name: str):
    assert set(network_findings(assessment_of(name)).values()) == {"met"}


@pytest.mark.arithmetic
def test_a_bus_should_measure_sixty_ohms_whatever_is_fitted():
    assessment = assessment_of(FLAWED)
    assert assessment.figures["network.drive.expected_resistance"].value.si == 60.0
    assert "no terminator" in assessment.missing["network.drive.fitted_resistance"][0]


@pytest.mark.arithmetic
def test_the_torque_request_waits_for_one_frame_that_has_begun():
    # By hand: 1 ms late into the queue, one frame of 270 us before it, its own 270 us.
    value = assessment_of("ridgeway").figures["network.drive.torque_request.response"].value
    assert value.si == pytest.approx(1e-3 + 2 * 270e-6)


@pytest.mark.arithmetic
def test_a_car_whose_file_lists_no_messages_is_asked_for_them():
    text = changed(text_of("ridgeway"), {"network.message": None})
    found = by_rule(assess(car_from(text)))
    for rule in ("network.signals", "network.load", "network.identifier"):
        assert found[rule].verdict == "unknown", rule
        assert found[rule].needs == ("network.message",), rule


@pytest.mark.arithmetic
def test_what_goes_by_wire_needs_no_message():
    text = changed(
        text_of("bakery"),
        {
            "network.message": None,
            "network.wired": '["link voltage", "drive faults", "discharge limit", '
            '"regeneration limit", "contactor state", "pack faults"]',
        },
    )
    assert by_rule(assess(car_from(text)))["network.signals"].verdict == "met"


@pytest.mark.arithmetic
def test_a_message_on_a_bus_its_taker_is_not_on_does_not_reach_it():
    other = BUS.format(name="body", rate="500 kbit/s", nodes='"pack controller"', ends="")
    text = changed(text_of("ridgeway"), {"network.message[2].bus": "body"})
    found = by_rule(assess(car_from(f"{text}{other}")))
    assert found["network.signals"].verdict == "fix"
    assert "discharge limit to the vehicle controller" in found["network.signals"].text


@pytest.mark.arithmetic
def test_two_buses_whose_names_are_spelled_alike_keep_their_own_figures():
    other = BUS.format(name="Drive", rate="250 kbit/s", nodes='"lamps", "dash"', ends='"lamps"')
    assessment = assess(car_from(f"{text_of('ridgeway')}{other}"))
    assert assessment.figures["network.drive.fitted_resistance"].value.si == 60.0
    assert assessment.figures["network.drive_2.fitted_resistance"].value.si == 120.0


@pytest.mark.arithmetic
def test_a_bus_faster_than_classical_has_no_reach_and_says_why():
    text = changed(text_of("ridgeway"), {"network.bus[0].bit_rate": "2 Mbit/s"})
    assessment = assess(car_from(text))
    assert "1 Mbit/s" in assessment.missing["network.drive.reach"][0]


@pytest.mark.arithmetic
def test_messages_beyond_what_a_bus_carries_have_no_worst_case():
    text = changed(
        text_of("bakery"),
        {"network.message[0].period": "1 ms", "network.message[1].period": "1 ms"},
    )
    found = by_rule(assess(car_from(text)))
    assert found["network.load"].verdict == "fix"
    assert found["network.deadline"].verdict == "unknown"
    assert found["network.deadline"].could_be == "fix"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("node", "role"),
    [
        ("BMS", "pack controller"),
        ("pack_controller", "pack controller"),
        ("charger 2", "charger"),
        ("rear inverter", "inverter"),
        ("VCU", "vehicle controller"),
        ("dash", ""),
        ("dc-dc", ""),
    ],
)
def test_a_node_is_known_by_what_the_trade_calls_it(node: str, role: str):
    assert role_of(node) == role


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("terminator", "measured", "terminators", "termination"),
    [
        ("120 ohm", "60 ohm", "met", "met"),
        ("240 ohm", "120 ohm", "fix", "fix"),
        ("240 ohm", "60 ohm", "fix", "fix"),
        ("130 ohm", "65 ohm", "met", "met"),
    ],
)
def test_terminators_are_held_against_the_line_and_the_meter_against_both(
    terminator: str, measured: str, terminators: str, termination: str
):
    bus = {
        "network.bus[0].terminator": terminator,
        "network.bus[0].measured_resistance": measured,
    }
    found = by_rule(assess(car_from(changed(text_of("ridgeway"), bus))))
    assert found["network.terminators"].verdict == terminators
    assert found["network.termination"].verdict == termination
