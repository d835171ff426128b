from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from build_file_texts import FULL, HALF_EMPTY, with_line
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.build.edit import content_hash, edit, read_document, save
from swapwright.build.lines import lines_of
from swapwright.build.load import load_text
from swapwright.build.shape import rows_by_path


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    """Return the lines taken out and put in, between an equal start and an equal end."""
    old, new = before.split("\n"), after.split("\n")
    start = 0
    while start < min(len(old), len(new)) and old[start] == new[start]:
        start += 1
    end = 0
    while end < min(len(old), len(new)) - start and old[-1 - end] == new[-1 - end]:
        end += 1
    return old[start : len(old) - end], new[start : len(new) - end]


SPLICED = (FULL, HALF_EMPTY)


def written_paths(text: str) -> list[str]:
    """Return the paths of the values a text has, tables and lists left out."""
    lines = lines_of(text)
    return [path for path in lines if path in rows_by_path() or "[" in path]


CHANGES = [
    ("car.kerb_mass", "1060 kg", 'kerb_mass = "1060 kg"'),
    ("car.mark", "D", 'mark      = "D"                 # ours'),
    ("pack.modules_per_string", "11", "modules_per_string = 11"),
    ("drive.final_drive", "4.10", "final_drive = 4.10"),
    ("drive.final_drive", "4.1:1", 'final_drive = "4.1:1"'),
    ("mass[1].x", "0.2 m", 'x    = "0.2 m"'),
    ("shop.gloves_tested", "2026-11-01", "gloves_tested = 2026-11-01"),
    (
        "drive.inverter.dc_current_limit",
        "200 A",
        'inverter = { part = "inverter-400v-300a", dc_current_limit = "200 A" }'
        "   # name and a change",
    ),
    ("drive.motor", "pm-axial-60kw", 'motor    = "pm-axial-60kw"     # by name'),
    (
        "drive.motor.peak_time",
        "12 s",
        'motor    = {part = "pm-radial-75kw", peak_time = "12 s"}     # by name',
    ),
    ("pack.boxes[1].modules", "6", '    { name = "rear", modules = 6, at = "2.40 m" },'),
    ("lv.load[0].duty.night", "0.9", "duty    = { night = 0.9 }"),
    (
        "drive.gearbox.use",
        "[1, 2]",
        'gearbox  = { ratios = [3.6, 2.1, 1.4, 1.0], use = [1, 2], torque_limit = "140 N.m" }',
    ),
]


@pytest.mark.arithmetic
@pytest.mark.parametrize(("path", "typed", "line"), CHANGES, ids=[row[0] for row in CHANGES])
def test_a_change_touches_one_line_and_nothing_else_on_it(path: str, typed: str, line: str) -> None:
    out, put = changed_lines(FULL, edit(FULL, path, typed))
    assert (len(out), put) == (1, [line])


ADDITIONS = [
    ("goals.top_speed", "80 mph", ['top_speed = "80 mph"']),
    ("hv.interlock", "true", ["interlock = true"]),
    ("mass[2].load", "two people", ["[[mass]]", 'load = "two people"']),
    ("charging.charger", "charger-11k-400v", ['charger = "charger-11k-400v"']),
    ("drive.second.motor", "pm-radial-75kw", ['second = {motor = "pm-radial-75kw"}']),
    ("brakes.booster", "none", ["", "[brakes]", 'booster = "none"']),
    ("hv.cable[1].to", "motor", ["[[hv.cable]]", 'to = "motor"']),
    ("network.message[0].name", "torque", ["[[network.message]]", 'name = "torque"']),
]


@pytest.mark.arithmetic
@pytest.mark.parametrize(("path", "typed", "lines"), ADDITIONS, ids=[row[0] for row in ADDITIONS])
def test_an_addition_keeps_every_line_there_was(path: str, typed: str, lines: list[str]) -> None:
    out, put = changed_lines(FULL, edit(FULL, path, typed))
    assert out in ([], [""])
    assert [line for line in put if line] == [line for line in lines if line]


