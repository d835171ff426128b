"""What a conversion costs, what a mile costs before and after, and when the one pays the other."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def price_of_all(*, price: float, count: float) -> float:
    """Return the price of several alike.

    price: of one, in the owner's money [1]
    count: how many [1]
    result: [1]
    source: arithmetic
    """
    return price * count


def price_of_work(*, time: float, rate: float) -> float:
    """Return the price of work.

    time: [s]
    rate: price of work, in the owner's money [1/s]
    result: [1]
    source: arithmetic
    """
    return time * rate


def set_aside(*, price: float, share: float) -> float:
    """Return what is set aside for what nobody thought of.

    price: of what was thought of [1]
    share: of it to set aside [1]
    result: [1]
    source: common practice, no source
    """
    return price * share


def energy_price_of_distance(*, consumption: float, price: float) -> float:
    """Return the price of the energy for a distance.

    consumption: from the wall [J/m]
    price: of energy [1/J]
    result: [1/m]
    source: arithmetic
    """
    return consumption * price


def fuel_price_of_distance(*, consumption: float, price: float) -> float:
    """Return the price of the fuel for a distance.

    consumption: [m^3/m]
    price: of fuel [1/m^3]
    result: [1/m]
    source: arithmetic
    """
    return consumption * price


def distance_to_pay_back(*, total: float, before: float, after: float) -> float:
    """Return the distance over which cheaper driving pays the conversion back.

    total: price of the conversion [1]
    before: price of driving on fuel [1/m]
    after: price of driving on energy [1/m]
    result: [m]
    source: arithmetic
    """
    return total / (before - after)


_SUMS = ("arithmetic-of-prices",)
_PRICE = Symbol("price", "1", 0.0, 1e6, "price of one", "money")
_NOT = "value added tax where prices leave it out, and what prices do later"


def _money(letter: str, label: str) -> Symbol:
    return Symbol(letter, "1", 0.0, 1e9, label, "money")


PRICE_OF_ALL = Working(
    price_of_all,
    "p*n",
    {"p": _PRICE, "n": Symbol("count", "1", 1.0, 1000.0, "how many", "count")},
    _money("P", "price of all"),
    _SUMS,
    "each costs the same",
    _NOT,
)

PRICE_OF_WORK = Working(
    price_of_work,
    "t*r",
    {
        "t": Symbol("time", "s", 0.0, 1e7, "time", "time"),
        "r": Symbol("rate", "1/s", 0.0, 1.0, "price of work", "price_of_time"),
    },
    _money("P", "price of the work"),
    _SUMS,
    "every hour costs the same",
    _NOT,
)

SET_ASIDE = Working(
    set_aside,
    "P*q",
    {
        "P": Symbol("price", "1", 0.0, 1e7, "price of what was thought of", "money"),
        "q": Symbol("share", "1", 0.0, 1.0, "share set aside", "fraction"),
    },
    _money("R", "set aside"),
    ("cost-set-aside-typical",),
    "what goes wrong grows with the job",
    _NOT,
)

ENERGY_PRICE_OF_DISTANCE = Working(
    energy_price_of_distance,
    "e*p",
    {
        "e": Symbol("consumption", "J/m", 100.0, 5000.0, "energy from the wall", "consumption"),
        "p": Symbol("price", "1/J", 0.0, 1e-6, "price of energy", "price_of_energy"),
    },
    Symbol("c", "1/m", 0.0, 1.0, "price of driving", "price_of_distance"),
    _SUMS,
    "charged at this price alone",
    "fixed charges of the supply, fast charging on the way",
)

FUEL_PRICE_OF_DISTANCE = Working(
    fuel_price_of_distance,
    "b*p",
    {
        "b": Symbol("consumption", "m^3/m", 1e-8, 5e-7, "fuel", "fuel_consumption"),
        "p": Symbol("price", "1/m^3", 1.0, 1e5, "price of fuel", "price_of_volume"),
    },
    Symbol("c", "1/m", 0.0, 1.0, "price of driving", "price_of_distance"),
    _SUMS,
    "the old engine's consumption as given",
    "oil, filters and what else an engine asks for",
)

DISTANCE_TO_PAY_BACK = Working(
    distance_to_pay_back,
    "P/(c_b - c_a)",
    {
        "P": Symbol("total", "1", 1.0, 1e6, "price of the conversion", "money"),
        "c_b": Symbol("before", "1/m", 5e-5, 1e-2, "price of driving before", "price_of_distance"),
        "c_a": Symbol("after", "1/m", 0.0, 4e-5, "price of driving after", "price_of_distance"),
    },
    Symbol("d", "m", 0.0, 1e12, "distance that pays it back", "distance"),
    _SUMS,
    "prices stay; a car is converted for more reasons than this one",
    "interest, service, what the car is worth after",
    valid="c_b > c_a",
)

WORKINGS: tuple[Working, ...] = (
    PRICE_OF_ALL,
    PRICE_OF_WORK,
    SET_ASIDE,
    ENERGY_PRICE_OF_DISTANCE,
    FUEL_PRICE_OF_DISTANCE,
    DISTANCE_TO_PAY_BACK,
)
