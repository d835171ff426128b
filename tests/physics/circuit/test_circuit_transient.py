from __future__ import annotations

import random
from math import atan2, exp, log, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from swapwright.physics.circuit.network import Network, NetworkError, Part, fault
from swapwright.physics.circuit.transient import At, Transient, When, run_transient

LINK = ("link_plus", "minus")


def resistor(name: str, a: str, b: str, ohms: float, inductance: float = 0.0) -> Part:
    return Part(name, "resistor", a, b, ohms, inductance=inductance)


def capacitor(name: str, a: str, b: str, farads: float, start: float = 0.0) -> Part:
    return Part(name, "capacitor", a, b, farads, start=start)


def pack(volts: float = 400.0, ohms: float = 0.0, henries: float = 0.0) -> Part:
    return Part("pack", "source", "plus", "minus", volts, ohms, henries)


def run(*parts: Part, **wanted: object) -> Transient:
    return run_transient(Network(parts), **wanted)


# -- capacitors and resistors


# 400 V, 1000 uF, 20 kohm: V = V0 exp(-t/RC), t = RC ln(V0/V).
@pytest.mark.arithmetic
def test_a_link_falls_through_its_bleed_as_the_exponential_says():
    seconds = [0.0, 5.0, 20.0, 60.0]
    found = run(
        capacitor("link", *LINK, 1e-3, 400.0),
        resistor("bleed", *LINK, 2e4),
        duration=60.0,
        outputs=seconds,
        events=[When("voltage", LINK, volts, {}, rising=False) for volts in (60.0, 20.0)],
    )
    expected = [400.0 * exp(-time / 20.0) for time in seconds]
    assert found.across(*LINK) == pytest.approx(expected, rel=1e-9)
    assert found.across(*LINK)[1] == pytest.approx(311.5, abs=0.05)
    assert [each.time for each in found.log] == pytest.approx(
        [20.0 * log(400.0 / 60.0), 20.0 * log(20.0)], rel=1e-9
    )
    assert [each.time for each in found.log] == pytest.approx([37.94, 59.91], abs=0.005)
    assert found.taken["bleed"] == pytest.approx(80.0 * (1.0 - exp(-6.0)), rel=1e-9)


# 400 V, 1000 uF, 50 ohm: t(q) = -RC ln(1-q), E = C V2 (1-(1-q)2)/2, I2t = (V/R)2 RC/2.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("share", "time", "energy"),
    [(0.95, 0.1498, 79.80), (0.98, 0.1956, 79.97), (0.99, 0.2303, 79.99)],
)
def test_precharge_reaches_its_share_at_the_logarithm_of_the_rest(share, time, energy):
    stop = {"precharge": None}
    found = run(
        pack(),
        resistor("precharge", "plus", "link_plus", 50.0),
        capacitor("link", *LINK, 1e-3),
        duration=1.0,
        events=[When("voltage", LINK, share, stop, relative_to=("plus", "minus"))],
        peaks_of=["precharge"],
    )
    assert found.log[0].time == pytest.approx(-0.05 * log(1.0 - share), rel=1e-9)
    assert found.log[0].time == pytest.approx(time, abs=5e-5)
    assert found.taken["precharge"] == pytest.approx(80.0 * (1.0 - (1.0 - share) ** 2), rel=1e-9)
    assert found.taken["precharge"] == pytest.approx(energy, abs=5e-3)
    assert found.peaks["precharge"] == (pytest.approx(8.0), 0.0)
    assert found.squares["precharge"] == pytest.approx(1.6 * (1.0 - (1.0 - share) ** 2), rel=1e-9)


