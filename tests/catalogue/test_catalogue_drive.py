"""The built-in motors, inverters, gearboxes and chargers obey their kind's habits."""

from __future__ import annotations

from itertools import pairwise
from math import sqrt

import numpy as np
import pytest

from swapwright.base.table import Line
from swapwright.catalogue.read import Catalogue, Part
from swapwright.physics.drive.motor_loss import MotorTerms, motor_losses

CATALOGUE = Catalogue()
MOTORS = CATALOGUE.names("motor")
INVERTERS = CATALOGUE.names("inverter")

# Peak efficiency, and kW per kg at peak: motor-typical-pm, -induction, -dc.
EFFICIENCY = {"permanent-magnet": (0.94, 0.97), "induction": (0.90, 0.94), "dc": (0.80, 0.88)}
POWER_BY_MASS = {"permanent-magnet": (1.0, 2.6), "induction": (0.9, 2.0), "dc": (0.5, 1.0)}
WARM = 353.15

# A motor, and the inverter or chopper meant to drive it.
PAIRS = (
    ("pm-radial-75kw", "inverter-400v-300a"),
    ("pm-interior-85kw", "inverter-400v-350a"),
    ("pm-interior-120kw", "inverter-400v-400a"),
    ("pm-interior-150kw", "inverter-700v-300a"),
    ("pm-interior-200kw", "inverter-400v-600a"),
    ("pm-axial-90kw", "inverter-400v-300a"),
    ("pm-radial-15kw", "inverter-72v-300a"),
    ("induction-30kw", "inverter-110v-400a"),
    ("induction-60kw", "inverter-144v-500a"),
    ("induction-120kw", "inverter-400v-400a"),
    ("dc-series-55kw", "chopper-144v-500a"),
    ("dc-sepex-12kw", "chopper-48v-300a"),
)


@pytest.mark.guard
@pytest.mark.parametrize(("motor_name", "inverter_name"), PAIRS)
def test_a_motor_and_the_inverter_meant_for_it_are_of_one_kind(motor_name, inverter_name):
    motor = CATALOGUE.get("motor", motor_name)
    assert motor.texts["kind"] in CATALOGUE.get("inverter", inverter_name).words["drives"]


@pytest.mark.guard
def test_every_inverter_says_what_it_drives_and_every_dc_motor_how_it_is_wound():
    for name in INVERTERS:
        assert CATALOGUE.get("inverter", name).words["drives"], name
    for name in MOTORS:
        texts = CATALOGUE.get("motor", name).texts
        assert ("winding" in texts) == (texts["kind"] == "dc"), name


@pytest.fixture(params=MOTORS)
def motor(request: pytest.FixtureRequest) -> Part:
    return CATALOGUE.get("motor", request.param)


@pytest.fixture(params=INVERTERS)
def inverter(request: pytest.FixtureRequest) -> Part:
    return CATALOGUE.get("inverter", request.param)


def envelope(motor: Part) -> Line:
    table = motor.tables["envelope"]
    assert isinstance(table, Line)
    return table


def terms(motor: Part) -> MotorTerms:
    optional = ("back_emf", "no_load_current", "brush_drop")
    needed = (
        "peak_power",
        "peak_torque",
        "max_speed",
        "test_voltage",
        "torque_per_amp",
        "phase_resistance",
        "iron_linear",
        "iron_square",
        "drag_linear",
        "drag_cubic",
    )
    numbers = {key: motor.values[key].si for key in needed}
    numbers |= {key: motor.values[key].si for key in optional if key in motor.values}
    return MotorTerms(kind=motor.texts["kind"], **numbers)


def efficiencies(motor: Part) -> np.ndarray:
    """Return the efficiency over speed and torque inside the envelope, 0 outside."""
    line = envelope(motor)
    speeds = np.linspace(0.05, 1.0, 40) * line.x[-1]
    torques = np.linspace(0.02, 1.0, 40) * line.y[0]
    losses = motor_losses(
        terms=terms(motor),
        speeds=speeds,
        torques=torques,
        dc_voltage=motor.values["test_voltage"].si,
        winding_temperature=WARM,
    ).total
    power = speeds[:, np.newaxis] * torques
    limit = np.interp(speeds, line.x, line.y)[:, np.newaxis]
    return np.where(torques <= limit, power / (power + losses), 0.0)


@pytest.mark.arithmetic
def test_peak_torque_never_rises_with_speed(motor):
    line = envelope(motor)
    assert len(line.x) >= 8
    assert line.x[0] == 0.0
    assert line.x[-1] == pytest.approx(motor.values["max_speed"].si)
    assert line.y[0] == pytest.approx(motor.values["peak_torque"].si)
    assert all(before >= after > 0.0 for before, after in pairwise(line.y))


@pytest.mark.arithmetic
def test_the_envelope_reaches_the_peak_power_and_no_more(motor):
    line = envelope(motor)
    power = max(speed * torque for speed, torque in zip(line.x, line.y, strict=True))
    assert power == pytest.approx(motor.values["peak_power"].si, rel=0.01)


