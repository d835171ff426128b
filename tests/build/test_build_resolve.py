from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from build_file_texts import FULL, HALF_EMPTY, with_line

from swapwright.base.errors import InputError, Missing, Problem
from swapwright.base.figure import Value
from swapwright.build.car import Car
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

CATALOGUE = Catalogue()


def car_of(text: str, catalogue: Catalogue = CATALOGUE) -> Car:
    return resolve(load_text(text, "car.toml"), catalogue)


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        car_of(text)
    return caught.value.problems


@pytest.mark.arithmetic
def test_each_value_says_whether_it_was_entered_came_from_a_part_or_is_a_default() -> None:
    car = car_of(FULL)
    limit = car.value("drive.inverter.dc_current_limit")
    assert (limit.si, limit.origin) == (250.0, "entered")
    assert limit.ref == "drive.inverter.dc_current_limit"
    capacitance = car.value("drive.inverter.link_capacitance")
    assert (capacitance.origin, capacitance.ref) == ("part", "inverter/inverter-400v-300a")
    grip = car.value("car.grip")
    assert grip == Value(0.80, "1", "default", "tyre-grip-dry-typical")
    assert "car.grip" in car.assumed
    assert "drive.inverter.dc_current_limit" not in car.assumed
    assert car.texts["drive.inverter.resembles"]


@pytest.mark.arithmetic
def test_every_default_is_listed_as_assumed_and_nothing_else_is() -> None:
    car = car_of(FULL)
    defaults = {path for path, value in car.values.items() if value.origin == "default"}
    listed = {path for path in car.assumed if path in car.values}
    assert listed == {path for path in defaults if not path.startswith("pack.cell.")}
    assert set(car.assumed) - listed == {
        "hv.material_group",
        "hv.cable[0].laid",
        "hv.branch[0].cable.laid",
        "drive.gearbox.shift",
        "lv.insulation",
    }


@pytest.mark.arithmetic
def test_what_the_owner_enters_is_no_longer_assumed() -> None:
    car = car_of(with_line(FULL, "tyres     =", "grip = 0.8\ntyres     ="))
    assert car.value("car.grip").origin == "entered"
    assert "car.grip" not in car.assumed


@pytest.mark.arithmetic
def test_a_modules_cell_stands_where_every_pack_has_its_cell() -> None:
    car = car_of(FULL)
    assert car.part_names["pack.cell"] == car.part_names["pack.module.cell"]
    assert car.number("pack.cell.capacity") == pytest.approx(60 * 3600.0)
    assert car.line("pack.cell.ocv") is car.line("pack.module.cell.ocv")
    assert car.map("pack.cell.r0").z_unit == "ohm"
    assert car.text("pack.cell.chemistry") == "nmc"


@pytest.mark.arithmetic
def test_a_pack_of_cells_needs_no_module() -> None:
    car = car_of('format = 1\n[pack]\ncell = "nmc-pouch-60ah"\nseries = 96\n')
    assert car.number("pack.cell.capacity") == pytest.approx(60 * 3600.0)
    assert car.number("pack.parallel") == 1.0
    assert "pack.parallel" in car.assumed
    assert "pack.module" not in car.part_names


@pytest.mark.arithmetic
def test_one_thing_of_a_nested_cell_can_be_changed_or_the_whole_cell() -> None:
    one = '[pack.module]\npart = "nmc-module-8s1p-60ah"\ncell = { capacity = "58 Ah" }\n'
    car = car_of(f"format = 1\n{one}")
    assert car.number("pack.cell.capacity") == pytest.approx(58 * 3600.0)
    assert car.value("pack.cell.capacity").ref == "pack.module.cell.capacity"
    assert car.value("pack.cell.max_voltage").origin == "part"
    other = '[pack.module]\npart = "nmc-module-8s1p-60ah"\ncell = "lfp-prismatic-105ah"\n'
    car = car_of(f"format = 1\n{other}")
    cell = CATALOGUE.get("cell", "lfp-prismatic-105ah")
    placed = {path for path in car.values if path.startswith("pack.cell.")}
    given = {f"pack.cell.{key}" for key in cell.values}
    assert given <= placed
    assert all(car.values[path].origin == "default" for path in placed - given)
    assert car.part_names["pack.cell"] == "lfp-prismatic-105ah"


