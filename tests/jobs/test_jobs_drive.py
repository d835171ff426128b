from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from swapwright.base.errors import InputError
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.drive import Order, drive
from swapwright.jobs.drive_document import text_cell
from swapwright.jobs.opening import open_car
from swapwright.jobs.progress import Cancelled
from swapwright.jobs.trace import Trace, trace_of

pytestmark = pytest.mark.arithmetic

RIDGEWAY = Path(__file__).resolve().parents[2] / "examples" / "ridgeway.toml"


@pytest.fixture(scope="module")
def ridgeway():
    return open_car(RIDGEWAY, Catalogue())


def trace(*speeds: float, grades: tuple[float, ...] = ()) -> Trace:
    return Trace("own", "own", np.array(speeds), np.array(grades), 1.0)


def test_progress_counts_the_uncertain_inputs(ridgeway):
    seen = []
    drive(ridgeway, Order(trace_of("nycc")), lambda done, total: seen.append((done, total)))
    total = len(ridgeway.car.uncertain())
    assert seen == [(done, total) for done in range(total + 1)]


def test_a_drive_can_be_called_off(ridgeway):
    def called_off(done: int, total: int) -> None:
        raise Cancelled("enough")

    with pytest.raises(Cancelled):
        drive(ridgeway, Order(trace_of("nycc")), called_off)


def test_a_band_is_the_root_of_the_squares_of_what_each_input_does(ridgeway):
    done = drive(ridgeway, Order(trace_of("udds")))
    wall = done.wall_per_distance
    up = np.sqrt(sum(max(*pair, 0.0) ** 2 for pair in done.swings.values()))
    assert wall.high - wall.value == pytest.approx(up)
    assert set(done.swings) <= set(ridgeway.car.uncertain())


def test_a_cycle_that_ends_at_another_speed_is_not_repeated(ridgeway):
    with pytest.raises(InputError, match="must end at the speed it starts at"):
        drive(ridgeway, Order(trace(0.0, 5.0, 10.0), until_empty=True))


def test_a_car_that_stands_is_not_driven(ridgeway):
    with pytest.raises(InputError, match="does not move"):
        drive(ridgeway, Order(trace(0.0, 0.0, 0.0)))


def test_rolling_downhill_takes_nothing_from_the_wall(ridgeway):
    speeds = (20.0,) * 120
    done = drive(ridgeway, Order(trace(*speeds, grades=(-0.08,) * 119), soc=0.5))
    assert done.battery_energy < 0.0
    assert done.wall_energy == 0.0


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@name"])
def test_no_text_cell_is_taken_for_a_formula(text):
    assert text_cell(text) == f"'{text}"


def test_an_ordinary_text_cell_stays_as_it_is():
    assert text_cell("motor torque") == "motor torque"
