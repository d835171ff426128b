from __future__ import annotations

import os
import stat
import threading
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.build.edit import content_hash, read_document
from swapwright.build.load import MAX_BYTES
from swapwright.catalogue.read import Catalogue
from swapwright.jobs import desk as desk_module
from swapwright.jobs.desk import Desk
from swapwright.jobs.starting import write_starter

TODAY = date(2026, 11, 27)
TEXT = """\
# The coupe, as agreed with the owner.
format = 1

[car]                       # the donor
name      = "coupe"         # our name for it
kerb_mass = "1180 kg"       # four pads, tank a third full
wheelbase = "2.43 m"

[goals]
occupants = 2               # most days
region    = "EU"

[[mass]]
remove = "engine"           # with its gearbox bell
mass   = "148 kg"
x      = "0.1 m"

[[mass]]
add  = "pack"
mass = "182 kg"
x    = "2.2 m"
"""
BROKEN = TEXT.replace('"1180 kg" ', '"heavy"')
NO_TOML = TEXT.replace("[goals]", "[goals")

arithmetic = pytest.mark.arithmetic


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "coupe.toml"
    path.write_text(TEXT)
    return path


@pytest.fixture
def desk(file: Path) -> Desk:
    return Desk(file, Catalogue(), lambda: TODAY)


def hash_now(desk: Desk) -> str:
    return desk.look().hash


# One person, one file.


@arithmetic
def test_a_change_is_on_disk_at_once_and_nothing_else_is_touched(desk: Desk, file: Path):
    changed = desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    assert not changed.problems
    assert file.read_text() == TEXT.replace("1180 kg", "1200 kg")
    assert changed.look.checked is not None
    assert changed.look.checked.opened.car.values["car.kerb_mass"].si == 1200.0


@arithmetic
def test_undo_and_redo_go_back_and_forth_byte_for_byte(desk: Desk, file: Path):
    texts = [TEXT]
    for mass in ("1190 kg", "1200 kg", "1210 kg"):
        desk.change({"car.kerb_mass": mass}, hash_now(desk))
        texts.append(file.read_text())
    for text in texts[-2::-1]:
        assert desk.undo(hash_now(desk)).text == text == file.read_text()
    assert not desk.look().can_undo
    for text in texts[1:]:
        assert desk.redo(hash_now(desk)).text == text == file.read_text()
    assert not desk.look().can_redo


@arithmetic
def test_undo_with_nothing_to_take_back_does_nothing(desk: Desk, file: Path):
    assert not desk.undo().problems
    assert not desk.redo().problems
    assert file.read_text() == TEXT


@arithmetic
def test_a_change_that_says_what_is_said_already_is_no_step(desk: Desk):
    desk.change({"car.kerb_mass": "1180 kg"}, hash_now(desk))
    assert not desk.look().can_undo


@arithmetic
def test_a_new_change_ends_what_could_be_made_again(desk: Desk):
    desk.change({"car.kerb_mass": "1190 kg"}, hash_now(desk))
    desk.undo()
    desk.change({"car.wheelbase": "2.5 m"}, hash_now(desk))
    assert not desk.look().can_redo


@arithmetic
@pytest.mark.parametrize("typed", ["heavy", "12 V", "", "-3 kg"])
def test_a_value_that_cannot_be_is_told_at_its_entry_and_not_written(
    desk: Desk, file: Path, typed: str
):
    changed = desk.change({"car.kerb_mass": typed}, hash_now(desk))
    assert changed.problems[0].path == "car.kerb_mass"
    assert not changed.look.problems
    assert file.read_text() == TEXT


@arithmetic
def test_of_several_entries_all_are_written_or_none(desk: Desk, file: Path):
    changed = desk.change({"car.name": "x", "car.kerb_mass": "heavy"}, hash_now(desk))
    assert [each.path for each in changed.problems] == ["car.kerb_mass"]
    assert file.read_text() == TEXT


@arithmetic
@pytest.mark.parametrize("path", ["car.colour", "../other", "car", "mass", "mass[7].x", "", "a..b"])
def test_a_path_that_is_no_entry_is_refused_in_words(desk: Desk, file: Path, path: str):
    assert desk.change({path: "1"}, hash_now(desk)).problems
    assert file.read_text() == TEXT


