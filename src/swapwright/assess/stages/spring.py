"""Springs: how far each axle sits from its old height, and the rate that puts it back."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.physics.vehicle.spring import restoring_rate, ride_change, ride_drop

AXLES = ("front", "rear")


def spring(book: FigureBook) -> None:
    """Write the drop of each axle, and the spring rate that restores its height."""
    for axle in AXLES:
        loads = {"load": f"weight.{axle}", "load_before": f"car.axle_mass.{axle}"}
        rate = f"car.springs.{axle}"
        book.make(
            ride_drop,
            f"weight.{axle}_drop",
            label=f"drop of the {axle} ride height, nobody aboard",
            spring_rate=rate,
            **loads,
        )
        book.make(
            ride_change,
            f"weight.{axle}_ride_change",
            label=f"change of the {axle} ride height, nobody aboard",
            drop=f"weight.{axle}_drop",
        )
        book.make(
            restoring_rate,
            f"weight.{axle}_spring",
            label=f"{axle} spring rate that restores height and bounce",
            spring_rate=rate,
            **loads,
        )
