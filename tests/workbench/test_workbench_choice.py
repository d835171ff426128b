from __future__ import annotations

import html
import re
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from conftest import token_of
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.parts import kinds
from swapwright.jobs.progress import Cancelled
from swapwright.workbench.pages import choosing

LONG = 60.0
MOTOR = "/cars/ridgeway/parts/drive.motor"
DCDC = "/cars/ridgeway/parts/lv.dcdc"
CONTACTORS = "/cars/fault-finder/parts/hv.contactors"

pytestmark = pytest.mark.arithmetic


def hash_of(text: str) -> str:
    found = re.search(r'name="based_on" value="([0-9a-f]+)"', text)
    assert found is not None
    return found[1]


def settled(client: TestClient, address: str) -> str:
    """Return a page of a place once its comparison has ended."""
    client.get(address)
    for _, task in list(client.app.state.tasks._tasks.values()):
        task.wait(LONG)
    return html.unescape(client.get(address).text)


def use(client: TestClient, address: str, name: str, **more: str):
    page = client.get(address).text
    fields = {"token": token_of(page), "text": name, "based_on": hash_of(page), **more}
    return client.post(address, data=fields, follow_redirects=False)


@pytest.fixture(autouse=True)
def nothing_left_running(client: TestClient) -> Iterator[None]:
    yield
    for subject in list(client.app.state.tasks._tasks):
        client.app.state.tasks.forget(subject)


def steer(client: TestClient, do: str):
    address = MOTOR.replace("/parts/", "/choosing/")
    token = token_of(client.get(MOTOR).text)
    return client.post(address, data={"token": token, "do": do})


def test_the_page_of_a_place_tells_how_far_it_is_and_works_without_script(client):
    page = client.get(MOTOR).text
    assert 'hx-trigger="every 400ms"' in page
    assert "<progress" in page
    assert '<noscript><meta http-equiv="refresh"' in page
    assert "pm-radial-75kw" in page


def test_what_fits_comes_first_and_what_does_not_says_why(client):
    page = settled(client, MOTOR)
    assert "every 400ms" not in page
    names = re.findall(r'<th scope="row"><a href="/parts/motor/([^"]+)"', page)
    assert len(names) == 12
    assert names[0] == "pm-radial-75kw"
    why = page.partition('id="why-pm-interior-150kw"')[2].partition("</details>")[0]
    assert "voltage.back_emf" in why
    assert "at most" in why
    assert "What to do:" in why
    assert "0-60 mph" in why


def test_only_what_fits_is_shown_when_asked(client):
    row = r'<th scope="row"><a href="/parts/dcdc/([^"]+)"'
    everything = settled(client, DCDC)
    page = settled(client, f"{DCDC}?only=fits")
    fitting = re.findall(row, page)
    assert "dcdc-1200w-400v" in fitting
    assert "dcdc-500w-72v" not in fitting
    assert "dcdc-500w-72v" in re.findall(row, everything)
    assert "checked" in page


def test_the_part_that_is_watched_is_the_table_alone(client):
    settled(client, DCDC)
    part = client.get(DCDC.replace("/parts/", "/choosing/")).text
    assert part.lstrip().startswith('<section id="candidates"')
    assert "<header" not in part


def test_a_part_is_put_into_the_file_and_leads_to_its_stage(client, folder: Path):
    answer = use(client, MOTOR, "pm-interior-120kw")
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/cars/ridgeway/drive?at=drive.motor")
    said = tomllib.loads((folder / "ridgeway.toml").read_text())
    assert said["drive"]["motor"] == "pm-interior-120kw"


def test_a_part_written_in_full_gives_way_and_what_is_said_of_its_place_stays(client, folder: Path):
    page = client.get(CONTACTORS).text
    assert "written out in the file" in page
    assert "choosing another takes them out of the file" in page
    assert use(client, CONTACTORS, "contactor-900vdc-300a").status_code == 303
    said = tomllib.loads((folder / "fault-finder.toml").read_text())["hv"]["contactors"]
    assert said == {"poles": "both", "polarised": False, "part": "contactor-900vdc-300a"}


@pytest.mark.parametrize(
    "name", ["pm-radial-75kv", "", "../fuse/fuse-10a-500vdc", "{ part = 'pm-radial-75kw' }"]
)
def test_a_name_the_catalogue_does_not_have_is_refused_and_nothing_is_written(client, folder, name):
    before = (folder / "ridgeway.toml").read_bytes()
    answer = use(client, MOTOR, name)
    assert answer.status_code == 422
    assert "there is no motor called" in html.unescape(answer.text)
    assert (folder / "ridgeway.toml").read_bytes() == before


