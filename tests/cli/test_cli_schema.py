from __future__ import annotations

import json
import tomllib
from datetime import date
from pathlib import Path

import pytest
from command_line import EXAMPLES, RIDGEWAY, ROOT, once, run
from jsonschema import Draft202012Validator

from swapwright.cli.main import main

GOLDEN = Path(__file__).with_name("golden_figure_ids.txt")


def plain(content: object) -> object:
    """Return TOML content as JSON has it: dates as texts."""
    if isinstance(content, dict):
        return {key: plain(each) for key, each in content.items()}
    if isinstance(content, list):
        return [plain(each) for each in content]
    return content.isoformat() if isinstance(content, date) else content


@pytest.mark.arithmetic
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_fits_the_schema_of_build_files(path):
    schema = json.loads(once("schema").stdout)
    Draft202012Validator(schema).validate(plain(tomllib.loads(path.read_text(encoding="utf-8"))))


@pytest.mark.arithmetic
@pytest.mark.parametrize("output", ["check", "drive"])
def test_the_schema_of_an_output_is_sound(output):
    schema = json.loads(run("schema", "--output", output).stdout)
    Draft202012Validator.check_schema(schema)


@pytest.mark.arithmetic
def test_a_revision_is_the_one_of_the_assessment():
    document = json.loads(once("check", "--json", RIDGEWAY).stdout)
    assert run("revision", RIDGEWAY).stdout.strip() == document["revision"]


@pytest.mark.golden
def test_no_figure_other_programs_read_has_gone():
    """Golden: ids made for the example cars; adding is fine, taking one away breaks readers."""
    known = set(GOLDEN.read_text(encoding="utf-8").split())
    made: set[str] = set()
    for path in EXAMPLES:
        document = json.loads(once("check", "--json", str(path)).stdout)
        made |= {*document["figures"], *document["missing"]}
    assert not known - made


@pytest.mark.guard
def test_every_command_and_option_is_on_the_page_of_the_command_line():
    page = (ROOT / "docs" / "command-line.md").read_text(encoding="utf-8")
    for name, command in main.commands.items():
        assert f"## swapwright {name}" in page
        for option in command.params:
            for spelled in option.opts:
                if spelled.startswith("--"):
                    assert spelled in page, f"{name} {spelled}"


@pytest.mark.guard
def test_every_key_of_the_documents_is_on_the_page_of_the_json():
    page = (ROOT / "docs" / "json.md").read_text(encoding="utf-8")
    check = json.loads(run("schema", "--output", "check").stdout)
    drive = json.loads(run("schema", "--output", "drive").stdout)
    for key in (*check["$defs"]["car"]["properties"], *drive["properties"]):
        assert f"`{key}`" in page, key


@pytest.mark.arithmetic
def test_the_version_is_told():
    assert run("--version").stdout.startswith("swapwright ")
