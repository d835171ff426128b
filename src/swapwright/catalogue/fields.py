"""The Field rows of every kind of part: what a data sheet may say, in one table.

Paths are relative to the part. Quantities are SI inside. The same rows check the catalogue's own
files, a shop's own parts, a part written out in full in a build file, and overrides of a part.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from swapwright.base.field import Field

_EVERY = (
    Field("resembles", "text", "what its curves resemble", "which published or typical data"),
    Field("source", "text", "source", "a source id, or the data sheet it was taken from"),
    Field("note", "text", "note"),
    Field("mass", "mass", "mass", low=1e-4, high=2000.0),
)

_MOTOR_KINDS = ("permanent-magnet", "induction", "dc")

CELL = (
    *_EVERY,
    Field("chemistry", "choice", "chemistry", choices=("nmc", "nca", "lfp", "lto", "lmo"), required=True),
    Field("format", "choice", "shape", choices=("cylindrical", "prismatic", "pouch"), required=True),
    Field("capacity", "charge", "rated capacity", low=360.0, high=3.6e6, required=True),
    Field("energy", "energy", "rated energy", "from rated capacity and the rest-voltage curve", low=1e3, high=1e8),
    Field("nominal_voltage", "voltage", "nominal voltage", low=1.0, high=5.0, required=True),
    Field("min_voltage", "voltage", "lowest voltage under load", low=0.5, high=5.0, required=True),
    Field("max_voltage", "voltage", "charge end voltage", low=1.0, high=5.0, required=True),
    Field("length", "length", "length", low=1e-3, high=2.0),
    Field("width", "length", "width", low=1e-3, high=2.0),
    Field("height", "length", "height", low=1e-3, high=2.0),
    Field("diameter", "length", "diameter (cylindrical)", low=1e-3, high=0.5),
    Field("specific_heat", "specific_heat", "specific heat", low=400.0, high=3000.0, default=1000.0, default_source="cell-specific-heat-typical"),
    Field("entropic", "voltage_per_kelvin", "change of rest voltage with temperature", low=-2e-3, high=2e-3, default=0.0, default_source="cell-entropic-neglected"),
    Field("discharge_continuous", "current", "continuous discharge current", low=0.01, high=1e4, required=True),
    Field("discharge_peak", "current", "10 s discharge current", low=0.01, high=1e4, required=True),
    Field("charge_continuous", "current", "continuous charge current", low=0.01, high=1e4, required=True),
    Field("charge_peak", "current", "10 s charge (regeneration) current", low=0.01, high=1e4, required=True),
    Field("min_discharge_temperature", "temperature", "coldest discharge", low=200.0, high=320.0),
    Field("min_charge_temperature", "temperature", "coldest charge", low=200.0, high=320.0),
    Field("max_temperature", "temperature", "hottest cell", low=280.0, high=400.0),
    Field("resistance_ohmic", "resistance", "ohmic (millisecond) resistance at 25 degC, half charge", low=1e-6, high=1.0, required=True),
    Field("resistance_10s", "resistance", "10 s resistance at 25 degC, half charge", low=1e-6, high=1.0, required=True),
    Field("c1", "capacitance", "capacitance of the fast RC pair", low=1.0, high=1e9, required=True),
    Field("c2", "capacitance", "capacitance of the slow RC pair", low=1.0, high=1e9, required=True),
    Field("ocv", "curve:fraction,voltage", "rest voltage against state of charge", required=True),
    Field("r0", "map:temperature,fraction,resistance", "ohmic resistance by temperature and state of charge", required=True),
    Field("r1", "map:temperature,fraction,resistance", "fast RC resistance by temperature and state of charge", required=True),
    Field("r2", "map:temperature,fraction,resistance", "slow RC resistance by temperature and state of charge", required=True),
    Field("discharge_derate", "curve:temperature,fraction", "share of the discharge current allowed against temperature", required=True),
    Field("charge_derate", "curve:temperature,fraction", "share of the charge current allowed against temperature", required=True),
)

MODULE = (
    *_EVERY,
    Field("cell", "part:cell", "cell", required=True),
    Field("series", "count", "cells in series", low=1, high=500, required=True),
    Field("parallel", "count", "cells in parallel", low=1, high=500, required=True),
    Field("joint_resistance", "resistance", "busbars and joints of the whole module", low=0.0, high=1.0, default=0.0002, default_source="module-joints-typical"),
    Field("length", "length", "length", low=1e-3, high=4.0),
    Field("width", "length", "width", low=1e-3, high=4.0),
    Field("height", "length", "height", low=1e-3, high=4.0),
    Field("max_voltage_to_case", "voltage", "insulation voltage to its case", low=10.0, high=5000.0),
)

MOTOR = (
    *_EVERY,
    Field("kind", "choice", "kind", choices=_MOTOR_KINDS, required=True),
    Field("winding", "choice", "how the field is wound (dc)", choices=("series", "separately-excited", "permanent-magnet", "compound")),
    Field("peak_power", "power", "peak power", low=500.0, high=2e6, required=True),
    Field("peak_torque", "torque", "peak torque", low=1.0, high=5000.0),
    Field("continuous_power", "power", "continuous power (S1)", low=200.0, high=2e6),
    Field("continuous_torque", "torque", "continuous torque (S1)", low=0.5, high=5000.0),
    Field("peak_time", "time", "time at peak", low=1.0, high=3600.0, default=30.0, default_source="motor-peak-time-typical"),
    Field("max_speed", "angular_speed", "highest speed", low=50.0, high=4000.0, required=True),
    Field("test_voltage", "voltage", "dc voltage the torque curve was taken at", low=10.0, high=1500.0),
    Field("envelope", "curve:angular_speed,torque", "peak torque against speed at the test voltage"),
    Field("efficiency_map", "map:angular_speed,torque,fraction", "efficiency map, motoring"),
    Field("torque_per_amp", "torque_per_current", "torque per phase ampere rms below base speed", "dc: per armature ampere", low=0.01, high=100.0),
    Field("pole_pairs", "count", "pole pairs", low=1, high=50),
    Field("phase_resistance", "resistance", "phase resistance at 20 degC", "induction: of the stator; dc: armature and series field together", low=1e-6, high=10.0),
    Field("back_emf", "emf_constant", "back-EMF, peak line-to-line per rad/s (permanent-magnet)", low=0.0, high=50.0),
    Field("no_load_current", "current", "magnetising phase current rms (induction)", low=0.0, high=2000.0),
    Field("brush_drop", "voltage", "brush voltage drop (dc)", low=0.0, high=10.0),
    Field("iron_linear", "loss_linear", "iron loss per rad/s", low=0.0, high=100.0),
    Field("iron_square", "loss_square", "iron loss per (rad/s)^2", low=0.0, high=1.0),
    Field("drag_linear", "torque", "drag torque, constant part", low=0.0, high=100.0),
    Field("drag_cubic", "loss_cubic", "windage per (rad/s)^3", low=0.0, high=1e-2),
    Field("inertia", "inertia", "rotor inertia", low=0.0, high=10.0),
    Field("max_winding_temperature", "temperature", "hottest winding", low=320.0, high=550.0, default=428.15, default_source="motor-class-f-winding"),
    Field("rated_coolant", "temperature", "coolant that comes in, at which its continuous rating is given", "by its data sheet; of a part in a coolant loop that does not say, 60 degC", low=270.0, high=380.0),
)

INVERTER = (
    *_EVERY,
    Field("drives", "list:choice", "kinds of motor it drives", choices=_MOTOR_KINDS),
    Field("min_voltage", "voltage", "lowest dc voltage", low=5.0, high=1500.0, required=True),
    Field("max_voltage", "voltage", "highest dc voltage it runs at", low=5.0, high=1500.0, required=True),
    Field("absolute_max_voltage", "voltage", "dc voltage it survives, not running", low=5.0, high=2000.0),
    Field("dc_current_limit", "current", "dc current limit", low=1.0, high=5000.0, required=True),
    Field("phase_current_limit", "current", "phase current limit, rms", low=1.0, high=5000.0, required=True),
    Field("phase_current_continuous", "current", "continuous phase current, rms", low=1.0, high=5000.0),
    Field("link_capacitance", "capacitance", "dc link capacitance", low=0.0, high=1.0, life_critical=True),
    Field("loss_fixed", "power", "loss while gating, no current", low=0.0, high=5000.0),
    Field("loss_linear", "voltage", "loss per phase ampere rms", low=0.0, high=50.0),
    Field("loss_square", "resistance", "loss per phase ampere rms squared", low=0.0, high=1.0),
    Field("max_temperature", "temperature", "hottest base plate", low=300.0, high=450.0),
    Field("rated_coolant", "temperature", "coolant that comes in, at which its continuous rating is given", "by its data sheet; of a part in a coolant loop that does not say, 60 degC", low=270.0, high=380.0),
)

GEARBOX = (
    *_EVERY,
    Field("ratios", "list:ratio", "ratios, lowest gear first", required=True),
    Field("use", "list:count", "gears used", "1 is the lowest; all of them where not given"),
    Field("lockout", "flag", "a gear cannot be engaged above its speed", "by a lock, not by the driver's care"),
    Field("kept", "flag", "the donor's own gearbox", "kept in place, its mass already in the kerb mass"),
    Field("efficiency", "fraction", "efficiency in mesh", low=0.5, high=1.0, default=0.97, default_source="gear-mesh-typical"),
    Field("drag", "torque", "drag torque at its input", low=0.0, high=50.0, default=0.0, default_source="gear-drag-in-road-load"),
    Field("torque_limit", "torque", "input torque limit", low=1.0, high=10000.0),
    Field("max_speed", "angular_speed", "input speed limit", low=50.0, high=4000.0),
)

CHARGER = (
    *_EVERY,
    Field("power", "power", "output power", low=50.0, high=1e6),
    Field("min_voltage", "voltage", "lowest output voltage", low=1.0, high=1500.0),
    Field("max_voltage", "voltage", "highest output voltage", low=1.0, high=1500.0),
    Field("max_current", "current", "highest output current", low=0.1, high=1000.0),
    Field("efficiency", "fraction", "efficiency", low=0.4, high=1.0),
    Field("phases", "count", "phases of the supply it draws from", low=1, high=3, default=1, default_source="one-phase"),
    Field("max_input_current", "current", "most it draws from each phase", low=0.5, high=500.0),
    Field("isolated", "flag", "it parts the pack from the mains galvanically", "by a transformer between them"),
)

DCDC = (
    *_EVERY,
    Field("power", "power", "output power", low=10.0, high=1e5),
    Field("min_voltage", "voltage", "lowest input voltage", low=1.0, high=1500.0),
    Field("max_voltage", "voltage", "highest input voltage", low=1.0, high=1500.0),
    Field("efficiency", "fraction", "efficiency", low=0.4, high=1.0, default=0.90, default_source="dcdc-efficiency-typical"),
    Field("full_power_to", "temperature", "air or coolant it gives full power up to", low=280.0, high=400.0),
    Field("no_power_at", "temperature", "air or coolant at which it has shut itself off", "its power falls evenly between the two", low=281.0, high=420.0),
)

FUSE = (
    *_EVERY,
    Field("rating", "current", "current rating", low=0.1, high=5000.0, life_critical=True),
    Field("voltage", "voltage", "dc voltage rating", low=1.0, high=3000.0, life_critical=True),
    Field("breaking", "current", "dc breaking capacity", low=10.0, high=5e5, life_critical=True),
    Field("min_breaking", "current", "least current it breaks", "full-range: any that melts it", low=0.1, high=5e4),
    Field("characteristic", "choice", "what it breaks", "partial-range: high faults only, another device must open low ones", choices=("full-range", "partial-range")),
    Field("time_constant", "time", "L/R its dc ratings hold to", low=1e-4, high=0.1),
    Field("melting", "curve:current,time", "melting time against current", "cold, the middle of its make", low=1e-4, high=1e5, life_critical=True),
    Field("pre_arcing_i2t", "joule_integral", "I²t until it has melted", low=1e-3, high=1e9, life_critical=True),
    Field("clearing_i2t", "joule_integral", "I²t until it has cleared, at its dc voltage", low=1e-3, high=1e9, life_critical=True),
    Field("resistance", "resistance", "cold resistance", low=1e-6, high=10.0),
    Field("length", "length", "length", low=1e-3, high=1.0),
    Field("diameter", "length", "diameter of its body", low=1e-3, high=0.5),
)

CONTACTOR = (
    *_EVERY,
    Field("voltage", "voltage", "dc breaking voltage rating", low=1.0, high=3000.0, life_critical=True),
    Field("carry", "current", "continuous carry current", low=1.0, high=5000.0, life_critical=True),
    Field("overload", "curve:time,current", "current it carries for a time", "from its data sheet, at the conductor size named there", low=1.0, high=2e4),
    Field("making", "current", "current it may close on", "into a charged-up link, every day", low=1.0, high=2e4),
    Field("break_forward", "current", "current it breaks at its rated voltage, forward", "forward is the way its marks say", low=1.0, high=2e4),
    Field("break_reverse", "current", "current it breaks at its rated voltage, reverse", low=1.0, high=2e4),
    Field("weld_i2t", "joule_integral", "I²t that does not weld it, closed", low=1.0, high=1e9, life_critical=True),
    Field("resistance", "resistance", "resistance closed, terminal to terminal", low=1e-6, high=1.0),
    Field("pull_in", "voltage", "coil voltage it pulls in at, warm", low=1.0, high=100.0),
    Field("drop_out", "voltage", "coil voltage it drops out at", low=0.1, high=100.0),
    Field("coil_power", "power", "coil power, holding", low=0.1, high=200.0),
    Field("pull_in_power", "power", "coil power while it pulls in", "where an economiser cuts it back afterwards", low=0.1, high=1000.0),
    Field("economiser", "flag", "coil current is cut back once it has closed"),
)

PART_FIELDS: Mapping[str, tuple[Field, ...]] = MappingProxyType(
    {
        "cell": CELL,
        "module": MODULE,
        "motor": MOTOR,
        "inverter": INVERTER,
        "gearbox": GEARBOX,
        "charger": CHARGER,
        "dcdc": DCDC,
        "fuse": FUSE,
        "contactor": CONTACTOR,
    }
)
