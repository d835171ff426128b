"""What an *unknown* asks for: an entry a file can have, never a figure the tool would work out."""

from __future__ import annotations

import random
import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from build_paths import build_paths
from example_cars import SOUND, car_from, changed, text_of

from swapwright.assess.solve import assess
from swapwright.base.errors import InputError

OF_EACH_CAR = 15
ONCE_A_FIGURE = (
    ("ridgeway", "car.corner_mass.rear_left"),
    ("ridgeway", "charging.tariff"),
    ("ridgeway", "cooling.loop[0].parts"),
    ("ridgeway", "cooling.loop[0].coolant.kind"),
    ("ridgeway", "cooling.loop[0].radiator"),
    ("ridgeway", "cost"),
    ("bakery", "pack.module"),
)
"""Entries without which a finding once asked for a figure."""


def entries(table: Mapping[str, Any], above: str = "") -> Iterator[str]:
    """Yield the path of everything a build file says."""
    for key, said in table.items():
        path = f"{above}.{key}" if above else key
        if isinstance(said, dict):
            yield from entries(said, path)
        elif isinstance(said, list) and said and isinstance(said[0], dict):
            for row, each in enumerate(said):
                yield from entries(each, f"{path}[{row}]")
        else:
            yield path


def asked(name: str, path: str) -> list[tuple[str, str]] | None:
    """Return (rule, need) that are no entry of a file, with one entry left out.

    None where the file cannot be read without it.
    """
    try:
        car = car_from(changed(text_of(name), {path: None}))
    except InputError:
        return None
    return [
        (finding.rule, need)
        for finding in assess(car).findings
        if finding.verdict == "unknown"
        for need in finding.needs
        if re.sub(r"\[\d*\]", "[0]", need) not in build_paths()
    ]


@pytest.mark.property
@pytest.mark.parametrize("name", SOUND)
def test_a_finding_that_lacks_something_asks_for_what_a_file_can_say(name: str):
    paths = list(entries(tomllib.loads(text_of(name))))
    random.Random(name).shuffle(paths)
    readable = 0
    for path in paths:
        found = asked(name, path)
        readable += found is not None
        assert not found, path
        if readable == OF_EACH_CAR:
            break
    assert readable == OF_EACH_CAR


@pytest.mark.arithmetic
@pytest.mark.parametrize(("name", "path"), ONCE_A_FIGURE)
def test_what_once_asked_for_a_figure_asks_for_an_entry(name: str, path: str):
    assert asked(name, path) == []