@pytest.mark.arithmetic
def test_a_part_written_in_full_is_the_cars_own() -> None:
    car = car_of(FULL)
    assert car.part_names["hv.main_fuse"] == "hv.main_fuse"
    assert car.number("hv.main_fuse.rating") == 200.0
    assert car.text("hv.main_fuse.poles") == "one"
    assert [gear.si for gear in car.list("drive.gearbox.use")] == [2.0, 3.0]
    assert car.value("drive.gearbox.efficiency").origin == "default"


@pytest.mark.arithmetic
def test_a_half_empty_build_resolves_to_defaults_alone() -> None:
    car = car_of(HALF_EMPTY)
    assert car.text("car.name") == "not weighed yet"
    assert car.number("goals.occupants") == 2.0
    assert {value.origin for value in car.values.values()} == {"default"}
    with pytest.raises(Missing, match=r"car\.kerb_mass"):
        car.number("car.kerb_mass")


@pytest.mark.arithmetic
def test_defaults_of_things_the_car_does_not_have_are_not_filled() -> None:
    bare = car_of(HALF_EMPTY)
    for path in ("drive.second", "hv.precharge", "lv.load", "charging.charger", "pack.parallel"):
        assert not bare.has(path), path
    second = car_of('format = 1\n[drive.second]\nmotor = "pm-radial-75kw"\naxle = "front"\n')
    assert second.number("drive.second.final_drive") == 1.0
    assert car_of(FULL).number("hv.precharge.until") == 0.95


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("gearbox", "time"),
    [
        ("{ ratios = [3.6, 2.1], shift_time = '1.1 s' }", 1.1),
        ("{ ratios = [3.6, 2.1] }", 0.8),
        ("{ ratios = [3.6, 2.1], shift = 'at rest' }", None),
        ("{ ratios = [3.6, 2.1], use = [2] }", None),
        ("{ ratios = [9.0] }", None),
        ("'gearbox-4-speed-inline'", 0.8),
    ],
)
def test_a_change_of_gear_takes_time_only_where_it_is_made_on_the_move(
    gearbox: str, time: float | None
) -> None:
    car = car_of(f"format = 1\n[drive]\ngearbox = {gearbox}\n")
    given = car.get("drive.gearbox.shift_time")
    assert (None if given is None else given.si) == time
    on_the_move = {"drive.gearbox.shift": "on the move"} if time else {}
    shift = {path: car.texts[path] for path in car.texts if path.endswith(".shift")}
    assert shift in (on_the_move, {"drive.gearbox.shift": "at rest"})


@pytest.mark.arithmetic
def test_the_motors_an_inverter_drives_come_with_it_and_can_be_changed() -> None:
    car = car_of(FULL)
    assert car.words("drive.inverter.drives") == ("permanent-magnet", "induction")
    rewired = car_of(with_line(FULL, 'dc_current_limit = "250 A"', 'drives = ["induction"]'))
    assert rewired.words("drive.inverter.drives") == ("induction",)
    assert "drive.inverter.drives[1]" not in rewired.texts
    assert rewired.revision != car.revision
    wound = car_of('format = 1\n[drive]\nmotor = "dc-series-55kw"\n')
    assert wound.text("drive.motor.winding") == "series"


@pytest.mark.arithmetic
def test_each_row_of_a_list_has_its_own_defaults() -> None:
    car = car_of(FULL + '\n[[hv.cable]]\nbundled = 3\n\n[[hv.cable]]\nlength = "1 m"\n')
    assert [car.number(f"hv.cable[{row}].bundled") for row in range(3)] == [1.0, 3.0, 1.0]
    assert car.counts["hv.cable"] == 3
    assert "hv.cable[1].bundled" not in car.assumed


@pytest.mark.arithmetic
def test_a_charger_named_as_a_branchs_load_is_the_cars_charger() -> None:
    car = car_of(FULL)
    assert car.part_names["charging.charger"] == "charger-6k6-400v"
    assert car.number("charging.charger.max_voltage") > 400.0
    own = car_of(with_line(FULL, "[charging]\n", '[charging]\ncharger = "charger-11k-400v"\n'))
    assert own.part_names["charging.charger"] == "charger-11k-400v"


