"""Coolant through hoses and parts, held against `fluids` and worked examples."""

from __future__ import annotations

from dataclasses import replace

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.cooling import flow

LOOP = flow.LoopBody(
    shut_off_pressure=60e3,
    free_flow=25.0 / 60000.0,
    bore=0.019,
    length=6.0,
    fitting_loss=9.0,
    parts_drop=22e3,
    reference_flow=10.0 / 60000.0,
    density=1065.0,
    viscosity=2.6e-3,
)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("viscosity", "reynolds"), [(3.8e-3, 3013.0), (1.3e-3, 8611.0)])
def test_eight_litres_a_minute_in_a_16_mm_hose(viscosity: float, reynolds: float):
    velocity = flow.hose_velocity(flow=8.0 / 60000.0, bore=0.016)
    assert velocity == pytest.approx(0.663, abs=5e-4)
    density = 1079.0 if viscosity > 2e-3 else 1055.0
    found = flow.reynolds_number(
        density=density, velocity=velocity, bore=0.016, viscosity=viscosity
    )
    assert found == pytest.approx(reynolds, rel=1e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize("reynolds", [30.0, 500.0, 1800.0, 3000.0, 6000.0, 2e4, 1e5])
def test_the_friction_factor_is_that_of_fluids_in_every_regime(reynolds: float):
    ours = flow.friction_factor(reynolds=reynolds)
    assert ours == pytest.approx(fluids.friction.Churchill_1977(Re=reynolds, eD=0.0), rel=1e-9)


@pytest.mark.arithmetic
@pytest.mark.parametrize("reynolds", [30.0, 500.0, 1500.0])
def test_slow_flow_is_laminar(reynolds: float):
    ours = flow.friction_factor(reynolds=reynolds)
    assert ours == pytest.approx(64.0 / reynolds, rel=0.01)


@pytest.mark.arithmetic
@pytest.mark.parametrize("reynolds", [5e3, 1e4, 5e4, 1e5])
def test_fast_flow_is_turbulent_as_colebrook_and_blasius_have_it(reynolds: float):
    ours = flow.friction_factor(reynolds=reynolds)
    assert ours == pytest.approx(fluids.friction.Colebrook(Re=reynolds, eD=0.0), rel=0.03)
    assert ours == pytest.approx(fluids.friction.Blasius(Re=reynolds), rel=0.06)


@pytest.mark.arithmetic
def test_the_pressure_lost_in_a_hose_is_that_of_fluids():
    velocity = flow.hose_velocity(flow=10.0 / 60000.0, bore=0.016)
    theirs = fluids.one_phase_dP(
        m=1065.0 * 10.0 / 60000.0, rho=1065.0, mu=2.6e-3, D=0.016, L=4.0, roughness=0.0
    )
    ours = flow.hose_drop(
        friction_factor=flow.friction_factor(
            reynolds=flow.reynolds_number(
                density=1065.0, velocity=velocity, bore=0.016, viscosity=2.6e-3
            )
        ),
        length=4.0,
        bore=0.016,
        fitting_loss=0.0,
        density=1065.0,
        velocity=velocity,
    )
    assert ours == pytest.approx(theirs, rel=0.05)


@pytest.mark.arithmetic
def test_a_loop_without_hose_friction_meets_its_pump_in_closed_form():
    loop = replace(LOOP, length=1e-9, fitting_loss=0.0)
    pump = loop.shut_off_pressure / loop.free_flow**2
    exact = (loop.shut_off_pressure / (pump + loop.parts_drop / loop.reference_flow**2)) ** 0.5
    assert flow.working_flow(loop).flow == pytest.approx(exact, rel=1e-6)


sizes = {
    "shut_off_pressure": st.floats(5e3, 2e5),
    "free_flow": st.floats(1e-4, 1e-3),
    "bore": st.floats(0.008, 0.03),
    "length": st.floats(0.5, 20.0),
    "fitting_loss": st.floats(0.0, 40.0),
    "parts_drop": st.floats(500.0, 8e4),
    "viscosity": st.floats(3e-4, 0.1),
}
loops = st.fixed_dictionaries(sizes).map(lambda given: replace(LOOP, **given))


@pytest.mark.property
@given(loops)
def test_at_the_working_flow_the_pump_gives_just_what_the_loop_takes(loop: flow.LoopBody):
    found = flow.working_flow(loop)
    assert 0.0 < found.flow < loop.free_flow
    assert found.pump == pytest.approx(found.hoses + found.parts, rel=1e-5)


@pytest.mark.property
@given(loops, st.floats(1.0, 3.0))
def test_a_bigger_pump_never_gives_less_flow(loop: flow.LoopBody, more: float):
    before = flow.working_flow(loop).flow
    for better in (
        replace(loop, shut_off_pressure=loop.shut_off_pressure * more),
        replace(loop, free_flow=loop.free_flow * more),
    ):
        assert flow.working_flow(better).flow >= before * (1.0 - 1e-9)


@pytest.mark.property
@given(loops, st.floats(1.0, 3.0))
def test_more_hose_bends_or_parts_never_give_more_flow(loop: flow.LoopBody, more: float):
    before = flow.working_flow(loop).flow
    for worse in (
        replace(loop, length=loop.length * more),
        replace(loop, fitting_loss=loop.fitting_loss * more),
        replace(loop, parts_drop=loop.parts_drop * more),
    ):
        assert flow.working_flow(worse).flow <= before * (1.0 + 1e-6)
