from __future__ import annotations

import re
from pathlib import Path

import pytest
from conftest import token_of
from starlette.testclient import TestClient

from swapwright.build.edit import content_hash

pytestmark = pytest.mark.arithmetic

CAR = "/cars/ridgeway"


def page(client: TestClient, rest: str) -> str:
    return client.get(f"{CAR}/{rest}").text


def post(client: TestClient, rest: str, **data: str):
    html = client.get(f"{CAR}/revisions").text
    based = re.search(r'name="based_on" value="([^"]+)"', html)
    form = {"token": token_of(html), "from": f"{CAR}/revisions"}
    form |= {"based_on": based[1]} if based else {}
    return client.post(f"{CAR}/{rest}", data={**form, **data}, follow_redirects=False)


def change(client: TestClient, path: str, text: str) -> None:
    assert post(client, "edit", path=path, text=text).status_code == 303


@pytest.fixture
def file(folder: Path) -> Path:
    return folder / "ridgeway.toml"


def test_a_car_never_saved_says_so(client: TestClient):
    assert "No revision is saved yet" in page(client, "revisions")


def test_a_revision_is_listed_with_its_name_and_hash(client: TestClient):
    assert post(client, "revisions", name="as <agreed>").status_code == 303
    html = page(client, "revisions")
    assert "as &lt;agreed&gt;" in html
    assert re.search(r"<td>\d{4}-\d\d-\d\d \d\d:\d\d UTC</td>", html)
    assert "the car as it stands</td>" in html


def test_a_name_that_is_none_is_refused(client: TestClient):
    assert post(client, "revisions", name="  ").status_code == 422


def test_the_file_of_a_revision_can_be_had(client: TestClient, file: Path):
    before = file.read_bytes()
    post(client, "revisions", name="as agreed")
    change(client, "car.wheelbase", "2.5 m")
    answer = client.get(f"{CAR}/revisions/1.toml")
    assert answer.content == before
    assert "attachment" in answer.headers["content-disposition"]


def test_two_revisions_stand_side_by_side(client: TestClient):
    post(client, "revisions", name="as agreed")
    change(client, "goals.range.min", "150 km")
    change(client, "car.road_load.c_rr", "0.014")
    html = page(client, "compare?one=1&other=now")
    assert "from <strong>1: as agreed</strong> to <strong>the car as it stands</strong>" in html
    assert re.search(r"goals\.range\.min</code></a></th><td>120 km</td><td>150 km</td>", html)
    assert re.search(r"range, city</a></th><td>[\d.]+ km</td><td>[\d.]+ km</td>", html)
    assert "with another verdict" in html
    post(client, "revisions", name="heavier tyres")
    both = page(client, "compare?one=2&other=1")
    assert re.search(r"goals\.range\.min</code></a></th><td>150 km</td><td>120 km</td>", both)


def test_findings_that_came_or_went_are_told(client: TestClient):
    post(client, "revisions", name="with a goal")
    assert post(client, "edit", path="goals.top_speed", text="").status_code == 303
    assert "<caption>gone</caption>" in page(client, "compare?one=1&other=now")
    post(client, "revisions", name="without")
    assert "<caption>newly appeared</caption>" in page(client, "compare?one=2&other=1")


def test_a_revision_compared_with_itself_has_not_changed(client: TestClient):
    post(client, "revisions", name="as agreed")
    assert "Nothing changed between the two" in page(client, "compare?one=1&other=1")


@pytest.mark.parametrize("query", ["one=7", "one=", "one=-1", "one=x", "one=1&other=7", "one=²"])
def test_a_revision_that_is_not_there_is_not_found(client: TestClient, query: str):
    post(client, "revisions", name="as agreed")
    assert client.get(f"{CAR}/compare?{query}").status_code == 404


def test_a_revision_that_no_longer_loads_is_told_and_not_brought_back(
    client: TestClient, file: Path, folder: Path
):
    post(client, "revisions", name="as agreed")
    (folder / "revisions" / "ridgeway" / "0001.toml").write_text("format = 1\n[car\n")
    before = file.read_bytes()
    assert client.get(f"{CAR}/compare?one=1&other=now").status_code == 422
    assert post(client, "revisions/back", number="1").status_code == 422
    assert file.read_bytes() == before
    assert client.get(f"{CAR}/donor").status_code == 200


