"""The Field rows of a build file's road-going half: car, goals, conditions, drive, pack.

One table feeds loading, schema, form, help, docs and error texts; there is no second list.
The high-voltage and shop half stands in `fields_systems`.
"""

from __future__ import annotations

from swapwright.base.field import Field

CAR = (
    Field("format", "count", "format of this file", low=1, high=1, default=1, default_source="format-1"),
    Field("car.name", "text", "name of the car"),
    Field("car.mark", "text", "the owner's own mark of this version"),
    Field("car.body", "text", "body"),
    Field("car.kerb_mass", "mass", "kerb mass of the donor", low=150.0, high=20000.0),
    Field("car.axle_mass.front", "mass", "donor's front axle load", low=0.0, high=15000.0),
    Field("car.axle_mass.rear", "mass", "donor's rear axle load", low=0.0, high=15000.0),
    Field("car.corner_mass.front_left", "mass", "donor's left front corner, on its pad", low=20.0, high=7500.0),
    Field("car.corner_mass.front_right", "mass", "donor's right front corner, on its pad", low=20.0, high=7500.0),
    Field("car.corner_mass.rear_left", "mass", "donor's left rear corner, on its pad", low=20.0, high=7500.0),
    Field("car.corner_mass.rear_right", "mass", "donor's right rear corner, on its pad", low=20.0, high=7500.0),
    Field("car.springs.front", "spring_rate", "front spring rate at the wheel", low=2e3, high=5e5),
    Field("car.springs.rear", "spring_rate", "rear spring rate at the wheel", low=2e3, high=5e5),
    Field("car.limits.wheel", "mass", "load one wheel (the rim) is made for", low=50.0, high=5000.0),
    Field("car.limits.gross", "mass", "gross vehicle mass on the plate", low=150.0, high=44000.0),
    Field("car.limits.front_axle", "mass", "front axle limit on the plate", low=50.0, high=20000.0),
    Field("car.limits.rear_axle", "mass", "rear axle limit on the plate", low=50.0, high=20000.0),
    Field("car.wheelbase", "length", "wheelbase", low=0.8, high=8.0),
    Field("car.track", "length", "track", low=0.5, high=3.0),
    Field("car.cg_height", "length", "height of the donor's centre of gravity", low=0.1, high=2.0),
    Field("car.test_mass", "mass", "mass as driven, if not kerb plus occupants (a certification test's mass)", low=150.0, high=44000.0),
    Field("car.rotating_factor", "ratio", "rotating mass factor", "effective mass over mass, without the motor", low=1.0, high=1.5, default=1.03, default_source="sae-j2263-rotating-mass"),
    Field("car.tyres", "text", "tyre size as on the sidewall"),
    Field("car.rolling_radius", "length", "rolling radius, if measured", low=0.1, high=1.0),
    Field("car.road_load.cd_a", "area", "drag area Cd·A", low=0.05, high=15.0),
    Field("car.road_load.c_rr", "ratio", "rolling resistance coefficient", low=0.003, high=0.08),
    Field("car.road_load.a", "force", "coast-down coefficient A", low=-200.0, high=5000.0),
    Field("car.road_load.b", "force_per_speed", "coast-down coefficient B", low=-50.0, high=200.0),
    Field("car.road_load.c", "force_per_speed_square", "coast-down coefficient C", low=0.01, high=20.0),
    Field("car.road_load.mass", "mass", "mass of the car in the coast-down, if not the mass as driven", low=150.0, high=44000.0),
    Field("car.driven_axle", "choice", "driven axle", choices=("front", "rear", "all")),
    Field("car.grip", "ratio", "tyre grip on the road", low=0.05, high=1.5, default=0.80, default_source="tyre-grip-dry-typical"),
    Field("car.engine_before.power", "power", "old engine's power", low=500.0, high=2e6),
    Field("car.engine_before.power_at", "angular_speed", "old engine's speed at full power", low=50.0, high=2500.0),
    Field("car.engine_before.torque", "torque", "old engine's torque", low=1.0, high=5000.0),
    Field("car.engine_before.torque_at", "angular_speed", "old engine's speed at full torque", low=50.0, high=2500.0),
    Field("car.engine_before.fuel", "fuel_consumption", "old engine's fuel consumption", low=1e-9, high=2e-6),
    Field("car.engine_before.tank", "volume", "old tank", low=1e-3, high=1.0),
)

