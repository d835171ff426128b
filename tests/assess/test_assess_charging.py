"""Charging as an assessment tells it: what binds, how long, what it is worth, what is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest
from example_cars import (
    ALL_CARS,
    FAST,
    FLAWED,
    SOUND,
    assessment_of,
    by_rule,
    car_from,
    car_of,
    changed,
    text_of,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.solve import assess, before_circuit
from swapwright.assess.stages.charge_supply import supply
from swapwright.assess.stages.charge_time import charge_times
from swapwright.assess.stages.charge_worth import driven, worth
from swapwright.base.figure import LookedUp, SimulatedWorking

HOUR = 3600.0
KILOWATT_HOUR = 3.6e6
few = settings(max_examples=6, deadline=None, derandomize=True)
ENERGIES = ("stored", "drawn")


@cache
def told(name: str, changes: tuple[tuple[str, str | None], ...]) -> Assessment:
    return assess(car_from(changed(text_of(name), dict(changes))))


def of(name: str, **changes: str | None) -> Assessment:
    """Return an assessment; of a path a double underscore stands for the dot."""
    return told(name, tuple((key.replace("__", "."), to) for key, to in changes.items()))


def with_all(name: str, changes: Mapping[str, str | None]) -> Assessment:
    return told(name, tuple(changes.items()))


def si(assessment: Assessment, figure_id: str) -> float:
    return assessment.figures[figure_id].value.si


def binds(assessment: Assessment, figure_id: str) -> str:
    working = assessment.figures[figure_id].working
    assert isinstance(working, LookedUp)
    return working.row


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("changes", "whose", "amperes"),
    [
        ({"charging.supply.current": "20 A"}, "the supply", 20.0),
        ({"charging.supply.breaker": "25 A"}, "the supply's circuit", 25.0),
        ({"charging.supply.breaker": "25 A", "goals.region": "US"}, "the supply's circuit", 20.0),
        ({"charging.pilot": "25 %"}, "the pilot", 15.0),
        ({"charging.pilot": "85 %"}, "the supply", 32.0),
        ({"charging.proximity": "1.5 kohm"}, "the cable", 13.0),
        ({"charging.supply.breaker": "25 A", "goals.region": None}, "the supply's circuit", 20.0),
        ({"charging.inlet": "household"}, "the inlet", 10.0),
        ({"charging.inlet": "household", "goals.region": "US"}, "the inlet", 12.0),
        ({"charging.inlet_current": "10 A"}, "the inlet", 10.0),
    ],
)
def test_the_car_draws_the_least_of_supply_circuit_pilot_cable_and_inlet(changes, whose, amperes):
    """Pilot and cable by IEC 61851-1, tables A.8 and B.2, from secondary pages."""
    found = with_all("ridgeway", changes)
    assert binds(found, "charging.supply_limit") == whose
    assert si(found, "charging.supply_limit") == pytest.approx(amperes)
    assert si(found, "charging.input_current") <= amperes * (1.0 + 1e-12)
    assert si(found, "charging.input_power") == pytest.approx(
        230.0 * si(found, "charging.input_current")
    )


@pytest.mark.arithmetic
def test_a_charger_of_three_phases_gives_a_third_on_one():
    charger = "charger-11k-400v"
    one = of("ridgeway", charging__charger=charger)
    three = of("ridgeway", charging__charger=charger, charging__supply__phases="3")
    assert si(one, "charging.phases_used") == 1.0
    assert si(three, "charging.input_power") == pytest.approx(
        3.0 * si(one, "charging.input_power"), rel=0.01
    )
    assert by_rule(one)["charging.phases_missing"].verdict == "watch"
    assert by_rule(three)["charging.phases_missing"].verdict == "met"


@pytest.mark.arithmetic
def test_a_charger_that_follows_the_pilot_is_held_back_and_not_at_fault():
    for follows, verdict in (("true", "met"), ("false", "fix")):
        found = of("ridgeway", charging__pilot="25 %", charging__follows_pilot=follows)
        assert by_rule(found)["charging.supply_current"].verdict == verdict


@pytest.mark.arithmetic
def test_a_plug_without_a_pilot_holds_no_charger_back():
    found = by_rule(of("ridgeway", charging__inlet="household", charging__follows_pilot="true"))
    assert found["charging.supply_current"].verdict == "fix"
    assert found["charging.inlet_current"].verdict == "stop"


@pytest.mark.arithmetic
def test_an_inlet_of_one_phase_lets_a_charger_of_three_draw_from_one():
    found = of(
        "ridgeway",
        charging__charger="charger-11k-400v",
        charging__supply__phases="3",
        charging__inlet="type 1",
        charging__proximity="150 ohm",
    )
    assert binds(found, "charging.phases_used") == "inlet"
    assert by_rule(found)["charging.inlet_phases"].verdict == "fix"


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", SOUND)
def test_a_charge_takes_the_energy_over_the_power_and_a_tail(name: str):
    """Within a tenth of: energy to the end of the window over the power into the battery."""
    found = assessment_of(name)
    plain = si(found, "charging.stored") / si(found, "charging.battery_power")
    assert plain < si(found, "charging.time") < 1.1 * plain


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_no_charge_stores_more_than_it_draws_and_its_balance_closes(name: str):
    figures = assessment_of(name).figures
    if "charging.time" not in figures:
        assert name == FLAWED
        return
    assert figures["charging.stored"].value.si < figures["charging.drawn"].value.si
    working = figures["charging.drawn"].working
    assert isinstance(working, SimulatedWorking)
    ledger = working.ledger
    assert ledger["from the supply"] == pytest.approx(figures["charging.drawn"].value.si)
    assert abs(sum(ledger.values())) < 1e-6 * ledger["from the supply"]
    assert all(value < 0.0 for name, value in ledger.items() if name != "from the supply")


@pytest.mark.property
@few
@given(
    name=st.sampled_from(SOUND), amperes=st.floats(8.0, 40.0), more=st.floats(1.02, 2.0),
)  # fmt: skip
def test_more_current_from_the_supply_is_never_slower(name: str, amperes: float, more: float):
    weak, strong = (
        of(name, charging__supply__current=f"{amps:.3f} A", charging__supply__breaker="200 A")
        for amps in (amperes, more * amperes)
    )
    assert si(strong, "charging.time") <= si(weak, "charging.time") * (1.0 + 1e-9)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("name", "day"), [("ridgeway", "6 degC"), ("bakery", "4 degC")])
def test_a_charge_on_a_cold_day_is_held_by_the_cells_and_takes_longer(name: str, day: str):
    found = of(name, conditions__cold_day=day)
    assert si(found, "charging.cold_current_allowed") < si(found, "charging.current")
    assert si(found, "charging.time_cold") > 1.1 * si(found, "charging.time")
    assert si(found, "charging.overall_cold") < si(found, "charging.overall")


@pytest.mark.arithmetic
def test_a_pack_that_is_too_cold_or_warmed_first_has_no_cold_charging_time():
    for name, words in (("ridgeway", "cells take no current"), ("hill-farm", "warmed")):
        assert words in assessment_of(name).missing["charging.time_cold"][0]


@pytest.mark.arithmetic
def test_a_charge_to_80_percent_ends_there_and_a_low_setting_ends_below_the_window():
    short = of("ridgeway", charging__to="80 %")
    assert si(short, "charging.end_soc") == pytest.approx(0.8, abs=1e-9)
    low = of("ridgeway", charging__voltage="390 V")
    assert si(low, "charging.end_soc") == pytest.approx(si(low, "charging.full_soc"), abs=0.005)
    assert by_rule(low)["charging.fills_window"].verdict == "fix"


@pytest.mark.arithmetic
def test_range_in_an_hour_on_the_plug_is_what_is_stored_over_consumption():
    found = assessment_of("hill-farm")
    rate = si(found, "charging.stored") / si(found, "charging.time")
    assert si(found, "charging.range_rate") == pytest.approx(
        rate / si(found, "consumption.combined")
    )
    assert si(found, "charging.socket_input") == 1440.0
    assert si(assessment_of("ridgeway"), "charging.socket_input") == 2300.0
    assert si(found, "charging.pump_time") < 60.0 < si(found, "charging.time")


@pytest.mark.arithmetic
def test_a_car_that_falls_behind_the_cycles_is_told_its_range_at_the_goals_speed():
    found = assessment_of("bakery").figures["charging.range_rate"]
    assert "goal" in found.label
    assert "combined" in assessment_of("ridgeway").figures["charging.range_rate"].label


@pytest.mark.arithmetic
def test_a_charge_costs_its_tariff_and_nothing_where_none_is_given():
    found = assessment_of("ridgeway")
    energy = si(found, "charging.drawn") / KILOWATT_HOUR
    assert si(found, "charging.cost") == pytest.approx(0.32 * energy)
    assert "charging.cost" not in assessment_of("parcel-round").figures


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("changes", "whose", "amperes"),
    [
        ({}, "the station", 125.0),
        ({"charging.station.current": "400 A"}, "the inlet", 200.0),
        (
            {"charging.station.current": "600 A", "charging.inlet_current": "500 A"},
            "the charge contactors",
            350.0,
        ),
    ],
)
def test_a_fast_charge_draws_the_least_of_station_inlet_and_contactors(changes, whose, amperes):
    found = with_all("parcel-round", {**FAST, **changes})
    assert binds(found, "charging.fast_limit") == whose
    assert si(found, "charging.fast_limit") == amperes


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["ridgeway", "parcel-round"])
def test_a_fast_charge_to_80_percent_is_held_by_the_cells_and_warms_them(name: str):
    found = with_all(name, FAST)
    working = found.figures["charging.time_fast"].working
    assert isinstance(working, SimulatedWorking)
    assert abs(working.deviation) < 0.1
    assert si(found, "charging.end_soc_fast") == pytest.approx(0.8)
    assert si(found, "charging.time_fast") < 0.5 * si(found, "charging.time")
    assert si(found, "charging.hottest_cell_fast") > si(found, "charging.hottest_cell") + 5.0
    capacity = si(found, "pack.charge_continuous")
    assert 0.7 * si(found, "pack.capacity") / si(found, "charging.time_fast") < capacity
    notes = found.curves["charging.fast"].ys[0].notes
    assert notes[0] == "cells"


@pytest.mark.property
@few
@given(cool=st.floats(5.0, 20.0), warmer=st.floats(1.0, 10.0))
def test_a_fast_charge_on_a_colder_day_is_never_faster(cool: float, warmer: float):
    times = [
        si(with_all("parcel-round", {**FAST, "conditions.temperature": f"{c:.2f} degC"}), ID)
        for c in (cool, cool + warmer)
    ]
    assert times[0] >= times[1] * (1.0 - 1e-3)


ID = "charging.time_fast"


@pytest.mark.arithmetic
def test_a_fast_charge_inlet_tells_which_language_it_needs_and_what_to_say():
    sound = by_rule(with_all("parcel-round", FAST))["charging.language"]
    assert sound.verdict == "met"
    for word in ("ISO 15118", "highest voltage", "state of charge", "isolation monitor"):
        assert word in sound.text
    mute = by_rule(with_all("parcel-round", {**FAST, "charging.inlet": "chademo"}))
    assert mute["charging.language"].verdict == "fix"
    assert "IEEE 2030.1.1" in mute["charging.language"].text


@pytest.mark.arithmetic
def test_the_flawed_cars_charger_never_starts_and_nothing_is_told_of_its_charge():
    found = assessment_of(FLAWED)
    assert by_rule(found)["charging.window_high"].verdict == "stop"
    for figure in ("charging.time", "charging.battery_power", "charging.range_rate"):
        assert "does not reach" in found.missing[figure][0]


@pytest.mark.arithmetic
def test_a_residual_current_device_that_direct_current_blinds_is_named():
    for said, words in (("type AC", "type AC"), ("none", "Nothing ahead")):
        finding = by_rule(of("ridgeway", charging__residual_current=said))
        assert finding["charging.residual_current"].verdict == "stop"
        assert words in finding["charging.residual_current"].text


@pytest.mark.arithmetic
def test_a_charge_is_drawn_over_its_time_with_the_end_voltage_marked():
    curve = assessment_of("ridgeway").curves["charging.charge"]
    assert curve.x.points[-1] == pytest.approx(si(assessment_of("ridgeway"), "charging.time"))
    assert {series.kind for series in curve.ys} == {
        "power", "voltage", "current", "fraction", "temperature",
    }  # fmt: skip
    assert [mark.label for mark in curve.marks] == ["end voltage reached"]
    assert 60 <= len(curve.x.points) <= 250


@pytest.mark.arithmetic
def test_a_pack_heater_holds_no_charger_off_cold_cells():
    heated = {"pack.heating": "film", "pack.heater_power": "300 W"}
    alone = by_rule(with_all("ridgeway", {**heated, "charging.limited_by_pack": None}))
    assert alone["charging.cold_current"].verdict == "stop"
    assert alone["current.cold_charge"].verdict == "watch"
    assert "hold the charger off" in alone["current.cold_charge"].text
    held = by_rule(with_all("ridgeway", heated))
    for rule in ("charging.cold_current", "current.cold_charge"):
        assert held[rule].verdict == "met"
        assert "declaration" in held[rule].text


@pytest.mark.arithmetic
def test_a_station_stronger_than_the_cells_is_held_back_by_the_monitor_or_stops():
    strong = {**FAST, "charging.station.current": "400 A", "charging.station.power": "150 kW"}
    rules = ("charging.fast_current", "charging.fast_current_cold")
    for said in (None, "false"):
        alone = with_all("parcel-round", {**strong, "charging.limited_by_pack": said})
        assert si(alone, "charging.fast_current") == 200.0
        share = si(alone, "charging.fast_share")
        assert si(alone, "pack.charge_continuous") == pytest.approx(105.0)
        assert si(alone, "charging.fast_current_allowed") == pytest.approx(105.0 * share)
        assert [by_rule(alone)[rule].verdict for rule in rules] == ["stop", "stop"]
    held = by_rule(with_all("parcel-round", strong))
    for rule in rules:
        assert held[rule].verdict == "met"
        assert "declaration" in held[rule].text
    weak = {**strong, "charging.station.current": "60 A", "charging.limited_by_pack": None}
    assert by_rule(with_all("parcel-round", weak))["charging.fast_current"].verdict == "met"


@pytest.mark.arithmetic
def test_with_no_station_described_inlet_and_contactors_say_what_reaches_the_cells():
    open_ended = {path: to for path, to in FAST.items() if ".station." not in path}
    found = with_all("parcel-round", {**open_ended, "charging.limited_by_pack": None})
    assert binds(found, "charging.fast_limit") == "the inlet"
    assert by_rule(found)["charging.fast_current"].verdict == "stop"


PLUGGED = (
    "charging.supply_current", "charging.cable_current", "charging.phases",
    "charging.phases_missing", "charging.inlet_voltage", "charging.inlet_phases",
    "charging.inlet_current",
)  # fmt: skip


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", SOUND)
def test_without_an_inlet_nothing_that_hangs_on_it_is_met(name: str):
    found = by_rule(of(name, charging__inlet=None))
    for rule in PLUGGED:
        assert found[rule].verdict == "unknown"
        assert found[rule].needs == ("charging.inlet",)
        assert found[rule].could_be


@pytest.mark.arithmetic
def test_a_charger_follows_no_pilot_of_an_inlet_that_is_not_named():
    found = of("ridgeway", charging__inlet=None, charging__supply__current="10 A")
    assert si(found, "charging.supply_draw") == si(found, "charging.wanted_current")


@pytest.mark.arithmetic
def test_a_charger_of_three_phases_is_counted_with_one_until_its_inlet_is_named():
    changes = {"charging.charger": "charger-11k-400v", "charging.supply.phases": "3"}
    named = with_all("ridgeway", changes)
    unnamed = with_all("ridgeway", {**changes, "charging.inlet": None})
    assert si(named, "charging.phases_used") == 3.0
    assert si(unnamed, "charging.phases_used") == 1.0
    assert si(unnamed, "charging.time") > si(named, "charging.time")


@pytest.mark.arithmetic
def test_a_station_without_an_inlet_leaves_what_parts_them_open():
    found = by_rule(with_all("parcel-round", {**FAST, "charging.inlet": None}))
    for rule in (
        "circuit.inlet_contactors", "charging.language", "charging.inlet_dc_voltage",
        "charging.fast_current", "charging.fast_current_cold",
    ):  # fmt: skip
        assert found[rule].verdict == "unknown"
        assert found[rule].needs == ("charging.inlet",)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", SOUND)
@pytest.mark.parametrize("path", ["charging.supply.current", "charging.supply"])
def test_without_a_supply_its_rules_are_left_open_and_never_skipped(name: str, path: str):
    found = by_rule(of(name, **{path.replace(".", "__"): None}))
    uncoded = {"charging.cable_current"} if name == "hill-farm" else set()
    for rule in {"charging.supply_circuit", *PLUGGED} - uncoded:
        assert found[rule].verdict == "unknown"
        assert "charging.supply.current" in found[rule].needs
    if name == "ridgeway":
        assert found["charging.time"].verdict == "unknown"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("chargers", "phases", "used", "busiest", "counted"),
    [(1, 3, 1, 1, 1.0), (2, 3, 2, 1, 2.0), (3, 3, 3, 1, 3.0), (4, 3, 3, 2, 2.0), (2, 1, 1, 2, 1.0)],
)
def test_chargers_of_one_phase_are_spread_over_the_phases(
    chargers: int, phases: int, used: int, busiest: int, counted: float
):
    found = of("ridgeway", charging__chargers=str(chargers), charging__supply__phases=str(phases))
    assert si(found, "charging.phases_used") == used
    assert si(found, "charging.on_busiest_phase") == busiest
    assert si(found, "charging.phases_counted") == pytest.approx(counted)
    alone = si(of("ridgeway"), "charging.wanted_current")
    assert si(found, "charging.wanted_current") == pytest.approx(busiest * alone)
    assert si(found, "charging.input_power") == pytest.approx(
        230.0 * counted * si(found, "charging.input_current")
    )


@pytest.mark.arithmetic
def test_a_circuit_whose_region_nobody_says_is_counted_as_where_it_bears_least():
    found = of("ridgeway", charging__supply__breaker="36 A", goals__region=None)
    figure = found.figures["charging.circuit_current"]
    assert "not said" in figure.label
    assert figure.value.si == pytest.approx(0.8 * 36.0)
    assert by_rule(found)["charging.supply_circuit"].verdict == "stop"
    said = of("ridgeway", charging__supply__breaker="36 A", goals__region="EU")
    assert by_rule(said)["charging.supply_circuit"].verdict == "met"


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["bakery", "ridgeway"])
def test_a_charger_that_does_not_part_the_pack_from_the_mains_stops(name: str):
    assert by_rule(of(name))["charging.isolated"].verdict == "met"
    found = by_rule(of(name, charging__charger__isolated="false"))
    assert found["charging.isolated"].verdict == "stop"


@pytest.mark.arithmetic
def test_range_in_an_hour_on_the_plug_falls_where_cold_cells_take_little():
    mild, cold = of("ridgeway"), of("ridgeway", conditions__temperature="2 degC")
    slower = si(cold, "charging.time") / si(mild, "charging.time")
    assert slower > 3.0
    further = si(cold, "consumption.combined") / si(mild, "consumption.combined")
    assert si(cold, "charging.range_rate") == pytest.approx(
        si(mild, "charging.range_rate") / slower / further, rel=0.05
    )


def charge_figures(name: str, **numbers: float) -> FigureBook:
    """Return a car's figures up to its charges, with entries (``__`` for a dot) at these SI."""
    changes = {path.replace("__", "."): si for path, si in numbers.items()}
    book = FigureBook(car_of(name).with_values(changes))
    for stage in (before_circuit, circuit, supply, charge_times):
        stage(book)
    return book


