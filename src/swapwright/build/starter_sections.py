"""What a new build file offers, section by section: an example of each entry, and where to read it.

Every example is one the file takes; tests take the mark off each, and off all of them together.
"""

from __future__ import annotations

from dataclasses import dataclass

Rows = tuple[tuple[str, str, str], ...]
"""(key, an example in TOML, a comment)."""


@dataclass(frozen=True)
class OfferedList:
    """A list of tables below a section: its path, what one row is, and the entries of a row."""

    path: str
    about: str
    rows: Rows


@dataclass(frozen=True)
class OfferedSection:
    """A section: its name, what it is about, its entries, and its lists."""

    name: str
    about: str
    rows: Rows
    lists: tuple[OfferedList, ...] = ()


_CAR = OfferedSection(
    "car",
    "the donor, weighed and measured before anything comes out",
    (
        ("name", '"my car"', ""),
        ("mark", '"A"', "your own mark of this version"),
        ("kerb_mass", '"1000 kg"', "on a weighbridge, not from a brochure"),
        ("axle_mass", '{ front = "550 kg", rear = "450 kg" }', ""),
        (
            "limits",
            '{ gross = "1400 kg", front_axle = "700 kg", rear_axle = "750 kg" }',
            "from the plate",
        ),
        ("wheelbase", '"2.40 m"', ""),
        ("track", '"1.35 m"', "tyre middle to tyre middle, across the car"),
        ("cg_height", '"0.52 m"', "weighed again with one end up; a saloon: 0.50 to 0.58 m"),
        ("tyres", '"175/70 R13"', "as on the sidewall"),
        ("road_load", '{ cd_a = "0.65..0.75 m^2", c_rr = 0.012 }', "or a, b and c, coasting down"),
        ("driven_axle", '"rear"', "front, rear or all"),
        ("engine_before", '{ power = "55 kW", fuel = "9 L/100km", tank = "45 L" }', ""),
    ),
)

_GOALS = OfferedSection(
    "goals",
    "what the owner wants; a range means nothing without a speed and a temperature",
    (
        ("range", '{ min = "120 km", at = "90 km/h", at_temperature = "20 degC" }', ""),
        ("climb", '{ grade = "6 %", at = "80 km/h", for = "10 min" }', ""),
        ("top_speed", '"120 km/h"', ""),
        ("occupants", "2", ""),
        ("charge_time", '"8 h"', "a charge wanted within"),
        ("budget", "18000", "in your own money, no currency"),
        ("ready_in", '"12 weeks"', "the longest you would wait for parts"),
        ("region", '"EU"', "EU, UK, US, AU or NZ"),
    ),
)

_DRIVE = OfferedSection(
    "drive",
    "parts by catalogue name, by name with changes, or in full from a data sheet",
    (
        ("motor", '"pm-radial-75kw"', ""),
        ("inverter", '"inverter-400v-300a"', ""),
        ("gearbox", '"reducer-9-1"', ""),
        ("final_drive", "1.0", "1.0 where the reduction gear drives the wheels"),
        ("regen", '{ off_above_soc = "95 %", off_below_cell = "5 degC" }', ""),
    ),
)

_PACK = OfferedSection(
    "pack",
    "modules in series, strings in parallel",
    (
        ("module", '"nmc-module-8s1p-60ah"', "swapwright parts module lists them"),
        ("modules_per_string", "12", ""),
        ("strings", "1", ""),
        ("usable", '{ from = "5 %", to = "95 %" }', ""),
        ("heating", '"none"', "none, liquid or film"),
        ("balancer_current", '"0.1 A"', "the pack monitor's data sheet"),
        ("salvaged", "false", "true for modules out of another vehicle: then measure each"),
    ),
    (
        OfferedList(
            "pack.boxes",
            "one for each box of modules",
            (
                ("name", '"rear"', ""),
                ("modules", "12", "all boxes together hold the whole pack"),
                ("mass", '"160 kg"', "on a scale, box and all"),
                ("at", '"2.1 m"', "behind the front axle"),
                ("bolts", "8", "that hold it to the body"),
                ("bolt", '"M10"', ""),
                ("bolt_class", '"8.8"', "stamped on the bolt's head"),
            ),
        ),
        OfferedList(
            "pack.tested",
            "one for each module that was measured",
            (
                ("serial", '"A-01"', "write it on the module too"),
                ("capacity", '"58.2 Ah"', "from full to empty, with a logger"),
                ("resistance", '"9.5 mohm"', "10 s at a known current, at 25 degC"),
                ("voltage", '"29.6 V"', "at rest when it goes in"),
                ("drop", '"2 mV"', "how far that falls in a week on the shelf"),
                ("insulation", '"20 Mohm"', "to its case, with an insulation tester"),
                ("origin", '"estate car, 2021"', ""),
                ("history", '"unknown"', "known and sound, unknown, crash or flood"),
            ),
        ),
    ),
)

