"""Cars with entries lost and others at the ends of their ranges: always an assessment, no NaN."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest
from build_paths import build_paths, ranges_of_entries
from example_cars import ALL_CARS, car_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.context import Context
from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import assess, before_circuit, judge
from swapwright.base.figure import SimulatedWorking
from swapwright.build.car import Car
from swapwright.build.shape import rows_by_path

LEDGER_TOLERANCE = 1e-6


@st.composite
def broken_cars(draw: st.DrawFn):
    car = car_of(draw(st.sampled_from(ALL_CARS)))
    values = dict(car.values)
    for path in draw(st.lists(st.sampled_from(sorted(values)), max_size=4, unique=True)):
        del values[path]
    ranges = ranges_of_entries()
    ends = st.tuples(st.sampled_from(sorted(set(ranges) & set(values))), st.sampled_from((0, 1)))
    changes = draw(st.lists(ends, max_size=4, unique_by=lambda change: change[0]))
    for path, end in changes:
        values[path] = replace(values[path], si=ranges[path][end], low=None, high=None)
    parts = dict(car.part_names)
    for path in draw(st.lists(st.sampled_from(sorted(parts)), max_size=1)):
        del parts[path]
    return replace(car, values=values, part_names=parts, revision=f"{sorted(changes)}")


@pytest.mark.property
@settings(max_examples=60, deadline=None, derandomize=True)
@given(car=broken_cars())
def test_whatever_is_lost_or_absurd_a_car_is_assessed_in_finite_numbers(car):
    assessment = assess(car)
    for figure_id, figure in assessment.figures.items():
        value = figure.value
        assert math.isfinite(value.si), figure_id
        if value.low is not None and value.high is not None:
            assert value.low <= value.si <= value.high, figure_id
        if isinstance(figure.working, SimulatedWorking):
            ledger = figure.working.ledger.values()
            largest = max(abs(joules) for joules in ledger)
            assert abs(math.fsum(ledger)) <= LEDGER_TOLERANCE * largest, figure_id
    for curve in assessment.curves.values():
        for series in curve.ys:
            known = [number for number in series.points if number is not None]
            assert all(math.isfinite(number) for number in known), curve.id
    for figure_id, needs in assessment.missing.items():
        assert needs, figure_id


OF_THE_CIRCUIT = ("circuit.", "people.", "fault.", "precharge.", "wait.", "isolation.", "link.")


def as_the_circuit_meets_it(car: Car, whole: FigureBook) -> FigureBook:
    """Return the figures of a car before its circuit, those of the same car with nothing lost."""
    book = FigureBook(car)
    book.figures.update(whole.figures)
    book.values.update(whole.values)
    book.missing.update(whole.missing)
    book.reasons.update(whole.reasons)
    book.recorded.update(whole.recorded)
    return book


@cache
def before(name: str) -> FigureBook:
    book = FigureBook(car_of(name))
    before_circuit(book)
    return book


@cache
def high_voltage_ranges() -> Mapping[str, tuple[float, float]]:
    """Return the lowest and highest value a file may give at each row of the circuit."""
    return {
        row: (entry.low, entry.high)
        for row, entry in rows_by_path().items()
        if row.startswith(("hv.", "charging.contactors", "drive.inverter.link"))
        and entry.low is not None
        and entry.high is not None
    }


def broken_circuit(name: str, pick: random.Random) -> Car:
    """Return a car with entries of its circuit lost and others at the ends of their ranges."""
    car = car_of(name)
    values, texts = dict(car.values), dict(car.texts)
    flags, tables = dict(car.flags), dict(car.tables)
    for holder in (values, texts, flags, tables):
        ours = sorted(path for path in holder if path.startswith("hv."))
        needed = [path for path in ours if not path.endswith((".name", "]", ".kind"))]
        for path in pick.sample(needed, min(len(needed), pick.choice((0, 0, 1, 2, 5)))):
            del holder[path]
    ranges = high_voltage_ranges()
    for path in pick.sample(sorted(values), 25):
        ends = ranges.get(re.sub(r"\[\d+\]", "[]", path))
        if ends is not None:
            values[path] = replace(values[path], si=pick.choice(ends), low=None, high=None)
    parts = {
        path: part
        for path, part in car.part_names.items()
        if not path.startswith("hv.") or pick.random() > 0.03
    }
    return replace(
        car,
        values=values,
        texts=texts,
        flags=flags,
        tables=tables,
        part_names=parts,
        revision=f"{name} {pick.random()}",
    )


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_whatever_of_its_circuit_is_lost_or_absurd_it_is_judged_in_finite_numbers(name: str):
    pick = random.Random(name)
    known = build_paths()
    for _ in range(75):
        car = broken_circuit(name, pick)
        book = as_the_circuit_meets_it(car, before(name))
        circuit(book)
        for figure_id, figure in book.figures.items():
            assert math.isfinite(figure.value.si), figure_id
        findings, _, _ = judge(Context(car, book), RULES)
        for finding in findings:
            if finding.rule.startswith(OF_THE_CIRCUIT) and finding.verdict == "unknown":
                needs = {re.sub(r"\[\d*\]", "[0]", need) for need in finding.needs}
                assert needs <= known, (finding.rule, finding.needs)
                assert finding.remedy
        for figure_id, needs in book.missing.items():
            assert needs or book.reasons.get(figure_id), figure_id
