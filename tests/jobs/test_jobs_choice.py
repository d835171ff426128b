from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from swapwright.base.errors import InputError
from swapwright.catalogue.read import BUILT_IN, Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.choice import Candidate, Choice, choose
from swapwright.jobs.form import part_group
from swapwright.jobs.part_place import chosen_at, entries_to_put, part_place, standing_at
from swapwright.jobs.progress import Cancelled

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)


def shelf(folder: Path, kind: str, *names: str) -> Catalogue:
    """Return a catalogue whose list of one kind is short: it compares only these."""

    class Short(Catalogue):
        def names(self, asked: str) -> tuple[str, ...]:
            return names if asked == kind else super().names(asked)

    return Short((folder,))


def car(name: str) -> Checked:
    return check(EXAMPLES / f"{name}.toml", Catalogue(), TODAY)


def compared(checked: Checked, place: str, catalogue: Catalogue) -> Choice:
    return choose(checked, place, catalogue, TODAY, profile="metric")


def called(choice: Choice, name: str) -> Candidate:
    return next(each for each in choice.candidates if each.name == name)


@pytest.fixture(scope="module")
def sound() -> Checked:
    return car("ridgeway")


@pytest.fixture(scope="module")
def flawed() -> Checked:
    return car("fault-finder")


@pytest.mark.arithmetic
def test_a_motor_that_does_not_fit_is_told_why_with_value_and_limit(sound, tmp_path):
    catalogue = shelf(tmp_path, "motor", "pm-interior-150kw", "pm-radial-75kw")
    choice = compared(sound, "drive.motor", catalogue)
    assert [each.name for each in choice.candidates] == ["pm-radial-75kw", "pm-interior-150kw"]
    found = called(choice, "pm-interior-150kw")
    assert not found.fits
    assert found.worst == "stop"
    assert found.words.startswith("1 new stop")
    back_emf = next(each for each in found.new if each.finding.rule == "voltage.back_emf")
    assert " V" in back_emf.told
    assert "at most" in back_emf.told
    assert back_emf.finding.remedy
    changed = {each.id for each in found.figures}
    assert "accel.0_60mph" in changed


@pytest.mark.property
def test_choosing_the_part_that_stands_there_changes_nothing(sound, tmp_path):
    for place, kind, name in (
        ("drive.motor", "motor", "pm-radial-75kw"),
        ("drive.gearbox", "gearbox", "gearbox-4-speed-inline"),
        ("pack.module.cell", "cell", "nmc-pouch-60ah"),
    ):
        found = called(compared(sound, place, shelf(tmp_path, kind, name)), name)
        assert found.is_here
        assert found.fits
        assert not (found.new or found.cured or found.unsettled or found.figures)


@pytest.mark.arithmetic
def test_a_fuse_that_leaves_the_stop_of_the_one_before_does_not_fit(flawed, tmp_path):
    names = ("fuse-250a-500vdc", "fuse-250a-1000vdc")
    choice = compared(flawed, "hv.main_fuse", shelf(tmp_path, "fuse", *names))
    low = called(choice, "fuse-250a-500vdc")
    assert not low.new
    assert [each.finding.rule for each in low.left] == ["circuit.fuse_voltage"]
    assert not low.fits
    high = called(choice, "fuse-250a-1000vdc")
    cured = {each.finding.rule for each in high.cured}
    assert "circuit.fuse_voltage" in cured
    assert not high.left


@pytest.mark.arithmetic
def test_a_place_nothing_is_judged_by_has_no_part_that_fits(sound, tmp_path):
    names = ("fuse-15a-250vdc", "fuse-400a-500vdc")
    choice = compared(sound, "hv.string_fuse", shelf(tmp_path, "fuse", *names))
    assert not choice.is_judged
    assert not choice.fitting
    assert {each.words for each in choice.candidates} == {"not judged here"}


