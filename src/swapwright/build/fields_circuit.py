"""The Field rows of the high-voltage circuit: its parts, cables, branches and single elements.

A row below a part's path (``hv.main_fuse.poles``) is a key the place adds to what the part itself
may say.
"""

from __future__ import annotations

from swapwright.base.field import Field

_POLES = ("one", "both")
_INSULATION = ("class A", "class B", "class C", "class D", "class E", "class F", "class G", "class H")
_CABLE_STANDARDS = ("ISO 6722-1", "ISO 19642-5", "SAE J1654", "SAE J1127", "SAE J1128", "welding cable", "other")
_COLOURS = ("orange", "black", "grey", "white", "red", "blue", "green", "yellow", "brown", "violet", "none")
_LAID = ("free air", "clipped", "conduit", "bundle", "near exhaust")
_ELEMENTS = ("pack", "disconnect", "fuse", "contactor", "precharge relay", "precharge resistor", "cable", "connector", "bleed resistor", "active discharge", "link capacitor", "y-capacitor", "isolation resistance", "isolation monitor", "load", "inverter", "charger", "dc-dc", "inlet")

HV = (
    Field("hv.working_temperature", "temperature", "temperature around the high-voltage parts", low=250.0, high=400.0, default=323.15, default_source="hv-ambient-typical"),
    Field("hv.disconnect.between", "list:name", "service disconnect", "the two boxes it stands between"),
    Field("hv.disconnect.voltage", "voltage", "service disconnect's dc voltage rating", low=10.0, high=3000.0, life_critical=True),
    Field("hv.disconnect.current", "current", "service disconnect's current rating", low=1.0, high=5000.0),
    Field("hv.disconnect.load_break", "flag", "service disconnect opens under load", "only where its data sheet says so"),
    Field("hv.main_fuse", "part:fuse", "main fuse"),
    Field("hv.main_fuse.poles", "choice", "poles the main fuse stands in", choices=_POLES),
    Field("hv.main_fuse.at", "choice", "where the main fuse stands", choices=("positive", "negative", "mid")),
    Field("hv.string_fuse", "part:fuse", "fuse of each string"),
    Field("hv.string_fuse.poles", "choice", "poles the string fuses stand in", choices=_POLES),
    Field("hv.contactors", "part:contactor", "main contactors"),
    Field("hv.contactors.poles", "choice", "poles the main contactors open", choices=_POLES),
    Field("hv.contactors.polarised", "flag", "main contactors break one direction of current only"),
    Field("hv.string_contactors", "part:contactor", "contactors of each string"),
    Field("hv.string_contactors.poles", "choice", "poles the string contactors open", choices=_POLES),
    Field("hv.string_contactors.polarised", "flag", "string contactors break one direction of current only"),
    Field("hv.join_difference", "voltage", "largest voltage between strings when they are joined", low=0.0, high=500.0),
    Field("hv.precharge.resistor", "resistance", "precharge resistor", low=0.1, high=1e5),
    Field("hv.precharge.relay", "part:contactor", "precharge relay"),
    Field("hv.precharge.rating", "power", "precharge resistor's continuous rating", low=0.1, high=1e4),
    Field("hv.precharge.pulse", "energy", "precharge resistor's pulse rating", "from its data sheet, for one precharge", low=0.1, high=1e6, life_critical=True),
    Field("hv.precharge.until", "fraction", "share of the pack voltage the main contactor closes at", low=0.3, high=1.0, default=0.95, default_source="precharge-until-typical"),
    Field("hv.precharge.timeout", "time", "precharge is given up after", low=0.01, high=60.0),
    Field("hv.precharge.timer", "time", "main contactor closes after this long, measured voltage or not", low=0.01, high=60.0),
    Field("hv.precharge.feedback", "flag", "link voltage is measured before the main contactor closes"),
    Field("hv.precharge.tries", "count", "tries before precharge locks out", low=1, high=100, default=3, default_source="precharge-tries-typical"),
    Field("hv.precharge.pause", "time", "rest between tries", low=0.0, high=3600.0),
    Field("hv.bleed", "resistance", "bleed resistor across the link", low=10.0, high=1e8, life_critical=True),
    Field("hv.bleed_count", "count", "bleed resistors of that value side by side", low=1, high=20, default=1, default_source="one-bleed"),
    Field("hv.bleed_rating", "power", "bleed resistor's continuous rating", low=0.01, high=1e4),
    Field("hv.active_discharge", "time", "active discharge to 60 V, if the inverter has it", low=0.1, high=600.0),
    Field("hv.maker_wait", "time", "longest waiting time a component's maker asks for", low=1.0, high=86400.0, usual=("min",)),
    Field("hv.y_capacitance", "capacitance", "capacitance from each pole to the chassis, whole car", low=0.0, high=1e-3, life_critical=True),
    Field("hv.isolation_monitor.alarm", "resistance_per_voltage", "isolation monitor's alarm", low=1.0, high=1e6),
    Field("hv.isolation_monitor.warning", "resistance_per_voltage", "isolation monitor's warning", low=1.0, high=1e6),
    Field("hv.isolation_monitor.resistance", "resistance", "isolation monitor's own resistance, each pole to the chassis", low=1e4, high=1e9, default=2.4e6, default_source="isolation-monitor-resistance-typical"),
    Field("hv.isolation_monitor.count", "count", "isolation monitors on the circuit, the charger's and the inverter's own counted", low=0, high=10, default=1, default_source="one-isolation-monitor"),
    Field("hv.isolation.positive", "resistance", "isolation resistance of the positive pole, measured", low=0.0, high=1e12),
    Field("hv.isolation.negative", "resistance", "isolation resistance of the negative pole, measured", low=0.0, high=1e12),
    Field("hv.isolation.target", "resistance", "isolation resistance wanted at handover", low=1e3, high=1e12, default=1e6, default_source="isolation-handover-typical"),
    Field("hv.ac_protection", "flag", "ac parts have double insulation or lifelong mechanical protection, documented"),
    Field("hv.bonding", "resistance", "highest bonding resistance measured", low=0.0, high=1000.0, usual=("mohm",)),
    Field("hv.interlock", "flag", "interlock loop opens the contactors"),
    Field("hv.interlock_loop.resistance", "resistance", "interlock loop's resistance, closed, measured", low=0.0, high=1e6),
    Field("hv.interlock_loop.limit", "resistance", "interlock loop's resistance above which its monitor opens the contactors", low=0.1, high=1e6),
    Field("hv.interlock_loop.opens", "choice", "poles the interlock loop opens", choices=_POLES),
    Field("hv.inertia_switch", "flag", "inertia switch or crash signal opens the contactors"),
    Field("hv.altitude", "length", "highest altitude it is used at", low=0.0, high=6000.0, default=2000.0, default_source="altitude-assumed"),
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
    Field("hv.cable[].size", "conductor_area", "conductor size, copper", low=1e-7, high=1e-3),
    Field("hv.cable[].insulation", "choice", "insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.cable[].standard", "choice", "standard the cable is made to", choices=_CABLE_STANDARDS),
    Field("hv.cable[].voltage", "voltage", "cable's dc voltage rating", low=10.0, high=5000.0),
    Field("hv.cable[].colour", "choice", "colour of the outer covering", choices=_COLOURS),
    Field("hv.cable[].screened", "flag", "cable is screened"),
    Field("hv.cable[].routing", "text", "how it is laid"),
    Field("hv.cable[].laid", "choice", "how it gives off its heat", choices=_LAID, default="conduit", default_source="cable-laid-worst"),
    Field("hv.cable[].terminals", "temperature", "hottest that its lugs, glands and the terminals they sit on may be", low=320.0, high=500.0, default=363.15, default_source="terminals-90"),
    Field("hv.cable[].diameter", "length", "overall diameter", low=1e-3, high=0.1),
    Field("hv.cable[].bend_radius", "length", "tightest bend it is laid in", low=1e-3, high=2.0),
    Field("hv.cable[].ambient", "temperature", "temperature around it", low=220.0, high=450.0),
    Field("hv.cable[].bundled", "count", "loaded cables in the same bundle", low=1, high=50, default=1, default_source="cable-alone"),
)