ENTRIES = {
    "car.name": ["x", "the coupe # 2"],
    "car.kerb_mass": ["1190 kg", "2600 lb"],
    "car.wheelbase": ["96 in", None],
    "car.mark": ["B"],
    "goals.occupants": ["1", "4"],
    "goals.top_speed": ["130 km/h"],
    "mass[0].x": ["0.2 m", None],
    "mass[1].mass": ["190 kg"],
    "pack.strings": ["2"],
    "conditions.cold_day": ["-5 degC"],
}


@pytest.mark.property
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(st.sampled_from([(p, t) for p, ts in ENTRIES.items() for t in ts]), max_size=6))
def test_every_comment_outlives_every_change(tmp_path: Path, changes: list[tuple[str, str | None]]):
    file = tmp_path / "coupe.toml"
    file.write_text(TEXT)
    desk = Desk(file, Catalogue(), lambda: TODAY)
    for path, typed in changes:
        desk.change({path: typed}, hash_now(desk))
    now = file.read_text()
    for line in TEXT.splitlines():
        entry, _, comment = line.partition("#")
        assert f"#{comment}" in now
        name = entry.partition("=")[0].strip()
        if entry and not any(path.endswith(f".{name}") for path in ENTRIES):
            assert line in now.splitlines()
    for _ in changes:
        desk.undo()
    assert file.read_text() == TEXT


@arithmetic
def test_a_file_with_a_byte_mark_and_windows_lines_keeps_both(desk: Desk, file: Path):
    text = "\ufeff" + TEXT.replace("\n", "\r\n")
    file.write_bytes(text.encode())
    look = desk.look()
    assert not look.problems
    desk.change({"car.kerb_mass": "1200 kg"}, look.hash)
    assert file.read_bytes().decode() == text.replace("1180 kg", "1200 kg")
    desk.save_revision("as it came")
    saved = desk.shelf.last()
    assert saved is not None
    assert desk.shelf.text_of(saved).encode() == file.read_bytes()


# Two at one file.


@arithmetic
def test_two_tabs_that_change_different_entries_lose_nothing(desk: Desk, file: Path):
    opened = hash_now(desk)
    desk.change({"car.kerb_mass": "1200 kg"}, opened)
    assert desk.change({"car.wheelbase": "2.5 m"}, opened).conflict is None
    assert file.read_text() == TEXT.replace("1180 kg", "1200 kg").replace("2.43 m", "2.5 m")


@arithmetic
def test_two_tabs_that_change_one_entry_are_told_of_each_other(desk: Desk, file: Path):
    opened = hash_now(desk)
    desk.change({"car.kerb_mass": "1200 kg"}, opened)
    conflict = desk.change({"car.kerb_mass": "1210 kg"}, opened).conflict
    assert conflict is not None
    assert (conflict.before, conflict.now, conflict.typed) == ("1180 kg", "1200 kg", "1210 kg")
    assert "1200 kg" in file.read_text()
    desk.change({"car.kerb_mass": "1210 kg"}, opened, is_forced=True)
    assert "1210 kg" in file.read_text()
    assert "1200 kg" in desk.undo().text


@arithmetic
def test_rows_two_tabs_add_are_both_there(desk: Desk, file: Path):
    opened = hash_now(desk)
    for what in ("charger", "cables"):
        added = desk.change({"mass[2].add": what, "mass[2].mass": "9 kg"}, opened)
        assert not added.problems
        assert added.conflict is None
    assert [each["add"] for each in desk.look().checked.opened.build.raw["mass"][1:]] == [  # type: ignore[union-attr]
        "pack",
        "charger",
        "cables",
    ]


@arithmetic
def test_a_change_made_in_an_editor_meanwhile_is_kept_beside_ones_own(desk: Desk, file: Path):
    opened = hash_now(desk)
    file.write_text(TEXT.replace("2.43 m", "2.50 m"))
    assert desk.change({"car.kerb_mass": "1200 kg"}, opened).conflict is None
    assert file.read_text() == TEXT.replace("2.43 m", "2.50 m").replace("1180 kg", "1200 kg")


