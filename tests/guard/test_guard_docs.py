"""The pages tell the truth: their commands print what they show, their links lead somewhere."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from console_pages import FENCED, PAGES, like, named_file, replayed
from project_files import ROOT, relative, text_files

from swapwright.assess.solve import NOT_YET
from swapwright.catalogue.read import Catalogue
from swapwright.cli.main import main as swapwright
from swapwright.workbench.api import interface
from swapwright.workbench.garage import Garage

EVERY_PAGE = tuple(path for path in text_files() if path.suffix == ".md")
LINK = re.compile(r"(?<!!)\[[^\]\n]+\]\((?P<target>[^)\s]+)\)")
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

every_page = pytest.mark.parametrize("page", EVERY_PAGE, ids=relative)


def words_of(page: str) -> str:
    return (ROOT / page).read_text(encoding="utf-8")


def examples(page: Path) -> list[tuple[str, str]]:
    """Return (file, text) of the blocks of a page that name a file of the project."""
    blocks = [found["text"] for found in FENCED.finditer(page.read_text(encoding="utf-8"))]
    named = [(named_file(text), text.partition("\n")[2]) for text in blocks]
    return [(path, text) for path, text in named if path is not None and (ROOT / path).exists()]


def code_lines(text: str) -> list[str]:
    """Return lines without what their place in a file adds: indentation, a comma behind."""
    return [line.strip().rstrip(",") for line in text.strip().splitlines()]


def anchors(page: Path) -> set[str]:
    headings = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", each.lower()).replace(" ", "-") for each in headings}


def first_cells(page: str) -> list[str]:
    """Return the first cell of each row of a page's tables."""
    return re.findall(r"^\| ([^|]+?) \|", words_of(page), re.MULTILINE)


@pytest.mark.golden
@pytest.mark.parametrize("page", PAGES, ids=relative)
def test_a_page_shows_what_its_commands_print(page: Path):
    text = page.read_text(encoding="utf-8")
    assert text == replayed(text), "python tests/guard/console_pages.py writes it anew"


@pytest.mark.guard
@pytest.mark.parametrize("page", PAGES, ids=relative)
def test_code_a_page_names_a_file_for_stands_in_that_file(page: Path):
    for path, text in examples(page):
        lines = code_lines(words_of(path))
        for piece in re.split(r"^\s*\.\.\.\n", text, flags=re.MULTILINE):
            wanted = code_lines(piece)
            places = range(len(lines) - len(wanted) + 1)
            assert any(lines[at : at + len(wanted)] == wanted for at in places), (path, piece)


@pytest.mark.guard
@every_page
def test_a_link_leads_to_a_file_and_a_heading_that_are_there(page: Path):
    for found in LINK.finditer(page.read_text(encoding="utf-8")):
        path, _, heading = found["target"].partition("#")
        if "://" in path:
            continue
        target = (page.parent / path).resolve() if path else page
        assert target.exists(), found[0]
        assert not heading or heading in anchors(target), found[0]


@pytest.mark.guard
def test_the_front_page_leads_to_every_page_of_the_docs():
    linked = {found["target"] for found in LINK.finditer(words_of("README.md"))}
    assert {relative(page) for page in PAGES if page.name != "README.md"} <= linked


@pytest.mark.guard
def test_the_front_page_is_a_tour_of_real_commands_and_each_way_to_add_has_an_example():
    tour = words_of("README.md")
    assert "`swapwright workbench`" in tour
    for command in set(swapwright.commands) - {"schema", "revision", "workbench"}:
        assert f"$ swapwright {command} " in tour, command
    for page in ("add-a-formula.md", "add-a-rule.md"):
        assert len(examples(ROOT / "docs" / page)) >= 3, page
    assert "$ swapwright parts " in words_of("docs/add-a-part.md")


@pytest.mark.guard
def test_the_front_page_says_what_is_not_judged_yet():
    for _, what in NOT_YET:
        assert what in words_of("README.md"), what


@pytest.mark.guard
def test_the_front_page_tells_the_error_that_the_validation_found():
    told = re.search(r"mean error of (\d+ %)", words_of("README.md"))
    assert told
    assert f"the mean error is {told[1]}" in words_of("docs/validation.md")


