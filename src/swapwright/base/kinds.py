"""The kinds of quantity a car is described in, and every spelling of a unit each one accepts.

A gallon without a country is the US gallon (``gal``, ``mpg``, ``gpm``); ``gal-uk``, ``mpg-uk`` and
``gpm-uk`` count in the UK gallon, a fifth larger. Where a country's own gallon was the larger one
a build file has to say which it means: see BARE_GALLONS. ``bhp`` is the mechanical horsepower.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

# Exact by definition; source nist-sp811-2008-b8 unless a line names another.
POUND = 0.45359237
POUND_FORCE = 4.4482216152605
KILOGRAM_FORCE = 9.80665
INCH = 0.0254
FOOT = 0.3048
MILE = 1609.344
GALLON_US = 3.785411784e-3
GALLON_UK = 4.54609e-3
HORSEPOWER = 550.0 * FOOT * POUND_FORCE
METRIC_HORSEPOWER = 75.0 * KILOGRAM_FORCE  # din-66036-ps
BTU = 1055.05585262
KILOWATT_HOUR = 3.6e6
# A gallon's worth of electricity: cfr-40-600-gasoline-energy; labels print 33.7, fr-76-39478-2011.
GASOLINE_GALLON_ENERGY = 33.705 * KILOWATT_HOUR
GASOLINE_LITRE_ENERGY = GASOLINE_GALLON_ENERGY * 1e-3 / GALLON_US
GASOLINE_GALLON_UK_ENERGY = GASOLINE_GALLON_ENERGY * GALLON_UK / GALLON_US
INCH_OF_MERCURY = 13595.1 * KILOGRAM_FORCE * INCH  # conventional
METRE_OF_WATER = 9806.65  # conventional
RPM = 2.0 * math.pi / 60.0
CIRCULAR_MIL = math.pi / 4.0 * (INCH / 1000.0) ** 2
KMH = 1.0 / 3.6
MPH = 0.44704


def gauge_area(number: int) -> float:
    """Return the area m^2 of an American wire gauge, 4/0 as -3; source astm-b258-2018."""
    diameter = 0.005 * INCH * math.pow(92.0, (36 - number) / 39)
    return math.pi / 4.0 * diameter**2


GAUGES: Mapping[str, float] = MappingProxyType(
    {
        (f"{1 - number}/0 AWG" if number < 1 else f"{number} AWG"): gauge_area(number)
        for number in range(-3, 41)
    }
)
"""American wire gauges as they are written, with their areas m^2."""

# A squashed spelling that counts in gallons without saying whose -> its unit, without the country.
BARE_GALLONS: Mapping[str, str] = MappingProxyType(
    {
        "gal": "gal",
        "gallon": "gal",
        "gallons": "gal",
        "mpg": "mpg",
        "mi/gal": "mpg",
        "gpm": "gpm",
        "gal/min": "gpm",
    }
)


@dataclass(frozen=True)
class Unit:
    """How one unit stands to the SI unit of its kind.

    SI value = (number + ``zero``) * ``num`` / ``den``; an ``inverse`` unit (mpg) has
    SI value = ``num`` / (``den`` * number). Kept as two factors so that decimal units come out
    as the nearest float: 1180 mm and 1.18 m are the same number.
    """

    num: float
    den: float = 1.0
    zero: float = 0.0
    inverse: bool = False

    def to_si(self, number: float) -> float:
        """Return the SI value of a number in this unit; infinite where it has none."""
        if self.inverse:
            below = self.den * number
            return self.num / below if below else math.inf
        return (number + self.zero) * self.num / self.den

    def from_si(self, si: float) -> float:
        """Return the number in this unit of an SI value; infinite where it has none."""
        if self.inverse:
            below = self.den * si
            return self.num / below if below else math.inf
        return si * self.den / self.num - self.zero


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    ``unit`` is its SI unit; ``label`` what it is called in a message; ``units`` maps a squashed
    spelling to its unit; ``spellings`` are all spellings as people write them; ``offered`` are the
    ones a message names. ``low``/``high`` are bounds no such quantity can pass (SI).
    ``is_plain`` kinds need no unit.
    """

    name: str
    unit: str
    label: str
    units: Mapping[str, Unit]
    spellings: tuple[str, ...]
    offered: tuple[str, ...]
    low: float = -math.inf
    high: float = math.inf

    @property
    def noun(self) -> str:
        """Return what it is called without its article."""
        return self.label.partition(" ")[2]

    @property
    def is_plain(self) -> bool:
        """Tell whether a bare number is such a quantity."""
        return "" in self.units


