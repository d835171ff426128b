"""The drive units in one time step: torque limits, losses, gear choice, regeneration.

Torque available at a speed is the least of the envelope (its speed axis scaled by the dc voltage
over the voltage it was measured at), the torque cap, peak power over speed, and what heat leaves.
Losses come from maps made beforehand, so a physical loss model and a user's efficiency map run
through the same step.

Signs: torque and electrical power driving the car are positive.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import inlined

FloatArray = NDArray[np.float64]


class Regen(NamedTuple):
    """What the motors may take of the braking.

    ``share`` of the braking force; ``force_limit`` N at the wheels; fades in between half and one
    and a half times a speed whose inverse is ``per_fade_speed`` s/m; none above ``max_soc`` or
    below ``min_cell_temperature`` K.
    """

    share: float
    force_limit: float
    per_fade_speed: float
    max_soc: float
    min_cell_temperature: float


class Unit(NamedTuple):
    """One drive unit: motor, inverter and gears.

    ``gears`` count; ``speed_ratio`` [gear] rad/s of motor per m/s of road; ``efficiency`` [gear] of
    the gears; ``drag`` N.m at the motor; ``inertia`` kg.m^2 at the motor; ``max_speed`` rad/s;
    ``torque_cap`` N.m (motor, phase current, gearbox and software); ``peak_power``,
    ``continuous_power`` W; ``continuous_torque`` N.m; ``envelope`` [point] N.m over speed x test
    voltage / dc voltage with ``per_envelope_step`` points per rad/s; ``test_voltage`` V; ``loss``
    [speed, torque, 2] W in motor and inverter, with ``per_loss_speed_step`` rows per rad/s and
    ``per_loss_torque_step`` columns per N.m from -``loss_max_torque`` up; ``share`` of the wheel
    force; for motor and inverter: warming K/J, conductance W/K, the temperature K that leaves
    continuous torque only, and the derating per K below it; ``gear_share`` [gear] is the share of
    ``torque_cap`` the controller allows in it.
    """

    gears: int
    speed_ratio: FloatArray
    efficiency: FloatArray
    drag: float
    inertia: float
    max_speed: float
    torque_cap: float
    peak_power: float
    continuous_torque: float
    continuous_power: float
    test_voltage: float
    envelope: FloatArray
    per_envelope_step: float
    loss: FloatArray
    per_loss_speed_step: float
    loss_max_torque: float
    per_loss_torque_step: float
    share: float
    motor_warming: float
    motor_conductance: float
    motor_max_temperature: float
    motor_derating: float
    inverter_warming: float
    inverter_conductance: float
    inverter_max_temperature: float
    inverter_derating: float
    gear_share: FloatArray


class Drive(NamedTuple):
    """One or two drive units (``second`` repeats the first where there is one).

    ``shift_time`` s without torque between two gears; ``ratio_scale`` multiplies every speed ratio
    (a batch varies it). ``is_held_back`` tells whether the controller has limits of its own: the
    units' ``gear_share``, and ``by_soc`` and ``by_cell`` [point, 2], the share of the torque cap
    allowed over state of charge and over cell temperature K, rising; one point limits nothing.
    ``pedal_share`` is the share of that which the pedal asks for where it stands.
    """

    units: int
    first: Unit
    second: Unit
    shift_time: float
    ratio_scale: float
    is_held_back: bool
    by_soc: FloatArray
    by_cell: FloatArray
    pedal_share: float


class Left(NamedTuple):
    """What is left of a unit's torque: by heat, see `heat_factor`, and by the controller's limits.

    ``share`` is that of the torque cap.
    """

    heat: float
    share: float


class Mesh(NamedTuple):
    """One drive unit in a gear.

    ``ratio`` rad/s of motor per m/s of road; motor torque N.m per N of driving and of braking
    force at the road, with the gears' efficiency; the share of the torque cap allowed in it.
    """

    ratio: float
    driving: float
    braking: float
    share: float


class Shaft(NamedTuple):
    """One drive unit at a point: electrical power W, losses W, and the torque it gives."""

    electrical: float
    motor_loss: float
    inverter_loss: float
    driveline_loss: float
    torque: float


@inlined
def heat_factor(unit: Unit, motor_temperature: float, inverter_temperature: float) -> float:
    """Return what heat leaves: 1 peak allowed, 0 continuous only, below 0 less than continuous.

    Temperatures K of the motor's winding and the inverter. Source: motor-derate-line-assumed.
    """
    motor = (unit.motor_max_temperature - motor_temperature) * unit.motor_derating
    inverter = (unit.inverter_max_temperature - inverter_temperature) * unit.inverter_derating
    return max(min(motor, inverter, 1.0), -1.0)


@inlined
def share_at(table: FloatArray, place: float) -> float:
    """Return the share a controller's limit allows at a place: straight between its points."""
    last = table.shape[0] - 1
    if last < 1:
        return 1.0
    if place <= table[0, 0]:
        return float(table[0, 1])
    for i in range(last):
        if place <= table[i + 1, 0]:
            along = (place - table[i, 0]) / (table[i + 1, 0] - table[i, 0])
            return float(table[i, 1] + (table[i + 1, 1] - table[i, 1]) * along)
    return float(table[last, 1])


