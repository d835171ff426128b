"""Every number of an assessment leads down to what was typed, and says truly how it was made."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache

import pytest
from example_cars import ALL_CARS, CATALOGUE, SOUND, assessment_of, car_of
from expression import evaluator

from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Value, Working
from swapwright.base.sources import all_sources
from swapwright.physics.workings import ALL

pytestmark = pytest.mark.guard
every_car = pytest.mark.parametrize("name", ALL_CARS)
every_sound_car = pytest.mark.parametrize("name", SOUND)

LEDGER_TOLERANCE = 1e-6
LARGEST_DEVIATION = 0.10
LEAST_WORKINGS = 80


@cache
def expression_of(text: str, letters: tuple[str, ...]):
    return evaluator(text, letters)


def figures_by(name: str, kind: type) -> list[Figure]:
    return [f for f in assessment_of(name).figures.values() if isinstance(f.working, kind)]


def inputs_of(name: str) -> Iterator[tuple[Figure, str, Value]]:
    for figure in assessment_of(name).figures.values():
        for letter, value in figure.inputs.items():
            yield figure, letter, value


@every_car
def test_a_figures_expression_gives_its_value_from_its_stored_inputs(name: str):
    computed = figures_by(name, Working)
    assert len(computed) > 100
    for figure in computed:
        letters = tuple(figure.working.symbols)
        assert set(figure.inputs) == set(letters), figure.id
        numbers = [figure.inputs[letter].si for letter in letters]
        again = expression_of(figure.working.expression, letters)(*numbers)
        assert again == pytest.approx(figure.value.si, rel=1e-9, abs=1e-300), figure.id


@every_car
def test_a_figures_inputs_come_in_the_units_its_working_asks_for(name: str):
    for figure in figures_by(name, Working):
        assert figure.value.unit == figure.working.result.unit, figure.id
        for letter, symbol in figure.working.symbols.items():
            assert figure.inputs[letter].unit == symbol.unit, (figure.id, letter)


@every_car
def test_a_sums_rows_add_up_and_share_its_unit(name: str):
    for figure in figures_by(name, Summed):
        rows = [value for _, value in figure.working.rows]
        assert math.fsum(value.si for value in rows) == pytest.approx(figure.value.si, rel=1e-12)
        assert all(value.unit == figure.value.unit for value in rows), figure.id
        assert tuple(figure.inputs.values()) == tuple(rows), figure.id


@every_car
def test_a_looked_up_number_says_table_row_column_and_source(name: str):
    found = figures_by(name, LookedUp)
    assert found
    for figure in found:
        assert all((figure.working.table, figure.working.row, figure.working.column)), figure.id
        assert figure.working.source in all_sources(), figure.id


@every_car
def test_every_input_leads_to_an_entry_a_part_a_source_or_another_figure(name: str):
    car, figures = car_of(name), assessment_of(name).figures
    for figure, letter, value in inputs_of(name):
        where = (figure.id, letter, value)
        if value.origin == "computed":
            assert value.ref in figures, where
        elif value.origin == "entered":
            assert car.has(value.ref.split("[")[0]), where
        elif value.origin == "part":
            kind, _, part = value.ref.split("[")[0].partition("/")
            assert CATALOGUE.has(kind, part), where
        else:
            assert value.ref in all_sources(), where


@every_car
def test_an_input_from_another_figure_is_that_figures_number(name: str):
    figures = assessment_of(name).figures
    for figure, letter, value in inputs_of(name):
        if value.origin != "computed":
            continue
        below = figures[value.ref].value
        assert value.unit == below.unit, (figure.id, letter)
        assert abs(value.si) == abs(below.si), (figure.id, letter)


@every_car
def test_figures_form_a_tree_without_a_ring(name: str):
    figures = assessment_of(name).figures
    done: set[str] = set()

    def walk(figure_id: str, above: tuple[str, ...]) -> None:
        assert figure_id not in above, (*above, figure_id)
        if figure_id in done:
            return
        for value in figures[figure_id].inputs.values():
            if value.origin == "computed":
                walk(value.ref, (*above, figure_id))
        done.add(figure_id)

    for figure_id in figures:
        walk(figure_id, ())


@every_car
def test_every_source_an_assessment_names_is_known(name: str):
    assessment = assessment_of(name)
    named = {source for finding in assessment.findings for source in finding.sources}
    named |= {source for curve in assessment.curves.values() for source in curve.sources}
    for figure in assessment.figures.values():
        if not isinstance(figure.working, LookedUp):
            named |= set(figure.working.sources)
    assert named <= set(all_sources())


@every_car
def test_every_number_of_an_assessment_is_finite_and_kept_under_its_own_id(name: str):
    for figure_id, figure in assessment_of(name).figures.items():
        assert figure.id == figure_id
        assert figure.label, figure_id
        assert math.isfinite(figure.value.si), figure_id
        assert figure_id == figure_id.lower()


@every_car
def test_a_band_holds_its_nominal_and_moves_with_an_input_of_the_car(name: str):
    assessment, uncertain = assessment_of(name), set(car_of(name).uncertain())
    for figure_id, swings in assessment.swings.items():
        value = assessment.figures[figure_id].value
        assert value.low is not None
        assert value.high is not None
        assert value.low <= value.si <= value.high, figure_id
        assert set(swings) <= uncertain, figure_id


@every_sound_car
def test_a_simulated_figures_energy_ledger_closes(name: str):
    found = figures_by(name, SimulatedWorking)
    assert found
    for figure in found:
        ledger = figure.working.ledger
        largest = max(abs(joules) for joules in ledger.values())
        assert abs(math.fsum(ledger.values())) <= LEDGER_TOLERANCE * largest, figure.id


@every_sound_car
def test_a_simulated_figure_is_near_its_independent_short_estimate(name: str):
    for figure in figures_by(name, SimulatedWorking):
        working = figure.working
        short = working.estimate.value.si
        assert working.deviation == pytest.approx((figure.value.si - short) / short, rel=1e-9)
    far = {
        figure.id: round(figure.working.deviation, 3)
        for figure in figures_by(name, SimulatedWorking)
        if abs(figure.working.deviation) > LARGEST_DEVIATION
    }
    assert not far


@every_sound_car
def test_a_short_estimate_leads_down_to_entries_without_the_simulation(name: str):
    figures = assessment_of(name).figures

    def simulated_below(figure: Figure) -> Iterator[str]:
        if isinstance(figure.working, SimulatedWorking):
            yield figure.id
        for value in figure.inputs.values():
            if value.origin == "computed":
                yield from simulated_below(figures[value.ref])

    for figure in figures_by(name, SimulatedWorking):
        assert list(simulated_below(figure.working.estimate)) == [], figure.id


def test_the_tool_shows_at_least_eighty_formulas_at_work():
    used = {figure.working.function for name in ALL_CARS for figure in figures_by(name, Working)}
    assert len(used) >= LEAST_WORKINGS
    assert used <= {working.function for working in ALL}