@pytest.mark.arithmetic
def test_a_load_left_on_the_link_keeps_precharge_from_ever_ending():
    found = run(
        pack(),
        resistor("precharge", "plus", "link_plus", 50.0),
        resistor("load", *LINK, 500.0),
        capacitor("link", *LINK, 1e-3),
        duration=2.0,
        events=[When("voltage", LINK, 0.95, {}, relative_to=("plus", "minus"))],
    )
    assert found.log == ()
    assert found.across(*LINK)[-1] == pytest.approx(400.0 * 500.0 / 550.0, rel=1e-9)


@pytest.mark.property
@given(st.integers(0, 10**9))
@settings(max_examples=30, deadline=None)
def test_what_a_discharge_gives_is_what_the_resistors_take(seed):
    draw = random.Random(seed)
    nodes = ["a", "b", "c", "d"]
    parts = [resistor("r", "a", "b", 10 ** draw.uniform(0.0, 4.0))]
    parts += [resistor(f"r{k}", n, "b", 10 ** draw.uniform(0.0, 4.0)) for k, n in enumerate("cd")]
    parts.append(resistor("tie", "a", "c", 10 ** draw.uniform(0.0, 3.0)))
    parts += [
        capacitor(f"c{k}", n, "b", 10 ** draw.uniform(-6.0, -2.0), draw.uniform(0.0, 800.0))
        for k, n in enumerate(x for x in nodes if x != "b")
    ]
    found = run(*parts, duration=10 ** draw.uniform(-2.0, 2.0))
    given_up = found.stored_at_start - found.stored_at_end
    assert sum(found.taken.values()) == pytest.approx(given_up, rel=1e-9)


@pytest.mark.arithmetic
def test_two_capacitors_share_their_charge_and_lose_the_rest():
    found = run(
        capacitor("full", "a", "m", 1e-3, 400.0),
        resistor("tie", "a", "b", 0.1),
        capacitor("empty", "b", "m", 1e-3),
        duration=0.01,
    )
    assert found.across("a", "m")[-1] == pytest.approx(200.0, rel=1e-9)
    assert found.taken["tie"] == pytest.approx(40.0, rel=1e-9)


# -- with inductance


@pytest.mark.arithmetic
def test_a_fault_current_rises_and_melts_a_fuse_as_the_closed_form_says():
    # 355 V, 0.116 ohm, 5 uH: I2t = I0^2 (t - 2 tau (1-e^-t/tau) + tau/2 (1-e^-2t/tau))
    ohms, tau = 0.116, 5e-6 / 0.116
    found = run(
        pack(355.0, 0.096),
        resistor("loop", "plus", "x", 0.02, 5e-6),
        resistor("fuse", "x", "minus", 0.0),
        duration=0.01,
        outputs=[0.0, tau, 1e-3, 5e-3],
        events=[When("i2t", "fuse", 20e3, {"fuse": None}, name="melts")],
    )
    assert found.currents["loop"][1] == pytest.approx(355.0 / ohms * (1.0 - exp(-1.0)), rel=1e-9)
    assert found.log[0].time == pytest.approx(2.200e-3, abs=5e-7)
    time = found.log[0].time
    square = (
        time - 2.0 * tau * (1.0 - exp(-time / tau)) + tau / 2.0 * (1.0 - exp(-2.0 * time / tau))
    )
    assert (355.0 / ohms) ** 2 * square == pytest.approx(20e3, rel=1e-9)
    assert found.squares["fuse"] == pytest.approx(20e3, rel=1e-9)
    assert found.log[0].arc_energy == pytest.approx(0.5 * 5e-6 * (355.0 / ohms) ** 2, rel=1e-9)
    assert found.currents["loop"][3] == 0.0
    assert found.imbalance < 1e-9