@pytest.mark.guard
def test_every_command_and_option_is_on_the_page_of_the_command_line():
    page = words_of("docs/command-line.md")
    for name, command in swapwright.commands.items():
        assert f"## swapwright {name}\n" in page
        for parameter in command.params:
            for option in (each for each in parameter.opts if each.startswith("--")):
                assert f"`{option}" in page, f"{name} {option}"


@pytest.mark.guard
def test_the_architecture_page_has_the_layers_that_are_checked():
    contracts = PROJECT["tool"]["importlinter"]["contracts"]
    (contract,) = [each for each in contracts if each["type"] == "layers"]
    checked = [set(layer.split(" | ")) for layer in contract["layers"]]
    rows = re.findall(r"^\| \d+ \| ([^|]+) \|", words_of("docs/architecture.md"), re.MULTILINE)
    assert [set(re.findall(r"`(\w+)`", row)) for row in rows] == checked


@pytest.mark.guard
def test_the_architecture_page_has_every_stage():
    page = words_of("docs/architecture.md")
    for path in (ROOT / "src/swapwright/assess/stages").glob("[a-z]*.py"):
        assert f"`stages/{path.name}`" in page


@pytest.mark.guard
def test_the_page_of_dependencies_names_what_is_asked_for_and_no_more():
    needed = [*PROJECT["project"]["dependencies"], *PROJECT["build-system"]["requires"]]
    needed += [*PROJECT["project"]["optional-dependencies"]["test"], "editables"]
    asked = {re.split(r"[<>=~ ]", each)[0].lower() for each in needed}
    named = {
        each.strip() for cell in first_cells("docs/dependencies.md") for each in cell.split(",")
    }
    assert {each.lower() for each in named} - {"package", "---"} == asked


@pytest.mark.guard
def test_the_page_of_the_http_interface_has_every_operation_and_an_example_of_each_method():
    page = words_of("docs/http-interface.md")
    paths = interface(Garage(ROOT / "examples", Catalogue())).openapi()["paths"]
    for path, operations in paths.items():
        shown = re.sub(r"\{(figure|curve)_id\}", "{id}", path)
        for method in operations:
            assert f"`{method.upper()} /api{shown}`" in page
            assert f"```http\n{method.upper()} /api" in page


@pytest.mark.guard
def test_the_page_for_contributors_names_the_kinds_of_test():
    markers = PROJECT["tool"]["pytest"]["ini_options"]["markers"]
    cells = set(first_cells("CONTRIBUTING.md"))
    assert {f"`{each.partition(':')[0]}`" for each in markers} <= cells


@pytest.mark.guard
def test_the_makefile_tells_of_every_target_a_person_calls():
    text = words_of("Makefile")
    (phony,) = re.findall(r"^\.PHONY: (.+)$", text, re.MULTILINE)
    told = re.findall(r"^# make (\w+) ", text, re.MULTILINE)
    assert sorted(told) == sorted(phony.split())


@pytest.mark.guard
@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (["range 9 km", "...", "end"], ["range 137 km", "...", "end"]),
        (["...", "mass 8 kg", "..."], ["...", "mass 1 kg", "..."]),
        (["range 9 km", "end"], ["range 137 km", "mass 1 kg", "end"]),
        (["mass 1 kg", "..."], ["range 137 km", "mass 1 kg", "..."]),
        (["...", "mass 1 kg"], ["...", "mass 1 kg", "end"]),
        (["...", "weight 1 kg", "..."], ["range 137 km", "mass 1 kg", "end"]),
        (["...", "end", "...", "mass 1 kg", "..."], ["range 137 km", "mass 1 kg", "end"]),
    ],
    ids=[
        "the middle is left out",
        "a number changed",
        "a line is missing",
        "the first line is missing",
        "the last line is missing",
        "a word changed",
        "the order changed",
    ],
)
def test_an_example_that_no_longer_fits_is_shown_as_it_is_now(shown, expected):
    assert like(shown, ["range 137 km", "mass 1 kg", "end"]) == expected
