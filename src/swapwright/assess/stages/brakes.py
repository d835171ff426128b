"""Brakes: grip each axle uses, what is reached before one locks, and what regeneration adds."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.stages.brake_heat import brake_heat
from swapwright.assess.stages.restraint import restraint
from swapwright.assess.stages.spring import spring
from swapwright.base.curve import Axis, Curve, Series
from swapwright.base.figure import LookedUp
from swapwright.build.car import Car
from swapwright.physics.vehicle.braking import (
    equal_lock_rate,
    front_grip_used,
    ideal_front_share,
    rate_reached,
    rate_required,
    rear_grip_used,
    regeneration_rate,
    stopping_distance,
    tightest_grip,
)
from swapwright.standards.brakes import (
    ALL_IN_FRONT,
    GREATEST_GRIP,
    HIGHEST_RATE,
    LEAST_GRIP,
    LEAST_RATE,
    NONE_IN_FRONT,
    R13H,
    RATE_SLOPE,
)
from swapwright.standards.marks import SIXTY_MPH

SHARE = "brakes.front_share"
TIGHTEST = "swapwright-tightest-grip"
STATES = (("_unladen", "", "nobody aboard"), ("", "_loaded", "as loaded"))
"""Of each state: the end of a figure's id here and in the weights, and its words."""

CURVE_POINTS = 40


def regenerating_axle(car: Car) -> str:
    """Return the one axle regeneration acts on, empty where it is both or is not said."""
    driven = car.texts.get("car.driven_axle", "")
    if car.has("drive.second.motor"):
        driven = driven if car.texts.get("drive.second.axle", driven) == driven else ""
    return driven if driven in ("front", "rear") else ""


def brakes(book: FigureBook) -> None:
    """Write the balance of the brakes, their heat, the springs, and the mounting of the boxes."""
    spring(book)
    restraint(book)
    for suffix, weighed, words in STATES:
        _balance(book, suffix, weighed, words)
    _regeneration(book)
    _stop(book)
    brake_heat(book)
    _curve(book)


def _axles(suffix: str, weighed: str) -> dict[str, Source]:
    return {
        "weight_share": f"weight.front_share{weighed}",
        "cg_height": f"weight.cg_height{suffix}",
        "wheelbase": "car.wheelbase",
    }


def _balance(book: FigureBook, suffix: str, weighed: str, words: str) -> None:
    """Write what the pedal's brakes alone do in one state of load."""
    axles = _axles(suffix, weighed)
    book.make(
        ideal_front_share,
        f"brakes.ideal_front_share{suffix}",
        label=f"ideal share of the braking at the front at 0.8 g, {words}",
        rate=HIGHEST_RATE,
        **axles,
    )
    book.make(
        equal_lock_rate,
        f"brakes.equal_lock{suffix}",
        label=f"deceleration up to which the front locks first, {words}",
        front_share=SHARE,
        **axles,
    )
    grip = f"brakes.tightest_grip{suffix}"
    with book.attempt(grip):
        _tightest(book, grip, axles, words)
    book.make(
        rate_reached,
        f"brakes.rate_reached{suffix}",
        label=f"deceleration reached there before an axle locks, {words}",
        grip=grip,
        front_share=SHARE,
        **axles,
    )
    book.make(
        rate_required,
        f"brakes.rate_required{suffix}",
        label=f"deceleration required there, {words}",
        grip=grip,
        base=LEAST_RATE,
        slope=RATE_SLOPE,
        low=LEAST_GRIP,
    )


def _tightest(book: FigureBook, figure_id: str, axles: dict[str, Source], words: str) -> None:
    """Write the grip at which what is required of the brakes is nearest."""
    entries = {name: book.value(str(source)) for name, source in axles.items()}
    entries["front_share"] = book.value(SHARE)
    found = tightest_grip(
        **{name: value.si for name, value in entries.items()},
        base=LEAST_RATE.si,
        slope=RATE_SLOPE.si,
        low=LEAST_GRIP.si,
        high=GREATEST_GRIP.si,
    )
    book.look_up(
        figure_id,
        f"grip at which what is required is nearest, {words}",
        found,
        "1",
        LookedUp("rate reached less rate required", "the least of it", "grip", TIGHTEST),
        "ratio",
        **entries,
    )


def _regeneration(book: FigureBook) -> None:
    """Write what regeneration asks of its axle, by itself and under hard braking."""
    axle = regenerating_axle(book.car)
    if not axle:
        return
    in_front = ALL_IN_FRONT if axle == "front" else NONE_IN_FRONT
    axles = _axles("_unladen", "")
    book.make(
        regeneration_rate,
        "brakes.regeneration",
        label="deceleration by regeneration alone, nobody aboard",
        force="regen.force_limit",
        mass="mass.kerb",
    )
    alone = front_grip_used if axle == "front" else rear_grip_used
    book.make(
        alone,
        "brakes.regeneration_grip",
        label=f"grip the {axle} tyres use for regeneration alone, nobody aboard",
        rate="brakes.regeneration",
        front_share=SHARE,
        regeneration="brakes.regeneration",
        regenerated_in_front=in_front,
        **axles,
    )
    for place, used in (("front", front_grip_used), ("rear", rear_grip_used)):
        book.make(
            used,
            f"brakes.{place}_grip_with_regeneration",
            label=f"grip the {place} tyres use at 0.8 g with regeneration on, nobody aboard",
            rate=HIGHEST_RATE,
            front_share=SHARE,
            regeneration="brakes.regeneration",
            regenerated_in_front=in_front,
            **axles,
        )


def _stop(book: FigureBook) -> None:
    book.make(
        rate_reached,
        "brakes.rate_at_grip",
        label="deceleration reached before an axle locks, as loaded",
        grip="car.grip",
        front_share=SHARE,
        **_axles("", "_loaded"),
    )
    book.make(
        stopping_distance,
        "brakes.stop_60mph",
        label="stopping distance from 60 mph, no wheel locked, as loaded",
        speed=SIXTY_MPH,
        rate="brakes.rate_at_grip",
    )


def _curve(book: FigureBook) -> None:
    """Keep the chart of the front share that is ideal and the one that is there."""
    if not book.has(SHARE, "weight.front_share_loaded", "weight.cg_height", "weight.front_share"):
        return
    rates = tuple(0.9 * step / CURVE_POINTS for step in range(1, CURVE_POINTS + 1))
    base, share = book.number("car.wheelbase"), book.number(SHARE)
    series = []
    for suffix, weighed, words in STATES:
        front, tall = f"weight.front_share{weighed}", f"weight.cg_height{suffix}"
        ideal = tuple(
            ideal_front_share(
                rate=rate,
                weight_share=book.number(front),
                cg_height=book.number(tall),
                wheelbase=base,
            )
            for rate in rates
        )
        series.append(Series(f"ideal, {words}", "fraction", "1", ideal))
    series.append(Series("as the brakes are", "fraction", "1", tuple(share for _ in rates)))
    book.curves["brakes.balance"] = Curve(
        "brakes.balance",
        "share of the braking at the front: below its ideal the rear locks first",
        Axis("deceleration", "over_gravity", "1", rates),
        tuple(series),
        sources=("gillespie-1992-ch3-brake-proportioning", R13H),
    )