@pytest.mark.arithmetic
def test_a_part_whose_file_is_faulty_tells_its_problem_and_the_others_are_compared(sound, tmp_path):
    (tmp_path / "motor").mkdir()
    (tmp_path / "motor" / "bent.toml").write_text('peak_power = "75 kg"\n')
    shutil.copy(BUILT_IN / "motor" / "pm-radial-75kw.toml", tmp_path / "motor" / "ours.toml")
    choice = compared(sound, "drive.motor", shelf(tmp_path, "motor", "bent", "ours"))
    assert called(choice, "ours").fits
    bent = called(choice, "bent")
    assert bent.words == "cannot stand here"
    assert any("kg" in problem.given for problem in bent.problems)
    assert choice.candidates[-1] is bent


@pytest.mark.arithmetic
def test_cancelling_stops_before_the_next_part(sound):
    told: list[tuple[int, int]] = []
    with pytest.raises(Cancelled):
        choose(
            sound,
            "drive.motor",
            Catalogue(),
            TODAY,
            profile="metric",
            progress=lambda done, total: told.append((done, total)),
            is_cancelled=lambda: len(told) > 1,
        )
    assert told == [(0, 12), (1, 12)]


@pytest.mark.arithmetic
def test_where_no_part_stands_nothing_can_be_chosen(sound):
    with pytest.raises(InputError, match="no part stands here"):
        compared(sound, "car.kerb_mass", Catalogue())


@pytest.mark.arithmetic
def test_another_part_takes_out_the_values_of_the_one_before_and_keeps_those_of_the_place():
    raw = {"hv": {"main_fuse": {"part": "a", "poles": "both", "rating": "200 A"}}}
    assert entries_to_put(raw, "hv.main_fuse", "b") == {
        "hv.main_fuse.rating": None,
        "hv.main_fuse.part": "b",
    }
    assert entries_to_put(raw, "hv.main_fuse", "a") == {}
    assert entries_to_put({"drive": {"motor": "a"}}, "drive.motor", "b") == {"drive.motor": "b"}
    assert entries_to_put({}, "drive.motor", "b") == {"drive.motor": "b"}


@pytest.mark.arithmetic
def test_what_the_file_says_of_a_part_is_told_from_what_it_says_of_its_place(sound, flawed):
    gearbox = standing_at(sound.opened.build.raw, sound.opened.car, "drive.gearbox")
    assert gearbox.name == "gearbox-4-speed-inline"
    assert gearbox.overrides == ("use", "lockout")
    assert gearbox.kept == ("shift",)
    contactors = standing_at(flawed.opened.build.raw, flawed.opened.car, "hv.contactors")
    assert contactors.is_in_full
    assert contactors.kept == ("poles", "polarised")
    empty = standing_at(sound.opened.build.raw, sound.opened.car, "hv.string_fuse")
    assert empty.is_empty
    assert not empty.is_written


@pytest.mark.arithmetic
def test_a_value_of_a_part_is_changed_where_the_part_is(sound):
    assert part_place("drive.motor.peak_power") == "drive.motor"
    assert part_place("hv.branch[0].fuse.rating") == "hv.branch[0].fuse"
    assert part_place("pack.module.cell.capacity") == "pack.module.cell"
    assert part_place("hv.main_fuse.poles") is None
    assert part_place("drive.motor") is None
    assert chosen_at("pack.cell.capacity", sound.opened.car) == "pack.module.cell.capacity"
    assert chosen_at("drive.motor", sound.opened.car) == "drive.motor"


@pytest.mark.arithmetic
def test_the_data_of_a_part_are_entries_of_the_place_it_stands_at(sound):
    group = part_group(sound, "drive.inverter", "metric")
    assert group is not None
    entries = {each.path: each for each in group.entries}
    assert entries["drive.inverter.max_voltage"].stands_in == "430 V"
    assert entries["drive.inverter.max_voltage"].origin == "part"
    assert entries["drive.inverter.drives"].stands_in == "permanent-magnet, induction"
    assert "drive.inverter.part" not in entries
    assert part_group(sound, "hv.string_fuse", "metric") is None
    assert part_group(sound, "car.kerb_mass", "metric") is None