# 0.060 ohm, 5 uH, 1000 uF, 400 V: Z0 0.07071 ohm, damping 0.4243.
@pytest.mark.arithmetic
def test_a_skipped_precharge_peaks_at_3327_amps_after_88_microseconds():
    found = run(
        pack(),
        resistor("loop", "plus", "link_plus", 0.060, 5e-6),
        capacitor("link", *LINK, 1e-3),
        duration=0.01,
        peaks_of=["loop"],
        outputs=[0.0, 3e-5, 3e-4],
    )
    fall, swing = 0.060 / 1e-5, sqrt(1.0 / 5e-9 - (0.060 / 1e-5) ** 2)

    def current(time: float) -> float:
        return 400.0 / (swing * 5e-6) * exp(-fall * time) * sin(swing * time)

    top = atan2(swing, fall) / swing
    assert found.peaks["loop"] == (pytest.approx(3327.0, abs=0.5), pytest.approx(88.4e-6, abs=5e-8))
    assert found.peaks["loop"] == (
        pytest.approx(current(top), rel=1e-9),
        pytest.approx(top, rel=1e-8),
    )
    assert found.currents["loop"] == pytest.approx([current(t) for t in (0, 3e-5, 3e-4)], rel=1e-9)
    assert found.squares["loop"] == pytest.approx(1333.3, abs=0.05)
    assert found.squares["loop"] == pytest.approx(80.0 / 0.060, rel=1e-9)


@pytest.mark.arithmetic
def test_opening_a_loaded_contactor_leaves_its_arc_the_energy_of_the_whole_loop():
    found = run(
        pack(400.0, 0.1, 2e-6),
        resistor("cable", "plus", "x", 0.06, 5e-6),
        resistor("main", "x", "y", 1e-3),
        resistor("load", "y", "minus", 1.0, 1e-6),
        duration=1e-3,
        settled=True,
        events=[At(5e-4, {"main": None}, "opens")],
    )
    current = 400.0 / 1.161
    assert found.currents["cable"][0] == pytest.approx(current, rel=1e-12)
    assert found.log[0].arc_energy == pytest.approx(0.5 * 8e-6 * current**2, rel=1e-9)
    assert found.currents["cable"][-1] == 0.0
    assert found.imbalance < 1e-12


@pytest.mark.arithmetic
def test_an_inductance_with_a_way_round_the_switch_keeps_its_current():
    found = run(
        pack(400.0, 0.1),
        resistor("main", "plus", "x", 1e-3),
        Part("winding", "inductor", "x", "minus", 1e-3, 2.0),
        resistor("way_round", "x", "minus", 50.0),
        duration=1e-4,
        outputs=[0.0, 1e-5],
        settled=True,
        events=[At(0.0, {"main": None})],
    )
    current = found.currents["winding"]
    assert found.log[0].arc_energy == pytest.approx(0.0, abs=1e-12)
    assert current[1] == pytest.approx(current[0] * exp(-1e-5 * 52.0 / 1e-3), rel=1e-9)
    assert found.across("x", "minus")[0] == pytest.approx(-50.0 * current[0], rel=1e-9)


@pytest.mark.arithmetic
def test_the_inductance_of_a_fault_holds_the_energy_of_its_settled_current():
    parts = [
        pack(400.0, 0.05, 4e-6),
        resistor("one", "plus", "x", 0.004, 3e-6),
        resistor("two", "plus", "x", 0.007, 2e-6),
        resistor("back", "y", "minus", 0.003, 1e-6),
    ]
    seen = fault(Network(tuple(parts)), "x", "y")
    found = run(*parts, resistor("short", "x", "y", 0.0), duration=0.01)
    assert found.currents["short"][-1] == pytest.approx(seen.prospective, rel=1e-9)
    assert found.stored_at_end == pytest.approx(
        0.5 * seen.inductance * seen.prospective**2, rel=1e-9
    )
    # and the charge that is missing while it rises is that of one time constant
    missing = seen.prospective * 0.01 - found.given["pack"] / 400.0
    assert missing == pytest.approx(seen.prospective * seen.time_constant, rel=1e-9)


