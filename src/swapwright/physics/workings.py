"""Every working of the physics, in one list: what a figure may be made with."""

from __future__ import annotations

from swapwright.base.figure import Working
from swapwright.physics.circuit import (
    arc,
    arc_flash,
    body,
    carried,
    conductor,
    conductor_heat,
    conductor_rating,
    contactor,
    discharge,
    fault_current,
    fuse,
    insulation,
    isolation,
    precharge,
    precharge_resistor,
    voltmeter_method,
    y_capacitor,
)
from swapwright.physics.cooling import flow, heat, warmth
from swapwright.physics.drive import (
    gearing,
    inverter,
    limit,
    motor,
    motor_loss,
    motor_voltage,
    regen,
    thermal,
)
from swapwright.physics.low_voltage import battery, budget, wire
from swapwright.physics.network import frame, response, termination
from swapwright.physics.pack import (
    cell,
    charge,
    charge_time,
    layout,
    pack,
    power,
    salvage,
    shape,
    supply,
    window,
)
from swapwright.physics.vehicle import (
    air,
    brake_heat,
    braking,
    consumption,
    corner,
    cost,
    height,
    performance,
    restraint,
    road_load,
    rotating,
    spring,
    traction,
    tyre,
    vacuum,
    weight,
)

ALL: tuple[Working, ...] = (
    # the car on the road
    *air.WORKINGS,
    *road_load.WORKINGS,
    *rotating.WORKINGS,
    *tyre.WORKINGS,
    *weight.WORKINGS,
    *height.WORKINGS,
    *corner.WORKINGS,
    *spring.WORKINGS,
    *braking.WORKINGS,
    *brake_heat.WORKINGS,
    *restraint.WORKINGS,
    *cost.WORKINGS,
    *traction.WORKINGS,
    *performance.WORKINGS,
    *consumption.WORKINGS,
    # motor, inverter, gears
    *motor.WORKINGS,
    *motor_voltage.WORKINGS,
    *motor_loss.WORKINGS,
    *inverter.WORKINGS,
    *limit.WORKINGS,
    *gearing.WORKINGS,
    *thermal.WORKINGS,
    *regen.WORKINGS,
    # cells and pack
    *cell.WORKINGS,
    *layout.WORKINGS,
    *shape.WORKINGS,
    *pack.WORKINGS,
    *power.WORKINGS,
    *window.WORKINGS,
    *charge.WORKINGS,
    *salvage.WORKINGS,
    *charge_time.WORKINGS,
    *supply.WORKINGS,
    # the network
    *frame.WORKINGS,
    *response.WORKINGS,
    *termination.WORKINGS,
    # the high-voltage circuit
    *carried.WORKINGS,
    *conductor.WORKINGS,
    *conductor_rating.WORKINGS,
    *conductor_heat.WORKINGS,
    # fuses, contactors, precharge, discharge
    *fault_current.WORKINGS,
    *fuse.WORKINGS,
    *contactor.WORKINGS,
    *precharge.WORKINGS,
    *precharge_resistor.WORKINGS,
    *discharge.WORKINGS,
    *y_capacitor.WORKINGS,
    *isolation.WORKINGS,
    *voltmeter_method.WORKINGS,
    *insulation.WORKINGS,
    *body.WORKINGS,
    *arc_flash.WORKINGS,
    *arc.WORKINGS,
    # cooling
    *flow.WORKINGS,
    *heat.WORKINGS,
    *warmth.WORKINGS,
    # the 12 V side and the brakes' vacuum
    *budget.WORKINGS,
    *battery.WORKINGS,
    *wire.WORKINGS,
    *vacuum.WORKINGS,
)
