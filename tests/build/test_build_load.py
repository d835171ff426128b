from __future__ import annotations

import os
from pathlib import Path

import pytest
from build_file_texts import FULL, HALF_EMPTY, with_line
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Value
from swapwright.build.load import MAX_ELEMENTS, load, load_text, upgraded
from swapwright.build.resolve import resolve
from swapwright.build.written import PartRef
from swapwright.catalogue.read import Catalogue

CATALOGUE = Catalogue()


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        load_text(text, "car.toml")
    return caught.value.problems


def only_problem(text: str) -> Problem:
    problems = problems_of(text)
    assert len(problems) == 1, problems
    return problems[0]


def refused_file(path: Path) -> Problem:
    with pytest.raises(InputError) as caught:
        load(path)
    assert len(caught.value.problems) == 1
    return caught.value.problems[0]


@pytest.mark.arithmetic
def test_a_full_build_is_read_in_si_with_its_paths_and_parts(tmp_path: Path) -> None:
    file = tmp_path / "car.toml"
    file.write_text(FULL, encoding="utf-8")
    build = load(file)
    assert build.file == str(file)
    assert build.entries["car.kerb_mass"] == Value(1050.0, "kg", "entered", "car.kerb_mass")
    drag_area = build.entries["car.road_load.cd_a"]
    assert isinstance(drag_area, Value)
    assert (drag_area.low, drag_area.high) == (0.70, 0.78)
    assert build.entries["mass[1].add"] == "motor, adapter, coupler"
    assert build.parts["drive.motor"] == PartRef("motor", "pm-radial-75kw")
    assert build.parts["hv.main_fuse"] == PartRef("fuse", None)
    assert build.entries["hv.main_fuse.poles"] == "one"
    assert build.counts["mass"] == 2
    assert build.line("hv.bleed") == FULL.splitlines().index('bleed      = "47 kohm"') + 1


@pytest.mark.arithmetic
def test_a_half_empty_build_is_read() -> None:
    assert set(load_text(HALF_EMPTY, "car.toml").entries) == {"format", "car.name"}


@pytest.mark.arithmetic
def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path: Path) -> None:
    file = tmp_path / "car.toml"
    file.write_bytes(b"\xef\xbb\xbf" + HALF_EMPTY.replace("\n", "\r\n").encode())
    assert load(file).entries["car.name"] == "not weighed yet"


# old content, new content, path, words of the message, nearest
BAD_VALUES = [
    pytest.param('"1050 kg"', '"1050 mm"', "car.kerb_mass", "unit of", "", id="wrong unit"),
    pytest.param(
        '"1050 kg"', '"1050 kgg"', "car.kerb_mass", "not a unit", "1050 kg", id="odd unit"
    ),
    pytest.param('"1050 kg"', '"-1050 kg"', "car.kerb_mass", "too low", "", id="negative mass"),
    pytest.param('"1050 kg"', "1050", "car.kerb_mass", "needs a unit", "1050 kg", id="no unit"),
    pytest.param('"1050 kg"', "true", "car.kerb_mass", "not a number", "", id="a flag for a mass"),
    pytest.param(
        '"1050 kg"', "[1050]", "car.kerb_mass", "not a number", "", id="a list for a mass"
    ),
    pytest.param("c_rr = 0.012", "c_rr = nan", "car.road_load.c_rr", "not finite", "", id="nan"),
    pytest.param("c_rr = 0.012", "c_rr = -inf", "car.road_load.c_rr", "not finite", "", id="inf"),
    pytest.param("0.70..0.78", "0.78..0.70", "car.road_load.cd_a", "upside down", "", id="range"),
    pytest.param(
        'to = "95 %"', 'to = "2 %"', "pack.usable.to", "too low", "", id="too low a window"
    ),
    pytest.param('from = "5 %"', 'from = "89 %"', "", "", "", id="narrow window is no fault"),
    pytest.param("kerb_mass", "curb_mass", "car.curb_mass", "no such key", "kerb_mass", id="key"),
    pytest.param("[charging]", "[chargin]", "chargin", "no such key", "charging", id="section"),
    pytest.param('"class 0"', '"Class 0"', "shop.gloves", "no choice", "class 0", id="choice"),
    pytest.param(
        "occupants = 2", "occupants = 2.5", "goals.occupants", "whole", "", id="half a man"
    ),
    pytest.param(
        '"pm-radial-75kw"', "75", "drive.motor", "this is a motor", "", id="number for a part"
    ),
    pytest.param(
        "dc_current_limit",
        "dc_current_max",
        "drive.inverter.dc_current_max",
        "no such key",
        "dc_current_limit",
        id="part key",
    ),
    pytest.param(
        '"250 A", poles', '"250 V", poles', "hv.contactors.carry", "unit of", "", id="part unit"
    ),
    pytest.param("2026-09-01", '"last autumn"', "shop.gloves_tested", "not a date", "", id="date"),
    pytest.param(
        '["inverter", "pack controller"]',
        '"inverter"',
        "network.bus[0].nodes",
        "not a list",
        '["inverter"]',
        id="list",
    ),
    pytest.param(
        'gloves = "class 0"',
        "gloves = {}",
        "shop.gloves",
        "not one of the words",
        "",
        id="table for a text",
    ),
]


