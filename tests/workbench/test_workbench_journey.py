"""The main jobs in a real browser, from the first page to what stands in the file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from browser import DESKTOP, PHONE, keep, violations
from conftest import EXAMPLES

pytestmark = pytest.mark.arithmetic

MOST_STOPS = 400
COMBINED = ".strip .items div:has(dt:text-is('range, combined')) .number"
ANSWERS = {
    "car.name": "1972 coupe",
    "car.kerb_mass": "1180 kg",
    "car.axle_mass.front": "610 kg",
    "car.axle_mass.rear": "570 kg",
    "car.wheelbase": "2.43 m",
    "car.tyres": "175/70 R13",
    "car.road_load.cd_a": "coupe-1960s",
    "car.road_load.c_rr": "radial",
    "drive.final_drive": "3.9",
    "pack.modules_per_string": "14",
    "pack.strings": "1",
}
CHOSEN = {
    "car.driven_axle": "rear",
    "goals.region": "EU",
    "drive.motor": "pm-radial-75kw",
    "drive.gearbox": "gearbox-4-speed-inline",
    "pack.module": "nmc-module-8s1p-60ah",
}


@pytest.fixture
def empty_folder(folder: Path) -> Path:
    """A folder with no car in it yet."""
    for car in folder.glob("*.toml"):
        car.unlink()
    return folder


def unfold_changes(page) -> None:
    """Go to the tables of what changed, as a person does."""
    page.locator("#changes").wait_for()
    page.click(".what-changed a")
    page.locator("#changes[open]").wait_for()


def changed_rows(page, caption: str) -> dict[str, tuple[str, str]]:
    """Return what the table of changes says: before and after by what it is of."""
    rows = page.locator(f"#changes table:has(caption:text-is('{caption}')) tbody tr:has(th)").all()
    cells = [(row.locator("th").inner_text(), row.locator("td").all_inner_texts()) for row in rows]
    return {name: (told[0].strip(), told[1].strip()) for name, told in cells}


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_from_the_range_to_the_input_that_moves_it_most_and_back(visit, folder: Path, size):
    page = visit("/cars/ridgeway/goals", size)
    was = page.inner_text(COMBINED)
    page.click(COMBINED)
    page.wait_for_url("**/figures/range.combined")
    page.click(".moves-most a")
    page.wait_for_url("**/drive?at=drive.loss_factor*")
    entry = page.locator("#entry-drive-loss_factor")
    entry.wait_for()
    page.wait_for_function("() => document.activeElement.id === 'entry-drive-loss_factor'")
    page.keyboard.type("1.3")
    page.keyboard.press("Enter")
    unfold_changes(page)
    now = page.inner_text(COMBINED)
    assert now != was
    assert changed_rows(page, "entries") == {"drive.loss_factor": ("nothing", "1.3")}
    figures = changed_rows(page, "headline figures")
    assert figures["range, combined"] == (was, now)
    assert page.locator(".strip .moved .before").count() >= 4
    keep(page, f"changed-loss-factor-{size[0]}")
    page.click("#undo")
    page.wait_for_function(
        "([at, was]) => document.querySelector('#changes') === null"
        " && document.querySelector('.strip').innerText.includes(was)",
        arg=[COMBINED, was],
    )
    assert (folder / "ridgeway.toml").read_bytes() == (EXAMPLES / "ridgeway.toml").read_bytes()


def test_a_finding_that_a_change_brings_is_told_before_and_after(visit):
    page = visit("/cars/ridgeway/goals")
    page.fill("#entry-goals-range-min", "100 mi")
    page.press("#entry-goals-range-min", "Tab")
    unfold_changes(page)
    findings = changed_rows(page, "findings")
    wanted = next(name for name in findings if name.endswith("goals.range"))
    assert findings[wanted] == ("watch", "fix")
    assert all(before != after for before, after in findings.values())
    assert changed_rows(page, "entries") == {"goals.range.min": ("120 km", "100 mi")}


class Hands:
    """A person with a mouse, or a finger."""

    def __init__(self, page) -> None:
        self.page = page

    def press(self, selector: str) -> None:
        self.page.click(selector)

    def write(self, selector: str, text: str) -> None:
        self.page.fill(selector, text)

    def choose(self, selector: str, choice: str) -> None:
        self.page.select_option(selector, choice)

    def leave(self, selector: str) -> None:
        self.page.press(selector, "Tab")


class Keys(Hands):
    """A person with a keyboard alone: everything is reached by Tab."""

    def _reach(self, selector: str) -> None:
        wanted = self.page.locator(selector).first.element_handle()
        for _ in range(MOST_STOPS):
            if self.page.evaluate("wanted => document.activeElement === wanted", wanted):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"no Tab leads to {selector}")

    def press(self, selector: str) -> None:
        self._reach(selector)
        self.page.keyboard.press("Enter")

    def write(self, selector: str, text: str) -> None:
        self._reach(selector)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)

    def choose(self, selector: str, choice: str) -> None:
        self._reach(selector)
        self.page.keyboard.type(choice)
        assert self.page.input_value(selector) == choice

    def leave(self, selector: str) -> None:
        self.page.keyboard.press("Tab")


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
@pytest.mark.parametrize("kind", [Hands, Keys], ids=["mouse", "keyboard"])
def test_a_car_is_made_from_nothing_its_stop_put_right_saved_and_found_again(
    visit, empty_folder: Path, size, kind
):
    page = visit("/", size)
    person = kind(page)
    person.press("main a:has-text('a new car')")
    page.wait_for_url("**/new")
    page.locator("[name='entry:car.name']").wait_for()
    asked = {**ANSWERS, **CHOSEN}
    fields = page.eval_on_selector_all("[name^='entry:']", "all => all.map((each) => each.name)")
    for path in (name.removeprefix("entry:") for name in fields):
        if path in CHOSEN:
            person.choose(f"[name='entry:{path}']", asked[path])
        elif path in ANSWERS:
            person.write(f"[name='entry:{path}']", asked[path])
    person.press("button:has-text('write the file')")
    page.wait_for_url("**/cars/1972-coupe/**")
    file = empty_folder / "1972-coupe.toml"
    assert file.exists()
    person.press("nav.stages a:has-text('Drive')")
    page.wait_for_url("**/drive")
    person.press(".entry:has(#entry-drive-inverter) a:has-text('choose inverter')")
    page.locator("table.choice").wait_for()
    keep(page, f"choosing-an-inverter-{size[0]}")
    person.press("button[aria-label='use it: inverter-400v-300a']")
    page.wait_for_url("**/drive**")
    stop = ".finding.stop:has-text('highest running voltage')"
    person.press("nav.stages a:has-text('Pack')")
    page.wait_for_url("**/pack")
    page.locator(stop).wait_for()
    person.press(f"{stop} summary")
    assert "Take cells out of the string" in page.locator(stop).inner_text()
    person.write("#entry-pack-modules_per_string", "12")
    person.leave("#entry-pack-modules_per_string")
    page.locator(stop).wait_for(state="detached")
    person.press(".leads a:has-text('revisions')")
    page.wait_for_url("**/revisions")
    person.write("#revision-name", "as agreed")
    person.press("button:has-text('save the car as it stands')")
    page.locator("table.revisions").wait_for()
    assert violations(page) == []
    page.goto(page.url.replace("revisions", "pack"))
    assert page.input_value("#entry-pack-modules_per_string") == "12"
    assert "as agreed" in page.inner_text(".saved")
    text = file.read_text("utf-8")
    assert 'inverter = "inverter-400v-300a"' in text
    assert "modules_per_string = 12" in text


SHEETS = (
    "",
    "new",
    "parts",
    "parts/motor/pm-radial-75kw",
    "words",
    "nothing/here",
    *(
        f"cars/fault-finder/{sheet}"
        for sheet in (
            *("donor", "goals", "drive", "pack", "high-voltage", "weight", "circuit", "findings"),
            *("figures/range.combined", "moves/range.combined", "flow", "export", "revisions"),
            *("parts/drive.motor", "circuit/sheet", "fault?at=inverter", "side"),
        )
    ),
)


TABLET = (820, 1180)


@pytest.mark.parametrize("sheet", ["", "cars/ridgeway/drive", "cars/ridgeway/circuit"])
def test_a_tablet_shows_whole_sheets(visit, sheet: str):
    page = visit(f"/{sheet}", TABLET, has_touch=True)
    assert page.evaluate("document.documentElement.scrollWidth") <= TABLET[0]
    assert violations(page) == []
    keep(page, f"{sheet.rpartition('/')[2] or 'start'}-tablet")


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet or "start")
def test_every_sheet_can_be_used_by_everyone(visit, sheet: str, size):
    page = visit(f"/{sheet}", size)
    name = re.sub(r"[/?=]", "-", sheet.removeprefix("cars/")) or "start"
    keep(page, f"{name}-{size[0]}-light")
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    page.evaluate("() => document.querySelectorAll('details').forEach((each) => each.open = true)")
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page) == []
    keep(page, f"{name}-{size[0]}-dark")


def test_an_element_pointed_at_tells_its_figures_and_leads_to_its_entry(visit):
    page = visit("/cars/ridgeway/circuit")
    fuse = page.locator(".one-line [data-element='main fuse +']").first
    fuse.hover()
    told = page.locator("[data-told].is-figure")
    told.wait_for()
    assert "main fuse" in told.inner_text()
    assert " A" in told.inner_text()
    fuse.click()
    page.wait_for_url("**/cars/ridgeway/**at=*")
    assert "main" in page.locator("main").inner_text()


def test_a_switch_thrown_shows_what_stays_live(visit):
    page = visit("/cars/ridgeway/circuit")
    assert "live, up to 403 V" in page.inner_text(".at-a-glance")
    page.get_by_role("checkbox", name="main contactors +").check()
    page.wait_for_url("**closed=**")
    glance = page.inner_text(".at-a-glance")
    assert "inverter" in glance
    assert page.get_by_role("checkbox", name="main contactors +").is_checked()
    page.go_back()
    page.wait_for_function("() => !location.search.includes('closed=')")


def test_one_switch_tells_the_car_as_people_from_engines_think(visit):
    page = visit("/cars/ridgeway/drive")
    energy = page.locator(".strip .items div:has(dt:text-is('usable energy'))")
    power = page.locator(".figures div:has(dt:has-text('largest power at the road'))")
    assert "kWh" in energy.inner_text()
    assert "kW" in power.inner_text()
    page.select_option("select[name='world']", "engine")
    page.locator(".strip .items div:has-text(' L')").first.wait_for()
    assert "kWh" not in energy.inner_text()
    assert "PS" in power.inner_text()
    page.select_option("select[name='units']", "us")
    page.locator(".strip .items div:has-text(' gal')").first.wait_for()
    assert "hp" in power.inner_text()
    page.reload()
    assert "hp" in power.inner_text()


@pytest.mark.parametrize(
    ("stage", "path", "text"),
    [
        ("donor", "car.engine_before.power", "82 hp"),
        ("donor", "car.wheelbase", "95.7 in"),
        ("donor", "car.road_load.cd_a", "0.65..0.75 m^2"),
        ("drive", "drive.torque_limit", "103 lbf.ft"),
    ],
)
def test_a_quantity_is_typed_in_any_unit_and_stands_so_in_the_file(
    visit, folder: Path, stage, path, text
):
    page = visit(f"/cars/ridgeway/{stage}?at={path}")
    field = f"#entry-{path.replace('.', '-')}"
    before = page.get_attribute("#page", "data-hash")
    page.fill(field, text)
    page.press(field, "Tab")
    page.wait_for_function(
        "before => document.querySelector('#page').dataset.hash !== before", arg=before
    )
    assert page.input_value(field) == text
    assert f'"{text}"' in (folder / "ridgeway.toml").read_text("utf-8")


def test_what_is_assumed_and_what_is_wanting_is_marked_with_how_much_hangs_on_it(visit):
    page = visit("/cars/ridgeway/drive")
    losses = page.locator(".entry:has(#entry-drive-loss_factor)").inner_text()
    assert "assumed" in losses
    assert "moves the range 6.4 %" in losses
    page.fill("#entry-drive-inverter", "")
    page.press("#entry-drive-inverter", "Tab")
    wanting = page.locator(".entry.none:has(#entry-drive-inverter)")
    wanting.wait_for()
    assert "figures and rules wait for it" in wanting.inner_text()