GOALS = (
    Field("goals.range.min", "distance", "range wanted", low=1e3, high=2e6),
    Field("goals.range.at", "speed", "at this steady speed", low=2.0, high=80.0),
    Field("goals.range.at_temperature", "temperature", "at this temperature", low=220.0, high=330.0),
    Field("goals.climb.grade", "grade", "grade to hold", low=0.0, high=1.0),
    Field("goals.climb.at", "speed", "at this speed", low=0.5, high=80.0),
    Field("goals.climb.for", "time", "for this long", low=1.0, high=36000.0, usual=("min",)),
    Field("goals.start_grade", "grade", "grade to start on", low=0.0, high=1.0),
    Field("goals.top_speed", "speed", "top speed wanted", low=2.0, high=120.0),
    Field("goals.zero_to_60", "time", "0-60 mph wanted", low=1.0, high=300.0),
    Field("goals.zero_to_100", "time", "0-100 km/h wanted", low=1.0, high=300.0),
    Field("goals.budget", "money", "price the whole conversion may have", low=1.0, high=1e8),
    Field("goals.ready_in", "time", "parts wanted within", low=86400.0, high=1e8, usual=("d", "wk")),
    Field("goals.charge_time", "time", "a charge wanted within", "from charging.from to charging.to, on the supply described", low=300.0, high=3.6e5, usual=("h",)),
    Field("goals.occupants", "count", "people aboard", low=1, high=20, default=2, default_source="occupants-two"),
    Field("goals.luggage", "mass", "luggage", low=0.0, high=20000.0, default=0.0, default_source="luggage-none"),
    Field("goals.region", "choice", "whose rules apply", choices=("EU", "UK", "US", "AU", "NZ"), default="EU", default_source="region-strictest"),
)

CONDITIONS = (
    Field("conditions.altitude", "length", "altitude", low=-450.0, high=5500.0, default=0.0, default_source="iso-2533-sea-level"),
    Field("conditions.temperature", "temperature", "ambient on a mild day", low=220.0, high=330.0, default=293.15, default_source="sae-j2263-reference"),
    Field("conditions.cold_day", "temperature", "ambient on a cold day", low=220.0, high=300.0, default=263.15, default_source="cold-day-typical"),
    Field("conditions.hot_day", "temperature", "ambient on a hot day", low=290.0, high=330.0, default=308.15, default_source="hot-day-typical"),
    Field("conditions.headwind", "speed", "headwind", low=-30.0, high=30.0, default=0.0, default_source="no-wind"),
    Field("conditions.humidity", "fraction", "relative humidity", low=0.0, high=1.0, default=0.5, default_source="humidity-typical"),
    Field("auxiliaries.driving", "power", "12 V and control loads while driving", low=0.0, high=10000.0, default=250.0, default_source="auxiliaries-typical", spread=(150.0, 450.0)),
    Field("auxiliaries.charging", "power", "pumps and controls while charging", low=0.0, high=5000.0, default=200.0, default_source="charging-loads-typical", spread=(100.0, 400.0)),
    Field("auxiliaries.heater", "power", "cabin heater on a cold day, mean", low=0.0, high=20000.0, default=2000.0, default_source="heater-typical"),
    Field("auxiliaries.air_conditioner", "power", "air conditioner on a hot day, mean", low=0.0, high=20000.0, default=1000.0, default_source="air-conditioner-typical"),
)