@pytest.mark.property
@given(st.integers(0, 10**9))
@settings(max_examples=25, deadline=None)
def test_every_joule_of_a_switched_circuit_is_accounted_for(seed):
    draw = random.Random(seed)
    parts = [
        pack(draw.uniform(50.0, 800.0), draw.uniform(0.02, 0.2), draw.uniform(0.0, 1e-5)),
        resistor("main", "plus", "bus", draw.uniform(1e-4, 1e-2)),
        resistor("cable", "bus", "link_plus", draw.uniform(1e-3, 0.1), draw.choice([0.0, 2e-6])),
        capacitor("link", *LINK, 10 ** draw.uniform(-5.0, -2.0), draw.uniform(0.0, 400.0)),
        resistor("bleed", *LINK, draw.uniform(1e2, 1e4)),
        Part("heater", "current", "bus", "minus", draw.uniform(0.0, 20.0)),
    ]
    off = {"main": None, "heater": None}
    second = resistor("second", "bus", "minus", draw.uniform(1.0, 10.0), draw.choice([0.0, 1e-6]))
    found = run(
        *parts,
        duration=0.05,
        events=[At(draw.uniform(0.0, 0.02), {"second": second}), At(draw.uniform(0.02, 0.05), off)],
        peaks_of=["cable"],
    )
    assert found.imbalance < 1e-9
    assert all(each.arc_energy >= -1e-9 for each in found.log)
    assert abs(found.peaks["cable"][0]) >= np.abs(found.currents["cable"]).max() * (1.0 - 1e-9)


# -- constant power


@pytest.mark.arithmetic
def test_a_converter_drains_a_link_by_the_square_root():
    # V dV = -P/C dt, so V^2 falls in a straight line
    seconds = [0.0, 0.01, 0.02, 0.03]
    found = run(
        capacitor("link", *LINK, 1e-3, 400.0),
        Part("dcdc", "power", *LINK, 2000.0, cutoff=50.0),
        duration=0.03,
        outputs=seconds,
    )
    expected = [sqrt(400.0**2 - 2.0 * 2000.0 / 1e-3 * time) for time in seconds]
    assert found.across(*LINK) == pytest.approx(expected, rel=1e-7)
    assert found.drawn["dcdc"] == pytest.approx(60.0, rel=1e-7)


@pytest.mark.arithmetic
def test_below_its_cutoff_a_converter_draws_as_a_resistance():
    found = run(
        capacitor("link", *LINK, 1e-3, 50.0),
        Part("dcdc", "power", *LINK, 500.0, cutoff=50.0),
        duration=0.01,
        outputs=[0.01],
    )
    assert found.across(*LINK)[0] == pytest.approx(50.0 * exp(-0.01 / (5.0 * 1e-3)), rel=1e-6)


@pytest.mark.arithmetic
def test_a_drive_behind_a_cable_agrees_with_a_tighter_integration():
    found = run(
        pack(400.0, 0.1, 4e-6),
        resistor("cable", "plus", "link_plus", 0.01, 2e-6),
        capacitor("link", *LINK, 1e-3, 400.0),
        Part("drive", "power", *LINK, 60e3, cutoff=100.0),
        duration=2e-3,
        outputs=21,
        events=[When("voltage", LINK, 390.0, {}, rising=False)],
    )

    def slope(_: float, y: np.ndarray) -> list[float]:
        return [(400.0 - 0.11 * y[0] - y[1]) / 6e-6, (y[0] - 60e3 / y[1]) / 1e-3]

    low = lambda _, y: y[1] - 390.0  # noqa: E731
    ours = solve_ivp(
        slope, (0.0, 2e-3), [0.0, 400.0], "DOP853", found.times, rtol=1e-12, atol=1e-12, events=low
    )
    assert found.currents["cable"] == pytest.approx(ours.y[0], rel=1e-6, abs=1e-4)
    assert found.across(*LINK) == pytest.approx(ours.y[1], rel=1e-7)
    assert found.log[0].time == pytest.approx(ours.t_events[0][0], rel=1e-6)
    assert found.imbalance < 1e-7


