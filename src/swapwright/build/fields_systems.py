"""The Field rows of a build file's systems: 12 V, charging, cooling, CAN, brakes, shop.

The road-going half stands in `fields`, the high-voltage circuit in `fields_circuit`. A row below a part's path (``hv.main_fuse.poles``) is a key
the place adds to what the part itself may say.
"""

from __future__ import annotations

from swapwright.base.field import Field
from swapwright.build.fields_circuit import CIRCUIT
from swapwright.standards.inlets import INLETS, LANGUAGES
from swapwright.standards.network import FAIL_STATES, LINE_KINDS, SIGNAL_NAMES
from swapwright.standards.residual_current import DEVICES

_POLES = ("one", "both")
_COLOURS = ("orange", "black", "grey", "white", "red", "blue", "green", "yellow", "brown", "violet", "none")

LV = (
    Field("lv.voltage", "voltage", "12 V system while the converter runs", low=5.0, high=60.0, default=14.0, default_source="lv-system-typical"),
    Field("lv.dcdc", "part:dcdc", "dc-dc converter"),
    Field("lv.dcdc_temperature", "temperature", "hottest air or coolant at the dc-dc converter", "where not given, hv.working_temperature", low=250.0, high=400.0),
    Field("lv.battery.capacity", "charge", "12 V battery", low=360.0, high=3.6e6),
    Field("lv.battery.kind", "choice", "kind of 12 V battery", choices=("AGM", "flooded", "gel", "LFP")),
    Field("lv.battery.resistance", "resistance", "internal resistance of the 12 V battery, new and warm", low=1e-4, high=0.5, usual=("mohm",)),
    Field("lv.conduit_colour", "choice", "colour of the 12 V conduit", choices=_COLOURS),
    Field("lv.sleep_current", "current", "drain with the car parked and asleep", low=0.0, high=50.0, usual=("mA",)),
    Field("lv.parked", "time", "time it must stand and still start", low=3600.0, high=3.2e7, default=1814400.0, default_source="parked-three-weeks", usual=("d",)),
    Field("lv.hazard_current", "current", "hazard lamps, mean over on and off", low=0.1, high=50.0, default=4.0, default_source="hazard-lamps-typical"),
    Field("lv.controller_min_voltage", "voltage", "12 V below which a controller of the drive resets", low=4.0, high=16.0, default=9.0, default_source="iso-16750-2-supply-voltage"),
    Field("lv.alive_after_crash", "list:choice", "what the 12 V battery still feeds once a crash has shut the car down", choices=("hazard lamps", "brake lamps", "tail lamps", "horn", "door locks", "windows", "interior lamp", "brake vacuum pump", "power steering", "emergency call")),
    Field("lv.battery_after_crash", "flag", "the 12 V battery feeds them by itself, with the contactors open and the converter off"),
    Field("lv.insulation", "choice", "temperature class of the 12 V wires", choices=("class A", "class B", "class C", "class D", "class E", "class F", "class G", "class H"), default="class A", default_source="lv-wire-class-strictest"),
    *(
        Field(f"lv.{run}.{key}", kind, f"{what}, {ends}", low=low, high=high)
        for run, ends in (("main", "12 V battery to fuse box"), ("feed", "dc-dc converter to 12 V battery"))
        for key, kind, what, low, high in (
            ("size", "conductor_area", "cable size", 1e-7, 1e-3),
            ("length", "length", "cable length, one way", 0.01, 50.0),
            ("fuse", "current", "fuse", 0.1, 1000.0),
        )
    ),
    Field("lv.load[].name", "text", "name of the 12 V load"),
    Field("lv.load[].current", "current", "current it draws", low=0.0, high=500.0),
    Field("lv.load[].power", "power", "power it draws, where the current is not known", low=0.0, high=1e4),
    Field("lv.load[].duty.day", "fraction", "share of the time on, by day", "cases not named are off; a load with no duty is on whenever the car is driven", low=0.0, high=1.0),
    Field("lv.load[].duty.night", "fraction", "share of the time on, at night in rain", low=0.0, high=1.0),
    Field("lv.load[].duty.winter", "fraction", "share of the time on, on a winter night", low=0.0, high=1.0),
    Field("lv.load[].duty.charging", "fraction", "share of the time on, while charging", low=0.0, high=1.0),
    Field("lv.load[].duty.parked", "fraction", "share of the time on, parked", low=0.0, high=1.0),
    Field("lv.load[].fuse", "current", "fuse", low=0.1, high=500.0),
    Field("lv.load[].wire", "conductor_area", "wire size", low=1e-7, high=1e-3),
    Field("lv.load[].length", "length", "wire length, one way", low=0.01, high=50.0),
)

