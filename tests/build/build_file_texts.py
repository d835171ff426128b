"""Build files the tests of this folder work on."""

from __future__ import annotations

FULL = """\
# A small saloon, gearbox kept, one box of modules at each end.
format = 1

[car]
name      = "Millbrook saloon"
mark      = "C"                 # ours
kerb_mass = "1050 kg"
axle_mass = { front = "560 kg", rear = "490 kg" }
limits    = { gross = "1450 kg", front_axle = "700 kg", rear_axle = "800 kg" }
wheelbase = "2.40 m"
tyres     = "165/70 R13 79T"
road_load = { cd_a = "0.70..0.78 m^2", c_rr = 0.012 }
driven_axle = "rear"
engine_before = { power = "66 hp", power_at = "5500 rpm", fuel = "31 mpg-uk" }

[goals]
range     = { min = "60 mi", at = "55 mph", at_temperature = "20 degC" }
occupants = 2
region    = "UK"

[drive]
motor    = "pm-radial-75kw"     # by name
inverter = { part = "inverter-400v-300a", dc_current_limit = "250 A" }   # name and a change
gearbox  = { ratios = [3.6, 2.1, 1.4, 1.0], use = [2, 3], torque_limit = "140 N.m" }
final_drive = 3.90
regen    = { off_above_soc = "95 %", off_below_cell = "5 degC" }

[pack]
module  = "nmc-module-8s1p-60ah"
modules_per_string = 12
boxes   = [
    { name = "front", modules = 5, at = "-0.05 m" },
    { name = "rear", modules = 7, at = "2.40 m" },
]
usable  = { from = "5 %", to = "95 %" }

[hv]
disconnect = { between = ["front", "rear"] }
main_fuse  = { rating = "200 A", voltage = "500 V", breaking = "20 kA", poles = "one", at = "mid" }
contactors = { voltage = "500 V", carry = "250 A", poles = "both" }
precharge  = { resistor = "220 ohm", rating = "50 W", pulse = "60 J", timeout = "1 s" }
bleed      = "47 kohm"

[[hv.cable]]
from   = "rear box"
to     = "inverter"
length = "4 m"                  # one way
size   = "2/0 AWG"
insulation = "class D"

[[hv.branch]]
name  = "charger"
load  = "charger-6k6-400v"
fuse  = { rating = "40 A", voltage = "500 V" }
cable = { size = "6 mm^2", length = "1.2 m" }

[charging]
inlet  = "type 2"
supply = { voltage = "230 V", current = "32 A" }

[lv]
dcdc    = "dcdc-1200w-400v"
battery = { capacity = "20 Ah", kind = "AGM" }

[[lv.load]]
name    = "head lamps"
current = "12 A"
duty    = { night = 1.0 }

[[mass]]
remove = "engine and ancillaries"
mass   = "135 kg"
x      = "0.05 m"

[[mass]]                        # measured on the bench
add  = "motor, adapter, coupler"
mass = "60 kg"
x    = "0.10 m"

[cooling]
[[cooling.loop]]
name  = "drive"
coolant = { kind = "ethylene glycol", share = "50 %" }
parts = ["pump", "inverter", "motor", "radiator"]

[network]
[[network.bus]]
name     = "drive"
bit_rate = "500 kbit/s"
nodes    = ["inverter", "pack controller"]

[shop]
gloves = "class 0"
gloves_tested = 2026-09-01
meter  = { category = "CAT III", voltage = "1000 V" }

[[accepted]]
rule   = "goals.climb"
reason = "the owner lives on the plain"
by     = "R. Miller"
date   = 2026-10-02
"""

HALF_EMPTY = """\
format = 1
[car]
name = "not weighed yet"
"""


def with_line(text: str, old: str, new: str) -> str:
    """Return a text with one line's content replaced; the old content must stand there once."""
    assert text.count(old) == 1, old
    return text.replace(old, new)
