"""The HTTP interface: what it answers, what it refuses, and that it is as it describes itself."""

from __future__ import annotations

import json
import math
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, get_args

import hypothesis
import pytest
import schemathesis
from jsonschema import Draft202012Validator
from schemathesis.checks import load_all_checks
from schemathesis.specs.openapi.checks import (
    negative_data_rejection,
    positive_data_acceptance,
)

from swapwright.base.display import PROFILES
from swapwright.build.load import MAX_BYTES
from swapwright.build.schema import schema as build_schema
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.circuit_schema import circuit_schema
from swapwright.jobs.output_schema import check_schema, problems_schema
from swapwright.workbench.api import Profile
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)
RANGE = "range.combined"


def faults(document: Any, schema: dict[str, Any]) -> list[str]:
    return [error.message for error in Draft202012Validator(schema).iter_errors(document)]


def problems(answer: Any) -> list[dict[str, Any]]:
    """Return the problems of an answer that must be nothing but problems."""
    document = answer.json()
    assert not faults(document, problems_schema())
    return document["problems"]


def numbers(document: Any) -> list[float]:
    """Return every number of a document."""
    if isinstance(document, dict):
        return [each for value in document.values() for each in numbers(value)]
    if isinstance(document, list):
        return [each for value in document for each in numbers(value)]
    return [document] if isinstance(document, float) else []


def read_strictly(text: str) -> Any:
    """Read JSON that must not say NaN or infinity."""

    def refuse(word: str) -> float:
        raise AssertionError(f"the answer says {word}")

    return json.loads(text, parse_constant=refuse)


@cache
def served() -> Any:
    """The workbench over the example cars, which nothing behind the interface can change."""
    return application(Garage(EXAMPLES, Catalogue(), lambda: TODAY), hosts=("testserver",))


described = schemathesis.openapi.from_asgi("/api/openapi.json", served())
load_all_checks()
sparing = hypothesis.settings(
    derandomize=True,
    max_examples=12,
    deadline=None,
    database=None,
    suppress_health_check=list(hypothesis.HealthCheck),
)


@pytest.mark.property
@described.parametrize()
@sparing
def test_whatever_is_asked_the_answer_is_one_the_description_names(case):
    # A text that is no build file is rightly refused, and so is a car that is not there.
    case.call_and_validate(excluded_checks=[positive_data_acceptance])


@pytest.mark.property
@described.parametrize()
@hypothesis.settings(sparing, max_examples=3)
def test_whatever_is_asked_of_a_car_that_is_there_is_answered_as_described(case):
    if "car" in case.path_parameters:
        case.path_parameters["car"] = "fault-finder"
    elif case.method == "POST":
        case.body = {"build": (EXAMPLES / "bakery.toml").read_text("utf-8")}
    # These two compare with what was there before it was put right.
    case.call_and_validate(excluded_checks=[positive_data_acceptance, negative_data_rejection])


@pytest.mark.arithmetic
def test_every_operation_is_described_and_no_page_of_others_is_loaded(client):
    found = client.get("/api/openapi.json").json()
    assert found["servers"] == [{"url": "/api"}]
    assert sorted(found["paths"]) == [
        "/assess",
        "/cars",
        "/cars/{car}/assessment",
        "/cars/{car}/circuit",
        "/cars/{car}/curves",
        "/cars/{car}/curves/{curve_id}",
        "/cars/{car}/figures",
        "/cars/{car}/figures/{figure_id}",
        "/cars/{car}/findings",
        "/schema",
    ]
    assert {method for path in found["paths"].values() for method in path} == {"get", "post"}
    for page in ("/api/docs", "/api/redoc"):
        assert client.get(page).status_code == 404


@pytest.mark.arithmetic
def test_the_units_of_the_interface_are_those_of_the_tool():
    assert get_args(Profile) == PROFILES


@pytest.mark.arithmetic
def test_the_cars_of_the_folder_are_listed_by_name(client):
    assert client.get("/api/cars").json() == {
        "schema_version": 1,
        "cars": [
            {"name": "fault-finder", "file": "fault-finder.toml"},
            {"name": "ridgeway", "file": "ridgeway.toml"},
        ],
    }


