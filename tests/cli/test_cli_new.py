from __future__ import annotations

import pytest
from command_line import run

from swapwright.build.load import load
from swapwright.jobs.starting import MASSES, QUESTIONS

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
    answers = "My coupe\n\nheavy\n1180 kg\n" + "\n" * 40
    result = run("new", str(file), "--ask", typed=answers)
    assert result.exit_code == 0
    assert "'heavy' is not a number with a unit" in result.stderr
    assert "answer" not in result.stderr.replace("an answer empty", "")
    assert "gearboxes: " in result.stderr
    build = load(file)
    assert build.entries["car.name"] == "My coupe"
    assert build.entries["car.kerb_mass"].si == 1180.0


def test_a_folder_that_is_not_there_is_told_in_one_line(tmp_path):
    result = run("new", str(tmp_path / "none" / "car.toml"))
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr


def asked(answers: dict[str, str]) -> str:
    """Return what is typed to answer some questions by their words, all others left empty."""
    lines = [answers.get(question.path, "") for question in QUESTIONS]
    rows = [line for row in MASSES for line in answers.get(row.what, "").split("|")]
    return "\n".join([*lines, *rows]) + "\n"


def test_an_answer_that_contradicts_an_earlier_one_is_asked_again(tmp_path):
    file = tmp_path / "car.toml"
    weighed = {"car.kerb_mass": "1000 kg", "car.axle_mass.front": "600 kg"}
    answers = asked({**weighed, "car.axle_mass.rear": "900 kg\n400 kg"})
    result = run("new", str(file), "--ask", typed=answers)
    assert result.exit_code == 0, result.stderr
    assert "the two axles do not weigh what the car does" in result.stderr
    assert load(file).entries["car.axle_mass.rear"].si == 400.0


def test_a_body_and_a_tyre_may_be_answered_by_their_kind(tmp_path):
    file = tmp_path / "car.toml"
    answers = asked({"car.road_load.cd_a": "roadster", "car.road_load.c_rr": "radial"})
    result = run("new", str(file), "--ask", typed=answers)
    assert "coupe-1960s" in result.stderr
    entries = load(file).entries
    assert (entries["car.road_load.cd_a"].low, entries["car.road_load.cd_a"].high) == (0.75, 0.85)
    assert (entries["car.road_load.c_rr"].low, entries["car.road_load.c_rr"].high) == (0.010, 0.013)


def test_what_comes_out_and_goes_in_becomes_rows_of_the_ledger(tmp_path):
    file = tmp_path / "car.toml"
    answers = asked({MASSES[0].what: "148 kg|0.05 m", MASSES[2].what: "86 kg|0.1 m"})
    assert run("new", str(file), "--ask", typed=answers).exit_code == 0
    build = load(file)
    assert build.counts["mass"] == 2
    assert build.entries["mass[0].remove"] == MASSES[0].what
    assert build.entries["mass[1].add"] == MASSES[2].what
    assert build.entries["mass[1].x"].si == 0.1


def test_an_american_is_asked_in_pounds(tmp_path):
    result = run("new", str(tmp_path / "car.toml"), "--ask", typed=asked({"goals.region": "US"}))
    assert "kerb mass, weighed (such as 2600 lb)" in result.stderr


def test_breaking_off_keeps_what_was_answered(tmp_path):
    file = tmp_path / "car.toml"
    result = run("new", str(file), "--ask", typed="My coupe\n")
    assert result.exit_code == 0
    assert "asked no further" in result.stderr
    assert load(file).entries["car.name"] == "My coupe"


def test_breaking_off_before_any_answer_writes_nothing(tmp_path):
    file = tmp_path / "car.toml"
    assert run("new", str(file), "--ask", typed="").exit_code == 1
    assert not file.exists()
