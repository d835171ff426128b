"""Coolant loops of whole cars: whose heat they carry, which flow counts, how the balance closes."""

from __future__ import annotations

import pytest
from example_cars import ALL_CARS, TWIN, assessment_of, by_rule, car_from, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.cooling_loop import loops
from swapwright.assess.solve import assess, before_circuit
from swapwright.assess.stages.cooling_made import drive_heat, first_unit_heat
from swapwright.base.curve import Curve
from swapwright.base.errors import InputError
from swapwright.build.load import load_text


def assessed(car: str, changes: dict[str, str | None]) -> Assessment:
    return assess(car_from(changed(text_of(car), changes)))


def number(assessment: Assessment, figure_id: str) -> float:
    return assessment.figures[figure_id].value.si


def run_book(car: str) -> FigureBook:
    book = FigureBook(car_from(text_of(car)))
    before_circuit(book)
    circuit(book)
    return book


@pytest.mark.arithmetic
@pytest.mark.parametrize("state", ["city", "us06", "climb"])
def test_what_warmed_a_motor_and_left_it_is_what_the_run_says_it_lost(state: str):
    run = run_book("ridgeway").recorded[state]
    assert first_unit_heat(run, "motor") == pytest.approx(run.ledger.motor, rel=1e-6)
    assert first_unit_heat(run, "inverter") == pytest.approx(run.ledger.inverter, rel=1e-6)


@pytest.mark.arithmetic
@pytest.mark.parametrize("kind", ["motor", "inverter"])
def test_two_drive_units_share_the_heat_of_a_run_between_them(kind: str):
    book = run_book(TWIN)
    run = book.recorded["highway"]
    first, second = (drive_heat(book, run, unit, kind) for unit in ("drive", "drive.second"))
    both = run.ledger.motor if kind == "motor" else run.ledger.inverter
    assert first > 0.0
    assert second > 0.0
    assert first + second == pytest.approx(both)


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_what_the_parts_put_into_a_loop_its_radiator_takes_out(name: str):
    figures = assessment_of(name).figures
    closed = 0
    for figure_id, figure in figures.items():
        loop, _, last = figure_id.rpartition(".")
        if not loop.startswith("cooling.") or not last.startswith("hottest_"):
            continue
        state = last.removeprefix("hottest_")
        fall = figure.value.si - figures[f"{loop}.coolest_{state}"].value.si
        carried = fall * figures[f"{loop}.capacity_rate"].value.si
        assert carried == pytest.approx(figures[f"{loop}.heat_{state}"].value.si, rel=1e-9)
        behind = [
            other.value.si
            for other_id, other in figures.items()
            if other_id.startswith(f"{loop}.after_") and other_id.endswith(f"_{state}")
        ]
        if behind:
            assert max(behind) == pytest.approx(figure.value.si, abs=1e-9)
        closed += 1
    assert closed


@pytest.mark.arithmetic
def test_the_flow_that_was_measured_counts_and_without_one_the_flow_worked_out():
    measured = assessment_of("ridgeway")
    assert number(measured, "cooling.drive.flow") == pytest.approx(8.0 / 60000.0)
    worked_out = assessed("ridgeway", {"cooling.loop[0].flow": None})
    assert number(worked_out, "cooling.drive.flow") == number(
        worked_out, "cooling.drive.flow_computed"
    )
    assert "cooling.flow_measured" not in by_rule(worked_out)


@pytest.mark.arithmetic
def test_a_weak_pump_or_a_thin_hose_starves_the_drive():
    for path, to in (("pump.pressure", "9 kPa"), ("hose.bore", "7 mm")):
        changes = {"cooling.loop[0].flow": None, f"cooling.loop[0].{path}": to}
        found = by_rule(assessed("ridgeway", changes))
        assert found["cooling.flow"].verdict == "fix"


@pytest.mark.arithmetic
def test_two_loops_whose_names_read_alike_keep_their_figures_apart():
    car = car_from(changed(text_of("parcel-round"), {"cooling.loop[1].name": "Drive!"}))
    assert [loop.slug for loop in loops(car)] == ["drive", "drive_2"]
    assert {"cooling.drive.flow", "cooling.drive_2.flow"} <= set(assess(car).figures)


@pytest.mark.arithmetic
def test_a_word_that_is_no_part_of_a_loop_is_refused_with_the_nearest_that_is():
    text = changed(text_of("ridgeway"), {"cooling.loop[0].name": "drive"})
    with pytest.raises(InputError, match="inverter"):
        load_text(text.replace('"pump", "inverter"', '"pump", "invertor"'), "a car")


@pytest.mark.arithmetic
def test_a_loop_with_the_charger_carries_its_heat_while_charging_and_only_then():
    told = assessed(
        "ridgeway",
        {
            "cooling.loop[0].parts": '["pump", "charger", "inverter", "motor", "radiator"]',
            "cooling.loop[0].drops": None,
        },
    )
    assert number(told, "cooling.drive.heat_charging") == number(told, "cooling.charger_loss")
    assert by_rule(told)["cooling.coolant_hot_charging"].verdict == "met"
    alone = number(assessment_of("ridgeway"), "cooling.drive.heat_continuous")
    assert number(told, "cooling.drive.heat_continuous") == pytest.approx(alone)


@pytest.mark.arithmetic
def test_a_part_the_car_lacks_is_asked_for_by_name():
    told = assessed(
        "ridgeway",
        {
            "cooling.loop[0].parts": '["pump", "second inverter", "radiator"]',
            "cooling.loop[0].drops": None,
        },
    )
    finding = by_rule(told)["cooling.coolant_hot_continuous"]
    assert finding.verdict == "unknown"
    assert finding.needs == ("drive.second.inverter",)