def _drive_unit(prefix: str, which: str) -> tuple[Field, ...]:
    return (
        Field(f"{prefix}.motor", "part:motor", f"{which}motor"),
        Field(f"{prefix}.inverter", "part:inverter", f"{which}inverter"),
        Field(f"{prefix}.gearbox", "part:gearbox", f"{which}gearbox or reduction gear"),
        Field(f"{prefix}.gearbox.shift", "choice", "how gears are changed", "on the move without a clutch, the inverter matching the motor, or only at rest", choices=("on the move", "at rest"), default="on the move", default_source="clutchless-shift-typical"),
        Field(f"{prefix}.gearbox.shift_time", "time", "time without torque while a gear is changed", low=0.0, high=10.0, default=0.8, default_source="clutchless-shift-typical", spread=(0.5, 1.5)),
        Field(f"{prefix}.final_drive", "ratio", f"{which}final drive ratio", low=0.2, high=20.0, default=1.0, default_source="final-drive-none"),
        Field(f"{prefix}.torque_by_gear", "list:fraction", f"{which}share of the motor's torque allowed in each gear", "first gear first; runs obey it when driving", low=0.05, high=1.0),
        Field(f"{prefix}.torque_limit", "torque", f"{which}torque limit set in software", low=1.0, high=5000.0),
        Field(f"{prefix}.speed_limit", "angular_speed", f"{which}motor speed limit set in software", low=50.0, high=4000.0),
    )


DRIVE = (
    *_drive_unit("drive", ""),
    *_drive_unit("drive.second", "second "),
    Field("drive.second.axle", "choice", "axle the second motor drives", choices=("front", "rear")),
    Field("drive.torque_by.pedal", "curve:fraction,fraction", "share of the allowed torque the pedal asks for, by its travel", "0 released, 1 on the floor; runs obey its full end when driving", low=0.0, high=1.0),
    Field("drive.torque_by.state_of_charge", "curve:fraction,fraction", "share of the torque the controller allows, by state of charge", "runs obey it when driving", low=0.05, high=1.0),
    Field("drive.torque_by.cell_temperature", "curve:temperature,fraction", "share of the torque the controller allows, by cell temperature", "runs obey it when driving", low=0.05, high=1.0),
    Field("drive.limited_by_pack", "flag", "the pack monitor sends the inverter its discharge limit", "and the inverter obeys it; prove it in commissioning"),
    Field("drive.regen.limited_by_pack", "flag", "the pack monitor sends the inverter its charge limit", "and the inverter obeys it; prove it in commissioning"),
    Field("drive.regen.wheel_torque", "torque", "regeneration torque limit at the wheels", low=0.0, high=20000.0),
    Field("drive.regen.share", "fraction", "share of the braking the motor may take", low=0.0, high=1.0, default=0.75, default_source="regen-share-typical", spread=(0.60, 0.95)),
    Field("drive.regen.off_above_soc", "fraction", "no regeneration above this state of charge", low=0.3, high=1.0),
    Field("drive.regen.off_below_cell", "temperature", "no regeneration below this cell temperature", low=200.0, high=320.0),
    Field("drive.regen.off_below_speed", "speed", "regeneration fades out below this speed", low=0.0, high=20.0, default=2.2352, default_source="regen-fade-speed-typical"),
    Field("drive.loss_factor", "ratio", "measured over modelled losses of motor and inverter", low=0.2, high=5.0, default=1.0, default_source="loss-factor-one", spread=(0.6, 1.6)),
)

