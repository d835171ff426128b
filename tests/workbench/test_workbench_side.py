"""The car from the side: masses moved on the drawing or in the ledger, saved and taken back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from browser import PHONE, violations
from conftest import token_of
from starlette.testclient import TestClient

pytestmark = pytest.mark.arithmetic

SIDE = "/cars/fault-finder/side"
PACK = 7
"""The number, from 0, of the row of the rear pack, 318 kg at 2.55 m."""


def asked(client: TestClient, fields: dict[str, str], car: str = "fault-finder"):
    token = token_of(client.get(SIDE).text)
    return client.post(f"/cars/{car}/weights", data={"token": token, **fields})


def place_in(folder: Path, row: int = PACK) -> str:
    text = (folder / "fault-finder.toml").read_text("utf-8")
    return re.findall(r'^x\s*=\s*"([^"]*)"', text, re.MULTILINE)[row]


def test_the_page_has_the_drawing_and_every_row_of_the_ledger_to_edit(client: TestClient):
    page = client.get(SIDE)
    assert page.status_code == 200
    assert 'data-row="7"' in page.text
    assert "rear pack, 192 in series" in page.text
    for row in range(14):
        assert f'name="path" value="mass[{row}].x"' in page.text
        assert f'name="path" value="mass[{row}].mass"' in page.text
    assert 'action="/cars/fault-finder/rows"' in page.text


def test_a_mass_is_moved_without_script_by_typing_its_place(client: TestClient, folder: Path):
    page = client.get(SIDE).text
    based_on = re.search(r'name="based_on" value="([^"]+)"', page)[1]
    sent = {"path": f"mass[{PACK}].x", "text": "1.5 m", "based_on": based_on, "from": SIDE}
    answer = client.post(
        "/cars/fault-finder/edit", data={"token": token_of(page), **sent}, follow_redirects=False
    )
    assert answer.status_code == 303
    assert answer.headers["location"] == SIDE
    assert place_in(folder) == "1.5 m"


def test_the_loads_of_a_mass_held_elsewhere_are_told_and_nothing_is_kept(
    client: TestClient, folder: Path
):
    answer = asked(client, {f"x:{PACK}": "1.55"})
    assert answer.status_code == 200
    found = answer.json()
    # A metre of 318 kg over a wheelbase of 2.5 m takes 127 kg from the rear axle's 1090 kg.
    assert found["texts"]["rear.loaded"] == "963 kg"
    assert found["verdicts"]["rear"] == "stop"
    assert found["rows"] == {str(PACK): "1.55 m"}
    assert found["places"]["loaded.x"] == pytest.approx(1.686 - 318.0 / 1616.0, abs=0.01)
    assert "rear axle 963 kg stop" in found["told"]
    assert place_in(folder) == "2.55 m"


def test_far_enough_forward_the_stop_of_the_rear_axle_is_gone(client: TestClient):
    found = asked(client, {f"x:{PACK}": "0.4"}).json()
    assert found["verdicts"]["rear"] in ("met", "watch")


def test_a_place_told_in_inches_can_be_written_into_the_file(client: TestClient):
    client.cookies.set("swapwright", "us.electric.auto")
    found = asked(client, {f"x:{PACK}": "1.27"}).json()
    assert found["rows"] == {str(PACK): "50 in"}
    assert found["texts"]["rear.loaded"].endswith(" lb")


@pytest.mark.parametrize(
    "fields",
    [{"x:7": "40"}, {"x:7": "nan"}, {"x:7": "1e999"}, {"x:7": "far"}, {"x:99": "1"}, {"x:-1": "1"}],
    ids=["off the car", "no number", "infinite", "a word", "no such row", "a row before the first"],
)
def test_a_place_where_no_mass_can_be_is_refused_in_words(client: TestClient, fields):
    answer = asked(client, fields)
    assert answer.status_code == 422
    assert answer.json()["problem"]


def test_a_question_without_the_token_is_refused(client: TestClient):
    assert client.post("/cars/fault-finder/weights", data={"x:7": "1"}).status_code == 403


def test_the_weight_stage_has_the_side_view_and_its_ledger_in_one_table(client: TestClient):
    page = client.get("/cars/fault-finder/weight").text
    assert 'class="side-view small"' in page
    assert page.count('<table class="ledger">') == 1
    entries_and_taking_it_out = 6
    assert page.count('name="path" value="mass[') == entries_and_taking_it_out * 14
    assert "tabindex" not in re.search(r'<svg class="side-view small".*?</svg>', page, re.DOTALL)[0]


def test_the_drawing_can_be_had_as_a_file(client: TestClient):
    answer = client.get("/cars/fault-finder/side.svg")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<?xml")


def test_without_a_wheelbase_the_page_says_what_is_wanting(client: TestClient, folder: Path):
    path = folder / "fault-finder.toml"
    path.write_text(re.sub(r"(?m)^wheelbase.*\n", "", path.read_text("utf-8")), "utf-8")
    page = client.get(SIDE)
    assert page.status_code == 200
    assert "There is no drawing without" in page.text
    assert client.get("/cars/fault-finder/side.svg").status_code == 404


def middle_of(page, row: int = PACK) -> tuple[float, float]:
    box = page.locator(f"#mass-{row} .disc").bounding_box()
    return box["x"] + box["width"] / 2.0, box["y"] + box["height"] / 2.0


def load_of(page, key: str = "rear.loaded") -> str:
    return page.locator(f'svg [data-live="{key}"]').text_content()


def test_a_mass_dragged_shows_the_loads_at_once_and_is_saved_when_let_go(visit, folder: Path):
    page = visit(SIDE)
    x, y = middle_of(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 150, y, steps=8)
    page.wait_for_function(
        "() => document.querySelector('svg [data-live=\"rear.loaded\"]').textContent !== '1090 kg'"
    )
    assert place_in(folder) == "2.55 m"
    assert page.locator('td [data-live="rear.loaded"]').text_content() == load_of(page)
    page.mouse.up()
    page.wait_for_selector("#undo:not([disabled])")
    moved = place_in(folder)
    assert moved != "2.55 m"
    assert page.input_value(f"#entry-mass-{PACK}-x") == moved
    page.click("#undo")
    page.wait_for_selector("#undo[disabled]")
    assert place_in(folder) == "2.55 m"
    assert load_of(page) == "1090 kg"


def test_a_mass_is_moved_by_arrow_keys_put_back_by_escape_and_saved_by_enter(visit, folder: Path):
    page = visit(SIDE)
    page.focus(f"#mass-{PACK}")
    page.keyboard.press("Shift+ArrowLeft")
    page.wait_for_function(
        "() => document.querySelector('#side-told').textContent.startsWith('2.45')"
    )
    page.keyboard.press("Escape")
    page.wait_for_function(
        "() => document.querySelector('svg [data-live=\"rear.loaded\"]').textContent === '1090 kg'"
    )
    assert place_in(folder) == "2.55 m"
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    page.wait_for_selector("#undo:not([disabled])")
    assert place_in(folder) == "2.54 m"
    assert page.evaluate("document.activeElement.id") == f"mass-{PACK}"


def test_a_mass_held_when_the_line_is_down_goes_back_to_its_place(visit, folder: Path):
    page = visit(SIDE)
    page.route("**/weights", lambda route: route.abort())
    x, y = middle_of(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 100, y, steps=4)
    page.mouse.up()
    page.wait_for_function(
        "() => document.querySelector('#side-told').textContent.includes('does not answer')"
    )
    assert middle_of(page)[0] == pytest.approx(x, abs=1.0)
    assert place_in(folder) == "2.55 m"


@pytest.mark.parametrize("size", [(1280, 800), PHONE], ids=["desktop", "phone"])
def test_the_side_page_has_nothing_the_accessibility_rules_mind(visit, size):
    page = visit(SIDE, size)
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
