"""Combined, wall, label and aged figures, from the simulated ranges and consumptions."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.days import COLD, HOT, MILD, on_day
from swapwright.base.errors import Missing
from swapwright.physics.vehicle.consumption import (
    aged_range,
    combined_consumption,
    driving_range,
    label_consumption,
    wall_consumption,
)
from swapwright.standards.consumption import CITY_SHARE, LABEL_ADJUSTMENT
from swapwright.standards.ratings import END_OF_LIFE_HEALTH, MOST_BEHIND


def combine(book: FigureBook) -> None:
    """Write every figure that is made of simulated ranges and consumptions."""
    _worst(book)
    for day in (MILD, COLD, HOT):
        _combined(book, day)
    for name, words in (
        ("city", "city"),
        ("highway", "highway"),
        ("combined", "combined"),
        ("wltc", "WLTC class 3b"),
    ):
        _from_the_wall(book, name, words)
    _everyday(book)
    book.make(
        aged_range,
        "range.at_goal_speed_aged",
        label="range at the goal's steady speed, pack at the end of its life",
        new_range="range.at_goal_speed",
        health=END_OF_LIFE_HEALTH,
    )


def _is_behind(book: FigureBook, name: str) -> bool:
    """Tell whether the car was found to fall behind a cycle."""
    behind = book.get(f"behind.{name}")
    return behind is not None and behind > MOST_BEHIND.si


def _worst(book: FigureBook) -> None:
    """Write which of the city and the highway cycle is followed less well, and how well."""
    with book.attempt("behind.worst"):
        worst = max(("city", "highway"), key=lambda name: book.number(f"behind.{name}"))
        book.total(
            "behind.worst",
            "share of the time behind the city or the highway cycle, the greater",
            "1",
            [(worst, f"behind.{worst}", 1.0)],
            "fraction",
        )


def _combined(book: FigureBook, day: str) -> None:
    """Write a day's combined figures; a car that does not follow both cycles has none."""
    figure_id = f"consumption.combined{day}"
    with book.attempt(figure_id):
        for cycle in ("city", "highway"):
            if _is_behind(book, f"{cycle}{day}"):
                share = book.number(f"behind.{cycle}{day}")
                raise Missing(
                    reason=f"the car does not follow {on_day(f'the {cycle} cycle', day)}: "
                    f"it is behind {share:.1%} of the time"
                )
        book.make(
            combined_consumption,
            figure_id,
            label=on_day("battery consumption, combined", day),
            city=f"consumption.city{day}",
            highway=f"consumption.highway{day}",
            city_share=CITY_SHARE,
        )
    book.make(
        driving_range,
        f"range.combined{day}",
        label=on_day("range, combined", day),
        usable_energy=f"energy.city{day}",
        consumption=f"consumption.combined{day}",
    )


def _from_the_wall(book: FigureBook, name: str, words: str) -> None:
    """Write what a cycle takes to charge with, into the cells and from the wall."""
    if _is_behind(book, name):
        words = f"{words}, not followed"
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


def _everyday(book: FigureBook) -> None:
    """Write the combined figures by the label's adjustment to everyday use."""
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
