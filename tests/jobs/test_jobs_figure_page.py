"""Every figure has a page of its working whose numbers and links hold."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from swapwright.base.figure import SimulatedWorking, Summed, Working
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.figure_page import FigurePage, MissingPage, figure_page
from swapwright.jobs.figure_text import Telling
from swapwright.jobs.form import form_of
from swapwright.jobs.formula import formula_of, number_of, plain, with_numbers
from swapwright.jobs.part_place import kind_at, part_place
from swapwright.jobs.stage import STAGES, stage_of_figure
from swapwright.jobs.whence import Place
from swapwright.jobs.working import near_figures
from swapwright.physics.workings import ALL

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CARS = ("bakery", "fault-finder", "hill-farm", "parcel-round", "ridgeway")
NAMES = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "log": math.log,
    "tan": math.tan,
    "atan": math.atan,
    "Abs": abs,
    "Min": min,
    "Max": max,
    "pi": math.pi,
}


@pytest.fixture(scope="module", params=CARS)
def checked(request) -> Checked:
    return check(EXAMPLES / f"{request.param}.toml", Catalogue(), date(2026, 11, 27))


@pytest.fixture(scope="module")
def ridgeway() -> Checked:
    return check(EXAMPLES / "ridgeway.toml", Catalogue(), date(2026, 11, 27))


@pytest.fixture(scope="module")
def pages(checked) -> dict[str, FigurePage | MissingPage]:
    telling = Telling(checked, "metric", "electric")
    assessment = checked.assessment
    ids = (*assessment.figures, *assessment.missing)
    return {figure_id: figure_page(telling, figure_id) for figure_id in ids}


def places_on(page: FigurePage | MissingPage) -> Iterator[Place]:
    if isinstance(page, MissingPage):
        yield from page.needs
        return
    yield from (mover.place for mover in page.movers)
    yield from page.near
    for row in page.inputs:
        yield from row.whence.places
    for row in page.sum.rows if page.sum else ():
        yield from row.whence.places


def figures_on(page: FigurePage) -> Iterator[str]:
    yield from (each.id for each in (*page.used_in, *page.others))
    yield from (row.whence.figure for row in page.inputs if row.whence.figure)
    rows = page.sum.rows if page.sum else ()
    yield from (row.whence.figure for row in rows if row.whence.figure)
    if page.simulation:
        yield page.simulation.estimate.id


def worked_out(expression: str, numbers: dict[str, float]) -> float:
    """Work an expression out as a person does it with a calculator."""
    return eval(expression, {"__builtins__": {}}, {**NAMES, **numbers})


def shown_number(formula) -> float:
    text = formula.text.replace("−", "-")
    return float(f"{text}e{formula.below.replace('−', '-')}" if formula.below else text)


def leading_number(text: str) -> float:
    return float(text.replace("−", "-").split(" ")[0])


@pytest.mark.property
def test_every_figure_of_a_car_has_a_page_and_so_has_every_one_that_is_not_there(pages, checked):
    for figure_id, page in pages.items():
        is_there = figure_id in checked.assessment.figures
        assert isinstance(page, FigurePage if is_there else MissingPage)
        if isinstance(page, FigurePage):
            shapes = (page.expression, page.simulation, page.table, page.sum)
            assert sum(each is not None for each in shapes) == 1
            assert page.told.text and all(text for _, text in page.worlds)
        else:
            assert page.why


@pytest.mark.property
def test_every_entry_and_part_a_page_leads_to_is_one_a_person_can_change(pages, checked):
    car = checked.opened.car
    forms = [form_of(stage, checked, "metric") for stage in STAGES]
    entries = {
        entry.path
        for form in forms
        for group in (*form.groups, *form.new_rows)
        for entry in group.entries
    }
    for page in pages.values():
        for place in places_on(page):
            if place.is_part:
                assert kind_at(place.path) and car.has(place.path), place
            else:
                inside = part_place(place.path)
                assert place.path in entries or (inside and car.has(inside)), place


@pytest.mark.property
def test_every_figure_a_page_leads_to_has_a_page_itself(pages):
    for page in pages.values():
        if isinstance(page, FigurePage):
            assert set(figures_on(page)) <= set(pages)
            assert all(source.words for source in page.sources)


@pytest.mark.property
def test_every_input_says_where_it_is_from(pages):
    for page in pages.values():
        for row in page.inputs if isinstance(page, FigurePage) else ():
            whence = row.whence
            assert whence.figure or whence.places or whence.source or whence.words, row


@pytest.mark.arithmetic
def test_a_closed_form_worked_out_from_the_numbers_shown_gives_the_figure(pages, checked):
    count = 0
    for figure_id, page in pages.items():
        working = getattr(checked.assessment.figures.get(figure_id), "working", None)
        if not isinstance(working, Working) or "Piecewise" in working.expression:
            continue
        numbers = {
            letter: shown_number(row.number)
            for letter, row in zip(
                checked.assessment.figures[figure_id].inputs, page.inputs, strict=True
            )
        }
        si = checked.assessment.figures[figure_id].value.si
        assert worked_out(working.expression, numbers) == pytest.approx(si, rel=2e-3, abs=2e-3)
        assert shown_number(page.expression.result) == pytest.approx(si, rel=1e-5, abs=1e-12)
        count += 1
    assert count > 300


@pytest.mark.arithmetic
def test_the_rows_of_a_sum_add_up_to_its_total_within_their_last_digit(pages, checked):
    for figure_id, page in pages.items():
        figure = checked.assessment.figures.get(figure_id)
        if figure is None or not isinstance(figure.working, Summed):
            continue
        total = page.sum.total.split(" ")[0]
        last = 10.0 ** -len(total.partition(".")[2])
        shown = math.fsum(leading_number(row.text) for row in page.sum.rows)
        allowed = max(len(page.sum.rows), 1) * last + 1e-5 * abs(shown)
        assert abs(shown - leading_number(total)) <= allowed, figure_id
        assert {row.text.partition(" ")[2] for row in page.sum.rows} <= {
            page.sum.total.partition(" ")[2]
        }


@pytest.mark.arithmetic
def test_the_energy_ledger_adds_up_to_nothing_and_the_estimate_stands_beside_it(pages, checked):
    simulated = [
        page
        for figure_id, page in pages.items()
        if isinstance(
            getattr(checked.assessment.figures.get(figure_id), "working", None), SimulatedWorking
        )
    ]
    assert simulated
    for page in simulated:
        rows = page.simulation.ledger
        assert abs(leading_number(page.simulation.sum)) == 0.0
        last = 10.0 ** -len(page.simulation.sum.split(" ")[0].partition(".")[2])
        assert abs(math.fsum(leading_number(row.text) for row in rows)) <= last * len(rows)
        assert page.simulation.estimate.text and page.simulation.deviation.endswith("%")


@pytest.mark.property
def test_what_moves_a_figure_most_stands_first(pages, checked):
    for figure_id, page in pages.items():
        if not isinstance(page, FigurePage):
            continue
        swings = checked.assessment.swings.get(figure_id, {})
        assert [mover.place.path for mover in page.movers] == sorted(
            swings, key=lambda path: -max(map(abs, swings[path]))
        )
        assert bool(page.movers) != bool(page.still)


@pytest.mark.property
def test_a_figure_is_used_in_exactly_those_that_have_it_among_their_inputs(pages, checked):
    figures = checked.assessment.figures
    for figure_id, page in pages.items():
        if isinstance(page, FigurePage):
            named = {
                other.id
                for other in figures.values()
                if any(v.origin == "computed" and v.ref == figure_id for v in other.inputs.values())
            }
            assert named <= {each.id for each in page.used_in}


@pytest.mark.property
def test_the_findings_on_a_figure_are_those_that_name_it_and_none_stands_twice(pages, checked):
    for figure_id, page in pages.items():
        if isinstance(page, FigurePage):
            named = [f for f in checked.assessment.findings if figure_id in f.figures]
            assert all(each in page.findings.direct for each in named)
            assert not set(map(id, page.findings.direct)) & set(map(id, page.findings.through))


@pytest.mark.property
@pytest.mark.parametrize("profile", ["us", "uk"])
@pytest.mark.parametrize("world", ["electric", "engine"])
def test_the_pages_of_a_car_can_be_told_in_every_unit_and_world(ridgeway, profile, world):
    telling = Telling(ridgeway, profile, world)
    for figure_id in list(ridgeway.assessment.figures)[::7]:
        page = figure_page(telling, figure_id)
        assert isinstance(page, FigurePage) and page.told.text


@pytest.mark.arithmetic
def test_both_worlds_are_told_where_they_differ_and_one_number_where_they_do_not(ridgeway):
    telling = Telling(ridgeway, "us", "electric")
    power = figure_page(telling, "drive.peak_power")
    assert [world for world, _ in power.worlds] == ["electric", "engine"]
    assert power.worlds[0][1].endswith("kW") and power.worlds[1][1].endswith("hp")
    assert len(figure_page(telling, "pack.voltage_full").worlds) == 1


@pytest.mark.arithmetic
def test_the_range_says_which_input_moves_it_most_and_where_that_is_entered(ridgeway):
    page = figure_page(Telling(ridgeway, "us", "electric"), "range.combined")
    first = page.movers[0]
    assert first.place.path == "drive.loss_factor"
    assert first.low.endswith("%)") and first.high.endswith("%)") and " mi (" in first.low
    assert page.stage.slug == "goals"


@pytest.mark.arithmetic
def test_a_row_of_a_list_is_called_by_its_own_name(ridgeway):
    page = figure_page(Telling(ridgeway, "metric", "electric"), "mass.kerb")
    labels = [place.label for row in page.sum.rows for place in row.whence.places]
    assert "mass, engine and ancillaries" in labels


@pytest.mark.arithmetic
def test_a_name_that_is_no_figure_has_no_page_but_near_ones(ridgeway):
    telling = Telling(ridgeway, "metric", "electric")
    assert figure_page(telling, "range.combind") is None
    assert "range.combined" in near_figures(ridgeway, "range.combind")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("figure_id", "slug"),
    [
        ("road.a", "donor"),
        ("estimate.city.range", "goals"),
        ("estimate.accel.0_60mph.time", "drive"),
        ("pack.voltage_full", "pack"),
        ("wait.inverter.time", "high-voltage"),
        ("mass.kerb", "weight"),
    ],
)
def test_a_figure_belongs_to_the_stage_its_first_word_says(figure_id, slug):
    assert stage_of_figure(figure_id).slug == slug


@pytest.mark.property
def test_every_kind_of_figure_of_a_car_has_a_stage_of_its_own(checked):
    known = {first for stage in STAGES for first in stage.figures}
    ids = (*checked.assessment.figures, *checked.assessment.missing)
    assert {each.partition(".")[0] for each in ids} - {"estimate"} <= known


@pytest.mark.property
@pytest.mark.parametrize("working", ALL, ids=lambda working: working.result.argument)
def test_every_expression_can_be_written_with_letters_and_with_numbers(working):
    letters = plain(formula_of(working.expression))
    numbers = plain(with_numbers(working.expression, dict.fromkeys(working.symbols, -2.5)))
    assert letters and "−2.5" in numbers
    for letter in working.symbols:
        assert not re.search(rf"(?<![\w]){letter}(?![\w])", numbers)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("expression", "text"),
    [
        ("m*(1 - x/L)", "m · (1 − x / L)"),
        ("a/(b + c)", "a / (b + c)"),
        ("a - (b - c)", "a − (b − c)"),
        ("a*(-b)", "a · (− b)"),
        ("sqrt(1 + s**2)", "√(1 + s^2)"),
        ("(k*S)**2", "(k · S)^2"),
        ("rho*C/2", "(ρ · C) / 2"),
        ("(a/b)**(1/3)", "(a / b)^(1 / 3)"),
        ("Min(x_1, x_2)", "least of (x_1, x_2)"),
    ],
)
def test_an_expression_keeps_its_meaning_when_it_is_written_out(expression, text):
    assert plain(formula_of(expression)) == text


@pytest.mark.arithmetic
def test_a_number_put_in_is_bracketed_where_its_sign_would_be_misread():
    assert plain(with_numbers("a - b", {"a": 1.0, "b": -2.0})) == "1 − (−2)"
    assert plain(with_numbers("a**2", {"a": -2.0})) == "(−2)^2"
    assert plain(with_numbers("a*b", {"a": -2.0, "b": 3.0})) == "−2 · 3"


@pytest.mark.arithmetic
def test_a_long_number_is_written_with_a_power_of_ten():
    assert plain(number_of(68_606_100.0)) == "6.86061 × 10^7"
    assert plain(number_of(8.3e-7)) == "8.3 × 10^−7"
    assert plain(number_of(0.0)) == "0"
