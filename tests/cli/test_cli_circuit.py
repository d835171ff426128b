from __future__ import annotations

import json
import tomllib
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from command_line import EXAMPLES, FAULTY, RIDGEWAY, complaint, once, run
from jsonschema import Draft202012Validator

from swapwright.assess.queries import STATES
from swapwright.cli.circuit import SWITCHES
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.circuit_schema import circuit_schema, fault_schema, isolation_schema

pytestmark = pytest.mark.arithmetic

READINGS = ("--readings", "V+=193.64 V", "V-=161.36 V", "V'=39.997 V", "--resistor", "35.5 kohm")
NEVER_SAID = ("dead short circuit is", "isolated", "no voltage", "absence verified")


def document(*arguments: str, schema: dict, status: int = 0) -> dict:
    result = once(*arguments, "--json")
    assert result.exit_code == status, result.stderr
    found = json.loads(result.stdout)
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(found)
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_shows_its_circuit(path):
    result = once("circuit", str(path))
    assert result.exit_code in {0, 1, 3}, result.stderr
    for words in ("Device by device", "nothing clears this fault", "waiting time", *CAUTIONS):
        assert words in " ".join(result.stdout.split())
    assert all(words not in result.stdout for words in NEVER_SAID)


def test_lines_fit_the_page():
    for path in EXAMPLES:
        assert max(map(len, once("circuit", str(path)).stdout.splitlines())) <= 100


def test_the_flawed_car_ends_with_a_stop_and_names_its_devices():
    result = once("circuit", FAULTY)
    assert result.exit_code == 3
    row = next(line for line in result.stdout.splitlines() if line.startswith("  main fuse "))
    assert "stop" in row


def test_the_document_of_a_circuit_keeps_its_schema():
    found = document("circuit", RIDGEWAY, schema=circuit_schema())
    fuse = next(row for row in found["devices"] if row["name"] == "main fuse")
    assert fuse["limit_a"] < 200.0
    assert {row["name"] for row in found["sections"]} >= {"front pack", "rear pack", "inverter"}


def test_the_states_of_the_command_are_those_of_the_question():
    assert set(SWITCHES) == set(STATES)


def test_a_state_says_what_reaches_each_section():
    result = once("circuit", RIDGEWAY, "--state", "disconnect-open")
    assert "stored charge in link capacitor" in " ".join(result.stdout.split())


def test_sections_show_their_volts_and_the_gap_the_whole_pack():
    text = once("circuit", RIDGEWAY).stdout
    row = next(line for line in text.splitlines() if line.startswith("  inverter    live"))
    assert "stored charge, one pole joined  403 V" in row
    assert "up to 0 V" not in text
    words = " ".join(text.split())
    assert "across the open service disconnect: up to 403 V, the whole pack" in words
    assert "charger capacitor: no waiting time if the charger fuse is blown" in words
    assert "design, not confirmed on the car" in words


def test_volts_in_a_section_that_holds_charge_stand_until_it_is_discharged():
    text = once("circuit", RIDGEWAY, "--state", "disconnect-open").stdout
    assert "inverter: up to 403 V within it until discharged and measured" in " ".join(text.split())


def test_no_disconnect_is_opened_where_there_is_none(tmp_path: Path):
    own = tmp_path / "car.toml"
    text = Path(RIDGEWAY).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("disconnect ")]
    own.write_text("\n".join(lines), encoding="utf-8")
    words = " ".join(run("circuit", str(own)).stdout.split())
    assert "there is no disconnect to open" in words
    assert "disconnect open" not in words
    assert "across the open" not in words


def test_diagram_and_chart_are_drawings_a_browser_opens(tmp_path: Path):
    sheet, chart = tmp_path / "sheet.svg", tmp_path / "chart.svg"
    result = run("circuit", RIDGEWAY, "--diagram", str(sheet), "--chart", str(chart))
    assert result.exit_code == 0
    for path in (sheet, chart):
        assert ET.parse(path).getroot().tag.endswith("svg")
    assert "main fuse" in sheet.read_text(encoding="utf-8")
    assert "this car through the main fuse" in " ".join(chart.read_text(encoding="utf-8").split())