@pytest.mark.arithmetic
def test_a_list_in_one_line_takes_a_further_row() -> None:
    text = 'format = 1\n[pack]\nboxes = [ { name = "front" } ]  # one\nstrings = 1\n'
    _, put = changed_lines(text, edit(text, "pack.boxes[1].name", "rear"))
    assert put == ['boxes = [ { name = "front" }, {name = "rear"} ]  # one']


@pytest.mark.arithmetic
def test_taking_a_value_out_takes_its_line_and_no_other() -> None:
    assert changed_lines(FULL, edit(FULL, "car.wheelbase", None)) == (['wheelbase = "2.40 m"'], [])
    out, put = changed_lines(FULL, edit(FULL, "drive.regen.off_above_soc", None))
    assert len(out) == len(put) == 1
    assert tomllib.loads(put[0]) == {"regen": {"off_below_cell": "5 degC"}}
    out, put = changed_lines(FULL, edit(FULL, "mass[0]", None))
    row = ["[[mass]]", 'remove = "engine and ancillaries"', 'mass   = "135 kg"']
    assert (out[:3], len(out), put) == (row, 5, [])


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("path", "typed", "words"),
    [
        ("car.kerbmass", "1 kg", "did you mean: kerb_mass"),
        ("mass[4].x", "1 m", "there is no row 4; the next new one is 2"),
        ("car.limits", "1 kg", "this is a section"),
        ("car.name.first", "x", "there is nothing called first here"),
        ("car[0].name", "x", "not a list of rows"),
        ("car..name", "x", "not the path of a value"),
        ("__class__", "x", "there is no such key"),
        ("brakes.booster", None, "nothing here to take out"),
        ("mass[7]", None, "nothing here to take out"),
        ("drive.gearbox.ratios", "[3.6, ", "cannot be changed"),
        ("drive.motor", "{ part = ", "cannot be changed"),
        ("drive.gearbox.ratios", '[1]\n[car]\nname = "x"', "cannot be changed"),
    ],
)
def test_what_cannot_be_changed_is_refused(path: str, typed: str | None, words: str) -> None:
    with pytest.raises(InputError, match=words.replace("[", r"\[")):
        edit(FULL, path, typed)


@pytest.mark.arithmetic
def test_a_document_that_is_not_toml_is_refused() -> None:
    with pytest.raises(InputError, match="cannot be changed"):
        edit("format = 1\n[car\n", "car.name", "x")


@pytest.mark.arithmetic
def test_windows_lines_and_a_byte_order_mark_are_kept() -> None:
    text = "\ufeff" + HALF_EMPTY.replace("\n", "\r\n")
    assert edit(text, "car.name", "mine") == text.replace("not weighed yet", "mine")


@pytest.mark.arithmetic
def test_a_value_put_in_and_taken_out_again_leaves_the_file_as_it_was() -> None:
    for path, typed in (("car.body", "1968 saloon"), ("hv.bonding", "0.02 ohm")):
        assert edit(edit(FULL, path, typed), path, None) == FULL


PLAIN = [
    "car.name",
    "car.kerb_mass",
    "car.grip",
    "goals.climb.grade",
    "conditions.altitude",
    "drive.motor.peak_power",
    "pack.strings",
    "pack.module.cell.capacity",
    "pack.boxes[0].at",
    "hv.main_fuse.rating",
    "hv.branch[0].fuse.poles",
    "hv.cable[0].routing",
    "lv.load[0].duty.parked",
    "mass[0].z",
    "mass[2].add",
    "cooling.loop[0].pump.flow",
    "network.bus[1].name",
    "brakes.reservoir",
    "drive.second.motor",
    "accepted[0].reason",
]
TYPED = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["2", "-0.5", "1_0", "0x1", "true", "[1", '"', "'''", "# no", "a\nb", "3 kg"]),
)


def value_at(content: Any, path: str) -> Any:
    for step in path.replace("[", ".[").split("."):
        content = content[int(step[1:-1])] if step.startswith("[") else content[step]
    return content


@pytest.mark.property
@settings(deadline=None, max_examples=150)
@given(path=st.sampled_from(PLAIN), typed=TYPED)
def test_any_text_can_be_typed_and_every_other_line_stays(path: str, typed: str) -> None:
    after = edit(FULL, path, typed)
    out, put = changed_lines(FULL, after)
    assert len(out) <= 1
    assert len(put) <= 4
    kept = value_at(tomllib.loads(after), path)
    assert kept == typed or str(kept).lower() == typed.strip().lower().removeprefix("+")


