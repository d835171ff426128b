from __future__ import annotations

import json
import math
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from command_line import EXAMPLES, FAULTY, RIDGEWAY, ROOT, once, run
from jsonschema import Draft202012Validator

from swapwright.catalogue.read import Catalogue
from swapwright.cli.check_text import page_of, write_check
from swapwright.cli.console import Console
from swapwright.jobs.check import check
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
    for more in (("--all", "--sources"), ("--names",)):
        page = once("check", *more, str(path)).stdout
        assert max(map(len, page.splitlines())) <= 100


@every_example
def test_a_page_fits_a_narrow_terminal(path, capsys):
    checked = check(path, Catalogue(), date(2026, 11, 25))
    write_check(page_of(Console(width=80), checked, "us"), date(2026, 11, 25))
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


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
    lines = once("check", RIDGEWAY).stdout.splitlines()
    counts = next(line for line in lines if line.endswith("rules run"))
    assert counts.startswith("0 stops, 0 to fix, 0 unknown, ")
    assert "met" not in counts
    assert lines[-1].startswith("meter proved before and after")


def test_a_page_opens_with_counts_and_what_a_stop_forbids():
    lines = once("check", FAULTY).stdout.splitlines()
    found = car(FAULTY)["findings"]
    stops = sum(each["verdict"] == "stop" for each in found)
    place = next(place for place, line in enumerate(lines) if line.endswith("rules run"))
    assert place < 5
    assert lines[place].startswith(f"{stops} stops, ")
    assert lines[place + 1] == "this car must not be powered as drawn: see the stops"
    assert "must not be powered" not in once("check", RIDGEWAY).stdout


def test_a_remedy_that_several_findings_share_stands_once_after_the_last():
    page = " ".join(once("check", RIDGEWAY).stdout.split())
    found = [each for each in car()["findings"] if each["rule"] == "circuit.stranded_charge"]
    watched = [each for each in found if each["verdict"] == "watch"]
    assert len(watched) > 1
    (remedy,) = {each["remedy"] for each in watched}
    assert page.count(remedy) == 1
    last = watched[-1]["text"]
    assert page.index(last) < page.index(remedy)


def test_what_is_wrong_stands_before_the_numbers_and_what_to_watch_after():
    page = once("check", FAULTY).stdout
    places = [page.index(f"\n{each}") for each in ("To put right", "Range", "Weight", "To watch")]
    assert places == sorted(places)


def test_what_was_assumed_and_what_not_judged_is_said_in_short():
    page = once("check", RIDGEWAY).stdout
    assumed = car()["assumed"]
    assert f"assumed: {len(assumed)} inputs (" in page
    assert "driving load 250 W" in page
    assert "not judged: " in page
    assert "Rules that do not apply" not in page
    assert "formulas known" not in page
    in_full = once("check", "--all", RIDGEWAY).stdout
    assert "inputs stand on a default" in in_full
    assert all(f"  {path} " in in_full for path in assumed)
    assert "Rules that do not apply" in in_full
    assert "formulas known" in in_full


def test_a_range_on_a_window_the_pack_cannot_be_charged_to_says_so():
    page = once("check", FAULTY).stdout
    assert "Range, new pack: on a cut window, see pack.window" in page
    assert "  rear axle: a stop, see weight.rear_axle" in page.splitlines()
    sound = once("check", RIDGEWAY).stdout
    assert "on a cut window" not in sound
    assert "a stop, see" not in sound


def test_a_time_that_is_not_reached_says_why_and_lacks_no_input():
    bakery = str(ROOT / "examples" / "bakery.toml")
    page = once("check", bakery).stdout
    row = next(line for line in page.splitlines() if line.startswith("  0-60 mph"))
    assert "not reached in" in row
    assert "tops out at" in row
    assert "km/h" in row
    assert "mph)" in run("check", "--units", "us", bakery).stdout
    assert "Fill these next" not in page
    missing = car(bakery)["missing"]
    late = {path: wants for path, wants in missing.items() if path.startswith("accel.")}
    assert late
    assert all("is not reached in" in want for wants in late.values() for want in wants)


def half_written(tmp_path) -> str:
    file = tmp_path / "car.toml"
    text = 'format = 1\n[car]\nkerb_mass = "1180 kg"\ndriven_axle = "rear"\n'
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_an_unknown_names_what_can_be_typed(tmp_path):
    path = half_written(tmp_path)
    page = run("check", path).stdout
    assert "pack.module" in page
    assert "drive.motor" in page
    assert "pack.cell" not in page
    assert "drive.motor." not in page
    for finding in json.loads(run("check", "--json", path).stdout)["findings"]:
        told = f"{finding['needs']} {finding['text']} {finding['remedy']}"
        assert "pack.cell" not in told, finding["rule"]
        assert not re.search(r"drive\.motor\.\w", told), finding["rule"]


def test_what_to_fill_in_next_is_ranked_by_what_waits_for_it(tmp_path):
    page = run("check", half_written(tmp_path)).stdout
    rows = page.split("Fill these next")[1].splitlines()[1:]
    assert rows[0].startswith("   1. pack.module ")
    counts = [
        sum(int(word) for word in row.split() if word.isdecimal())
        for row in rows
        if " figures" in row or " rules" in row
    ]
    assert counts == sorted(counts, reverse=True)


def test_a_mechanic_sees_on_the_first_screen_what_to_fill_in_next(tmp_path):
    file = str(tmp_path / "new.toml")
    run("new", file, "--no-ask")
    page = run("check", file).stdout
    first_screen = page.splitlines()[:24]
    heading = next(n for n, line in enumerate(first_screen) if line.startswith("Fill these next"))
    assert sum(bool(re.match(r" +\d+\. ", line)) for line in first_screen[heading:]) == 8
    assert page.index("Fill these next") < page.index("Unknown until it is filled in")
    assert "\n  to fill in next: pack.module, " in page.partition("\n  assumed: ")[2]


def test_what_waits_for_the_same_entries_is_told_once(tmp_path):
    page = run("check", half_written(tmp_path)).stdout
    unknowns = page.split("Unknown until it is filled in\n")[1].partition("\n\n")[0]
    assert "voltage.back_emf, drive.inverter_kind\n" in unknowns
    questions = [
        (could_be, frozenset(needs.replace(",", " ").split()))
        for could_be, needs in re.findall(r"could be a (\w+); needs ((?:[^\n]|\n {16})+)", unknowns)
    ]
    assert len(questions) == len(set(questions)) > 20
    document = json.loads(run("check", "--json", half_written(tmp_path)).stdout)
    for finding in document["findings"]:
        assert (finding["rule"] in unknowns) == (finding["verdict"] == "unknown"), finding["rule"]


def test_a_car_that_leaves_a_system_out_is_open_and_does_not_pass(tmp_path):
    text = Path(RIDGEWAY).read_text(encoding="utf-8")
    for section, rule in (("network", "network.names"), ("brakes", "brakes.parking")):
        head, _, rest = text.partition(f"\n[{section}]")
        after = rest.partition("\n[brakes]" if section == "network" else "\n[cost]")
        file = tmp_path / f"{section}.toml"
        file.write_text(f"{head}\n{after[1]}{after[2]}", encoding="utf-8")
        result = run("check", "--json", str(file))
        (found,) = (each for each in json.loads(result.stdout)["findings"] if each["rule"] == rule)
        assert (found["verdict"], found["could_be"]) == ("unknown", "fix")
        assert result.exit_code == 1


def test_every_name_beside_a_number_leads_to_its_working():
    page = once("check", "--names", RIDGEWAY).stdout
    assert max(map(len, page.splitlines())) <= 100
    figures = car()["figures"]
    for name in ("range.combined", "accel.0_60mph", "pack.energy", "weight.rear_loaded"):
        assert name in page
        assert name in figures
    assert "accel.0_60mph" not in once("check", RIDGEWAY).stdout