_SQUASH = str.maketrans(
    dict.fromkeys(" \t\u00a0\u2009\u202f.-\u2011·⋅*^")
    | {"²": "2", "³": "3", "Ω": "ohm", "\u2126": "ohm", "µ": "u", "μ": "u", "°": "deg", "º": "deg"}
    | {"℃": "degC", "℉": "degF", '"': "in", "″": "in", "”": "in", "'": "ft", "′": "ft", "’": "ft"}
)


def squash(spelling: str) -> str:
    """Return a unit's spelling without separators and with signs spelled out: N·m -> Nm."""
    return spelling.translate(_SQUASH)


Row = tuple[str, Unit]

_PREFIXES = {
    "n": Unit(1, 10**9), "u": Unit(1, 10**6), "m": Unit(1, 1000), "": Unit(1),
    "k": Unit(1000), "M": Unit(10**6), "G": Unit(10**9),
}  # fmt: skip


def _si(unit: str, prefixes: str, long: str = "") -> tuple[Row, ...]:
    """Return rows of an SI unit and its prefixed forms; ``_`` stands for no prefix."""
    rows: list[Row] = []
    for sign in prefixes:
        prefix = "" if sign == "_" else sign
        names = f"{unit}, {long}" if long and not prefix else f"{prefix}{unit}"
        rows.append((names, _PREFIXES[prefix]))
    return tuple(rows)


def _row(spellings: str, num: float, den: float = 1.0, zero: float = 0.0) -> Row:
    return spellings, Unit(num, den, zero)


def _inverse(spellings: str, num: float, den: float = 1.0) -> Row:
    return spellings, Unit(num, den, inverse=True)


_PLAIN: tuple[Row, ...] = (("", Unit(1)),)
_PERCENT = _row("%, percent, per cent, pct", 1, 100)

_LENGTHS = (
    _row("m, metre, meter, metres, meters", 1),
    _row("mm, millimetre, millimeter", 1, 1000),
    _row("cm, centimetre, centimeter", 1, 100),
    _row('in, inch, inches, "', 254, 10000),
    _row("ft, foot, feet, '", 3048, 10000),
    _row("yd, yard, yards", 9144, 10000),
    _row("km, kilometre, kilometer", 1000),
    _row("mi, MI, mile, miles", 201168, 125),
)
_AREAS = (
    _row("m^2, m2, sq m", 1),
    _row("cm^2, sq cm", 1, 10**4),
    _row("mm^2, sq mm", 1, 10**6),
    _row("ft^2, sq ft", 9290304, 10**8),
    _row("in^2, sq in", 64516, 10**8),
)
_KELVINS = _row("K, kelvin, degK", 1)


def _rows_of_energy() -> tuple[Row, ...]:
    return (
        _row("kWh", 3_600_000),
        _row("Wh", 3600),
        _row("MWh", 3_600_000_000),
        _row("mWh", 3.6),
        *_si("J", "_kMm", "joule, joules, W.s"),
        _row("BTU", BTU),
        _row("gal gasoline, gal petrol", GASOLINE_GALLON_ENERGY),
        _row("L petrol, L gasoline", GASOLINE_LITRE_ENERGY),
    )


