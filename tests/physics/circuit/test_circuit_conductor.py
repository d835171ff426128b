from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import conductor, conductor_rating
from swapwright.physics.circuit.cable_size import lightest_cable

ZERO = 273.15
MM2 = 1e-6
COPPER = {"reference_temperature": 293.15, "temperature_coefficient": 0.00393}
K = {"adiabatic_constant": 226e6, "reciprocal_temperature": 234.5}
# IEC 60228 class 5, ohm/m at 20 degC.
CLASS_5 = {10: 1.91e-3, 16: 1.21e-3, 35: 0.554e-3, 50: 0.386e-3, 70: 0.272e-3, 120: 0.161e-3}


def k(start: float, final: float) -> float:
    """Return k of copper in A.s^0.5/mm^2 between two temperatures in degC."""
    found = conductor_rating.adiabatic_factor(**K, start=start + ZERO, final=final + ZERO)
    return found * MM2


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("size", "degrees", "ohm_per_km"),
    [(10, 90, 2.435), (50, 90, 0.4922), (120, 90, 0.2053), (16, 125, 1.709), (70, 125, 0.3842)],
)
def test_a_hot_conductor_has_more_resistance(size, degrees, ohm_per_km):
    found = conductor.conductor_resistance(
        resistance_per_length=CLASS_5[size], length=1000.0, temperature=degrees + ZERO, **COPPER
    )
    assert found == pytest.approx(ohm_per_km, rel=5e-4)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("degrees", "volts", "watts"), [(20, 0.6528, 195.8), (90, 0.8324, 249.7), (125, 0.9222, 276.7)]
)
def test_300_amps_through_4_metres_of_70_square_each_way(degrees, volts, watts):
    ohms = conductor.conductor_resistance(
        resistance_per_length=CLASS_5[70], length=4.0, temperature=degrees + ZERO, **COPPER
    )
    drop = conductor.pair_voltage_drop(current=300.0, resistance=ohms)
    assert drop == pytest.approx(volts, rel=2e-4)
    assert conductor.pair_loss(current=300.0, resistance=ohms) == pytest.approx(watts, rel=3e-4)
    assert conductor.pair_loss(current=300.0, resistance=ohms) == pytest.approx(300.0 * drop)


# IEC 60364-5-54:2011 annex A: k of copper by insulation, printed as whole numbers.
@pytest.mark.published
@pytest.mark.parametrize(
    ("start", "final", "printed"),
    [(70, 160, 115), (90, 160, 100), (90, 250, 143), (85, 220, 134)],
    ids=["PVC", "PVC 90", "XLPE", "rubber"],
)
def test_the_adiabatic_factor_is_the_printed_one(start, final, printed):
    assert round(k(start, final)) == printed


# The table prints 132 for silicone where its own formula gives 132.5.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("start", "final", "factor"),
    [(180, 350, 132.5), (125, 250, 123.5), (150, 250, 108.7), (20, 250, 181.3), (60, 200, 140.9)],
)
def test_a_conductor_that_starts_hot_bears_less(start, final, factor):
    assert k(start, final) == pytest.approx(factor, abs=0.05)


@pytest.mark.arithmetic
def test_a_conductor_already_too_hot_bears_nothing():
    assert k(250, 250) == 0.0
    assert k(300, 250) == 0.0


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("size", "i2t"), [(10, 2.045e6), (35, 25.05e6), (50, 51.12e6), (95, 184.6e6)]
)
def test_the_short_circuit_withstand_goes_with_the_square_of_area(size, i2t):
    found = conductor_rating.withstand_joule_integral(adiabatic_factor=143e6, area=size * MM2)
    assert found == pytest.approx(i2t, rel=5e-4)


