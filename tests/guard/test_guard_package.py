"""What is handed on: files of others as they were released, and a wheel with all a page needs."""

from __future__ import annotations

import hashlib
import re
import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder
from project_files import ROOT, SOURCE, relative

pytestmark = pytest.mark.guard

THIRD_PARTY = ROOT / "THIRD_PARTY.md"
ROW = re.compile(
    r"^\| `(?P<file>[^`]+)` \| [^|]+ \| (?P<licence>[^|]+) \|.*\| `(?P<sum>\w{64})` \|$"
)
SCRIPTS = {".js", ".css"}


def listed() -> dict[str, str]:
    """Return the checksum of each file of others by its path."""
    rows = map(ROW.match, THIRD_PARTY.read_text(encoding="utf-8").splitlines())
    return {row["file"]: row["sum"] for row in rows if row}


def vendored() -> list[Path]:
    found = [each for folder in (SOURCE, ROOT / "tests") for each in folder.rglob("vendored/*")]
    return [path for path in found if path.suffix != ".txt"]


def test_every_file_of_others_is_listed_and_is_as_it_was_released():
    sums = {relative(each): hashlib.sha256(each.read_bytes()).hexdigest() for each in vendored()}
    assert sums == listed()
    assert len(sums) >= 4


def test_the_licences_of_what_is_handed_on_stand_in_full():
    text = THIRD_PARTY.read_text(encoding="utf-8")
    assert "Copyright (c) 2022 Leon Sorokin" in text
    assert "The above copyright notice and this permission notice shall be included" in text
    assert "with or without fee is hereby granted" in text
    beside = ROOT / "tests/workbench/vendored/axe-4.14.1.licences.txt"
    assert "Mozilla Public License" in beside.read_text(encoding="utf-8")


def test_nothing_of_others_stands_outside_its_folder():
    ours = [path for path in (SOURCE / "workbench").rglob("*") if path.suffix in SCRIPTS]
    for path in ours:
        if path.parent.name != "vendored":
            longest = max(map(len, path.read_text(encoding="utf-8").splitlines()), default=0)
            assert longest < 400, f"{path.name} is not written by hand"


def test_a_page_loads_nothing_from_outside():
    for path in (SOURCE / "workbench").rglob("*"):
        if path.suffix in {".html", *SCRIPTS} and path.parent.name != "vendored":
            text = path.read_text(encoding="utf-8")
            allowed = text.replace("http://www.w3.org/", "")
            assert not re.search(r"(?:https?:)?//[\w-]+\.\w", allowed), path.name


def test_the_wheel_holds_every_page_script_and_part(tmp_path):
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(tmp_path), versions=["standard"])
    names = set(zipfile.ZipFile(built).namelist())
    kept = [
        path
        for path in SOURCE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and path.suffix not in {".pyc"}
    ]
    wanted = {path.relative_to(SOURCE.parent).as_posix() for path in kept}
    assert {each for each in wanted if "/templates/" in each or "/static/" in each}
    assert wanted <= names
    assert any(name.endswith("licenses/THIRD_PARTY.md") for name in names)


def test_the_requirement_files_name_no_server():
    for path in ROOT.glob("requirements*.txt"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"(?i)https?:|index-url|find-links", text), path.name
