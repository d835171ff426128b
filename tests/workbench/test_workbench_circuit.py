"""The page of the circuit: its drawing, its switches, its tables, and what happens if."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from swapwright.base.finding import SEVERITY
from swapwright.jobs.account import CAUTIONS

pytestmark = pytest.mark.arithmetic

PAGE = "/cars/ridgeway/circuit"
FAULT = "/cars/ridgeway/fault"
NEVER_SAID = ("isolated", "no voltage", "absence verified", "de-energised", "harmless")


def said(html: str) -> str:
    """Return what a page says, its markup left out."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def glance(html: str) -> str:
    """Return the line that says what each section is."""
    found = re.search(r'<dl class="at-a-glance".*?</dl>', html, re.DOTALL)
    assert found is not None
    return said(found[0])


def ticked(html: str) -> list[str]:
    """Return the values of the boxes that are ticked."""
    return re.findall(r'type="checkbox"[^>]*value="([^"]+)" checked', html)


def drawing(html: str) -> ET.Element:
    found = re.search(r'<svg class="one-line".*?</svg>', html, re.DOTALL)
    assert found is not None
    return ET.fromstring(found[0])


def test_the_page_draws_every_element_and_leads_to_its_entry(client: TestClient):
    root = drawing(client.get(PAGE).text)
    elements = [each for each in root.iter() if "data-element" in each.attrib]
    assert len(elements) > 20
    for each in elements:
        href = each.attrib["href"]
        assert href.startswith("/cars/ridgeway/")
        assert re.match(r".*\?at=.+#entry-", href)
    named = {each.attrib["data-element"]: each.attrib["aria-label"] for each in elements}
    assert named["main fuse +"].startswith(
        "main fuse + (fuse): watch, 200 A 500 V, for good 92.2 A"
    )
    assert all(any(word in name for word in (*SEVERITY, "not judged")) for name in named.values())


def test_every_entry_an_element_leads_to_is_there(client: TestClient):
    hrefs = {
        each.attrib["href"]
        for each in drawing(client.get(PAGE).text).iter()
        if "data-element" in each.attrib
    }
    assert len(hrefs) > 5
    for href in hrefs:
        assert f'id="{href.partition("#")[2]}"' in client.get(href).text, href


def test_the_cautions_stand_above_the_switches(client: TestClient):
    text = said(client.get(PAGE).text)
    for caution in CAUTIONS:
        assert text.index(caution) < text.index("Throw the switches")
    assert "A contactor not measured counts as welded" in text


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("key-off", "inverter live, up to 403 V"),
        ("disconnect-open", "inverter stored charge, one pole joined, up to 403 V"),
        ("running", "front pack live, up to 403 V"),
    ],
)
def test_a_named_state_says_what_each_section_is(client: TestClient, state: str, words: str):
    answer = client.get(PAGE, params={"state": state})
    assert answer.status_code == 200
    assert words in glance(answer.text)
    assert not [word for word in NEVER_SAID if word in said(answer.text).lower()]


def test_switches_thrown_one_by_one_say_through_which_contactor_a_source_comes(client: TestClient):
    asked = {"thrown": "yes", "closed": ["service disconnect", "main contactors +"]}
    html = client.get(PAGE, params=asked).text
    assert ticked(html)[:2] == ["service disconnect", "main contactors +"]
    assert "inverter may be live" in glance(html)
    assert "front pack if main contactors - has welded" in said(html)
    assert "once nothing reaches it: 5.00 min, then measured" in said(html)
    assert "emptied by bleed resistor and active discharge" in said(html)
    states = [
        " ".join("".join(each.itertext()) for each in group)
        for group in drawing(html).iter()
        if group.get("class") == "state"
    ]
    assert any("may be live" in state for state in states)


def test_nothing_closed_and_nothing_joined_is_a_state_too(client: TestClient):
    html = client.get(PAGE, params={"thrown": "yes"}).text
    assert ticked(html)[:1] not in (["service disconnect"], ["main contactors +"])
    assert 'value="disconnect-open" aria-pressed="true"' in html


def test_a_switch_nobody_knows_is_told_and_everything_counts_as_closed(client: TestClient):
    answer = client.get(PAGE, params={"closed": "<b>main</b>"})
    assert answer.status_code == 422
    assert "<b>main</b>" not in answer.text
    assert "this car has no such switch: <b>main</b>" in said(answer.text)
    assert "main contactors -" in ticked(answer.text)


def test_numbers_lead_to_their_workings_and_margins_to_their_findings(client: TestClient):
    html = client.get(PAGE).text
    assert 'href="/cars/ridgeway/figures/circuit.main_fuse.current">92.2 A</a>' in html
    assert 'href="/cars/ridgeway/figures/fault.inverter.clearing_full">main fuse, 1.79 ms' in html
    assert "/cars/ridgeway/high-voltage?at=finding-circuit-fuse" in html


