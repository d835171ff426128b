from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import arc, arc_flash
from swapwright.standards import arc_flash as table

CAL = table.CALORIE_PER_SQUARE_CENTIMETRE
DISTANCE = table.WORKING_DISTANCE.si
CONSTANTS = {
    "electrode_voltage": table.STOKES_OPPENLANDER.electrode_voltage.si,
    "doubling_gap": table.STOKES_OPPENLANDER.doubling_gap.si,
    "reference_current": table.STOKES_OPPENLANDER.reference_current.si,
    "exponent": table.STOKES_OPPENLANDER.exponent.si,
}
LIMITS = {
    "limit_current": table.STOKES_OPPENLANDER.limit_current.si,
    "limit_doubling_gap": table.STOKES_OPPENLANDER.limit_doubling_gap.si,
}
ENCLOSURE = {each.name: each for each in table.ENCLOSURES}
VOLTS = st.floats(50.0, 1000.0)
OHMS = st.floats(0.005, 0.5)
GAPS = st.floats(0.005, 0.05)


def arc_of(volts: float, ohms: float, gap: float) -> arc.Arc:
    return arc.arc_on_source(voltage=volts, resistance=ohms, gap=gap, **CONSTANTS, **LIMITS)


def half_of(volts: float, ohms: float) -> float:
    return arc_flash.half_bolted_current(
        bolted=arc_flash.bolted_current(voltage=volts, resistance=ohms)
    )


# Maximum power method at 45.72 cm: bolted and arc current A, cal/cm^2 open and boxed, boundary cm.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "ohms", "time", "bolted", "half", "open_air", "boxed", "boundary"),
    [
        (400, 0.06, 0.1, 6667, 3333, 0.6379, 1.914, 33.33),
        (400, 0.06, 2.0, 6667, 3333, 12.76, 38.27, 149.1),
        (400, 0.06, 2e-3, 6667, 3333, 0.01276, 0.03827, 4.714),
        (355, 0.116, 0.010, 3060, 1530, 0.02599, 0.07796, 6.728),
        (800, 0.12, 0.1, 6667, 3333, 1.276, 3.827, 47.14),
        (96, 0.02, 0.1, 4800, 2400, 0.1102, 0.3307, 13.86),
    ],
)
def test_incident_energy_and_boundary_by_the_maximum_power(
    volts, ohms, time, bolted, half, open_air, boxed, boundary
):
    assert arc_flash.bolted_current(voltage=volts, resistance=ohms) == pytest.approx(
        bolted, abs=0.5
    )
    current = half_of(volts, ohms)
    assert current == pytest.approx(half, abs=0.5)
    energy = arc_flash.incident_energy(voltage=volts, current=current, time=time, distance=DISTANCE)
    assert energy / CAL == pytest.approx(open_air, rel=1e-3)
    out_of_box = arc_flash.boxed_energy(energy=energy, box_factor=table.BOX_FACTOR.si)
    assert out_of_box / CAL == pytest.approx(boxed, rel=1e-3)
    reach = arc_flash.arc_flash_boundary(
        voltage=volts,
        current=current,
        time=time,
        box_factor=table.OPEN_AIR.si,
        limit=table.BOUNDARY_ENERGY.si,
    )
    assert reach * 100.0 == pytest.approx(boundary, rel=1e-3)


@pytest.mark.arithmetic
def test_064_calories_are_267_joules_on_a_square_centimetre():
    energy = arc_flash.incident_energy(
        voltage=400.0, current=400.0 / 0.06 / 2.0, time=0.1, distance=0.4572
    )
    assert energy / CAL == pytest.approx(0.6379, abs=5e-5)
    assert energy / 1e4 == pytest.approx(2.669, abs=5e-4)


@pytest.mark.arithmetic
def test_the_rounded_constant_is_a_little_more_than_half_the_power_over_a_sphere():
    sphere = arc.open_air_energy(energy=0.5 * 400.0 * 3000.0 * 0.1, distance=DISTANCE)
    method = arc_flash.incident_energy(voltage=400.0, current=3000.0, time=0.1, distance=DISTANCE)
    assert sphere / method == pytest.approx(0.951, abs=5e-4)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("clearing", "counts"), [(0.01, 0.01), (5.0, 2.0), (math.inf, 2.0)])
def test_an_arc_that_nothing_clears_counts_for_two_seconds(clearing, counts):
    assert arc_flash.arc_time(clearing=clearing, longest=table.MAX_ARC_TIME.si) == counts


# Stokes-Oppenlander: gap mm, current A, voltage V, power kW.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "ohms", "gap", "current", "across", "kilowatts"),
    [
        (400.0, 0.06, 25.0, 5118.0, 92.94, 475.6),
        (400.0, 0.06, 32.0, 4951.0, None, None),
        (800.0, 0.12, 32.0, 5792.0, 104.9, 607.6),
        (355.0, 0.116, 10.0, 2502.0, 64.80, 162.1),
        (96.0, 0.01, 25.0, 1548.0, 80.52, 124.7),
        (48.0, 0.01, 25.0, 20.08, None, None),
    ],
)
def test_the_arc_a_source_feeds_over_a_gap(volts, ohms, gap, current, across, kilowatts):
    found = arc_of(volts, ohms, gap * 1e-3)
    assert found.current == pytest.approx(current, rel=1e-3)
    assert found.is_sustained
    if across is not None:
        assert found.voltage == pytest.approx(across, rel=1e-3)
        assert found.power / 1e3 == pytest.approx(kilowatts, rel=1e-3)
    # The equation as printed, in millimetres.
    printed = (20.0 + 0.534 * gap) / found.current**0.88
    assert found.resistance == pytest.approx(printed, rel=1e-9)


