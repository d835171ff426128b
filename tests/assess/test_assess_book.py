"""No number that is not finite is ever a figure: it is missing, and says why."""

from __future__ import annotations

import math

import pytest
from example_cars import car_of

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.solve import design
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value

pytestmark = pytest.mark.arithmetic

CELL = LookedUp("a table", "row", "column", "part-data-sheet")
every_odd = pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
kept_or_not = pytest.mark.parametrize("keep", [True, False], ids=["kept", "numbers only"])


def is_missing(book: FigureBook, figure: str) -> bool:
    with pytest.raises(Missing, match="no finite number"):
        book.value(figure)
    return figure not in book.figures


@kept_or_not
@every_odd
def test_what_a_table_gives_must_be_a_number(odd: float, keep: bool):
    book = FigureBook(car_of("ridgeway"), keep=keep)
    book.look_up("table.cell", "a cell", odd, "W", CELL)
    assert is_missing(book, "table.cell")


@kept_or_not
@every_odd
def test_a_sum_with_an_odd_row_is_no_sum(odd: float, keep: bool):
    book = FigureBook(car_of("ridgeway"), keep=keep)
    row = Value(odd, "W", "computed", "a row")
    book.total("a.sum", "a sum", "W", [("one", row, 1.0)])
    assert is_missing(book, "a.sum")


@every_odd
def test_a_simulated_number_must_be_one_too(odd: float):
    book = FigureBook(car_of("ridgeway"))
    design(book)
    run = runs.steady(setup(book), 20.0, soc=0.6)
    simulated_figure(book, "a.run", "a run", (odd, "J", "energy"), run, "pack.usable_energy", {})
    assert is_missing(book, "a.run")
    fine = run.battery_energy
    simulated_figure(book, "one.run", "a run", (fine, "J", "energy"), run, "pack.usable_energy", {})
    assert book.number("one.run") == fine