_HV = OfferedSection(
    "hv",
    "class B: everything here is orange on the car",
    (
        (
            "main_fuse",
            '{ rating = "200 A", voltage = "500 V", breaking = "20 kA", poles = "one" }',
            "",
        ),
        ("contactors", '{ voltage = "500 V", carry = "250 A", poles = "both" }', ""),
        (
            "precharge",
            '{ resistor = "220 ohm", rating = "50 W", pulse = "60 J", timeout = "1 s" }',
            "",
        ),
        ("bleed", '"47 kohm"', ""),
        ("y_capacitance", '"0.4 uF"', "pole to chassis, all parts' data sheets added up"),
        ("isolation_monitor", '{ alarm = "500 ohm/V" }', ""),
        ("isolation", '{ positive = "2 Mohm", negative = "2 Mohm" }', "swapwright isolation-test"),
        ("bonding", '"20 mohm"', "the worst point, measured with 0.2 A or more"),
        ("interlock", "false", "true: a plug pulled or a cover opened opens the contactors"),
        ("interlock_loop", '{ opens = "both" }', "poles: one or both"),
        ("inertia_switch", "false", "true: a crash opens the contactors"),
        ("creepage", '"10 mm"', "the shortest way between poles, or to metal, over a surface"),
        ("clearance", '"8 mm"', "the same through the air"),
    ),
)

_CHARGING = OfferedSection(
    "charging",
    "what stands on the charger, beside the socket and on the breaker",
    (
        ("charger", '"charger-6k6-400v"', ""),
        ("inlet", '"type 2"', ""),
        (
            "supply",
            '{ voltage = "230 V", current = "32 A", phases = 1, breaker = "40 A" }',
            "the board tells",
        ),
        ("voltage", '"398 V"', "as set in the charger"),
        ("proximity", '"220 ohm"', "PP to PE at the cable's own plug: 220 ohm is a 32 A cable"),
        ("earth_bond", '"0.03 ohm"', "earth pin of the inlet to the body, with 0.2 A or more"),
        ("residual_current", '"type B"', "what protects the socket: printed on the device"),
        ("drive_lockout", "false", "true once tried: plugged in, the car will not drive"),
        ("follows_pilot", "false", "true once tried: it draws no more than the pilot says"),
        ("limited_by_pack", "false", "true once tried: the pack monitor holds the charger back"),
        ("tariff", '"0.30 /kWh"', "on the electricity bill; no currency"),
    ),
)

_LV = OfferedSection(
    "lv",
    "the 12 V side: a clamp meter and the fuse box give most of it",
    (
        ("dcdc", '"dcdc-1200w-400v"', ""),
        ("battery", '{ capacity = "20 Ah", kind = "AGM" }', "printed on it"),
        ("sleep_current", '"10 mA"', "all off and locked, after half an hour, at the battery"),
        ("main", '{ size = "25 mm^2", length = "1.2 m", fuse = "100 A" }', "battery to fuse box"),
        ("feed", '{ size = "35 mm^2", length = "2.5 m", fuse = "125 A" }', "dc-dc to battery"),
        ("conduit_colour", '"black"', "orange is for high voltage alone"),
        ("battery_after_crash", "false", "true: it feeds these by itself, the contactors open"),
        (
            "alive_after_crash",
            '["hazard lamps", "brake lamps", "horn", "door locks"]',
            "the vacuum pump too",
        ),
    ),
    (
        OfferedList(
            "lv.load",
            "one for each thing that draws current",
            (
                ("name", '"head and tail lamps"', ""),
                ("current", '"12 A"', 'by a clamp meter; or power = "150 W"'),
                ("duty", "{ night = 1.0, winter = 1.0 }", "share on: day, night, winter, charging"),
                ("fuse", '"20 A"', ""),
                ("wire", '"2.5 mm^2"', ""),
                ("length", '"3 m"', "one way"),
            ),
        ),
    ),
)

_COOLING = OfferedSection(
    "cooling",
    "what carries the heat away",
    (
        ("by_air", '["charger", "dc-dc"]', "parts with their own fan or fins, by their makers"),
        ("cabin", '{ conductance = "60 W/K" }', "heat the cabin loses per degree"),
    ),
    (
        OfferedList(
            "cooling.loop",
            "one for each pump",
            (
                ("name", '"drive"', ""),
                ("coolant", '{ kind = "ethylene glycol", share = "50 %" }', "off the can"),
                ("parts", '["pump", "inverter", "motor", "radiator"]', "in the order it flows"),
                ("flow", '"8 L/min"', "into a bucket against a watch; else from the pump"),
                ("pump", '{ flow = "20 L/min", pressure = "45 kPa" }', "both ends of its curve"),
                ("hose", '{ bore = "19 mm", length = "4 m", bends = 4 }', "inside, there and back"),
                ("radiator", '{ conductance = "190 W/K" }', "its data sheet, fan on"),
                ("max_temperature", '"60 degC"', "of the part that bears least"),
                ("volume", '"4.5 L"', "what went in when it was filled"),
                ("high_points", "1", "where air can gather"),
                ("air_bleeds", "1", "of these, with a bleed screw"),
            ),
        ),
    ),
)