def test_the_tables_have_what_a_fitter_and_a_technician_need(client: TestClient):
    text = said(client.get(PAGE).text)
    for words in (
        "Device by device",
        "nothing clears this fault",
        "Work at these places is live work however the disconnect stands.",
        "Cables to buy, lay and crimp",
        "limited by its fuse",
        "Coils to wire",
        "voltage the meter and its leads need, CAT III 1.00 kV",
        "gloves of class 0 at least, as the trade wears",
        "across the open service disconnect: up to 403 V, the whole pack",
    ):
        assert words in text


def test_the_drawing_is_a_file_and_a_sheet_of_its_own(client: TestClient):
    answer = client.get("/cars/ridgeway/circuit.svg", params={"state": "running"})
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert ET.fromstring(answer.text).get("viewBox") == "0 0 420 297"
    assert "running" in answer.text
    assert "href" not in answer.text
    sheet = client.get("/cars/ridgeway/circuit/sheet").text
    assert len(list(drawing(sheet).iter())) > 100


def test_the_drawing_stands_first_among_the_pictures_of_its_stage(client: TestClient):
    html = client.get("/cars/ridgeway/high-voltage").text
    pictures = re.findall(r'class="picture.*?<h2><a href="([^"]+)">', html, re.DOTALL)
    assert pictures[0] == PAGE


def test_a_car_of_which_nothing_is_known_has_its_pages_all_the_same(
    client: TestClient, folder: Path
):
    (folder / "bare.toml").write_text('format = 1\n[car]\nname = "bare"\n', encoding="utf-8")
    html = client.get("/cars/bare/circuit").text
    assert "pack live, voltage not known" in glance(html)
    assert "Maximum working voltage not known" in said(html)
    for address in ("circuit/sheet", "circuit.svg", "fault", "high-voltage"):
        assert client.get(f"/cars/bare/{address}").status_code == 200
    answer = client.get("/cars/bare/fault", params={"at": "pack"})
    assert answer.status_code == 422
    assert "what happens cannot be told" in said(answer.text)


def test_a_file_that_cannot_be_read_keeps_the_page_up(client: TestClient, folder: Path):
    (folder / "broken.toml").write_text("format = ", encoding="utf-8")
    for address in ("/cars/broken/circuit", "/cars/broken/circuit/sheet", "/cars/broken/fault"):
        assert client.get(address).status_code == 200
    assert client.get("/cars/broken/circuit.svg").status_code == 404


def test_a_short_at_a_place_is_told_as_a_timeline(client: TestClient):
    text = said(client.get(FAULT, params={"at": "inverter"}).text)
    assert text.index("the poles are joined at inverter") < text.index("main fuse has melted")
    assert text.index("main fuse has melted") < text.index("main fuse has cleared")
    for caution in CAUTIONS:
        assert text.index(caution) < text.index("Dead short")


def test_a_wrong_precharge_is_told_beside_the_one_drawn(client: TestClient):
    asked = {"precharge": "yes", "leak": "1 kohm", "load": "dc-dc", "open": "bleed resistor"}
    html = client.get(FAULT, params=asked).text
    text = said(html)
    assert "Precharge: dc-dc left on, a leak of 1 kohm across the link, bleed resistor open" in text
    assert "As drawn, to compare" in text
    assert ticked(html) == ["dc-dc", "bleed resistor"]


def test_a_discharge_with_an_open_bleed_is_told(client: TestClient):
    asked = {"discharge": "yes", "open": ["bleed resistor", "active discharge"]}
    text = said(client.get(FAULT, params=asked).text)
    assert "Nothing empties this section any more: no waiting time exists." in text


@pytest.mark.parametrize(
    ("asked", "field", "words"),
    [
        ({"at": "the moon"}, "at", "there is no such place: the moon"),
        ({"at": "inverter", "pack": "half"}, "pack", "no such state of the pack: half"),
        ({"precharge": "yes", "resistor": "220"}, "resistor", "220"),
        ({"precharge": "yes", "leak": "-1 ohm"}, "leak", "is beyond what a resistance can be"),
        ({"precharge": "yes", "load": "<i>"}, "load", "there is no such element: <i>"),
        ({"discharge": "yes", "open": "x"}, "open", "there is no such element: x"),
    ],
)
def test_bad_input_is_explained_beside_its_field(client: TestClient, asked, field, words):
    answer = client.get(FAULT, params=asked)
    assert answer.status_code == 422
    told = re.search(
        rf'<strong class="problem" id="fault-{field}-says">(.*?)</strong>', answer.text
    )
    assert told is not None
    assert words in unescape(told[1])