@arithmetic
@pytest.mark.parametrize("based_on", ["", "0" * 64])
def test_a_page_older_than_anyone_remembers_writes_over_nothing(desk: Desk, file: Path, based_on):
    conflict = desk.change({"car.kerb_mass": "1200 kg"}, based_on).conflict
    assert conflict is not None
    assert not conflict.is_before_known
    assert conflict.now == "1180 kg"
    assert file.read_text() == TEXT
    assert desk.change({"car.mark": "B"}, based_on).conflict is None


@arithmetic
def test_the_text_at_hand_is_remembered_however_many_came_between(desk: Desk, monkeypatch):
    monkeypatch.setattr(desk_module, "MOST_KEPT", 3)
    opened = hash_now(desk)
    for mass in ("1190 kg", "1200 kg"):
        desk.change({"car.kerb_mass": mass}, hash_now(desk))
    desk.undo()
    desk.undo()
    desk.change({"car.wheelbase": "2.5 m"}, opened)
    desk.undo()
    assert hash_now(desk) == opened
    assert desk.change({"car.kerb_mass": "1210 kg"}, opened).conflict is None


@arithmetic
def test_many_at_once_who_change_different_entries_all_find_their_own(desk: Desk, file: Path):
    opened = hash_now(desk)
    typed = {
        "car.kerb_mass": "1201 kg",
        "car.wheelbase": "2.51 m",
        "car.mark": "B7",
        "car.name": "nine",
        "goals.occupants": "3",
        "goals.top_speed": "131 km/h",
        "mass[0].x": "0.11 m",
        "mass[1].x": "2.21 m",
        "pack.strings": "2",
        "conditions.cold_day": "-6 degC",
    }
    failed: list[object] = []

    def type_in(path: str, text: str) -> None:
        changed = desk.change({path: text}, opened)
        if changed.problems or changed.conflict:
            failed.append(changed)

    threads = [threading.Thread(target=type_in, args=pair) for pair in typed.items()]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    now = file.read_text()
    assert all(text in now for text in typed.values())
    for _ in typed:
        desk.undo()
    assert file.read_text() == TEXT


@arithmetic
def test_undo_does_not_take_back_what_the_person_has_not_seen(desk: Desk, file: Path):
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    seen = hash_now(desk)
    by_hand = TEXT.replace("2.43 m", "2.50 m")
    file.write_text(by_hand)
    with pytest.raises(InputError, match="changed since this page was made"):
        desk.undo(seen)
    assert file.read_text() == by_hand
    assert desk.undo(hash_now(desk)).hash == seen
    assert desk.undo(seen).text == TEXT
    assert desk.redo(hash_now(desk)).hash == seen
    assert desk.redo(seen).text == by_hand


@arithmetic
def test_undo_pressed_twice_on_one_page_takes_back_two_changes(desk: Desk, file: Path):
    for mass in ("1190 kg", "1200 kg"):
        desk.change({"car.kerb_mass": mass}, hash_now(desk))
    seen = hash_now(desk)
    desk.undo(seen)
    assert desk.undo(seen).text == TEXT


@arithmetic
def test_a_file_changed_between_reading_and_writing_is_not_written_over(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
):
    opened = hash_now(desk)
    real, by_hand = desk_module.save, TEXT.replace("2.43 m", "2.50 m")

    def later(path: Path, text: str, expected: str) -> str:
        path.write_text(by_hand)
        return real(path, text, expected)

    monkeypatch.setattr(desk_module, "save", later)
    changed = desk.change({"car.kerb_mass": "1200 kg"}, opened)
    assert "changed by someone else" in changed.problems[0].message
    assert file.read_text() == by_hand
    assert changed.look.text == by_hand


@arithmetic
def test_a_file_changed_while_the_new_one_is_written_is_not_written_over(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
):
    opened = hash_now(desk)
    by_hand, real = TEXT.replace("2.43 m", "2.50 m"), os.fsync

    def slowly(handle: int) -> None:
        real(handle)
        file.write_text(by_hand)

    monkeypatch.setattr("swapwright.build.edit.os.fsync", slowly)
    changed = desk.change({"car.kerb_mass": "1200 kg"}, opened)
    assert "changed by someone else" in changed.problems[0].message
    assert changed.problems[0].file == "coupe.toml"
    assert file.read_text() == by_hand
    assert list(file.parent.iterdir()) == [file]


