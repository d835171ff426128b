"""Workings that cannot lie: the expression shown is the function used, and its units add up."""

from __future__ import annotations

import inspect
import math
import pkgutil
import random
from collections.abc import Callable
from importlib import import_module

import pytest
from expression import ExpressionError, dimension, dimension_of_unit, evaluator, parse, same

import swapwright.physics
from swapwright.base.figure import Symbol, Working
from swapwright.physics.workings import ALL

POINTS = 200
TRIES = 100 * POINTS
PROBES = 50


def name_of(working: Working) -> str:
    function = plain(working)
    return f"{function.__module__.removeprefix('swapwright.physics.')}.{function.__name__}"


def plain(working: Working) -> Callable[..., float]:
    return getattr(working.function, "py_func", working.function)


every_working = pytest.mark.parametrize("working", ALL, ids=name_of)


def draw(symbol: Symbol, source: random.Random) -> float:
    if symbol.low > 0.0 and symbol.high > 1e3 * symbol.low:
        return math.exp(source.uniform(math.log(symbol.low), math.log(symbol.high)))
    return source.uniform(symbol.low, symbol.high)


def valid_points(working: Working, count: int) -> list[dict[str, float]]:
    source = random.Random(name_of(working))
    holds = evaluator(working.valid, working.symbols) if working.valid else None
    points: list[dict[str, float]] = []
    for _ in range(TRIES):
        point = {letter: draw(symbol, source) for letter, symbol in working.symbols.items()}
        if holds is None or holds(*point.values()):
            points.append(point)
        if len(points) == count:
            return points
    raise AssertionError(f"{name_of(working)}: its valid condition leaves almost no room")


def call(working: Working, point: dict[str, float]) -> float:
    arguments = {symbol.argument: point[letter] for letter, symbol in working.symbols.items()}
    return plain(working)(**arguments)


@pytest.mark.guard
@every_working
def test_the_expression_gives_what_the_function_gives(working):
    expression = evaluator(working.expression, working.symbols)
    for point in valid_points(working, POINTS):
        assert expression(*point.values()) == pytest.approx(
            call(working, point), rel=1e-9, abs=1e-300
        ), point


@pytest.mark.guard
@every_working
def test_the_units_of_the_letters_give_the_unit_of_the_result(working):
    units = {letter: symbol.unit for letter, symbol in working.symbols.items()}
    found = dimension(parse(working.expression, tuple(working.symbols)), units)
    expected = dimension_of_unit(working.result.unit)
    assert same(found, expected), f"{found} is not {working.result.unit}"


@pytest.mark.guard
@every_working
def test_every_argument_has_a_letter_and_moves_the_result(working):
    parameters = inspect.signature(plain(working)).parameters
    assert all(each.kind is inspect.Parameter.KEYWORD_ONLY for each in parameters.values())
    assert sorted(parameters) == sorted(s.argument for s in working.symbols.values())
    used = {str(each) for each in parse(working.expression, tuple(working.symbols)).free_symbols}
    assert used == set(working.symbols)
    points = valid_points(working, PROBES)
    for letter in working.symbols:
        swapped = zip(points, points[1:] + points[:1], strict=True)
        assert any(
            not math.isclose(
                call(working, point), call(working, {**point, letter: other[letter]}), rel_tol=1e-12
            )
            for point, other in swapped
        ), f"{letter} never moves the result"


@pytest.mark.guard
@every_working
def test_a_working_says_where_it_is_from_and_what_its_letters_mean(working):
    assert working.sources
    assert working.result.label
    for symbol in working.symbols.values():
        assert symbol.label
        assert symbol.low <= symbol.high


@pytest.mark.guard
def test_the_list_of_workings_leaves_none_out_and_holds_none_twice():
    in_modules = []
    for module in pkgutil.walk_packages(swapwright.physics.__path__, "swapwright.physics."):
        in_modules += getattr(import_module(module.name), "WORKINGS", ())
    names = [name_of(working) for working in ALL]
    assert len(names) == len(set(names))
    assert sorted(name_of(working) for working in in_modules) == sorted(names)


@pytest.mark.guard
@pytest.mark.parametrize(
    ("text", "letters"),
    [
        ("I*R", ("R",)),
        ("lambda_*x", ("x",)),
        ("lambda", ("lambda",)),
        ("E/Q", ()),
        ("R.args", ("R",)),
    ],
    ids=["an undeclared current", "a near miss", "a Python word", "nothing declared", "a program"],
)
def test_an_expression_with_an_undeclared_or_impossible_letter_is_refused(text, letters):
    with pytest.raises(ExpressionError):
        parse(text, letters)


@pytest.mark.guard
@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("a + b", {"a": "N", "b": "N.m"}),
        ("exp(t)", {"t": "s"}),
        ("a**b", {"a": "m", "b": "1"}),
        ("Max(a, b)", {"a": "V", "b": "A"}),
        ("Piecewise((a, t < 3), (b, True))", {"a": "N", "b": "N", "t": "s"}),
    ],
    ids=["a sum", "an exponential", "a power", "a greatest", "a condition"],
)
def test_unlike_dimensions_are_found_out(text, units):
    with pytest.raises(ExpressionError):
        dimension(parse(text, tuple(units)), units)


@pytest.mark.guard
def test_a_known_formula_has_its_known_dimension():
    units = {"rho": "kg/m^3", "A": "m^2", "v": "m/s", "I": "A", "R": "ohm"}
    drag = dimension(parse("Max(0, 0.5*rho*A*v**2)", tuple(units)), units)
    assert same(drag, dimension_of_unit("N"))
    assert same(dimension(parse("sqrt(I**2*R**2)", tuple(units)), units), dimension_of_unit("V"))
