from dataclasses import replace

import pytest
from example_cars import car_of

from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context
from swapwright.assess.rules.compare import compare
from swapwright.assess.solve import judge
from swapwright.base.figure import Value
from swapwright.build.shape import is_life_critical

PATH = "drive.inverter.link_capacitance"
LIMIT = Value(1.0, "F", "standard", "owner-goal")
RULE = compare(
    "test.link",
    subject="drive.inverter",
    value=PATH,
    limit=LIMIT,
    sense="at_most",
    outside="stop",
    inside_text="Within.",
    outside_text="Beyond.",
    remedy="Change it.",
    sources=("owner-goal",),
)


def judged_with(origin: str) -> str:
    car = car_of("ridgeway")
    value = replace(car.value(PATH), origin=origin)
    car = replace(car, values={**car.values, PATH: value})
    (finding,), _, _ = judge(Context(car, FigureBook(car)), (RULE,))
    if finding.verdict == "unknown":
        assert finding.needs == (PATH,)
        assert finding.could_be == "stop"
    return finding.verdict


@pytest.mark.arithmetic
def test_a_life_critical_default_never_carries_a_met_until_the_owner_confirms_it() -> None:
    assert judged_with("default") == "unknown"
    assert judged_with("entered") == "met"


@pytest.mark.arithmetic
def test_rows_of_a_list_share_the_mark_of_their_field() -> None:
    assert is_life_critical("hv.cable[7].length")
    assert is_life_critical("hv.main_fuse.rating")
    assert not is_life_critical("mass[3].x")
