from __future__ import annotations

import json

import pytest
from command_line import complaint, run

pytestmark = pytest.mark.arithmetic

OWN_MOTOR = """\
part = "pm-radial-75kw"
peak_power = "80 kW"
"""


def names(*arguments: str) -> list[str]:
    return [part["name"] for part in json.loads(run("parts", *arguments, "--json").stdout)]


def test_all_kinds_are_listed():
    page = run("parts").stdout
    for kind in ("cell", "module", "motor", "inverter", "gearbox", "charger", "dcdc"):
        assert f"\n{kind}" in f"\n{page}"
    assert "pm-radial-75kw" in page


def test_a_list_can_be_narrowed_by_a_value():
    strong = names("motor", "--where", "peak_power >= 80 kW")
    weak = names("motor", "--where", "peak_power < 80 kW")
    assert "pm-interior-120kw" in strong
    assert "pm-radial-75kw" in weak
    assert sorted(strong + weak) == sorted(names("motor"))


def test_tests_add_up():
    both = names("motor", "--where", "peak_power >= 80 kW", "--where", "kind = induction")
    assert both == ["induction-120kw"]


@pytest.mark.parametrize("kind", ["cell", "module"])
def test_a_chemistry_is_found_in_cells_and_in_modules(kind):
    found = names(kind, "--chemistry", "lfp")
    assert found
    assert all(name.startswith("lfp") for name in found)


def test_one_part_is_shown_with_its_tables():
    page = run("parts", "motor", "pm-radial-75kw").stdout
    assert "75.0 kW" in page
    assert "envelope: peak torque against speed" in page


def test_a_cell_is_shown_with_its_maps():
    document = json.loads(run("parts", "cell", "nmc-pouch-60ah", "--json").stdout)
    assert document["values"]["capacity"] == {"value": 216000.0, "unit": "C"}
    assert {"ocv", "r0"} <= set(document["tables"])
    page = run("parts", "cell", "nmc-pouch-60ah").stdout
    assert "r0: ohmic resistance by temperature and state of charge" in page
    assert "25.0 \u00b0C" in page


def test_a_shop_s_own_part_stands_beside_the_others(tmp_path, monkeypatch):
    folder = tmp_path / "motor"
    folder.mkdir()
    (folder / "our-motor.toml").write_text(OWN_MOTOR, encoding="utf-8")
    assert "our-motor" in names("motor", "--parts", str(tmp_path))
    monkeypatch.setenv("SWAPWRIGHT_PARTS", str(tmp_path))
    assert "our-motor" in names("motor")


def test_an_inverter_is_found_by_the_motor_it_drives():
    found = names("inverter", "--where", "drives = dc")
    assert found
    assert not {*found} & {*names("inverter", "--where", "drives = induction")}


def test_a_list_shows_what_a_pack_is_chosen_by():
    page = run("parts", "module").stdout
    row = next(line for line in page.splitlines() if line.startswith("nmc-module-8s1p-60ah"))
    for told in ("29.6 V", "1.78 kWh", "300 A"):
        assert told in row
    assert "240 V   430 V" in run("parts", "inverter").stdout


def test_an_american_sees_a_motor_s_horsepower_first():
    page = run("parts", "motor", "--units", "us").stdout
    assert "101 hp (75.0 kW)" in page
    assert max(map(len, page.splitlines())) <= 100


def test_a_list_with_nothing_in_it_says_so():
    assert "no motor passes" in run("parts", "motor", "--where", "peak_power > 900 kW").stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("motr",), "did you mean: motor"),
        (("motor", "pm-radial-75k"), "did you mean: pm-radial-75kw"),
        (("motor", "--where", "peak_powr > 1 kW"), "did you mean: peak_power"),
        (("motor", "--where", "peak_power > 1 kg"), "peak_power"),
        (("motor", "--where", "strong"), "not a test of a part"),
        (("motor", "--chemistry", "lfp"), "has no chemistry"),
        (("cell", "--chemistry", "lpf"), "did you mean: lfp"),
    ],
)
def test_a_wrong_question_is_told_in_one_line(arguments, words):
    assert words in complaint(run("parts", *arguments))