@arithmetic
def test_two_workbenches_at_one_file_lose_nothing_that_was_taken(file: Path):
    taken: dict[str, str] = {}

    def type_many(path: str, words: str) -> None:
        own = Desk(file, Catalogue(), lambda: TODAY)
        for number in range(40):
            typed = words.format(number)
            if not own.change({path: typed}, hash_now(own), is_forced=True).problems:
                taken[path] = typed

    entries = {
        "car.wheelbase": "2.{:02d} m",
        "mass[1].x": "2.{:02d}1 m",
        "goals.top_speed": "1{:02d} km/h",
    }
    threads = [threading.Thread(target=type_many, args=each) for each in entries.items()]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert set(taken) == set(entries)
    now = read_document(file)[0]
    assert all(f'"{typed}"' in now for typed in taken.values())


# A file that is broken, lost, or cannot be written.


@arithmetic
@pytest.mark.parametrize("broken", [BROKEN, NO_TOML, "", "format = 9\n", "\x00"])
def test_a_file_broken_on_disk_is_told_and_left_as_it_is(desk: Desk, file: Path, broken: str):
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    seen = hash_now(desk)
    file.write_text(broken)
    look = desk.look()
    assert look.problems
    assert look.is_stale
    assert look.checked is not None
    assert (look.can_undo, look.can_redo, look.can_restore) == (False, False, True)
    for based_on in (seen, look.hash):
        assert desk.change({"car.wheelbase": "2.5 m"}, based_on).problems
        assert desk.change({"car.kerb_mass": "1 t"}, based_on, is_forced=True).problems
        assert desk.replace_text(TEXT, based_on).problems
        with pytest.raises(InputError, match="left as it is"):
            desk.undo(based_on)
    assert desk.save_revision("broken").problems
    assert desk.shelf.all() == ()
    assert file.read_text() == broken


@arithmetic
def test_a_broken_file_is_replaced_only_where_that_is_said_and_is_kept_to_undo(
    desk: Desk, file: Path
):
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    good = file.read_text()
    file.write_text(NO_TOML)
    assert not desk.restore(hash_now(desk)).problems
    assert file.read_text() == good
    assert desk.undo().problems
    assert file.read_text() == NO_TOML
    desk.restore()
    assert file.read_text() == good
    desk.undo()
    assert file.read_text() == NO_TOML


@arithmetic
def test_what_was_last_seen_broken_is_not_replaced_once_it_says_something_else(
    desk: Desk, file: Path
):
    desk.look()
    file.write_text(NO_TOML)
    seen = hash_now(desk)
    file.write_text(BROKEN)
    assert "changed since" in desk.restore(seen).problems[0].message
    assert file.read_text() == BROKEN


@arithmetic
def test_there_is_nothing_to_put_right_in_a_sound_file(desk: Desk, file: Path):
    assert "nothing to put right" in desk.restore().problems[0].message
    assert file.read_text() == TEXT


@arithmetic
def test_a_file_broken_from_the_start_has_no_last_good_text(desk: Desk, file: Path):
    file.write_text(BROKEN)
    look = desk.look()
    assert look.checked is None
    assert not look.can_restore
    assert desk.restore().problems
    assert desk.change({"car.kerb_mass": "1180 kg"}, look.hash).problems
    assert file.read_text() == BROKEN


@arithmetic
def test_a_file_put_right_by_hand_is_undone_to_the_last_that_was_sound(desk: Desk, file: Path):
    desk.look()
    file.write_text(BROKEN)
    desk.look()
    file.write_text(TEXT.replace("1180 kg", "1200 kg"))
    assert not desk.look().problems
    assert desk.undo(hash_now(desk)).text == TEXT


@arithmetic
def test_a_file_that_is_no_text_is_never_replaced(desk: Desk, file: Path):
    desk.look()
    file.write_bytes(b"\xff\xfe\x00")
    look = desk.look()
    assert look.problems
    assert not look.can_restore
    assert desk.restore().problems
    assert desk.replace_text(TEXT, is_over_broken=True).problems
    assert desk.change({"car.kerb_mass": "1 t"}, look.hash).problems
    assert file.read_bytes() == b"\xff\xfe\x00"