@pytest.mark.arithmetic
def test_50_square_bears_8_kiloamps_for_0_8_seconds_and_17_7_square_for_a_tenth():
    i2t = conductor_rating.withstand_joule_integral(adiabatic_factor=143e6, area=50 * MM2)
    time = conductor_rating.withstand_time(joule_integral=i2t, current=8000.0)
    assert time == pytest.approx(0.7988, abs=5e-5)
    area = conductor_rating.min_conductor_area(
        joule_integral=8000.0**2 * 0.1, adiabatic_factor=143e6
    )
    assert area / MM2 == pytest.approx(17.69, abs=5e-3)
    hot = conductor_rating.withstand_joule_integral(
        adiabatic_factor=k(125, 250) / MM2, area=50 * MM2
    )
    assert hot == pytest.approx(38.10e6, rel=2e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("most", "reference", "air", "factor"),
    [(90, 30, 50, 0.8165), (90, 30, 60, 0.7071), (125, 40, 80, 0.7276), (90, 30, 95, 0.0)],
)
def test_hot_air_leaves_less_of_a_current(most, reference, air, factor):
    found = conductor_rating.ambient_factor(
        max_temperature=most + ZERO, ambient=air + ZERO, reference_ambient=reference + ZERO
    )
    assert found == pytest.approx(factor, abs=5e-5)


@pytest.mark.arithmetic
def test_the_248_amps_of_50_square_are_162_in_conduit_at_50_degrees():
    found = conductor_rating.ampacity(
        rated_current=248.0, ambient_factor=0.8165, grouping_factor=1.0, routing_factor=0.80
    )
    assert found == pytest.approx(162.0, abs=0.05)


@pytest.mark.property
@given(st.floats(243.0, 362.0), st.sampled_from([1.0, 0.8, 0.57]), st.sampled_from([1.0, 0.8]))
def test_a_cable_at_its_derated_current_settles_at_its_rated_temperature(ambient, group, routing):
    rating = {"max_temperature": 363.15, "reference_ambient": 303.15}
    laid = {"rated_current": 248.0, "grouping_factor": group, "routing_factor": routing}
    left = conductor_rating.ambient_factor(ambient=ambient, **rating)
    current = conductor_rating.ampacity(ambient_factor=left, **laid)
    found = conductor_rating.conductor_temperature(
        current=current, ambient=ambient, **laid, **rating
    )
    assert found == pytest.approx(363.15)


@pytest.mark.property
@given(st.floats(243.0, 400.0), st.floats(243.0, 400.0))
def test_hotter_air_never_lets_a_cable_carry_more(one, other):
    cool, hot = sorted((one, other))
    rating = {"max_temperature": 363.15, "reference_ambient": 303.15}
    assert conductor_rating.ambient_factor(
        ambient=hot, **rating
    ) <= conductor_rating.ambient_factor(ambient=cool, **rating)


@pytest.mark.property
@given(st.floats(0.0, 800.0), st.floats(0.3, 1.0), st.floats(0.3, 1.0))
def test_more_loaded_neighbours_never_make_a_cable_cooler(current, one, other):
    alone, grouped = max(one, other), min(one, other)

    def temperature(factor):
        return conductor_rating.conductor_temperature(
            current=current,
            rated_current=248.0,
            grouping_factor=factor,
            routing_factor=0.95,
            max_temperature=363.15,
            reference_ambient=303.15,
            ambient=313.15,
        )

    assert temperature(grouped) >= temperature(alone)


@pytest.mark.property
@given(st.floats(0.1, 25.0), st.floats(0.1, 25.0), st.floats(0.0, 800.0))
def test_a_longer_cable_never_drops_less(one, other, current):
    def drop(length):
        ohms = conductor.conductor_resistance(
            resistance_per_length=0.386e-3, length=length, temperature=350.0, **COPPER
        )
        return conductor.pair_voltage_drop(current=current, resistance=ohms)

    assert drop(max(one, other)) >= drop(min(one, other))


@pytest.mark.arithmetic
def test_a_duty_heats_by_its_root_mean_square_and_charging_counts():
    steps, held = np.array([500.0, 200.0, -150.0]), np.array([10.0, 50.0, 20.0])
    found = conductor_rating.duty_rms(currents=steps, dt=held)
    assert found == pytest.approx(248.7, abs=0.05)
    even = conductor_rating.duty_rms(currents=np.repeat(steps, [1, 5, 2]), dt=10.0)
    assert even == pytest.approx(found)
    assert found > float(np.dot(abs(steps), held) / held.sum()) == pytest.approx(225.0)


