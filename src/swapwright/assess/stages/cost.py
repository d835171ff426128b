"""Cost: parts, the whole price, the wait for parts, a mile before and after, the masses."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.vehicle.cost import (
    distance_to_pay_back,
    energy_price_of_distance,
    fuel_price_of_distance,
    price_of_all,
    price_of_work,
    set_aside,
)

PARTS, SOLD = "cost.part", "cost.sold"
Row = tuple[str, Source, float]

ONE = Value(1.0, "1", "standard", "one-each")


def cost(book: FigureBook) -> None:
    """Write the mass budget, and price and waiting time where the file lists parts."""
    _masses(book)
    _driving(book)
    if not book.car.counts.get(PARTS, 0):
        for figure in ("cost.total", "cost.longest_wait"):
            book.note_missing(figure, Missing(PARTS))
        return
    parts = _parts(book)
    book.total("cost.parts", "price of all parts", "1", parts, "money")
    rows: list[Row] = [("parts", "cost.parts", 1.0)]
    if book.has("cost.work") or book.has("cost.work_rate"):
        book.make(
            price_of_work,
            "cost.work_price",
            label="price of the work",
            time="cost.work",
            rate="cost.work_rate",
        )
        rows.append(("work", "cost.work_price", 1.0))
    book.total("cost.thought_of", "price of what was thought of", "1", rows, "money")
    book.make(
        set_aside,
        "cost.reserve",
        label="set aside for what nobody thought of",
        price="cost.thought_of",
        share="cost.set_aside",
    )
    sold: list[Row] = [
        (book.car.texts.get(f"{SOLD}[{row}].name", "sold"), f"{SOLD}[{row}].price", -1.0)
        for row in range(book.car.counts.get(SOLD, 0))
    ]
    whole: list[Row] = [*rows, ("set aside", "cost.reserve", 1.0), *sold]
    book.total("cost.total", "price of the whole conversion", "1", whole, "money")
    _wait(book)
    book.make(
        distance_to_pay_back,
        "cost.pay_back",
        label="distance over which cheaper driving pays it back",
        total="cost.total",
        before="cost.driving_before",
        after="cost.driving",
    )


def _parts(book: FigureBook) -> list[Row]:
    """Write the price of each row of the list, and return them."""
    rows: list[Row] = []
    for row in range(book.car.counts.get(PARTS, 0)):
        path = f"{PARTS}[{row}]"
        name = book.car.texts.get(f"{path}.name", "part")
        figure = f"cost.part.{row}"
        book.make(
            price_of_all,
            figure,
            label=f"price of {name}",
            price=f"{path}.price",
            count=f"{path}.count" if book.has(f"{path}.count") else ONE,
        )
        rows.append((name, figure, 1.0))
    return rows


def _wait(book: FigureBook) -> None:
    """Write the longest wait among the parts that are not here yet."""
    awaited = [
        row
        for row in range(book.car.counts.get(PARTS, 0))
        if not book.car.flags.get(f"{PARTS}[{row}].here", False)
    ]
    silent = [row for row in awaited if not book.has(f"{PARTS}[{row}].lead_time")]
    if silent or not awaited:
        lacking = [Missing(f"{PARTS}[{row}].lead_time") for row in silent]
        book.note_missing("cost.longest_wait", *lacking or [Missing(reason="every part is here")])
        return
    last = max(awaited, key=lambda row: book.number(f"{PARTS}[{row}].lead_time"))
    value = book.value(f"{PARTS}[{last}].lead_time")
    name = book.car.texts.get(f"{PARTS}[{last}].name", "part")
    book.look_up(
        "cost.longest_wait",
        "longest wait for a part",
        value.si,
        "s",
        LookedUp("parts list", name, "lead_time", "arithmetic-of-prices"),
        "time",
        awaited=value,
    )


def _driving(book: FigureBook) -> None:
    """Write what a distance costs now and what it cost before."""
    book.make(
        energy_price_of_distance,
        "cost.driving",
        label="price of driving, energy from the wall",
        consumption="consumption.combined_wall",
        price="charging.tariff",
    )
    book.make(
        fuel_price_of_distance,
        "cost.driving_before",
        label="price of driving before, fuel of the old engine",
        consumption="car.engine_before.fuel",
        price="cost.fuel_price",
    )


def _masses(book: FigureBook) -> None:
    """Write what mass there was for what goes in, and what is left of it."""
    if not book.has("mass.removed", "mass.added"):
        return
    aboard: list[Row] = [
        ("as loaded", "mass.loaded", -1.0),
        ("less converted kerb", "mass.kerb", 1.0),
    ]
    book.total(
        "mass.budget",
        "mass there is for what goes in, loaded to the plate",
        "kg",
        [
            ("gross mass on the plate", "car.limits.gross", 1.0),
            ("donor, kerb", "car.kerb_mass", -1.0),
            ("taken out", "mass.removed", 1.0),
            *aboard,
        ],
        "mass",
    )
    book.total(
        "mass.left",
        "mass left under the plate, loaded",
        "kg",
        [("budget", "mass.budget", 1.0), ("put in", "mass.added", -1.0)],
        "mass",
    )