# -- five layouts with switching, each against equations written out by hand


def followed(slope, start, times, method="DOP853", **more):
    """Integrate hand-written equations far tighter than the comparison."""
    ends = (times[0], times[-1])
    return solve_ivp(slope, ends, start, method, times, rtol=1e-11, atol=1e-10, **more)


@pytest.mark.arithmetic
def test_a_single_box_precharges_closes_and_opens_as_its_own_equations_say():
    main = resistor("main", "plus", "link_plus", 1e-3, 5e-6)
    found = run(
        pack(400.0, 0.1),
        resistor("precharge", "plus", "link_plus", 50.0),
        capacitor("link", *LINK, 1e-3),
        resistor("bleed", *LINK, 2e4),
        duration=0.4,
        outputs=np.linspace(0.0, 0.4, 81),
        events=[
            When("voltage", LINK, 0.95, {"main": main}, relative_to=("plus", "minus")),
            At(0.3, {"main": None, "precharge": None}),
        ],
        peaks_of=["main"],
    )

    def charging(_: float, y: np.ndarray) -> list[float]:
        return [((400.0 - y[0]) / 50.1 - y[0] / 2e4) / 1e-3]

    def share(_: float, y: np.ndarray) -> float:
        return y[0] - 0.95 * (400.0 - 0.1 * (400.0 - y[0]) / 50.1)

    share.terminal = True
    first = followed(charging, [0.0], [0.0, 0.4], events=share)
    closed = first.t_events[0][0]
    assert found.log[0].time == pytest.approx(closed, rel=1e-8)

    def joined(_: float, y: np.ndarray) -> list[float]:
        # the pack's terminal feeds the precharge resistor and the main contactor together
        terminal = (400.0 / 0.1 + y[1] / 50.0 - y[0]) / (1.0 / 0.1 + 1.0 / 50.0)
        through = (terminal - y[1]) / 50.0
        return [(terminal - y[1] - 1e-3 * y[0]) / 5e-6, (y[0] + through - y[1] / 2e4) / 1e-3]

    times = found.times[(found.times >= closed) & (found.times < 0.3)]
    second = followed(joined, [0.0, first.y_events[0][0][0]], [closed, *times, 0.3])
    is_in = np.isin(found.times, times)
    assert found.across(*LINK)[is_in] == pytest.approx(second.y[1][1:-1], rel=1e-8)
    assert found.currents["main"][is_in] == pytest.approx(second.y[0][1:-1], rel=1e-5, abs=1e-5)
    later = found.times >= 0.3
    fall = second.y[1][-1] * np.exp(-(found.times[later] - 0.3) / 20.0)
    assert found.across(*LINK)[later] == pytest.approx(fall, rel=1e-8)
    assert found.imbalance < 1e-9


