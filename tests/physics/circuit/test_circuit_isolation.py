from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import isolation

VOLTS = st.floats(20.0, 1000.0)
LEAKS = st.floats(100.0, 1e8)
BODIES = st.floats(200.0, 1e4)


# UN R100, 5.1.3: 100 ohm/V for dc, 500 ohm/V for ac and for both joined.
@pytest.mark.published
@pytest.mark.parametrize(
    ("volts", "dc", "joined"),
    [
        (96.0, 9_600.0, 48_000.0),
        (355.0, 35_500.0, 177_500.0),
        (403.2, 40_320.0, 201_600.0),
        (800.0, 80_000.0, 400_000.0),
    ],
)
def test_the_isolation_asked_for_is_ohms_per_volt_times_the_voltage(volts, dc, joined):
    for per_volt, ohms in ((100.0, dc), (500.0, joined)):
        found = isolation.required_isolation(resistance_per_volt=per_volt, voltage=volts)
        assert found == pytest.approx(ohms, rel=1e-12)
        assert isolation.ohms_per_volt(resistance=found, voltage=volts) == pytest.approx(per_volt)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("per_volt", "milliamps"), [(100.0, 10.0), (500.0, 2.0)])
def test_a_body_without_resistance_lets_10_or_2_milliamps_through(per_volt, milliamps):
    ohms = isolation.required_isolation(resistance_per_volt=per_volt, voltage=403.2)
    current = isolation.leak_current(voltage=403.2, isolation=ohms, impedance=0.0)
    assert current * 1e3 == pytest.approx(milliamps)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("amps", "volts"), [(0.2, 0.020), (25.0, 2.50)])
def test_a_tenth_of_an_ohm_drops_20_millivolts_at_a_fifth_of_an_ampere(amps, volts):
    assert isolation.bonding_drop(current=amps, resistance=0.1) == pytest.approx(volts)


@pytest.mark.arithmetic
def test_four_boxes_and_a_monitor_leave_a_tenth_of_the_best_one():
    boxes = [5e6, 5e6, 2.5e6, 10e6]
    assert isolation.resistance_of_all(boxes) == pytest.approx(10e6 / 9.0)
    assert isolation.resistance_of_all([*boxes, 10e6]) == pytest.approx(1e6)
    assert isolation.resistance_of_all([]) == math.inf
    assert isolation.resistance_of_all([math.inf, 1e6]) == pytest.approx(1e6)
    assert isolation.resistance_of_all([1e6, 0.0]) == 0.0
    assert isolation.monitor_reading(plus_leak=3e5, minus_leak=2.5e5) == pytest.approx(136363.636)


# 355 V with 300 k on plus and 250 k on minus, read with an ideal meter and with one of 10 Mohm.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("meter", "minus", "plus"), [(math.inf, 161.36, 193.64), (10e6, None, 191.03)]
)
def test_two_leaks_share_the_pack_and_the_meter_takes_a_little(meter, minus, plus):
    if math.isinf(meter):
        leaks = {"voltage": 355.0, "own_leak": 250e3, "other_leak": 300e3}
        assert isolation.pole_voltage(**leaks) == pytest.approx(minus, abs=0.005)
        found = isolation.pole_voltage(voltage=355.0, own_leak=300e3, other_leak=250e3)
    else:
        found = isolation.shown_voltage(
            voltage=355.0, own_leak=300e3, other_leak=250e3, meter=meter
        )
    assert found == pytest.approx(plus, abs=0.005)


@pytest.mark.property
@given(st.lists(LEAKS, min_size=2, max_size=6))
def test_paths_side_by_side_are_below_each_and_the_same_pair_by_pair(paths):
    together = isolation.resistance_of_all(paths)
    assert together <= min(paths)
    pairwise = paths[0]
    for path in paths[1:]:
        pairwise = isolation.parallel_resistance(first=pairwise, second=path)
    assert together == pytest.approx(pairwise, rel=1e-9)


@pytest.mark.property
@given(VOLTS, LEAKS, LEAKS, st.floats(1e5, 1e9))
def test_a_meter_never_shows_more_than_stands_there_and_both_poles_make_the_pack(
    volts, plus, minus, meter
):
    at_plus = isolation.pole_voltage(voltage=volts, own_leak=plus, other_leak=minus)
    at_minus = isolation.pole_voltage(voltage=volts, own_leak=minus, other_leak=plus)
    assert at_plus + at_minus == pytest.approx(volts)
    shown = isolation.shown_voltage(voltage=volts, own_leak=plus, other_leak=minus, meter=meter)
    assert 0.0 <= shown <= at_plus * (1.0 + 1e-12)


@pytest.mark.property
@given(VOLTS, LEAKS, LEAKS, BODIES, st.floats(1.0, 10.0))
def test_a_worse_leak_on_the_other_pole_never_lowers_the_current_through_a_body(
    volts, touched, other, body, worse
):
    def through(leak: float) -> float:
        return isolation.touch_current(
            voltage=volts, touched_leak=touched, other_leak=leak, impedance=body
        )

    assert through(other / worse) >= through(other) * (1.0 - 1e-12)
    assert through(0.0) == pytest.approx(volts / body)
    # A body is one more leak of its pole: what stands there drives the current through it.
    with_body = isolation.parallel_resistance(first=touched, second=body)
    stands = isolation.pole_voltage(voltage=volts, own_leak=with_body, other_leak=other)
    assert through(other) == pytest.approx(stands / body, rel=1e-9)
    # Without any leak of its own pole it is the plain circuit of one fault.
    alone = isolation.touch_current(
        voltage=volts, touched_leak=1e15, other_leak=other, impedance=body
    )
    simple = isolation.leak_current(voltage=volts, isolation=other, impedance=body)
    assert alone == pytest.approx(simple, rel=1e-6)
