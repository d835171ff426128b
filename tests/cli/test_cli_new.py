from __future__ import annotations

import pytest
from command_line import run

from swapwright.build.load import load

pytestmark = pytest.mark.arithmetic


def test_a_new_file_loads_and_can_be_assessed(tmp_path):
    file = tmp_path / "car.toml"
    assert run("new", str(file)).exit_code == 0
    assert load(file).entries
    assert run("check", str(file)).exit_code == 1


def test_what_is_known_stands_in_the_file(tmp_path):
    file = tmp_path / "car.toml"
    result = run(
        "new", str(file), "--set", "car.kerb_mass=1180 kg", "--set", "drive.motor=pm-radial-75kw"
    )
    assert result.exit_code == 0
    build = load(file)
    assert build.entries["car.kerb_mass"].si == 1180.0
    assert build.parts["drive.motor"].name == "pm-radial-75kw"


def test_a_file_that_is_there_is_never_written_over(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text("mine", encoding="utf-8")
    result = run("new", str(file))
    assert result.exit_code == 2
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    "entry",
    ["car.kerb_mass=heavy", "car.kerb_mas=1180 kg", "car.kerb_mass", "drive.motor=pm-radial-75"],
)
def test_a_wrong_entry_is_told_and_nothing_is_written(entry, tmp_path):
    result = run("new", str(tmp_path / "car.toml"), "--set", entry)
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert not list(tmp_path.iterdir())


def test_a_wrong_answer_is_asked_again(tmp_path):
    file = tmp_path / "car.toml"
    answers = "My coupe\nheavy\n1180 kg\n" + "\n" * 30
    result = run("new", str(file), "--ask", typed=answers)
    assert result.exit_code == 0
    assert "heavy" in result.stderr
    build = load(file)
    assert build.entries["car.name"] == "My coupe"
    assert build.entries["car.kerb_mass"].si == 1180.0


def test_a_folder_that_is_not_there_is_told_in_one_line(tmp_path):
    result = run("new", str(tmp_path / "none" / "car.toml"))
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr
