from __future__ import annotations

import csv
import sys

import pytest
from command_line import EXAMPLES, FAULTY, RIDGEWAY, complaint, once, run

from swapwright.jobs.account import CAUTIONS

pytestmark = pytest.mark.arithmetic


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_shows_its_network(path):
    result = once("network", str(path), "--quiet")
    assert result.exit_code in {0, 1}, result.stderr
    for words in ("should measure", "Lines of their own", "the most urgent first", *CAUTIONS):
        assert words in " ".join(result.stdout.split())
    assert max(map(len, result.stdout.splitlines())) <= 100


def test_the_flawed_cars_bus_is_told_what_to_do():
    result = once("network", FAULTY, "--quiet")
    assert result.exit_code == 1
    told = " ".join(result.stdout.split())
    assert "two bit rates on one bus" in told
    assert "Fit a terminator" in told


def test_the_wiring_sheet_has_every_node_line_and_reading(tmp_path):
    out = tmp_path / "sheet.csv"
    result = run("network", RIDGEWAY, "--sheet", str(out))
    assert "wiring sheet written" in result.stderr
    rows = list(csv.reader(out.read_text(encoding="utf-8").splitlines()))
    assert ["drive", "2", "vehicle controller", "no", "500 kbit/s"] in rows
    assert any(row[:2] == ["stop button", "emergency stop"] for row in rows)
    assert any("60.0 ohm" in row for row in rows)


def test_a_bus_written_is_read_in_again(tmp_path):
    out = tmp_path / "drive.dbc"
    assert run("network", RIDGEWAY, "--dbc", str(out), "--quiet").exit_code == 0
    assert "BO_ 272 torque_request: 8 vehicle_controller" in out.read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text('format = 1\n[[network.bus]]\nname = "drive"\n', encoding="utf-8")
    result = run("network", str(bare), "--import", str(out), "--bus", "drive")
    assert result.exit_code == 0
    assert result.stdout.count("[[network.message]]") == 5
    assert "identifier = 0x110" in result.stdout


def test_a_dbc_is_not_written_over_the_build_file():
    assert "must not be written over" in complaint(run("network", RIDGEWAY, "--dbc", RIDGEWAY))


def test_a_broken_dbc_is_refused_by_line(tmp_path):
    broken = tmp_path / "broken.dbc"
    broken.write_text('VERSION ""\nBO_ 1 x 8 y\n', encoding="utf-8")
    told = complaint(run("network", RIDGEWAY, "--import", str(broken)))
    assert "broken.dbc:2" in told


def test_without_the_reader_of_dbc_files_the_command_says_how_to_get_it(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "cantools", None)
    path = tmp_path / "any.dbc"
    path.write_text('VERSION ""\n', encoding="utf-8")
    assert "swapwright[network]" in complaint(run("network", RIDGEWAY, "--import", str(path)))