@pytest.mark.arithmetic
def test_a_split_pack_lets_go_of_link_and_chassis_when_its_disconnect_opens():
    found = run(
        Part("front", "source", "plus", "mid1", 180.0, 0.05),
        resistor("disconnect", "mid1", "mid2", 1e-3),
        Part("rear", "source", "mid2", "minus", 220.0, 0.06),
        Part("y_plus", "capacitor", "plus", "chassis", 1e-6, 0.5, start=200.0),
        Part("y_minus", "capacitor", "chassis", "minus", 1e-6, 0.5, start=200.0),
        resistor("leak_plus", "plus", "chassis", 2e6),
        resistor("leak_minus", "chassis", "minus", 5e4),
        resistor("cable", "plus", "link_plus", 0.02),
        capacitor("link", *LINK, 1e-3, 400.0),
        resistor("heater", *LINK, 20.0),
        duration=0.05,
        outputs=51,
        events=[At(0.01, {"disconnect": None})],
    )

    def slope(is_closed: bool):
        def rates(_: float, y: np.ndarray) -> list[float]:
            q, yp, ym = y
            # unknown: voltages of the poles to the chassis; currents into each pole sum to zero
            g, r = (1.0 / 0.111 if is_closed else 0.0), 1.0 / 0.5
            c = 1.0 / 0.02
            matrix = [[g + c + r + 5e-7, -g - c], [-g - c, g + c + r + 2e-5]]
            # minus also takes what the link gives back; the link holds q between its ends
            right = [g * 400.0 + c * q + r * yp, -g * 400.0 - c * q - r * ym]
            p, m = np.linalg.solve(matrix, right)
            feed = c * (p - m - q)
            return [(feed - q / 20.0) / 1e-3, r * (p - yp) / 1e-6, r * (-m - ym) / 1e-6]

        return rates

    before, after = found.times[found.times < 0.01], found.times[found.times >= 0.01]
    first = followed(slope(True), [400.0, 200.0, 200.0], [*before, 0.01], "LSODA")
    second = followed(slope(False), first.y[:, -1], after, "LSODA")
    whole = np.column_stack([first.y[:, :-1], second.y])
    assert found.across(*LINK) == pytest.approx(whole[0], rel=1e-7)
    halves = found.across("plus", "chassis") + found.across("chassis", "minus")
    assert found.across("plus", "minus") == pytest.approx(halves)
    held = whole[1] + 0.5 * found.currents["y_plus"]
    assert found.across("plus", "chassis") == pytest.approx(held, rel=1e-7)
    assert found.across("mid2", "minus")[-1] == pytest.approx(220.0)
    assert found.imbalance < 1e-9


@pytest.mark.arithmetic
def test_a_second_string_joined_too_high_melts_its_fuse_as_its_own_equations_say():
    limit = 15.0
    found = run(
        Part("string1", "source", "bus", "minus", 380.0, 0.06, 4e-6),
        capacitor("link", "bus", "minus", 1e-3, 374.0),
        Part("drive", "current", "bus", "minus", 100.0),
        duration=0.02,
        outputs=41,
        settled=True,
        events=[
            At(1e-3, {"string2": Part("string2", "source", "bus", "minus", 396.0, 0.08, 6e-6)}),
            When("i2t", "string2", limit, {"string2": None}, name="string fuse"),
        ],
    )

    def slope(_: float, y: np.ndarray) -> list[float]:
        i1, i2, q, _square = y
        return [
            (380.0 - 0.06 * i1 - q) / 4e-6,
            (396.0 - 0.08 * i2 - q) / 6e-6,
            (i1 + i2 - 100.0) / 1e-3,
            i2 * i2,
        ]

    def melted(_: float, y: np.ndarray) -> float:
        return y[3] - limit

    melted.terminal = True
    ours = followed(slope, [100.0, 0.0, 374.0, 0.0], [1e-3, 0.02], events=melted)
    melts = ours.t_events[0][0]
    assert found.log[1].time == pytest.approx(melts, rel=1e-8)
    i1, i2, q, _square = ours.y_events[0][0]
    assert found.log[1].arc_energy == pytest.approx(0.5 * 6e-6 * i2**2, rel=1e-7)

    def alone(_: float, y: np.ndarray) -> list[float]:
        return [(380.0 - 0.06 * y[0] - y[1]) / 4e-6, (y[0] - 100.0) / 1e-3]

    times = found.times[found.times > melts]
    rest = followed(alone, [i1, q], [melts, *times])
    is_in = found.times > melts
    assert -found.currents["string1"][is_in] == pytest.approx(rest.y[0][1:], rel=1e-7)
    assert found.across("bus", "minus")[is_in] == pytest.approx(rest.y[1][1:], rel=1e-9)
    assert found.imbalance < 1e-9