def test_a_build_file_is_never_written_over(tmp_path: Path):
    own = tmp_path / "car.toml"
    own.write_text(Path(RIDGEWAY).read_text(encoding="utf-8"), encoding="utf-8")
    result = run("circuit", str(own), "--diagram", str(own))
    assert result.exit_code == 2
    assert "must not be written over" in result.stderr
    assert own.read_text(encoding="utf-8").startswith(
        Path(RIDGEWAY).read_text(encoding="utf-8")[:40]
    )


def test_the_expanded_file_can_be_used_in_place_of_the_other(tmp_path: Path):
    result = run("circuit", RIDGEWAY, "--expand")
    assert result.exit_code == 0
    assert len(tomllib.loads(result.stdout)["hv"]["element"]) > 20
    own = tmp_path / "full.toml"
    own.write_text(result.stdout, encoding="utf-8")
    assert run("circuit", str(own)).exit_code in {0, 1}


def test_a_short_is_told_as_a_timeline():
    result = once("fault", RIDGEWAY, "--at", "inverter")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    melted = next(n for n, line in enumerate(lines) if "main fuse has melted" in line)
    cleared = next(n for n, line in enumerate(lines) if "main fuse has cleared" in line)
    assert melted < cleared
    assert CAUTIONS[1] in result.stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ("--at", "charger"),
        ("--at", "main fuse", "--pack", "low"),
        ("--welded", "main contactors"),
        ("--precharge", "--load", "dc-dc"),
        ("--leak", "2 kohm"),
        ("--discharge", "--open", "bleed resistor"),
        ("--earth", "plus pole"),
        ("--earth", "front pack.plus", "--earth", "minus pole"),
    ],
    ids=" ".join,
)
def test_the_document_of_a_fault_keeps_its_schema(arguments):
    found = document("fault", RIDGEWAY, *arguments, schema=fault_schema())
    assert found["accounts"]
    assert found["cautions"] == list(CAUTIONS)


def test_several_things_may_go_wrong_in_one_question():
    found = document("fault", RIDGEWAY, "--at", "charger", "--discharge", schema=fault_schema())
    assert len(found["accounts"]) == 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--at", "invertor"), "did you mean: inverter"),
        (("--welded", "contactor"), "there is no such element"),
        (("--earth", "front"), "there is no such terminal"),
        ((), "say what goes wrong"),
    ],
    ids=["place", "contactor", "terminal", "nothing"],
)
def test_a_name_there_is_not_is_told_in_one_line(arguments, words):
    assert words in complaint(run("fault", RIDGEWAY, *arguments))


def test_an_isolation_test_names_pole_place_and_hazards():
    result = once("isolation-test", RIDGEWAY, *READINGS)
    assert result.exit_code == 0
    text = " ".join(result.stdout.split())
    assert text.index("As read") < text.index("What they say")
    for words in ("weaker pole minus", "near module 6 of 12", "mid-pack", "gloves on", *CAUTIONS):
        assert words in text


def test_readings_that_contradict_are_shown_and_stop_the_job():
    result = run(
        "isolation-test", RIDGEWAY, "--readings", "500 V", "400 V", "40 V", "--resistor", "250 kohm"
    )
    assert result.exit_code == 3
    text = " ".join(result.stdout.split())
    assert "V+ 500.0 V" in text
    assert "Treat the car as live" in text
    # What was to be expected is said only after what was read.
    assert text.index("V+ 500.0 V") < text.index("stands between")


def test_what_the_readings_make_of_the_meter_is_shown_beside_what_the_method_asks_for():
    readings = ("--readings", "V+=30 V", "V-=25 V", "V'=10 V", "Vb=398 V")
    result = run("isolation-test", RIDGEWAY, *readings, "--resistor", "200 kohm")
    assert result.exit_code == 3
    text = " ".join(result.stdout.split())
    assert "would have 464 kohm inside; the method asks for 10.0 Mohm or more" in text
    assert "--meter" in text


def test_a_reading_without_a_unit_is_sent_back():
    line = complaint(run("isolation-test", RIDGEWAY, "--readings", "V+=190", "V-=160 V"))
    assert "needs a unit" in line


def test_the_document_of_an_isolation_test_keeps_its_schema():
    found = document("isolation-test", RIDGEWAY, *READINGS, schema=isolation_schema())
    assert found["readings"]["plus_v"] == 193.64
    assert found["exit_status"] == 0


@pytest.mark.parametrize("output", ["circuit", "fault", "isolation-test"])
def test_the_schemas_are_printed(output):
    assert json.loads(once("schema", "--output", output).stdout)["title"]
