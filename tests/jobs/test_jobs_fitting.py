from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from swapwright.assess.solve import assess
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check
from swapwright.jobs.circuit import circuit_view
from swapwright.standards.conductors import STANDARD_SIZES

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)
OF_A_CABLE = ("circuit.cable_fuse", "circuit.cable_current", "circuit.cable_short")


@pytest.fixture(scope="module")
def ridgeway():
    return check(EXAMPLES / "ridgeway.toml", Catalogue(), TODAY)


def verdicts_with(car, path: str, area: float) -> dict[str, str]:
    """Return what the rules on a cable's current say of the car with another size laid."""
    told = assess(car.with_values({path: area}))
    lies_at = path.removesuffix(".size")
    return {
        f.rule: f.verdict for f in told.findings if f.rule in OF_A_CABLE and lies_at in f.subject
    }


@pytest.mark.parametrize("number", [0, 1])
def test_the_lightest_cable_passes_and_the_next_thinner_fails_by_what_limits_it(ridgeway, number):
    car = ridgeway.opened.car
    row = circuit_view(ridgeway).cables[number]
    lightest = ridgeway.assessment.figures[row.lightest].value.si
    thinner = max(size for size in STANDARD_SIZES if size < lightest)
    assert row.limits == "limited by its fuse"
    assert set(verdicts_with(car, row.size, lightest).values()) <= {"met", "watch"}
    assert verdicts_with(car, row.size, thinner)["circuit.cable_fuse"] in {"fix", "stop"}


def test_a_cable_no_size_can_be_found_for_says_why():
    flawed = circuit_view(check(EXAMPLES / "fault-finder.toml", Catalogue(), TODAY))
    row = next(each for each in flawed.cables if each.device.name == "traction pair")
    assert "main fuse is not rated for this voltage" in row.limits


def test_a_coil_tells_whether_it_is_cut_back_once_closed(ridgeway):
    rows = {row.device.name: row for row in circuit_view(ridgeway).coils}
    assert rows["main contactors"].is_cut_back is True
    assert rows["precharge relay"].is_cut_back is False
    assert ridgeway.opened.car.number(rows["main contactors"].holding) == 2.0


def test_a_coil_the_file_says_nothing_of_is_not_known():
    flawed = circuit_view(check(EXAMPLES / "fault-finder.toml", Catalogue(), TODAY))
    rows = {row.device.name: row for row in flawed.coils}
    assert rows["main contactors"].is_cut_back is None
