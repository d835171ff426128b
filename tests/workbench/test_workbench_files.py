from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from conftest import token_of
from starlette.testclient import TestClient

pytestmark = pytest.mark.arithmetic

SOUND = b'\xef\xbb\xbf# ours\r\nformat = 1\r\n\r\n[car]\r\nname = "dropped"   # in\r\n'


def drop(client: TestClient, data: bytes, name: str = "coupe.toml"):
    token = token_of(client.get("/new").text)
    return client.post(
        "/drop",
        data={"token": token},
        files={"file": (name, data, "application/octet-stream")},
        follow_redirects=False,
    )


def everything(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_dropped_file_comes_in_byte_for_byte(client: TestClient, folder: Path):
    answer = drop(client, SOUND)
    assert (answer.status_code, answer.headers["location"]) == (303, "/cars/coupe/donor")
    assert (folder / "coupe.toml").read_bytes() == SOUND
    assert "dropped" in client.get("/cars/coupe/donor").text


def test_a_dropped_file_never_comes_over_another(client: TestClient, folder: Path):
    before = everything(folder)
    assert drop(client, SOUND, "ridgeway.toml").headers["location"] == "/cars/ridgeway-2/donor"
    assert drop(client, SOUND, "ridgeway.toml").headers["location"] == "/cars/ridgeway-3/donor"
    assert {path: path.read_bytes() for path in before} == before


@pytest.mark.parametrize(
    "name", ["../../out.toml", "..\\out.toml", "/etc/passwd", ".toml", "a b é.toml", "x" * 400]
)
def test_a_dropped_files_name_stays_in_the_folder(client: TestClient, folder: Path, name: str):
    before = everything(folder)
    assert drop(client, SOUND, name).status_code == 303
    (new,) = set(everything(folder)) - set(before)
    assert new.parent == folder
    assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_-]*\.toml", new.name)


def test_a_faulty_file_is_told_with_every_fault_and_its_line_and_not_taken_in(
    client: TestClient, folder: Path
):
    before = everything(folder)
    faulty = b'format = 1\n[car]\nkerb_mass = "heavy"\nwheelbas = "2 m"\n[drive]\nmotor = "none"\n'
    answer = drop(client, faulty, "my <car>.toml")
    assert answer.status_code == 422
    assert "my &lt;car&gt;.toml:3: car.kerb_mass" in answer.text
    assert "my &lt;car&gt;.toml:4: car.wheelbas" in answer.text
    assert "did you mean: wheelbase" in answer.text
    assert everything(folder) == before
    answer = drop(client, b'format = 1\n[drive]\nmotor = "none"\n')
    assert "there is no such motor in the catalogue" in answer.text
    assert everything(folder) == before


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"\xff\xfe", "not a text file"),
        (b"format = 1\0", "not a text file"),
        (b"#" * 2_000_001, "too large"),
        (b"format = = 1", "not sound TOML"),
        (b"format = 99", "newer than this release"),
        (b"a = " + b"[" * 5000, "nested too deep"),
    ],
)
def test_what_is_no_build_file_is_refused_in_words(
    client: TestClient, folder: Path, data: bytes, words: str
):
    before = everything(folder)
    answer = drop(client, data)
    assert answer.status_code == 422
    assert words in answer.text
    assert everything(folder) == before


def test_a_drop_of_nothing_is_told(client: TestClient):
    token = token_of(client.get("/new").text)
    answer = client.post("/drop", data={"token": token})
    assert answer.status_code == 422
    assert "no file was chosen" in answer.text


def test_an_empty_folder_offers_a_new_car_and_the_way_to_bring_one(
    client: TestClient, folder: Path
):
    for path in folder.glob("*.toml"):
        path.unlink()
    page = client.get("/").text
    assert 'href="/new"' in page
    assert 'enctype="multipart/form-data"' in page


def test_the_build_file_is_handed_out_byte_for_byte(client: TestClient, folder: Path):
    answer = client.get("/cars/ridgeway/export/build.toml")
    assert answer.content == (folder / "ridgeway.toml").read_bytes()
    assert answer.headers["content-disposition"] == 'attachment; filename="ridgeway.toml"'
    assert answer.headers["x-content-type-options"] == "nosniff"


def rows_of(client: TestClient, name: str) -> list[dict[str, str]]:
    answer = client.get(f"/cars/fault-finder/export/{name}")
    assert answer.headers["content-type"].startswith("text/csv")
    assert answer.headers["content-disposition"].startswith("attachment;")
    return list(csv.DictReader(io.StringIO(answer.text)))


def test_figures_findings_and_the_assessment_say_the_same(client: TestClient):
    figures = {row["id"]: row for row in rows_of(client, "figures.csv")}
    findings = rows_of(client, "findings.csv")
    answer = client.get("/cars/fault-finder/export/assessment.json")
    assert answer.headers["content-disposition"].startswith("attachment;")
    document = json.loads(answer.text)
    assert document["file"] == "fault-finder.toml"
    assert set(figures) == set(document["figures"])
    for figure_id, figure in document["figures"].items():
        assert float(figures[figure_id]["value_si"]) == pytest.approx(figure["value"], rel=1e-8)
        assert figures[figure_id]["unit"] == figure["unit"]
        assert figures[figure_id]["working"] == figure["working"]["kind"]
    assert [(row["verdict"], row["rule"], row["subject"]) for row in findings] == [
        (each["verdict"], each["rule"], each["subject"]) for each in document["findings"]
    ]


def test_no_spreadsheet_takes_a_persons_words_for_a_formula(client: TestClient, folder: Path):
    path = folder / "fault-finder.toml"
    text = path.read_text()
    row = '\n[[mass]]\nadd = "=1+1"\nmass = "3 kg"\nx = "1 m"\n'
    path.write_text(text + row)
    for name in ("figures.csv", "findings.csv"):
        for line in csv.reader(io.StringIO(client.get(f"/cars/fault-finder/export/{name}").text)):
            for cell in line:
                assert not cell.startswith(("=", "+", "@"))
                assert not cell.startswith("-") or float(cell) < 0.0
    assert "'=1+1" in client.get("/cars/fault-finder/export/figures.csv").text


def test_every_link_of_the_page_of_files_leads_somewhere(client: TestClient):
    page = client.get("/cars/ridgeway/export").text
    main = page[page.index("<main") : page.index("</main>")]
    found = re.findall(r'href="([^"]+)"', main)
    assert len(found) >= 8
    for address in found:
        assert client.get(address).status_code == 200, address


def test_of_a_broken_file_nothing_is_handed_out_but_itself(client: TestClient, folder: Path):
    client.get("/cars/ridgeway/donor")
    (folder / "ridgeway.toml").write_text("format = 1\n[car\n")
    assert client.get("/cars/ridgeway/export/build.toml").text == "format = 1\n[car\n"
    for name in ("figures.csv", "findings.csv", "assessment.json"):
        assert client.get(f"/cars/ridgeway/export/{name}").status_code == 409
    (folder / "ridgeway.toml").write_bytes(b"\xff")
    assert client.get("/cars/ridgeway/export/build.toml").status_code == 409


@pytest.mark.parametrize("name", ["none.csv", "..%2Fridgeway.toml", "build.toml.bak"])
def test_no_other_file_is_handed_out(client: TestClient, name: str):
    assert client.get(f"/cars/ridgeway/export/{name}").status_code == 404
