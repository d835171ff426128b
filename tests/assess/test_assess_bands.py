"""Bands: each figure moved by its own short run, as far as the whole run would move it."""

from __future__ import annotations

from functools import cache

import pytest
from example_cars import assessment_of, car_from, car_of, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.bands import Asked, Nominal, designed
from swapwright.assess.book import FigureBook
from swapwright.assess.solve import assess, design

pytestmark = pytest.mark.arithmetic

HEATER = "auxiliaries.heater"


@cache
def with_heater() -> Assessment:
    return assess(car_from(changed(text_of("ridgeway"), {HEATER: "1..3 kW"})))


def test_a_heater_moves_what_is_driven_on_the_cold_day_and_nothing_else():
    moved = {figure for figure, swing in with_heater().swings.items() if HEATER in swing}
    assert {"range.city_cold", "range.highway_cold", "range.combined_cold"} <= moved
    assert all("_cold" in figure for figure in moved)


@pytest.mark.parametrize("end", [0, 1], ids=["low", "high"])
@pytest.mark.parametrize(
    ("path", "figures"),
    [
        ("car.road_load.cd_a", ("consumption.highway", "range.highway_cold", "range.city_hot")),
        ("drive.loss_factor", ("consumption.city", "consumption.city_hot", "range.highway")),
        ("drive.regen.share", ("consumption.city", "range.city_cold")),
        ("drive.gearbox.shift_time", ("accel.0_60mph", "accel.quarter_mile")),
    ],
    ids=["drag", "losses", "regeneration", "gear change"],
)
def test_a_swing_is_that_of_the_whole_run_at_the_inputs_end(path, figures, end: int):
    nominal = assessment_of("ridgeway")
    value = car_of("ridgeway").value(path)
    moved = assess(car_of("ridgeway").with_values({path: (value.low, value.high)[end]}))
    for figure in figures:
        whole = moved.figures[figure].value.si - nominal.figures[figure].value.si
        swing = nominal.swings.get(figure, {}).get(path, (0.0, 0.0))[end]
        # A whole run ends anywhere in its last cycle, which moves it by up to a percent.
        near = 0.01 * nominal.figures[figure].value.si
        assert swing == pytest.approx(whole, rel=0.25, abs=near), figure


def test_drag_moves_the_speed_that_can_be_held_and_the_climb():
    swings = assessment_of("parcel-round").swings
    for figure in ("top_speed.sustained", "climb.battery_power", "climb.motor_temperature"):
        low, high = swings[figure]["car.road_load.cd_a"]
        assert low * high < 0.0, figure


def test_the_quarter_mile_has_a_band_of_its_own():
    ridgeway = assessment_of("ridgeway")
    shares = [
        ridgeway.swings[figure]["drive.gearbox.shift_time"][1] / ridgeway.figures[figure].value.si
        for figure in ("accel.0_60mph", "accel.quarter_mile")
    ]
    assert shares[0] > 1.2 * shares[1] > 0.0


def test_a_charging_load_moves_what_is_drawn_from_the_wall_only():
    path = "auxiliaries.charging"
    moved = {figure for figure, swing in assessment_of("bakery").swings.items() if path in swing}
    assert moved
    assert all(figure.endswith("_wall") or figure.startswith("charging.") for figure in moved)


def test_a_car_is_designed_again_only_for_what_its_design_asks_for():
    car = car_of("ridgeway")
    designs = []

    def counted(book):
        designs.append(book)
        design(book)

    nominal = Nominal(car, tuple(designed(FigureBook(car), (counted,))))
    for path, again in (("drive.loss_factor", 0), ("car.road_load.cd_a", 1)):
        before = len(designs)
        nominal.with_value(path, car.number(path) * 1.1)
        assert len(designs) - before == again, path


def test_going_through_all_values_asks_for_every_one():
    values = car_of("ridgeway").values
    asked = Asked(values)
    assert asked.get("no.such") is None
    assert dict(asked.items()) == dict(values)
    assert asked.paths >= set(values)


@pytest.mark.parametrize(
    "text",
    [
        changed(text_of("ridgeway"), {"conditions.headwind": "-20 m/s"}),
        changed(text_of("ridgeway"), {"conditions.headwind": "-30..30 m/s"}),
        'format = 1\n[car]\nroad_load = { cd_a = "0.6..0.7 m^2" }\n'
        '[drive.second]\nmotor = "pm-interior-85kw"\naxle = "front"\n',
    ],
    ids=["the wind moves the car", "it may", "a second motor without a first"],
)
def test_a_car_of_odd_make_still_has_an_assessment(text: str):
    assert assess(car_from(text)).findings