def _rows_of_consumption() -> tuple[Row, ...]:
    return (
        _row("kWh/100 km", 36),
        _row("Wh/km", 36, 10),
        _row("Wh/mi, Wh/mile, Wh per mile", 3600, MILE),
        _row("kWh/100 mi, kWh/100 miles", 36_000, MILE),
        _row("kWh/mi, kWh/mile", 3_600_000, MILE),
        _row("kWh/km", 3600),
        _row("J/m", 1),
        _row("kJ/km", 1),
        _row("MJ/km", 1000),
        _row("mJ/km", 1, 10**6),
        _inverse("mi/kWh, miles/kWh", KILOWATT_HOUR, MILE),
        _inverse("km/kWh", 3600),
        _inverse("MPGe, mpge", GASOLINE_GALLON_ENERGY, MILE),
        _inverse("MPGe (UK), MPGe-uk", GASOLINE_GALLON_UK_ENERGY, MILE),
        _row("Le/100 km", GASOLINE_LITRE_ENERGY, 10**5),
    )


def _rows_of_speed_losses(power: int) -> tuple[Row, ...]:
    mark = f"^{power}" if power > 1 else ""
    per_second = f"W.s{mark}/rad{mark}"
    return (
        _row(f"W/(rad/s){mark}, {per_second}", 1),
        _row(f"mW/(rad/s){mark}", 1, 1000),
        _row(f"W/krpm{mark}", 1, (1000 * RPM) ** power),
        _row(f"W/rpm{mark}", 1, RPM**power),
    )


def _kind(
    name: str, unit: str, label: str, *rows: Row, low: float = -math.inf, high: float = math.inf
) -> Kind:
    units: dict[str, Unit] = {}
    spellings: list[str] = []
    offered: list[str] = []
    for text, row_unit in rows:
        names = text.split(", ")
        offered.append(names[0])
        for spelling in names:
            spellings.append(spelling)
            units[squash(spelling)] = row_unit
    return Kind(
        name, unit, label, MappingProxyType(units), tuple(spellings), tuple(offered), low, high
    )