@pytest.mark.arithmetic
def test_lists_of_words_dates_and_acceptances_are_kept() -> None:
    car = car_of(FULL)
    assert car.words("network.bus[0].nodes") == ("inverter", "pack controller")
    assert car.day("shop.gloves_tested") == date(2026, 9, 1)
    (accepted,) = car.accepted
    assert (accepted.rule, accepted.by, accepted.until) == ("goals.climb", "R. Miller", None)
    for look in (car.words, car.day, car.list, car.line, car.map, car.text):
        with pytest.raises(Missing, match=r"hv\.nothing"):
            look("hv.nothing")


@pytest.mark.arithmetic
def test_a_car_has_whatever_stands_at_or_below_a_path() -> None:
    car = car_of(FULL)
    for path in ("hv", "hv.main_fuse", "mass[1]", "mass", "mass[1].x", "shop.meter", "accepted[0]"):
        assert car.has(path), path
    for path in ("mass[2]", "hv.element", "drive.second", "hv.main", ""):
        assert not car.has(path), path


@pytest.mark.arithmetic
def test_uncertain_inputs_are_counted_once() -> None:
    text = with_line(
        FULL,
        '"nmc-module-8s1p-60ah"',
        '{ part = "nmc-module-8s1p-60ah", cell = { entropic = "0.0..0.2 mV/K" } }',
    )
    before, car = car_of(FULL).uncertain(), car_of(text)
    assert "car.road_load.cd_a" in before
    assert set(car.uncertain()) == {*before, "pack.cell.entropic"}
    settled = car.with_values({"car.road_load.cd_a": 0.7})
    assert set(settled.uncertain()) == set(car.uncertain()) - {"car.road_load.cd_a"}
    assert settled != car


@pytest.mark.arithmetic
def test_a_default_not_known_well_is_uncertain_until_a_value_is_given() -> None:
    car = car_of(FULL)
    draw = car.value("auxiliaries.driving")
    assert draw.origin == "default"
    assert draw.low is not None and draw.high is not None
    assert draw.low < draw.si < draw.high
    given = car_of(FULL + '\n[auxiliaries]\ndriving = "250 W"\n')
    assert "auxiliaries.driving" in car.uncertain()
    assert "auxiliaries.driving" not in given.uncertain()


@pytest.mark.arithmetic
def test_every_unknown_part_is_named_with_its_line_and_the_nearest() -> None:
    text = with_line(FULL, '"pm-radial-75kw"', '"pm-radial-57kw"')
    text = with_line(text, '"inverter-400v-300a"', '"../inverter"')
    motor, inverter = problems_of(text)
    assert (motor.path, motor.given) == ("drive.motor", "pm-radial-57kw")
    assert motor.nearest == "pm-radial-75kw"
    assert "pm-radial-57kw" in text.splitlines()[(motor.line or 0) - 1]
    assert inverter.path == "drive.inverter"


@pytest.mark.arithmetic
def test_a_change_that_contradicts_the_rest_of_its_part_is_refused() -> None:
    text = with_line(FULL, 'dc_current_limit = "250 A"', 'min_voltage = "600 V"')
    (problem,) = problems_of(text)
    assert problem.path == "drive.inverter.min_voltage"
    assert "min_voltage" in text.splitlines()[(problem.line or 0) - 1]
    (problem,) = problems_of(with_line(FULL, "use = [2, 3]", "use = [2, 5]"))
    assert problem.path == "drive.gearbox.use"


@pytest.mark.arithmetic
def test_a_shops_faulty_part_file_is_reported_as_it_stands(tmp_path: Path) -> None:
    folder = tmp_path / "motor"
    folder.mkdir()
    (folder / "ours.toml").write_text('kind = "permanent-magnet"\npeak_pwer = "50 kW"\n')
    build = load_text('format = 1\n[drive]\nmotor = "ours"\n', "car.toml")
    with pytest.raises(InputError) as caught:
        resolve(build, Catalogue((tmp_path,)))
    assert any(problem.nearest == "peak_power" for problem in caught.value.problems)
    assert all("ours.toml" in problem.file for problem in caught.value.problems)


@pytest.mark.arithmetic
def test_a_resolved_car_cannot_be_changed() -> None:
    car = car_of(FULL)
    with pytest.raises(TypeError):
        car.values["car.kerb_mass"] = car.value("car.wheelbase")  # type: ignore[index]
