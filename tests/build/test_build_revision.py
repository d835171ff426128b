from __future__ import annotations

import tomllib
from typing import Any

import pytest
from build_file_texts import FULL, with_line
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.build.car import Car
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.revision import short
from swapwright.catalogue.read import Catalogue

CATALOGUE = Catalogue()


def car_of(text: str, data_version: str = "1") -> Car:
    return resolve(load_text(text, "car.toml"), CATALOGUE, data_version=data_version)


AS_WRITTEN = car_of(FULL)


def as_toml(content: Any) -> str:
    if isinstance(content, dict):
        return "{" + ", ".join(f"{key} = {as_toml(item)}" for key, item in content.items()) + "}"
    if isinstance(content, list):
        return "[" + ", ".join(as_toml(item) for item in content) + "]"
    if isinstance(content, str):
        return f"'{content}'"
    return str(content).lower()


def shuffled(content: Any, draw: Any) -> Any:
    if isinstance(content, dict):
        keys = draw(st.permutations(list(content)))
        return {key: shuffled(content[key], draw) for key in keys}
    if isinstance(content, list):
        return [shuffled(item, draw) for item in content]
    return content


@pytest.mark.property
@settings(deadline=None, max_examples=30)
@given(data=st.data())
def test_key_order_and_form_of_writing_do_not_change_the_revision(data: st.DataObject) -> None:
    content = shuffled(tomllib.loads(FULL), data.draw)
    text = "".join(f"{key} = {as_toml(item)}\n" for key, item in content.items())
    car = car_of(text)
    assert car.revision == AS_WRITTEN.revision
    assert car == AS_WRITTEN
    assert list(car.values) == list(AS_WRITTEN.values)
    assert car.assumed == AS_WRITTEN.assumed


@pytest.mark.property
@settings(deadline=None, max_examples=30)
@given(comment=st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30))
def test_comments_do_not_change_the_revision(comment: str) -> None:
    lines = FULL.splitlines()
    text = "\n".join(["format = 1", f"# {comment}", *lines[2:]]) + f"\n# {comment}\n"
    assert car_of(text).revision == AS_WRITTEN.revision


@pytest.mark.property
@settings(deadline=None, max_examples=30)
@given(mass=st.integers(1030, 1070))
def test_a_changed_value_changes_the_revision_and_the_same_value_does_not(mass: int) -> None:
    car = car_of(with_line(FULL, '"1050 kg"', f'"{mass}.0 kg"'))
    assert (car.revision == AS_WRITTEN.revision) == (mass == 1050)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"47 kohm"', '"47.0001 kohm"'),
        ('"0.70..0.78 m^2"', '"0.70..0.79 m^2"'),
        ('"0.70..0.78 m^2"', '"0.74 m^2"'),
        ('"class D"', '"class E"'),
        ("use = [2, 3]", "use = [2]"),
        ("2026-09-01", "2026-09-02"),
        ('"the owner lives on the plain"', '"the owner said so"'),
        ('"pack controller"', '"charger"'),
        ('"pm-radial-75kw"', '{ part = "pm-radial-75kw", peak_time = "12 s" }'),
        ('"nmc-module-8s1p-60ah"', '"nmc-module-12s1p-50ah"'),
    ],
)
def test_whatever_an_assessment_rests_on_is_in_the_revision(old: str, new: str) -> None:
    assert car_of(with_line(FULL, old, new)).revision != AS_WRITTEN.revision


@pytest.mark.arithmetic
def test_a_table_of_a_part_is_in_the_revision() -> None:
    curve = (
        '{ part = "pm-radial-75kw", '
        'envelope = { x = [0, 8000], y = [%s, 60], x_unit = "rpm", y_unit = "N.m" } }'
    )
    one = car_of(with_line(FULL, '"pm-radial-75kw"', curve % "150"))
    other = car_of(with_line(FULL, '"pm-radial-75kw"', curve % "151"))
    assert one.revision != other.revision


@pytest.mark.arithmetic
def test_confirming_a_default_is_a_new_revision() -> None:
    confirmed = car_of(with_line(FULL, "tyres     =", "grip = 0.8\ntyres     ="))
    assert confirmed.value("car.grip").si == AS_WRITTEN.value("car.grip").si
    assert confirmed.revision != AS_WRITTEN.revision


@pytest.mark.arithmetic
def test_the_owners_own_mark_does_not_count_and_the_edition_of_the_data_does() -> None:
    assert car_of(with_line(FULL, '"C"', '"D"')).revision == AS_WRITTEN.revision
    assert car_of(FULL, data_version="2").revision != AS_WRITTEN.revision


@pytest.mark.arithmetic
def test_the_short_form_is_the_first_twelve_digits() -> None:
    assert len(AS_WRITTEN.revision) == 64
    assert short(AS_WRITTEN.revision) == AS_WRITTEN.revision[:12]


@pytest.mark.arithmetic
def test_the_same_content_under_another_file_name_is_the_same_car() -> None:
    car = resolve(load_text(FULL, "other-name.toml"), Catalogue(), data_version="1")
    assert car.revision == AS_WRITTEN.revision
    assert dict(car.values) == dict(AS_WRITTEN.values)
    assert car.texts == AS_WRITTEN.texts
