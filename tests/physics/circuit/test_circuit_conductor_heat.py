from __future__ import annotations

from math import isinf, log, pi

import pytest
from fluids.constants import g as FREE_FALL  # noqa: N812
from fluids.constants import sigma as STEFAN_BOLTZMANN  # noqa: N812
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import conductor_heat
from swapwright.physics.circuit.conductor_heat import CableBody

ZERO = 273.15
PRESSURE = 101325.0

# mm2: class 5 ohm/m at 20 degC; typical diameters over conductor and over all, mm.
TYPICAL = {
    6: (3.30e-3, 3.4, 5.0),
    10: (1.91e-3, 4.4, 6.2),
    16: (1.21e-3, 5.6, 7.7),
    25: (0.780e-3, 7.1, 9.5),
    35: (0.554e-3, 8.5, 11.1),
    50: (0.386e-3, 10.5, 13.5),
    70: (0.272e-3, 12.5, 15.5),
    95: (0.206e-3, 14.8, 18.2),
    120: (0.161e-3, 16.6, 20.2),
}


def cable(size: int) -> CableBody:
    ohms, inner, outer = TYPICAL[size]
    return CableBody(ohms, inner * 1e-3, outer * 1e-3, 0.9, 0.25, 293.15, 0.00393)


def balance(size: int, air: float, copper: float) -> conductor_heat.CableHeatResult:
    return conductor_heat.heat_balance_ampacity(
        cable(size), conductor_temperature=copper + ZERO, ambient=air + ZERO, pressure=PRESSURE
    )


def settled(size: int, current: float, air: float) -> conductor_heat.CableHeatResult:
    return conductor_heat.heat_balance_temperature(
        cable(size), current=current, ambient=air + ZERO, pressure=PRESSURE
    )


sizes = st.sampled_from(sorted(TYPICAL))
airs = st.floats(-30.0, 110.0)
currents = st.floats(0.0, 600.0)


# The same balance solved apart from this code, by halving, to a tenth of an ampere.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("size", "air", "copper", "amps"),
    [
        (35, 40, 90, 194.0),
        (35, 40, 125, 254.4),
        (35, 80, 125, 186.4),
        (35, 85, 150, 226.0),
        (50, 40, 90, 250.7),
        (50, 40, 125, 328.7),
        (50, 80, 125, 241.2),
        (50, 85, 150, 292.3),
        (70, 40, 90, 317.3),
        (70, 40, 125, 416.4),
        (70, 80, 125, 305.7),
        (70, 85, 150, 370.8),
        (95, 40, 90, 388.4),
        (95, 40, 125, 509.4),
        (95, 80, 125, 374.3),
        (95, 85, 150, 453.8),
    ],
)
def test_a_cable_in_still_air_carries_what_the_balance_gives(size, air, copper, amps):
    assert balance(size, air, copper).current == pytest.approx(amps, rel=1e-3)


@pytest.mark.arithmetic
def test_50_square_at_125_degrees_sheds_59_watts_a_metre_through_a_surface_at_116():
    found = balance(50, 40, 125)
    rise = found.surface_temperature - (40 + ZERO)
    outside = pi * 13.5e-3 * rise
    assert found.heat == pytest.approx(58.90, abs=0.01)
    assert found.surface_temperature - ZERO == pytest.approx(115.6, abs=0.05)
    assert found.convected / outside == pytest.approx(9.45, abs=0.01)
    assert found.radiated / outside == pytest.approx(8.93, abs=0.01)


# The heat balance's own derating from 40 to 80 degC is a little kinder than the square law's.
@pytest.mark.arithmetic
def test_the_balance_derates_from_40_to_80_degrees_to_0_734():
    ratio = balance(50, 80, 125).current / balance(50, 40, 125).current
    assert ratio == pytest.approx(0.7337, abs=2e-4)


# Churchill and Chu (1975) as an independent library of air and of constants has it.
@pytest.mark.arithmetic
@pytest.mark.parametrize("size", [6, 35, 120])
def test_the_convected_heat_is_that_of_the_correlation_written_out(size):
    found = balance(size, 40, 125)
    diameter = TYPICAL[size][2] * 1e-3
    film = 0.5 * (found.surface_temperature + 40 + ZERO)
    viscosity = 1.716e-5 * (film / 273.15) ** 1.5 * (273.15 + 110.4) / (film + 110.4)
    density = PRESSURE / (287.055 * film)
    rise = found.surface_temperature - (40 + ZERO)
    grashof = FREE_FALL * rise * diameter**3 * density**2 / (film * viscosity**2)
    brackets = (1 + (0.559 / 0.71) ** 0.5625) ** (16 / 9)
    nusselt = (0.60 + 0.387 * (grashof * 0.71 / brackets) ** (1 / 6)) ** 2
    conductivity = 0.0241 * (film / 273.15) ** 0.9
    assert found.convected == pytest.approx(pi * nusselt * conductivity * rise, rel=1e-9)
    radiance = STEFAN_BOLTZMANN * (found.surface_temperature**4 - (40 + ZERO) ** 4)
    assert found.radiated == pytest.approx(0.9 * pi * diameter * radiance, rel=1e-5)


