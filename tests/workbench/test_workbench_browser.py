from __future__ import annotations

import shutil
import tomllib
from pathlib import Path

import pytest
from browser import DESKTOP, PHONE, keep, serving, violations
from conftest import EXAMPLES

pytestmark = pytest.mark.arithmetic

FINAL_DRIVE = "#entry-drive-final_drive"
TOP_SPEED = ".strip .items div:has(dt:text-is('top speed')) .number"


def sent(page, selector: str, text: str) -> None:
    """Type into a field, leave it, and wait until the page made from it stands there."""
    before = page.get_attribute("#page", "data-hash")
    page.fill(selector, text)
    page.press(selector, "Tab")
    page.wait_for_function(
        "before => document.querySelector('#page').dataset.hash !== before", arg=before
    )


def in_view(page, locator) -> bool:
    box, size = locator.bounding_box(), page.viewport_size
    return box is not None and box["y"] >= 0 and box["y"] + box["height"] <= size["height"]


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_the_first_stop_of_the_flawed_car_is_in_view_and_its_reason_a_click_away(visit, size):
    page = visit("/", size)
    first = page.locator(".cars .first").first
    assert "stop" in first.inner_text()
    assert in_view(page, first)
    first.locator("a").click()
    finding = page.locator("details.finding.stop[open]").first
    finding.wait_for()
    told = finding.inner_text()
    assert "against its limit" in told
    assert "what to do" in told
    assert " V" in told


def test_a_change_is_saved_in_the_file_and_shown_at_once(visit, folder: Path):
    page = visit("/cars/ridgeway/drive")
    was = page.inner_text(TOP_SPEED)
    sent(page, FINAL_DRIVE, "4.3")
    assert page.inner_text(TOP_SPEED) != was
    text = (folder / "ridgeway.toml").read_text("utf-8")
    assert "4.3" in text
    assert len(text.splitlines()) == len((EXAMPLES / "ridgeway.toml").read_text().splitlines())
    page.click("#undo")
    page.wait_for_function("() => document.querySelector('.strip .moved') === null")
    assert page.inner_text(TOP_SPEED) == was
    assert (folder / "ridgeway.toml").read_bytes() == (EXAMPLES / "ridgeway.toml").read_bytes()


@pytest.mark.parametrize(
    "at", ["", "?at=drive.inverter#entry-drive-inverter"], ids=["plain", "linked"]
)
@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_the_field_a_person_moved_on_to_keeps_its_focus_and_its_place(visit, size, at: str):
    page = visit(f"/cars/ridgeway/drive{at}", size)
    page.locator(FINAL_DRIVE).scroll_into_view_if_needed()
    place = page.locator(FINAL_DRIVE).bounding_box()
    sent(page, FINAL_DRIVE, "4.1")
    page.wait_for_timeout(300)
    assert page.evaluate("document.activeElement.id") == "entry-drive-torque_limit"
    assert abs(page.locator(FINAL_DRIVE).bounding_box()["y"] - place["y"]) < 150
    assert in_view(page, page.locator("#entry-drive-torque_limit"))


def test_a_wrong_value_is_explained_at_its_field_and_what_was_good_stays(visit, folder: Path):
    page = visit("/cars/ridgeway/drive")
    was = page.inner_text(TOP_SPEED)
    page.fill(FINAL_DRIVE, "4 furlongs")
    page.press(FINAL_DRIVE, "Tab")
    refused = page.locator(".entry.refused")
    refused.wait_for()
    assert "not a unit of ratio" in refused.inner_text()
    assert page.input_value(FINAL_DRIVE) == "4 furlongs"
    assert page.inner_text(TOP_SPEED) == was
    assert "Stale" in page.inner_text(".results.stale")
    assert violations(page) == []
    assert (folder / "ridgeway.toml").read_bytes() == (EXAMPLES / "ridgeway.toml").read_bytes()