HV_CONNECTOR = (
    Field("hv.connector[].name", "name", "name of the connector"),
    Field("hv.connector[].at", "text", "end of the cable it stands at"),
    Field("hv.connector[].voltage", "voltage", "connector's dc voltage rating", low=10.0, high=5000.0),
    Field("hv.connector[].current", "current", "connector's continuous current rating", low=0.1, high=5000.0),
    Field("hv.connector[].resistance", "resistance", "connector's resistance, one pole", low=0.0, high=0.1),
    Field("hv.connector[].interlocked", "flag", "the interlock loop runs through it"),
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
    Field("hv.branch[].contactor.polarised", "flag", "branch contactor breaks one direction of current only"),
    Field("hv.branch[].cable.length", "length", "branch cable length, one way", low=0.01, high=50.0, life_critical=True),
    Field("hv.branch[].cable.size", "conductor_area", "branch conductor size, copper", low=1e-7, high=1e-3),
    Field("hv.branch[].cable.insulation", "choice", "branch insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.branch[].cable.ambient", "temperature", "temperature around the branch cable", low=220.0, high=450.0),
    Field("hv.branch[].cable.laid", "choice", "how the branch cable gives off its heat", choices=_LAID, default="conduit", default_source="cable-laid-worst"),
    Field("hv.branch[].cable.terminals", "temperature", "hottest that the branch cable's lugs and terminals may be", low=320.0, high=500.0, default=363.15, default_source="terminals-90"),
    Field("hv.branch[].cable.bundled", "count", "loaded cables in the branch cable's bundle", low=1, high=50, default=1, default_source="cable-alone"),
    Field("hv.branch[].cable.voltage", "voltage", "branch cable's dc voltage rating", low=10.0, high=5000.0),
    Field("hv.branch[].cable.standard", "choice", "standard the branch cable is made to", choices=_CABLE_STANDARDS),
    Field("hv.branch[].cable.colour", "choice", "colour of the branch cable's outer covering", choices=_COLOURS),
    Field("hv.branch[].bleed", "resistance", "bleed resistor across the branch's own capacitance", low=10.0, high=1e8, life_critical=True),
    Field("hv.branch[].bleed_rating", "power", "that bleed resistor's continuous rating", low=0.01, high=1e4),
    Field("hv.branch[].bleed_count", "count", "bleed resistors of that value side by side on the branch", low=1, high=20, default=1, default_source="one-bleed"),
)