@pytest.mark.arithmetic
def test_two_motors_share_a_pack_while_one_goes_over_to_regeneration():
    regenerating = Part("rear_drive", "power", "rear", "minus", -15e3, cutoff=100.0)
    found = run(
        pack(700.0, 0.15, 3e-6),
        resistor("front_cable", "plus", "front", 3e-3, 2e-6),
        resistor("rear_cable", "plus", "rear", 1e-3, 1e-6),
        capacitor("front_link", "front", "minus", 8e-4, 700.0),
        capacitor("rear_link", "rear", "minus", 5e-4, 700.0),
        Part("front_drive", "power", "front", "minus", 60e3, cutoff=100.0),
        Part("rear_drive", "power", "rear", "minus", 40e3, cutoff=100.0),
        duration=4e-3,
        outputs=41,
        events=[At(2e-3, {"rear_drive": regenerating})],
    )

    def slope(rear_power: float):
        def rates(_: float, y: np.ndarray) -> list[float]:
            i1, i2, q1, q2 = y
            i0 = i1 + i2
            # the bus voltage that keeps the three currents adding up
            pushes = (700.0 - 0.15 * i0) / 3e-6 + (3e-3 * i1 + q1) / 2e-6 + (1e-3 * i2 + q2) / 1e-6
            bus = pushes / (1.0 / 3e-6 + 1.0 / 2e-6 + 1.0 / 1e-6)
            return [
                (bus - 3e-3 * i1 - q1) / 2e-6,
                (bus - 1e-3 * i2 - q2) / 1e-6,
                (i1 - 60e3 / q1) / 8e-4,
                (i2 - rear_power / q2) / 5e-4,
            ]

        return rates

    half = found.times[found.times < 2e-3]
    first = followed(slope(40e3), [0.0, 0.0, 700.0, 700.0], [*half, 2e-3])
    second = followed(slope(-15e3), first.y[:, -1], found.times[len(half) :])
    whole = np.column_stack([first.y[:, :-1], second.y])
    assert found.currents["front_cable"] == pytest.approx(whole[0], rel=2e-6, abs=2e-4)
    assert found.currents["rear_cable"] == pytest.approx(whole[1], rel=2e-6, abs=2e-4)
    assert found.across("front", "minus") == pytest.approx(whole[2], rel=1e-7)
    assert found.across("rear", "minus") == pytest.approx(whole[3], rel=1e-7)
    assert found.imbalance < 1e-7


@pytest.mark.arithmetic
def test_a_station_behind_inlet_contactors_charges_and_lets_go():
    ramp = Part("station", "current", "inlet", "minus", -125.0)
    found = run(
        pack(380.0, 0.1),
        capacitor("station_output", "inlet", "minus", 5e-5, 386.0),
        capacitor("link", "plus", "minus", 1e-3, 380.0),
        duration=0.02,
        outputs=41,
        events=[
            At(1e-3, {"k_inlet": resistor("k_inlet", "inlet", "plus", 4e-3, 3e-6)}),
            At(5e-3, {"station": ramp}),
            At(15e-3, {"k_inlet": None, "station": None}),
        ],
        peaks_of=["k_inlet"],
    )

    def slope(amps: float):
        def rates(_: float, y: np.ndarray) -> list[float]:
            i, station, q = y
            return [
                (station - 4e-3 * i - q) / 3e-6,
                (amps - i) / 5e-5,
                (i + (380.0 - q) / 0.1) / 1e-3,
            ]

        return rates

    pieces, state = [], [0.0, 386.0, 380.0]
    for start, end, amps in ((1e-3, 5e-3, 0.0), (5e-3, 15e-3, 125.0)):
        inside = found.times[(found.times >= start) & (found.times < end)]
        ours = followed(slope(amps), state, np.union1d(inside, [start, end]))
        pieces.append(ours.y[:, np.isin(ours.t, inside)])
        state = ours.y[:, -1]
    whole = np.column_stack(pieces)
    is_in = (found.times >= 1e-3) & (found.times < 15e-3)
    assert found.currents["k_inlet"][is_in] == pytest.approx(whole[0], rel=1e-6, abs=1e-5)
    assert found.across("inlet", "minus")[is_in] == pytest.approx(whole[1], rel=1e-8)
    assert found.across("plus", "minus")[is_in] == pytest.approx(whole[2], rel=1e-8)
    assert found.log[2].arc_energy == pytest.approx(0.5 * 3e-6 * state[0] ** 2, rel=1e-6)
    assert found.across("inlet", "minus")[-1] == pytest.approx(state[1], rel=1e-8)
    assert found.imbalance < 1e-9


