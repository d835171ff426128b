"""The built-in cells obey what every lithium cell obeys, and what their own sheets say."""

from __future__ import annotations

from itertools import pairwise
from math import exp, pi

import pytest

from swapwright.base.quantity import parse
from swapwright.base.table import Line, Map
from swapwright.catalogue.read import Catalogue, Part

CATALOGUE = Catalogue()
CELLS = CATALOGUE.names("cell")
GRAPHITE = ("nmc", "nca", "lfp", "lmo")
RESISTANCES = ("r0", "r1", "r2")

# Wh/kg of energy cells to power cells.
SPECIFIC_ENERGY = {
    "nmc": (160.0, 270.0),
    "nca": (230.0, 270.0),
    "lfp": (100.0, 180.0),
    "lmo": (130.0, 170.0),
    "lto": (60.0, 95.0),
}
ROOM = 298.15
HALF = 0.5

# Rest voltage at states of charge 0.2, 0.5, 0.8 and 1.0: chen-2020-parameter-set.
CHEN_2020 = {0.2: 3.485, 0.5: 3.751, 0.8: 4.042, 1.0: 4.200}
# prada-2013-parameter-set; its full and empty ends depend on its own voltage limits.
PRADA_2013 = {0.1: 2.978, 0.2: 3.169, 0.5: 3.266, 0.8: 3.310}


@pytest.fixture(params=CELLS)
def cell(request: pytest.FixtureRequest) -> Part:
    return CATALOGUE.get("cell", request.param)


def rest_voltage(cell: Part) -> Line:
    table = cell.tables["ocv"]
    assert isinstance(table, Line)
    return table


def resistance(cell: Part, key: str) -> Map:
    table = cell.tables[key]
    assert isinstance(table, Map)
    return table


def number(cell: Part, key: str) -> float:
    return cell.values[key].si


def mean_rest_voltage(cell: Part) -> float:
    line = rest_voltage(cell)
    points = list(zip(line.x, line.y, strict=True))
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(points))


@pytest.mark.arithmetic
def test_the_rest_voltage_rises_with_charge_over_the_whole_window(cell):
    line = rest_voltage(cell)
    assert (line.x[0], line.x[-1]) == (0.0, 1.0)
    assert len(line.x) >= 15
    assert all(low < high for low, high in pairwise(line.y))
    assert number(cell, "min_voltage") <= line.y[0]
    assert line.y[-1] <= number(cell, "max_voltage")


@pytest.mark.arithmetic
def test_the_energy_is_the_capacity_times_the_mean_rest_voltage(cell):
    expected = number(cell, "capacity") * mean_rest_voltage(cell)
    assert number(cell, "energy") == pytest.approx(expected, rel=0.03)
    assert number(cell, "nominal_voltage") == pytest.approx(mean_rest_voltage(cell), rel=0.03)


@pytest.mark.arithmetic
@pytest.mark.parametrize("key", RESISTANCES)
def test_resistance_rises_towards_the_cold_at_every_charge(cell, key):
    table = resistance(cell, key)
    assert table.rows[0] <= 253.15 + 0.01
    assert table.rows[-1] >= 323.15 - 0.01
    assert len(table.rows) >= 6
    assert len(table.columns) >= 6
    for warmer, colder in zip(table.z[1:], table.z[:-1], strict=True):
        assert all(c > w > 0.0 for c, w in zip(colder, warmer, strict=True))


@pytest.mark.arithmetic
def test_resistance_rises_towards_empty(cell):
    total = {
        charge: sum(resistance(cell, key).at(ROOM, charge) for key in RESISTANCES)
        for charge in (0.05, 0.2, HALF)
    }
    assert total[0.05] > total[0.2] > total[HALF]


@pytest.mark.arithmetic
def test_an_iron_phosphate_cell_is_stiffest_in_the_middle():
    for name in CELLS:
        cell = CATALOGUE.get("cell", name)
        if cell.texts["chemistry"] == "lfp":
            table = resistance(cell, "r2")
            assert table.at(ROOM, HALF) < table.at(ROOM, 0.0)
            assert table.at(ROOM, HALF) < table.at(ROOM, 1.0)


@pytest.mark.arithmetic
def test_the_warming_of_the_fast_pair_is_that_of_a_charge_transfer(cell):
    # Between 0 and 25 degC, R = R25 exp(Ea/R (1/T - 1/298.15)) with Ea 20 to 36 kJ/mol.
    table = resistance(cell, "r1")
    ratio = table.at(273.15, HALF) / table.at(ROOM, HALF)
    span = (1.0 / 273.15 - 1.0 / ROOM) / 8.314
    assert exp(19e3 * span) < ratio < exp(37e3 * span)


@pytest.mark.arithmetic
def test_the_ten_second_resistance_is_that_of_the_pairs(cell):
    r0, r1, r2 = (resistance(cell, key).at(ROOM, HALF) for key in RESISTANCES)
    fast, slow = r1 * number(cell, "c1"), r2 * number(cell, "c2")
    expected = r0 + r1 * (1.0 - exp(-10.0 / fast)) + r2 * (1.0 - exp(-10.0 / slow))
    assert number(cell, "resistance_ohmic") == pytest.approx(r0, rel=0.005)
    assert number(cell, "resistance_10s") == pytest.approx(expected, rel=0.03)
    assert 3.0 <= fast <= 21.0
    assert 60.0 <= slow <= 600.0