@pytest.mark.property
@given(sizes, currents, airs)
def test_all_the_heat_a_cable_makes_leaves_it(size, current, air):
    found = settled(size, current, air)
    if isinf(found.heat):
        return
    assert found.convected + found.radiated == pytest.approx(found.heat, rel=1e-9, abs=1e-12)
    ohms, inner, outer = TYPICAL[size]
    made = current**2 * ohms * (1 + 0.00393 * (found.conductor_temperature - 293.15))
    assert found.heat == pytest.approx(made, rel=1e-9)
    through = 2 * pi * 0.25 * (found.conductor_temperature - found.surface_temperature)
    assert through / log(outer / inner) == pytest.approx(made, rel=1e-6, abs=1e-9)


@pytest.mark.property
@given(sizes, airs, st.floats(1.0, 120.0))
def test_the_current_that_holds_a_temperature_settles_there(size, air, rise):
    held = balance(size, air, air + rise)
    assert held.convected + held.radiated == pytest.approx(held.heat, rel=1e-9)
    found = settled(size, held.current, air)
    assert found.conductor_temperature == pytest.approx(air + rise + ZERO, abs=1e-6)
    assert found.surface_temperature == pytest.approx(held.surface_temperature, abs=1e-6)


@pytest.mark.property
@given(currents, airs, sizes, sizes)
def test_a_thicker_cable_never_runs_hotter(current, air, one, other):
    thin, thick = (settled(size, current, air) for size in sorted((one, other)))
    assert thick.conductor_temperature <= thin.conductor_temperature + 1e-9


@pytest.mark.property
@given(sizes, airs, currents, currents)
def test_more_current_never_runs_cooler(size, air, one, other):
    less, more = (settled(size, current, air) for current in sorted((one, other)))
    assert more.conductor_temperature >= less.conductor_temperature - 1e-9


@pytest.mark.property
@given(sizes, airs, airs, st.floats(90.0, 150.0))
def test_hotter_air_never_lets_a_cable_carry_more(size, one, other, copper):
    cool, hot = (balance(size, air, copper) for air in sorted((one, other)))
    assert hot.current <= cool.current * (1 + 1e-9)


@pytest.mark.arithmetic
def test_a_cable_in_air_hotter_than_it_may_be_carries_nothing():
    for air in (125, 140):
        found = balance(50, air, 125)
        assert (found.current, found.heat, found.convected, found.radiated) == (0, 0, 0, 0)


@pytest.mark.arithmetic
@pytest.mark.parametrize("current", [0.0, 1e-300, 1e-12, 1e-6])
def test_without_current_a_cable_is_as_warm_as_its_air(current):
    found = settled(50, current, 40)
    assert found.conductor_temperature == pytest.approx(40 + ZERO, abs=1e-6)
    assert found.surface_temperature <= found.conductor_temperature


# Warmer copper makes more heat: past 1/sqrt(R alpha R_wall) no temperature sheds it all.
@pytest.mark.arithmetic
def test_a_current_past_all_bounds_has_no_temperature_to_settle_at():
    assert isinf(settled(6, 3000.0, 40).conductor_temperature)


def estimate(size: int, air: float, copper: float) -> float:
    body = cable(size)
    temperatures = {"conductor_temperature": copper + ZERO, "ambient": air + ZERO}
    film = conductor_heat.surface_coefficient(
        **temperatures,
        overall_diameter=body.overall_diameter,
        emissivity=0.9,
        surface_share=0.9,
        convection_constant=1.32,
    )
    conductance = conductor_heat.conductance_per_length(
        conductor_diameter=body.conductor_diameter,
        overall_diameter=body.overall_diameter,
        insulation_conductivity=0.25,
        surface_coefficient=film,
    )
    return conductor_heat.ampacity_estimate(
        **temperatures,
        conductance_per_length=conductance,
        resistance_per_length=body.resistance_per_length,
        reference_temperature=293.15,
        temperature_coefficient=0.00393,
    )


@pytest.mark.property
@given(sizes, st.floats(20.0, 85.0), st.floats(90.0, 150.0))
def test_the_short_estimate_is_within_five_percent_of_the_full_balance(size, air, copper):
    full = balance(size, air, copper).current
    assert estimate(size, air, copper) == pytest.approx(full, rel=0.05)
