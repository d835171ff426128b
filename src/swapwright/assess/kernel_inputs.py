"""The one place a car becomes the plain numbers the time step works on."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import controller, drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.days import AMBIENT, MILD
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.table import Line, Map
from swapwright.physics.drive.inverter import InverterTerms, inverter_loss_map
from swapwright.physics.drive.motor import envelope_torque
from swapwright.physics.drive.motor_loss import MotorTerms
from swapwright.simulate.inputs import Body, Cells, Drive, Pack, Regen, Setup, Unit
from swapwright.standards.atmosphere import STANDARD_GRAVITY
from swapwright.standards.ratings import (
    INVERTER_DERATE_SPAN,
    INVERTER_WARM_UP,
    MOTOR_DERATE_SPAN,
    SHIFT_TIME,
    TEN_SECONDS,
)

FloatArray = NDArray[np.float64]

SPEED_POINTS = 33
TORQUE_POINTS = 49
ENVELOPE_POINTS = 64
SOC_POINTS = 101
RESISTANCE_SOC_POINTS = 21
FIRST_TEMPERATURE = 243.15
TEMPERATURE_STEP = 10.0
TEMPERATURE_POINTS = 10
FINE_STEP, FINE_POINTS = 1.0, 101
"""Temperatures a charge reads its tables at: whole degrees, as data sheets give them; near freezing
the current allowed turns sharply."""
REGEN_SHARE = "drive.regen.share"
NO_REGEN = Value(0.0, "1", "default", "regen-none-stated")
SERIES_MOTOR = Value(0.0, "1", "default", "regen-none-series-motor")
SHIFTED_AT_REST = "at rest"
NO_LIMIT = 1.0e9
"""A force N or a current A beyond any car's, where the build file gives no limit."""
LOWEST_FADE_SPEED = 1e-3
"""Speed m/s regeneration fades at where the build file gives none at all: it is divided by."""
SPEED_REACH, TORQUE_REACH = 1.02, 1.05
"""How far past the limits of speed and torque the loss table goes: a step may end beyond them."""
LOWEST_PACK_VOLTAGE = 1.0
"""Voltage V the envelope's reach is worked out for at the least: it is divided by."""
MOST_OVERLOAD_SHARE = 1.0 - 1e-6
"""Share of the peak's square cells give for good, at the most: at 1 the filter would not move."""
LONGEST_STEP = 5.0
"""The longest step s of a run: a winding quicker than that would swing past its temperature."""


def setup(
    book: FigureBook,
    *,
    day: str = MILD,
    auxiliary: float | None = None,
    is_every_gear: bool = False,
) -> Setup:
    """Return a car's kernel inputs on a day of `days`.

    ``auxiliary`` W replaces the driving auxiliaries. Where gears are changed at rest only, a run
    is driven in the tallest one, unless ``is_every_gear`` asks for what the car can do in any.
    What does not hang on day and load is made once, so ask only of a book whose design is written.
    Raises Missing where the build does not give enough to drive.
    """
    kit = book.kits.get(is_every_gear)
    if kit is not None:
        return setup_on(kit, book, day=day, auxiliary=auxiliary)
    cells = _cells(book)
    kit = book.kits[is_every_gear] = Setup(
        body=_body(book, day, auxiliary),
        regen=_regen(book),
        drive=_drive(book, is_every_gear),
        cells=cells,
        pack=_pack(book),
        ambient=book.number(AMBIENT[day]),
    )
    return kit


def setup_on(
    kit: Setup, book: FigureBook, *, day: str = MILD, auxiliary: float | None = None
) -> Setup:
    """Return a car's kernel inputs on another day or with another load beside the drive."""
    return kit._replace(body=_body(book, day, auxiliary), ambient=book.number(AMBIENT[day]))


def _body(book: FigureBook, day: str, auxiliary: float | None) -> Body:
    mass = book.number("mass.test")
    grip_limit = book.number("car.grip") * mass * STANDARD_GRAVITY.si
    traction = book.get("traction.limit")
    return Body(
        mass=mass,
        rolling_mass=mass * book.number("car.rotating_factor"),
        a=book.number(f"road.a{day}"),
        b=book.number("road.b"),
        c=book.number(f"road.c{day}"),
        headwind=book.number("conditions.headwind"),
        drive_force_limit=min(traction, grip_limit) if traction is not None else grip_limit,
        brake_force_limit=grip_limit,
        auxiliary_power=(book.number("auxiliaries.driving") if auxiliary is None else auxiliary),
    )


