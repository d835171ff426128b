"""Range and consumption: each cycle and the goal's steady speed, run until the pack is empty."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess import estimate_range, runs
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.runs import Run
from swapwright.assess.simulated import simulated_figure
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.physics.pack.charge import (
    charge_current,
    charge_efficiency,
    efficiency_with_loads,
)
from swapwright.physics.vehicle.consumption import (
    combined_consumption,
    driving_range,
    label_consumption,
    wall_consumption,
)
from swapwright.standards.consumption import CITY_SHARE, LABEL_ADJUSTMENT

DAY_WORDS = {"": "mild day", "_cold": "cold day", "_hot": "hot day"}


@dataclass(frozen=True)
class RangeCase:
    """One range to empty: its name, its cycle, the day, and the load beside the drive."""

    name: str
    label: str
    cycle: str
    day: str = ""
    cabin: str = ""


CASES = (
    RangeCase("city", "city", "udds"),
    RangeCase("highway", "highway", "hwfet"),
    RangeCase("wltc", "WLTC class 3b", "wltc-3b"),
    RangeCase("us06", "hard driving (US06)", "us06"),
    RangeCase("city_cold", "city, cold day", "udds", "_cold", "auxiliaries.heater"),
    RangeCase("highway_cold", "highway, cold day", "hwfet", "_cold", "auxiliaries.heater"),
    RangeCase("city_hot", "city, hot day", "udds", "_hot", "auxiliaries.air_conditioner"),
    RangeCase("highway_hot", "highway, hot day", "hwfet", "_hot", "auxiliaries.air_conditioner"),
)


def ranges(book: FigureBook) -> None:
    """Write consumption, energy delivered and range of every case, and their combinations."""
    charging(book)
    for case in CASES:
        with book.attempt(f"range.{case.name}", f"consumption.{case.name}", f"energy.{case.name}"):
            _case(book, case)
    _steady(book)
    combine(book)


def charging(book: FigureBook) -> None:
    """Write charging power and current, and the efficiency from the wall into the cells."""
    _charging_power(book)
    if book.has("charging.charger.efficiency"):
        book.make(
            efficiency_with_loads,
            "charging.charger_efficiency",
            efficiency="charging.charger.efficiency",
            power="charging.total_power",
            loads="auxiliaries.charging",
        )
    else:
        book.total(
            "charging.charger_efficiency",
            "efficiency into the battery",
            "1",
            [("typical", "charging.efficiency", 1.0)],
            "fraction",
        )
    book.make(
        charge_current,
        "charging.current",
        power="charging.total_power",
        rest_voltage="pack.voltage_nominal",
        resistance="pack.resistance",
    )
    book.make(
        charge_efficiency,
        "charging.pack_efficiency",
        label="share of the charging energy stored",
        rest_voltage="pack.voltage_nominal",
        current="charging.current",
        resistance="pack.resistance",
    )


def _charging_power(book: FigureBook) -> None:
    """Write the output of all chargers together."""
    one = "charging.charger.power" if book.has("charging.charger.power") else "charging.power"
    count = int(book.get("charging.chargers") or 1)
    book.total(
        "charging.total_power",
        "charging power",
        "W",
        [(f"charger {n + 1}", one, 1.0) for n in range(count)],
        "power",
    )


def _start(book: FigureBook) -> float:
    """Return the charge a range starts from; raise Missing where the window is empty."""
    top = book.number("pack.window_top")
    if top <= book.number("pack.usable.from"):
        raise Missing(reason="no part of the usable window is within the inverter's voltage")
    return top


def _auxiliary(book: FigureBook, case: RangeCase) -> Source:
    if not case.cabin:
        return "auxiliaries.driving"
    book.total(
        f"auxiliaries.{case.name}",
        f"auxiliary power, {case.label}",
        "W",
        [("driving", "auxiliaries.driving", 1.0), ("cabin", case.cabin, 1.0)],
        "power",
    )
    return f"auxiliaries.{case.name}"


def _case(book: FigureBook, case: RangeCase) -> None:
    auxiliary = _auxiliary(book, case)
    power = auxiliary.si if isinstance(auxiliary, Value) else book.number(auxiliary)
    kit = setup(book, day=case.day, auxiliary=power)
    run = runs.until_empty(kit, case.cycle, soc=_start(book))
    estimate_range.cycle_estimate(book, case.name, case.cycle, case.day, auxiliary)
    trace = f"{case.cycle}, repeated until the usable window is empty"
    _keep(book, case.name, case.label, run, trace, DAY_WORDS[case.day])


def _steady(book: FigureBook) -> None:
    """Write the range at the goal's speed, on the day nearest the goal's temperature."""
    name = "at_goal_speed"
    with book.attempt(f"range.{name}", f"consumption.{name}", f"energy.{name}"):
        speed = book.number("goals.range.at")
        wanted = book.get("goals.range.at_temperature")
        days = {
            "": book.number("conditions.temperature"),
            "_cold": book.number("conditions.cold_day"),
            "_hot": book.number("conditions.hot_day"),
        }
        day = "" if wanted is None else min(days, key=lambda key: abs(days[key] - wanted))
        kit = setup(book, day=day)
        if wanted is not None:
            kit = kit._replace(ambient=wanted)
        run = runs.steady_until_empty(kit, speed, soc=_start(book))
        estimate_range.steady_estimate(book, name, day)
        trace = "the goal's steady speed until the usable window is empty"
        _keep(book, name, "at the goal's steady speed", run, trace, DAY_WORDS[day])


def _keep(book: FigureBook, name: str, label: str, run: Run, trace: str, day: str) -> None:
    if run.steps >= runs.MOST_STEPS:
        raise Missing(reason="run too long: the pack is not empty after the most steps allowed")
    distance, energy = run.ledger.distance, run.battery_energy
    if distance <= 0.0 or energy <= 0.0:
        raise Missing(reason="the car does not move")
    settings = {
        "trace": trace,
        "day": day,
        "seconds behind the trace": f"{run.ledger.shortfall:.0f}",
        "steps": str(run.steps),
    }
    estimate_range.range_estimate(book, name)
    for figure_id, words, value, estimate in (
        (
            f"consumption.{name}",
            f"battery consumption, {label}",
            (energy / distance, "J/m", "consumption"),
            f"estimate.{name}.consumption",
        ),
        (
            f"energy.{name}",
            f"energy delivered, {label}",
            (energy, "J", "energy"),
            "pack.usable_energy",
        ),
        (
            f"range.{name}",
            f"range, {label}",
            (distance, "m", "distance"),
            f"estimate.{name}.range",
        ),
    ):
        simulated_figure(book, figure_id, words, value, run, estimate, settings)


def combine(book: FigureBook) -> None:
    """Write combined, wall and label figures from the city and highway ones."""
    for day, words in (("", ""), ("_cold", ", cold day"), ("_hot", ", hot day")):
        book.make(
            combined_consumption,
            f"consumption.combined{day}",
            label=f"battery consumption, combined{words}",
            city=f"consumption.city{day}",
            highway=f"consumption.highway{day}",
            city_share=CITY_SHARE,
        )
        book.make(
            driving_range,
            f"range.combined{day}",
            label=f"range, combined{words}",
            usable_energy=f"energy.city{day}",
            consumption=f"consumption.combined{day}",
        )
    for name, words in (
        ("city", "city"),
        ("highway", "highway"),
        ("combined", "combined"),
        ("wltc", "WLTC class 3b"),
    ):
        book.make(
            wall_consumption,
            f"consumption.{name}_stored",
            label=f"energy to charge with per distance, {words}",
            consumption=f"consumption.{name}",
            charging_efficiency="charging.pack_efficiency",
        )
        book.make(
            wall_consumption,
            f"consumption.{name}_wall",
            label=f"consumption from the wall, {words}",
            consumption=f"consumption.{name}_stored",
            charging_efficiency="charging.charger_efficiency",
        )
    for figure_id, label, source in (
        (
            "consumption.label",
            "consumption from the wall in everyday use",
            "consumption.combined_wall",
        ),
        ("consumption.everyday", "battery consumption in everyday use", "consumption.combined"),
    ):
        book.make(
            label_consumption,
            figure_id,
            label=f"{label}, by the label's adjustment",
            consumption=source,
            adjustment=LABEL_ADJUSTMENT,
        )
    book.make(
        driving_range,
        "range.everyday",
        label="range in everyday use, by the label's adjustment",
        usable_energy="energy.city",
        consumption="consumption.everyday",
    )