HV_ELEMENT = (
    Field("hv.element[].name", "name", "name of the element", required=True),
    Field("hv.element[].kind", "choice", "what it is", choices=_ELEMENTS, required=True),
    Field("hv.element[].from", "text", "terminal its plus terminal is joined to", "element.plus, element.minus, or chassis"),
    Field("hv.element[].to", "text", "terminal its minus terminal is joined to", "element.plus, element.minus, or chassis"),
    Field("hv.element[].fuse", "part:fuse", "the fuse it is"),
    Field("hv.element[].contactor", "part:contactor", "the contactor it is"),
    Field("hv.element[].contactor.polarised", "flag", "it breaks one direction of current only"),
    Field("hv.element[].drive", "choice", "drive unit of the inverter", choices=("first", "second")),
    Field("hv.element[].resistance", "resistance", "resistance", low=0.0, high=1e12, life_critical=True),
    Field("hv.element[].capacitance", "capacitance", "capacitance", low=0.0, high=1.0, life_critical=True),
    Field("hv.element[].time", "time", "active discharge to 60 V", low=0.1, high=600.0),
    Field("hv.element[].voltage", "voltage", "dc voltage rating", low=1.0, high=5000.0, life_critical=True),
    Field("hv.element[].current", "current", "current rating, or current a load draws", low=0.1, high=5000.0, life_critical=True),
    Field("hv.element[].breaking", "current", "dc breaking capacity", low=10.0, high=5e5, life_critical=True),
    Field("hv.element[].power", "power", "power it draws, or its rating", low=0.0, high=1e6),
    Field("hv.element[].pulse", "energy", "pulse rating", low=0.1, high=1e6),
    Field("hv.element[].load_break", "flag", "opens under load"),
    Field("hv.element[].length", "length", "length, one way", low=0.01, high=50.0, life_critical=True),
    Field("hv.element[].size", "conductor_area", "conductor size, copper", low=1e-7, high=1e-3),
    Field("hv.element[].insulation", "choice", "insulation's temperature class", choices=_INSULATION, life_critical=True),
    Field("hv.element[].standard", "choice", "standard the cable is made to", choices=_CABLE_STANDARDS),
    Field("hv.element[].colour", "choice", "colour of the cable's outer covering", choices=_COLOURS),
    Field("hv.element[].screened", "flag", "cable is screened"),
    Field("hv.element[].routing", "text", "how it is laid"),
    Field("hv.element[].ambient", "temperature", "temperature around it", low=220.0, high=450.0),
    Field("hv.element[].laid", "choice", "how it gives off its heat", choices=_LAID),
    Field("hv.element[].bundled", "count", "loaded cables in the same bundle", low=1, high=50),
    Field("hv.element[].terminals", "temperature", "hottest that its lugs and terminals may be", low=320.0, high=500.0),
    Field("hv.element[].diameter", "length", "overall diameter", low=1e-3, high=0.1),
    Field("hv.element[].bend_radius", "length", "tightest bend it is laid in", low=1e-3, high=2.0),
    Field("hv.element[].interlocked", "flag", "the interlock loop runs through it"),
    Field("hv.element[].strings", "count", "strings of the pack in this element", low=1, high=200),
    Field("hv.element[].modules", "count", "modules in series in this element", low=1, high=500),
)

CIRCUIT = (*HV, *HV_CABLE, *HV_CONNECTOR, *HV_BRANCH, *HV_ELEMENT)