@pytest.mark.arithmetic
def test_a_heater_too_weak_for_its_pack_has_no_warming_time():
    told = assessed("hill-farm", {"pack.heater_power": "100 W"})
    assert "cooling.pack_warming_time" not in told.figures
    assert "never warms" in told.missing["cooling.pack_warming_time"][0]


@pytest.mark.property
@pytest.mark.parametrize(
    ("path", "better", "worse"),
    [
        ("conditions.hot_day", "30 degC", "45 degC"),
        ("cooling.loop[0].radiator.conductance", "300 W/K", "150 W/K"),
        ("cooling.loop[0].flow", "4 gpm", "2 gpm"),
    ],
    ids=["cooler air", "a larger radiator", "more flow"],
)
def test_what_should_cool_the_coolant_does(path: str, better: str, worse: str):
    cool, hot = (
        number(assessed("hill-farm", {path: to}), "cooling.drive.climb_end")
        for to in (better, worse)
    )
    assert cool < hot


@pytest.mark.arithmetic
def test_a_car_without_a_coolant_loop_is_not_judged_on_one_and_is_told_so():
    text = text_of("ridgeway")
    start = text.index("[[cooling.loop]]")
    told = assess(car_from(text[:start] + text[text.index("[network]") :]))
    judged = {rule for rule in by_rule(told) if rule.startswith("cooling.")}
    assert judged == {"cooling.cabin_heater", "cooling.every_part"}
    assert any(line.startswith("cooling.air_bleed: ") for line in told.skipped)


@pytest.mark.arithmetic
@pytest.mark.parametrize("loop", ["drive", "pack_plate"])
def test_each_loop_has_its_own_charts_of_pump_against_loop_and_of_the_climb(loop: str):
    told = assessment_of("parcel-round")
    flow = told.curves[f"cooling.{loop}.working_point"]
    pump, hoses = (line.points for line in flow.ys)
    above = [a > b for a, b in zip(pump, hoses, strict=True) if a is not None and b is not None]
    assert above[0]
    assert not above[-1]
    assert flow.x.points[-1] == pytest.approx(flow_at_no_pressure(flow), rel=1e-9)
    (climb,) = told.curves[f"cooling.{loop}.coolant"].ys
    assert climb.points == tuple(sorted(climb.points))
    assert climb.points[-1] == pytest.approx(told.figures[f"cooling.{loop}.climb_end"].value.si)


def flow_at_no_pressure(curve: Curve) -> float:
    """Return the flow at which a chart's pump gives no pressure any more."""
    pump = curve.ys[0].points
    return next(flow for flow, p in zip(curve.x.points, pump, strict=True) if p == pytest.approx(0))


@pytest.mark.arithmetic
def test_the_hottest_a_loop_allows_stands_in_its_own_chart_alone():
    curves = assessment_of("parcel-round").curves
    levels = {
        loop: [mark.y for mark in curves[f"cooling.{loop}.coolant"].marks]
        for loop in ("drive", "pack_plate")
    }
    assert levels == {"drive": [60 + 273.15], "pack_plate": [45 + 273.15]}


def shed(text: str) -> dict[str, str]:
    """Return the verdict on each part that must shed its heat."""
    findings = assess(car_from(text)).findings
    return {each.subject: each.verdict for each in findings if each.rule == "cooling.every_part"}


@pytest.mark.arithmetic
def test_a_part_in_no_loop_and_not_cooled_by_air_is_asked_about():
    van = text_of("parcel-round")
    assert set(shed(van).values()) == {"met"}
    parts = '["pump", "dc-dc", "charger", "motor", "radiator"]'
    without = changed(van, {"cooling.loop[0].parts": parts})
    assert shed(without)["drive.inverter"] == "unknown"
    assert shed(changed(without, {"cooling.by_air": '["inverter"]'}))["drive.inverter"] == "met"


@pytest.mark.arithmetic
def test_a_second_drive_unit_that_nobody_cools_is_asked_about():
    changes = {"cooling.by_air": None, "cooling.loop[0].parts": '["pump", "inverter", "motor"]'}
    found = shed(changed(text_of("twin"), changes))
    assert found["drive.second.motor"] == found["drive.second.inverter"] == "unknown"
    assert found["drive.motor"] == "met"


@pytest.mark.arithmetic
def test_with_the_whole_section_of_cooling_gone_every_part_is_asked_about():
    text = text_of("ridgeway")
    gone = text[: text.index("[cooling]")] + text[text.index("[network]") :]
    assert set(shed(gone).values()) == {"unknown"}


@pytest.mark.arithmetic
def test_cells_are_not_judged_by_an_inverters_coolant_limit():
    limit = "cooling.loop[1].max_temperature"
    told = assess(car_from(changed(text_of("parcel-round"), {limit: None})))
    asked = {each.rule for each in told.findings if limit in each.needs}
    assert "cooling.coolant_hot_continuous" in asked
    assert limit not in told.assumed
    drive = "cooling.loop[0].max_temperature"
    assert drive in assess(car_from(changed(text_of("ridgeway"), {drive: None}))).assumed


@pytest.mark.property
@pytest.mark.parametrize("litres", [1, 2, 4, 5.9])
def test_too_little_flow_never_makes_a_plate_or_its_coolant_look_cooler(litres: float):
    flow = {"cooling.loop[0].flow": f"{litres} L/min"}
    told = assess(car_from(changed(text_of("ridgeway"), flow)))
    for figure in ("plate", "hottest_continuous", "climb_end", "power_allowed"):
        assert f"cooling.drive.{figure}" not in told.figures
    found = by_rule(told)
    assert "less flow than its parts ask for" in found["cooling.plate_hot"].text
    assert found["cooling.flow"].verdict == "fix"
    assert found["cooling.plate_hot"].verdict == "unknown"