def test_a_part_changed_meanwhile_is_shown_and_can_be_taken_all_the_same(client, folder: Path):
    page = client.get(MOTOR).text
    old = hash_of(page)
    use(client, MOTOR, "pm-interior-120kw")
    answer = use(client, MOTOR, "pm-interior-85kw", based_on=old)
    assert answer.status_code == 409
    assert "Changed meanwhile from pm-radial-75kw to pm-interior-120kw" in answer.text
    assert use(client, MOTOR, "pm-interior-85kw", is_forced="yes").status_code == 303
    assert "pm-interior-85kw" in (folder / "ridgeway.toml").read_text()


def test_a_comparison_that_is_cancelled_stays_so_until_it_is_asked_for_again(client, monkeypatch):
    def endless(*_, progress, is_cancelled, **__):
        progress(3, 12)
        while not is_cancelled():
            time.sleep(0.01)
        raise Cancelled

    monkeypatch.setattr(choosing, "choose", endless)
    client.get(MOTOR)
    page = steer(client, "stop").text
    assert "Cancelled after" in page
    assert "every 400ms" not in page
    assert "Cancelled after" in client.get(MOTOR).text
    assert "Cancelled after" not in steer(client, "again").text


def test_a_value_of_a_part_is_overridden_in_the_file_and_taken_out_again(client, folder: Path):
    page = client.get(MOTOR).text
    assert 'placeholder="75.0 kW"' in page
    fields = {
        "token": token_of(page),
        "from": MOTOR,
        "path": "drive.motor.peak_power",
        "text": "80 kW",
        "based_on": hash_of(page),
    }
    answer = client.post("/cars/ridgeway/edit", data=fields)
    assert answer.url.path == MOTOR
    assert "The file gives values of its own" in answer.text
    said = tomllib.loads((folder / "ridgeway.toml").read_text())["drive"]["motor"]
    assert said == {"part": "pm-radial-75kw", "peak_power": "80 kW"}
    fields |= {"text": "", "based_on": hash_of(answer.text)}
    client.post("/cars/ridgeway/edit", data=fields)
    said = tomllib.loads((folder / "ridgeway.toml").read_text())["drive"]["motor"]
    assert said == {"part": "pm-radial-75kw"}


def test_a_wrong_value_of_a_part_is_explained_at_its_entry(client):
    page = client.get(MOTOR).text
    fields = {
        "token": token_of(page),
        "from": MOTOR,
        "path": "drive.motor.peak_power",
        "text": "80 kg",
        "based_on": hash_of(page),
    }
    answer = client.post("/cars/ridgeway/edit", data=fields)
    assert answer.status_code == 422
    assert 'value="80 kg"' in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_the_cell_of_a_module_is_chosen_at_the_module(client):
    answer = client.get("/cars/ridgeway/parts/pack.cell", follow_redirects=False)
    assert answer.headers["location"] == "/cars/ridgeway/parts/pack.module.cell"


@pytest.mark.parametrize("place", ["car.name", "hv.branch[9].fuse", "drive.nothing", "a//b"])
def test_where_no_part_stands_there_is_no_page(client, place):
    assert client.get(f"/cars/ridgeway/parts/{place}").status_code == 404


def test_a_file_broken_on_disk_is_not_compared(client, folder: Path):
    client.get(MOTOR)
    (folder / "ridgeway.toml").write_text("format = 1\n[car\n")
    page = client.get(MOTOR).text
    assert "nothing can be compared with it" in page


def test_every_part_of_the_catalogue_is_listed_by_kind_and_shown_in_full(client):
    page = client.get("/parts").text
    parts = Catalogue()
    for kind in kinds():
        name = parts.names(kind)[0]
        assert f'href="/parts/{kind}/{name}"' in page
        shown = client.get(f"/parts/{kind}/{name}")
        assert shown.status_code == 200
        for key in parts.get(kind, name).tables:
            assert f"<code>{key}</code>" in shown.text


def test_a_part_that_is_not_there_is_not_found(client):
    assert client.get("/parts/motor/nothing-of-that-name").status_code == 404
    assert client.get("/parts/engine/pm-radial-75kw").status_code == 404
