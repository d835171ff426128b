"""Every bad input is told in one clear line, ends with 2 and writes nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_line import RIDGEWAY, complaint, run

pytestmark = pytest.mark.arithmetic

BAD_BUILDS = {
    "a wrong unit": ('[car]\nkerb_mass = "1180 m"', "kerb_mass"),
    "an unknown part": ('[drive]\nmotor = "pm-radial-75"', "did you mean: pm-radial-75kw"),
    "an unknown key": ('[car]\nkerb_mas = "1180 kg"', "did you mean: kerb_mass"),
    "a negative mass": ('[car]\nkerb_mass = "-5 kg"', "kerb_mass"),
    "not a number": ('[car]\nkerb_mass = "nan kg"', "kerb_mass"),
    "a range upside down": ('[car]\nroad_load = { cd_a = "0.8..0.7 m^2" }', "cd_a"),
    "no TOML": ("[car", "TOML"),
}

BAD_TRACES = {
    "a gap": ("time_s,speed_kmh\n0,0\n1,\n2,10\n", ":3", "a gap"),
    "a gap in time": ("time_s,speed_kmh\n0,0\n1,5\n2,10\n9,10\n", ":5", "a gap in time"),
    "words": ("time_s,speed_kmh\n0,0\n1,fast\n", ":3", "not a number"),
    "not a number": ("time_s,speed_kmh\n0,0\n1,nan\n", ":3", "not a finite number"),
    "time standing still": ("time_s,speed_kmh\n0,0\n0,5\n", ":3", "the time does not rise"),
    "a negative speed": ("speed_kmh\n0\n-3\n", ":3", "negative"),
    "no unit": ("time,speed\n0,0\n1,5\n", ":1", "does not name its unit"),
    "no speed": ("time_s,velocity\n0,0\n1,5\n", ":1", "no column of speed"),
    "one row": ("speed_kmh\n0\n", "", "fewer than two rows"),
    "an empty file": ("", "", "the file is empty"),
    "a wild unit": ("speed_m/s\n0\n400\n", ":3", "is the unit right"),
}


def left_alone(folder: Path, *names: str) -> bool:
    return sorted(path.name for path in folder.iterdir()) == sorted(names)


@pytest.mark.parametrize("name", BAD_BUILDS)
def test_a_bad_build_file_is_told_in_one_line(name, tmp_path):
    content, words = BAD_BUILDS[name]
    file = tmp_path / "car.toml"
    file.write_text(f"format = 1\n{content}\n", encoding="utf-8")
    line = complaint(run("check", str(file)))
    assert words in line
    assert "car.toml" in line
    assert left_alone(tmp_path, "car.toml")


WORDS_OF_THE_TRADE = {
    "weight": ('[car]\nweight = "1180 kg"', "did you mean: kerb_mass"),
    "tires": ('[car]\ntires = "175/70 R13"', "did you mean: tyres"),
    "the drive as a key": ("[car]\nrwd = true", 'did you mean: driven_axle = "rear"'),
    "the drive as a value": ('[car]\ndriven_axle = "fwd"', "did you mean: front"),
    "drag, in another section": ("[goals]\ncda = 0.7", "did you mean: car.road_load.cd_a"),
    "the old engine": ('[car]\nengine = "55 kW"', "did you mean: engine_before"),
    "a gearbox": ('[drive]\nmanual = "four-speed"', "did you mean: gearbox"),
    "horsepower": ('[drive]\nhp = "80 hp"', "did you mean: drive.motor.peak_power"),
}


@pytest.mark.parametrize("name", WORDS_OF_THE_TRADE)
def test_a_word_of_the_trade_is_told_what_the_file_calls_it(name, tmp_path):
    content, words = WORDS_OF_THE_TRADE[name]
    file = tmp_path / "car.toml"
    file.write_text(f"format = 1\n{content}\n", encoding="utf-8")
    assert complaint(run("check", str(file))).endswith(words)


def test_a_word_that_is_like_nothing_gets_no_hint(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\ncolour = "red"\n', encoding="utf-8")
    assert "did you mean" not in complaint(run("check", str(file)))


def test_a_value_without_quotes_is_shown_as_it_should_be(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text("format = 1\n[car]\nkerb_mass = 1180 kg  # weighed\n", encoding="utf-8")
    line = complaint(run("check", str(file)))
    assert "car.toml:3: not sound TOML" in line
    assert "given: kerb_mass = 1180 kg" in line
    assert "in double quotes" in line
    assert line.endswith('did you mean: kerb_mass = "1180 kg"')


def test_a_number_without_its_unit_is_offered_one_the_field_takes(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\nwheelbase = "2430"\n', encoding="utf-8")
    assert "did you mean: 2430 mm" in complaint(run("check", str(file)))


def test_a_missing_file_names_the_nearest(tmp_path):
    (tmp_path / "ridgeway.toml").write_text("format = 1\n", encoding="utf-8")
    line = complaint(run("check", str(tmp_path / "ridgway.toml")))
    assert "did you mean: ridgeway.toml" in line


def test_an_empty_file_is_told_in_one_line(tmp_path):
    file = tmp_path / "car.toml"
    file.touch()
    assert "the file is empty" in complaint(run("check", str(file)))


def test_a_binary_file_is_told_in_one_line(tmp_path):
    file = tmp_path / "car.toml"
    file.write_bytes(bytes(range(256)) * 4)
    assert "not a text file" in complaint(run("check", str(file)))


def test_a_file_of_100_mb_is_refused_unread(tmp_path):
    file = tmp_path / "car.toml"
    with file.open("wb") as handle:
        handle.truncate(100_000_000)
    assert "too large for a build file" in complaint(run("check", str(file)))
    assert "too large for a drive cycle" in complaint(run("drive", RIDGEWAY, "--cycle", str(file)))


@pytest.mark.parametrize("name", BAD_TRACES)
def test_a_bad_drive_cycle_is_told_with_its_row_and_nothing_is_written(name, tmp_path):
    content, row, words = BAD_TRACES[name]
    file, out = tmp_path / "trip.csv", tmp_path / "out.csv"
    file.write_text(content, encoding="utf-8")
    line = complaint(run("drive", RIDGEWAY, "--cycle", str(file), "--csv", str(out)))
    assert f"trip.csv{row}: " in line
    assert words in line
    assert left_alone(tmp_path, "trip.csv")


def test_a_binary_drive_cycle_is_told_in_one_line(tmp_path):
    file = tmp_path / "trip.csv"
    file.write_bytes(bytes(range(256)))
    assert "not a text file" in complaint(run("drive", RIDGEWAY, "--cycle", str(file)))


def test_an_unknown_drive_cycle_names_the_nearest():
    assert "did you mean: udds" in complaint(run("drive", RIDGEWAY, "--cycle", "uds"))


def test_a_steady_speed_needs_a_unit_of_speed():
    for given in ("steady:90 kg", "90 kg"):
        assert "not of speed; given: 90 kg" in complaint(run("drive", RIDGEWAY, "--cycle", given))


def test_the_hint_of_a_steady_speed_is_in_the_units_of_the_person():
    assert "'90 km/h'" in complaint(run("drive", RIDGEWAY, "--cycle", "fast"))
    assert "'60 mph'" in complaint(run("drive", RIDGEWAY, "--cycle", "fast", "--units", "us"))


def test_a_state_of_charge_above_full_is_refused():
    assert "--soc" in complaint(run("drive", RIDGEWAY, "--cycle", "udds", "--soc", "120 %"))


def test_a_car_that_lacks_too_much_to_drive_says_what(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\nkerb_mass = "1180 kg"\n', encoding="utf-8")
    line = complaint(run("drive", str(file), "--cycle", "udds"))
    assert "cannot be driven: the build does not give" in line
    assert "pack.module" in line
    assert "pack.cell" not in line


def test_the_steps_are_never_written_over_what_was_read(tmp_path):
    file = tmp_path / "trip.csv"
    file.write_text("speed_kmh\n0\n5\n5\n0\n", encoding="utf-8")
    line = complaint(run("drive", RIDGEWAY, "--cycle", str(file), "--csv", str(file)))
    assert "must not be written over" in line
    assert file.read_text(encoding="utf-8") == "speed_kmh\n0\n5\n5\n0\n"


def test_a_folder_of_parts_that_is_not_there_is_told_in_one_line(tmp_path):
    assert "no such folder of parts" in complaint(
        run("parts", "motor", "--parts", str(tmp_path / "none"))
    )


def test_bad_input_shows_where_it_was_noticed_only_when_asked(tmp_path):
    from swapwright.base.errors import InputError

    for command in (("check",), ("drive", "--cycle", "udds")):
        with pytest.raises(InputError):
            run("--debug", *command, str(tmp_path / "none.toml"))


def test_a_command_without_its_file_ends_with_two():
    assert run("check").exit_code == 2