PACK = (
    Field("pack.module", "part:module", "module"),
    Field("pack.cell", "part:cell", "cell, for a pack built from cells"),
    Field("pack.modules_per_string", "count", "modules in series in a string", low=1, high=500),
    Field("pack.strings", "count", "strings in parallel", low=1, high=200, default=1, default_source="one-string"),
    Field("pack.series", "count", "cells in series, for a pack built from cells", low=1, high=500),
    Field("pack.parallel", "count", "cells in parallel, for a pack built from cells", low=1, high=500, default=1, default_source="one-string"),
    Field("pack.joint_resistance", "resistance", "contactors, links and cable joints of a string", low=0.0, high=1.0, default=0.005, default_source="pack-joints-typical"),
    Field("pack.usable.from", "fraction", "usable window, low end", low=0.0, high=0.9, default=0.05, default_source="usable-window-typical"),
    Field("pack.usable.to", "fraction", "usable window, high end", low=0.1, high=1.0, default=0.95, default_source="usable-window-typical"),
    Field("pack.health", "fraction", "capacity left of new", low=0.3, high=1.0, default=1.0, default_source="new-pack"),
    Field("pack.heating", "choice", "pack heating", choices=("none", "liquid", "film")),
    Field("pack.heater_power", "power", "power of the pack's heater", low=1.0, high=50000.0),
    Field("pack.heat_path", "thermal_conductance", "heat the pack gives for each degree to the air around it, by its boxes alone", low=0.0, high=5000.0, default=15.0, default_source="pack-heat-path-typical"),
    Field("pack.plate_path", "thermal_conductance", "heat for each degree between the cells and the coolant that leaves their plate", "of the whole pack, with the pump running; from a data sheet of the modules, or measured on a steady current: heat of the cells over what they are warmer than that coolant", low=1.0, high=1e5),
    Field("pack.balancer_current", "current", "current the balancer bleeds from a cell group", low=1e-3, high=20.0, default=0.1, default_source="balancer-current-typical"),
    Field("pack.volume_allowed", "volume", "space there is for cells", low=1e-3, high=10.0),
    Field("pack.mass_allowed", "mass", "mass there is for the pack", low=1.0, high=10000.0),
    Field("pack.charge_to", "voltage", "charge end voltage set for the whole pack", low=1.0, high=1500.0),
    Field("pack.salvaged", "flag", "the modules come out of another vehicle"),
    Field("pack.tested[].serial", "name", "serial number of a module (or cell) that was measured", required=True),
    Field("pack.tested[].string", "count", "string it sits in", low=1, high=200, default=1, default_source="one-string"),
    Field("pack.tested[].group", "count", "group in that string, where several stand side by side", low=1, high=1000),
    Field("pack.tested[].capacity", "charge", "its capacity, measured full to empty", low=360.0, high=1e7),
    Field("pack.tested[].resistance", "resistance", "its resistance, 10 s, 25 degC", low=1e-6, high=1.0, usual=("mohm",)),
    Field("pack.tested[].voltage", "voltage", "its open voltage when it went in", low=0.5, high=500.0),
    Field("pack.tested[].drop", "voltage", "fall of its open voltage in a week of rest", low=0.0, high=10.0, usual=("mV",)),
    Field("pack.tested[].insulation", "resistance", "its insulation to its case, measured again", low=0.0, high=1e12, usual=("Mohm",)),
    Field("pack.tested[].origin", "text", "where it comes from"),
    Field("pack.tested[].history", "choice", "what is known of that vehicle", choices=("known and sound", "unknown", "crash", "flood")),
    Field("pack.boxes[].name", "name", "name of a box"),
    Field("pack.boxes[].modules", "count", "modules in it", low=1, high=500),
    Field("pack.boxes[].mass", "mass", "mass of the box, all in", low=0.5, high=5000.0),
    Field("pack.boxes[].bolts", "count", "bolts that hold it to the body", low=1, high=200),
    Field("pack.boxes[].bolt", "choice", "size of these bolts", choices=("M6", "M8", "M10", "M12", "M16")),
    Field("pack.boxes[].bolt_class", "choice", "property class of these bolts", choices=("8.8", "10.9")),
    Field("pack.boxes[].at", "position", "metres behind the front axle", low=-3.0, high=10.0),
)

MASS = (
    Field("mass[].remove", "text", "what comes out"),
    Field("mass[].add", "text", "what goes in"),
    Field("mass[].load", "text", "what is carried (people, luggage) in the loaded case"),
    Field("mass[].mass", "mass", "mass", low=0.0, high=10000.0),
    Field("mass[].x", "position", "metres behind the front axle", low=-3.0, high=12.0),
    Field("mass[].y", "position", "metres right of the middle line, a minus sign for left", low=-2.0, high=2.0),
    Field("mass[].z", "length", "height above the road", low=0.0, high=5.0),
)

ACCEPTED = (
    Field("accepted[].rule", "text", "rule accepted", required=True),
    Field("accepted[].reason", "text", "why", required=True),
    Field("accepted[].by", "text", "who", required=True),
    Field("accepted[].date", "date", "when", required=True),
    Field("accepted[].until", "date", "until when"),
)
