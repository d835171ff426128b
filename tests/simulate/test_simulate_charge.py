"""A charge against integrators that share nothing with it, and the laws no charge breaks."""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import numpy as np
import plain_car
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from swapwright.simulate.charge import (
    CHARGE_COLUMNS,
    CHARGE_ENDS,
    CHARGE_LIMITS,
    ChargeState,
    Plug,
    charge_loop,
)

R0, R1, R2 = 1.2e-3, 0.8e-3, 0.5e-3
C1, C2 = 3e4, 3e5
CAPACITY = 60.0 * 3600.0
AMBIENT = 293.15
FREEZING = 273.15
few = settings(max_examples=25, deadline=None, derandomize=True)


@dataclass(frozen=True)
class Done:
    """What a charge came to."""

    state: ChargeState
    ledger: tuple
    trace: np.ndarray


def straight_cell(**changes):
    """A cell of constant resistances and a straight rest voltage 3.2 V + 0.9 V x SOC."""
    plain = {
        "ocv": np.array([3.2, 4.1]),
        "resistance": np.tile([R0, R1, R2], (9, 21, 1)),
        "limits": np.full((9, 4), 1e4),
        "c1": C1,
        "c2": C2,
    }
    return plain_car.cells(**{**plain, **changes})


def charge(
    *, cells=None, power=7e3, volts=4.05, current=1e4, start=0.1, target=1.0, ambient=AMBIENT,
    taper=3.0, dt=15.0, state=None, **pack,
) -> Done:  # fmt: skip
    """Charge the plain pack of 96 cells; watts, volts a cell, amperes."""
    of = {"joint_resistance": 0.0, "max_voltage": volts, "current_limit": current, **pack}
    plug = Plug(power, taper, (1.0 - target) * CAPACITY, ambient, FREEZING)
    before = state or ChargeState((1.0 - start) * CAPACITY, 0.0, 0.0, ambient)
    record = np.empty((40_000, len(CHARGE_COLUMNS)))
    after, ledger, steps = charge_loop(
        straight_cell() if cells is None else cells, plain_car.pack(**of), plug, before, dt, record
    )
    return Done(after, ledger, record[:steps])


def soc_of(done: Done) -> float:
    return 1.0 - done.state.charge / CAPACITY


def independent_charge(current: float, volts: float, taper: float, start: float):
    """Integrate one cell by its equations: one current until its voltage, then the voltage held.

    Returns time s, state of charge and the cell's heat J.
    """

    def slopes(i, v1, v2):
        return i / CAPACITY, i / C1 - v1 / (R1 * C1), i / C2 - v2 / (R2 * C2)

    def steady(_, y):
        _, v1, v2, _heat = y
        return (*slopes(current, v1, v2), current**2 * R0 + v1**2 / R1 + v2**2 / R2)

    def reached(_, y):
        return 3.2 + 0.9 * y[0] + R0 * current + y[1] + y[2] - volts

    def held_current(y):
        return (volts - 3.2 - 0.9 * y[0] - y[1] - y[2]) / R0

    def held(_, y):
        i = held_current(y)
        return (*slopes(i, y[1], y[2]), i**2 * R0 + y[1] ** 2 / R1 + y[2] ** 2 / R2)

    def died_away(_, y):
        return held_current(y) - taper

    reached.terminal = died_away.terminal = True
    exact = {"rtol": 1e-9, "atol": 1e-9, "method": "LSODA"}
    first = solve_ivp(steady, (0.0, 1e6), (start, 0.0, 0.0, 0.0), events=reached, **exact)
    second = solve_ivp(held, (first.t[-1], 1e6), first.y[:, -1], events=died_away, **exact)
    return second.t[-1], second.y[0, -1], second.y[3, -1], first.t[-1]


@pytest.mark.arithmetic
@pytest.mark.parametrize("current", [10.0, 30.0, 90.0])
def test_a_charge_at_one_current_then_one_voltage_is_that_of_an_independent_integrator(current):
    time, soc, heat, turn = independent_charge(current, 4.05, 3.0, 0.1)
    ours = charge(power=1e9, current=current, dt=1.0)
    assert ours.ledger.time == pytest.approx(time, abs=2.0)
    assert soc_of(ours) == pytest.approx(soc, abs=1e-4)
    assert (ours.ledger.ohmic + ours.ledger.polarisation) / 96 == pytest.approx(heat, rel=2e-3)
    assert ours.ledger.time - ours.ledger.held == pytest.approx(turn, abs=2.0)
    coarse = charge(power=1e9, current=current)
    assert coarse.ledger.time == pytest.approx(time, abs=30.0)