@inlined
def torque_available(
    unit: Unit, speed: float, volts: float, left: Left, gear_share: float
) -> tuple[float, float]:
    """Return the largest motor torque N.m at a motor speed rad/s and dc voltage V, and its limit.

    ``gear_share`` is that of the torque cap allowed in the gear. The limit is a code of
    `simulate.inputs.LIMITS`.
    """
    if speed > unit.max_speed:
        return 0.0, 8.0
    heat = left.heat
    share = left.share * gear_share
    torque = unit.torque_cap * share
    limit = 2.0 if share >= 1.0 else 11.0
    points = unit.envelope.shape[0] - 1
    place = min(speed * unit.test_voltage * unit.per_envelope_step / max(volts, 1.0), 1.0 * points)
    i = max(min(int(place), points - 1), 0)
    reach = unit.envelope[i]
    reach += (place - i) * (unit.envelope[i + 1] - reach)
    if reach < torque:
        torque = reach
        limit = 4.0
    by_power = unit.peak_power / max(speed, 1.0)
    if by_power < torque:
        torque = by_power
        limit = 3.0
    if heat < 1.0:
        lasting = min(unit.continuous_torque, unit.continuous_power / max(speed, 1.0))
        lasting = min(lasting, torque)
        hot = lasting + (torque - lasting) * heat if heat > 0.0 else lasting * (1.0 + heat)
        if hot < torque:
            torque = hot
            limit = 9.0
    return torque, limit


@inlined
def mesh(unit: Unit, scale: float, gear: int) -> Mesh:
    """Return a unit's ratio in a gear; ``scale`` is the drive's ratio scale."""
    ratio = unit.speed_ratio[gear] * scale
    efficiency = unit.efficiency[gear]
    driving, braking = 1.0 / (ratio * efficiency), efficiency / ratio
    return Mesh(ratio, driving, braking, unit.gear_share[gear])


@inlined
def shaft(unit: Unit, meshed: Mesh, road_speed: float, force: float) -> Shaft:
    """Return what one unit takes to put a force N on the road at a road speed m/s in a gear.

    A negative force is regeneration: the gears' loss then helps to brake. Source: gear-loss-form.
    """
    speed = meshed.ratio * road_speed
    torque = force * (meshed.driving if force > 0.0 else meshed.braking) + unit.drag

    places = unit.loss.shape[0] - 1
    place = min(speed * unit.per_loss_speed_step, places - 1e-9)
    i = max(int(place), 0)
    wi = place - i
    columns = unit.loss.shape[1] - 1
    place = (torque + unit.loss_max_torque) * unit.per_loss_torque_step
    place = min(max(place, 0.0), columns - 1e-9)
    j = max(int(place), 0)
    wj = place - j
    w00 = (1.0 - wi) * (1.0 - wj)
    w01 = (1.0 - wi) * wj
    w10 = wi * (1.0 - wj)
    w11 = wi * wj
    low = unit.loss[i]
    high = unit.loss[i + 1]
    motor = w00 * low[j, 0] + w01 * low[j + 1, 0]
    motor += w10 * high[j, 0] + w11 * high[j + 1, 0]
    inverter = w00 * low[j, 1] + w01 * low[j + 1, 1]
    inverter += w10 * high[j, 1] + w11 * high[j + 1, 1]
    mechanical = torque * speed
    return Shaft(
        mechanical + motor + inverter,
        motor,
        inverter,
        mechanical - force * road_speed,
        torque,
    )


@inlined
def force_available(
    unit: Unit, meshed: Mesh, road_speed: float, volts: float, left: Left
) -> tuple[float, float]:
    """Return the largest road force N one unit gives in a gear, and what limits it."""
    torque, limit = torque_available(unit, meshed.ratio * road_speed, volts, left, meshed.share)
    return max(torque - unit.drag, 0.0) / meshed.driving, limit


@inlined
def regen_available(unit: Unit, meshed: Mesh, road_speed: float, volts: float, left: Left) -> float:
    """Return the largest (positive) braking force N one unit gives at the road in a gear.

    Drag and the gears' loss help to brake; the controller's limits are those of driving.
    """
    hot = Left(left.heat, 1.0)
    torque, _ = torque_available(unit, meshed.ratio * road_speed, volts, hot, 1.0)
    return (torque + unit.drag) / meshed.braking


@inlined
def regen_force(regen: Regen, braking: float, road_speed: float) -> float:
    """Return the (positive) force N the motors are asked to take of a braking force N.

    Sources: regen-blending-form, regen-fade-assumed.
    """
    fade = min(max(road_speed * regen.per_fade_speed - 0.5, 0.0), 1.0)
    return min(braking * regen.share, regen.force_limit) * fade