def test_degrees_are_written_as_degrees_and_a_cold_limit_is_too_cold():
    page = once("check", RIDGEWAY).stdout
    assert "\u00b0C too cold" in page
    assert "degC" not in page


def test_a_limit_says_whose_it_is():
    page = once("check", FAULTY).stdout
    assert "at most 750 V (inverter-700v-300a): 7.5 % over" in page
    assert "source: " not in page
    assert "source: the data of inverter-700v-300a" in once("check", "--sources", FAULTY).stdout


def test_an_american_reads_horsepower_first():
    page = run("check", "--units", "us", RIDGEWAY).stdout
    row = next(line for line in page.splitlines() if line.startswith("  power at the road"))
    assert row.index(" hp (") < row.index(" kW)")
    assert "MPGe: miles per gallon-equivalent" in page


def test_sources_say_whether_their_text_was_seen():
    page = once("check", "--all", "--sources", RIDGEWAY).stdout
    assert "Sources in use" in page
    assert "from memory, as of" in page


def test_a_working_goes_down_to_what_the_owner_typed():
    page = once("check", "--working", "range.combined", "--depth", "all", RIDGEWAY).stdout
    lines = [line.strip() for line in page.splitlines()]
    assert lines[0].endswith("range.combined")
    assert any("energy ledger" in line for line in lines)
    assert any("independent short estimate" in line for line in lines)
    assert any("entered as car.kerb_mass, line " in line for line in lines)
    assert any("assumed: " in line for line in lines)
    deepest = max(len(line) - len(line.lstrip()) for line in page.splitlines())
    assert deepest >= 12


def test_what_moves_a_figure_most_stands_before_the_figure_and_its_tree():
    page = once("check", "--working", "range.combined", RIDGEWAY).stdout
    places = [page.index(each) for each in ("what moves it most", "\n= ", "range = E_u/e")]
    assert places == sorted(places)


def test_a_working_opens_two_levels_and_as_many_more_as_asked():
    ask = ("check", "--working", "range.combined", RIDGEWAY, "--depth")
    lengths = [len(once(*ask, depth).stdout.splitlines()) for depth in ("1", "2", "3", "all")]
    assert lengths == sorted(set(lengths))
    assert once("check", "--working", "range.combined", RIDGEWAY).stdout == once(*ask, "2").stdout
    assert "[...] goes deeper" in once(*ask, "2").stdout
    assert "[...]" not in once(*ask, "all").stdout
    assert run(*ask, "none").exit_code == 2


def test_a_ledger_has_one_unit_and_adds_up():
    page = once("check", "--working", "range.combined", RIDGEWAY).stdout
    ledger = page.split("energy ledger (sums to zero):")[1].split("independent")[0]
    rows = [row for row in ledger.splitlines() if row.strip()]
    assert all(" kWh " in row for row in rows)
    numbers = [float(row.partition(" kWh")[0].split()[-1]) for row in rows]
    assert sum(numbers) == pytest.approx(0.0, abs=0.0006 * len(numbers))


def test_a_rule_shows_the_figures_it_judges():
    page = run("check", "--working", "voltage.inverter_full", FAULTY).stdout
    assert "stop    voltage.inverter_full" in page
    assert "pack.voltage_charging\n= " in page


def test_a_figure_read_from_a_map_says_where_and_what_the_map_is_made_of():
    page = once("check", "--working", "top_speed.peak", RIDGEWAY).stdout
    for words in ("read from: drive map", "row: ", "column: limited by", "[road.c]", "[mass.test]"):
        assert words in page


@pytest.mark.parametrize(
    ("given", "near"),
    [("range", "range.city"), ("0-60 mph", "accel.0_60mph"), ("kerb", "mass.kerb")],
)
def test_a_word_is_answered_with_the_headline_figures_that_hold_it(given, near):
    told = run("check", "--working", given, RIDGEWAY).stderr
    assert "such as range.combined" in told
    assert near in told.partition("did you mean: ")[2]


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
