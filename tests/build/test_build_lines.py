from __future__ import annotations

import tomllib
from typing import Any

import pytest
from build_file_texts import FULL
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.build.lines import line_at, lines_of


def paths_of(content: Any, path: str = "") -> list[str]:
    if isinstance(content, dict):
        below = [(f"{path}.{key}" if path else key, item) for key, item in content.items()]
    elif isinstance(content, list):
        below = [(f"{path}[{number}]", item) for number, item in enumerate(content)]
    else:
        return [path]
    return [path] * bool(path) + [at for key, item in below for at in paths_of(item, key)]


@pytest.mark.arithmetic
def test_every_path_of_a_build_has_its_line() -> None:
    lines = lines_of(FULL)
    written = FULL.splitlines()
    assert set(paths_of(tomllib.loads(FULL))) == set(lines)
    assert written[lines["car.kerb_mass"] - 1].startswith("kerb_mass")
    assert written[lines["mass[1].mass"] - 1] == 'mass = "60 kg"'
    assert written[lines["mass[1]"] - 1].startswith("[[mass]]   ")
    assert '"rear"' in written[lines["pack.boxes[1].modules"] - 1]
    assert written[lines["cooling.loop[0].name"] - 1] == 'name  = "drive"'


@pytest.mark.arithmetic
def test_signs_inside_texts_and_comments_are_not_taken_for_structure() -> None:
    text = "\n".join(
        [
            'a = "x # ] } = \\" y"  # b = [1, {',
            "c = '''",
            "[no]",
            "d = 1'''",
            '"e.f" = """one',
            'g = """',
            "'h' = [ # first",
            "  { i = 1 }, [2,",
            "  3],",
            "]",
            "j.k = 1.5",
            "[l.m] # header",
            "n = 1979-05-27T07:32:00Z",
        ]
    )
    assert lines_of(text) == {
        "a": 1,
        "c": 2,
        "e.f": 5,
        "h": 7,
        "h[0]": 8,
        "h[0].i": 8,
        "h[1]": 8,
        "h[1][0]": 8,
        "h[1][1]": 9,
        "j": 11,
        "j.k": 11,
        "l": 12,
        "l.m": 12,
        "l.m.n": 13,
    }


@pytest.mark.arithmetic
def test_tables_below_a_list_belong_to_its_last_row() -> None:
    text = "[[hv.branch]]\n[hv.branch.cable]\nlength = 1\n" * 2
    lines = lines_of(text)
    assert (lines["hv.branch[0].cable.length"], lines["hv.branch[1].cable.length"]) == (3, 6)
    assert lines["hv.branch"] == 1


@pytest.mark.arithmetic
def test_a_path_without_a_line_of_its_own_has_that_of_the_thing_above() -> None:
    lines = {"mass": 3, "mass[1]": 7}
    assert line_at(lines, "mass[1].x") == 7
    assert line_at(lines, "mass[0].x") == 3
    assert line_at(lines, "car.name") is None


NAMES = st.sampled_from(["a", "b", "c", "d"])
CONTENT = st.recursive(
    st.one_of(st.integers(0, 99), st.sampled_from(['"]"', '"#"', "'{'", "1.5", "true"])),
    lambda below: st.lists(below, max_size=3) | st.dictionaries(NAMES, below, max_size=3),
    max_leaves=8,
)


def as_toml(content: Any) -> str:
    if isinstance(content, dict):
        return "{" + ", ".join(f"{key} = {as_toml(item)}" for key, item in content.items()) + "}"
    if isinstance(content, list):
        return "[\n" + ",\n".join(as_toml(item) for item in content) + "\n]"
    return str(content)


@pytest.mark.property
@settings(deadline=None)
@given(rows=st.lists(st.dictionaries(NAMES, CONTENT, max_size=3), min_size=1, max_size=3))
def test_the_scan_finds_exactly_the_paths_the_parser_finds(rows: list[dict[str, Any]]) -> None:
    text = ""
    for row in rows:
        text += "[[row]] # one\n"
        text += "".join(f"{key} = {as_toml(item)} # more\n" for key, item in row.items())
    assert set(lines_of(text)) == set(paths_of(tomllib.loads(text)))
