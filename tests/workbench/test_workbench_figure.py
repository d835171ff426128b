"""The working of a figure in the browser, all findings, the glossary; without script."""

from __future__ import annotations

import html
import re
from urllib.parse import unquote

import pytest
from conftest import token_of

RANGE = "/cars/ridgeway/figures/range.combined"


def links_in(text: str) -> list[str]:
    return [html.unescape(each) for each in re.findall(r'<a\b[^>]*?href="([^"]+)"', text)]


def main_of(text: str) -> str:
    return text[text.index("<main") : text.index("</main>")]


@pytest.mark.property
@pytest.mark.parametrize("slug", ["donor", "goals", "drive", "pack", "high-voltage", "weight"])
def test_the_range_in_view_on_every_stage_leads_to_its_working(client, slug):
    assert RANGE in links_in(client.get(f"/cars/ridgeway/{slug}").text)


@pytest.mark.property
def test_by_clicks_alone_a_person_finds_what_moves_the_range_changes_it_and_undoes_it(client):
    working = client.get(RANGE).text
    most = working[working.index("moves it most:") :]
    to_entry = links_in(most)[0]
    assert "at=drive.loss_factor" in to_entry and to_entry.endswith("#entry-drive-loss_factor")

    stage = client.get(to_entry).text
    assert 'id="entry-drive-loss_factor"' in stage
    form = re.search(r'<form class="[^"]*opened[^"]*" id="form-entry-drive-loss_factor"', stage)
    assert form is not None
    based_on = re.search(r'name="based_on" value="([0-9a-f]+)"', stage[form.start() :])[1]
    given = {"token": token_of(stage), "from": to_entry, "based_on": based_on}
    changed = client.post(
        "/cars/ridgeway/edit", data={**given, "path": "drive.loss_factor", "text": "1.5"}
    ).text
    assert "Since <em>as opened</em>" in changed
    table = changed[changed.index("Since <em>") :]
    assert "drive.loss_factor" in table and "range, combined" in table

    undone = client.post(
        "/cars/ridgeway/undo",
        data={"token": token_of(changed), "from": RANGE, "based_on": _hash(changed)},
    )
    assert undone.status_code == 200
    assert "Since <em>" not in undone.text and "moves it most:" in undone.text


def _hash(text: str) -> str:
    return re.search(r'name="based_on" value="([0-9a-f]+)"', text)[1]


@pytest.mark.property
def test_once_a_revision_is_saved_changes_are_shown_against_that(client):
    page = client.get("/cars/ridgeway/drive").text
    data = {"token": token_of(page), "name": "as measured", "from": "/cars/ridgeway/drive"}
    assert "as measured" in client.post("/cars/ridgeway/revisions", data=data).text
    page = client.get("/cars/ridgeway/drive").text
    assert "as opened" not in page and "as measured" in page


@pytest.mark.property
@pytest.mark.parametrize(
    "figure_id",
    [
        "range.combined",
        "range.city",
        "mass.kerb",
        "pack.resistance",
        "tyre.load_allowed",
        "circuit.main_fuse.breaking_duty",
        "people.glove_voltage",
    ],
)
def test_every_link_of_a_working_leads_somewhere(client, figure_id):
    page = client.get(f"/cars/ridgeway/figures/{figure_id}")
    assert page.status_code == 200
    pages: dict[str, str] = {}
    assert links_in(main_of(page.text))
    for link in dict.fromkeys(links_in(main_of(page.text))):
        address, _, anchor = link.partition("#")
        if address not in pages:
            answer = client.get(address)
            assert answer.status_code == 200, link
            pages[address] = answer.text
        assert not anchor or f'id="{unquote(anchor)}"' in pages[address], link


@pytest.mark.property
def test_a_simulated_figure_shows_its_equations_its_ledger_and_its_estimate(client):
    text = main_of(client.get("/cars/ridgeway/figures/range.city").text)
    for words in ("Equations", "Settings", "energy ledger", "Independent short estimate"):
        assert words in text
    assert "/cars/ridgeway/figures/estimate.city.range" in links_in(text)


@pytest.mark.property
def test_a_figure_that_is_not_there_says_why(client):
    page = client.get("/cars/ridgeway/figures/fault.pack_terminals.clearing_full")
    assert page.status_code == 200 and "nothing clears this fault" in page.text


@pytest.mark.property
def test_a_name_that_is_no_figure_is_not_found_but_near_ones_are_named(client):
    page = client.get("/cars/ridgeway/figures/range.combind")
    assert page.status_code == 404 and RANGE in links_in(main_of(page.text))


@pytest.mark.property
@pytest.mark.parametrize("name", ["<script>alert(1)", "..%2fsecret", "%7B%7B7%7D%7D"])
def test_a_name_made_to_do_harm_is_only_text(client, name):
    page = client.get(f"/cars/ridgeway/figures/{name}")
    assert page.status_code == 404
    assert "<script>alert" not in page.text


@pytest.mark.property
def test_a_file_broken_on_disk_leaves_the_last_good_working_in_view(client, folder):
    client.get(RANGE)
    (folder / "ridgeway.toml").write_text("[car\n")
    page = client.get(RANGE)
    assert page.status_code == 200 and "stale" in page.text and "moves it most:" in page.text


@pytest.mark.property
@pytest.mark.parametrize("verdict", ["", "stop", "fix", "unknown", "watch", "met"])
def test_all_findings_stand_on_one_page_or_those_of_one_verdict(client, verdict):
    text = main_of(client.get(f"/cars/fault-finder/findings?verdict={verdict}").text)
    shown = set(re.findall(r'<details class="finding (\w+)"', text))
    assert shown == {verdict} if verdict else {"stop", "fix", "watch"} <= shown
    assert "rules were run" in text


@pytest.mark.property
def test_no_total_is_told_of_what_is_met(client):
    text = main_of(client.get("/cars/ridgeway/findings").text)
    filters = text[text.index('class="filter"') : text.index("</nav>")]
    met = filters[filters.index("verdict=met") :]
    assert 'class="count"' not in met
    assert "no number of them says that the car is ready" in text
    assert "Not judged" in text and "workbench keeps them); not judged" in text


@pytest.mark.property
def test_a_term_in_a_label_leads_to_its_explanation(client):
    stage = client.get("/cars/ridgeway/pack").text
    link = next(each for each in links_in(stage) if each.startswith("/words#"))
    words = client.get("/words").text
    assert f'id="{link.partition("#")[2]}"' in words


@pytest.mark.property
def test_every_letter_of_the_glossary_leads_to_a_term(client):
    words = client.get("/words")
    assert words.status_code == 200
    letters = links_in(main_of(words.text))
    assert len(letters) > 10
    for link in letters:
        assert f'id="{link.removeprefix("#")}"' in words.text


@pytest.mark.arithmetic
def test_a_figure_that_waits_for_an_entry_leads_to_it(client, folder):
    (folder / "bare.toml").write_text('format = 1\n[car]\nname = "bare"\nkerb_mass = "1180 kg"\n')
    page = main_of(client.get("/cars/bare/figures/range.combined").text)
    assert (
        "/cars/bare/pack?at=pack.module#entry-pack-module" in page or "/parts/pack.module" in page
    )
    assert "needs pack.module" in client.get("/cars/bare/goals").text