STARTS = (0.1, 0.3, 0.5, 0.8, 0.9, 0.92, 0.94, 0.96, 0.98)
WHOLE_DAYS = (273.15, 274.15, 276.15, 281.15, 293.15, 313.15)
NOT_CHARGED = ("take no current", "charging.from is")


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["ridgeway", "hill-farm", "bakery", "parcel-round"])
@pytest.mark.parametrize("start", STARTS)
def test_the_short_estimate_of_a_charge_is_within_a_tenth_of_the_run(name: str, start: float):
    for air in WHOLE_DAYS:
        book = charge_figures(name, charging__from=start, conditions__temperature=air)
        if "charging.time" in book.missing:
            reason = book.reasons["charging.time"]
            assert any(words in reason for words in NOT_CHARGED)
            assert "charging.from is" not in reason or start >= book.number("charging.target")
            continue
        for figure in ("charging.time", "charging.stored", "charging.drawn"):
            working = book.figures[figure].working
            assert isinstance(working, SimulatedWorking)
            assert abs(working.deviation) < 0.1, (air, figure)


@pytest.mark.arithmetic
@pytest.mark.parametrize("start", ["10 %", "50 %", "90 %", "92 %", "94 %"])
@pytest.mark.parametrize("day", ["3 degC", "8 degC", "14 degC"])
def test_the_short_estimate_of_a_cold_pack_that_nothing_warms_is_within_an_eighth(start, day):
    # The current dies away in the cold before the pack is as full as on a mild day.
    found = of("hill-farm", pack__heating="none", conditions__cold_day=day, charging__from=start)
    working = found.figures["charging.time_cold"].working
    assert isinstance(working, SimulatedWorking)
    assert abs(working.deviation) < 0.13


