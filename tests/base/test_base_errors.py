from __future__ import annotations

import pytest

from swapwright.base.errors import InputError, Missing, Problem, UnitError

pytestmark = pytest.mark.arithmetic


def test_a_problem_reads_as_one_line_with_place_reason_and_remedy():
    problem = Problem(
        "coupe.toml", "car.kerb_mass", "too low", given="-5 kg", allowed="at least 150 kg", line=7
    )
    assert str(problem) == (
        "coupe.toml:7: car.kerb_mass: too low; given: -5 kg; allowed: at least 150 kg"
    )


def test_a_problem_without_line_or_path_leaves_them_out():
    assert str(Problem("coupe.toml", "", "is empty", nearest="a.toml")) == (
        "coupe.toml: is empty; did you mean: a.toml"
    )


def test_an_input_error_carries_every_problem_at_once():
    problems = (Problem("a.toml", "x", "one"), Problem("a.toml", "y", "two"))
    error = InputError(*problems)
    assert error.problems == problems
    assert str(error) == "a.toml: x: one\na.toml: y: two"


def test_a_missing_input_names_the_paths_that_would_settle_it():
    assert Missing("pack.module", "pack.strings").paths == ("pack.module", "pack.strings")


def test_a_unit_error_says_what_would_do():
    error = UnitError("no", "a mass: kg", "5 kg")
    assert (str(error), error.allowed, error.nearest) == ("no", "a mass: kg", "5 kg")