@arithmetic
def test_a_file_grown_beyond_reading_is_told_and_never_replaced(desk: Desk, file: Path):
    desk.look()
    file.write_text(TEXT + "#" * 2_000_000)
    size = file.stat().st_size
    assert "too large" in desk.look().problems[0].message
    assert desk.restore().problems
    assert desk.replace_text(TEXT, is_over_broken=True).problems
    assert file.stat().st_size == size


@arithmetic
def test_no_change_makes_a_file_larger_than_can_be_read(desk: Desk, file: Path):
    full = TEXT + "#" * (MAX_BYTES - len(TEXT.encode()) - 8)
    file.write_text(full)
    changed = desk.change({"car.mark": "a mark of more than eight letters"}, hash_now(desk))
    assert "too large" in changed.problems[0].message
    assert desk.replace_text(full + "#" * 9, hash_now(desk)).problems
    assert file.read_text() == full
    assert not desk.change({"car.name": None, "car.kerb_mass": "1 t"}, hash_now(desk)).problems


@arithmetic
def test_a_pipe_in_a_file_s_place_is_told_and_not_waited_for(desk: Desk, file: Path):
    desk.look()
    file.unlink()
    os.mkfifo(file)
    assert "not a file" in desk.look().problems[0].message
    assert desk.change({"car.kerb_mass": "1 t"}, "").problems
    assert desk.restore().problems
    assert stat.S_ISFIFO(file.stat().st_mode)


@arithmetic
def test_a_file_its_owner_marked_as_read_only_is_left_so(desk: Desk, file: Path):
    desk.change({"car.mark": "B"}, hash_now(desk))
    before = file.read_text()
    file.chmod(0o444)
    changed = desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    assert changed.problems[0].message == "cannot be written: the file is marked as read-only"
    with pytest.raises(InputError, match="read-only"):
        desk.undo(hash_now(desk))
    assert (file.read_text(), stat.S_IMODE(file.stat().st_mode)) == (before, 0o444)
    file.chmod(0o664)
    desk.undo(hash_now(desk))
    assert (file.read_text(), stat.S_IMODE(file.stat().st_mode)) == (TEXT, 0o664)


@arithmetic
def test_what_is_kept_to_undo_is_bounded_and_the_last_step_always_is(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(desk_module, "MOST_LETTERS", 2 * len(TEXT))
    texts = [TEXT]
    for mass in ("1190 kg", "1200 kg", "1210 kg"):
        desk.change({"car.kerb_mass": mass}, hash_now(desk))
        texts.append(file.read_text())
    assert desk.undo().text == texts[2]
    assert desk.undo().text == texts[1]
    assert not desk.look().can_undo
    monkeypatch.setattr(desk_module, "MOST_LETTERS", 1)
    desk.change({"car.mark": "B"}, hash_now(desk))
    assert desk.undo().text == texts[1]


@arithmetic
def test_a_file_taken_away_is_told_and_written_anew_only_where_that_is_said(desk: Desk, file: Path):
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    good = file.read_text()
    file.unlink()
    look = desk.look()
    assert look.problems
    assert look.can_restore
    assert desk.change({"car.wheelbase": "2.5 m"}, look.hash).problems
    with pytest.raises(InputError):
        desk.undo(look.hash)
    assert not file.exists()
    assert not desk.restore(look.hash).problems
    assert file.read_text() == good
    assert desk.undo().text == TEXT


@arithmetic
def test_a_file_never_there_is_told(tmp_path: Path):
    desk = Desk(tmp_path / "none.toml", Catalogue(), lambda: TODAY)
    assert desk.look().problems
    assert desk.change({"car.name": "x"}, "").problems
    assert desk.replace_text(TEXT).problems
    assert list(tmp_path.iterdir()) == []


@arithmetic
def test_a_folder_that_takes_no_file_is_told_in_words_and_loses_no_step(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
):
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    before = file.read_text()

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patched:
        patched.setattr("swapwright.build.edit.tempfile.mkstemp", refuse)
        changed = desk.change({"car.kerb_mass": "1210 kg"}, hash_now(desk))
        assert changed.problems[0].message == "cannot be written: Permission denied"
        with pytest.raises(InputError, match="Permission denied"):
            desk.undo()
        assert file.read_text() == before
    assert desk.undo().text == TEXT
    assert desk.redo().text == before


# Revisions.


@arithmetic
def test_changes_are_shown_against_the_revision_saved_last(desk: Desk):
    desk.save_revision("as agreed")
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    look = desk.look()
    assert look.saved is not None
    assert look.saved.name == "as agreed"
    assert look.before is not None
    assert look.before.opened.build.text == TEXT
    assert look.saved.revision == look.before.assessment.revision


@arithmetic
def test_while_none_is_saved_changes_are_shown_against_the_file_as_opened(desk: Desk, file: Path):
    assert desk.look().saved is not None
    changed = desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk)).look
    assert changed.saved is not None
    assert changed.saved.name == desk_module.AS_OPENED
    assert changed.before is not None
    assert changed.before.opened.build.text == TEXT
    assert desk.shelf.all() == ()