@pytest.mark.property
@settings(max_examples=10, deadline=None, derandomize=True)
@given(start=st.floats(0.1, 0.93), more=st.floats(0.0, 0.3))
def test_a_charge_begun_fuller_never_takes_longer(start: float, more: float):
    fuller = min(start + more, 0.94)
    books = [charge_figures("ridgeway", charging__from=each) for each in (start, fuller)]
    for figure in ("charging.time", "estimate.charging.time"):
        times = [book.number(figure) for book in books]
        assert times[1] <= times[0] * (1 + 2e-3)


@pytest.mark.arithmetic
def test_a_charge_of_minutes_goes_in_steps_of_seconds_and_one_of_hours_in_quarters_of_a_minute():
    long, short = (charge_figures("ridgeway", charging__from=each) for each in (0.1, 0.94))
    steps = []
    for book in (long, short):
        working = book.figures["charging.time"].working
        assert isinstance(working, SimulatedWorking)
        steps.append(float(working.settings["step"].removesuffix(" s")))
    assert steps[0] == 15.0
    assert steps[1] < 2.0


@pytest.mark.arithmetic
def test_a_charge_begun_at_its_end_voltage_begins_with_what_that_leaves():
    found = of("ridgeway", charging__from="94 %")
    first = si(found, "estimate.charging.first_current")
    assert first == si(found, "estimate.charging.driven_current")
    assert first < si(found, "estimate.charging.current_at_turn")
    # It is over before the slow pair has settled: less is in its way than for hours.
    assert si(found, "estimate.charging.tail_resistance") < si(found, "charging.cell_resistance")