@pytest.mark.arithmetic
@pytest.mark.parametrize("car", ["ridgeway", "fault-finder"])
def test_an_assessment_and_its_circuit_are_the_published_documents(client, car):
    assessed = client.get(f"/api/cars/{car}/assessment")
    assert assessed.status_code == 200
    assert not faults(assessed.json(), check_schema())
    circuit = client.get(f"/api/cars/{car}/circuit")
    assert not faults(circuit.json(), circuit_schema())
    assert circuit.json()["file"] == assessed.json()["file"] == f"{car}.toml"


@pytest.mark.arithmetic
def test_the_parts_of_an_assessment_are_what_the_whole_says(client):
    whole = client.get("/api/cars/ridgeway/assessment").json()
    head = {key: whole[key] for key in ("schema_version", "file", "revision")}
    for kind in ("figures", "findings", "curves"):
        part = client.get(f"/api/cars/ridgeway/{kind}").json()
        assert part == {**head, kind: whole[kind]}
    one = client.get(f"/api/cars/ridgeway/figures/{RANGE}").json()
    assert one == {**head, "id": RANGE, "figure": whole["figures"][RANGE]}
    curve_id = next(iter(whole["curves"]))
    one = client.get(f"/api/cars/ridgeway/curves/{curve_id}").json()
    assert one == {**head, "id": curve_id, "curve": whole["curves"][curve_id]}


@pytest.mark.arithmetic
def test_findings_are_kept_by_verdict(client):
    every = client.get("/api/cars/fault-finder/findings").json()["findings"]
    kept = client.get("/api/cars/fault-finder/findings?verdict=stop&verdict=fix").json()["findings"]
    assert kept == [each for each in every if each["verdict"] in ("stop", "fix")]
    assert 0 < len(kept) < len(every)


@pytest.mark.arithmetic
def test_the_texts_come_in_the_units_asked_for_and_the_numbers_do_not_change(client):
    told = {
        units: client.get(f"/api/cars/ridgeway/figures/{RANGE}?units={units}").json()["figure"]
        for units in PROFILES
    }
    assert {" km", " mi"} == {
        each["text"].split("(")[0].strip().lstrip("0123456789.") for each in told.values()
    }
    assert len({each["value"] for each in told.values()}) == 1


@pytest.mark.arithmetic
def test_a_build_that_is_sent_is_the_car_of_its_file_and_is_kept_nowhere(client, folder):
    before = sorted(path.name for path in folder.iterdir())
    text = (folder / "ridgeway.toml").read_text("utf-8")
    sent = client.post("/api/assess", json={"build": text, "file": "ridgeway.toml"})
    assert sent.status_code == 200
    assert sent.json() == client.get("/api/cars/ridgeway/assessment").json()
    assert sorted(path.name for path in folder.iterdir()) == before


