"""In the browser: the sheet follows the file on disk, and takes in a file that is dropped."""

from __future__ import annotations

from pathlib import Path

import pytest

pytestmark = pytest.mark.arithmetic

BASE = '#entry-car-wheelbase[value="{}"]'
LINE = "#elsewhere:not([hidden])"


@pytest.fixture
def file(folder: Path) -> Path:
    return folder / "ridgeway.toml"


def write_base(file: Path, old: str, new: str) -> None:
    file.write_text(file.read_text().replace(f'"{old}"', f'"{new}"'))


def test_a_change_on_disk_shows_by_itself(visit, file: Path):
    page = visit("/cars/ridgeway/donor")
    page.wait_for_selector(BASE.format("2.43 m"))
    write_base(file, "2.43 m", "2.41 m")
    page.wait_for_selector(BASE.format("2.41 m"))
    assert page.url.endswith("/cars/ridgeway/donor")
    assert page.is_hidden("#elsewhere")


def test_while_a_field_is_filled_in_the_sheet_stays_and_one_line_says_so(visit, file: Path):
    page = visit("/cars/ridgeway/donor")
    page.fill("#entry-car-tyres", "185/70 R13")
    write_base(file, "2.43 m", "2.41 m")
    page.wait_for_selector(LINE)
    assert page.input_value("#entry-car-tyres") == "185/70 R13"
    assert page.input_value("#entry-car-wheelbase") == "2.43 m"
    page.press("#entry-car-tyres", "Enter")
    page.wait_for_selector(BASE.format("2.41 m"))
    assert '"185/70 R13"' in file.read_text()
    assert '"2.41 m"' in file.read_text()


def test_the_line_shows_the_file_when_asked(visit, file: Path):
    page = visit("/cars/ridgeway/donor")
    page.focus("#entry-car-tyres")
    write_base(file, "2.43 m", "2.41 m")
    page.wait_for_selector(LINE)
    page.click("#elsewhere button")
    page.wait_for_selector(BASE.format("2.41 m"))
    assert page.is_hidden("#elsewhere")


def test_a_file_broken_on_disk_is_told_by_itself_and_put_right_by_a_button(visit, file: Path):
    page = visit("/cars/ridgeway/donor")
    page.wait_for_selector(BASE.format("2.43 m"))
    good = file.read_text()
    write_base(file, "2.43 m", "long")
    page.wait_for_selector("section.broken")
    page.click("section.broken button")
    page.wait_for_selector("section.broken", state="detached")
    assert file.read_text() == good


def test_a_file_dropped_on_the_first_page_comes_in(visit, folder: Path):
    page = visit("/")
    page.evaluate(
        """() => {
          const dropped = new DataTransfer();
          dropped.items.add(new File(['format = 1\\n[car]\\nname = "x"\\n'], "coupe.toml"));
          for (const kind of ["dragover", "drop"])
            document.body.dispatchEvent(new DragEvent(kind, {
              dataTransfer: dropped, bubbles: true, cancelable: true,
            }));
        }"""
    )
    page.wait_for_url("**/cars/coupe/donor")
    assert (folder / "coupe.toml").is_file()