CHARGING = (
    Field("charging.charger", "part:charger", "charger"),
    Field("charging.efficiency", "fraction", "from the wall into the battery, where no charger says", "with what the car draws while charging", low=0.4, high=1.0, default=0.87, default_source="charger-efficiency-typical", spread=(0.81, 0.93)),
    Field("charging.power", "power", "charging power, where no charger says", low=50.0, high=1e6, default=3300.0, default_source="charger-power-assumed"),
    Field("charging.chargers", "count", "chargers in parallel", low=1, high=10, default=1, default_source="one-charger"),
    Field("charging.inlet", "choice", "inlet", choices=tuple(INLETS)),
    Field("charging.inlet_current", "current", "current the inlet bears as it is built, with its cable", "of a fast-charge inlet its direct current", low=1.0, high=2000.0),
    Field("charging.inlet_voltage", "voltage", "dc voltage a fast-charge inlet is made for, as it is built", "where its maker says another than its kind", low=50.0, high=1500.0),
    Field("charging.supply.voltage", "voltage", "supply voltage, across one phase", "phase to neutral on three phases; across the two legs in the US", low=80.0, high=500.0),
    Field("charging.supply.current", "current", "current the supply offers in each phase", low=1.0, high=500.0),
    Field("charging.supply.breaker", "current", "rating of the supply's own circuit", "of its breaker or fuse", low=1.0, high=1000.0),
    Field("charging.supply.phases", "count", "supply phases", low=1, high=3, default=1, default_source="one-phase"),
    Field("charging.voltage", "voltage", "charge voltage set in the charger", low=1.0, high=1500.0),
    Field("charging.from", "fraction", "charge time is counted from", low=0.0, high=0.95, default=0.10, default_source="charge-window-typical"),
    Field("charging.to", "fraction", "charge time is counted to", low=0.05, high=1.0, default=1.0, default_source="charge-window-typical"),
    Field("charging.contactors", "part:contactor", "charge contactors, where they are separate"),
    Field("charging.contactors.poles", "choice", "poles the charge contactors open", choices=_POLES),
    Field("charging.contactors.polarised", "flag", "charge contactors break one direction of current only"),
    Field("charging.drive_lockout", "flag", "the car cannot drive while plugged in"),
    Field("charging.proximity", "resistance", "proximity resistor of the cable", low=10.0, high=1e5),
    Field("charging.pilot", "fraction", "duty of the control pilot, measured", low=0.0, high=1.0),
    Field("charging.follows_pilot", "flag", "the charger draws no more than pilot and cable allow", "prove it in commissioning"),
    Field("charging.limited_by_pack", "flag", "the pack monitor tells the charger what the cells take", "and the charger obeys it, in the cold too; prove it in commissioning"),
    Field("charging.tariff", "price_of_energy", "price of energy", "in the owner's money: 0.30 /kWh", low=0.0, high=1e-4),
    Field("charging.earth_bond", "resistance", "earth contact of the inlet to the body, measured with 0.2 A or more", low=0.0, high=1e6),
    Field("charging.residual_current", "choice", "residual-current protection ahead of the car", choices=DEVICES),
    Field("charging.speaks", "choice", "what the pack controller speaks with a station", choices=LANGUAGES),
    Field("charging.monitor_off_while_charging", "flag", "the car's isolation monitor is off while the station measures"),
    Field("charging.inlet_temperature_watched", "flag", "the inlet's contacts are watched for temperature, and the current is cut back"),
    Field("charging.station.voltage", "voltage", "fast-charging station's highest voltage", low=50.0, high=1500.0),
    Field("charging.station.min_voltage", "voltage", "fast-charging station's lowest voltage", low=1.0, high=1500.0),
    Field("charging.station.current", "current", "fast-charging station's highest current", low=1.0, high=1500.0),
    Field("charging.station.power", "power", "fast-charging station's power", low=500.0, high=2e6),
)

