from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from conftest import token_of
from starlette.testclient import TestClient

pytestmark = pytest.mark.arithmetic

KNOWN = {
    "entry:car.name": "Hill coupe / 2",
    "entry:car.kerb_mass": "2600 lb",
    "entry:car.axle_mass.front": "1340 lb",
    "entry:car.axle_mass.rear": "1260 lb",
    "entry:goals.region": "US",
    "entry:drive.motor": "pm-radial-75kw",
    "mass:0:mass": "326 lb",
    "mass:0:behind": "4 in",
    "mass:3:mass": "400 lb",
}


def ask(client: TestClient, answers: dict[str, str], address: str = "/new"):
    token = token_of(client.get("/new").text)
    return client.post(address, data={"token": token, **answers}, follow_redirects=False)


def files_in(folder: Path) -> set[str]:
    return {path.name for path in folder.glob("*.toml")}


def field(html: str, name: str) -> str:
    found = re.search(rf'<(?:input|select)[^>]*name="{re.escape(name)}"[^>]*>', html)
    assert found is not None
    return found[0]


def test_a_new_car_needs_no_more_than_its_name(client: TestClient, folder: Path):
    answer = ask(client, {"entry:car.name": "Coupe"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/cars/Coupe/donor")
    assert tomllib.loads((folder / "Coupe.toml").read_text())["car"] == {"name": "Coupe"}
    assert client.get("/cars/Coupe/donor").status_code == 200


def test_what_is_known_goes_into_the_file_as_it_was_typed(client: TestClient, folder: Path):
    answer = ask(client, KNOWN)
    assert answer.headers["location"] == "/cars/Hill-coupe-2/donor"
    said = tomllib.loads((folder / "Hill-coupe-2.toml").read_text())
    assert said["car"]["kerb_mass"] == "2600 lb"
    assert said["drive"]["motor"] == "pm-radial-75kw"
    assert said["mass"] == [
        {"remove": "engine and what bolts to it", "mass": "326 lb", "x": "4 in"},
        {"add": "pack with its boxes", "mass": "400 lb"},
    ]


def test_a_body_and_a_tyre_may_be_named_by_their_style(client: TestClient, folder: Path):
    page = client.get("/new").text
    body = re.search(
        r'<datalist id="ask-entry-car-road_load-cd_a-names"><option value="([^"]+)"', page
    )
    assert body is not None
    ask(client, {"entry:car.name": "Coupe", "entry:car.road_load.cd_a": body[1]})
    said = tomllib.loads((folder / "Coupe.toml").read_text())
    assert re.fullmatch(r"[\d.]+\.\.[\d.]+ m\^2", said["car"]["road_load"]["cd_a"])


def test_examples_are_in_the_persons_units(client: TestClient):
    assert 'placeholder="as 1180 kg"' in client.get("/new").text
    client.cookies.set("swapwright", "us.electric.auto")
    page = client.get("/new").text
    assert 'placeholder="as 2600 lb"' in page
    assert 'placeholder="as 4 in"' in page


def test_parts_are_chosen_from_the_catalogue_by_name(client: TestClient):
    page = client.get("/new").text
    assert '<option value="pm-radial-75kw">' in page
    assert field(page, "entry:drive.motor").startswith("<select")


def test_every_answer_at_fault_is_told_beside_it_and_all_that_was_typed_stays(
    client: TestClient, folder: Path
):
    before = files_in(folder)
    faulty = {
        **KNOWN,
        "entry:car.kerb_mass": "heavy <b>",
        "entry:car.wheelbase": "12 V",
        "mass:0:mass": "a lot",
        "mass:1:behind": "3 m",
    }
    answer = ask(client, faulty)
    assert answer.status_code == 422
    assert files_in(folder) == before
    for name in ("entry:car.kerb_mass", "entry:car.wheelbase", "mass:0:mass", "mass:1:mass"):
        assert 'aria-invalid="true"' in field(answer.text, name)
    for name in ("entry:car.name", "entry:car.axle_mass.front", "mass:1:behind"):
        assert "aria-invalid" not in field(answer.text, name)
    assert 'value="heavy &lt;b&gt;"' in answer.text
    assert 'value="2600 lb"' not in answer.text
    assert 'value="Hill coupe / 2"' in answer.text
    assert '<option value="pm-radial-75kw" selected>' in answer.text
    assert "say its mass too" in answer.text


def test_answers_that_do_not_agree_with_each_other_are_told(client: TestClient, folder: Path):
    answer = ask(client, {**KNOWN, "entry:car.axle_mass.rear": "2600 lb"})
    assert answer.status_code == 422
    assert "Not written yet" in answer.text
    assert not (folder / "Hill-coupe-2.toml").exists()


def test_a_car_without_a_name_is_not_written(client: TestClient, folder: Path):
    before = files_in(folder)
    answer = ask(client, {"entry:car.kerb_mass": "1180 kg"})
    assert "a car needs a name" in answer.text
    assert files_in(folder) == before


@pytest.mark.parametrize("name", ["../../etc", "ridgeway", "Ärger", "a" * 300, "[car]\nx"])
def test_a_name_never_leads_out_of_the_folder_nor_over_a_file(
    client: TestClient, folder: Path, name: str
):
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    ask(client, {"entry:car.name": name})
    for path, content in before.items():
        assert path.read_bytes() == content
    new = [path for path in folder.rglob("*.toml") if path not in before]
    assert all(path.parent == folder for path in new)
    assert not list(folder.parent.glob("etc*"))


def test_a_car_is_not_made_in_what_another_left_behind(client: TestClient, folder: Path):
    (folder / "revisions" / "coupe").mkdir(parents=True)
    assert ask(client, {"entry:car.name": "coupe"}).headers["location"] == "/cars/coupe-2/donor"


def test_a_copy_keeps_every_comment_and_takes_another_name(client: TestClient, folder: Path):
    answer = ask(client, {"source": "ridgeway", "name": "Second coupe"}, "/copy")
    assert answer.headers["location"] == "/cars/Second-coupe/donor"
    own = (folder / "ridgeway.toml").read_text().replace('"Ridgeway coupe"', '"Second coupe"')
    assert (folder / "Second-coupe.toml").read_text() == own


def test_a_copy_without_a_name_is_byte_for_byte(client: TestClient, folder: Path):
    answer = ask(client, {"source": "ridgeway", "name": " "}, "/copy")
    assert answer.headers["location"] == "/cars/ridgeway-2/donor"
    assert (folder / "ridgeway-2.toml").read_bytes() == (folder / "ridgeway.toml").read_bytes()


@pytest.mark.parametrize("source", ["none", "../ridgeway", ""])
def test_a_copy_of_no_car_is_refused(client: TestClient, folder: Path, source: str):
    before = files_in(folder)
    assert ask(client, {"source": source}, "/copy").status_code == 422
    assert files_in(folder) == before


def test_a_broken_car_is_not_copied(client: TestClient, folder: Path):
    (folder / "ridgeway.toml").write_text("format = \n")
    before = files_in(folder)
    assert ask(client, {"source": "ridgeway"}, "/copy").status_code == 422
    assert files_in(folder) == before


def test_without_the_pages_own_token_nothing_is_written(client: TestClient, folder: Path):
    before = files_in(folder)
    for address in ("/new", "/copy", "/drop"):
        assert client.post(address, data={"entry:car.name": "x"}).status_code == 403
    assert files_in(folder) == before