@pytest.mark.property
@settings(max_examples=12, deadline=None, derandomize=True)
@given(name=st.sampled_from(SOUND), air=st.floats(274.0, 315.0), start=st.floats(0.05, 0.9))
def test_a_household_socket_never_promises_more_than_a_charge_on_a_stronger_supply(
    name: str, air: float, start: float
):
    book = charge_figures(name, charging__from=start, conditions__temperature=air)
    worth(book)
    rates = [book.get(f"charging.range_rate{case}") for case in ("_socket", "")]
    assert book.number("charging.socket_power") <= book.number("charging.battery_power")
    assert (rates[0] is None) == (rates[1] is None)
    if rates[0] is not None:
        assert rates[0] <= rates[1] * (1 + 5e-3)
        at_most = book.number("charging.socket_power") / book.number(
            f"consumption.{driven(book)[0]}"
        )
        assert rates[0] <= at_most


@pytest.mark.arithmetic
def test_cells_that_take_next_to_nothing_leave_a_household_socket_next_to_nothing_to_do():
    # At 1 degC the van's cells take 2 % of their charge current; a socket gives 2 kW and more.
    cold, mild = (
        charge_figures("parcel-round", conditions__temperature=air) for air in (274.15, 293.15)
    )
    for book in (cold, mild):
        worth(book)
    allowed = cold.number("pack.charge_continuous") * cold.number(
        "estimate.charging_socket.begun.cell_share"
    )
    begins = allowed * cold.number("pack.voltage_nominal")
    assert begins < 0.8 * cold.number("charging.socket_power")
    slower = cold.number("charging.time_socket") / mild.number("charging.time_socket")
    assert slower > 1.02
    assert cold.number("charging.range_rate_socket") < mild.number("charging.range_rate_socket")


@pytest.mark.arithmetic
@pytest.mark.parametrize("amperes", [2, 3])
def test_a_charge_of_days_in_the_air_of_a_fan_keeps_its_cells_as_warm_as_the_air(amperes: int):
    """Its long steps stay below the time in which the cells settle: nothing swings."""
    boxed, blown = (
        of("ridgeway", pack__heat_path=path, charging__supply__current=f"{amperes} A")
        for path in ("15 W/K", "5000 W/K")
    )
    assert si(boxed, "charging.time") > 86400.0
    assert si(blown, "charging.time") == pytest.approx(si(boxed, "charging.time"), rel=1e-3)
    assert si(blown, "charging.hottest_cell") <= si(boxed, "charging.hottest_cell") + 0.1


@pytest.mark.arithmetic
def test_a_charge_that_would_take_more_than_a_week_is_no_charge():
    found = of("ridgeway", charging__supply__current="1 A")
    assert "charging.time" not in found.figures
    assert "more than a week" in found.missing["charging.time"][0]
