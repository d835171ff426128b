"""The Field rows of a build file's systems: high voltage, 12 V, charging, cooling, CAN, brakes, shop.

The road-going half stands in `fields`. A row below a part's path (``hv.main_fuse.poles``) is a key
the place adds to what the part itself may say.
"""

from __future__ import annotations

from swapwright.base.field import Field

_POLES = ("one", "both")
_INSULATION = ("class A", "class B", "class C", "class D", "class E", "class F", "class G", "class H")
_CABLE_STANDARDS = ("ISO 6722-1", "ISO 19642-5", "SAE J1654", "SAE J1127", "SAE J1128", "welding cable", "other")
_COLOURS = ("orange", "black", "grey", "white", "red", "blue", "green", "yellow", "brown", "violet", "none")
_ELEMENTS = ("pack", "disconnect", "fuse", "contactor", "precharge resistor", "cable", "bleed resistor", "link capacitor", "y-capacitor", "load")

HV = (
    Field("hv.working_temperature", "temperature", "temperature around the high-voltage parts", low=250.0, high=400.0, default=323.15, default_source="hv-ambient-typical"),
    Field("hv.disconnect.between", "list:name", "service disconnect", "the two boxes it stands between"),
    Field("hv.disconnect.voltage", "voltage", "service disconnect's dc voltage rating", low=10.0, high=3000.0, life_critical=True),
    Field("hv.disconnect.current", "current", "service disconnect's current rating", low=1.0, high=5000.0),
    Field("hv.main_fuse", "part:fuse", "main fuse"),
    Field("hv.main_fuse.poles", "choice", "poles the main fuse stands in", choices=_POLES),
    Field("hv.main_fuse.at", "choice", "where the main fuse stands", choices=("positive", "negative", "mid")),
    Field("hv.contactors", "part:contactor", "main contactors"),
    Field("hv.contactors.poles", "choice", "poles the main contactors open", choices=_POLES),
    Field("hv.contactors.polarised", "flag", "main contactors break one direction of current only"),
    Field("hv.precharge.resistor", "resistance", "precharge resistor", low=0.1, high=1e5),
    Field("hv.precharge.rating", "power", "precharge resistor's continuous rating", low=0.1, high=1e4),
    Field("hv.precharge.pulse", "energy", "precharge resistor's pulse rating", "from its data sheet, for one precharge", low=0.1, high=1e6),
    Field("hv.precharge.until", "fraction", "share of the pack voltage the main contactor closes at", low=0.3, high=1.0, default=0.95, default_source="precharge-until-typical"),
    Field("hv.precharge.timeout", "time", "precharge is given up after", low=0.01, high=60.0),
    Field("hv.precharge.timer", "time", "main contactor closes after this long, measured voltage or not", low=0.01, high=60.0),
    Field("hv.precharge.feedback", "flag", "link voltage is measured before the main contactor closes"),
    Field("hv.precharge.tries", "count", "tries before precharge locks out", low=1, high=100, default=3, default_source="precharge-tries-typical"),
    Field("hv.precharge.pause", "time", "rest between tries", low=0.0, high=3600.0),
    Field("hv.bleed", "resistance", "bleed resistor across the link", low=10.0, high=1e8, life_critical=True),
    Field("hv.bleed_rating", "power", "bleed resistor's continuous rating", low=0.01, high=1e4),
    Field("hv.active_discharge", "time", "active discharge to 60 V, if the inverter has it", low=0.1, high=600.0),
    Field("hv.y_capacitance", "capacitance", "capacitance from each pole to the chassis, whole car", low=0.0, high=1e-3, life_critical=True),
    Field("hv.isolation_monitor.alarm", "resistance_per_voltage", "isolation monitor's alarm", low=1.0, high=1e6),
    Field("hv.isolation_monitor.warning", "resistance_per_voltage", "isolation monitor's warning", low=1.0, high=1e6),
    Field("hv.isolation.positive", "resistance", "isolation resistance of the positive pole, measured", low=0.0, high=1e12),
    Field("hv.isolation.negative", "resistance", "isolation resistance of the negative pole, measured", low=0.0, high=1e12),
    Field("hv.isolation.target", "resistance", "isolation resistance wanted at handover", low=1e3, high=1e12, default=1e6, default_source="isolation-handover-typical"),
    Field("hv.bonding", "resistance", "highest bonding resistance measured", low=0.0, high=1000.0),
    Field("hv.interlock", "flag", "interlock loop opens the contactors"),
    Field("hv.inertia_switch", "flag", "inertia switch or crash signal opens the contactors"),
    Field("hv.creepage", "length", "shortest creepage distance", low=1e-4, high=1.0),
    Field("hv.clearance", "length", "shortest clearance", low=1e-4, high=1.0),
    Field("hv.pollution_degree", "count", "pollution degree inside the boxes", low=1, high=4, default=3, default_source="pollution-degree-car"),
    Field("hv.material_group", "choice", "insulating material group", choices=("I", "II", "IIIa", "IIIb"), default="IIIa", default_source="material-group-unknown"),
)