@pytest.mark.arithmetic
@pytest.mark.parametrize(("old", "new", "path", "words", "nearest"), BAD_VALUES)
def test_a_bad_value_is_one_problem_with_its_place(
    old: str, new: str, path: str, words: str, nearest: str
) -> None:
    text = with_line(FULL, old, new)
    if not path:
        load_text(text, "car.toml")
        return
    problem = only_problem(text)
    assert problem.path == path
    assert words in problem.message
    assert problem.nearest == nearest
    assert problem.file == "car.toml"
    assert new.split()[0].split("..")[0].strip('"[') in text.splitlines()[(problem.line or 0) - 1]


@pytest.mark.arithmetic
def test_all_problems_come_at_once_in_the_order_of_their_lines() -> None:
    text = with_line(FULL, '"47 kohm"', '"47 kW"')
    text = with_line(text, '"1050 kg"', '"heavy"')
    text = with_line(text, "c_rr = 0.012", "crr = 0.012")
    text = with_line(text, 'kind = "AGM"', 'kind = "agm "')
    problems = problems_of(text)
    assert [problem.path for problem in problems] == [
        "car.kerb_mass",
        "car.road_load.crr",
        "hv.bleed",
        "lv.battery.kind",
    ]
    lines = [problem.line for problem in problems]
    assert None not in lines
    assert lines == sorted(lines, key=lambda line: line or 0)


CONTRADICTIONS = [
    pytest.param(
        "[charging]",
        '[[hv.branch]]\nname = "charger"\n[charging]',
        "hv.branch[1].name",
        id="two branches of one name",
    ),
    pytest.param(
        'from = "5 %", to = "95 %"',
        'from = "60 %", to = "40 %"',
        "pack.usable.to",
        id="window upside down",
    ),
    pytest.param(
        'usable  = { from = "5 %", to = "95 %" }',
        'usable  = { to = "20 %", from = "30 %" }',
        "pack.usable.to",
        id="window upside down, ends swapped",
    ),
    pytest.param(
        'remove = "engine',
        'add = "box"\nremove = "engine',
        "mass[0]",
        id="a mass both added and removed",
    ),
    pytest.param(
        'remove = "engine and ancillaries"\n', "", "mass[0]", id="a mass neither added nor removed"
    ),
    pytest.param("c_rr = 0.012", 'a = "20 lbf"', "car.road_load", id="road load said twice"),
    pytest.param(
        'cd_a = "0.70..0.78 m^2", c_rr = 0.012',
        'a = "20 lbf", c = "0.02 lbf/mph^2"',
        "car.road_load",
        id="coast-down without b",
    ),
    pytest.param(
        "modules_per_string = 12",
        "modules_per_string = 12\nseries = 96",
        "pack.series",
        id="cells in series beside modules",
    ),
    pytest.param(
        "modules_per_string = 12",
        'modules_per_string = 12\ncell = "nmc-pouch-60ah"',
        "pack.cell",
        id="cells beside modules",
    ),
    pytest.param(
        'between = ["front", "rear"]',
        'between = ["front", "boot"]',
        "hv.disconnect.between",
        id="a box that is not there",
    ),
    pytest.param('by     = "R. Miller"\n', "", "accepted[0]", id="accepted by nobody"),
    pytest.param('rear = "490 kg"', 'rear = "440 kg"', "car.axle_mass", id="an axle mistyped"),
    pytest.param("modules = 7", "modules = 8", "pack.boxes", id="a module too many in the boxes"),
    pytest.param(
        "modules_per_string = 12",
        "modules_per_string = 12\nstrings = 2",
        "pack.boxes",
        id="a string that is in no box",
    ),
    pytest.param(
        'parts = ["pump", "inverter", "motor", "radiator"]',
        'volume = "1 gal"',
        "cooling.loop[0].volume",
        id="a gallon of no country",
    ),
    pytest.param('"31 mpg-uk"', '"30..32 mpg"', "car.engine_before.fuel", id="miles per which"),
    pytest.param(
        "[[hv.cable]]",
        '[[hv.element]]\nname = "x"\nkind = "fuse"\nfrom = "a.plus"\nto = "b.plus"\n[[hv.cable]]',
        "hv.main_fuse",
        id="both forms of circuit",
    ),
    pytest.param(
        "ratios = [3.6, 2.1, 1.4, 1.0], use",
        "use",
        "drive.gearbox",
        id="a gearbox in full without its ratios",
    ),
]


