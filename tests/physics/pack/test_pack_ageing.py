from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack.ageing import (
    AMPERE_HOUR,
    DAY,
    schmalstieg_calendar_factor,
    schmalstieg_capacity,
    schmalstieg_cycle_factor,
    schmalstieg_resistance,
    wang_activation_temperature,
    wang_capacity_loss,
    wang_factor,
)

YEAR = 365 * DAY
NMC = {
    "voltage": 3.70,
    "temperature": 298.15,
    "rms_voltage": 3.70,
    "depth": 0.8,
    "time": YEAR,
    "throughput": 656 * AMPERE_HOUR,
}


def wang(ampere_hours, *, c_rate=0.5, temperature=298.15):
    return wang_capacity_loss(
        factor=wang_factor(c_rate),
        activation_temperature=wang_activation_temperature(c_rate),
        temperature=temperature,
        throughput=ampere_hours * AMPERE_HOUR,
    )


def schmalstieg(**changes):
    given_ = {**NMC, **changes}
    return schmalstieg_capacity(
        calendar_factor=schmalstieg_calendar_factor(
            voltage=given_["voltage"], temperature=given_["temperature"]
        ),
        time=given_["time"],
        cycle_factor=schmalstieg_cycle_factor(
            rms_voltage=given_["rms_voltage"], depth=given_["depth"]
        ),
        throughput=given_["throughput"],
    )


# Our arithmetic on the coefficients of Wang et al., J. Power Sources 196 (2011) 3942.
@pytest.mark.arithmetic
def test_an_lfp_cell_loses_6_per_cent_after_2000_ampere_hours_and_20_after_16693():
    assert wang(2000.0) * 100 == pytest.approx(6.226, abs=5e-4)
    assert wang(16693.0) * 100 == pytest.approx(20.0, abs=1e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("c_rate", "factor"), [(0.5, 31630), (2.0, 21681), (6.0, 12934), (10.0, 15512)]
)
def test_the_factor_is_the_fits_own_at_the_rates_it_was_fitted(c_rate, factor):
    assert wang_factor(c_rate) * 100 == pytest.approx(factor)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("c_rate", "factor"),
    [
        (0.1, 31630),
        (1.25, (31630 * 21681) ** 0.5),
        (4.0, (21681 * 12934) ** 0.5),
        (8.0, (12934 * 15512) ** 0.5),
        (20.0, 15512),
    ],
)
def test_half_way_between_two_rates_stands_their_geometric_mean_and_outside_the_end(c_rate, factor):
    assert wang_factor(c_rate) * 100 == pytest.approx(factor)


# Our arithmetic on the coefficients of Schmalstieg et al., J. Power Sources 257 (2014) 325.
@pytest.mark.arithmetic
def test_an_nmc_cell_after_a_year_and_656_ampere_hours():
    unused = schmalstieg(throughput=0.0)
    assert 1.0 - unused == pytest.approx(0.02395, abs=5e-6)
    assert unused - schmalstieg() == pytest.approx(0.10329, abs=5e-6)
    assert schmalstieg() == pytest.approx(0.87276, abs=5e-6)
    assert schmalstieg_resistance(**NMC) == pytest.approx(1.18760, abs=5e-6)


@pytest.mark.arithmetic
def test_ten_kelvin_hotter_about_doubles_the_fade_of_a_parked_cell():
    cool = schmalstieg_calendar_factor(voltage=3.7, temperature=298.15)
    warm = schmalstieg_calendar_factor(voltage=3.7, temperature=308.15)
    assert warm / cool == pytest.approx(2.14, abs=0.005)


@pytest.mark.property
@given(st.floats(273.15, 323.15), st.floats(0.1, 20.0), st.floats(10.0, 2e4))
def test_a_hotter_cell_never_ages_less(temperature, hotter, throughput):
    assert wang(throughput, temperature=temperature + hotter) > wang(
        throughput, temperature=temperature
    )
    assert schmalstieg(temperature=temperature + hotter) < schmalstieg(temperature=temperature)


@pytest.mark.property
@given(st.floats(0.0, 10.0), st.floats(0.0, 5.0))
def test_an_older_cell_never_has_less_resistance(years, more):
    young = schmalstieg_resistance(**{**NMC, "time": years * YEAR})
    assert schmalstieg_resistance(**{**NMC, "time": (years + more) * YEAR}) >= young >= 1.0
