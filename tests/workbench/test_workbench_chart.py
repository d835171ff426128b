"""A page for every curve: drawn without script, live with it, and as files."""

from __future__ import annotations

import csv
import io
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from browser import PHONE, violations
from starlette.testclient import TestClient

from swapwright.build.edit import edit
from swapwright.drawing import style

pytestmark = pytest.mark.arithmetic

CHARTS = "/cars/ridgeway/charts/"
CURVES = ("drive.force", "pack.voltage", "run.city", "circuit.coordination")
ROOT = Path(__file__).resolve().parents[2]
SHEET = ROOT / "src/swapwright/workbench/static/sheet.css"
LIVE = ".is-live .u-over"


def page(client: TestClient, address: str, status: int = 200) -> str:
    answer = client.get(address)
    assert answer.status_code == status
    return answer.text


def drawings(html: str) -> list[ET.Element]:
    return [ET.fromstring(each) for each in re.findall(r'<svg class="chart-.*?</svg>', html, re.S)]


@pytest.mark.parametrize("curve", CURVES)
def test_a_curve_has_a_page_with_its_drawing_and_its_table(client: TestClient, curve: str):
    html = page(client, CHARTS + curve)
    (drawn,) = drawings(html)
    assert drawn.get("role") == "img"
    assert drawn[0].tag.endswith("title")
    assert "<?xml" not in html
    assert '<table class="numbers">' in html
    for ending in (".svg", ".csv", ".json"):
        assert f'href="{CHARTS}{curve}{ending}" hx-boost="false"' in html


@pytest.mark.parametrize("curve", CURVES)
def test_a_curve_is_to_be_had_as_drawing_table_and_numbers(client: TestClient, curve: str):
    svg = client.get(f"{CHARTS}{curve}.svg")
    assert svg.headers["content-type"].startswith("image/svg+xml")
    assert ET.fromstring(svg.text).get("width").endswith("mm")
    table = client.get(f"{CHARTS}{curve}.csv")
    assert table.headers["content-disposition"] == f'attachment; filename="ridgeway-{curve}.csv"'
    numbers = client.get(f"{CHARTS}{curve}.json").json()
    rows = list(csv.reader(io.StringIO(table.text)))
    assert len(rows) - 1 == len(numbers["x"]["points"])
    assert rows[0][0] == f"{numbers['x']['label']} [{numbers['x']['unit']}]"


def test_the_table_of_a_page_is_short_and_says_where_the_rest_is(client: TestClient):
    html = page(client, CHARTS + "run.city")
    assert "80 of 1369 rows" in html
    assert html.count('<tr><th scope="row">') == 80


def test_a_chart_is_in_the_units_a_person_chose(client: TestClient):
    client.cookies.set("swapwright", "us.engine.auto")
    numbers = client.get(CHARTS + "run.city.json").json()
    units = [panel["unit"] for panel in numbers["panels"]]
    assert units == ["mph", "hp", "V", "A", "%", "°F"]
    html = page(client, CHARTS + "run.city")
    assert ">speed, mph<" in html
    assert ">power, hp<" in html


def test_a_fixed_axis_reaches_the_script_as_it_is_drawn(client: TestClient):
    numbers = client.get(CHARTS + "circuit.coordination.json").json()
    assert numbers["is_log"]
    assert numbers["panels"][0]["ends"] == [0.001, 10000.0]
    assert {mark["label"] for mark in numbers["marks"]} == {"weakest fault", "strongest fault"}


@pytest.mark.parametrize("ending", ["", ".svg", ".csv", ".json"])
@pytest.mark.parametrize("curve", ["no.such", "..%2F..%2Fridgeway", "<script>"])
def test_an_address_of_no_curve_leads_nowhere(client: TestClient, curve: str, ending: str):
    assert "<script>" not in page(client, f"{CHARTS}{curve}{ending}", 404).partition("<h1>")[2]


def test_a_curve_that_waits_for_an_entry_says_so_and_leads_there(client, folder: Path):
    path = folder / "ridgeway.toml"
    path.write_text(edit(path.read_text("utf-8"), "pack.module", None), "utf-8")
    html = page(client, CHARTS + "pack.voltage")
    assert "cannot be drawn yet" in html
    assert 'href="/cars/ridgeway/pack"' in html
    assert client.get(CHARTS + "pack.voltage.csv").status_code == 404


def test_a_broken_file_still_shows_its_last_good_chart_as_stale(client, folder: Path):
    page(client, CHARTS + "pack.voltage")
    (folder / "ridgeway.toml").write_text("format = 1\n[", "utf-8")
    html = page(client, CHARTS + "pack.voltage")
    assert "chart-sheet stale" in html
    assert len(drawings(html)) == 1


@pytest.mark.parametrize("slug", ["goals", "drive", "pack", "high-voltage", "12-v", "cooling"])
def test_a_stage_shows_its_curves_and_leads_to_their_pages(client: TestClient, slug: str):
    html = page(client, f"/cars/ridgeway/{slug}")
    shown = re.findall(r'data-curve="/cars/ridgeway/charts/([a-z_.]+)\.json"', html)
    assert shown
    for curve in shown:
        assert f'<a href="{CHARTS}{curve}">' in html
    assert len(drawings(html)) == len(shown)


def test_the_charts_of_a_loop_stand_side_by_side(client: TestClient, folder: Path):
    van = (ROOT / "examples/parcel-round.toml").read_text("utf-8")
    (folder / "parcel-round.toml").write_text(van, "utf-8")
    html = page(client, "/cars/parcel-round/cooling")
    shown = re.findall(r'data-curve="/cars/parcel-round/charts/cooling\.([a-z_.]+)\.json"', html)
    charts = ("working_point", "coolant")
    assert shown == [f"{loop}.{chart}" for loop in ("drive", "pack_plate") for chart in charts]


