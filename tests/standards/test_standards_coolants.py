"""The coolant tables, held against CoolProp between their points and against handbook values."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from swapwright.standards.coolants import coolant_table

FLUIDS = {"ethylene glycol": "AEG", "propylene glycol": "APG"}
PRESSURE = 3e5
LETTERS = {"density": "D", "specific_heat": "C", "viscosity": "V", "conductivity": "L"}
CLOSE = {"density": 0.002, "specific_heat": 0.005, "viscosity": 0.06, "conductivity": 0.01}


def properties(kind: str, share: float, celsius: float):
    table = coolant_table(kind)
    assert table is not None
    return table.at(share, celsius + 273.15)


@pytest.mark.arithmetic
@pytest.mark.parametrize("kind", FLUIDS)
@pytest.mark.parametrize("share", [0.15, 0.25, 0.35, 0.45, 0.5, 0.55])
@pytest.mark.parametrize("celsius", [5.0, 17.0, 35.0, 52.0, 65.0, 93.0])
def test_between_its_points_a_table_is_what_coolprop_gives(kind, share, celsius):
    ours = properties(kind, share, celsius)
    assert ours is not None
    for name, letter in LETTERS.items():
        fluid = f"INCOMP::{FLUIDS[kind]}[{share}]"
        theirs = PropsSI(letter, "T", celsius + 273.15, "P", PRESSURE, fluid)
        assert ours[name] == pytest.approx(theirs, rel=CLOSE[name]), name


@pytest.mark.arithmetic
@pytest.mark.parametrize("celsius", [5.0, 35.0, 65.0])
def test_without_antifreeze_it_is_water(celsius: float):
    ours = properties("water", 0.0, celsius)
    assert ours is not None
    for name, letter in LETTERS.items():
        theirs = PropsSI(letter, "T", celsius + 273.15, "P", PRESSURE, "Water")
        assert ours[name] == pytest.approx(theirs, rel=0.02), name


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("celsius", "name", "handbook", "close"),
    [
        (20.0, "density", 1079.0, 0.01),
        (60.0, "density", 1055.0, 0.01),
        (27.0, "specific_heat", 3410.0, 0.05),
        (60.0, "specific_heat", 3500.0, 0.05),
        (26.7, "viscosity", 2.8e-3, 0.15),
        (48.9, "viscosity", 1.5e-3, 0.25),
        (27.0, "conductivity", 0.39, 0.05),
    ],
)
def test_half_and_half_is_what_handbooks_give(celsius, name, handbook, close):
    ours = properties("ethylene glycol", 0.5, celsius)
    assert ours is not None
    assert ours[name] == pytest.approx(handbook, rel=close)


@pytest.mark.arithmetic
def test_half_and_half_ethylene_glycol_freezes_at_minus_37():
    table = coolant_table("ethylene glycol")
    assert table is not None
    assert table.freezes_at(0.5) == pytest.approx(273.15 - 37.0, abs=0.5)
    assert table.freezes_at(0.0) == pytest.approx(273.15)


@pytest.mark.property
@pytest.mark.parametrize("kind", FLUIDS)
def test_more_antifreeze_freezes_later_and_flows_worse(kind: str):
    table = coolant_table(kind)
    assert table is not None
    shares = [step / 20.0 for step in range(13)]
    freezing = [table.freezes_at(share) for share in shares]
    assert freezing == sorted(freezing, reverse=True)
    thick = [properties(kind, share, 40.0)["viscosity"] for share in shares]
    assert thick == sorted(thick)


@pytest.mark.arithmetic
def test_outside_the_table_and_where_it_is_frozen_nothing_is_given():
    assert properties("ethylene glycol", 0.2, -25.0) is None
    assert properties("ethylene glycol", 0.8, 20.0) is None
    assert properties("ethylene glycol", 0.5, 130.0) is None
    assert coolant_table("oil") is None
    table = coolant_table("ethylene glycol")
    assert table is not None
    assert table.freezes_at(0.9) is None