_NETWORK = OfferedSection(
    "network",
    "CAN, the wires that work without it, the pedal (separate: two grounds)",
    (
        ("emergency_stop", "false", "true: in the belted driver's reach, opens the contactors"),
        (
            "pedal",
            '{ tracks = 2, separate = false, difference = "8 %", reaction_time = "80 ms" }',
            "",
        ),
        ("wired", '["charge enable"]', "what goes by a wire of its own instead of a message"),
    ),
    (
        OfferedList(
            "network.bus",
            "one for each pair of wires",
            (
                ("name", '"drive"', ""),
                ("bit_rate", '"500 kbit/s"', ""),
                (
                    "nodes",
                    '["inverter", "vehicle controller", "pack controller"]',
                    "along the wire",
                ),
                ("terminated_at", '["inverter", "pack controller"]', "a 120 ohm at each end"),
                ("measured_resistance", '"60 ohm"', "between the two wires, everything off"),
                ("length", '"4.5 m"', "end to end"),
                ("longest_stub", '"0.25 m"', "from the pair to the node farthest off it"),
            ),
        ),
        OfferedList(
            "network.message",
            "one for each message; swapwright network --import reads a DBC",
            (
                ("name", '"torque request"', ""),
                ("bus", '"drive"', ""),
                ("sender", '"vehicle controller"', ""),
                ("identifier", "0x110", "from the makers' message lists"),
                ("bytes", "8", ""),
                ("period", '"10 ms"', "how often it is sent"),
                ("timeout", '"50 ms"', "without it for so long, the receiver lets go"),
                ("carries", '["torque request", "drive enable"]', ""),
            ),
        ),
        OfferedList(
            "network.line",
            "one for each wire that must act with every bus dead",
            (
                ("name", '"interlock loop"', ""),
                (
                    "kind",
                    '"interlock"',
                    "or wake-up, crash cut, emergency stop, drive inhibit, charge enable",
                ),
                ("from", '"plugs and covers"', ""),
                ("to", '"contactor coils"', ""),
                ("fail_state", '"open cuts"', "open cuts: a broken wire lets go"),
            ),
        ),
    ),
)

_BRAKES = OfferedSection(
    "brakes",
    "the servo lost its engine vacuum, and the axles weigh something else",
    (
        ("booster", '"electric vacuum pump"', "or none, or electro-hydraulic"),
        ("reservoir", '"3 L"', ""),
        ("cut_in", '"-0.55 bar"', "the pump's switch: vacuum has a minus sign"),
        ("cut_out", '"-0.75 bar"', ""),
        ("low_vacuum_lamp", "false", "true where one warns of low vacuum"),
        ("front_share", '"70 %"', "of the braking; from a brake tester, front over both"),
        ("front_kind", '"disc"', "disc or drum"),
        ("rear_kind", '"drum"', ""),
        ("front_rotor", '"5.6 kg"', "one disc or drum, on a scale"),
        ("rear_rotor", '"4.5 kg"', ""),
        ("rear_valve", '"none"', "none, fixed or load-sensing"),
        ("antilock", "false", ""),
        ("parking_grade", '"20 %"', "the steepest slope it was seen to hold on"),
    ),
)

_COST = OfferedSection(
    "cost",
    "prices in your own money, no currency",
    (
        ("work", '"260 h"', "hours of the whole job"),
        ("work_rate", '"55 /h"', ""),
        ("fuel_price", '"1.75 /L"', "what the old engine burnt"),
        ("set_aside", '"10 %"', "for what nobody thought of"),
    ),
    (
        OfferedList(
            "cost.part",
            "one for each thing to buy",
            (
                ("name", '"pack module"', ""),
                ("count", "12", ""),
                ("price", "520", "of one"),
                ("lead_time", '"10 weeks"', "from the order to the door"),
                ("here", "false", "true once it lies on the shelf"),
            ),
        ),
        OfferedList(
            "cost.sold",
            "one for each thing that came out and is sold",
            (("name", '"engine and ancillaries"', ""), ("price", "900", "")),
        ),
    ),
)

_SHOP = OfferedSection(
    "shop",
    "the kit assumed while designing",
    (
        ("gloves", '"class 0"', "stamped on the cuff"),
        ("gloves_tested", "2026-09-14", "year-month-day, from the stamp"),
        ("meter", '{ category = "CAT III", voltage = "1000 V" }', "beside its sockets"),
        ("proving_unit", "false", "true: a known source to try the meter on, before and after"),
    ),
)

LEDGER = OfferedList(
    "mass",
    "the axle ledger: one for each thing out, in, or carried",
    (
        ("remove", '"engine and ancillaries"', "remove, add or load"),
        ("mass", '"140 kg"', ""),
        ("x", '"0.05 m"', "behind the front axle"),
        ("z", '"0.55 m"', "above the road"),
    ),
)
"""The list that closes a new file."""

SECTIONS = (
    _CAR,
    _GOALS,
    _DRIVE,
    _PACK,
    _HV,
    _CHARGING,
    _LV,
    _COOLING,
    _NETWORK,
    _BRAKES,
    _COST,
    _SHOP,
)
"""The sections of a new file, in their order."""