COOLED = (
    *("pump", "hose", "header tank", "radiator", "inverter", "motor", "second inverter", "second motor"),
    *("charger", "dc-dc", "pack plate", "heater", "heater core", "chiller"),
)
"""What a coolant loop can run through."""

SHEDS_HEAT = ("inverter", "motor", "second inverter", "second motor", "charger", "dc-dc")
"""Of these, parts that must shed their heat somewhere: into a loop or into the air."""

COOLING = (
    Field("cooling.by_air", "list:choice", "what sheds its heat into the air, by its maker's word", "motor, inverter, charger and dc-dc converter are each in a loop or stand here", choices=SHEDS_HEAT),
    Field("cooling.loop[].name", "name", "name of the loop", required=True),
    Field("cooling.loop[].coolant.kind", "choice", "coolant", choices=("ethylene glycol", "propylene glycol", "water", "oil")),
    Field("cooling.loop[].coolant.share", "fraction", "share of antifreeze by volume", low=0.0, high=1.0),
    Field("cooling.loop[].parts", "list:choice", "what the coolant runs through, in order", choices=COOLED),
    Field("cooling.loop[].drops", "list:pressure", "pressure each part takes, in the order of the parts", "0 Pa for the pump; by the data sheets, at the flow of drops_at; of no part it is taken as is typical of its kind", low=0.0, high=1e6),
    Field("cooling.loop[].drops_at", "flow", "flow at which the parts take that pressure", low=1e-6, high=0.01),
    Field("cooling.loop[].flow", "flow", "coolant flow, measured", "where none is measured it is worked out from the pump and what the coolant runs through", low=1e-7, high=0.01),
    Field("cooling.loop[].min_flow", "flow", "least flow its parts ask for", low=1e-7, high=0.01, default=1e-4, default_source="coolant-flow-typical"),
    Field("cooling.loop[].high_points", "count", "high points of the loop", low=0, high=50),
    Field("cooling.loop[].air_bleeds", "count", "high points with a bleed", low=0, high=50),
    Field("cooling.loop[].max_temperature", "temperature", "hottest coolant allowed", "by the data sheet of the part that bears least; where nothing is said 60 degC, the typical of an inverter, but of a loop through a pack plate nothing is assumed", low=280.0, high=400.0),
    Field("cooling.loop[].volume", "volume", "coolant in the loop", low=1e-4, high=0.2),
    Field("cooling.loop[].plate_resistance", "thermal_resistance", "inverter's plate above its coolant, for each watt", "by the inverter's data sheet", low=1e-5, high=1.0),
    Field("cooling.loop[].pump.flow", "flow", "pump's flow with no resistance", low=1e-7, high=0.01),
    Field("cooling.loop[].pump.pressure", "pressure", "pump's pressure with no flow", low=100.0, high=1e6),
    Field("cooling.loop[].hose.bore", "length", "hose bore", low=2e-3, high=0.1),
    Field("cooling.loop[].hose.length", "length", "hose length, there and back", low=0.05, high=50.0),
    Field("cooling.loop[].hose.bends", "count", "right-angled elbows in the hoses", low=0, high=100, default=4, default_source="coolant-bends-typical"),
    Field("cooling.loop[].radiator.conductance", "thermal_conductance", "radiator's heat per degree, fan on", "between the coolant, mean, and the air that comes in", low=1.0, high=1e5),
    Field("cooling.cabin.conductance", "thermal_conductance", "heat the cabin loses per degree", "shell and fresh air together", low=5.0, high=2000.0, default=60.0, default_source="cabin-loss-typical"),
    Field("cooling.cabin.temperature", "temperature", "cabin kept at", low=275.0, high=305.0, default=293.15, default_source="cabin-warm-typical"),
)

