from __future__ import annotations

import tomllib
from datetime import date
from typing import Any

import pytest
from build_file_texts import FULL, HALF_EMPTY, with_line
from jsonschema import Draft202012Validator

from swapwright.build.schema import schema
from swapwright.build.shape import rows_by_path

SCHEMA = schema()
VALIDATOR = Draft202012Validator(SCHEMA)


def as_json(content: Any) -> Any:
    if isinstance(content, dict):
        return {key: as_json(item) for key, item in content.items()}
    if isinstance(content, list):
        return [as_json(item) for item in content]
    return content.isoformat() if isinstance(content, date) else content


def faults(text: str) -> list[str]:
    errors = VALIDATOR.iter_errors(as_json(tomllib.loads(text)))
    return [".".join(str(step) for step in error.absolute_path) for error in errors]


@pytest.mark.guard
def test_the_schema_is_a_sound_draft_2020_12_schema() -> None:
    """JSON Schema draft 2020-12, its meta-schema."""
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", [FULL, HALF_EMPTY])
def test_a_build_that_loads_fits_the_schema(text: str) -> None:
    assert faults(text) == []


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        ('"1050 kg"', "1050", "car.kerb_mass"),
        ("kerb_mass", "curb_mass", "car"),
        ('"class 0"', '"class 9"', "shop.gloves"),
        ("c_rr = 0.012", "c_rr = 0.9", "car.road_load.c_rr"),
        ("occupants = 2", "occupants = 2.5", "goals.occupants"),
        ("format = 1", "format = 2", "format"),
        ('name  = "charger"\n', "", "hv.branch.0"),
        ('inverter = { part = "inverter-400v-300a"', "inverter = { prt = 1", "drive.inverter"),
        ("nodes    = [", "nodes    = [1, ", "network.bus.0.nodes.0"),
        ("parts = [", 'parts = ["wheel", ', "cooling.loop.0.parts.0"),
        ("ratios = [3.6,", 'shift = "by ear", ratios = [3.6,', "drive.gearbox"),
    ],
)
def test_a_fault_an_editor_can_show_is_in_the_schema(old: str, new: str, path: str) -> None:
    assert faults(with_line(FULL, old, new)) == [path]


@pytest.mark.arithmetic
def test_a_curve_and_a_map_written_in_full_fit_the_schema() -> None:
    cell = (
        "format = 1\n[pack.cell]\n"
        'ocv = { x = [0, 1], y = [3.0, 4.2], y_unit = "V" }\n'
        'r0 = { rows = [0, 25], columns = [0, 1], z = [[2, 2], [1, 1]], row_unit = "degC", '
        'z_unit = "mohm" }\n'
    )
    assert faults(cell) == []
    assert faults(cell.replace("z = [[2, 2], [1, 1]]", "z = [2, 1]")) == ["pack.cell"]


def leaves(node: dict[str, Any], path: str = "") -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    for branch in [node, *node.get("anyOf", [])]:
        for key, below in branch.get("properties", {}).items():
            found[f"{path}.{key}" if path else key] = below
            found |= leaves(below, f"{path}.{key}" if path else key)
    if "properties" in node.get("items", {}):
        found |= leaves(node["items"], f"{path}[]")
    return found


@pytest.mark.arithmetic
def test_every_field_is_in_the_schema_with_its_words_and_its_default() -> None:
    in_schema = leaves(SCHEMA)
    for path, row in rows_by_path().items():
        assert row.label.split(";")[0] in in_schema[path]["description"], path
        assert ("default" in in_schema[path]) == (row.default is not None and path != "format")
    for path, node in in_schema.items():
        if "default" in node:
            assert Draft202012Validator(node).is_valid(node["default"]), path
