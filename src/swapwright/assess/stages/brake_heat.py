"""Heat of the brakes: one stop from 60 mph, and the goal's hill driven down with a full pack."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.physics.vehicle.brake_heat import (
    descent_power,
    descent_temperature,
    stop_energy,
    stop_rise,
)
from swapwright.physics.vehicle.braking import rear_share
from swapwright.standards.brakes import IRON_SPECIFIC_HEAT
from swapwright.standards.marks import SIXTY_MPH

AXLES = ("front", "rear")


def brake_heat(book: FigureBook) -> None:
    """Write how hot each axle's brakes get in one stop and down the goal's hill."""
    book.make(
        stop_energy,
        "brakes.stop_energy",
        label="energy of one stop from 60 mph, as loaded",
        mass="mass.loaded",
        speed=SIXTY_MPH,
    )
    book.make(
        descent_power,
        "brakes.descent_power",
        label="power to hold back down the goal's hill, a full pack taking none",
        grade_force="climb.grade_force",
        road_load="climb.road_load",
        speed="goals.climb.at",
    )
    shares: tuple[tuple[str, Source], ...] = (
        ("front", "brakes.front_share"),
        ("rear", "brakes.rear_share"),
    )
    book.make(rear_share, "brakes.rear_share", front_share="brakes.front_share")
    for axle, share in shares:
        rotor = f"brakes.{axle}_rotor"
        book.make(
            stop_rise,
            f"brakes.{axle}_stop_rise",
            label=f"rise of a {axle} brake's temperature in one stop from 60 mph",
            energy="brakes.stop_energy",
            share=share,
            rotor_mass=rotor,
            specific_heat=IRON_SPECIFIC_HEAT,
        )
        book.make(
            descent_temperature,
            f"brakes.{axle}_descent_temperature",
            label=f"temperature of a {axle} brake at the foot of the goal's hill, a full pack",
            ambient="conditions.hot_day",
            power="brakes.descent_power",
            share=share,
            conductance="brakes.cooling",
            time="goals.climb.for",
            rotor_mass=rotor,
            specific_heat=IRON_SPECIFIC_HEAT,
        )