@pytest.mark.arithmetic
@pytest.mark.parametrize(("old", "new", "path"), CONTRADICTIONS)
def test_a_contradiction_is_one_problem(old: str, new: str, path: str) -> None:
    assert only_problem(with_line(FULL, old, new)).path == path


@pytest.mark.arithmetic
def test_an_open_end_of_the_usable_window_is_held_against_its_default() -> None:
    text = 'format = 1\n[pack]\nusable = { from = "5 %", to = "10 %" }\n'
    load_text(text, "car.toml")
    text = 'format = 1\n[charging]\nfrom = "95 %"\nto = "90 %"\n'
    assert only_problem(text).path == "charging.to"
    text = 'format = 1\n[charging]\nto = "8 %"\n'
    problem = only_problem(text)
    assert (problem.path, problem.allowed) == ("charging.to", "above charging.from")


@pytest.mark.arithmetic
def test_a_cell_pack_takes_series_and_refuses_modules() -> None:
    load_text('format = 1\n[pack]\ncell = "nmc-pouch-60ah"\nseries = 96\n', "car.toml")
    text = 'format = 1\n[pack]\ncell = "nmc-pouch-60ah"\nmodules_per_string = 2\n'
    assert only_problem(text).path == "pack.modules_per_string"


@pytest.mark.arithmetic
def test_a_nested_part_may_change_one_thing_of_a_named_one_but_not_of_nothing() -> None:
    change = (
        'format = 1\n[pack.module]\npart = "nmc-module-8s1p-60ah"\ncell = { capacity = "58 Ah" }\n'
    )
    load_text(change, "car.toml")
    nothing = 'format = 1\n[pack.module]\nseries = 8\nparallel = 1\ncell = { capacity = "58 Ah" }\n'
    missing = problems_of(nothing)
    assert {problem.path for problem in missing} == {"pack.module.cell"}
    assert any("chemistry is missing" in problem.message for problem in missing)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "nearest"), [("15 inch", ""), ("185/65-15", "185/65 R15"), ("as on the car", "")]
)
def test_a_tyre_size_nobody_can_read_is_a_fault(text: str, nearest: str) -> None:
    problem = only_problem(with_line(FULL, '"165/70 R13 79T"', f'"{text}"'))
    assert (problem.path, problem.given, problem.nearest) == ("car.tyres", text, nearest)
    assert "175/70 R13 82T" in problem.allowed


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param('rear = "490 kg"', 'rear = "470 kg"', id="within two weighings"),
        pytest.param('rear = "490 kg"', 'rear = "420..520 kg"', id="inside its range"),
        pytest.param('axle_mass = { front = "560 kg", rear = "490 kg" }\n', "", id="no axles"),
        pytest.param(', rear = "490 kg"', "", id="one axle"),
        pytest.param('"front", modules = 5', '"front"', id="a box not counted"),
        pytest.param('"UK"', '"US"', id="UK gallons in the US"),
        pytest.param('"31 mpg-uk"', '"31 mpg (US)"', id="US gallons in the UK"),
    ],
)
def test_what_may_well_be_so_is_no_contradiction(old: str, new: str) -> None:
    load_text(with_line(FULL, old, new), "car.toml")


@pytest.mark.arithmetic
@pytest.mark.parametrize("region", ["UK", "AU", "NZ"])
def test_a_gallon_has_to_say_whose_where_the_country_had_its_own(region: str) -> None:
    text = f'format = 1\n[goals]\nregion = "{region}"\n[car.engine_before]\ntank = "8 gal"\n'
    problem = only_problem(text)
    assert (problem.path, problem.line) == ("car.engine_before.tank", 5)
    assert problem.allowed == "say gal-uk or gal-us"
    for other in ("US", "EU"):
        load_text(text.replace(region, other), "car.toml")