@pytest.mark.published
def test_a_charge_is_that_of_pybamm_told_the_same_cell_and_the_same_steps():
    """PyBaMM, equivalent_circuit.Thevenin with two RC pairs, an experiment of two steps."""
    amps, volts, taper = 30.0, 4.05, 3.0
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pybamm

        def constant(value):
            return lambda temperature, current, soc: pybamm.Scalar(value)

        model = pybamm.equivalent_circuit.Thevenin(options={"number of rc elements": 2})
        values = model.default_parameter_values
        values.update(
            {
                "Initial SoC": 0.1,
                "Cell capacity [A.h]": 60.0,
                "Nominal cell capacity [A.h]": 60.0,
                "R0 [Ohm]": constant(R0),
                "R1 [Ohm]": constant(R1),
                "C1 [F]": constant(C1),
                "R2 [Ohm]": constant(R2),
                "C2 [F]": constant(C2),
                "Element-2 initial overpotential [V]": 0.0,
                "Open-circuit voltage [V]": lambda soc: 3.2 + 0.9 * soc,
                "Entropic change [V/K]": lambda ocv, temperature: pybamm.Scalar(0.0),
                "Upper voltage cut-off [V]": 9.0,
                "Lower voltage cut-off [V]": 0.5,
            },
            check_already_exists=False,
        )
        experiment = pybamm.Experiment(
            [(f"Charge at {amps} A until {volts} V", f"Hold at {volts} V until {taper} A")],
            period="1 minute",
        )
        solution = pybamm.Simulation(model, parameter_values=values, experiment=experiment).solve()
        time, soc = solution["Time [s]"].entries[-1], solution["SoC"].entries[-1]
    ours = charge(power=1e9, current=amps, dt=5.0)
    assert ours.ledger.time == pytest.approx(time, rel=1e-3)
    assert soc_of(ours) == pytest.approx(soc, abs=5e-4)


@pytest.mark.arithmetic
def test_a_step_of_a_quarter_minute_changes_a_charge_of_hours_by_a_thousandth():
    fine, coarse = (charge(cells=plain_car.cells(), dt=dt) for dt in (1.0, 15.0))
    assert coarse.ledger.time == pytest.approx(fine.ledger.time, rel=2e-3)
    assert coarse.ledger.energy == pytest.approx(fine.ledger.energy, rel=1e-3)


@pytest.mark.arithmetic
def test_each_limit_holds_the_charge_by_its_own_name():
    names = {name: float(CHARGE_LIMITS.index(name)) for name in CHARGE_LIMITS}
    column = CHARGE_COLUMNS.index("limit")
    assert charge(target=0.5).trace[0, column] == names["power"]
    assert charge(power=1e6, current=20.0, target=0.5).trace[0, column] == names["current"]
    weak = straight_cell(limits=np.full((9, 4), 12.0))
    assert charge(cells=weak, target=0.5).trace[0, column] == names["cells"]
    assert charge().trace[-1, column] == names["voltage"]


@pytest.mark.arithmetic
def test_cells_below_their_coldest_charge_take_nothing():
    done = charge(ambient=FREEZING - 1.0)
    assert CHARGE_ENDS[int(done.ledger.end)] == "cells refuse"
    assert len(done.trace) == 0


@pytest.mark.arithmetic
def test_a_charge_ends_at_the_state_of_charge_it_is_asked_for_exactly():
    assert soc_of(charge(target=0.63)) == pytest.approx(0.63, abs=1e-12)


powers = st.floats(1.2e3, 4e4)


@pytest.mark.property
@few
@given(power=powers, start=st.floats(0.0, 0.6), warm=st.floats(274.0, 313.0))
def test_no_more_is_stored_than_was_put_in_and_the_balance_closes(power, start, warm):
    cells = plain_car.cells()
    done = charge(cells=cells, power=power, start=start, ambient=warm)
    ocv, width = cells.ocv, 1.0 / (len(cells.ocv) - 1)
    sums = np.concatenate([[0.0], np.cumsum(0.5 * (ocv[1:] + ocv[:-1]) * width)])

    def stored(soc):
        i = min(int(soc / width), len(ocv) - 2)
        part = soc - i * width
        slope = (ocv[i + 1] - ocv[i]) / width
        return (sums[i] + part * (ocv[i] + 0.5 * part * slope)) * CAPACITY * 96

    gained = stored(soc_of(done)) - stored(start)
    lost = done.ledger.ohmic + done.ledger.polarisation + done.ledger.relaxation
    assert gained < done.ledger.energy
    assert gained + lost == pytest.approx(done.ledger.energy, rel=1e-6)


@pytest.mark.property
@few
@given(power=powers, more=st.floats(1.01, 3.0))
def test_a_stronger_supply_is_never_slower(power, more):
    weak, strong = (charge(power=p, target=0.9) for p in (power, more * power))
    assert strong.ledger.time <= weak.ledger.time * (1.0 + 1e-9)


@pytest.mark.property
@few
@given(power=powers, cold=st.floats(274.0, 300.0), warmer=st.floats(1.0, 12.0))
def test_colder_cells_never_reach_a_charge_sooner(power, cold, warmer):
    """To a charge below the end voltage: above it a cold cell ends emptier, and so sooner."""
    cells = plain_car.cells()
    times = [
        charge(cells=cells, power=power, target=0.6, ambient=air).ledger.time
        for air in (cold, cold + warmer)
    ]
    assert times[0] >= times[1] * (1.0 - 2e-3)


@pytest.mark.property
@few
@given(power=powers, between=st.floats(0.2, 0.7))
def test_two_charges_one_after_the_other_take_the_time_of_both_together(power, between):
    whole = charge(power=power, target=0.8)
    first = charge(power=power, target=between)
    second = charge(power=power, target=0.8, state=first.state)
    assert first.ledger.time + second.ledger.time == pytest.approx(whole.ledger.time, rel=1e-3)
    assert second.state.temperature == pytest.approx(whole.state.temperature, abs=0.05)