@arithmetic
def test_faults_are_told_under_the_files_name_with_their_lines(desk: Desk, file: Path):
    file.write_text(BROKEN)
    assert [str(each) for each in desk.look().problems] == [
        "coupe.toml:6: car.kerb_mass: 'heavy' is not a number with a unit; given: heavy; "
        "allowed: a mass: kg, lb, g, t, oz, such as 1700 kg"
    ]


@arithmetic
def test_a_revision_brought_back_can_be_undone(desk: Desk, file: Path):
    desk.save_revision("as agreed")
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    changed = file.read_text()
    saved = desk.shelf.last()
    assert saved is not None
    assert not desk.replace_text(desk.shelf.text_of(saved), hash_now(desk)).problems
    assert file.read_text() == TEXT
    assert desk.undo().text == changed


@arithmetic
def test_a_revision_that_no_longer_loads_is_refused_with_every_problem(desk: Desk, file: Path):
    bad = BROKEN.replace('"2.43 m"', '"long"')
    assert len(desk.replace_text(bad).problems) == 2
    assert file.read_text() == TEXT


@arithmetic
def test_a_text_is_not_put_over_one_the_person_has_not_seen(desk: Desk, file: Path):
    seen = hash_now(desk)
    desk.change({"car.kerb_mass": "1200 kg"}, seen)
    assert desk.replace_text(TEXT, seen).problems
    assert "1200 kg" in file.read_text()


@arithmetic
def test_a_spoilt_revision_leaves_the_car_to_work_on(desk: Desk):
    desk.save_revision("as agreed")
    (desk.shelf.folder / "0001.toml").write_text("spoilt = ")
    look = desk.look()
    assert look.before is None
    assert not look.problems
    saved = look.saved
    assert saved is not None
    with pytest.raises(InputError):
        desk.of_revision(saved)


@arithmetic
def test_a_revision_that_could_not_be_noted_is_not_kept_by_half(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
):
    desk.save_revision("as agreed")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("swapwright.jobs.text_file.tempfile.mkstemp", full)
    with pytest.raises(InputError, match="No space left") as told:
        desk.save_revision("on a full disk")
    assert str(file.parent) not in str(told.value)
    assert [each.name for each in desk.shelf.all()] == ["as agreed"]
    assert {each.name for each in desk.shelf.folder.iterdir()} == {"0001.toml", "0001.json"}


@arithmetic
@pytest.mark.parametrize("what", ["pipe", "large", "device"])
def test_a_revision_that_is_no_build_file_holds_nobody_up(desk: Desk, file: Path, what: str):
    desk.shelf.folder.mkdir(parents=True)
    text, note = (desk.shelf.folder / f"0001.{ending}" for ending in ("toml", "json"))
    for path in (text, note):
        if what == "pipe":
            os.mkfifo(path)
        elif what == "device":
            path.symlink_to("/dev/zero")
        else:
            path.write_bytes(b"#" * (MAX_BYTES + 1))
    look = desk.look()
    assert (look.problems, look.before) == ((), None)
    assert look.saved is not None
    with pytest.raises(InputError, match="saved revision 1 cannot be read"):
        desk.of_revision(look.saved)


@arithmetic
def test_a_revision_s_number_is_written_in_one_way(desk: Desk):
    desk.save_revision("as agreed")
    (desk.shelf.folder / "00001.toml").write_text(TEXT)
    (desk.shelf.folder / "000002.toml").write_text(TEXT)
    assert [each.number for each in desk.shelf.all()] == [1]
    (desk.shelf.folder / "999999999.toml").write_text(TEXT)
    with pytest.raises(InputError, match="no number is left"):
        desk.save_revision("one too many")


