"""What the trade calls things: words people write, and the words a file has for them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_BY_MEANING: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("weight",), ("kerb_mass", "mass")),
    (("kerb_weight", "curb_weight", "curb_mass"), ("kerb_mass",)),
    (("gvw", "gvwr", "gvm", "gvm_limit", "gross_weight"), ("gross",)),
    (("tire", "tires", "tyre", "tire_size", "tyre_size"), ("tyres",)),
    (("rwd", "rear_wheel_drive"), ("driven_axle", "rear")),
    (("fwd", "front_wheel_drive"), ("driven_axle", "front")),
    (("awd", "4wd", "4x4", "four_wheel_drive"), ("driven_axle", "all")),
    (("cd", "cda", "cdxa", "drag", "drag_area"), ("cd_a",)),
    (("crr", "rolling", "rolling_resistance"), ("c_rr",)),
    (("engine", "old_engine", "ice"), ("engine_before",)),
    (("mpg", "fuel_consumption"), ("fuel",)),
    (("manual", "transmission", "trans", "reducer"), ("gearbox",)),
    (("diff", "differential", "diff_ratio", "axle_ratio", "final_ratio"), ("final_drive",)),
    (("hp", "bhp", "kw", "horsepower", "power"), ("peak_power", "power")),
    (("torque",), ("peak_torque", "torque")),
    (("rpm", "redline", "max_rpm"), ("max_speed", "speed_limit")),
    (("controller", "chopper"), ("inverter",)),
    (("battery", "batteries", "battery_pack"), ("pack",)),
    (("modules",), ("modules_per_string", "module")),
    (("dod", "depth_of_discharge", "window"), ("usable",)),
    (("volts",), ("voltage", "nominal_voltage")),
    (("amps",), ("current", "rating")),
    (("passengers", "people", "seats"), ("occupants",)),
    (("ac", "aircon", "air_conditioning"), ("air_conditioner",)),
    (("masses", "weights"), ("mass",)),
    (("12v", "12_volt", "low_voltage", "aux"), ("lv",)),
    (("charge",), ("charging",)),
    (("can", "canbus", "can_bus"), ("network",)),
    (("coolant_loop",), ("cooling",)),
    (("baud", "baudrate", "baud_rate", "speed"), ("bit_rate",)),
    (("id", "can_id"), ("identifier",)),
    (("dlc", "length_of_data"), ("bytes",)),
    (("cycle", "cycle_time", "interval"), ("period",)),
    (("abs",), ("antilock",)),
    (("servo", "vacuum", "brake_servo"), ("booster",)),
    (("labour", "labor", "hours"), ("work",)),
    (("hourly_rate", "labour_rate", "labor_rate"), ("work_rate",)),
    (("contingency", "reserve"), ("set_aside",)),
    (("quantity", "qty", "pieces"), ("count",)),
    (("delivery", "delivery_time"), ("lead_time",)),
    (("electricity_price", "energy_price"), ("tariff",)),
    (("rcd", "rcbo", "gfci"), ("residual_current",)),
    (("gauge", "cross_section", "awg"), ("wire", "size")),
    (("type",), ("kind",)),
    (("lifepo4", "lithium"), ("lfp",)),
    (("lead_acid", "wet"), ("flooded",)),
    (("j1772", "sae_j1772"), ("type 1",)),
    (("estop", "e_stop"), ("emergency stop",)),
    (("cat_2",), ("cat ii",)),
    (("cat_3",), ("cat iii",)),
    (("cat_4",), ("cat iv",)),
    (("vacuum_pump", "electric"), ("electric vacuum pump",)),
    (("hazards",), ("hazard lamps",)),
    (("brake_lights", "stop_lights"), ("brake lamps",)),
    (("tail_lights",), ("tail lamps",)),
)

_MEANT: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {word: meant for words, meant in _BY_MEANING for word in words}
)


def meant_by(word: str) -> tuple[str, ...]:
    """Return what a word of the trade stands for in a file, likeliest first; empty if none."""
    return _MEANT.get(word.strip().casefold().replace(" ", "_").replace("-", "_"), ())
