from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.starter import starter
from swapwright.catalogue.read import Catalogue

CATALOGUE = Catalogue()
KNOWN = {
    "car.name": 'the "blue" one',
    "car.kerb_mass": "1180 kg",
    "car.road_load.cd_a": "0.72..0.80 m^2",
    "drive.motor": "pm-radial-75kw",
    "pack.modules_per_string": "12",
    "conditions.altitude": "300 m",
}


@pytest.mark.arithmetic
def test_a_starter_with_nothing_known_loads_and_resolves() -> None:
    car = resolve(load_text(starter({}), "new.toml"), CATALOGUE)
    assert {value.origin for value in car.values.values()} == {"default"}


@pytest.mark.arithmetic
def test_what_is_known_is_filled_in_and_not_offered_again() -> None:
    text = starter(KNOWN)
    car = resolve(load_text(text, "new.toml"), CATALOGUE)
    assert car.text("car.name") == 'the "blue" one'
    assert car.number("pack.modules_per_string") == 12.0
    assert car.number("conditions.altitude") == 300.0
    assert car.part_names["drive.motor"] == "pm-radial-75kw"
    assert "# motor =" not in text
    assert "# inverter =" in text


@pytest.mark.arithmetic
@pytest.mark.parametrize("known", [{}, KNOWN])
def test_every_line_offered_loads_and_resolves_once_its_hash_is_taken_off(
    known: dict[str, str],
) -> None:
    text = re.sub(r"^# (?=[a-z_]+ = |\[\[)", "", starter(known), flags=re.MULTILINE)
    car = resolve(load_text(text, "new.toml"), CATALOGUE)
    for path in ("car.limits.gross", "pack.cell.capacity", "hv.main_fuse.rating", "mass[0].x"):
        assert car.number(path) > 0.0
    assert car.text("shop.meter.category") == "CAT III"


@pytest.mark.arithmetic
def test_an_unknown_path_is_refused_with_the_nearest() -> None:
    with pytest.raises(InputError, match="did you mean: kerb_mass"):
        starter({"car.kerb_mas": "1 kg"})


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(name=st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=20))
def test_any_name_stands_in_the_file_as_it_was_typed(name: str) -> None:
    build = load_text(starter({"car.name": name, "goals.occupants": "3"}), "new.toml")
    assert build.entries["car.name"] == name