def _regen(book: FigureBook) -> Regen:
    if not all(drive_parts.can_regenerate(book.car, prefix) for prefix in drive_parts.units(book)):
        return _no_regen(book, SERIES_MOTOR)
    if book.car.get(REGEN_SHARE) is None:
        return _no_regen(book, NO_REGEN)
    limit = book.get("regen.force_limit")
    top = book.get("drive.regen.off_above_soc")
    coldest = book.get("drive.regen.off_below_cell")
    return Regen(
        share=book.number("drive.regen.share"),
        force_limit=limit if limit is not None else NO_LIMIT,
        per_fade_speed=1.0 / max(book.number("drive.regen.off_below_speed"), LOWEST_FADE_SPEED),
        max_soc=top if top is not None else 1.0,
        min_cell_temperature=coldest if coldest is not None else 0.0,
    )


def _no_regen(book: FigureBook, share: Value) -> Regen:
    """Return no regeneration, where none is stated or no motor can, and note it as assumed."""
    if REGEN_SHARE not in book.values:
        book.values[REGEN_SHARE] = share
        book.assumed.append(REGEN_SHARE)
    return Regen(
        share=share.si,
        force_limit=0.0,
        per_fade_speed=1.0,
        max_soc=1.0,
        min_cell_temperature=0.0,
    )


def _drive(book: FigureBook, is_every_gear: bool) -> Drive:
    prefixes = drive_parts.units(book)
    if not prefixes:
        raise Missing("drive.motor")
    made = [_unit(book, prefix, is_every_gear) for prefix in prefixes]
    if len(made) > 1:
        forces = [book.number(f"{drive_parts.figure_prefix(p)}.peak_force") for p in prefixes]
        shared = forces[0] / sum(forces)
        made = [made[0]._replace(share=shared), made[1]._replace(share=1.0 - shared)]
    return Drive(
        units=len(made),
        first=made[0],
        second=made[-1],
        shift_time=max(shift_time(book, prefix) for prefix in prefixes),
        ratio_scale=1.0,
        is_held_back=controller.is_held_back(book.car),
        by_soc=_points(book, controller.BY_CHARGE),
        by_cell=_points(book, controller.BY_CELL),
        pedal_share=controller.full_pedal_share(book.car),
    )


def _points(book: FigureBook, path: str) -> FloatArray:
    """Return a limit of the controller as points; one point where the file gives none."""
    table = controller.limit_line(book.car, path)
    return np.ones((1, 2)) if table is None else np.stack([table.x, table.y], axis=-1)


def shift_time(book: FigureBook, prefix: str) -> float:
    """Return the time s a unit is without torque while its gear is changed."""
    given = book.get(f"{prefix}.gearbox.shift_time")
    return SHIFT_TIME.si if given is None else given


def run_gears(book: FigureBook, prefix: str, is_every_gear: bool) -> tuple[tuple[int, Value], ...]:
    """Return the gears a run may use, lowest first: the tallest alone where shifted at rest."""
    gears = drive_parts.gears(book, prefix)
    if is_every_gear or book.car.texts.get(f"{prefix}.gearbox.shift") != SHIFTED_AT_REST:
        return gears
    return gears[-1:]