@pytest.mark.arithmetic
def test_voltages_and_currents_stand_in_order(cell):
    assert number(cell, "min_voltage") < number(cell, "nominal_voltage")
    assert number(cell, "nominal_voltage") < number(cell, "max_voltage")
    for way in ("discharge", "charge"):
        assert number(cell, f"{way}_continuous") <= number(cell, f"{way}_peak")
    assert number(cell, "charge_peak") <= number(cell, "discharge_peak")


@pytest.mark.arithmetic
def test_a_ten_second_peak_from_half_charge_stays_inside_the_voltages(cell):
    rest = rest_voltage(cell).at(HALF)
    drop = number(cell, "resistance_10s")
    assert rest - number(cell, "discharge_peak") * drop > number(cell, "min_voltage")
    assert rest + number(cell, "charge_peak") * drop < number(cell, "max_voltage")


@pytest.mark.arithmetic
def test_a_graphite_cell_is_never_charged_below_freezing(cell):
    derate = cell.tables["charge_derate"]
    assert isinstance(derate, Line)
    if cell.texts["chemistry"] in GRAPHITE:
        assert derate.at(273.15) <= 0.05
        assert derate.at(272.0) == 0.0
        assert derate.at(278.15) < 0.35
    else:
        assert derate.at(263.15) > 0.0
    assert derate.at(ROOM) == 1.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("key", ["discharge_derate", "charge_derate"])
def test_currents_are_cut_in_the_cold_and_in_the_heat(cell, key):
    derate = cell.tables[key]
    assert isinstance(derate, Line)
    assert max(derate.y) == 1.0
    assert derate.y[0] < 1.0
    assert derate.y[-1] == 0.0
    peak = derate.y.index(1.0)
    assert all(low <= high for low, high in pairwise(derate.y[: peak + 1]))
    last = len(derate.y) - 1 - derate.y[::-1].index(1.0)
    assert all(high >= low for high, low in pairwise(derate.y[last:]))
    assert parse("35 degC", "temperature").si < derate.x[last] < derate.x[-1]


@pytest.mark.arithmetic
def test_mass_and_size_are_those_of_a_real_cell(cell):
    mass = number(cell, "mass")
    low, high = SPECIFIC_ENERGY[cell.texts["chemistry"]]
    assert low <= number(cell, "energy") / 3600.0 / mass <= high
    if cell.texts["format"] == "cylindrical":
        volume = pi / 4.0 * number(cell, "diameter") ** 2 * number(cell, "height")
    else:
        volume = number(cell, "length") * number(cell, "width") * number(cell, "height")
    assert 1900.0 <= mass / volume <= 2900.0
    assert 800.0 <= number(cell, "specific_heat") <= 1100.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", [name for name in CELLS if name.startswith("nmc")])
def test_a_nickel_manganese_cell_rests_within_80_mv_of_the_published_set(name):
    """Chen 2020 parameter set, equilibrium voltage; a band for the chemistry, printed to 1 mV."""
    line = rest_voltage(CATALOGUE.get("cell", name))
    for charge, volts in CHEN_2020.items():
        assert line.at(charge) == pytest.approx(volts, abs=0.080)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", [name for name in CELLS if name.startswith("lfp")])
def test_an_iron_phosphate_plateau_rests_within_70_mv_of_the_published_set(name):
    """Prada 2013 parameter set, equilibrium voltage from 0.2 to 0.8, printed to 1 mV."""
    line = rest_voltage(CATALOGUE.get("cell", name))
    for charge in (0.2, 0.5, 0.8):
        assert line.at(charge) == pytest.approx(PRADA_2013[charge], abs=0.070)
    assert line.at(0.8) - line.at(0.2) < 0.18


@pytest.mark.arithmetic
def test_the_iron_phosphate_power_cell_has_the_published_foot_too():
    """Prada 2013 parameter set, equilibrium voltage at 0.1 to 0.8, printed to 1 mV."""
    line = rest_voltage(CATALOGUE.get("cell", "lfp-cylindrical-2ah5"))
    for charge, volts in PRADA_2013.items():
        assert line.at(charge) == pytest.approx(volts, abs=0.030)


@pytest.mark.arithmetic
def test_both_graphite_steps_show_in_an_iron_phosphate_cell():
    # Two places between 0.2 and 0.9 where the curve is steeper than on either side.
    line = rest_voltage(CATALOGUE.get("cell", "lfp-prismatic-105ah"))
    points = [(x, y) for x, y in zip(line.x, line.y, strict=True) if 0.2 <= x <= 0.9]
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(points)]
    steps = [b for a, b, c in zip(slopes, slopes[1:], slopes[2:], strict=False) if a < b > c]
    assert len(steps) >= 2
