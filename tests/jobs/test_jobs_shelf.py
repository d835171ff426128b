from __future__ import annotations

import json
import tempfile
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.jobs.shelf import LONGEST_NAME, Shelf

TEXT = '# ours\r\nformat = 1\r\n[car]\nname = "Café"\n'


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "coupe.toml")


def note(shelf: Shelf, number: int) -> Path:
    return shelf.folder / f"{number:04d}.json"


@pytest.mark.arithmetic
def test_a_car_never_saved_has_no_revision(shelf: Shelf):
    assert shelf.all() == ()
    assert shelf.last() is None
    assert shelf.get(1) is None
    assert not shelf.folder.exists()


@pytest.mark.arithmetic
def test_a_saved_text_comes_back_byte_for_byte(shelf: Shelf):
    saved = shelf.keep("as drawn", TEXT, "abc")
    assert shelf.text_of(saved) == TEXT
    assert shelf.get(1) == saved == shelf.last()
    assert (saved.number, saved.name, saved.revision) == (1, "as drawn", "abc")
    assert saved.at.endswith("+00:00")


@pytest.mark.arithmetic
def test_revisions_stand_in_the_order_they_were_saved(shelf: Shelf):
    for name in ("one", "two", "one"):
        shelf.keep(name, TEXT, "")
    assert [(each.number, each.name) for each in shelf.all()] == [
        (1, "one"),
        (2, "two"),
        (3, "one"),
    ]


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["", "   ", "\n\t", "\x00\u202e", "x" * (LONGEST_NAME + 1)])
def test_a_name_nobody_can_read_is_no_name(shelf: Shelf, name: str):
    with pytest.raises(InputError, match="needs a name"):
        shelf.keep(name, TEXT, "")
    assert shelf.all() == ()


@pytest.mark.property
@given(name=st.text(max_size=100))
def test_any_name_is_kept_on_one_line_or_refused(name: str):
    with tempfile.TemporaryDirectory() as folder:
        shelf = Shelf(Path(folder) / "coupe.toml")
        try:
            saved = shelf.keep(name, TEXT, "")
        except InputError:
            assert shelf.all() == ()
            return
        assert saved.name.isprintable()
        assert saved.name.split() == "".join(c if c.isprintable() else " " for c in name).split()
        assert shelf.all() == (saved,)
        assert {each.parent for each in Path(folder).rglob("*.toml")} == {shelf.folder}


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "written",
    ["", "[]", "null", '"name"', '{"name": 3}', "[" * 100_000, '{"name": NaN, "at": Infinity}'],
)
def test_a_revision_whose_note_is_spoilt_is_listed_and_can_be_read(shelf: Shelf, written: str):
    shelf.keep("as drawn", TEXT, "abc")
    note(shelf, 1).write_text(written)
    (only,) = shelf.all()
    assert "cannot be read" in only.name
    assert shelf.text_of(only) == TEXT
    shelf.keep("next", TEXT, "abc")
    assert [each.number for each in shelf.all()] == [1, 2]


@pytest.mark.arithmetic
def test_a_text_without_its_note_is_never_written_over(shelf: Shelf):
    shelf.keep("as drawn", TEXT, "abc")
    note(shelf, 1).unlink()
    assert shelf.keep("next", "format = 1\n", "").number == 2
    assert shelf.text_of(shelf.all()[0]) == TEXT


@pytest.mark.arithmetic
def test_a_revision_that_was_taken_away_is_told_in_words(shelf: Shelf):
    saved = shelf.keep("as drawn", TEXT, "")
    (shelf.folder / "0001.toml").unlink()
    with pytest.raises(InputError, match="saved revision 1 cannot be read"):
        shelf.text_of(saved)


@pytest.mark.arithmetic
def test_a_revision_that_is_no_text_is_told_in_words(shelf: Shelf):
    saved = shelf.keep("as drawn", TEXT, "")
    (shelf.folder / "0001.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(InputError, match="not a text file"):
        shelf.text_of(saved)


@pytest.mark.arithmetic
def test_what_is_no_revision_in_the_folder_is_passed_over(shelf: Shelf):
    shelf.keep("as drawn", TEXT, "")
    for name in ("notes.txt", "12.toml", "0002.toml.bak", "..toml"):
        (shelf.folder / name).write_text("x")
    assert [each.number for each in shelf.all()] == [1]


@pytest.mark.arithmetic
def test_where_the_folder_cannot_be_made_it_is_told_in_words(tmp_path: Path):
    (tmp_path / "revisions").write_text("a file in the way")
    with pytest.raises(InputError, match="cannot be made"):
        Shelf(tmp_path / "coupe.toml").keep("as drawn", TEXT, "")


@pytest.mark.arithmetic
def test_where_the_folder_takes_no_file_it_is_told_in_words(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
):
    def refuse(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("swapwright.jobs.text_file.os.open", refuse)
    with pytest.raises(InputError, match="cannot be written: Permission denied"):
        shelf.keep("as drawn", TEXT, "")


@pytest.mark.arithmetic
def test_saves_at_one_moment_all_stay(shelf: Shelf):
    def save(number: int) -> None:
        shelf.keep(f"by {number}", f"{TEXT}# {number}\n", "")

    threads = [threading.Thread(target=save, args=(number,)) for number in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    kept = shelf.all()
    assert [each.number for each in kept] == list(range(1, 13))
    assert {each.name for each in kept} == {f"by {number}" for number in range(12)}
    for each in kept:
        assert shelf.text_of(each).endswith(f"# {each.name.removeprefix('by ')}\n")


@pytest.mark.arithmetic
def test_a_note_says_what_is_needed_to_read_it_elsewhere(shelf: Shelf):
    shelf.keep("as drawn", TEXT, "abc")
    said = json.loads(note(shelf, 1).read_text())
    assert set(said) == {"number", "name", "at", "revision"}