@pytest.mark.arithmetic
def test_a_syntax_fault_says_its_line() -> None:
    problem = only_problem('format = 1\n[car]\nname = "x\n')
    assert problem.line == 3
    assert "not sound TOML" in problem.message
    assert "line" not in problem.message


@pytest.mark.arithmetic
def test_a_key_given_twice_is_refused_with_its_line() -> None:
    problem = only_problem('format = 1\n[car]\nname = "x"\nname = "y"\n')
    assert (problem.line, "not sound TOML" in problem.message) == (4, True)


@pytest.mark.arithmetic
def test_a_text_that_breaks_off_is_refused_at_its_end() -> None:
    assert only_problem("format = 1\ncar = {").line == 2


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", ["", "\n\n", "# nothing yet\n"])
def test_an_empty_file_is_one_clear_problem(text: str) -> None:
    problem = only_problem(text)
    assert (problem.message, problem.allowed) == ("the file is empty", "start with: format = 1")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[car]\n", "does not say its format"),
        ('format = "1"\n', "not a format"),
        ("format = true\n", "not a format"),
        ("format = 0\n", "not a format"),
        ("format = 1.0\n", "not a format"),
        ("format = 2\n", "newer"),
    ],
)
def test_a_format_this_release_does_not_read_is_refused_by_name(text: str, words: str) -> None:
    problem = only_problem(text)
    assert words in problem.message
    assert "format = 1" in problem.message + problem.allowed


@pytest.mark.arithmetic
def test_an_older_format_is_brought_up_one_step_at_a_time() -> None:
    def rename_weight(raw: dict[str, object]) -> dict[str, object]:
        return {"format": 2, "mass": raw["weight"]}

    def move_into_car(raw: dict[str, object]) -> dict[str, object]:
        return {"format": 3, "car": {"kerb_mass": raw["mass"]}}

    steps = (rename_weight, move_into_car)
    today = {"format": 3, "car": {"kerb_mass": "900 kg"}}
    assert upgraded({"format": 1, "weight": "900 kg"}, "old.toml", steps) == today
    assert upgraded({"format": 2, "mass": "900 kg"}, "old.toml", steps) == today
    assert upgraded(today, "new.toml", steps) == today
    with pytest.raises(InputError, match="format 4 is newer"):
        upgraded({"format": 4}, "newer.toml", steps)


@pytest.mark.arithmetic
def test_too_long_a_list_and_too_many_keys_are_refused() -> None:
    rows = "[[mass]]\nadd = 'x'\n" * (MAX_ELEMENTS + 1)
    problem = only_problem(f"format = 1\n{rows}")
    assert (problem.path, problem.given) == ("mass", "501 elements")
    load_text(f"format = 1\n{rows[: len(rows) // (MAX_ELEMENTS + 1) * MAX_ELEMENTS]}", "car.toml")


@pytest.mark.arithmetic
@pytest.mark.parametrize("depth", [14, 60, 5000])
def test_deep_nesting_is_refused(depth: int) -> None:
    problem = only_problem("format = 1\ncar = " + "[" * depth + "]" * depth + "\n")
    assert (problem.message, problem.allowed) == ("nested too deep", "up to 12 levels")
    dotted = only_problem("format = 1\n" + ".".join("a" * depth) + " = 1\n")
    assert dotted.message == "nested too deep"
    assert dotted.line == 2


@pytest.mark.arithmetic
def test_a_number_of_many_digits_is_no_traceback() -> None:
    only_problem("format = 1\n[goals]\noccupants = " + "9" * 5000 + "\n")


