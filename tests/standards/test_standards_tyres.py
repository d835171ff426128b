from __future__ import annotations

from itertools import pairwise

import pytest

from swapwright.standards.tyres import LOAD_INDEX, SPEED_SYMBOL


# ETRTO Standards Manual / ISO 4000-1, table of load indices.
@pytest.mark.published
@pytest.mark.parametrize(
    ("index", "load"),
    [(70, 335), (75, 387), (82, 475), (91, 615), (95, 690), (104, 900), (112, 1120), (120, 1400)],
)
def test_a_load_index_means_its_printed_load(index, load):
    assert LOAD_INDEX[index].si == load


@pytest.mark.arithmetic
@pytest.mark.parametrize(("index", "load"), [(103, 875), (105, 925)])
def test_the_two_loads_that_copies_misprint_follow_the_steps_of_25(index, load):
    assert LOAD_INDEX[index].si == load
    assert LOAD_INDEX[index + 1].si - LOAD_INDEX[index].si == 25
    assert LOAD_INDEX[index].si - LOAD_INDEX[index - 1].si == 25


@pytest.mark.arithmetic
@pytest.mark.parametrize("index", LOAD_INDEX)
def test_a_load_index_is_a_round_number_of_its_geometric_series(index):
    # 80 indices are a factor of ten, from 45 kg at index 0; printed to 5 kg or to half of 25 kg.
    load = LOAD_INDEX[index].si
    assert load == pytest.approx(45.0 * 10.0 ** (index / 80), rel=0.018)
    assert load % 5 == 0 or (load + 0.5) % 12.5 == 0


@pytest.mark.guard
def test_a_higher_load_index_always_carries_more():
    assert list(LOAD_INDEX) == list(range(70, 121))
    steps = [b.si - a.si for a, b in pairwise(LOAD_INDEX.values())]
    assert min(steps) > 0
    assert max(steps) <= 40


# ETRTO Standards Manual / ISO 4000-1, table of speed symbols.
@pytest.mark.published
@pytest.mark.parametrize(
    ("symbol", "speed_kmh"),
    [("L", 120), ("Q", 160), ("S", 180), ("T", 190), ("H", 210), ("V", 240), ("Y", 300)],
)
def test_a_speed_symbol_means_its_printed_speed(symbol, speed_kmh):
    assert SPEED_SYMBOL[symbol].si * 3.6 == pytest.approx(speed_kmh)


@pytest.mark.arithmetic
def test_from_j_to_u_each_speed_symbol_is_ten_more_and_from_h_to_y_thirty():
    speeds = {symbol: round(value.si * 3.6, 9) for symbol, value in SPEED_SYMBOL.items()}
    assert [speeds[symbol] for symbol in "JKLMNPQRSTU"] == list(range(100, 201, 10))
    assert [speeds[symbol] for symbol in "HVWY"] == list(range(210, 301, 30))
    assert len(speeds) == 15


@pytest.mark.guard
def test_h_stands_between_u_and_v():
    speeds = [value.si for value in SPEED_SYMBOL.values()]
    assert speeds == sorted(speeds)
    assert SPEED_SYMBOL["U"].si < SPEED_SYMBOL["H"].si < SPEED_SYMBOL["V"].si
