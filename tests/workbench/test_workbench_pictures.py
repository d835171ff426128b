"""The pictures of drive and goals, and the pages where they stand in full."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from swapwright.build.edit import edit

pytestmark = pytest.mark.arithmetic

CAR = "/cars/ridgeway/"


def page(client: TestClient, address: str, status: int = 200) -> str:
    answer = client.get(CAR + address)
    assert answer.status_code == status
    return answer.text


def without_motor(folder: Path) -> None:
    path = folder / "ridgeway.toml"
    path.write_text(edit(path.read_text("utf-8"), "drive.motor", None), "utf-8")


def test_the_drive_shows_its_gears_first_and_its_motor_second(client: TestClient):
    found = re.findall(r'<h2><a href="[^"]*charts/([a-z.]+)"', page(client, "drive"))
    assert found[:2] == ["drive.gears", "drive.motor"]


def test_the_goals_show_what_moves_the_range_and_where_the_energy_goes(client: TestClient):
    text = page(client, "goals")
    assert 'href="/cars/ridgeway/moves/range.combined"' in text
    assert 'href="/cars/ridgeway/flow"' in text
    assert 'class="tornado"' in text
    assert 'class="energy-flow"' in text


@pytest.mark.parametrize("curve", ["drive.gears", "drive.motor"])
def test_the_curves_of_the_drive_stand_on_pages_of_their_own(client: TestClient, curve: str):
    assert "<svg" in page(client, f"charts/{curve}")


def test_the_flow_page_has_a_table_that_leads_to_the_consumption(client: TestClient):
    text = page(client, "flow")
    assert text.count("<tbody>") == 4
    assert 'href="/cars/ridgeway/figures/consumption.city"' in text
    for words in ("leaves: tyres", "enters: out of the cells", "each way in all"):
        assert words in text


def test_the_moves_page_says_how_it_is_read_and_leads_to_each_entry(client: TestClient):
    text = page(client, "moves/range.combined")
    assert "each input alone at its two ends, all others at their nominal" in text
    link = 'href="/cars/ridgeway/drive?at=drive.loss_factor#entry-drive-loss_factor"'
    assert text.count(link) == 2


def test_a_person_goes_from_the_range_to_the_input_that_moves_it_most(client: TestClient):
    text = page(client, "moves/range.combined")
    first = re.search(r'<tbody>\s*<tr><th scope="row"><a href="([^"#]+)', text)
    assert first is not None
    answer = client.get(first[1])
    assert answer.status_code == 200
    assert "drive.loss_factor" in answer.text


@pytest.mark.parametrize("address", ["flow.svg", "moves/range.combined.svg"])
def test_each_picture_is_a_file_too(client: TestClient, address: str):
    answer = client.get(CAR + address)
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<?xml")


def test_a_figure_nobody_knows_is_not_found(client: TestClient):
    page(client, "moves/no.such.figure", 404)
    page(client, "moves/no.such.figure.svg", 404)


def test_a_figure_nothing_moves_says_so(client: TestClient):
    assert "No input that is given as a range moves it" in page(client, "moves/pack.series_cells")
    page(client, "moves/pack.series_cells.svg", 404)


def test_a_car_without_a_motor_says_why_there_is_no_flow(client: TestClient, folder: Path):
    without_motor(folder)
    assert "no city range yet" in page(client, "flow")
    page(client, "flow.svg", 404)
    assert 'class="energy-flow"' not in page(client, "goals")


def test_the_unit_is_the_one_chosen(client: TestClient):
    client.cookies.set("swapwright", "us.electric.auto")
    assert "Wh/mi" in page(client, "flow")
    assert re.search(r"\d mi</a>", page(client, "moves/range.combined"))
