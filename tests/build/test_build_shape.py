from __future__ import annotations

import re

import pytest

from swapwright.base.errors import UnitError
from swapwright.base.field import Field
from swapwright.base.quantity import KINDS, show
from swapwright.base.reading import read
from swapwright.base.sources import source
from swapwright.build.shape import FIELDS, PartPlace, part_kind, rows_by_path, shape_of
from swapwright.catalogue.fields import PART_FIELDS

ROWS = rows_by_path()


@pytest.mark.guard
def test_no_path_stands_twice() -> None:
    paths = [row.path for row in FIELDS]
    assert len(paths) == len(set(paths))


@pytest.mark.guard
def test_every_field_is_of_a_kind_that_can_be_read_and_has_a_plain_label() -> None:
    plain = {"text", "name", "choice", "flag", "date"}
    for path, row in ROWS.items():
        head, _, inner = row.kind.partition(":")
        if head in ("list", "curve", "map"):
            assert all(kind in KINDS or kind in plain for kind in inner.split(",")), path
        elif head == "part":
            assert inner in PART_FIELDS, path
        else:
            assert head in KINDS or head in plain, path
        assert row.label and row.label.strip() == row.label, path
        assert bool(row.choices) == (row.kind in ("choice", "list:choice")), path
        assert re.fullmatch(r"[a-z0-9_]+(\[\])?(\.[a-z0-9_]+(\[\])?)*", path), path


@pytest.mark.guard
def test_every_default_is_allowed_by_its_own_field_and_names_a_source() -> None:
    for path, row in ROWS.items():
        if row.default is None:
            assert row.default_source == "", path
            continue
        assert source(row.default_source).title, path
        if isinstance(row.default, str):
            assert row.default in row.choices, path
        else:
            assert row.low is None or row.low <= row.default, path
            assert row.high is None or row.default <= row.high, path
            low, high = row.spread or (row.default, row.default)
            assert low <= row.default <= high, path
            typed = show(row.default, row.kind, digits=9)
            read(row, typed, ref=path, origin="entered")


@pytest.mark.guard
def test_every_bound_is_one_a_person_could_meet() -> None:
    for path, row in ROWS.items():
        if row.kind not in KINDS or row.low is None or row.high is None:
            continue
        assert row.low <= row.high, path
        middle = row.low if row.kind == "count" else (row.low + row.high) / 2.0
        read(row, show(middle, row.kind, digits=9), ref=path, origin="entered")
        with pytest.raises(UnitError):
            beyond = row.high * 1.01 + 1.0 if row.high >= 0 else 1.0
            read(row, show(beyond, row.kind, digits=9), ref=path, origin="entered")


@pytest.mark.guard
def test_every_life_critical_field_has_no_default_to_hide_behind() -> None:
    assert [
        path for path, row in ROWS.items() if row.life_critical and row.default is not None
    ] == []


@pytest.mark.arithmetic
def test_a_place_adds_its_own_keys_to_those_of_its_part() -> None:
    shape = shape_of(
        (
            Field("fuse", "part:fuse", "fuse"),
            Field("fuse.poles", "choice", "poles", choices=("one",)),
        )
    )
    place = shape.children["fuse"]
    assert isinstance(place, PartPlace)
    assert {"part", "rating", "poles"} <= set(place.section.children)
    assert part_kind(place.field) == "fuse"


@pytest.mark.arithmetic
def test_a_value_that_is_also_a_section_is_a_fault_of_the_table() -> None:
    with pytest.raises(ValueError, match="both a value and a section"):
        shape_of((Field("a", "mass", "a"), Field("a.b", "mass", "b")))