@pytest.mark.arithmetic
def test_continuous_ratings_stay_below_peak(motor):
    values = motor.values
    assert 0.2 <= values["continuous_power"].si / values["peak_power"].si <= 0.6
    assert 0.25 <= values["continuous_torque"].si / values["peak_torque"].si <= 0.6
    corner = values["continuous_power"].si / values["continuous_torque"].si
    assert corner < values["max_speed"].si


@pytest.mark.arithmetic
def test_peak_efficiency_is_that_of_the_kind(motor):
    low, high = EFFICIENCY[motor.texts["kind"]]
    assert low <= efficiencies(motor).max() <= high


@pytest.mark.arithmetic
def test_no_point_of_the_envelope_asks_more_current_than_peak_torque(motor):
    line = envelope(motor)
    losses = motor_losses(
        terms=terms(motor),
        speeds=np.array(line.x),
        torques=np.array(line.y),
        dc_voltage=motor.values["test_voltage"].si,
        winding_temperature=WARM,
    )
    peak = motor.values["peak_torque"].si / motor.values["torque_per_amp"].si
    assert np.diag(losses.current).max() <= 1.02 * peak


@pytest.mark.arithmetic
def test_magnets_make_the_torque_their_back_emf_promises(motor):
    # T per ampere rms = sqrt(3/2) x line-to-line peak back-EMF constant, up to 1.45 times that
    # with reluctance torque.
    if motor.texts["kind"] == "permanent-magnet":
        magnets = sqrt(1.5) * motor.values["back_emf"].si
        share = motor.values["torque_per_amp"].si / magnets
        assert share >= 0.999
        assert share < (1.45 if "interior" in motor.name else 1.1)


@pytest.mark.arithmetic
def test_a_motor_weighs_what_its_kind_weighs(motor):
    low, high = POWER_BY_MASS[motor.texts["kind"]]
    assert low <= motor.values["peak_power"].si / 1e3 / motor.values["mass"].si <= high


@pytest.mark.arithmetic
def test_induction_torque_falls_with_the_square_of_speed_at_the_end():
    for name in MOTORS:
        motor = CATALOGUE.get("motor", name)
        if motor.texts["kind"] == "induction":
            line = envelope(motor)
            before, after = line.x[-2], line.x[-1]
            fall = np.log(line.y[-2] / line.y[-1]) / np.log(after / before)
            assert 1.8 <= fall <= 2.1


@pytest.mark.arithmetic
@pytest.mark.parametrize(("motor_name", "inverter_name"), PAIRS)
def test_an_inverter_feeds_the_motor_it_is_meant_for(motor_name, inverter_name):
    motor, inverter = CATALOGUE.get("motor", motor_name), CATALOGUE.get("inverter", inverter_name)
    current = motor.values["peak_torque"].si / motor.values["torque_per_amp"].si
    assert current <= inverter.values["phase_current_limit"].si
    voltage = motor.values["test_voltage"].si
    assert inverter.values["min_voltage"].si <= voltage <= inverter.values["max_voltage"].si


@pytest.mark.arithmetic
def test_every_motor_has_an_inverter_in_the_catalogue():
    assert {motor for motor, _ in PAIRS} == set(MOTORS)


@pytest.mark.arithmetic
def test_an_inverter_survives_more_than_it_runs_at(inverter):
    values = inverter.values
    assert values["min_voltage"].si < values["max_voltage"].si
    assert values["max_voltage"].si < values["absolute_max_voltage"].si
    assert values["phase_current_continuous"].si < values["phase_current_limit"].si
    assert 1e-4 < values["link_capacitance"].si < 1e-2


@pytest.mark.arithmetic
@pytest.mark.parametrize("share", [0.25, 0.5, 1.0])
def test_an_inverter_loses_one_to_five_percent_under_load(inverter, share):
    # Power at full modulation and a power factor of 0.8; a chopper passes voltage times current.
    values = inverter.values
    current = share * values["phase_current_limit"].si
    voltage = (values["min_voltage"].si + values["max_voltage"].si) / 2.0
    phases = 0.8 * sqrt(1.5) if inverter.name.startswith("inverter") else 0.8
    power = phases * voltage * current
    loss = (
        values["loss_fixed"].si
        + values["loss_linear"].si * current
        + values["loss_square"].si * current**2
    )
    assert 0.95 <= power / (power + loss) <= 0.991


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CATALOGUE.names("gearbox"))
def test_gears_stand_lowest_first_and_the_used_ones_exist(name):
    box = CATALOGUE.get("gearbox", name)
    ratios = [ratio.si for ratio in box.numbers["ratios"]]
    assert ratios == sorted(ratios, reverse=True)
    assert all(1 <= gear.si <= len(ratios) for gear in box.numbers.get("use", ()))
    assert box.flags.get("kept", False) == ("speed" in name)
    assert 0.95 <= box.values["efficiency"].si < 1.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("kind", ["charger", "dcdc"])
def test_chargers_and_converters_have_a_window_and_lose_a_little(kind):
    for name in CATALOGUE.names(kind):
        values = CATALOGUE.get(kind, name).values
        assert values["min_voltage"].si < values["max_voltage"].si
        assert 0.88 <= values["efficiency"].si <= 0.95
        if "max_current" in values:
            full = values["power"].si / values["max_current"].si
            assert values["min_voltage"].si < full < values["max_voltage"].si