@pytest.mark.arithmetic
def test_every_problem_of_a_build_comes_back_as_data(client):
    text = 'format = 1\n[car]\nkerb_mass = "1180 lbf"\nwheelbas = "2.4 m"\n'
    answer = client.post("/api/assess", json={"build": text, "file": "mine.toml"})
    assert answer.status_code == 422
    mass, wheelbase = problems(answer)
    assert (mass["file"], mass["line"], mass["path"]) == ("mine.toml", 3, "car.kerb_mass")
    assert mass["given"] == "1180 lbf"
    assert mass["allowed"].startswith("a mass")
    assert (wheelbase["line"], wheelbase["nearest"]) == (4, "wheelbase")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("sent", "path"),
    [
        ({}, "body.build"),
        ([], "body"),
        ({"build": 3}, "body.build"),
        ({"build": None}, "body.build"),
        ({"build": "", "colour": "red"}, "body.colour"),
        ({"build": "", "units": "cubits"}, "body.units"),
        ({"build": "", "file": "../../elsewhere.toml"}, "body.file"),
        ({"build": "", "file": "a\r\nb"}, "body.file"),
        ({"build": "#" * (MAX_BYTES + 1)}, "body.build"),
        ({"build": "\ud800"}, "body.build"),
    ],
    ids=[
        "nothing",
        "a list",
        "a number",
        "null",
        "a key too many",
        "no units",
        "a path",
        "two lines",
        "too long",
        "half a letter",
    ],
)
def test_a_request_of_the_wrong_shape_says_where_it_is_wrong(client, sent, path):
    headers = {"content-type": "application/json"}
    answer = client.post("/api/assess", content=json.dumps(sent), headers=headers)
    assert answer.status_code == 422
    (problem,) = problems(answer)
    assert problem["path"] == path


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("é" * (MAX_BYTES // 2 + 1), "too large for a build file"),
        ("format = 1\nx = " + "[" * 20_000, "nested too deep"),
        ("a = \0", "not sound TOML"),
        ('format = 1\n[drive]\nmotor = { csv = "../secret.csv" }', "not the name of a table file"),
        ('format = 1\n[drive]\nmotor = { csv = "/etc/hosts" }', "not the name of a table file"),
    ],
    ids=["letters of two bytes", "a deep nest", "no text", "a table above", "a table elsewhere"],
)
def test_a_text_that_is_no_build_is_told_and_reads_nothing_else(client, text, message):
    answer = client.post("/api/assess", json={"build": text})
    assert answer.status_code == 422
    assert any(message in each["message"] for each in problems(answer)), answer.text[:300]


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("body", "status"),
    [(b"[" * 100_000, 400), (b"{", 422), (b"\xff\xfe", 422)],
    ids=["a deep nest", "cut off", "no text"],
)
def test_a_body_that_is_no_json_is_told(client, body, status):
    answer = client.post("/api/assess", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == status
    assert problems(answer)


@pytest.mark.arithmetic
def test_a_form_of_another_site_is_no_request(client):
    answer = client.post("/api/assess", data={"build": "format = 1"})
    assert answer.status_code == 422
    other = {"sec-fetch-site": "cross-site"}
    answer = client.post("/api/assess", json={"build": "format = 1"}, headers=other)
    assert answer.status_code == 403
    assert problems(answer)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("address", "nearest"),
    [
        ("cars/ridgewa/assessment", "ridgeway"),
        ("cars/..%2f..%2fetc/assessment", ""),
        ("cars/ridgeway.toml/assessment", ""),
        (f"cars/ridgeway/figures/{RANGE}d", RANGE),
        ("cars/ridgeway/curves/none", ""),
        ("cars/ridgeway/curves/%0a", ""),
        ("none", ""),
        ("", ""),
    ],
)
def test_what_is_not_there_is_told_with_what_is_near(client, address, nearest):
    answer = client.get(f"/api/{address}")
    assert answer.status_code == 404
    (problem,) = problems(answer)
    assert problem["nearest"] == nearest


@pytest.mark.arithmetic
def test_a_figure_that_cannot_be_made_names_what_it_needs(client, folder):
    (folder / "bare.toml").write_text("format = 1\n", encoding="utf-8")
    missing = client.get("/api/cars/bare/assessment").json()["missing"]
    name, needs = next((name, needs) for name, needs in missing.items() if needs)
    (problem,) = problems(client.get(f"/api/cars/bare/figures/{name}"))
    assert problem["path"] == name
    assert needs[0] in problem["allowed"]


@pytest.mark.arithmetic
def test_a_file_broken_on_disk_is_told_and_an_older_answer_never_stands_in(client, folder):
    assert client.get("/api/cars/ridgeway/figures").status_code == 200
    with (folder / "ridgeway.toml").open("a", encoding="utf-8") as file:
        file.write("colour = [")
    answer = client.get("/api/cars/ridgeway/figures")
    assert answer.status_code == 422
    assert {each["file"] for each in problems(answer)} == {"ridgeway.toml"}
    assert str(folder) not in answer.text


@pytest.mark.arithmetic
def test_the_schema_of_a_build_file_is_the_one_the_command_prints(client):
    assert client.get("/api/schema").json() == build_schema()


@pytest.mark.property
@pytest.mark.parametrize("what", ["assessment", "figures", "findings", "curves", "circuit"])
def test_no_number_that_leaves_is_without_end(client, what):
    for car in ("ridgeway", "fault-finder"):
        document = read_strictly(client.get(f"/api/cars/{car}/{what}").text)
        assert next(iter(document)) == "schema_version"
        assert all(math.isfinite(each) for each in numbers(document))


@pytest.mark.arithmetic
@pytest.mark.parametrize("method", ["put", "patch", "delete", "post"])
def test_nothing_behind_the_interface_changes_a_car(client, method):
    answer = getattr(client, method)("/api/cars/ridgeway/assessment")
    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET"
    assert problems(answer)