def test_two_people_at_one_field_are_told_and_nothing_is_lost(visit, folder: Path):
    one, other = visit("/cars/ridgeway/drive"), visit("/cars/ridgeway/drive")
    sent(one, FINAL_DRIVE, "4.1")
    other.fill("#entry-drive-torque_limit", "150 N.m")
    other.press("#entry-drive-torque_limit", "Tab")
    other.wait_for_function(
        "() => document.querySelector('#entry-drive-final_drive').value === '4.1'"
    )
    one.fill("#entry-drive-torque_limit", "120 N.m")
    one.press("#entry-drive-torque_limit", "Tab")
    conflict = one.locator(".entry.refused")
    conflict.wait_for()
    assert "150 N.m" in conflict.inner_text()
    assert "120 N.m" in conflict.inner_text()
    assert '"150 N.m"' in (folder / "ridgeway.toml").read_text("utf-8")
    conflict.get_by_role("button", name="take mine").click()
    one.wait_for_function("() => !document.querySelector('.entry.refused')")
    assert '"120 N.m"' in (folder / "ridgeway.toml").read_text("utf-8")


def test_what_was_typed_while_the_line_was_down_is_kept_and_sent(chromium, folder: Path):
    with serving(folder) as address:
        page = chromium.new_page()
        page.goto(f"{address}/cars/ridgeway/drive")
        page.route("**/edit", lambda route: route.abort())
        page.fill(FINAL_DRIVE, "4.2")
        page.press(FINAL_DRIVE, "Tab")
        page.locator("#wire:not([hidden])").wait_for()
        assert page.input_value(FINAL_DRIVE) == "4.2"
        page.unroute("**/edit")
        page.wait_for_function(
            "() => document.querySelector('#entry-drive-final_drive')"
            ".getAttribute('value') === '4.2'"
        )
        assert "4.2" in (folder / "ridgeway.toml").read_text("utf-8")
        page.close()


def test_a_file_broken_on_disk_is_shown_and_never_written_over(visit, folder: Path):
    page = visit("/cars/ridgeway/drive")
    broken = (folder / "ridgeway.toml").read_text("utf-8").replace("final_drive", "final_drve")
    (folder / "ridgeway.toml").write_text(broken, "utf-8")
    page.reload()
    told = page.locator(".broken").inner_text()
    assert "final_drve" in told
    assert page.locator(".sheet.stale").count() == 1
    page.fill("#entry-drive-torque_limit", "150 N.m")
    page.press("#entry-drive-torque_limit", "Tab")
    page.locator(".entry.refused").wait_for()
    assert (folder / "ridgeway.toml").read_text("utf-8") == broken


def test_everything_works_without_script(visit, folder: Path):
    page = visit("/cars/ridgeway/drive", java_script_enabled=False)
    page.fill(FINAL_DRIVE, "4.3")
    page.press(FINAL_DRIVE, "Enter")
    assert page.input_value(FINAL_DRIVE) == "4.3"
    assert page.url.endswith("/cars/ridgeway/drive")
    page.click("#undo")
    assert page.input_value(FINAL_DRIVE) == "3.9"
    page.locator(".finding summary").first.click()
    assert page.locator(".finding[open]").count() == 1


def test_going_back_leads_to_the_page_before(visit):
    page = visit("/cars/ridgeway/drive")
    sent(page, FINAL_DRIVE, "4.1")
    page.click("nav.stages a:has-text('Pack')")
    page.wait_for_url("**/pack")
    page.go_back()
    page.wait_for_url("**/drive")
    page.wait_for_function(
        "() => document.querySelector('#entry-drive-final_drive')?.value === '4.1'"
    )


