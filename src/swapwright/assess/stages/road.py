"""Road load: air, tyres, rolling and drag, on each of the days a car is assessed on."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, standard
from swapwright.assess.days import AMBIENT, days, on_day
from swapwright.base.errors import UnitError
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.vehicle.air import (
    air_density,
    saturation_pressure,
    standard_pressure,
    vapour_pressure,
)
from swapwright.physics.vehicle.consumption import steady_consumption
from swapwright.physics.vehicle.road_load import (
    apparent_drag_area,
    apparent_rolling_coefficient,
    power_at_speed,
    road_load,
    road_load_a,
    road_load_a_at_mass,
    road_load_a_at_temperature,
    road_load_c,
    road_load_c_at_density,
)
from swapwright.physics.vehicle.tyre import outside_diameter, rolling_circumference, rolling_radius
from swapwright.physics.vehicle.tyre_size import tyre_size
from swapwright.standards.atmosphere import LAPSE_RATE, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE
from swapwright.standards.marks import FIFTY_MPH
from swapwright.standards.reference_conditions import SAE_J2263
from swapwright.standards.tyres import LOAD_INDEX, SPEED_SYMBOL

COAST_DOWN_MASS = "car.road_load.mass"
ROLLING_PER_KELVIN = standard(8.64e-3, "1/K", "sae-j1263-rolling-temperature")


def tyre(book: FigureBook) -> None:
    """Write the tyre's size, its rolling radius, and what its sidewall allows."""
    text = book.car.texts.get("car.tyres")
    if text is not None:
        try:
            size = tyre_size(text)
        except UnitError:
            size = None
        if size is not None:
            book.make(
                outside_diameter,
                "tyre.outside_diameter",
                rim_diameter=_of_size(size.rim_diameter, "m"),
                section_width=_of_size(size.section_width, "m"),
                aspect=_of_size(size.aspect, "1"),
            )
            if size.load_indexes and size.load_indexes[0] in LOAD_INDEX:
                index = size.load_indexes[0]
                allowed = LOAD_INDEX[index]
                book.look_up(
                    "tyre.load_allowed",
                    "load one tyre may carry",
                    allowed.si,
                    "kg",
                    LookedUp("load index", str(index), "kg", allowed.ref),
                    "mass",
                )
            if size.speed_symbol in SPEED_SYMBOL:
                allowed = SPEED_SYMBOL[size.speed_symbol]
                book.look_up(
                    "tyre.speed_allowed",
                    "highest speed of the tyre",
                    allowed.si,
                    "m/s",
                    LookedUp("speed symbol", size.speed_symbol, "m/s", allowed.ref),
                    "speed",
                )
    if "tyre.outside_diameter" not in book.values:
        book.missing["tyre.outside_diameter"] = ("car.tyres",)
    for name in ("tyre.load_allowed", "tyre.speed_allowed"):
        if name not in book.values:
            book.missing[name] = ("car.tyres",)
    book.make(rolling_circumference, "tyre.circumference", outside_diameter="tyre.outside_diameter")
    book.make(rolling_radius, "tyre.size_radius", rolling_circumference="tyre.circumference")
    if book.has("car.rolling_radius"):
        book.total(
            "tyre.radius",
            "rolling radius",
            "m",
            [("measured", "car.rolling_radius", 1.0)],
            "length",
        )
    else:
        book.total(
            "tyre.radius", "rolling radius", "m", [("from size", "tyre.size_radius", 1.0)], "length"
        )


def _of_size(si: float, unit: str) -> Value:
    """Return a number that stands in the tyre's size as entered."""
    return Value(si, unit, "entered", "car.tyres")