def test_a_revision_is_brought_back_and_that_can_be_undone(client: TestClient, file: Path):
    agreed = file.read_bytes()
    post(client, "revisions", name="as agreed")
    change(client, "car.wheelbase", "2.5 m")
    changed = file.read_bytes()
    assert post(client, "revisions/back", number="1").status_code == 303
    assert file.read_bytes() == agreed
    assert post(client, "undo").status_code == 303
    assert file.read_bytes() == changed


def test_nothing_is_brought_back_over_what_the_page_did_not_show(client: TestClient, file: Path):
    post(client, "revisions", name="as agreed")
    change(client, "car.wheelbase", "2.5 m")
    before = file.read_bytes()
    assert post(client, "revisions/back", number="1", based_on="0" * 64).status_code == 422
    assert post(client, "undo", based_on="0" * 64).status_code == 422
    assert file.read_bytes() == before


def test_a_broken_file_is_shown_and_replaced_only_by_an_act_of_its_own(
    client: TestClient, file: Path
):
    post(client, "revisions", name="as agreed")
    good = file.read_text()
    broken = good.replace('"1180 kg"', '"heavy"')
    file.write_text(broken)
    html = page(client, "donor")
    assert "The file on disk cannot be assessed" in html
    assert "car.kerb_mass" in html
    assert "write the last text that could be assessed in its place" in html
    assert re.search(r'id="undo" disabled', html)
    for rest, data in (
        ("edit", {"path": "car.wheelbase", "text": "2.5 m"}),
        ("undo", {}),
        ("revisions", {"name": "x"}),
        ("revisions/back", {"number": "1"}),
    ):
        post(client, rest, **data)
        assert file.read_text() == broken
    assert "in place of the broken file" in page(client, "revisions")
    assert post(client, "restore").status_code == 303
    assert file.read_text() == good
    assert "The file on disk cannot be assessed" not in page(client, "donor")
    post(client, "undo")
    assert file.read_text() == broken
    assert post(client, "revisions/back", number="1", is_over_broken="yes").status_code == 303
    assert file.read_text() == good


def test_a_file_taken_away_is_told_and_can_be_written_anew(client: TestClient, file: Path):
    page(client, "donor")
    good = file.read_text()
    file.unlink()
    html = page(client, "donor")
    assert "cannot be read" in html
    assert "ridgeway" not in client.get("/").text
    assert post(client, "edit", path="car.wheelbase", text="2.5 m").status_code != 303
    assert not file.exists()
    assert post(client, "restore").status_code == 303
    assert file.read_text() == good


def test_the_hash_follows_the_file(client: TestClient, file: Path):
    text = file.read_text()
    first = page(client, "hash")
    assert first == content_hash(text)
    assert f'data-hash="{first}"' in page(client, "donor")
    file.write_text(text + "# by hand\n")
    assert page(client, "hash") == content_hash(text + "# by hand\n")
    file.write_text("broken =")
    assert f'data-hash="{page(client, "hash")}"' in page(client, "donor")
    file.write_bytes(b"\xff")
    assert f'data-hash="{page(client, "hash")}"' in page(client, "donor")


def test_an_entry_two_tabs_changed_is_told_at_the_entry(client: TestClient, file: Path):
    opened = content_hash(file.read_text())
    change(client, "car.wheelbase", "2.5 m")
    answer = post(client, "edit", path="car.wheelbase", text="2.6 m", based_on=opened)
    assert answer.status_code == 409
    assert "Changed meanwhile from 2.43 m to 2.5 m; yours is 2.6 m" in answer.text
    assert '"2.5 m"' in file.read_text()
    answer = post(client, "edit", path="car.wheelbase", text="2.6 m", based_on="0" * 64)
    assert "This page is older than is remembered; there stands now 2.5 m" in answer.text