def _unit(book: FigureBook, prefix: str, is_every_gear: bool) -> Unit:
    name = drive_parts.figure_prefix(prefix)
    motor = f"{prefix}.motor"
    complete = drive_parts.motor(book, prefix)
    radius = book.number("tyre.radius")
    numbers = [number for number, _ in run_gears(book, prefix, is_every_gear)]
    overall = [book.number(f"{name}.gear{number}.overall") for number in numbers]
    efficiency = book.get(f"{prefix}.gearbox.efficiency")
    drag = book.get(f"{prefix}.gearbox.drag")
    max_speed = book.number(f"{name}.speed_cap")
    cap = book.number(f"{name}.torque_cap")
    max_torque = TORQUE_REACH * cap
    loss_max_speed = SPEED_REACH * max_speed
    # Ratings stay what they are: a drive that loses more than the model has a better heat path.
    factor = book.number("drive.loss_factor")
    test_voltage = complete.terms.test_voltage
    lowest = max(book.number("pack.voltage_empty"), LOWEST_PACK_VOLTAGE)
    reach = max_speed * test_voltage / lowest
    envelope = _envelope_table(drive_parts.envelope(book, prefix, complete), reach)
    winding = book.number(f"{motor}.max_winding_temperature")
    capacity = book.number(f"{name}.winding_heat_capacity") * factor
    conductance = book.number(f"{name}.winding_conductance") * factor
    plate = book.number(f"{prefix}.inverter.max_temperature")
    plate_conductance = book.number(f"{name}.inverter_conductance") * factor
    return Unit(
        gears=len(overall),
        speed_ratio=np.array([ratio / radius for ratio in overall]),
        efficiency=np.full(len(overall), 1.0 if efficiency is None else efficiency),
        drag=0.0 if drag is None else drag,
        inertia=complete.inertia,
        max_speed=max_speed,
        torque_cap=cap,
        peak_power=complete.terms.peak_power,
        continuous_torque=min(complete.continuous_torque, cap),
        continuous_power=complete.continuous_power,
        test_voltage=test_voltage,
        envelope=envelope,
        per_envelope_step=(ENVELOPE_POINTS - 1) / reach,
        loss=factor
        * _loss_table(
            complete.terms,
            drive_parts.inverter_terms(book, prefix),
            drive_parts.efficiency_map(book, prefix),
            loss_max_speed,
            max_torque,
            book.number("pack.voltage_nominal"),
        ),
        per_loss_speed_step=(SPEED_POINTS - 1) / loss_max_speed,
        loss_max_torque=max_torque,
        per_loss_torque_step=(TORQUE_POINTS - 1) / (2.0 * max_torque),
        share=1.0,
        motor_warming=1.0 / max(capacity, conductance * LONGEST_STEP),
        motor_conductance=conductance,
        motor_max_temperature=winding,
        motor_derating=1.0 / MOTOR_DERATE_SPAN.si,
        inverter_warming=1.0 / (plate_conductance * INVERTER_WARM_UP.si),
        inverter_conductance=plate_conductance,
        inverter_max_temperature=plate,
        inverter_derating=1.0 / INVERTER_DERATE_SPAN.si,
        gear_share=np.array([controller.gear_share(book.car, prefix, gear) for gear in numbers]),
    )


@lru_cache(maxsize=16)
def _loss_table(
    motor: MotorTerms,
    inverter: InverterTerms,
    efficiency: Map | None,
    max_speed: float,
    max_torque: float,
    voltage: float,
) -> FloatArray:
    """Return losses W over [speed, torque, motor and inverter], at the nominal voltage, warm."""
    speeds = np.linspace(0.0, max_speed, SPEED_POINTS)
    torques = np.linspace(-max_torque, max_torque, TORQUE_POINTS)
    loss, current = drive_parts.loss_and_current(motor, efficiency, speeds, torques, voltage)
    return np.stack([loss, inverter_loss_map(inverter, current)], axis=-1)


@lru_cache(maxsize=16)
def _envelope_table(envelope: Line, reach: float) -> FloatArray:
    return envelope_torque(envelope, np.linspace(0.0, reach, ENVELOPE_POINTS))


def cells_and_pack(book: FigureBook) -> tuple[Cells, Pack]:
    """Return the pack alone, as a charge needs it; raise Missing where an input lacks."""
    return _cells(book, FINE_STEP, FINE_POINTS), _pack(book)


