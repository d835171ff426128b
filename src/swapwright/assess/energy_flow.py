"""Where the energy of the city range goes, from the cells to the road and back, per metre."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.energy import energy_ledger
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import design
from swapwright.base.errors import Missing
from swapwright.build.car import Car
from swapwright.standards.ratings import STEP_BUDGET

CYCLE = "udds"


@dataclass(frozen=True)
class EnergyFlow:
    """Energies J per metre of a run, in three balances that share what passes between them.

    The pack: ``stored``, out of what the cells held, and ``pack_in`` are ``pack_out`` and
    ``pack_heat``. The drive: ``pack_out`` and ``recovered``, what braking gives back to the motors,
    are ``auxiliaries``, the heat of ``inverter``, ``motor`` and ``gears``, ``driving`` at the
    wheels and ``pack_in``. The road: ``driving`` is ``tyres``, ``air``, ``climb``, ``friction`` in
    the brakes, ``speed`` the car has gained, and ``recovered``. At a gear change a motor that is
    sped up counts as driving; what one gives that is slowed down counts as recovered, and is heat
    in the gears.
    """

    stored: float
    pack_heat: float
    pack_out: float
    pack_in: float
    auxiliaries: float
    inverter: float
    motor: float
    gears: float
    driving: float
    recovered: float
    tyres: float
    air: float
    climb: float
    friction: float
    speed: float


@lru_cache(maxsize=8)
def city_flow(car: Car) -> EnergyFlow:
    """Return the flow of the run the city range is read from; raise Missing without that run."""
    book = FigureBook(car, keep=False)
    design(book)
    kit = setup(book)
    run = runs.until_empty(
        kit, CYCLE, soc=book.number("pack.window_top"), most_steps=int(STEP_BUDGET.si)
    )
    distance, ledger = run.ledger.distance, run.ledger
    if distance <= 0.0:
        raise Missing(reason="the car does not move")
    left = energy_ledger(kit, run.before, run.after, ledger)
    return EnergyFlow(
        stored=(left["drawn from the cells"] + left["not delivered"]) / distance,
        pack_heat=-(left["cell resistance"] + left["cell relaxation"]) / distance,
        pack_out=(ledger.terminal_out + ledger.unserved) / distance,
        pack_in=ledger.terminal_in / distance,
        auxiliaries=ledger.auxiliaries / distance,
        inverter=ledger.inverter / distance,
        motor=ledger.motor / distance,
        gears=(ledger.driveline + ledger.spin_down) / distance,
        driving=(ledger.wheel_positive + ledger.spin_up) / distance,
        recovered=(ledger.wheel_negative - ledger.friction + ledger.spin_down) / distance,
        tyres=ledger.tyres / distance,
        air=ledger.aero / distance,
        climb=ledger.climb / distance,
        friction=ledger.friction / distance,
        speed=-left["speed"] / distance,
    )
