"""Motor, inverter and pack together: what the cells are asked for empty, cold, full and braking."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cars import (
    CATALOGUE,
    assessment_of,
    by_rule,
    car_from,
    car_of,
    changed,
    text_of,
)

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import assess, design
from swapwright.assess.stages.turning import turning
from swapwright.base.figure import Value

pytestmark = pytest.mark.arithmetic

SERIES = {
    "drive.motor": "dc-series-55kw",
    "drive.inverter": "chopper-144v-500a",
    "drive.torque_limit": "110 N.m",
}


def assessed(name: str, changes: dict[str, str | None]) -> Assessment:
    return assess(car_from(changed(text_of(name), changes)))


def si(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


def verdicts(assessment: Assessment, start: str) -> dict[str, str]:
    return {
        rule: finding.verdict
        for rule, finding in by_rule(assessment).items()
        if rule.startswith(start)
    }


def test_full_power_draws_most_from_a_pack_that_is_nearly_empty():
    ridgeway = assessment_of("ridgeway")
    power = si(ridgeway, "drive.peak_power")
    for start, current in (("low", "current.peak_low"), ("", "current.peak_unlimited")):
        volts = si(ridgeway, f"{start}.rest_voltage" if start else "pack.voltage_nominal")
        ohms = si(ridgeway, f"{start}.resistance" if start else "pack.resistance")
        amps = si(ridgeway, current)
        assert (volts - amps * ohms) * amps == pytest.approx(power, rel=1e-9)
    assert si(ridgeway, "current.peak_low") > 1.15 * si(ridgeway, "current.peak_unlimited")
    assert si(ridgeway, "current.peak_demand") == si(ridgeway, "current.peak_low")


def test_a_pack_too_weak_for_its_motor_is_stopped_and_never_unknown():
    weak = assessed(
        "ridgeway",
        {
            "pack.module": None,
            "pack.modules_per_string": None,
            "pack.boxes": None,
            "pack.strings": None,
            "pack.cell": "nmc-cylindrical-5ah",
            "pack.series": "96",
            "drive.limited_by_pack": None,
        },
    )
    volts, ohms = si(weak, "low.rest_voltage"), si(weak, "low.resistance")
    assert si(weak, "drive.peak_power") > volts**2 / (4.0 * ohms)
    assert si(weak, "current.peak_low") >= volts / (2.0 * ohms)
    found = by_rule(weak)
    assert found["current.cell_peak"].verdict == "stop"
    assert found["current.cell_peak_cold"].verdict == "stop"
    assert found["current.inverter_dc"].verdict != "unknown"


def test_without_the_monitors_word_cold_cells_are_asked_for_full_power():
    told = assessment_of("ridgeway")
    untold = assessed("ridgeway", {"drive.limited_by_pack": None})
    assert si(told, "cold.current") == si(told, "cold.current_allowed")
    assert si(untold, "cold.current") == si(untold, "cold.current_demand") == 300.0
    for each in (told, untold):
        sag = si(each, "pack.rest_voltage_low") - si(each, "cold.current") * si(
            each, "cold.resistance"
        )
        assert si(each, "pack.voltage_sag_cold") == pytest.approx(sag)
    assert verdicts(untold, "current.cell_peak_cold") == {"current.cell_peak_cold": "stop"}


def test_regeneration_into_cold_cells_is_judged_by_what_they_allow_there():
    untold = assessed("ridgeway", {"drive.regen.limited_by_pack": None})
    car = car_of("ridgeway")
    share = car.line("pack.cell.charge_derate").at(car.number("drive.regen.off_below_cell"))
    assert 0.0 < share < 0.5
    assert si(untold, "regen.cold_current_allowed") == pytest.approx(180.0 * share)
    assert si(untold, "regen.cold_current") == si(untold, "regen.peak_current")
    assert si(untold, "regen.cell_voltage_cold") > si(untold, "regen.cell_voltage_at_top")
    assert si(untold, "pack.voltage_regen") == si(untold, "regen.voltage_cold")
    assert verdicts(untold, "regen.") == {
        "regen.full_charge": "met",
        "regen.full_charge_cold": "stop",
        "regen.cold_cells": "met",
        "regen.cell_current": "met",
        "regen.cell_current_cold": "stop",
    }
    told = assessment_of("ridgeway")
    assert si(told, "regen.cold_current") == si(told, "regen.cold_current_allowed")
    assert "declaration" in by_rule(told)["regen.cell_current_cold"].text


def test_cells_near_full_and_cold_resist_as_their_own_tables_say():
    ridgeway, car = assessment_of("ridgeway"), car_of("ridgeway")
    coldest = car.number("drive.regen.off_below_cell")
    top = car.number("drive.regen.off_above_soc")
    for part in ("r0", "r1", "r2"):
        table = car.map(f"pack.cell.{part}")
        assert si(ridgeway, f"regen.cold.{part}") == table.at(coldest, top)
        assert si(ridgeway, f"regen.warm.{part}") == table.at(298.15, top)


def test_a_car_that_says_nothing_of_the_torque_limit_brakes_with_all_its_motor():
    free = assessed("parcel-round", {"drive.regen.wheel_torque": None})
    assert si(free, "regen.peak_power") == car_of("parcel-round").number("drive.motor.peak_power")
    assert by_rule(free)["regen.cell_current"].verdict == "stop"


def test_no_rating_of_an_inverter_bounds_what_regeneration_drives_the_pack_to():
    flawed = assessment_of("fault-finder")
    limit = car_of("fault-finder").number("drive.inverter.absolute_max_voltage")
    driven = si(flawed, "pack.voltage_regen")
    assert si(flawed, "pack.max_working_voltage") == driven > limit


def test_where_regeneration_ends_is_needed_to_know_the_highest_voltage():
    silent = assessed("bakery", {"drive.regen.off_above_soc": None})
    assert "pack.max_working_voltage" in silent.missing
    assert verdicts(silent, "voltage.class") == {"voltage.class": "unknown"}


def test_a_wrong_gear_turns_the_motor_faster_than_it_may_go_and_higher_in_voltage():
    open_box = assessed("hill-farm", {"drive.gearbox.lockout": None})
    locked = assessment_of("hill-farm")
    ratio, radius = si(open_box, "unit.lowest_overall"), si(open_box, "tyre.radius")
    turned = si(open_box, "top_speed.peak") * ratio / radius
    assert si(open_box, "unit.turned_speed") == pytest.approx(turned)
    assert si(open_box, "unit.back_emf_at_limit") == pytest.approx(
        turned * car_of("hill-farm").number("drive.motor.back_emf")
    )
    assert si(locked, "unit.highest_speed") == car_of("hill-farm").number("drive.motor.max_speed")
    assert by_rule(open_box)["gearing.wrong_gear"].verdict == "fix"
    assert "gearing.wrong_gear" not in by_rule(locked)
    assert any(line.startswith("gearing.wrong_gear:") for line in locked.skipped)


def test_two_motors_brake_launch_and_are_compared_with_the_engine_together():
    one, two = assessment_of("parcel-round"), assessment_of("twin")
    first, second = (
        car_of("twin").number(f"{unit}.motor.peak_power") for unit in ("drive", "drive.second")
    )
    assert si(two, "regen.motor_power") == si(two, "drive.peak_rating") == first + second
    assert by_rule(two)["drive.over_engine"].value.si == first + second
    assert si(two, "start_grade.drive") > 1.2 * si(one, "start_grade.drive")
    assert "unit2.motor_phase_current" in two.figures


def test_a_faster_second_motor_turns_the_first_past_its_speed():
    geared = '{ part = "reducer-9-1", ratios = [4.0] }'
    car = car_from(changed(text_of("twin"), {"drive.second.gearbox": geared}))
    book = FigureBook(car)
    design(book)
    book.values["top_speed.peak"] = Value(45.0, "m/s", "computed", "top_speed.peak")
    turning(book)
    turned = 45.0 * book.number("unit.tallest_overall") / book.number("tyre.radius")
    assert book.number("unit.turned_speed") == pytest.approx(turned)
    assert book.number("unit.highest_speed") == pytest.approx(turned)
    assert turned > car.number("drive.motor.max_speed")


def test_a_series_motor_does_not_brake_and_a_separately_excited_one_does():
    series = assessed("bakery", SERIES)
    assert by_rule(series)["regen.series_motor"].verdict == "stop"
    assert "regen.cell_current" not in by_rule(series)
    assert "drive.regen.share" in series.assumed
    book = FigureBook(car_from(changed(text_of("bakery"), SERIES)))
    design(book)
    assert setup(book).regen.share == 0.0
    car = book.car
    own_field = replace(car, texts={**car.texts, "drive.motor.winding": "separately-excited"})
    book = FigureBook(own_field)
    design(book)
    assert setup(book).regen.share == car.number("drive.regen.share")
    assert by_rule(assess(own_field))["regen.series_motor"].verdict == "met"


def test_a_series_motor_nobody_asks_to_brake_is_no_fault():
    quiet = assessed("bakery", {**SERIES, "drive.regen": None})
    assert by_rule(quiet)["regen.series_motor"].verdict == "met"
    assert "pack.voltage_regen" in quiet.missing
    assert si(quiet, "pack.max_working_voltage") == si(quiet, "pack.voltage_charging")


def test_a_car_starts_on_no_grade_its_tyres_do_not_grip_on():
    slippery = assessed("ridgeway", {"car.grip": "0.3"})
    assert si(slippery, "start_grade.possible") == si(slippery, "traction.start_grade")
    assert si(slippery, "start_grade.possible") < si(slippery, "start_grade.drive")
    assert by_rule(slippery)["goals.start_grade"].verdict == "fix"


def test_the_heater_takes_its_share_of_the_power_that_lasts_in_the_cold():
    warm = assessed("parcel-round", {"auxiliaries.heater": "1 kW"})
    warmer = assessed("parcel-round", {"auxiliaries.heater": "2 kW"})
    lost = si(warm, "cold.lasting_from_pack") - si(warmer, "cold.lasting_from_pack")
    assert lost == pytest.approx(1000.0 * si(warm, "cold.drive_efficiency"))
    settled = sum(si(warm, f"cold.{part}") for part in ("r0", "r1", "r2"))
    assert si(warm, "cold.settled_cell_resistance") == pytest.approx(settled)
    assert settled > si(warm, "cold.cell_resistance")


def test_a_ledger_that_takes_the_whole_car_away_leaves_reasons_not_numbers():
    gone = assessed("hill-farm", {"mass[0].mass": "10000 lb"})
    assert "mass.kerb" in gone.missing
    assert "mistyped" in gone.missing["mass.kerb"][0]
    assert "weight.front" in gone.missing
    assert "weight.cg_x" in gone.missing
    assert by_rule(gone)["weight.ledger_sign"].verdict == "fix"
    assert by_rule(gone)["weight.ledger_sign_front"].verdict == "fix"
    assert by_rule(gone)["weight.gross"].verdict == "unknown"


def test_the_ledger_counts_the_packs_modules_among_what_must_have_gone_in():
    ridgeway, car = assessment_of("ridgeway"), car_of("ridgeway")
    sheets = [
        car.number(f"{part}.mass") for part in ("drive.motor", "drive.inverter", "charging.charger")
    ]
    modules = 12 * CATALOGUE.get("module", "nmc-module-8s1p-60ah").values["mass"].si
    assert si(ridgeway, "mass.parts") == pytest.approx(sum(sheets) + modules)


def test_a_charge_ends_where_the_charger_is_set_else_where_the_pack_is():
    both = {"charging.voltage": "390 V", "pack.charge_to": "395 V"}
    assert si(assessed("ridgeway", both), "charging.end_voltage") == 390.0
    pack = {"charging.voltage": None, "pack.charge_to": "395 V"}
    assert si(assessed("ridgeway", pack), "charging.end_voltage") == 395.0
    neither = assessed("ridgeway", {"charging.voltage": None, "pack.charge_to": None})
    assert si(neither, "charging.end_voltage") == si(neither, "pack.voltage_full")
