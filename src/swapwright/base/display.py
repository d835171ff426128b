"""Numbers shown to people: three digits, in the units of their country and of their trade."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.errors import WorkingError
from swapwright.base.kinds import GAUGES, KINDS, Kind, Unit, squash

AT_GAUGE = 0.002
"""Share of a gauge's area within which a conductor is of that gauge."""

PROFILES = ("metric", "us", "uk")
WORLDS = ("electric", "engine")

# A larger unit takes over when the number in it reaches 1, or this where named.
_TAKES_OVER = {"min": 2.0, "h": 2.0, "d": 3.0, "ft": 10.0, "Wh": 10.0}


@dataclass(frozen=True)
class _Shown:
    """The units a kind is shown in, smaller to larger; empty ones fall back on ``metric``.

    The UK's are metric but for the road and the fuel: miles, mph, horsepower, its own gallon.
    """

    metric: tuple[str, ...]
    us: tuple[str, ...] = ()
    engine_metric: tuple[str, ...] = ()
    engine_us: tuple[str, ...] = ()
    uk: tuple[str, ...] = ()
    engine_uk: tuple[str, ...] = ()

    def units(self, profile: str, world: str) -> tuple[str, ...]:
        electric, engine = {
            "metric": (self.metric, self.engine_metric),
            "us": (self.us, self.engine_us),
            "uk": (self.uk, self.engine_uk),
        }[profile]
        return (engine if world == "engine" else ()) or electric or self.metric


_SHOWN: Mapping[str, _Shown] = MappingProxyType(
    {
        "ratio": _Shown(("",)),
        "factor": _Shown(("",)),
        "fraction": _Shown(("%",)),
        "grade": _Shown(("%",)),
        "over_gravity": _Shown(("g",)),
        "count": _Shown(("",)),
        "mass": _Shown(("g", "kg"), ("lb",)),
        "length": _Shown(("mm", "m"), ("in", "ft")),
        "position": _Shown(("m",), ("in",)),
        "distance": _Shown(("m", "km"), ("mi",), uk=("mi",)),
        "area": _Shown(("m^2",), ("ft^2",)),
        "conductor_area": _Shown(("mm^2",), ("kcmil",)),
        "volume": _Shown(("L",), ("gal",)),
        "time": _Shown(("us", "ms", "s", "min", "h", "d")),
        "money": _Shown(("",)),
        "price_of_volume": _Shown(("/L",), ("/gal",)),
        "price_of_time": _Shown(("/h",)),
        "price_of_distance": _Shown(("/100 km",), ("/mi",), uk=("/mi",)),
        "frequency": _Shown(("Hz", "kHz", "MHz")),
        "speed": _Shown(("km/h",), ("mph",), uk=("mph",)),
        "range_rate": _Shown(
            ("km of range per hour",), ("miles of range per hour",), uk=("miles of range per hour",)
        ),
        "acceleration": _Shown(("m/s^2",), ("ft/s^2",)),
        "angular_speed": _Shown(("rpm",)),
        "angle": _Shown(("deg",)),
        "force": _Shown(("N", "kN"), ("lbf",)),
        "force_per_speed": _Shown(("N/(km/h)",), ("lbf/mph",)),
        "force_per_speed_square": _Shown(("N/(km/h)^2",), ("lbf/mph^2",)),
        "spring_rate": _Shown(("N/mm",), ("lbf/in",)),
        "mass_moment": _Shown(("kg.m",), ("lb.ft",)),
        "torque": _Shown(("N.m",), ("lb-ft",), engine_uk=("lb-ft",)),
        "inertia": _Shown(("kg.m^2",), ("lb.ft^2",)),
        "power": _Shown(("mW", "W", "kW"), (), ("PS",), ("hp",), (), ("hp",)),
        "energy": _Shown(
            ("J", "kJ", "Wh", "kWh"), (), ("L petrol",), ("gal gasoline",), (), ("L petrol",)
        ),
        "price_of_energy": _Shown(("/kWh",)),
        "consumption": _Shown(
            ("kWh/100 km",), ("Wh/mi",), ("Le/100 km",), ("MPGe",), ("Wh/mi",), ("MPGe (UK)",)
        ),
        "fuel_consumption": _Shown(("L/100 km",), ("mpg",), uk=("mpg (UK)",)),
        "specific_energy": _Shown(("Wh/kg",)),
        "specific_power": _Shown(("W/kg",)),
        "energy_density": _Shown(("Wh/L",)),
        "temperature": _Shown(("degC",), ("degF",)),
        "temperature_difference": _Shown(("K",), ("degF",)),
        "specific_heat": _Shown(("J/(kg.K)",), ("BTU/(lb.degF)",)),
        "heat_capacity": _Shown(("J/K", "kJ/K")),
        "thermal_conductance": _Shown(("mW/K", "W/K", "kW/K")),
        "thermal_resistance": _Shown(("K/kW", "K/W")),
        "pressure": _Shown(("Pa", "kPa", "MPa"), ("psi",)),
        "density": _Shown(("kg/m^3",), ("lb/ft^3",)),
        "flow": _Shown(("L/min",), ("gpm",)),
        "voltage": _Shown(("mV", "V", "kV")),
        "current": _Shown(("mA", "A", "kA")),
        "charge": _Shown(("mAh", "Ah")),
        "resistance": _Shown(("uohm", "mohm", "ohm", "kohm", "Mohm", "Gohm")),
        "conductance": _Shown(("S",)),
        "resistance_per_length": _Shown(("ohm/km",), ("ohm/kft",)),
        "resistance_per_voltage": _Shown(("ohm/V", "kohm/V")),
        "capacitance": _Shown(("nF", "uF", "mF", "F", "kF")),
        "inductance": _Shown(("nH", "uH", "mH", "H")),
        "joule_integral": _Shown(("A^2.s",)),
        "incident_energy": _Shown(("cal/cm^2",)),
        "current_density": _Shown(("A/mm^2",)),
        "emf_constant": _Shown(("V/krpm",)),
        "torque_per_current": _Shown(("N.m/A",), ("lb-ft/A",)),
        "loss_linear": _Shown(("W/(rad/s)",)),
        "loss_square": _Shown(("mW/(rad/s)^2", "W/(rad/s)^2")),
        "loss_cubic": _Shown(("mW/(rad/s)^3", "W/(rad/s)^3")),
        "voltage_per_kelvin": _Shown(("uV/K", "mV/K", "V/K")),
        "bit_rate": _Shown(("bit/s", "kbit/s", "Mbit/s")),
    }
)


