"""Brake vacuum: what a stop takes out of the store, and how long the pump runs to put it back.

Air at one temperature, so that pressure times volume counts it. A vacuum is how far the store's
pressure lies below the air outside.
"""

from __future__ import annotations

from math import log

from swapwright.base.figure import Symbol, Working


def vacuum_lost(*, air_pressure: float, air_per_stop: float, store: float) -> float:
    """Return what one stop takes of the vacuum: its air spreads through the store.

    air_pressure: of the air outside [Pa]
    air_per_stop: the booster lets in, at the pressure outside [m^3]
    store: reservoir and booster together [m^3]
    result: pressure [Pa]
    source: boyle-isothermal
    """
    return air_pressure * air_per_stop / store


def assisted_stops(*, vacuum: float, least_vacuum: float, vacuum_lost: float) -> float:
    """Return the stops a store is good for before its vacuum no longer helps the next one.

    vacuum: in the store when the pump fails [Pa]
    least_vacuum: that still helps [Pa]
    vacuum_lost: to each stop [Pa]
    result: stops [1]
    source: boyle-isothermal
    """
    return max(0.0, vacuum - least_vacuum) / vacuum_lost


def pump_down_time(
    *, store: float, pump_flow: float, air_pressure: float, from_vacuum: float, to_vacuum: float
) -> float:
    """Return how long a pump draws a store from one vacuum down to a deeper one.

    store: reservoir and booster together [m^3]
    pump_flow: taken in at whatever pressure stands before the pump [m^3/s]
    air_pressure: of the air outside [Pa]
    from_vacuum: it starts at [Pa]
    to_vacuum: it stops at, short of no pressure at all [Pa]
    result: time [s]
    source: boyle-isothermal
    """
    return store / pump_flow * log((air_pressure - from_vacuum) / (air_pressure - to_vacuum))


def pump_time_per_stop(
    *, pump_down_time: float, vacuum_lost: float, from_vacuum: float, to_vacuum: float
) -> float:
    """Return how long the pump runs for each stop, over many of its cycles.

    pump_down_time: of one cycle, from cut-in to cut-out [s]
    vacuum_lost: to each stop [Pa]
    from_vacuum: it cuts in at [Pa]
    to_vacuum: it cuts out at [Pa]
    result: time [s]
    source: boyle-isothermal
    """
    return pump_down_time * vacuum_lost / (to_vacuum - from_vacuum)


def reachable_vacuum(*, air_pressure: float, share: float) -> float:
    """Return the deepest vacuum a pump draws: what is left before it grows with the air outside.

    air_pressure: of the air outside [Pa]
    share: of it that the pump takes away [1]
    result: pressure [Pa]
    source: vacuum-pump-reach-practice
    """
    return air_pressure * share


def share_of_interval(*, time: float, interval: float) -> float:
    """Return the share of the time something runs that runs once in each interval.

    time: it runs each time [s]
    interval: from one time to the next [s]
    result: share [1]
    source: definition-mean-of-a-duty
    """
    return time / interval


_P = Symbol("air_pressure", "Pa", 7e4, 1.05e5, "air outside", "pressure")
_STORE = Symbol("store", "m^3", 5e-4, 2e-2, "reservoir and booster", "volume")
_LOST = Symbol("vacuum_lost", "Pa", 500.0, 1e5, "vacuum lost to a stop", "pressure")
_FROM = Symbol("from_vacuum", "Pa", 2e4, 6e4, "vacuum it cuts in at", "pressure")
_TO = Symbol("to_vacuum", "Pa", 3e4, 6.9e4, "vacuum it cuts out at", "pressure")
_TIME = Symbol("pump_down_time", "s", 0.1, 120.0, "run from cut-in to cut-out", "time")
_BOYLE = ("boyle-isothermal",)
_STEADY = "air at one temperature"

VACUUM_LOST = Working(
    vacuum_lost,
    "p*V_b/V",
    {
        "p": _P,
        "V_b": Symbol("air_per_stop", "m^3", 1e-4, 3e-3, "air let in by a firm stop", "volume"),
        "V": _STORE,
    },
    Symbol("dp", "Pa", 0.0, 1e6, "vacuum lost to a stop", "pressure"),
    _BOYLE,
    _STEADY,
    "leaks of hoses, valve and booster, which empty a store in hours or in minutes",
)

REACHABLE_VACUUM = Working(
    reachable_vacuum,
    "p*a",
    {
        "p": _P,
        "a": Symbol("share", "1", 0.7, 0.99, "share the pump takes away", "fraction"),
    },
    Symbol("v_r", "Pa", 0.0, 1.1e5, "deepest vacuum the pump draws", "pressure"),
    ("vacuum-pump-reach-practice",),
    "a sound pump at its own voltage",
    "leaks, which keep any pump short of it; a worn pump; low 12 V",
)

ASSISTED_STOPS = Working(
    assisted_stops,
    "Max(0, v - v_0)/dp",
    {
        "v": Symbol("vacuum", "Pa", 0.0, 9e4, "vacuum when the pump fails", "pressure"),
        "v_0": Symbol("least_vacuum", "Pa", 1e4, 6e4, "least that helps", "pressure"),
        "dp": _LOST,
    },
    Symbol("n", "1", 0.0, 100.0, "assisted stops left", "ratio"),
    _BOYLE,
    "the pump fails just before it would have cut in; each stop is a firm one",
    "how much harder the pedal is to push with each of them",
)

PUMP_DOWN_TIME = Working(
    pump_down_time,
    "V/S*log((p - v_1)/(p - v_2))",
    {
        "V": _STORE,
        "S": Symbol("pump_flow", "m^3/s", 1e-5, 5e-3, "air the pump takes in", "flow"),
        "p": _P,
        "v_1": _FROM,
        "v_2": _TO,
    },
    Symbol("t", "s", -1e4, 1e4, "run from cut-in to cut-out", "time"),
    _BOYLE,
    f"{_STEADY}; the pump takes in as much at any vacuum",
    "a pump near the deepest vacuum it can draw, where it takes in ever less; low 12 V",
)

PUMP_TIME_PER_STOP = Working(
    pump_time_per_stop,
    "t*dp/(v_2 - v_1)",
    {"t": _TIME, "dp": _LOST, "v_1": _FROM, "v_2": _TO},
    Symbol("t_s", "s", -1e6, 1e6, "pump run for each stop", "time"),
    _BOYLE,
    "averaged over many cycles of the pump",
    "leaks",
    valid="v_2 > v_1 + 1000",
)

SHARE_OF_INTERVAL = Working(
    share_of_interval,
    "t/T",
    {
        "t": Symbol("time", "s", 0.1, 300.0, "run each time", "time"),
        "T": Symbol("interval", "s", 1.0, 3600.0, "from one to the next", "time"),
    },
    Symbol("d", "1", 0.0, 300.0, "share of the time it runs", "fraction"),
    ("definition-mean-of-a-duty",),
    "",
    "",
)

WORKINGS: tuple[Working, ...] = (
    VACUUM_LOST,
    REACHABLE_VACUUM,
    ASSISTED_STOPS,
    PUMP_DOWN_TIME,
    PUMP_TIME_PER_STOP,
    SHARE_OF_INTERVAL,
)