NETWORK = (
    Field("network.bus[].name", "name", "name of the bus", required=True),
    Field("network.bus[].protocol", "choice", "what its identifiers mean", "J1939: the last eight of 29 bits are the sender's address", choices=("own", "J1939")),
    Field("network.bus[].bit_rate", "bit_rate", "bit rate", low=5e3, high=1e7),
    Field("network.bus[].nodes", "list:text", "nodes on it, in the order the wire passes them", "a node is known for charger, pack controller, inverter or vehicle controller by its name"),
    Field("network.bus[].node_bit_rates", "list:bit_rate", "bit rate each node is set to, in the order of the nodes"),
    Field("network.bus[].terminated_at", "list:text", "nodes with a terminator"),
    Field("network.bus[].terminator", "resistance", "resistance of each terminator", low=10.0, high=1e4, default=120.0, default_source="iso-11898-2-2016-termination"),
    Field("network.bus[].measured_resistance", "resistance", "resistance between the two wires, power off", low=0.0, high=1e7),
    Field("network.bus[].length", "length", "length end to end", low=0.01, high=1000.0),
    Field("network.bus[].longest_stub", "length", "longest stub", low=0.0, high=100.0),
    Field("network.bus[].jitter", "time", "a node may queue a message this late", low=0.0, high=1.0, default=1e-3, default_source="can-queueing-jitter-typical", usual=("ms",)),
    Field("network.message[].name", "name", "name of the message", required=True),
    Field("network.message[].bus", "text", "bus it is on"),
    Field("network.message[].sender", "text", "node that sends it"),
    Field("network.message[].identifier", "count", "identifier", low=0, high=536870911),
    Field("network.message[].extended", "flag", "identifier of 29 bits"),
    Field("network.message[].bytes", "count", "data bytes", low=0, high=8),
    Field("network.message[].period", "time", "sent every", low=1e-3, high=3600.0, usual=("ms",)),
    Field("network.message[].deadline", "time", "must arrive within", low=1e-4, high=3600.0, usual=("ms",)),
    Field("network.message[].timeout", "time", "receivers take it for lost after", low=1e-3, high=3600.0, usual=("ms",)),
    Field("network.message[].carries", "list:choice", "what it tells of what charger, pack controller, inverter and vehicle controller need", choices=SIGNAL_NAMES),
    Field("network.wired", "list:choice", "what goes by a wire of its own instead of a message", choices=SIGNAL_NAMES),
    Field("network.line[].name", "name", "name of the line", required=True),
    Field("network.line[].kind", "choice", "what it is for", choices=LINE_KINDS, required=True),
    Field("network.line[].from", "text", "where it comes from"),
    Field("network.line[].to", "text", "what it acts on"),
    Field("network.line[].fail_state", "choice", "what a broken wire does", "open cuts: a break lets go; closed cuts: a break goes unnoticed", choices=FAIL_STATES),
    Field("network.emergency_stop", "flag", "an emergency stop in the belted driver's reach opens the contactors"),
    Field("network.pedal.tracks", "count", "tracks of the accelerator pedal", low=1, high=4),
    Field("network.pedal.separate", "flag", "each track has its own supply and ground, and the two are unlike", "so that one short cannot move both alike"),
    Field("network.pedal.difference", "fraction", "share of the travel the tracks may differ by", low=0.001, high=1.0),
    Field("network.pedal.brake_override", "flag", "the brake takes the drive torque away, whatever the pedal says", "asked for where the released pedal leaves torque; prove it in commissioning"),
    Field("network.pedal.reaction_time", "time", "torque is gone this long after they differ by more", low=1e-3, high=60.0, usual=("ms",)),
)

