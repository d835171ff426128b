"""Road load: air, tyres, rolling and drag, on a mild, a cold and a hot day."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, standard
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
    road_load_a_at_temperature,
    road_load_c,
    road_load_c_at_density,
)
from swapwright.physics.vehicle.tyre import outside_diameter, rolling_circumference, rolling_radius
from swapwright.physics.vehicle.tyre_size import tyre_size
from swapwright.standards.atmosphere import LAPSE_RATE, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE
from swapwright.standards.reference_conditions import SAE_J2263
from swapwright.standards.tyres import LOAD_INDEX, SPEED_SYMBOL

DAYS = (
    ("", "conditions.temperature"),
    ("_cold", "conditions.cold_day"),
    ("_hot", "conditions.hot_day"),
)
ROLLING_PER_KELVIN = standard(8.64e-3, "1/K", "sae-j1263-rolling-temperature")
FIFTY_MPH = standard(50 * 0.44704, "m/s", "trade-rule-50-mph")


def tyre(book: FigureBook) -> None:
    """Write the tyre's size, its rolling radius, and what its sidewall allows."""
    text = book.car.texts.get("car.tyres")
    if text is not None:
        try:
            size = tyre_size(text)
        except UnitError:
            size = None
        if size is not None:
            given = {"origin": "entered", "ref": "car.tyres"}
            book.make(
                outside_diameter,
                "tyre.outside_diameter",
                rim_diameter=Value(size.rim_diameter, "m", **given),  # type: ignore[arg-type]
                section_width=Value(size.section_width, "m", **given),  # type: ignore[arg-type]
                aspect=Value(size.aspect, "1", **given),  # type: ignore[arg-type]
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


def road(book: FigureBook) -> None:
    """Write the air and the road-load coefficients of each day, and the load at 50 mph."""
    book.make(
        standard_pressure,
        "air.pressure",
        altitude="conditions.altitude",
        sea_level_temperature=SEA_LEVEL_TEMPERATURE,
        sea_level_pressure=SEA_LEVEL_PRESSURE,
        lapse_rate=LAPSE_RATE,
    )
    for day, temperature in DAYS:
        book.make(saturation_pressure, f"air.saturation{day}", temperature=temperature)
        book.make(
            vapour_pressure,
            f"air.vapour{day}",
            humidity="conditions.humidity",
            saturation_pressure=f"air.saturation{day}",
        )
        book.make(
            air_density,
            f"air.density{day}",
            label="air density" + {"": "", "_cold": ", cold day", "_hot": ", hot day"}[day],
            temperature=temperature,
            pressure="air.pressure",
            vapour_pressure=f"air.vapour{day}",
        )
    by_coast_down = book.has("car.road_load.a", "car.road_load.b", "car.road_load.c")
    if by_coast_down:
        _from_coast_down(book)
    else:
        _from_shape(book)
    for day, temperature in DAYS[1:]:
        book.make(
            road_load_a_at_temperature,
            f"road.a{day}",
            a="road.a",
            temperature=temperature,
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


def _from_coast_down(book: FigureBook) -> None:
    for letter, unit, kind in (
        ("a", "N", "force"),
        ("b", "N/(m/s)", "force_per_speed"),
    ):
        book.total(
            f"road.{letter}",
            f"road-load coefficient {letter.upper()}",
            unit,
            [("coast-down", f"car.road_load.{letter}", 1.0)],
            kind,
        )
    for day, _ in DAYS:
        book.make(
            road_load_c_at_density,
            f"road.c{day}",
            c="car.road_load.c",
            density=f"air.density{day}" if day else SAE_J2263.density,
            test_density=SAE_J2263.density,
        )
    book.make(apparent_rolling_coefficient, "road.c_rr", a="car.road_load.a", mass="mass.test")
    book.make(apparent_drag_area, "road.cd_a", c="car.road_load.c", density=SAE_J2263.density)


def _from_shape(book: FigureBook) -> None:
    book.total(
        "road.c_rr",
        "rolling resistance coefficient",
        "1",
        [("entered", "car.road_load.c_rr", 1.0)],
        "ratio",
    )
    book.total("road.cd_a", "drag area", "m^2", [("entered", "car.road_load.cd_a", 1.0)], "area")
    book.make(road_load_a, "road.a", c_rr="car.road_load.c_rr", mass="mass.test")
    book.total("road.b", "road-load coefficient B", "N/(m/s)", [], "force_per_speed")
    for day, _ in DAYS:
        book.make(
            road_load_c,
            f"road.c{day}",
            density=f"air.density{day}",
            cd_a="car.road_load.cd_a",
        )
