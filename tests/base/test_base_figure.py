from __future__ import annotations

import pytest

from swapwright.base.errors import WorkingError
from swapwright.base.figure import (
    Summed,
    Symbol,
    Value,
    Working,
    record,
    record_sum,
)

pytestmark = pytest.mark.arithmetic


def voltage_drop(*, current: float, resistance: float) -> float:
    return current * resistance


def endless(*, current: float, resistance: float) -> float:
    return float("inf") * current * resistance


SYMBOLS = {
    "I": Symbol("current", "A", 0.0, 1000.0, "current"),
    "R": Symbol("resistance", "ohm", 0.0, 1.0, "resistance"),
}
RESULT = Symbol("voltage_drop", "V", 0.0, 1000.0, "voltage drop", "voltage")
DROP = Working(voltage_drop, "I * R", SYMBOLS, RESULT, ("ohm",), "steady current", "inductance")
CURRENT = Value(300.0, "A", "entered", "drive.current")
RESISTANCE = Value(2e-3, "ohm", "part", "cable")


def test_a_figure_keeps_its_inputs_and_where_they_came_from():
    figure = record(DROP, "cable.drop", current=CURRENT, resistance=RESISTANCE)
    assert figure.value == Value(pytest.approx(0.6), "V", "computed", "cable.drop")
    assert figure.inputs == {"I": CURRENT, "R": RESISTANCE}
    assert (figure.label, figure.kind) == ("voltage drop", "voltage")


def test_an_input_in_another_unit_is_refused():
    wrong = Value(2.0, "mohm", "entered", "cable")
    with pytest.raises(WorkingError, match="resistance is in 'mohm', the working needs 'ohm'"):
        record(DROP, "cable.drop", current=CURRENT, resistance=wrong)


@pytest.mark.parametrize("inputs", [{}, {"current": CURRENT, "length": RESISTANCE}])
def test_an_input_too_few_or_too_many_is_refused(inputs):
    with pytest.raises(WorkingError, match="arguments do not fit the working"):
        record(DROP, "cable.drop", **inputs)


def test_a_working_that_gives_no_finite_number_makes_no_figure():
    working = Working(endless, "I * R", SYMBOLS, RESULT, (), "", "")
    with pytest.raises(WorkingError, match=r"cable.drop: the working gave inf"):
        record(working, "cable.drop", current=CURRENT, resistance=RESISTANCE)


def test_a_sum_keeps_its_rows():
    rows = [("engine", Value(-148.0, "kg", "entered", "mass[0]"))]
    rows.append(("motor", Value(62.0, "kg", "entered", "mass[1]")))
    figure = record_sum("mass.change", "change of mass", "kg", rows, "mass")
    assert figure.value.si == -86.0
    assert isinstance(figure.working, Summed)
    assert [name for name, _ in figure.working.rows] == ["engine", "motor"]


def test_a_sum_of_pounds_and_kilograms_is_refused():
    with pytest.raises(WorkingError, match="row 'motor' is in 'lb', not 'kg'"):
        record_sum("mass", "mass", "kg", [("motor", Value(62.0, "lb", "entered", "x"))])


def test_a_value_with_both_ends_is_uncertain():
    assert Value(1.0, "1", "entered", "x", 0.9, 1.1).is_uncertain
    assert not Value(1.0, "1", "entered", "x").is_uncertain