@pytest.mark.arithmetic
def test_the_first_arc_has_18_milliohms_and_its_energies_in_three_surroundings():
    found = arc_of(400.0, 0.06, 0.025)
    assert found.resistance * 1e3 == pytest.approx(18.16, abs=0.005)
    energy = arc.arc_energy(power=found.power, time=0.1)
    assert energy / 1e3 == pytest.approx(47.56, abs=0.005)
    in_air = arc.open_air_energy(energy=energy, distance=DISTANCE)
    assert in_air / CAL == pytest.approx(0.4328, abs=5e-5)
    for name, expected in (("panelboard", 0.6591), ("low-voltage switchgear", 0.9611)):
        row = ENCLOSURE[name]
        boxed = arc.enclosure_energy(
            energy=energy, distance=DISTANCE, reach=row.reach.si, focus=row.focus.si
        )
        assert boxed / CAL == pytest.approx(expected, abs=1e-4)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "ohms", "gap", "expected"), [(400.0, 0.06, 32.0, 0.4637), (800.0, 0.12, 32.0, 0.5529)]
)
def test_a_wider_gap_gives_its_energy_in_open_air(volts, ohms, gap, expected):
    energy = arc.arc_energy(power=arc_of(volts, ohms, gap * 1e-3).power, time=0.1)
    in_air = arc.open_air_energy(energy=energy, distance=DISTANCE)
    assert in_air / CAL == pytest.approx(expected, abs=5e-5)


@pytest.mark.arithmetic
def test_48_volts_barely_hold_an_arc_over_25_millimetres():
    least = arc.sustain_limit(gap=0.025, limit_current=10.0, doubling_gap=0.05)
    assert least == pytest.approx(15.0)
    assert arc_of(48.0, 0.01, 0.025).is_sustained
    assert not arc_of(44.0, 0.01, 0.025).is_sustained


@pytest.mark.arithmetic
def test_at_low_voltage_the_fuse_sees_less_than_half_the_bolted_current():
    for volts, ohms, gap in ((400.0, 0.06, 0.025), (800.0, 0.12, 0.032), (355.0, 0.116, 0.010)):
        current = arc_of(volts, ohms, gap).current
        assert current > half_of(volts, ohms)
        assert arc_flash.clearing_current(half=half_of(volts, ohms), arc=current) == half_of(
            volts, ohms
        )
    current, half = arc_of(96.0, 0.01, 0.025).current, half_of(96.0, 0.01)
    assert half == pytest.approx(4800.0)
    assert arc_flash.clearing_current(half=half, arc=current) == current < half


@pytest.mark.property
@given(VOLTS, OHMS, GAPS)
def test_an_arc_takes_no_more_than_a_source_can_give_and_its_voltages_add_up(volts, ohms, gap):
    found = arc_of(volts, ohms, gap)
    most = arc_flash.max_arc_power(voltage=volts, resistance=ohms)
    assert 0.0 < found.power <= most * (1.0 + 1e-9)
    assert found.current * ohms + found.voltage == pytest.approx(volts, rel=1e-9)
    assert found.voltage == pytest.approx(
        arc.arc_voltage(current=found.current, gap=gap, **CONSTANTS)
    )
    assert found.resistance == pytest.approx(
        arc.arc_resistance(arc_voltage=found.voltage, current=found.current)
    )


@pytest.mark.property
@given(VOLTS, OHMS, GAPS, st.floats(1e-3, 2.0), st.floats(0.2, 2.0))
def test_the_maximum_power_bounds_the_arc_equation_in_open_air(volts, ohms, gap, time, distance):
    energy = arc.arc_energy(power=arc_of(volts, ohms, gap).power, time=time)
    in_air = arc.open_air_energy(energy=energy, distance=distance)
    most = arc_flash.incident_energy(
        voltage=volts, current=half_of(volts, ohms), time=time, distance=distance
    )
    assert in_air <= most


@pytest.mark.property
@given(VOLTS, OHMS, GAPS, st.floats(1.0, 3.0))
def test_a_wider_gap_or_a_weaker_source_never_raises_the_arc_current(volts, ohms, gap, more):
    current = arc_of(volts, ohms, gap).current * (1.0 + 1e-9)
    assert arc_of(volts, ohms, gap * more).current <= current
    assert arc_of(volts, ohms * more, gap).current <= current


@pytest.mark.property
@given(VOLTS, OHMS, st.floats(1e-3, 2.0), st.floats(1.0, 3.0))
def test_at_the_boundary_the_energy_is_that_of_the_boundary(volts, ohms, time, box):
    at = {"voltage": volts, "current": half_of(volts, ohms), "time": time}
    limit = table.BOUNDARY_ENERGY.si
    distance = arc_flash.arc_flash_boundary(**at, box_factor=box, limit=limit)
    there = arc_flash.incident_energy(**at, distance=distance)
    assert arc_flash.boxed_energy(energy=there, box_factor=box) == pytest.approx(limit)