# -- events, and what cannot be followed


@pytest.mark.property
def test_a_condition_that_holds_at_the_outset_acts_at_once():
    found = run(
        pack(),
        resistor("precharge", "plus", "link_plus", 50.0),
        capacitor("link", *LINK, 1e-3, 399.0),
        duration=0.1,
        events=[When("voltage", LINK, 0.95, {"precharge": None}, relative_to=("plus", "minus"))],
    )
    assert found.log[0].time == 0.0
    assert found.across(*LINK)[-1] == pytest.approx(399.0)


@pytest.mark.property
def test_a_condition_waits_until_it_is_armed():
    found = run(
        capacitor("link", *LINK, 1e-3, 10.0),
        resistor("bleed", *LINK, 2e4),
        duration=5.0,
        events=[When("voltage", LINK, 60.0, {}, rising=False, armed=2.0)],
    )
    assert [each.time for each in found.log] == [2.0]


@pytest.mark.property
def test_a_run_goes_on_where_another_left_off():
    parts = (capacitor("link", *LINK, 1e-3, 400.0), resistor("bleed", *LINK, 2e4))
    whole = run(*parts, duration=10.0, outputs=[10.0])
    first = run(*parts, duration=4.0, outputs=0)
    second = run_transient(first.final, duration=6.0, outputs=[6.0])
    assert second.across(*LINK) == pytest.approx(whole.across(*LINK), rel=1e-12)


@pytest.mark.property
@pytest.mark.parametrize(
    ("parts", "text"),
    [
        (
            [pack(), capacitor("link", "plus", "minus", 1e-3)],
            "a loop without resistance: link, pack|a loop without resistance: pack, link",
        ),
        (
            [pack(400.0, 0.1, 1e-6), Part("drive", "power", "plus", "minus", 1e3, cutoff=50.0)],
            "drive: a constant-power part needs a capacitor",
        ),
        (
            [pack(400.0, 0.1), Part("drive", "power", "plus", "minus", 1e3)],
            "drive: a power part needs a cutoff voltage",
        ),
        (
            [pack(400.0, 5.0), Part("drive", "power", "plus", "minus", 1e3, cutoff=50.0)],
            "drive: its supply is too weak at its cutoff of 50 V",
        ),
        (
            [pack(400.0, 0.1), Part("station", "current", "far", "minus", -10.0)],
            "station: its current has no way back",
        ),
    ],
    ids=["capacitor on a source", "no capacitor", "no cutoff", "weak supply", "current to nothing"],
)
def test_what_cannot_be_followed_is_named(parts, text):
    with pytest.raises(NetworkError, match=text):
        run(*parts, duration=1.0)


@pytest.mark.property
@pytest.mark.parametrize(
    ("event", "text"),
    [
        (At(0.1, {"man": None}), "changes 'man', which is no part"),
        (When("current", "fues", 1.0, {}), "watches 'fues', which is no part"),
        (When("voltage", ("plus", "lnk"), 1.0, {}), "watches 'lnk', which is no node"),
    ],
    ids=["part", "watched part", "watched node"],
)
def test_an_event_on_what_is_not_there_is_refused(event, text):
    with pytest.raises(NetworkError, match=text):
        run(pack(400.0, 0.1), resistor("r", "plus", "minus", 1.0), duration=1.0, events=[event])
