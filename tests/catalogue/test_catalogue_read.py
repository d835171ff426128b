"""How a part is read: own folders, overrides, nested parts, and faults told in one go."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.base.figure import Value
from swapwright.catalogue.fields import PART_FIELDS
from swapwright.catalogue.read import BUILT_IN, Catalogue, is_part_name, read_part

CHARGER = '# Ours.\npower = "3 kW"\nmin_voltage = "90 V"\nmax_voltage = "140 V"\n'


def put(folder: Path, kind: str, name: str, text: str | bytes) -> None:
    (folder / kind).mkdir(parents=True, exist_ok=True)
    data = text if isinstance(text, bytes) else text.encode()
    (folder / kind / f"{name}.toml").write_bytes(data)


def problems_of(folder: Path, kind: str, name: str):
    with pytest.raises(InputError) as caught:
        Catalogue((folder,)).get(kind, name)
    return caught.value.problems


@pytest.mark.arithmetic
def test_an_own_folder_adds_a_part(tmp_path):
    put(tmp_path, "charger", "our-charger", CHARGER)
    catalogue = Catalogue((tmp_path,))
    part = catalogue.get("charger", "our-charger")
    assert part.values["power"] == Value(3000.0, "W", "part", "charger/our-charger")
    assert part.file == str(tmp_path / "charger" / "our-charger.toml")
    assert "our-charger" in catalogue.names("charger")
    assert "charger-6k6-400v" in catalogue.names("charger")


@pytest.mark.arithmetic
def test_an_own_part_replaces_the_built_in_one_and_the_last_folder_wins(tmp_path):
    first, second = tmp_path / "a", tmp_path / "b"
    put(first, "charger", "charger-6k6-400v", CHARGER)
    put(second, "charger", "charger-6k6-400v", CHARGER.replace("3 kW", "4 kW"))
    assert Catalogue((first,)).get("charger", "charger-6k6-400v").values["power"].si == 3000.0
    both = Catalogue((first, second))
    assert both.get("charger", "charger-6k6-400v").values["power"].si == 4000.0
    assert both.names("charger").count("charger-6k6-400v") == 1


@pytest.mark.arithmetic
def test_a_part_may_start_from_another_and_say_what_differs(tmp_path):
    put(tmp_path, "motor", "rewound", 'part = "pm-radial-75kw"\npeak_torque = "150 N.m"\n')
    catalogue = Catalogue((tmp_path,))
    rewound, base = catalogue.get("motor", "rewound"), catalogue.get("motor", "pm-radial-75kw")
    assert rewound.values["peak_torque"] == Value(150.0, "N.m", "part", "motor/rewound")
    assert rewound.values["mass"] == base.values["mass"]
    assert rewound.tables["envelope"] == base.tables["envelope"]


@pytest.mark.arithmetic
def test_a_nested_cell_can_be_changed_replaced_or_written_out(tmp_path):
    changed = 'part = "nmc-module-8s1p-60ah"\n[cell]\ncapacity = "54 Ah"\n'
    replaced = 'part = "nmc-module-8s1p-60ah"\ncell = "nmc-prismatic-50ah"\n'
    put(tmp_path, "module", "aged", changed)
    put(tmp_path, "module", "recelled", replaced)
    catalogue = Catalogue((tmp_path,))
    aged = catalogue.get("module", "aged")
    assert aged.values["cell.capacity"] == Value(54 * 3600.0, "C", "part", "module/aged")
    assert aged.values["cell.max_voltage"].ref == "cell/nmc-pouch-60ah"
    assert aged.values["cell.max_voltage"].si == pytest.approx(4.2)
    assert aged.parts["cell"] == "nmc-pouch-60ah"
    recelled = catalogue.get("module", "recelled")
    assert recelled.parts["cell"] == "nmc-prismatic-50ah"
    assert recelled.values["cell.capacity"].si == pytest.approx(50 * 3600)

    text = (BUILT_IN / "cell" / "nmc-pouch-60ah.toml").read_text()
    in_full = "series = 4\nparallel = 1\n[cell]\n" + text.replace("\n[", "\n[cell.")
    put(tmp_path, "module", "home-made", in_full)
    home_made = Catalogue((tmp_path,)).get("module", "home-made")
    assert home_made.parts["cell"] == "home-made-cell"
    assert home_made.tables["cell.r1"] == catalogue.get("cell", "nmc-pouch-60ah").tables["r1"]


@pytest.mark.arithmetic
def test_a_part_is_read_once_and_the_folder_does_not_matter_after(tmp_path):
    put(tmp_path, "charger", "our-charger", CHARGER)
    catalogue = Catalogue((tmp_path,))
    part = catalogue.get("charger", "our-charger")
    (tmp_path / "charger" / "our-charger.toml").unlink()
    assert catalogue.get("charger", "our-charger") is part


@pytest.mark.arithmetic
def test_an_unknown_part_brings_the_nearest_name():
    with pytest.raises(InputError) as caught:
        Catalogue().get("motor", "pm-radial-75kW")
    (problem,) = caught.value.problems
    assert problem.message == "there is no motor called 'pm-radial-75kW'"
    assert problem.nearest == "pm-radial-75kw"
    assert "induction-30kw" in problem.allowed


@pytest.mark.arithmetic
def test_an_unknown_kind_of_part_brings_the_nearest_kind():
    catalogue = Catalogue()
    assert catalogue.names("engine") == ()
    with pytest.raises(InputError, match="there is no kind of part called 'motors'") as caught:
        catalogue.get("motors", "pm-radial-75kw")
    assert caught.value.problems[0].nearest == "motor"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "name",
    ["../motor/pm-radial-75kw", "/etc/passwd", "a/b", "..", "", "A-Motor", "-a", "a--b", "a" * 101],
)
def test_a_name_that_could_be_a_path_names_no_part(name):
    assert not is_part_name(name)
    with pytest.raises(InputError, match="there is no motor called"):
        Catalogue().get("motor", name)


@pytest.mark.arithmetic
def test_a_folder_that_is_not_there_is_said(tmp_path):
    with pytest.raises(InputError, match="there is no such folder of parts"):
        Catalogue((tmp_path / "parts",))


@pytest.mark.arithmetic
def test_every_fault_of_a_file_is_told_at_once_with_its_line(tmp_path):
    text = (
        'resembles = "a sheet"\n'
        'min_voltage = "250 V"\n'
        'max_voltige = "430 V"\n'
        'dc_current_limit = "300 kg"\n'
        "phase_current_limit = 340\n"
    )
    put(tmp_path, "inverter", "odd", text)
    found = problems_of(tmp_path, "inverter", "odd")
    by_path = {problem.path: problem for problem in found}
    assert by_path["max_voltige"].nearest == "max_voltage"
    assert by_path["max_voltige"].line == 3
    assert by_path["dc_current_limit"].line == 4
    assert "A" in by_path["dc_current_limit"].allowed
    assert by_path["phase_current_limit"].given == "340"
    assert by_path["max_voltage"].message == "missing: highest dc voltage it runs at"
    assert all(problem.file.endswith("odd.toml") for problem in found)
    assert [problem.line or 0 for problem in found] == sorted(p.line or 0 for p in found)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "raw", "path", "message"),
    [
        ("charger", {"min_voltage": "150 V", "max_voltage": "80 V"}, "min_voltage", "is above"),
        ("charger", {"min_voltage": "nan V"}, "min_voltage", ""),
        ("charger", {"power": "-3 kW"}, "power", "too low"),
        ("charger", {"part": "no-such"}, "part", "there is no charger called 'no-such'"),
        ("charger", {"part": 3}, "part", "this does not name a part"),
        ("gearbox", {"ratios": [1.0, 3.4]}, "ratios", "do not fall"),
        (
            "fuse",
            {"rating": "200 A", "min_breaking": "30 kA", "breaking": "20 kA"},
            "min_breaking",
            "is above breaking",
        ),
        (
            "fuse",
            {"pre_arcing_i2t": "9000 A^2.s", "clearing_i2t": "8000 A^2.s"},
            "pre_arcing_i2t",
            "is above clearing_i2t",
        ),
        (
            "fuse",
            {
                "part": "fuse-40a-500vdc",
                "melting": {"x": [60, 90], "y": [10, 20], "x_unit": "A", "y_unit": "s"},
            },
            "melting",
            "does not fall as the current rises",
        ),
        ("contactor", {"pull_in": "7 V", "drop_out": "9 V"}, "drop_out", "is above pull_in"),
        (
            "contactor",
            {
                "part": "contactor-500vdc-50a",
                "overload": {"x": [10, 60], "y": [100, 120], "x_unit": "s", "y_unit": "A"},
            },
            "overload",
            "does not fall as the time grows",
        ),
        ("gearbox", {"ratios": []}, "ratios", "above zero"),
        ("gearbox", {"ratios": [3.4, 1.0], "use": [3]}, "use", "not in the gearbox"),
        ("module", {"part": "nmc-module-8s1p-60ah", "cell": "no-such"}, "cell", "no cell called"),
        (
            "module",
            {"part": "nmc-module-8s1p-60ah", "cell": {"mas": "1 kg"}},
            "cell.mas",
            "no cell has such an entry",
        ),
        (
            "cell",
            {"part": "nmc-pouch-60ah", "ocv": {"x": [0, 1], "y": [4.2, 3.0], "y_unit": "V"}},
            "ocv",
            "falls as the charge rises",
        ),
        (
            "motor",
            {
                "part": "pm-radial-75kw",
                "envelope": {"x": [0, 9], "y": [1, -1], "x_unit": "rpm", "y_unit": "N.m"},
            },
            "envelope",
            "below zero",
        ),
    ],
)
def test_a_part_that_cannot_be_true_is_refused(kind, raw, path, message):
    part, problems = read_part(kind, "mine", raw, file="mine.toml", catalogue=Catalogue())
    assert part is None
    assert [problem.path for problem in problems] == [path]
    assert message in problems[0].message


@pytest.mark.arithmetic
def test_a_resistance_of_nothing_is_refused():
    table = {"rows": [0, 25], "row_unit": "degC", "columns": [0, 1], "z_unit": "mohm"}
    raw = {"part": "nmc-pouch-60ah", "r1": {**table, "z": [[1, 1], [1, 0]]}}
    part, problems = read_part("cell", "mine", raw, file="mine.toml", catalogue=Catalogue())
    assert part is None
    assert problems[0].message == "a resistance is not above zero"


@pytest.mark.arithmetic
def test_parts_that_start_from_each_other_are_refused(tmp_path):
    put(tmp_path, "charger", "one", 'part = "two"\n')
    put(tmp_path, "charger", "two", 'part = "one"\n')
    (problem,) = problems_of(tmp_path, "charger", "one")
    assert problem.message == "'one' starts from itself"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"power = = 3", "this is not TOML"),
        (b'power = "3 kW"\npower = "4 kW"\n', "this is not TOML"),
        (b"\xff\xfe\x00binary", "the file is not UTF-8 text"),
        (b"power = " + b"[" * 5000 + b"]" * 5000, "the file is nested too deep"),
        (b"#" * 2_000_001, "the file is too big"),
    ],
)
def test_a_file_that_is_no_part_is_one_clear_problem(tmp_path, content, message):
    put(tmp_path, "charger", "broken", content)
    (problem,) = problems_of(tmp_path, "charger", "broken")
    assert problem.message.startswith(message)
    assert problem.file.endswith("broken.toml")


@pytest.mark.arithmetic
def test_a_fault_in_the_part_started_from_is_told_of_that_file(tmp_path):
    put(tmp_path, "charger", "base", 'power = "3 kg"\n')
    put(tmp_path, "charger", "mine", 'part = "base"\n')
    (problem,) = problems_of(tmp_path, "charger", "mine")
    assert problem.file.endswith("base.toml")
    assert problem.line == 1


@pytest.mark.guard
@pytest.mark.parametrize("kind", PART_FIELDS)
def test_a_part_of_nothing_lacks_exactly_what_its_kind_requires(kind):
    required = {row.path for row in PART_FIELDS[kind] if row.required}
    part, problems = read_part(kind, "empty", {}, file="empty.toml", catalogue=Catalogue())
    missing = {problem.path for problem in problems if problem.message.startswith("missing: ")}
    assert missing == required
    assert (part is None) == bool(required)


KEYS = st.sampled_from(["part", "cell", "series", "mass", "joint_resistance", "ocv"]) | st.text()
ENTRIES = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=8,
)


@pytest.mark.property
@given(kind=st.sampled_from(list(PART_FIELDS)), raw=st.dictionaries(KEYS, ENTRIES, max_size=5))
def test_any_table_is_a_part_or_says_why_not(kind, raw):
    part, problems = read_part(kind, "mine", raw, file="mine.toml", catalogue=Catalogue())
    assert (part is None) == bool(problems)
    assert all(problem.message and problem.file for problem in problems)