HV_CABLE = (
    Field("hv.cable[].name", "name", "name of the cable"),
    Field("hv.cable[].from", "text", "cable runs from"),
    Field("hv.cable[].to", "text", "cable runs to"),
    Field("hv.cable[].length", "length", "cable length, one way", low=0.01, high=50.0, life_critical=True),
    Field("hv.cable[].size", "conductor_area", "conductor size", low=1e-7, high=1e-3),
    Field("hv.cable[].insulation", "choice", "insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.cable[].standard", "choice", "standard the cable is made to", choices=_CABLE_STANDARDS),
    Field("hv.cable[].voltage", "voltage", "cable's dc voltage rating", low=10.0, high=5000.0),
    Field("hv.cable[].colour", "choice", "colour of the outer covering", choices=_COLOURS),
    Field("hv.cable[].screened", "flag", "cable is screened"),
    Field("hv.cable[].routing", "text", "how it is laid"),
    Field("hv.cable[].ambient", "temperature", "temperature around it", low=220.0, high=450.0),
    Field("hv.cable[].bundled", "count", "loaded cables in the same bundle", low=1, high=50, default=1, default_source="cable-alone"),
)

HV_BRANCH = (
    Field("hv.branch[].name", "name", "name of the branch", required=True),
    Field("hv.branch[].load", "text", "what the branch feeds", "a catalogue name or a word of your own"),
    Field("hv.branch[].current", "current", "branch's continuous current", low=0.0, high=2000.0),
    Field("hv.branch[].power", "power", "branch's continuous power", low=0.0, high=1e6),
    Field("hv.branch[].capacitance", "capacitance", "capacitance across the branch's input", low=0.0, high=0.1, life_critical=True),
    Field("hv.branch[].fuse", "part:fuse", "branch fuse"),
    Field("hv.branch[].fuse.poles", "choice", "poles the branch fuse stands in", choices=_POLES),
    Field("hv.branch[].contactor", "part:contactor", "branch contactor"),
    Field("hv.branch[].contactor.poles", "choice", "poles the branch contactor opens", choices=_POLES),
    Field("hv.branch[].cable.length", "length", "branch cable length, one way", low=0.01, high=50.0, life_critical=True),
    Field("hv.branch[].cable.size", "conductor_area", "branch conductor size", low=1e-7, high=1e-3),
    Field("hv.branch[].cable.insulation", "choice", "branch insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.branch[].cable.ambient", "temperature", "temperature around the branch cable", low=220.0, high=450.0),
)

HV_ELEMENT = (
    Field("hv.element[].name", "name", "name of the element", required=True),
    Field("hv.element[].kind", "choice", "what it is", choices=_ELEMENTS, required=True),
    Field("hv.element[].from", "text", "terminal it starts at", "element.plus, element.minus, or chassis", required=True),
    Field("hv.element[].to", "text", "terminal it ends at", "element.plus, element.minus, or chassis", required=True),
    Field("hv.element[].resistance", "resistance", "resistance", low=0.0, high=1e12, life_critical=True),
    Field("hv.element[].capacitance", "capacitance", "capacitance", low=0.0, high=1.0, life_critical=True),
    Field("hv.element[].voltage", "voltage", "dc voltage rating", low=1.0, high=5000.0, life_critical=True),
    Field("hv.element[].current", "current", "current rating", low=0.1, high=5000.0, life_critical=True),
    Field("hv.element[].breaking", "current", "dc breaking capacity", low=10.0, high=5e5, life_critical=True),
    Field("hv.element[].power", "power", "power it draws, or its rating", low=0.0, high=1e6),
    Field("hv.element[].pulse", "energy", "pulse rating", low=0.1, high=1e6),
    Field("hv.element[].length", "length", "length, one way", low=0.01, high=50.0, life_critical=True),
    Field("hv.element[].size", "conductor_area", "conductor size", low=1e-7, high=1e-3),
    Field("hv.element[].insulation", "choice", "insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.element[].strings", "count", "strings of the pack in this element", low=1, high=200),
    Field("hv.element[].modules", "count", "modules in series in this element", low=1, high=500),
)

LV = (
    Field("lv.voltage", "voltage", "12 V system while the converter runs", low=5.0, high=60.0, default=14.0, default_source="lv-system-typical"),
    Field("lv.dcdc", "part:dcdc", "dc-dc converter"),
    Field("lv.battery.capacity", "charge", "12 V battery", low=360.0, high=3.6e6),
    Field("lv.battery.kind", "choice", "kind of 12 V battery", choices=("AGM", "flooded", "gel", "LFP")),
    Field("lv.conduit_colour", "choice", "colour of the 12 V conduit", choices=_COLOURS),
    Field("lv.sleep_current", "current", "drain with the car parked and asleep", low=0.0, high=50.0),
    Field("lv.parked", "time", "time it must stand and still start", low=3600.0, high=3.2e7, default=1814400.0, default_source="parked-three-weeks"),
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
    Field("charging.inlet", "choice", "inlet", choices=("type 1", "type 2", "ccs 1", "ccs 2", "chademo", "industrial", "household")),
    Field("charging.supply.voltage", "voltage", "supply voltage, phase to neutral", low=80.0, high=500.0),
    Field("charging.supply.current", "current", "supply current", low=1.0, high=500.0),
    Field("charging.supply.phases", "count", "supply phases", low=1, high=3, default=1, default_source="one-phase"),
    Field("charging.voltage", "voltage", "charge voltage set in the charger", low=1.0, high=1500.0),
    Field("charging.from", "fraction", "charge time is counted from", low=0.0, high=0.95, default=0.10, default_source="charge-window-typical"),
    Field("charging.to", "fraction", "charge time is counted to", low=0.05, high=1.0, default=1.0, default_source="charge-window-typical"),
    Field("charging.contactors", "part:contactor", "charge contactors, where they are separate"),
    Field("charging.contactors.poles", "choice", "poles the charge contactors open", choices=_POLES),
    Field("charging.drive_lockout", "flag", "the car cannot drive while plugged in"),
    Field("charging.proximity", "resistance", "proximity resistor of the cable", low=10.0, high=1e5),
)

