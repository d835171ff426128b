"""Switches thrown on paper: what they are called, and what is not understood."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from swapwright.assess.queries import STATES, section_states, switch_state
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check
from swapwright.jobs.circuit import THROWN, circuit_view
from swapwright.jobs.circuit_drawing import diagram_of
from swapwright.jobs.circuit_words import CircuitWords, entry_path
from swapwright.jobs.entry_row import field_of
from swapwright.jobs.fault_choices import fault_choices
from swapwright.jobs.switches import switch_words, thrown, thrown_to

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)


@pytest.fixture(scope="module")
def checked():
    return check(EXAMPLES / "ridgeway.toml", Catalogue(), TODAY)


@pytest.fixture(scope="module")
def car(checked):
    return checked.opened.car


@pytest.mark.parametrize("state", STATES)
def test_a_named_state_thrown_switch_by_switch_goes_by_its_name(car, state):
    found = thrown_to(car, state)
    closed = [each.name for each in found.switches if each.is_closed]
    joined = [each.name for each in found.outside if each.is_joined]
    again = thrown(car, closed, joined)
    assert (found.named, again.named) == (state, state)
    assert again.problems == ()
    assert section_states(car, again.state) == section_states(car, state)


def test_every_switch_of_the_car_can_be_thrown_and_none_is_measured(car):
    found = thrown(car, ["main contactors +"], [])
    assert [each.name for each in found.switches] == [
        "service disconnect",
        "main contactors +",
        "main contactors -",
        "precharge relay",
    ]
    assert [each.name for each in found.switches if each.is_closed] == ["main contactors +"]
    assert found.named == ""
    assert found.state.measured_open == frozenset()
    assert switch_words(car, found.state) == "closed: main contactors +; joined: nothing"


def test_what_is_joined_says_which_parts_it_makes_sources_of(car):
    outside = {each.name: each.makes for each in thrown(car, [], []).outside}
    assert outside == {
        "turning wheels": ("inverter",),
        "charging plug": ("charger",),
        "12 V battery": ("dc-dc",),
    }


@pytest.mark.parametrize(
    ("closed", "joined"), [(["main contactor +"], []), ([], ["solar roof"]), (["x" * 500], [])]
)
def test_a_name_nobody_knows_closes_and_joins_everything(car, closed, joined):
    found = thrown(car, closed, joined)
    assert found.state == switch_state(car, "running")
    assert len(found.problems) == 1
    assert len(found.problems[0].given) <= 60


def test_a_state_nobody_knows_closes_and_joins_everything(car):
    found = thrown_to(car, "parked")
    assert found.named == "running"
    assert found.problems[0].given == "parked"


def test_sections_of_thrown_switches_are_those_of_the_question(checked, car):
    state = thrown(car, [], ["turning wheels"]).state
    view = circuit_view(checked, (state,))
    assert [row.states for row in view.sections] == [
        ((THROWN, each),) for each in section_states(car, state)
    ]
    drawn = diagram_of(checked, view, "metric", state)
    assert "joined: turning wheels" in " ".join(drawn.split()) or "turning" in drawn


def test_a_section_a_source_reaches_is_waited_for_only_once_nothing_does(checked, car):
    words = CircuitWords(checked, "metric")
    for state, begins in (
        ("running", "once nothing reaches it: "),
        ("disconnect-open", "5.00 min"),
    ):
        row = next(r for r in circuit_view(checked, (state,)).sections if r.name == "inverter")
        assert words.wait_in(row, row.states[0][1]).text.startswith(begins)
        assert row.emptied_by == ("bleed resistor", "active discharge")


@pytest.mark.parametrize("name", [path.stem for path in sorted(EXAMPLES.glob("*.toml"))])
def test_every_device_of_an_example_has_an_entry_it_is_changed_at(name):
    found = check(EXAMPLES / f"{name}.toml", Catalogue(), TODAY)
    for row in circuit_view(found, ()).devices:
        assert field_of(entry_path(row.device)) is not None, row.device.name


def test_what_may_go_wrong_is_named_as_the_job_takes_it(car):
    choices = fault_choices(car)
    assert {"pack terminals", "inverter"} <= set(choices.places)
    assert set(choices.loads) == {"inverter", "charger", "dc-dc"}
    assert choices.open_in_discharge == ("bleed resistor", "active discharge")
    assert choices.has_precharge
