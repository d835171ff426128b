from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import isolation, voltmeter_method
from swapwright.physics.circuit.voltmeter_method import IsolationTest

LEAKS = st.floats(1e3, 1e7)
VOLTS = st.floats(60.0, 1000.0)


def test_of(**readings) -> IsolationTest:
    settled = {"min_ohms_per_volt": 100.0, "tolerance": 0.05, "min_meter": 10e6}
    return voltmeter_method.isolation_from_readings(**{**settled, **readings})


test_of.__test__ = False


def read(volts, plus, minus, resistor, meter=math.inf) -> dict[str, float]:
    """Return what a meter reads at a pack with these leaks, by conductances to the chassis."""
    own = 1.0 / meter
    gp, gm = 1.0 / plus, 1.0 / minus
    v_pos, v_neg = (volts * far / (gp + gm + own) for far in (gm, gp))
    far = gm if v_pos >= v_neg else gp
    after = volts * far / (gp + gm + own + 1.0 / resistor)
    return {
        "v_pos": v_pos,
        "v_neg": v_neg,
        "v_after": after,
        "resistor": resistor,
        "battery": volts,
    }


# 355 V, 300 k on plus, 250 k on minus, a resistor of 35.5 k; the meter on one leg at a time.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("meter", "plus", "minus", "after", "older"),
    [(math.inf, 193.64, 161.36, 39.997, 250_000), (10e6, 191.03, 159.19, 39.885, 246_637)],
    ids=["an ideal meter", "a meter of 10 Mohm"],
)
def test_the_two_readings_give_the_leak_of_the_weaker_pole(meter, plus, minus, after, older):
    readings = read(355.0, 300e3, 250e3, 35.5e3, meter)
    shown = (readings["v_pos"], readings["v_neg"], readings["v_after"])
    assert shown == pytest.approx((plus, minus, after), abs=0.005)
    found = voltmeter_method.isolation_two_readings(
        resistor=35.5e3, battery=355.0, before=shown[0], after=shown[2]
    )
    assert found == pytest.approx(250_000)
    assert found / 355.0 == pytest.approx(704.2, abs=0.05)
    by_older = voltmeter_method.isolation_older_form(
        resistor=35.5e3, other=shown[1], before=shown[0], after=shown[2]
    )
    assert by_older == pytest.approx(older, abs=1.0)


@pytest.mark.arithmetic
def test_210_and_145_volts_falling_to_48_are_820_ohms_per_volt():
    found = test_of(v_neg=210.0, v_pos=145.0, v_after=48.0, resistor=51e3, battery=355.0)
    assert found.resistor_on == "minus"
    assert found.weak_pole == "plus"
    assert found.isolation == pytest.approx(290_973, abs=1.0)
    assert found.older_form == pytest.approx(290_973, abs=1.0)
    assert found.isolation / 355.0 == pytest.approx(819.6, abs=0.05)
    assert found.place == pytest.approx(210.0 / 355.0)


@pytest.mark.arithmetic
def test_a_leg_of_30_kilohms_is_84_ohms_per_volt():
    found = test_of(**read(355.0, 30e3, 500e3, 35.5e3))
    assert found.weak_pole == "plus"
    assert found.isolation / 355.0 == pytest.approx(84.5, abs=0.05)
    assert found.place == pytest.approx(500.0 / 530.0)


@pytest.mark.property
@given(VOLTS, LEAKS, LEAKS, st.floats(1.0, 10.0), st.sampled_from([1e6, 1e7, 1e8, math.inf]))
def test_both_leaks_are_found_again_from_what_any_meter_reads(volts, plus, minus, size, meter):
    given_meter = {} if math.isinf(meter) else {"meter": meter}
    found = test_of(**read(volts, plus, minus, 100.0 * size * volts, meter), **given_meter)
    assert not found.is_refused
    assert not found.is_contradictory
    weak, strong = sorted((plus, minus))
    assert found.isolation == pytest.approx(weak, rel=1e-6)
    assert found.other_leak == pytest.approx(strong, rel=1e-6)
    assert found.combined == pytest.approx(
        isolation.monitor_reading(plus_leak=plus, minus_leak=minus), rel=1e-6
    )
    if math.isinf(meter):
        assert found.older_form == pytest.approx(weak, rel=1e-6)
    else:
        assert found.older_form <= found.isolation * (1.0 + 1e-9)
        if meter < 100.0 * found.combined:
            assert found.meter_found == pytest.approx(meter, rel=1e-6)
    if plus != minus:
        assert found.weak_pole == ("plus" if plus < minus else "minus")


@pytest.mark.property
@given(VOLTS, st.floats(0.0, 1.0), st.floats(1e3, 1e6), st.sampled_from([1e6, 1e7, math.inf]))
def test_the_place_of_a_single_fault_along_the_pack_is_found_again(volts, place, fault, meter):
    # The fault ties the chassis to a point in the pack; a meter from a pole draws through it.
    share = meter / (meter + fault) if math.isfinite(meter) else 1.0
    v_neg, v_pos = place * volts * share, (1.0 - place) * volts * share
    resistor = 500.0 * volts
    bridged = 1.0 / (1.0 / resistor + 1.0 / meter)
    v_after = max(place, 1.0 - place) * volts * bridged / (bridged + fault)
    found = test_of(
        v_pos=v_pos,
        v_neg=v_neg,
        v_after=v_after,
        resistor=resistor,
        battery=volts,
        min_meter=meter,
    )
    assert found.place == pytest.approx(place, abs=1e-9)
    assert found.combined == pytest.approx(fault, rel=1e-6)


