"""What stands at the devices of the diagram and in its title block."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.circuit import circuit_view
from swapwright.jobs.circuit_drawing import diagram_of, label_of

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def checked(name: str) -> Checked:
    return check(EXAMPLES / f"{name}.toml", Catalogue(), date(2026, 11, 27))


def label(car: str, device: str, profile: str = "metric") -> tuple[str, ...]:
    (found,) = [
        row.device for row in circuit_view(checked(car)).devices if row.device.name == device
    ]
    return label_of(checked(car), found, profile)


# 96 cells at 4.2 V are 403.2 V over 12 modules: 5 of them are 168 V.
@pytest.mark.parametrize(
    ("device", "lines"),
    [
        ("front pack", ("5 modules", "168 V at most")),
        ("rear pack", ("7 modules", "235 V at most")),
        ("service disconnect", ("sees the whole pack", "350 A 500 V")),
        ("inverter", ("240 V to 430 V",)),
        ("bleed resistor", ("47 kohm 10 W",)),
    ],
)
def test_a_label_says_what_a_mechanic_has_to_know_of_a_device(device, lines):
    assert label("ridgeway", device) == lines


def test_one_module_is_not_called_several():
    assert label("bakery", "front pack")[0] == "1 module"


def test_an_american_cable_is_named_by_its_gauge():
    assert label("hill-farm", "traction pair", "us")[0].startswith("4/0 AWG")


def test_the_sheet_has_the_signs_of_the_trade_and_names_class_and_highest_voltage():
    view = circuit_view(checked("ridgeway"))
    text = diagram_of(checked("ridgeway"), view, "metric", None)
    said = re.findall(r">([^<>]+)<", text)
    assert any("70 mm²" in each for each in said)
    assert any("kΩ" in each for each in said)
    assert any("µF" in each for each in said)
    assert not any(re.search(r"\^|\d [kM]?ohm|\d uF", each) for each in said)
    for words in ("voltage class", "B, above 60 V dc", "403 V"):
        assert words in said
    assert "maximum working" in " ".join(said)