BRAKES = (
    Field("brakes.booster", "choice", "brake booster", choices=("none", "electric vacuum pump", "electro-hydraulic")),
    Field("brakes.reservoir", "volume", "vacuum reservoir", low=0.0, high=0.1),
    Field("brakes.cut_in", "pressure", "pump cuts in at", "below the air outside: a minus sign", low=-1.1e5, high=0.0, usual=("bar",)),
    Field("brakes.cut_out", "pressure", "pump cuts out at", "below the air outside: a minus sign", low=-1.1e5, high=0.0, usual=("bar",)),
    Field("brakes.booster_air", "volume", "air the booster lets in at a firm stop", "as it is outside", low=1e-5, high=0.02, default=0.7e-3, default_source="booster-air-typical"),
    Field("brakes.booster_chamber", "volume", "vacuum chamber of the booster itself", low=0.0, high=0.05, default=2.5e-3, default_source="booster-chamber-typical", usual=("L",)),
    Field("brakes.pump_flow", "flow", "air the vacuum pump takes in", low=1e-6, high=0.02, default=5e-4, default_source="vacuum-pump-flow-typical"),
    Field("brakes.low_vacuum_lamp", "flag", "lamp warns of low vacuum"),
    Field("brakes.front_share", "fraction", "share of the braking at the front", low=0.0, high=1.0),
    Field("brakes.front_kind", "choice", "front brakes", choices=("disc", "drum")),
    Field("brakes.rear_kind", "choice", "rear brakes", choices=("disc", "drum")),
    Field("brakes.front_rotor", "mass", "mass of one front disc or drum", low=0.5, high=60.0),
    Field("brakes.rear_rotor", "mass", "mass of one rear disc or drum", low=0.5, high=60.0),
    Field("brakes.cooling", "thermal_conductance", "heat one disc or drum gives the air at road speed", low=0.5, high=100.0, default=7.0, default_source="brake-cooling-typical"),
    Field("brakes.lamps_with_regeneration", "flag", "regeneration lights the brake lamps", "above 1.3 m/s^2, whatever the foot does"),
    Field("brakes.valve_set", "flag", "the rear valve was set again for the new axle loads"),
    Field("brakes.rear_valve", "choice", "valve in the rear circuit", choices=("none", "fixed", "load-sensing")),
    Field("brakes.antilock", "flag", "antilock braking fitted"),
    Field("brakes.parking_grade", "grade", "grade the parking brake holds, measured", low=0.0, high=1.0),
)

SHOP = (
    Field("shop.gloves", "choice", "insulating gloves", choices=("class 00", "class 0", "class 1", "class 2", "class 3", "class 4")),
    Field("shop.gloves_tested", "date", "gloves last tested"),
    Field("shop.gloves_in_use_since", "date", "gloves put in service"),
    Field("shop.meter.category", "choice", "meter's category", choices=("CAT II", "CAT III", "CAT IV")),
    Field("shop.meter.voltage", "voltage", "meter's and leads' voltage", low=10.0, high=5000.0),
    Field("shop.proving_unit", "flag", "proving unit at hand"),
    Field("shop.work_card_wait", "time", "wait the work card asks for after isolation", low=1.0, high=86400.0, usual=("min",)),
)

COST = (
    Field("cost.part[].name", "text", "what is bought", required=True),
    Field("cost.part[].count", "count", "how many, one where it says nothing", low=1, high=10000),
    Field("cost.part[].price", "money", "price of one, in the owner's money", low=0.0, high=1e7),
    Field("cost.part[].lead_time", "time", "how long it takes to come", low=0.0, high=1e8, usual=("d", "wk")),
    Field("cost.part[].here", "flag", "it is on the shelf already"),
    Field("cost.sold[].name", "text", "what is sold of what came out", required=True),
    Field("cost.sold[].price", "money", "what it brings", low=0.0, high=1e7),
    Field("cost.work", "time", "work of the whole conversion", low=0.0, high=1e8, usual=("h",)),
    Field("cost.work_rate", "price_of_time", "price of work", "in the owner's money: 65 /h", low=0.0, high=1.0),
    Field("cost.set_aside", "fraction", "share set aside for what nobody thought of", low=0.0, high=1.0, default=0.10, default_source="cost-set-aside-typical"),
    Field("cost.fuel_price", "price_of_volume", "price of the old engine's fuel", "in the owner's money: 1.75 /L", low=0.0, high=1e5),
)

SYSTEMS = (*CIRCUIT, *LV, *CHARGING, *COOLING, *NETWORK, *BRAKES, *SHOP, *COST)
