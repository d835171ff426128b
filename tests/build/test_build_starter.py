from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.solve import assess
from swapwright.base.errors import InputError
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.starter import starter
from swapwright.catalogue.read import Catalogue

CATALOGUE = Catalogue()
OFFERED = re.compile(r"# (?=[a-z_]+ = |\[\[)")
NEW_LISTS = (
    *("pack.boxes", "pack.tested", "lv.load", "cooling.loop", "network.bus", "network.message"),
    *("network.line", "cost.part", "cost.sold", "mass"),
)
KNOWN = {
    "car.name": 'the "blue" one',
    "car.kerb_mass": "1180 kg",
    "car.road_load.cd_a": "0.72..0.80 m^2",
    "drive.motor": "pm-radial-75kw",
    "pack.modules_per_string": "12",
    "conditions.altitude": "300 m",
}
WITH_ROWS = {
    "lv.load[0].name": "wipers",
    "lv.load[0].current": "6 A",
    "cooling.loop[0].name": "charger",
    "pack.modules_per_string": "8",
    "pack.strings": "2",
    "mass[0].add": "motor",
    "mass[0].mass": "60 kg",
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
    for path in NEW_LISTS:
        assert car.counts[path] == 1, path
    for path in ("brakes.front_rotor", "lv.load[0].current", "cost.work", "network.pedal.tracks"):
        assert car.number(path) > 0.0
    assess(car)


def offered(text: str) -> Iterator[tuple[str, str]]:
    """Yield each thing a starter offers, as its section and lines: an entry, or a list's row."""
    header, row = "", []
    for line in [*text.splitlines(), ""]:
        if line.startswith("["):
            header = line
        if row and (line in ("", "#") or line.startswith("# [[")):
            yield header, "\n".join(row)
            row = []
        if OFFERED.match(line):
            if row or line.startswith("# [["):
                row.append(line[2:])
            else:
                yield header, line[2:]


@pytest.mark.arithmetic
def test_every_single_thing_offered_can_be_taken_by_itself() -> None:
    text = starter({})
    things = list(offered(text))
    assert len(things) > 80
    assert (
        "\n".join(lines for _, lines in things).count("\n")
        == sum(OFFERED.match(line) is not None for line in text.splitlines()) - 1
    )
    for header, lines in things:
        under = "" if lines.startswith("[[") else header
        build = load_text(f"format = 1\n{under}\n{lines}\n", "new.toml")
        assert {*build.entries, *build.parts} > {"format"}, lines
        resolve(build, CATALOGUE)


@pytest.mark.arithmetic
def test_what_claims_a_protection_is_offered_as_not_there() -> None:
    flags = re.findall(r"(\w+) = (true|false)", starter({}))
    assert len(flags) > 9
    assert {said for _, said in flags} == {"false"}


@pytest.mark.arithmetic
def test_a_file_to_start_from_names_every_system_and_fits_a_screen() -> None:
    lines = starter({}).splitlines()
    for section in ("charging", "lv", "cooling", "network", "brakes", "cost"):
        assert any(line.startswith(f"[{section}]  # ") for line in lines)
    assert max(map(len, lines)) <= 100


@pytest.mark.arithmetic
def test_rows_that_are_known_stand_beside_the_rows_on_offer() -> None:
    text = re.sub(OFFERED.pattern, "", starter(WITH_ROWS), flags=re.MULTILINE)
    car = resolve(load_text(text, "new.toml"), CATALOGUE)
    assert car.counts["lv.load"] == car.counts["cooling.loop"] == car.counts["mass"] == 2
    assert car.number("pack.boxes[0].modules") == 16.0


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
