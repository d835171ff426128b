"""What a charge is worth: range in an hour on the plug, minutes at the pump, money, balancing."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.days import MILD
from swapwright.assess.stages.charge_supply import efficiency_of, left_for_battery, within_window
from swapwright.assess.stages.charge_time import (
    ChargeCase,
    keep_charge,
    loads_of,
    made_by,
    run_charge,
)
from swapwright.base.figure import Value
from swapwright.physics.pack.charge_time import balance_time, mean_power
from swapwright.physics.pack.supply import (
    charge_cost,
    charger_output,
    pump_time,
    range_rate,
    supply_power,
    tank_range,
)
from swapwright.standards.supply import IMBALANCE, PUMP_FLOW, socket

FUEL, TANK = "car.engine_before.fuel", "car.engine_before.tank"
WHOLE = Value(1.0, "1", "standard", "definition-electric-power")
"""Of what is stored already, all of it."""
ONE_PHASE = Value(1.0, "1", "standard", "sae-j1772-level-1")

SOCKET_CASE = ChargeCase(
    "_socket", ", household socket", MILD, "charging.socket_power", "charging.output_current",
    "charging.end_voltage", "charging.target",
)  # fmt: skip


def worth(book: FigureBook) -> None:
    """Write range in an hour on the supply and on a socket, the pump beside it, cost, balancing."""
    stored_rate(book, "", "on this supply")
    _socket(book)
    _pump(book)
    if book.has("charging.tariff"):
        book.make(
            charge_cost,
            "charging.cost",
            label="cost of a charge, in the money of its tariff",
            energy="charging.drawn",
            price="charging.tariff",
        )
    book.make(
        balance_time,
        "charging.balance_time",
        label="time to balance away a usual imbalance",
        imbalance=IMBALANCE,
        capacity="pack.capacity",
        current="pack.balancer_current",
    )


def stored_rate(book: FigureBook, case: str, words: str) -> None:
    """Write the range a simulated charge adds in a time: what it stores over the time it takes."""
    power = f"charging.mean_power{case}"
    book.make(
        mean_power,
        power,
        label=f"mean power a charge stores, {words}",
        energy=f"charging.stored{case}",
        time=f"charging.time{case}",
    )
    name, driving = driven(book)
    book.make(
        range_rate,
        f"charging.range_rate{case}",
        label=f"range an hour of charging adds, {words}, {driving}",
        power=power,
        stored=WHOLE,
        consumption=f"consumption.{name}",
    )


def driven(book: FigureBook) -> tuple[str, str]:
    """Return the driving a charge is told in, and its words: combined, else the goal's own."""
    if book.has("consumption.combined") or not book.has("consumption.at_goal_speed"):
        return "combined", "combined driving"
    return "at_goal_speed", "at the goal's steady speed"


def _socket(book: FigureBook) -> None:
    """Write what a household socket of the region gives this car, by a charge on a mild day."""
    of = socket(book.car.texts.get("goals.region", ""))
    book.make(
        supply_power,
        "charging.socket_input",
        label="power from a household socket",
        voltage=of.voltage,
        current=of.current,
        phases=ONE_PHASE,
    )
    book.make(
        charger_output,
        "charging.socket_output",
        label="charger output on a household socket",
        rating="charging.total_power",
        supply="charging.socket_input",
        efficiency=efficiency_of(book),
    )
    left_for_battery(
        book,
        "charging.socket_power",
        "power into the battery on a household socket",
        "charging.socket_output",
    )
    with book.attempt(*made_by(SOCKET_CASE)):
        within_window(book)
        run = run_charge(book, SOCKET_CASE, efficiency_of(book), loads_of(book))
        keep_charge(book, SOCKET_CASE, run)
    stored_rate(book, SOCKET_CASE.name, "on a household socket")


def _pump(book: FigureBook) -> None:
    """Write the minutes at the pump for as far as a full charge goes, and the old tank's range."""
    if not book.has(FUEL):
        return
    name, words = driven(book)
    book.make(
        pump_time,
        "charging.pump_time",
        label=f"time to pump the old engine's fuel for the range, {words}",
        distance=f"range.{name}",
        fuel=FUEL,
        flow=PUMP_FLOW,
    )
    if book.has(TANK):
        book.make(
            tank_range, "charging.tank_range", label="range of the old tank", tank=TANK, fuel=FUEL
        )
