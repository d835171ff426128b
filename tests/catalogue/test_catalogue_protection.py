"""The built-in fuses and contactors behave as their kind does, and suit one another."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from swapwright.base.table import Line
from swapwright.catalogue.read import Catalogue, Part
from swapwright.physics.circuit.fuse_melting import melting_current

CATALOGUE = Catalogue()
FUSES = tuple(CATALOGUE.get("fuse", name) for name in CATALOGUE.names("fuse"))
CONTACTORS = tuple(CATALOGUE.get("contactor", name) for name in CATALOGUE.names("contactor"))

# Multiples of the rating that melt a typical full-range fuse in a time: fuse-melting-typical.
MULTIPLES = {3600.0: (1.3, 1.6), 60.0: (1.8, 2.3), 10.0: (2.5, 3.1), 0.1: (4.8, 6.0)}
# Multiples of the continuous current a sealed contactor carries for a time: contactor-typical.
OVERLOADS = {10.0: (2.4, 3.3), 60.0: (1.7, 2.3), 300.0: (1.25, 1.65)}

# A fuse, and the contactor it is meant to spare.
PAIRS = (
    ("fuse-200a-500vdc", "contactor-500vdc-350a"),
    ("fuse-250a-500vdc", "contactor-500vdc-350a"),
    ("fuse-300a-500vdc", "contactor-500vdc-500a"),
    ("fuse-350a-500vdc", "contactor-500vdc-500a"),
    ("fuse-250a-250vdc", "contactor-200vdc-400a"),
    ("fuse-250a-1000vdc", "contactor-900vdc-300a"),
    ("fuse-40a-500vdc", "contactor-500vdc-50a"),
    ("fuse-50a-250vdc", "contactor-200vdc-50a"),
)


def line(part: Part, key: str) -> Line:
    table = part.tables[key]
    assert isinstance(table, Line)
    return table


def number(part: Part, key: str) -> float:
    return part.values[key].si


every_fuse = pytest.mark.parametrize("fuse", FUSES, ids=[part.name for part in FUSES])
every_contactor = pytest.mark.parametrize(
    "contactor", CONTACTORS, ids=[part.name for part in CONTACTORS]
)


@every_fuse
@pytest.mark.arithmetic
def test_a_melting_curve_falls_from_an_hour_to_a_hundredth_of_a_second(fuse):
    curve = line(fuse, "melting")
    assert len(curve.x) >= 8
    assert (curve.y[0], curve.y[-1]) == (3600.0, 0.01)
    assert all(a > b for a, b in pairwise(curve.y))
    # Heat never leaves faster than it comes: more current brings no more I2t to melt it.
    brought = [x**2 * y for x, y in zip(curve.x, curve.y, strict=True)]
    assert all(a > b for a, b in pairwise(brought))
    for time, (low, high) in MULTIPLES.items():
        amps = melting_current(time=time, currents=curve.x, times=curve.y)
        assert low <= amps / number(fuse, "rating") <= high


@every_fuse
@pytest.mark.arithmetic
def test_the_i2t_of_a_fuse_goes_with_its_curve(fuse):
    curve = line(fuse, "melting")
    melted, cleared = number(fuse, "pre_arcing_i2t"), number(fuse, "clearing_i2t")
    assert 0.95 <= melted / (curve.x[-1] ** 2 * curve.y[-1]) <= 1.0
    assert 2.5 <= cleared / melted <= 4.0
    assert 0.06 <= number(fuse, "resistance") * number(fuse, "rating") <= 0.1
    assert curve.x[0] == number(fuse, "min_breaking") < number(fuse, "breaking")
    assert fuse.texts["characteristic"] == "full-range"


@pytest.mark.arithmetic
def test_of_two_fuses_of_one_voltage_the_bigger_takes_more_of_everything():
    for one, other in combinations(FUSES, 2):
        if number(one, "voltage") == number(other, "voltage"):
            small, big = sorted((one, other), key=lambda fuse: number(fuse, "rating"))
            for key in ("pre_arcing_i2t", "clearing_i2t"):
                assert number(small, key) < number(big, key)
            for little, more in zip(line(small, "melting").x, line(big, "melting").x, strict=True):
                assert little < more


@pytest.mark.arithmetic
def test_a_200_amp_fuse_stands_a_ten_second_launch_again_and_again():
    curve = line(CATALOGUE.get("fuse", "fuse-200a-500vdc"), "melting")
    assert 0.6 * melting_current(time=10.0, currents=curve.x, times=curve.y) > 256.0


@every_contactor
@pytest.mark.arithmetic
def test_an_overload_curve_falls_to_the_continuous_current(contactor):
    curve, carry = line(contactor, "overload"), number(contactor, "carry")
    assert len(curve.x) >= 6
    assert all(a > b for a, b in pairwise(curve.y))
    assert curve.y[-1] == carry
    for time, (low, high) in OVERLOADS.items():
        assert low <= curve.y[curve.x.index(time)] / carry <= high


@every_contactor
@pytest.mark.arithmetic
def test_a_contactor_breaks_no_more_in_reverse_and_holds_below_where_it_pulls_in(contactor):
    assert number(contactor, "break_reverse") <= number(contactor, "break_forward")
    assert number(contactor, "drop_out") < 0.6 * number(contactor, "pull_in") < 6.0
    assert number(contactor, "making") > number(contactor, "carry")
    drop = number(contactor, "resistance") * number(contactor, "carry")
    assert 0.04 <= drop <= 0.12
    assert "economiser" in contactor.flags


@pytest.mark.arithmetic
@pytest.mark.parametrize(("fuse_name", "contactor_name"), PAIRS)
def test_a_contactor_outlasts_the_fuse_meant_for_it(fuse_name, contactor_name):
    fuse = CATALOGUE.get("fuse", fuse_name)
    contactor = CATALOGUE.get("contactor", contactor_name)
    assert number(contactor, "weld_i2t") > number(fuse, "clearing_i2t")