@arithmetic
def test_a_new_car_that_could_not_be_written_whole_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    class Full:
        def __enter__(self) -> Full:
            return self

        def __exit__(self, *_: object) -> None: ...

        write = full

    monkeypatch.setattr("swapwright.jobs.text_file.os.fdopen", lambda *_: Full())
    with pytest.raises(InputError, match="No space left"):
        write_starter(tmp_path / "new.toml", {"car.name": "new"}, Catalogue())
    assert list(tmp_path.iterdir()) == []


# What an assessment rests on beside the file.


@arithmetic
def test_an_assessment_is_made_once_for_a_text(desk: Desk, monkeypatch: pytest.MonkeyPatch):
    calls: list[date] = []
    real = desk_module.assess

    def counted(car, *, today):
        calls.append(today)
        return real(car, today=today)

    monkeypatch.setattr(desk_module, "assess", counted)
    for _ in range(3):
        desk.look()
    desk.change({"car.kerb_mass": "1200 kg"}, hash_now(desk))
    desk.undo()
    assert calls == [TODAY, TODAY]


@arithmetic
def test_an_assessment_is_of_its_day(file: Path, monkeypatch: pytest.MonkeyPatch):
    days = [date(2026, 11, 27)]
    desk = Desk(file, Catalogue(), lambda: days[-1])
    first = desk.look().checked
    days.append(date(2026, 11, 28))
    assert desk.look().checked is not first


TABLE = 'drive.motor = { part = "pm-radial-75kw", envelope = { csv = "peak.csv" } }\n'


@arithmetic
def test_a_table_beside_the_file_that_changes_is_read_anew(file: Path, desk: Desk):
    table = file.with_name("peak.csv")
    table.write_text("rpm,N.m\n0,150\n4000,150\n9000,60\n")
    file.write_text("format = 1\n" + TABLE + TEXT.partition("format = 1\n")[2])
    first = desk.look()
    assert not first.problems
    assert desk.mark() == first.mark != first.hash
    assert desk.look().checked is first.checked
    table.write_text("rpm,N.m\n0,152.5\n4000,152.5\n9000,60\n")
    second = desk.look()
    assert second.hash == first.hash
    assert desk.mark() == second.mark != first.mark
    assert second.checked is not None
    assert first.checked is not None
    assert second.checked.assessment.revision != first.checked.assessment.revision
    table.unlink()
    assert desk.look().problems


@arithmetic
def test_a_part_of_the_shops_own_that_changes_is_read_anew(tmp_path: Path, file: Path):
    own = tmp_path / "parts"
    (own / "motor").mkdir(parents=True)
    part = own / "motor" / "our-motor.toml"
    part.write_text('part = "pm-radial-75kw"\nmass = "41 kg"\n')
    desk = Desk(file, Catalogue((own,)), lambda: TODAY)
    file.write_text(TEXT + '\n[drive]\nmotor = "our-motor"\n')
    first = desk.look()
    assert first.checked is not None
    assert first.checked.opened.car.values["drive.motor.mass"].si == 41.0
    part.write_text('part = "pm-radial-75kw"\nmass = "43.5 kg"\n')
    second = desk.look()
    assert second.checked is not None
    assert second.checked.opened.car.values["drive.motor.mass"].si == 43.5
    assert second.mark != first.mark
    part.unlink()
    third = desk.look()
    assert third.problems
    assert third.checked is second.checked
    assert not third.can_restore
    assert desk.change({"car.mark": "B"}, third.hash).problems
    assert not desk.change({"drive.motor": "pm-radial-75kw"}, third.hash).problems
    assert not desk.look().problems


@arithmetic
def test_the_mark_of_a_plain_car_is_the_hash_of_its_text(desk: Desk, file: Path):
    assert desk.mark() == desk.look().mark == content_hash(TEXT)
    file.write_text(NO_TOML)
    assert desk.mark() == desk.look().mark == content_hash(NO_TOML)
    file.unlink()
    assert desk.mark() == desk.look().mark