_ALL = (
    _kind("ratio", "1", "a ratio", *_PLAIN, _PERCENT),
    _kind("factor", "1", "a factor", *_PLAIN, _PERCENT),
    _kind("fraction", "1", "a fraction", *_PLAIN, _PERCENT, low=0.0, high=1.0),
    _kind("grade", "1", "a grade", *_PLAIN, _PERCENT),
    _kind("over_gravity", "1", "an acceleration over that of gravity", _row("g", 1)),
    _kind("count", "1", "a whole number", *_PLAIN, low=0.0),
    _kind(
        "mass", "kg", "a mass",
        _row("kg, kgs, kilogram, kilograms", 1),
        _row("lb, lbs, lbm, pound, pounds", 45359237, 10**8),
        _row("g, gram, grams", 1, 1000),
        _row("t, tonne, tonnes", 1000),
        _row("oz, ounce, ounces", 45359237, 16 * 10**8),
    ),
    _kind("length", "m", "a length", *_LENGTHS),
    _kind("position", "m", "a position", *_LENGTHS),
    _kind("distance", "m", "a distance", *_LENGTHS),
    _kind("area", "m^2", "an area", *_AREAS),
    _kind(
        "conductor_area", "m^2", "a copper conductor size",
        _row("mm^2, sq mm", 1, 10**6),
        _row("kcmil, MCM", 1000 * CIRCULAR_MIL),
        _row("cm^2, sq cm", 1, 10**4),
        _row("m^2", 1),
        low=0.0,
    ),
    _kind(
        "volume", "m^3", "a volume",
        _row("L, litre, litres, liter, liters, ltr", 1, 1000),
        _row("gal, gal (US), US gal, gal-us, gallon, gallons", GALLON_US),
        _row("gal (UK), UK gal, gal-uk, gal (imp), imp gal", GALLON_UK),
        _row("m^3, cu m", 1),
        _row("cm^3, cc, ccm, mL", 1, 10**6),
        _row("in^3, cu in", 0.016387064, 1000),
        _row("ft^3, cu ft", 28.316846592, 1000),
    ),
    _kind(
        "time", "s", "a time",
        _row("s, sec, second, seconds", 1),
        _row("min, MIN, minute, minutes", 60),
        _row("h, hr, hrs, hour, hours", 3600),
        _row("d, day, days", 86400),
        _row("wk, week, weeks", 604800),
        _row("ms, millisecond, milliseconds", 1, 1000),
        _row("us, microsecond, microseconds", 1, 10**6),
    ),
    _kind("money", "1", "a sum of money (leave the currency out)", *_PLAIN, low=0.0),
    _kind(
        "price_of_volume", "1/m^3", "a price of fuel (leave the currency out)",
        _row("/L, per L, 1/L", 1000),
        _row("/gal, per gal, 1/gal", 1, GALLON_US),
        _row("/gal-uk, per gal-uk", 1, GALLON_UK),
        low=0.0,
    ),
    _kind(
        "price_of_time", "1/s", "a price of work (leave the currency out)",
        _row("/h, per h, 1/h", 1, 3600),
        low=0.0,
    ),
    _kind(
        "price_of_distance", "1/m", "a price of driving (leave the currency out)",
        _row("/100 km, per 100 km", 1, 100_000),
        _row("/km, per km", 1, 1000),
        _row("/mi, per mi, per mile", 1, MILE),
    ),
    _kind("frequency", "Hz", "a frequency", *_si("Hz", "_kM", "1/s")),
    _kind(
        "speed", "m/s", "a speed",
        _row("km/h, kph, kmh, kmph, km/hr", 1000, 3600),
        _row("mph, MPH, mi/h, miles/hour", 44704, 10**5),
        _row("m/s", 1),
        _row("ft/s", 3048, 10**4),
        _row("kn, knot, knots", 1852, 3600),
    ),
    _kind(
        "range_rate", "m/s", "a range per time of charging",
        _row("km of range per hour", 1000, 3600),
        _row("miles of range per hour", 44704, 10**5),
        low=0.0,
    ),
    _kind(
        "acceleration", "m/s^2", "an acceleration",
        _row("m/s^2, m/s/s", 1),
        _row("g", KILOGRAM_FORCE),
        _row("ft/s^2", 3048, 10**4),
        _row("km/h/s", 1000, 3600),
        _row("mph/s", 44704, 10**5),
    ),
    _kind(
        "angular_speed", "rad/s", "a rotational speed",
        _row("rpm, r/min, rev/min, 1/min, min^-1", 2 * math.pi, 60),
        _row("krpm", 2000 * math.pi, 60),
        _row("rad/s", 1),
        _row("rev/s", 2 * math.pi),
    ),
    _kind("angle", "rad", "an angle", _row("deg, degrees", math.pi, 180), _row("rad", 1)),
    _kind(
        "force", "N", "a force",
        *_si("N", "_k", "newton, newtons"),
        _row("lbf, pound-force", POUND_FORCE),
        _row("kgf, kp", KILOGRAM_FORCE),
    ),
    _kind(
        "force_per_speed", "N/(m/s)", "a force per speed",
        _row("N/(km/h), N/kph", 36, 10),
        _row("N/(m/s), N.s/m", 1),
        _row("lbf/mph, lbf/MPH", POUND_FORCE, MPH),
    ),
    _kind(
        "force_per_speed_square", "N/(m/s)^2", "a force per speed squared",
        _row("N/(km/h)^2, N/kph^2", 1296, 100),
        _row("N/(m/s)^2, N.s^2/m^2", 1),
        _row("lbf/mph^2, lbf/MPH^2", POUND_FORCE, MPH**2),
    ),
    _kind(
        "torque", "N.m", "a torque",
        _row("N.m", 1),
        _row("lb-ft, lbf-ft, ft-lb, ft-lbf", POUND_FORCE * FOOT),
        _row("kgf.m, kg.m, m.kg, m.kgf", KILOGRAM_FORCE),
        _row("lb-in, lbf-in, in-lb, in-lbf", POUND_FORCE * INCH),
        _row("kN.m", 1000),
        _row("mN.m", 1, 1000),
    ),
    _kind(
        "spring_rate", "N/m", "a spring rate",
        _row("N/mm, kN/m", 1000),
        _row("N/m", 1),
        _row("lbf/in", POUND_FORCE, INCH),
        _row("kgf/mm", 1000 * KILOGRAM_FORCE),
    ),
    _kind(
        "mass_moment", "kg.m", "a moment of a mass",
        _row("kg.m", 1),
        _row("lb.ft", POUND * FOOT),
    ),
    _kind(
        "inertia", "kg.m^2", "a moment of inertia",
        _row("kg.m^2", 1),
        _row("kg.cm^2", 1, 10**4),
        _row("g.m^2", 1, 1000),
        _row("lb.ft^2", POUND * FOOT**2),
        _row("lb.in^2", POUND * INCH**2),
    ),
    _kind(
        "power", "W", "a power",
        _row("kW", 1000),
        _row("hp, bhp, horsepower", HORSEPOWER),
        _row("PS, metric hp, ch, cv, hp (metric)", METRIC_HORSEPOWER),
        _row("W, watt, watts", 1),
        _row("MW", 10**6),
        _row("mW", 1, 1000),
        _row("BTU/h", BTU, 3600),
    ),
    _kind("energy", "J", "an energy", *_rows_of_energy()),
    _kind(
        "price_of_energy", "1/J", "a price of energy (leave the currency out)",
        _row("/kWh, per kWh, 1/kWh", 1, 3_600_000),
        _row("1/J", 1),
        low=0.0,
    ),
    _kind("consumption", "J/m", "a consumption", *_rows_of_consumption()),
    _kind(
        "fuel_consumption", "m^3/m", "a fuel consumption",
        _row("L/100 km", 1, 10**8),
        _inverse("mpg, MPG, mpg (US), mpg-us, US mpg, mi/gal", GALLON_US, MILE),
        _inverse("mpg (UK), mpg-uk, UK mpg, mpg (imp), mpg-imp, imp mpg", GALLON_UK, MILE),
        _inverse("km/L", 1, 10**6),
        _row("m^3/m", 1),
    ),
    _kind("specific_energy", "J/kg", "an energy per mass", _row("Wh/kg", 3600), _row("J/kg", 1)),
    _kind("specific_power", "W/kg", "a power per mass", _row("W/kg", 1), _row("kW/kg", 1000)),
    _kind(
        "energy_density", "J/m^3", "an energy per volume",
        _row("Wh/L", 3_600_000),
        _row("J/m^3", 1),
    ),
    _kind(
        "temperature", "K", "a temperature",
        _row("degC, deg C, C, celsius", 1, 1, 273.15),
        _row("degF, deg F, F, fahrenheit", 5, 9, 459.67),
        _KELVINS,
        low=0.0,
    ),
    _kind(
        "temperature_difference", "K", "a temperature difference",
        _KELVINS,
        _row("degC, deg C", 1),
        _row("degF, deg F", 5, 9),
    ),
    _kind(
        "specific_heat", "J/kg/K", "a specific heat",
        _row("J/(kg.K), J/kg/K, J/kg.K", 1),
        _row("kJ/(kg.K), kJ/kg/K, kJ/kg.K", 1000),
        _row("J/(g.K), J/g/K", 1000),
        _row("BTU/(lb.degF)", BTU * 9, POUND * 5),
    ),
    _kind(
        "heat_capacity", "J/K", "a heat capacity",
        _row("kJ/K", 1000),
        _row("J/K", 1),
        _row("Wh/K", 3600),
    ),
    _kind(
        "thermal_conductance", "W/K", "a thermal conductance",
        _row("W/K, W/degC", 1),
        _row("mW/K", 1, 1000),
        _row("kW/K", 1000),
    ),
    _kind(
        "thermal_resistance", "K/W", "a thermal resistance",
        _row("K/W, degC/W", 1),
        _row("K/kW", 1, 1000),
    ),
    _kind(
        "pressure", "Pa", "a pressure",
        _row("kPa", 1000),
        _row("bar", 10**5),
        _row("psi", POUND_FORCE, INCH**2),
        _row("mbar, millibar", 100),
        _row("hPa", 100),
        _row("Pa", 1),
        _row("MPa", 10**6),
        _row("inHg, in Hg", INCH_OF_MERCURY),
        _row("mH2O, mWC", METRE_OF_WATER),
        _row("atm", 101325),
    ),
    _kind(
        "density", "kg/m^3", "a density",
        _row("kg/m^3", 1),
        _row("kg/L", 1000),
        _row("g/cm^3, g/cc", 1000),
        _row("lb/ft^3", POUND, FOOT**3),
    ),
    _kind(
        "flow", "m^3/s", "a flow",
        _row("L/min, lpm, LPM, L per min, litres per minute, liters per minute", 1, 60_000),
        _row("gpm, gal/min, gpm (US), gpm-us", GALLON_US, 60),
        _row("gpm (UK), gpm-uk", GALLON_UK, 60),
        _row("L/s", 1, 1000),
        _row("L/h, lph, LPH", 1, 3_600_000),
        _row("m^3/h", 1, 3600),
        _row("m^3/s", 1),
    ),
    _kind("voltage", "V", "a voltage", *_si("V", "_mku", "volt, volts, Vdc, Vac")),
    _kind("current", "A", "a current", *_si("A", "_mku", "amp, amps, ampere, amperes")),
    _kind(
        "charge", "C", "a charge",
        _row("Ah, amp hours, ampere hours", 3600),
        _row("mAh", 36, 10),
        _row("kAh", 3_600_000),
        *_si("C", "_k", "coulomb, A.s"),
    ),
    _kind(
        "resistance", "ohm", "a resistance",
        *_si("ohm", "_mkMuG", "ohms"),
        _row("mOhm", 1, 1000),
        _row("MOhm", 10**6),
        low=0.0,
    ),
    _kind("conductance", "1/ohm", "a conductance", _row("1/ohm, S", 1)),
    _kind(
        "resistance_per_length", "ohm/m", "a resistance per length",
        _row("ohm/km, mohm/m", 1, 1000),
        _row("ohm/m", 1),
        _row("ohm/kft", 1, 1000 * FOOT),
        low=0.0,
    ),
    _kind(
        "resistance_per_voltage", "ohm/V", "a resistance per volt",
        _row("ohm/V", 1),
        _row("kohm/V", 1000),
        low=0.0,
    ),
    _kind("capacitance", "F", "a capacitance", *_si("F", "u_mkn", "farad, farads"), low=0.0),
    _kind("inductance", "H", "an inductance", *_si("H", "um_n", "henry"), low=0.0),
    # Data sheets write kA²s for a thousand A²s, the SI prefix means a million: neither is read.
    _kind("joule_integral", "A^2.s", "an I²t", _row("A^2.s", 1), low=0.0),
    _kind(
        "incident_energy", "J/m^2", "an incident energy",
        _row("cal/cm^2", 41840),
        _row("J/cm^2", 10**4),
        _row("J/m^2", 1),
        low=0.0,
    ),
    _kind("current_density", "A/m^2", "a current density", _row("A/mm^2", 10**6), _row("A/m^2", 1)),
    _kind(
        "emf_constant", "V/(rad/s)", "a back-EMF constant",
        _row("V/krpm, V/1000 rpm, V per 1000 rpm", 1, 1000 * RPM),
        _row("V/(rad/s), V.s/rad", 1),
        _row("mV/rpm", 1, 1000 * RPM),
        _row("V/rpm", 1, RPM),
    ),
    _kind(
        "torque_per_current", "N.m/A", "a torque per ampere",
        _row("N.m/A", 1),
        _row("mN.m/A", 1, 1000),
        _row("lb-ft/A, lbf-ft/A, ft-lb/A", POUND_FORCE * FOOT),
    ),
    _kind("loss_linear", "W/(rad/s)", "a loss per speed", *_rows_of_speed_losses(1)),
    _kind("loss_square", "W/(rad/s)^2", "a loss per speed squared", *_rows_of_speed_losses(2)),
    _kind("loss_cubic", "W/(rad/s)^3", "a loss per speed cubed", *_rows_of_speed_losses(3)),
    _kind("voltage_per_kelvin", "V/K", "a voltage per kelvin", *_si("V/K", "m_u")),
    _kind(
        "bit_rate", "bit/s", "a bit rate",
        _row("kbit/s, kbps, kbaud", 1000),
        _row("Mbit/s, Mbps", 10**6),
        _row("bit/s, bps", 1),
        low=0.0,
    ),
)  # fmt: skip

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _ALL})
