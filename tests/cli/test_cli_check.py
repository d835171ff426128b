from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from collections.abc import Iterator

import pytest
from command_line import EXAMPLES, FAULTY, RIDGEWAY, ROOT, once, run
from jsonschema import Draft202012Validator

from swapwright.jobs.output_schema import check_schema

pytestmark = pytest.mark.arithmetic

every_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


def numbers_in(document: object) -> Iterator[float]:
    if isinstance(document, dict):
        for each in document.values():
            yield from numbers_in(each)
    elif isinstance(document, list):
        for each in document:
            yield from numbers_in(each)
    elif isinstance(document, int | float):
        yield document


def car(path: str = RIDGEWAY) -> dict:
    return json.loads(once("check", "--json", path).stdout)


@every_example
def test_the_document_of_every_example_fits_the_published_schema(path):
    document = car(str(path))
    Draft202012Validator(check_schema()).validate(document)
    assert next(iter(document)) == "schema_version"
    assert all(math.isfinite(number) for number in numbers_in(document))


@every_example
def test_no_line_is_wider_than_the_page(path):
    page = once("check", "--all", "--sources", str(path)).stdout
    assert max(map(len, page.splitlines())) <= 100


def test_several_files_come_as_a_list_of_cars():
    document = json.loads(run("check", "--json", RIDGEWAY, FAULTY).stdout)
    Draft202012Validator(check_schema()).validate(document)
    assert [each["name"] for each in document["files"]] == ["Ridgeway coupe", "Fault finder"]


def test_a_sound_car_leaves_the_status_at_nought():
    assert once("check", RIDGEWAY).exit_code == 0


def test_a_stop_ends_with_three():
    assert once("check", FAULTY).exit_code == 3


def test_an_accepted_fix_leaves_the_status_at_nought():
    result = once("check", str(ROOT / "examples" / "bakery.toml"))
    assert result.exit_code == 0
    assert "accepted by owner on 2026-10-12" in result.stdout


def test_a_half_written_car_ends_with_one_since_it_could_be_a_stop(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\nkerb_mass = "1180 kg"\n', encoding="utf-8")
    result = run("check", str(file))
    assert result.exit_code == 1
    assert "could be a stop" in result.stdout


def test_of_several_files_the_worst_decides():
    assert run("check", RIDGEWAY, FAULTY).exit_code == 3


def test_a_bad_file_is_told_and_the_good_one_still_assessed(tmp_path):
    result = run("check", str(tmp_path / "none.toml"), FAULTY)
    assert result.exit_code == 2
    assert "there is no such file" in result.stderr
    assert "Fault finder" in result.stdout


def test_the_headline_shows_both_worlds_and_a_band():
    page = once("check", RIDGEWAY).stdout
    for words in ("Range, new pack", "Le/100 km", "kWh/100 km", "PS", "0-60 mph", "full", "loaded"):
        assert words in page
    combined = next(line for line in page.splitlines() if line.strip().startswith("combined  "))
    assert combined.count("..") == 2


def test_an_american_car_is_shown_in_american_units():
    page = run("check", "--units", "us", RIDGEWAY).stdout
    for words in ("mi (", "Wh/mi", "MPGe", "hp", "lb", "mph"):
        assert words in page


def test_findings_stand_by_severity():
    verdicts = [each["verdict"] for each in car(FAULTY)["findings"]]
    order = ["stop", "fix", "unknown", "watch", "met"]
    assert verdicts == sorted(verdicts, key=order.index)


def test_met_findings_are_shown_when_asked_for():
    rule = next(each["rule"] for each in car()["findings"] if each["verdict"] == "met")
    assert not any(
        line.endswith(f" {rule}") for line in once("check", RIDGEWAY).stdout.splitlines()
    )
    assert any(
        line.endswith(f" {rule}") for line in once("check", "--all", RIDGEWAY).stdout.splitlines()
    )


def test_a_page_never_says_a_whole_car_is_met():
    page = once("check", RIDGEWAY).stdout
    in_all = page.split("In all")[1]
    assert "rules run: 0 stop" in in_all
    assert "Treat every conductor as live" in in_all


def test_what_was_assumed_and_what_not_judged_is_said():
    page = once("check", RIDGEWAY).stdout
    assert "inputs stand on a default" in page
    assert "Not judged" in page


def test_sources_say_whether_their_text_was_seen():
    page = once("check", "--all", "--sources", RIDGEWAY).stdout
    assert "Sources in use" in page
    assert "from memory, as of" in page


def test_a_working_goes_down_to_what_the_owner_typed():
    page = once("check", "--working", "range.combined", RIDGEWAY).stdout
    lines = [line.strip() for line in page.splitlines()]
    assert lines[0].endswith("range.combined")
    assert any("energy ledger" in line for line in lines)
    assert any("independent short estimate" in line for line in lines)
    assert any("entered as car.kerb_mass, line " in line for line in lines)
    assert any("assumed: " in line for line in lines)
    assert "What moves it most" in page
    deepest = max(len(line) - len(line.lstrip()) for line in page.splitlines())
    assert deepest >= 12


def test_the_line_a_working_names_is_where_the_value_stands():
    page = once("check", "--working", "mass.kerb", RIDGEWAY).stdout
    text = (ROOT / "examples" / "ridgeway.toml").read_text(encoding="utf-8").splitlines()
    entry = next(line for line in page.splitlines() if "entered as car.kerb_mass" in line)
    number = int(entry.rsplit("line ", 1)[1])
    assert text[number - 1].startswith("kerb_mass")


def test_an_unknown_figure_is_refused_with_the_nearest():
    result = run("check", "--working", "range.combind", RIDGEWAY)
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "did you mean: range.combined" in result.stderr


def test_a_figure_that_lacks_an_input_says_which(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\nkerb_mass = "1180 kg"\n', encoding="utf-8")
    result = run("check", "--working", "weight.front", str(file))
    assert result.exit_code == 2
    assert "car.axle_mass.front" in result.stderr


def test_a_control_code_in_a_file_does_not_reach_the_terminal(tmp_path):
    file = tmp_path / "car.toml"
    file.write_text('format = 1\n[car]\nkerb_mass = "\\u001b[31m\\u202e"\n', encoding="utf-8")
    told = run("check", str(file)).stderr
    assert "\x1b" not in told
    assert "\u202e" not in told
    assert "\\x1b[31m" in told


def test_without_colour_words_and_shapes_carry_the_verdict():
    page = once("check", FAULTY).stdout
    assert "\x1b[" not in page
    assert "\u2bc3   stop    voltage.inverter_full" in page


def test_a_terminal_without_those_shapes_gets_plain_ones():
    done = subprocess.run(
        [sys.executable, "-m", "swapwright.cli", "check", "examples/fault-finder.toml"],
        cwd=ROOT,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 3, done.stderr
    assert "[X] stop    voltage.inverter_full" in done.stdout


def test_a_figure_on_a_default_says_so():
    figures = car()["figures"]
    assert figures["air.density"]["assumed"]
    assert not figures["tyre.outside_diameter"]["assumed"]
    assert figures["range.combined"]["low"] < figures["range.combined"]["value"]
    assert "car.road_load.cd_a" in figures["range.combined"]["swings"]


def test_every_figure_of_a_working_is_a_figure_of_the_document():
    figures = car()["figures"]
    for figure in figures.values():
        working = figure["working"]
        inputs = [*working.get("symbols", working.get("inputs", {})).values()]
        inputs += working.get("rows", [])
        for value in inputs:
            assert value["origin"] != "computed" or value["ref"] in figures