def _cells(
    book: FigureBook, step: float = TEMPERATURE_STEP, points: int = TEMPERATURE_POINTS
) -> Cells:
    path = "pack.cell"
    return Cells(
        ocv=_ocv_table(book.car.line(f"{path}.ocv")),
        resistance=_resistance_table(
            book.car.map(f"{path}.r0"),
            book.car.map(f"{path}.r1"),
            book.car.map(f"{path}.r2"),
            step,
            points,
        ),
        limits=_limit_table(
            book.car.line(f"{path}.discharge_derate"),
            book.car.line(f"{path}.charge_derate"),
            book.number(f"{path}.discharge_continuous"),
            book.number(f"{path}.discharge_peak"),
            book.number(f"{path}.charge_continuous"),
            book.number(f"{path}.charge_peak"),
            step,
            points,
        ),
        first_temperature=FIRST_TEMPERATURE,
        temperature_step=step,
        c1=book.number(f"{path}.c1"),
        c2=book.number(f"{path}.c2"),
        entropic=book.number(f"{path}.entropic"),
    )


@lru_cache(maxsize=16)
def _ocv_table(ocv: Line) -> FloatArray:
    return np.interp(np.linspace(0.0, 1.0, SOC_POINTS), ocv.x, ocv.y)


@lru_cache(maxsize=16)
def _resistance_table(r0: Map, r1: Map, r2: Map, step: float, points: int) -> FloatArray:
    """Return ohms over [temperature, soc, 3], in the temperature by the logarithm."""
    return np.stack([_resample(table, step, points) for table in (r0, r1, r2)], axis=-1)


def _resample(table: Map, step: float, points: int) -> FloatArray:
    soc = np.linspace(0.0, 1.0, RESISTANCE_SOC_POINTS)
    across = np.array([np.interp(soc, table.columns, row) for row in table.z])
    temperatures = FIRST_TEMPERATURE + step * np.arange(points)
    logs = np.log(across)
    resampled: FloatArray = np.exp(
        np.stack([np.interp(temperatures, table.rows, logs[:, j]) for j in range(len(soc))], axis=1)
    )
    return resampled


@lru_cache(maxsize=16)
def _limit_table(
    discharge: Line,
    charge: Line,
    continuous: float,
    peak: float,
    charging: float,
    regen: float,
    step: float,
    points: int,
) -> FloatArray:
    temperatures = FIRST_TEMPERATURE + step * np.arange(points)
    out = np.interp(temperatures, discharge.x, discharge.y)
    into = np.interp(temperatures, charge.x, charge.y)
    return np.stack([continuous * out, peak * out, charging * into, regen * into], axis=-1)


def _pack(book: FigureBook) -> Pack:
    series = book.number("pack.series_cells")
    parallel = book.number("pack.parallel_cells")
    capacity = book.number("pack.cell.capacity") * book.number("pack.health")
    limits = [
        (book.get(f"{prefix}.inverter.dc_current_limit"), prefix)
        for prefix in drive_parts.units(book)
    ]
    currents = [limit for limit, _ in limits if limit is not None]
    floors = [book.get(f"{prefix}.inverter.min_voltage") for _, prefix in limits]
    ceilings = [book.get(f"{prefix}.inverter.max_voltage") for _, prefix in limits]
    lowest = max([book.number("pack.cell.min_voltage"), *(v / series for v in floors if v)])
    highest = min([book.number("pack.cell.max_voltage"), *(v / series for v in ceilings if v)])
    return Pack(
        series=series,
        parallel=parallel,
        capacity=capacity,
        per_capacity=1.0 / capacity,
        joint_resistance=book.number("pack.joints_per_cell"),
        min_voltage=lowest,
        max_voltage=highest,
        current_limit=sum(currents) / parallel if currents else NO_LIMIT,
        overload_rate=overload_rate(
            book.number("pack.cell.discharge_continuous"), book.number("pack.cell.discharge_peak")
        ),
        warming=1.0 / (book.number("pack.cell.mass") * book.number("pack.cell.specific_heat")),
        conductance=book.number("pack.heat_path") / (series * parallel),
        floor=book.number("pack.usable.from"),
    )


def overload_rate(continuous: float, peak: float) -> float:
    """Return the rate 1/s of the filter of the current's square that lets a peak last 10 s.

    With u' = (I^2 - u) rate, u reaches the continuous current's square after 10 s at the peak.
    """
    share = min((continuous / peak) ** 2, MOST_OVERLOAD_SHARE)
    return -math.log(1.0 - share) / TEN_SECONDS.si