COOLING = (
    Field("cooling.loop[].name", "name", "name of the loop", required=True),
    Field("cooling.loop[].coolant.kind", "choice", "coolant", choices=("ethylene glycol", "propylene glycol", "water", "oil")),
    Field("cooling.loop[].coolant.share", "fraction", "share of antifreeze by volume", low=0.0, high=1.0),
    Field("cooling.loop[].parts", "list:text", "what the coolant runs through, in order"),
    Field("cooling.loop[].flow", "flow", "coolant flow, measured or from the pump's curve", low=1e-7, high=0.01),
    Field("cooling.loop[].high_points", "count", "high points of the loop", low=0, high=50),
    Field("cooling.loop[].air_bleeds", "count", "high points with a bleed", low=0, high=50),
    Field("cooling.loop[].max_temperature", "temperature", "hottest coolant allowed", low=280.0, high=400.0, default=333.15, default_source="inverter-coolant-typical"),
    Field("cooling.loop[].volume", "volume", "coolant in the loop", low=1e-4, high=0.2),
    Field("cooling.loop[].pump.flow", "flow", "pump's flow with no resistance", low=1e-7, high=0.01),
    Field("cooling.loop[].pump.pressure", "pressure", "pump's pressure with no flow", low=100.0, high=1e6),
    Field("cooling.loop[].hose.bore", "length", "hose bore", low=2e-3, high=0.1),
    Field("cooling.loop[].hose.length", "length", "hose length, there and back", low=0.05, high=50.0),
    Field("cooling.loop[].radiator.conductance", "thermal_conductance", "radiator's heat per degree, fan on", low=1.0, high=1e5),
)

NETWORK = (
    Field("network.bus[].name", "name", "name of the bus", required=True),
    Field("network.bus[].bit_rate", "bit_rate", "bit rate", low=5e3, high=1e7),
    Field("network.bus[].nodes", "list:text", "nodes on it"),
    Field("network.bus[].node_bit_rates", "list:bit_rate", "bit rate each node is set to, in the order of the nodes"),
    Field("network.bus[].terminated_at", "list:text", "nodes with a terminator"),
    Field("network.bus[].measured_resistance", "resistance", "resistance between the two wires, power off", low=0.0, high=1e7),
    Field("network.bus[].length", "length", "length end to end", low=0.01, high=1000.0),
    Field("network.bus[].longest_stub", "length", "longest stub", low=0.0, high=100.0),
    Field("network.message[].name", "name", "name of the message", required=True),
    Field("network.message[].bus", "text", "bus it is on"),
    Field("network.message[].sender", "text", "node that sends it"),
    Field("network.message[].identifier", "count", "identifier", low=0, high=536870911),
    Field("network.message[].extended", "flag", "identifier of 29 bits"),
    Field("network.message[].bytes", "count", "data bytes", low=0, high=8),
    Field("network.message[].period", "time", "sent every", low=1e-3, high=3600.0),
    Field("network.message[].deadline", "time", "must arrive within", low=1e-4, high=3600.0),
)

BRAKES = (
    Field("brakes.booster", "choice", "brake booster", choices=("none", "electric vacuum pump", "electro-hydraulic")),
    Field("brakes.reservoir", "volume", "vacuum reservoir", low=0.0, high=0.1),
    Field("brakes.cut_in", "pressure", "pump cuts in at", "below the air outside: a minus sign", low=-1.1e5, high=0.0),
    Field("brakes.cut_out", "pressure", "pump cuts out at", "below the air outside: a minus sign", low=-1.1e5, high=0.0),
    Field("brakes.low_vacuum_lamp", "flag", "lamp warns of low vacuum"),
    Field("brakes.front_share", "fraction", "share of the braking at the front", low=0.0, high=1.0),
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
    Field("shop.work_card_wait", "time", "wait the work card asks for after isolation", low=1.0, high=86400.0),
)

SYSTEMS = (*HV, *HV_CABLE, *HV_BRANCH, *HV_ELEMENT, *LV, *CHARGING, *COOLING, *NETWORK, *BRAKES, *SHOP)