def test_the_time_a_battery_lasts_is_told_in_minutes_and_a_climb_too(client: TestClient):
    for curve, minutes in (("lv.reserve", "panels"), ("cooling.drive.coolant", "x")):
        numbers = client.get(f"{CHARTS}{curve}.json").json()
        axis = numbers["x"] if minutes == "x" else numbers["panels"][0]
        assert axis["unit"] == "min"
        assert f", {axis['unit']}</text>" in client.get(f"{CHARTS}{curve}.svg").text
    assert client.get(f"{CHARTS}run.city.json").json()["x"]["unit"] == "s"


def test_every_colour_of_the_drawings_becomes_a_colour_of_the_page():
    sheet = SHEET.read_text("utf-8")
    colours = (style.INK, style.PAPER, style.RULE, style.GRID, style.SHADE, style.ORANGE)
    for colour in colours:
        for what in ("fill", "stroke"):
            rule = re.search(
                rf'\.drawn svg \[{what}="{colour}"\][^{{]*\{{ {what}: var\((.*?)\)', sheet
            )
            assert rule is not None
            assert (rule[1] == "--class-b") == (colour == style.ORANGE)


def test_a_cursor_runs_through_every_panel_and_says_its_values(visit):
    sheet = visit(CHARTS + "run.city")
    sheet.wait_for_selector(LIVE)
    assert not sheet.locator(".drawn svg").is_visible()
    box = sheet.locator(".u-over").nth(1).bounding_box()
    sheet.mouse.move(box["x"] + box["width"] / 2, box["y"] + 10)
    sheet.wait_for_function("document.querySelector('.reading').textContent.startsWith('At ')")
    told = sheet.locator(".reading").inner_text()
    for name in ("speed", "power", "voltage", "current", "state of charge", "motor temperature"):
        assert f"{name} " in told
    values = sheet.locator(".u-value").all_inner_texts()
    assert all(re.search(r"\d", value) for value in values)


def test_a_keyboard_moves_the_cursor_and_zooms_and_goes_back(visit):
    sheet = visit(CHARTS + "pack.voltage")
    sheet.wait_for_selector(LIVE)
    sheet.locator(".live-chart").focus()
    for key, begins in (
        ("Home", "At 0 %"),
        ("ArrowRight", "At 2.5 %"),
        ("End", "At 100 %"),
        ("ArrowLeft", "At 97.5 %"),
    ):
        sheet.keyboard.press(key)
        sheet.wait_for_function(
            "text => document.querySelector('.reading').textContent.startsWith(text)", arg=begins
        )
    sheet.keyboard.press("+")
    sheet.keyboard.press("Home")
    sheet.wait_for_function("!document.querySelector('.reading').textContent.startsWith('At 9')")
    assert not sheet.locator(".reading").inner_text().startswith("At 0 %")
    sheet.keyboard.press("Escape")
    sheet.keyboard.press("Home")
    sheet.wait_for_function("document.querySelector('.reading').textContent.startsWith('At 0 %')")


def test_the_drawing_is_one_button_away_and_stays_chosen(visit):
    sheet = visit(CHARTS + "pack.voltage")
    sheet.wait_for_selector(LIVE)
    sheet.get_by_role("button", name="drawn").click()
    assert sheet.locator(".drawn svg").is_visible()
    assert sheet.locator(".live-chart").count() == 0
    sheet.reload()
    sheet.wait_for_selector(".chart-switch")
    assert sheet.locator(".drawn svg").is_visible()
    sheet.get_by_role("button", name="live").click()
    sheet.wait_for_selector(LIVE)


def test_print_has_the_drawing_and_not_the_live_chart(visit):
    sheet = visit(CHARTS + "circuit.coordination")
    sheet.wait_for_selector(LIVE)
    sheet.emulate_media(media="print")
    assert sheet.locator(".drawn svg").is_visible()
    assert not sheet.locator(".live-chart").is_visible()


def test_edits_leave_one_live_chart_and_none_behind(visit):
    sheet = visit("/cars/ridgeway/pack")
    sheet.wait_for_selector(LIVE)
    for low in ("6 %", "7 %", "8 %"):
        field = sheet.locator("form.entry:has(input[value='pack.usable.from']) input[name=text]")
        with sheet.expect_response(re.compile(r"pack\.voltage\.json")):
            field.first.fill(low)
            field.first.press("Enter")
        sheet.wait_for_selector(LIVE)
        assert sheet.locator(".uplot").count() == 1
        assert sheet.locator(".chart-switch").count() == 1
    sheet.locator(".stages a").first.click()
    sheet.wait_for_url("**/donor")
    sheet.wait_for_function("document.querySelectorAll('.uplot').length === 0")


def test_a_picture_of_a_chart_can_be_kept(visit):
    sheet = visit(CHARTS + "pack.voltage")
    with sheet.expect_download() as kept:
        sheet.get_by_role("button", name="PNG").click()
    assert kept.value.suggested_filename == "ridgeway-pack.voltage.png"
    assert Path(kept.value.path()).read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("curve", CURVES)
def test_a_chart_page_can_be_used_by_everyone_on_a_phone(visit, curve: str, scheme: str):
    sheet = visit(CHARTS + curve, size=PHONE, color_scheme=scheme)
    sheet.wait_for_selector(LIVE)
    assert sheet.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(sheet) == []