@pytest.mark.arithmetic
def test_the_copper_of_50_square_takes_172_joules_a_kelvin_and_some_four_minutes():
    heat = {"copper_density": 8960.0, "copper_specific_heat": 385.0}
    plastic = {"insulation_density": 1300.0, "insulation_specific_heat": 1500.0}
    copper = conductor.heat_capacity_per_length(
        area=50 * MM2, conductor_diameter=10.5e-3, overall_diameter=10.5e-3, **heat, **plastic
    )
    assert copper == pytest.approx(172.5, abs=0.05)
    tau = conductor.thermal_time_constant(
        heat_capacity_per_length=copper, temperature_rise=85.0, heat_per_length=58.90
    )
    assert tau == pytest.approx(249.0, abs=0.5)
    whole = conductor.heat_capacity_per_length(
        area=50 * MM2, conductor_diameter=10.5e-3, overall_diameter=13.5e-3, **heat, **plastic
    )
    assert whole - copper == pytest.approx(1300.0 * 1500.0 * 56.55e-6, rel=1e-4)


@pytest.mark.arithmetic
def test_a_metre_of_50_square_cable_weighs_half_a_kilogram():
    found = conductor.cable_mass_per_length(
        area=50 * MM2,
        conductor_diameter=10.5e-3,
        overall_diameter=13.5e-3,
        copper_density=8960.0,
        insulation_density=1300.0,
    )
    # 448 g of copper and 56.5 mm2 of covering.
    assert found == pytest.approx(0.448 + 0.0735, abs=1e-4)


@pytest.mark.arithmetic
def test_a_13_5_millimetre_cable_bends_round_81_millimetres():
    radius = conductor.min_bend_radius(overall_diameter=13.5e-3, bend_factor=6.0)
    assert radius == pytest.approx(81e-3)


@pytest.mark.arithmetic
def test_a_sound_lug_at_200_amps_makes_2_watts_and_runs_a_few_kelvin_over_its_cable():
    heat = conductor.lug_heat(current=200.0, contact_resistance=50e-6)
    assert heat == pytest.approx(2.0)
    assert conductor.lug_heat(current=200.0, contact_resistance=50e-6, joints=4) == 4 * heat
    rise = conductor.lug_temperature_rise(
        heat=heat,
        heat_share=0.5,
        thermal_conductivity=390.0,
        area=50 * MM2,
        conductance_per_length=0.693,
    )
    # A long fin: 1 W over sqrt(0.0195 W.m/K x 0.693 W/m/K) = 0.1162 W/K.
    assert rise == pytest.approx(1.0 / 0.1162, rel=1e-3)


SIZES = [size * MM2 for size in (10, 16, 25, 35, 50, 70)]


@pytest.mark.arithmetic
def test_the_lightest_cable_is_the_first_to_pass_all_and_says_what_the_thinner_one_lacks():
    checks = {
        "continuous current": lambda area: area >= 25 * MM2,
        "short circuit": lambda area: area >= 16 * MM2,
        "voltage drop": lambda area: area >= 35 * MM2,
    }
    found = lightest_cable(sizes=SIZES[::-1], checks=checks)
    assert (found.area, found.limited_by) == (35 * MM2, ("voltage drop",))


@pytest.mark.arithmetic
def test_the_thinnest_size_that_passes_is_limited_by_nothing_and_none_by_all_it_fails():
    assert lightest_cable(sizes=SIZES, checks={"any": lambda _: True}).limited_by == ()
    failing = {"one": lambda _: False, "two": lambda _: True, "three": lambda area: area > 1.0}
    found = lightest_cable(sizes=SIZES, checks=failing)
    assert (found.area, found.limited_by) == (None, ("one", "three"))
    assert lightest_cable(sizes=[], checks=failing).area is None


@pytest.mark.property
@given(st.floats(1.0, 80.0), st.floats(1.0, 80.0))
def test_asking_more_of_a_cable_never_makes_it_lighter(one, other):
    def size(least):
        found = lightest_cable(sizes=SIZES, checks={"area": lambda area: area >= least * MM2}).area
        return float("inf") if found is None else found

    assert size(max(one, other)) >= size(min(one, other))