def test_a_car_is_changed_with_the_keyboard_alone(visit):
    page = visit("/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Ridgeway coupe":
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/cars/ridgeway/donor")
    page.locator("h1:has-text('Donor')").wait_for()
    page.wait_for_function("() => document.activeElement.id === 'main'")
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "entry-car-wheelbase":
            break
    before = page.get_attribute("#page", "data-hash")
    page.keyboard.press("Control+A")
    page.keyboard.type("2.45 m")
    page.keyboard.press("Tab")
    page.wait_for_function(
        "before => document.querySelector('#page').dataset.hash !== before", arg=before
    )
    keep(page, "changed-by-keyboard")


def test_a_second_workbench_at_the_same_folder_sees_what_the_first_wrote(chromium, folder: Path):
    shutil.copy(folder / "ridgeway.toml", folder / "twin.toml")
    with serving(folder) as one, serving(folder) as other:
        first, second = chromium.new_page(), chromium.new_page()
        first.goto(f"{one}/cars/twin/drive")
        second.goto(f"{other}/cars/twin/drive")
        sent(first, FINAL_DRIVE, "4.4")
        second.reload()
        assert second.input_value(FINAL_DRIVE) == "4.4"
        first.close()
        second.close()


def test_what_was_typed_goes_to_a_workbench_that_was_started_anew(chromium, folder: Path):
    with serving(folder) as address:
        page = chromium.new_page()
        page.goto(f"{address}/cars/ridgeway/drive")
        port = int(address.rpartition(":")[2])
    page.fill(FINAL_DRIVE, "4.2")
    page.press(FINAL_DRIVE, "Tab")
    page.locator("#wire:not([hidden])").wait_for()
    with serving(folder, port):
        page.wait_for_function(
            "() => document.querySelector('#entry-drive-final_drive')"
            ".getAttribute('value') === '4.2'"
        )
        written = tomllib.loads((folder / "ridgeway.toml").read_text("utf-8"))
        assert written["drive"]["final_drive"] == 4.2
        page.close()


def test_the_answers_for_a_new_car_outlast_a_line_that_is_down(chromium, folder: Path):
    with serving(folder) as address:
        page = chromium.new_page()
        page.goto(f"{address}/new")
        page.fill("[name='entry:car.name']", "late coupe")
        page.route("**/new", lambda route: route.abort())
        page.click("button:has-text('write the file')")
        page.locator("#wire:not([hidden])").wait_for()
        assert page.input_value("[name='entry:car.name']") == "late coupe"
        page.unroute("**/new")
        page.click("button:has-text('write the file')")
        page.wait_for_url("**/cars/late-coupe/**")
        assert (folder / "late-coupe.toml").exists()
        page.close()


def test_a_new_row_that_is_wrong_says_so_at_its_field_and_keeps_the_rest(visit, folder: Path):
    page = visit("/cars/ridgeway/weight")
    page.click("#new-row-entry-mass summary")
    what = "[name='entry:mass[15].add']"
    page.fill(what, "tow bar")
    page.fill("[name='entry:mass[15].mass']", "12 furlongs")
    page.click("#new-row-entry-mass button:has-text('add')")
    wrong = page.locator("#new-row-entry-mass .entry.refused")
    wrong.wait_for()
    assert "not a unit of mass" in wrong.inner_text()
    assert page.input_value(what) == "tow bar"
    page.fill("[name='entry:mass[15].mass']", "12 kg")
    page.fill("[name='entry:mass[15].x']", "3.3 m")
    page.click("#new-row-entry-mass button:has-text('add')")
    page.locator("[aria-label='take out: row 16']").wait_for()
    assert "tow bar" in (folder / "ridgeway.toml").read_text("utf-8")
    page.click("[aria-label='take out: row 16']")
    page.locator("[aria-label='take out: row 16']").wait_for(state="detached")
    assert "tow bar" not in (folder / "ridgeway.toml").read_text("utf-8")


def test_a_name_that_is_none_is_told_at_the_revision_and_stays(visit):
    page = visit("/cars/ridgeway/revisions")
    page.fill("#revision-name", "   ")
    page.click("button:has-text('save the car as it stands')")
    page.locator("#revision-problem").wait_for()
    assert page.url.endswith("/revisions")


def test_emptying_what_was_refused_leaves_the_file_as_it_was(visit, folder: Path):
    page = visit("/cars/ridgeway/drive")
    losses = "#entry-drive-loss_factor"
    page.fill(losses, "much")
    page.press(losses, "Tab")
    page.locator(".entry.refused").wait_for()
    page.fill(losses, "")
    page.press(losses, "Tab")
    page.locator(".entry.refused").wait_for(state="detached")
    assert (folder / "ridgeway.toml").read_bytes() == (EXAMPLES / "ridgeway.toml").read_bytes()


def test_whoever_comes_back_to_where_an_entry_was_sent_is_led_to_the_car(visit):
    page = visit("/cars/ridgeway/edit")
    assert page.url.endswith("/cars/ridgeway/donor")