@pytest.mark.property
@settings(deadline=None, max_examples=40)
@given(changes=st.lists(st.tuples(st.sampled_from(PLAIN), st.just("4")), max_size=6))
def test_changes_one_after_another_keep_every_comment(changes: list[tuple[str, str]]) -> None:
    text = FULL
    for path, typed in changes:
        text = edit(text, path, typed)
    comments = [line.partition("#")[2] for line in FULL.splitlines() if "#" in line]
    assert [line.partition("#")[2] for line in text.splitlines() if "#" in line] == comments


@pytest.mark.arithmetic
def test_every_place_of_a_build_file_can_be_set_in_an_empty_one() -> None:
    places = [path.replace("[]", "[0]") for path in rows_by_path() if path != "format"]
    for path in places:
        after = edit("format = 1\n", path, "[1]")
        assert after.startswith("format = 1\n")
        assert value_at(tomllib.loads(after), path) in ("[1]", [1])


@pytest.mark.arithmetic
def test_an_edited_build_loads() -> None:
    build = load_text(edit(FULL, "pack.usable.to", "90 %"), "car.toml")
    assert build.raw["pack"]["usable"]["to"] == "90 %"
    with pytest.raises(InputError, match=r"pack\.modules_per_string"):
        load_text(edit(FULL, "pack.modules_per_string", "eleven"), "car.toml")


@pytest.mark.arithmetic
def test_a_save_replaces_the_whole_file_and_nothing_else_stands_in_the_folder(
    tmp_path: Path,
) -> None:
    file = tmp_path / "car.toml"
    file.write_bytes(FULL.encode())
    file.chmod(0o640)
    text, known = read_document(file)
    changed = edit(text, "car.name", "Grüner Käfer")
    assert save(file, changed, known) == content_hash(changed) == read_document(file)[1]
    assert file.read_bytes() == changed.encode()
    assert [entry.name for entry in tmp_path.iterdir()] == ["car.toml"]
    assert file.stat().st_mode & 0o777 == 0o640


@pytest.mark.arithmetic
def test_a_save_over_somebody_elses_change_is_refused_and_writes_nothing(tmp_path: Path) -> None:
    file = tmp_path / "car.toml"
    file.write_bytes(FULL.encode())
    text, known = read_document(file)
    theirs = with_line(FULL, '"1050 kg"', '"1049 kg"')
    file.write_bytes(theirs.encode())
    with pytest.raises(InputError, match="changed by someone else"):
        save(file, edit(text, "car.name", "x"), known)
    assert file.read_bytes() == theirs.encode()


@pytest.mark.arithmetic
def test_a_save_that_fails_half_way_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "car.toml"
    file.write_bytes(FULL.encode())

    def full_disk(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full_disk)
    with pytest.raises(InputError, match="cannot be written: No space left"):
        save(file, "format = 1\n", content_hash(FULL))
    assert file.read_bytes() == FULL.encode()
    assert [entry.name for entry in tmp_path.iterdir()] == ["car.toml"]


@pytest.mark.arithmetic
def test_a_file_that_is_gone_cannot_be_saved_over(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        save(tmp_path / "car.toml", "format = 1\n", content_hash(""))


@pytest.mark.property
@settings(deadline=None)
@given(st.data())
def test_a_line_spliced_says_the_same_as_the_document_taken_apart(data):
    text = data.draw(st.sampled_from(SPLICED), label="car")
    path = data.draw(st.sampled_from(sorted(written_paths(text))), label="path")
    typed = data.draw(st.sampled_from(("7", '12 "kg" # \\ no', "0.3..0.4", "true", "[1, 2]", "")))
    try:
        spliced = edit(text, path, typed)
    except InputError:
        return
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("swapwright.build.edit._spliced", lambda *_: None)
        taken_apart = edit(text, path, typed)
    assert tomllib.loads(spliced) == tomllib.loads(taken_apart)
    assert len(spliced.splitlines()) == len(taken_apart.splitlines())