def show(
    si: float,
    kind: str,
    *,
    profile: str = "metric",
    world: str = "electric",
    low: float | None = None,
    high: float | None = None,
    digits: int = 3,
    unit: str = "",
) -> str:
    """Return an SI value as people read it: ``75.0 kW``; with a band ``128 mi (112..141)``.

    ``kind`` names the quantity kind; ``profile`` is metric, us or uk, ``world`` electric or engine;
    ``low``/``high`` are the SI ends of the band; ``digits`` are significant digits; ``unit`` is a
    spelling of the kind's to show it in whatever its size, so that a column can be added up.
    Raises ValueError when a number is not finite, WorkingError for an unknown kind, profile, unit.
    """
    band = [] if low is None or high is None else [low, high]
    for number in (si, *band):
        if not math.isfinite(number):
            raise ValueError(f"{number} cannot be shown as {kind}")
    gauge = _gauge(si) if kind == "conductor_area" and profile == "us" and not band else ""
    if gauge and not unit:
        return gauge
    the_kind, spelling = _unit_for(si, kind, profile, world, digits, band)
    spelling = unit or spelling
    if squash(spelling) not in the_kind.units:
        raise WorkingError(f"there is no unit {spelling!r} of {kind!r}")
    scale = the_kind.units[squash(spelling)]
    shown = _checked(scale.from_si(si), kind)
    text = str(round(shown)) if kind == "count" else written(shown, digits)
    if spelling:
        text = f"{text} {spelling}"
    if band:
        ends = sorted(_checked(scale.from_si(end), kind) for end in band)
        text += f" ({written(ends[0], digits)}..{written(ends[1], digits)})"
    return text


def _gauge(si: float) -> str:
    """Return the wire gauge a conductor is sold as; empty where its area is none's."""
    for gauge, area in GAUGES.items():
        if abs(si - area) <= AT_GAUGE * area:
            return gauge
    return ""


def both_worlds(si: float, kind: str, profile: str = "metric", *, digits: int = 3) -> str:
    """Return an SI value in electric and engine terms: ``75.0 kW (102 PS)``.

    Where both worlds use one unit it is given once. Raises as `show` does.
    """
    electric = show(si, kind, profile=profile, digits=digits)
    engine = show(si, kind, profile=profile, world="engine", digits=digits)
    return electric if engine == electric else f"{electric} ({engine})"


def written(number: float, digits: int = 3) -> str:
    """Return a number with so many significant digits, without an exponent at ordinary sizes."""
    rounded = f"{number:.{digits - 1}e}"
    mantissa, _, exponent_text = rounded.partition("e")
    exponent = int(exponent_text)
    if float(rounded) == 0.0:
        return "0"
    if not -7 < exponent < 10:
        return f"{mantissa}e{exponent}"
    return f"{float(rounded):.{max(digits - 1 - exponent, 0)}f}"


def _unit_for(
    si: float, kind: str, profile: str, world: str, digits: int, band: list[float]
) -> tuple[Kind, str]:
    """Return the kind and the spelling of the unit to show a value in."""
    if kind not in KINDS:
        raise WorkingError(f"there is no quantity kind {kind!r}")
    if profile not in PROFILES or world not in WORLDS:
        raise WorkingError(f"there is no profile {profile!r} of the {world!r} world")
    units = KINDS[kind].units
    shown = _SHOWN[kind]
    ladders = (shown.units(profile, world), shown.units(profile, "electric"), shown.metric)
    # Miles per gallon of nothing, or of less than nothing, is no number.
    is_direct = min([si, *band]) <= 0.0
    spellings = next(each for each in ladders if not (is_direct and units[squash(each[0])].inverse))
    largest = max(abs(si), *map(abs, band), 0.0)
    if largest == 0.0:
        plain = [name for name in spellings if units[squash(name)] == Unit(1)]
        return KINDS[kind], (plain or list(spellings))[0]
    chosen = spellings[0]
    for spelling in spellings[1:]:
        number = units[squash(spelling)].from_si(largest)
        if float(f"{number:.{digits - 1}e}") >= _TAKES_OVER.get(spelling, 1.0):
            chosen = spelling
    return KINDS[kind], chosen


def _checked(number: float, kind: str) -> float:
    if not math.isfinite(number):
        raise ValueError(f"the number is too large to be shown as {kind}")
    return number
