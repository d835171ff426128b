"""A batch of candidates against the same cars run one by one."""

from __future__ import annotations

import numpy as np
import plain_car
import pytest

from swapwright.simulate.batch import alike, run_batch
from swapwright.simulate.run import NO_GRADE, drive_trace, fresh, run_recorded

pytestmark = pytest.mark.arithmetic
COUNT = 12


def varied(car):
    """Twelve cars around one, each number drawn apart."""
    rng = np.random.default_rng(11)
    cars = alike(car, COUNT)
    scale = {name: rng.uniform(0.8, 1.25, COUNT) for name in ("mass", "c", "ratio_scale")}
    return cars._replace(
        mass=cars.mass * scale["mass"],
        rolling_mass=cars.rolling_mass * scale["mass"],
        a=cars.a * scale["mass"],
        c=cars.c * scale["c"],
        ratio_scale=scale["ratio_scale"],
        series=np.round(rng.uniform(80, 110, COUNT)),
        parallel=np.round(rng.uniform(1, 3, COUNT)),
        current_limit=rng.uniform(50, 200, COUNT),
    )


def one_by_one(car, cars, k):
    """Candidate k as a car of its own."""
    values = {name: float(column[k]) for name, column in cars._asdict().items()}
    return car._replace(
        body=car.body._replace(**{n: v for n, v in values.items() if n in car.body._fields}),
        drive=car.drive._replace(ratio_scale=values["ratio_scale"]),
        pack=car.pack._replace(**{n: v for n, v in values.items() if n in car.pack._fields}),
    )


@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.parametrize(
    "parts",
    [{}, {"gears": 3}, {"units": 2}],
    ids=["one gear", "three gears", "two units"],
)
def test_a_batch_agrees_with_single_runs(parts, workers):
    car, speeds = plain_car.car(drive=plain_car.drive(**parts)), plain_car.trace("us06")
    cars = varied(car)
    out = run_batch(car, fresh(car, soc=0.9), speeds, cars, workers=workers)
    for k in range(COUNT):
        single = one_by_one(car, cars, k)
        state, book = drive_trace(single, fresh(single, soc=0.9), speeds)
        expected = {
            "battery_energy": book.terminal_out - book.terminal_in,
            "wheel_energy": book.wheel_positive,
            "distance": book.distance,
            "shortfall": book.shortfall,
            "unserved": book.unserved,
            "min_volts": book.min_volts,
            "max_current": book.max_current,
            "max_charge_current": book.max_charge_current,
            "soc": 1.0 - state.charge / single.pack.capacity,
            "cell_temperature": state.cell_temperature,
        }
        found = {name: column[k] for name, column in out._asdict().items()}
        assert found == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert out.shortfall.max() > 0.0


def test_a_batch_of_no_cars_gives_nothing():
    car = plain_car.car()
    out = run_batch(car, fresh(car, soc=0.9), plain_car.trace("nycc"), alike(car, 0))
    assert all(len(column) == 0 for column in out)


def test_arrays_too_short_for_the_trace_are_refused():
    car, speeds = plain_car.car(), plain_car.trace("nycc")
    before = fresh(car, soc=0.9)
    with pytest.raises(ValueError, match="2 grades for"):
        drive_trace(car, before, speeds, grades=np.zeros(2))
    with pytest.raises(ValueError, match="a record of"):
        run_recorded(car, before, speeds, NO_GRADE, 1.0, np.zeros((3, 13)))
    with pytest.raises(ValueError, match="every candidate"):
        run_batch(car, before, speeds, alike(car, 3)._replace(mass=np.zeros(2)))