def road(book: FigureBook) -> None:
    """Write the air and the road-load coefficients of each day, and the load at 50 mph."""
    _air(book)
    if book.has("car.road_load.a", "car.road_load.b", "car.road_load.c"):
        _from_coast_down(book)
    else:
        _from_shape(book)
    for day in days(book):
        book.make(
            road_load_a_at_temperature,
            f"road.a{day}",
            label=on_day("road-load coefficient A", day),
            a="road.a_reference",
            temperature=AMBIENT[day],
            reference_temperature=SAE_J2263.temperature,
            temperature_factor=ROLLING_PER_KELVIN,
        )
    book.make(
        road_load,
        "road.force_50mph",
        label="road load at 50 mph",
        a="road.a",
        b="road.b",
        c="road.c",
        speed=FIFTY_MPH,
        headwind="conditions.headwind",
    )
    book.make(
        power_at_speed,
        "road.power_50mph",
        label="wheel power at 50 mph",
        force="road.force_50mph",
        speed=FIFTY_MPH,
    )
    book.make(
        steady_consumption,
        "road.wheel_consumption_50mph",
        label="energy at the wheels at 50 mph",
        power="road.power_50mph",
        speed=FIFTY_MPH,
    )


def _air(book: FigureBook) -> None:
    book.make(
        standard_pressure,
        "air.pressure",
        altitude="conditions.altitude",
        sea_level_temperature=SEA_LEVEL_TEMPERATURE,
        sea_level_pressure=SEA_LEVEL_PRESSURE,
        lapse_rate=LAPSE_RATE,
    )
    for day in days(book):
        book.make(saturation_pressure, f"air.saturation{day}", temperature=AMBIENT[day])
        book.make(
            vapour_pressure,
            f"air.vapour{day}",
            humidity="conditions.humidity",
            saturation_pressure=f"air.saturation{day}",
        )
        book.make(
            air_density,
            f"air.density{day}",
            label=on_day("air density", day),
            temperature=AMBIENT[day],
            pressure="air.pressure",
            vapour_pressure=f"air.vapour{day}",
        )


def _from_coast_down(book: FigureBook) -> None:
    """Carry a coast-down's coefficients from their reference air and mass to this car and day."""
    _coast_down_mass(book)
    book.make(
        road_load_a_at_mass,
        "road.a_reference",
        label="road-load coefficient A at 20 °C, mass as driven",
        a="car.road_load.a",
        mass="mass.test",
        test_mass=COAST_DOWN_MASS,
    )
    book.total(
        "road.b",
        "road-load coefficient B",
        "N/(m/s)",
        [("coast-down", "car.road_load.b", 1.0)],
        "force_per_speed",
    )
    for day in days(book):
        book.make(
            road_load_c_at_density,
            f"road.c{day}",
            label=on_day("road-load coefficient C", day),
            c="car.road_load.c",
            density=f"air.density{day}",
            test_density=SAE_J2263.density,
        )
    book.make(apparent_rolling_coefficient, "road.c_rr", a="car.road_load.a", mass=COAST_DOWN_MASS)
    book.make(apparent_drag_area, "road.cd_a", c="car.road_load.c", density=SAE_J2263.density)


def _coast_down_mass(book: FigureBook) -> None:
    """Take the mass as driven for a coast-down whose own is not given, as an assumption."""
    driven = book.values.get("mass.test")
    if driven is not None and book.car.get(COAST_DOWN_MASS) is None:
        book.values[COAST_DOWN_MASS] = Value(
            driven.si, driven.unit, "default", "coast-down-mass-as-driven"
        )
        book.assumed.append(COAST_DOWN_MASS)


def _from_shape(book: FigureBook) -> None:
    book.total(
        "road.c_rr",
        "rolling resistance coefficient",
        "1",
        [("entered", "car.road_load.c_rr", 1.0)],
        "ratio",
    )
    book.total("road.cd_a", "drag area", "m^2", [("entered", "car.road_load.cd_a", 1.0)], "area")
    book.make(
        road_load_a,
        "road.a_reference",
        label="road-load coefficient A at 20 °C",
        c_rr="car.road_load.c_rr",
        mass="mass.test",
    )
    book.total("road.b", "road-load coefficient B", "N/(m/s)", [], "force_per_speed")
    for day in days(book):
        book.make(
            road_load_c,
            f"road.c{day}",
            label=on_day("road-load coefficient C", day),
            density=f"air.density{day}",
            cd_a="car.road_load.cd_a",
        )
