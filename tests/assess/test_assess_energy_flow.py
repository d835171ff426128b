"""The flow of energy on the city cycle: three balances that close, and the range's own numbers."""

from __future__ import annotations

import pytest
from example_cars import ALL_CARS, assessment_of, car_from, car_of, changed, text_of

from swapwright.assess.energy_flow import city_flow
from swapwright.base.errors import Missing
from swapwright.base.figure import SimulatedWorking

CLOSES = 1e-6


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_what_enters_each_part_leaves_it(name: str):
    flow = city_flow(car_of(name))
    assert flow.stored + flow.pack_in == pytest.approx(flow.pack_out + flow.pack_heat, rel=CLOSES)
    heat = flow.auxiliaries + flow.inverter + flow.motor + flow.gears
    left = heat + flow.driving + flow.pack_in
    assert flow.pack_out + flow.recovered == pytest.approx(left, rel=CLOSES)
    road = flow.tyres + flow.air + flow.climb + flow.friction + flow.speed
    assert flow.driving == pytest.approx(road + flow.recovered, rel=CLOSES)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ALL_CARS)
def test_the_flow_is_of_the_run_the_city_range_is_read_from(name: str):
    figures = assessment_of(name).figures
    flow = city_flow(car_of(name))
    consumption = figures["consumption.city"]
    assert flow.pack_out - flow.pack_in == pytest.approx(consumption.value.si, rel=1e-9)
    working = consumption.working
    assert isinstance(working, SimulatedWorking)
    distance = figures["range.city"].value.si
    for entry, part in (
        ("auxiliaries", flow.auxiliaries),
        ("inverter", flow.inverter),
        ("motor", flow.motor),
        ("driveline", flow.gears),
        ("tyres", flow.tyres),
        ("air", flow.air),
        ("friction brakes", flow.friction),
    ):
        assert -working.ledger[entry] / distance == pytest.approx(part, rel=1e-9)


@pytest.mark.property
def test_a_car_that_does_not_regenerate_gives_nothing_back():
    text = changed(text_of("parcel-round"), {"drive.regen.share": "0 %"})
    flow = city_flow(car_from(text))
    assert flow.recovered == pytest.approx(0.0, abs=1e-9)
    assert flow.pack_in == 0.0


@pytest.mark.property
def test_a_car_without_a_motor_has_no_flow():
    with pytest.raises(Missing):
        city_flow(car_from(changed(text_of("ridgeway"), {"drive.motor": None})))