@pytest.mark.arithmetic
def test_a_hundred_megabytes_are_refused_without_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "car.toml"
    file.touch()
    os.truncate(file, 100_000_000)
    monkeypatch.setattr(Path, "read_bytes", lambda self: pytest.fail("it was read"))
    problem = refused_file(file)
    assert (problem.message, problem.given) == ("too large for a build file", "100000000 bytes")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "data", [b"\x7fELF\x00\x01\x02", b"format = 1 # \xff\xfe", b"\xff\xd8\xff\xe0"]
)
def test_a_binary_file_is_one_clear_problem(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "photo.toml"
    file.write_bytes(data)
    assert refused_file(file).message == "not a text file"


@pytest.mark.arithmetic
def test_a_missing_file_suggests_the_one_beside_it(tmp_path: Path) -> None:
    (tmp_path / "ridgeway.toml").write_text(HALF_EMPTY)
    problem = refused_file(tmp_path / "ridgway.toml")
    assert (problem.message, problem.nearest) == ("there is no such file", "ridgeway.toml")
    assert refused_file(tmp_path / "no" / "car.toml").message == "there is no such file"


@pytest.mark.arithmetic
def test_a_folder_is_not_a_build_file(tmp_path: Path) -> None:
    assert refused_file(tmp_path).message == "not a file"


WORDS = st.sampled_from(
    [
        "format = 1\n",
        "[car]\n",
        "[[mass]]\n",
        "[hv.main_fuse]\n",
        "name = ",
        "mass = ",
        "x = ",
        '"',
        "'",
        "[",
        "]",
        "{",
        "}",
        ",",
        "=",
        ".",
        "#",
        "\n",
        "1",
        "nan",
        "-0x1",
        "2026-01-01",
        '"3 kg"',
        '"""',
        "add = ",
        "motor = ",
        "part = ",
        "boxes = ",
        "\x00",
        "\\",
        "é",
    ]
)


@pytest.mark.property
@settings(deadline=None, max_examples=300)
@given(text=st.one_of(st.text(max_size=200), st.lists(WORDS, max_size=25).map("".join)))
def test_any_text_is_either_read_or_refused_in_our_own_words(text: str) -> None:
    try:
        load_text(text, "car.toml")
    except InputError as error:
        assert error.problems


@pytest.mark.property
@settings(deadline=None, max_examples=100)
@given(data=st.binary(max_size=200))
def test_any_bytes_are_either_read_or_refused_in_our_own_words(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    file = tmp_path_factory.getbasetemp() / "any.toml"
    file.write_bytes(data)
    try:
        load(file)
    except InputError as error:
        assert error.problems


KEYS = st.sampled_from(
    [
        "car",
        "mass",
        "hv",
        "main_fuse",
        "motor",
        "drive",
        "pack",
        "cell",
        "module",
        "boxes",
        "name",
        "from",
        "usable",
        "accepted",
        "part",
        "road_load",
        "a",
        "x",
    ]
)
SCALARS = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=9), st.dates()
)
TREES = st.recursive(
    SCALARS,
    lambda below: st.lists(below, max_size=3) | st.dictionaries(KEYS, below, max_size=4),
    max_leaves=12,
)


def as_toml(tree: object) -> str:
    if isinstance(tree, dict):
        return "{" + ", ".join(f"{key} = {as_toml(item)}" for key, item in tree.items()) + "}"
    if isinstance(tree, list):
        return "[" + ", ".join(as_toml(item) for item in tree) + "]"
    if tree is None:
        return '"50 %"'
    if isinstance(tree, str):
        return "'" + "".join(sign for sign in tree if sign.isprintable() and sign != "'") + "'"
    return str(tree).lower()


@pytest.mark.property
@settings(deadline=None, max_examples=300)
@given(sections=st.dictionaries(KEYS, TREES, max_size=5))
def test_any_sound_toml_of_our_own_keys_resolves_or_is_refused_in_our_own_words(
    sections: dict[str, object],
) -> None:
    text = "format = 1\n" + "".join(f"{key} = {as_toml(item)}\n" for key, item in sections.items())
    try:
        build = load_text(text, "car.toml")
    except InputError as error:
        assert all(problem.line for problem in error.problems)
        return
    try:
        assert resolve(build, CATALOGUE).revision
    except InputError as error:
        assert all(problem.path for problem in error.problems)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a" + ".a" * 20_000 + " = 1\n", "nested too deep"),
        ("[a" + ".a" * 20_000 + "]\nb = 1\n", "nested too deep"),
        ("a = b" + " " * 50_000 + '"\n', "not sound TOML"),
        ("format = 0x" + "f" * 9_000 + "\n", "newer than this release"),
        ("format = 1\n[car]\nkerb_mass = 0x" + "f" * 9_000 + "\n", "thousands of digits"),
        ("broken = = 1\n", "not sound TOML"),
    ],
    ids=["a long name", "a long header", "much white", "a long format", "a long number", "twice ="],
)
def test_a_file_made_to_hold_the_reader_up_is_told_in_words(text: str, words: str):
    with pytest.raises(InputError) as told:
        load_text(text, "made.toml")
    assert words in str(told.value)
    assert "did you mean" not in str(told.value)


@pytest.mark.arithmetic
def test_a_row_of_very_many_numbers_is_no_deep_name():
    rows = ", ".join("0.5" for _ in range(400))
    with pytest.raises(InputError) as told:
        load_text(f"format = 1\n[car]\nkerb_mass = [\n{rows}\n]\n", "made.toml")
    assert "nested too deep" not in str(told.value)