@pytest.mark.arithmetic
def test_one_fault_at_mid_pack_shows_balanced_poles_and_the_resistor_gives_it_away():
    dead = test_of(v_pos=177.5, v_neg=177.5, v_after=176.6, resistor=177.5e3, battery=355.0)
    well = test_of(v_pos=177.5, v_neg=177.5, v_after=15.0, resistor=177.5e3, battery=355.0)
    for found in (dead, well):
        assert found.notes == (voltmeter_method.BALANCED,)
        assert found.place == pytest.approx(0.5)
    assert dead.isolation / 355.0 < 100.0
    assert well.isolation / 355.0 > 500.0


@pytest.mark.arithmetic
def test_the_resistor_must_stand_the_whole_pack_and_is_refused_when_small():
    readings = {"v_pos": 193.6, "v_neg": 161.4, "v_after": 40.0, "battery": 355.0}
    found = test_of(**readings, resistor=35.5e3)
    assert found.resistor_power == pytest.approx(3.55)
    assert found.resistor_voltage == 355.0
    small = test_of(**readings, resistor=35.4e3)
    assert small.is_refused
    assert small.notes == (voltmeter_method.RESISTOR_TOO_SMALL,)
    assert small.isolation is None
    assert small.resistor_power == pytest.approx(355.0**2 / 35.4e3)
    assert (small.v_pos, small.v_neg, small.v_after) == (193.6, 161.4, 40.0)


@pytest.mark.arithmetic
@pytest.mark.parametrize("given_as", [{"battery": 0.0}, {"resistor": math.nan}, {"meter": -1.0}])
def test_a_test_without_resistor_pack_or_meter_is_refused_with_words(given_as):
    readings = {"v_pos": 193.6, "v_neg": 161.4, "v_after": 40.0}
    found = test_of(**{**readings, "resistor": 50e3, "battery": 355.0, **given_as})
    assert found.is_refused
    assert found.notes == (voltmeter_method.NOT_NUMBERS,)
    assert found.v_pos == 193.6


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("readings", "note"),
    [
        ((-200.0, 155.0, 40.0), voltmeter_method.NOT_A_READING),
        ((200.0, math.nan, 40.0), voltmeter_method.NOT_A_READING),
        ((0.0, 0.0, 0.0), voltmeter_method.NOTHING_SHOWN),
        ((200.0, 155.0, 0.0), voltmeter_method.ZERO_AFTER),
        ((200.0, 155.0, 201.0), voltmeter_method.ROSE),
        ((355.0, 0.0, 355.0), voltmeter_method.DID_NOT_FALL),
        ((300.0, 155.0, 40.0), voltmeter_method.MORE_THAN_PACK),
        ((150.0, 105.0, 40.0), voltmeter_method.METER_DISAGREES),
    ],
)
def test_a_reading_that_cannot_be_is_kept_and_stops_the_job(readings, note):
    v_pos, v_neg, v_after = readings
    found = test_of(
        v_pos=v_pos, v_neg=v_neg, v_after=v_after, resistor=51e3, battery=355.0, meter=10e6
    )
    assert note in found.notes
    assert found.is_contradictory
    assert not found.is_refused
    assert found.isolation is None
    assert found.combined is None
    assert (found.v_pos, found.v_after) == (v_pos, v_after)


# A meter of 10 Mohm or more takes next to nothing off the two poles; these lack half the pack.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("readings", "battery", "meter"),
    [
        ((0.1936, 161.4, 24.0), 355.0, 2.10e6),
        ((30.0, 25.0, 10.0), 398.0, 464e3),
        ((300.0, 50.0, 250.0), 398.0, 332e3),
    ],
    ids=["one pole in millivolts", "both poles far short", "a fault and a short sum"],
)
def test_poles_short_of_the_pack_by_more_than_a_fit_meter_draws_stop_the_job(
    readings, battery, meter
):
    v_pos, v_neg, v_after = readings
    given_as = {"v_pos": v_pos, "v_neg": v_neg, "v_after": v_after, "resistor": 200e3}
    found = test_of(**given_as, battery=battery)
    assert voltmeter_method.METER_TOO_LOW in found.notes
    assert found.is_contradictory
    assert found.isolation is None
    assert found.meter_found == pytest.approx(meter, rel=0.01)
    assert (found.v_pos, found.v_neg, found.v_after) == readings
    told = test_of(**given_as, battery=battery, meter=found.meter_found)
    assert not told.is_contradictory


@pytest.mark.property
@given(VOLTS, LEAKS, LEAKS, st.floats(10e6, 1e9))
def test_a_meter_fit_for_the_method_never_stops_the_job_untold(volts, plus, minus, meter):
    found = test_of(**read(volts, plus, minus, 500.0 * volts, meter))
    assert not found.is_contradictory


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("v_pos", "v_neg", "is_said"),
    [(0.0, 355.0, True), (161.4, 0.1936, True), (30.0, 325.0, False), (0.0, 0.0, False)],
)
def test_a_pole_that_reads_next_to_nothing_beside_the_other_is_told(v_pos, v_neg, is_said):
    found = voltmeter_method.is_next_to_nothing(v_pos=v_pos, v_neg=v_neg, tolerance=0.05)
    assert found is is_said


@pytest.mark.arithmetic
def test_a_dead_fault_at_a_pole_still_says_which_pole():
    found = test_of(v_pos=355.0, v_neg=0.0, v_after=355.0, resistor=51e3, battery=355.0)
    assert (found.resistor_on, found.weak_pole, found.place) == ("plus", "minus", 0.0)


@pytest.mark.arithmetic
def test_a_weak_leak_with_large_y_capacitors_takes_seconds_to_settle():
    wait = voltmeter_method.reading_wait(multiples=5.0, leak=1e6, capacitance=1e-6)
    assert wait == pytest.approx(5.0)
