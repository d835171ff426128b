"""Every input moves an output: what nothing reads is listed, and what is listed nothing reads."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import TypeVar

import pytest
from project_files import ROOT

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.build.car import MODULE_CELL, PACK_CELL, Car
from swapwright.build.circuit.expansion import full_form_text
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.schema import schema
from swapwright.build.shape import rows_by_path
from swapwright.build.unused import NOT_USED_YET, in_words, kept_for
from swapwright.catalogue.read import Catalogue
from swapwright.cli.check_text import page_of, write_check
from swapwright.cli.console import Console
from swapwright.cli.options import profile_of
from swapwright.jobs.assumptions import assumed_of
from swapwright.jobs.check import Checked
from swapwright.jobs.opening import Opened

pytestmark = pytest.mark.guard

T = TypeVar("T")

TODAY = date(2026, 11, 25)
CATALOGUE = Catalogue()
EXAMPLES = {path.stem: path.read_text(encoding="utf-8") for path in ROOT.glob("examples/*.toml")}
FURTHER = sorted(ROOT.glob("tests/validation/cars/*.toml"))
TWO_UNITS = {
    "drive.second.motor": "pm-radial-75kw",
    "drive.second.inverter": "inverter-400v-300a",
    "drive.second.gearbox": "gearbox-4-speed-inline",
    "drive.second.torque_limit": "100 N.m",
    "drive.second.speed_limit": "6000 rpm",
    "drive.second.axle": "front",
    "drive.second.motor.rated_coolant": "40 degC",
    "drive.second.inverter.rated_coolant": "40 degC",
    "cooling.by_air": '["charger", "dc-dc"]',
    "cooling.loop[0].parts": (
        '["pump", "inverter", "motor", "second inverter", "second motor", "radiator"]'
    ),
}
ROUND_CELLS = {
    "pack.module": None,
    "pack.modules_per_string": None,
    "pack.cell": "nmc-cylindrical-5ah",
    "pack.series": "96",
    "pack.parallel": "12",
}
BY_DATA = (
    '{ voltage = "500 V", carry = "250 A", making = "250 A", break_forward = "250 A", '
    'weld_i2t = "90000 A^2.s", resistance = "0.2 mohm", pull_in = "8.5 V", drop_out = "3 V", '
    'coil_power = "5 W", economiser = false, poles = "both", polarised = false }'
)
"""A contactor of no part, that says of itself that it breaks both directions alike."""
TWO_STRINGS = {
    "pack.strings": "2",
    "pack.boxes[0].modules": "10",
    "pack.boxes[1].modules": "14",
    "hv.string_fuse": '{ part = "fuse-200a-500vdc", poles = "both", min_breaking = "600 A" }',
    "hv.string_contactors": BY_DATA,
    "hv.join_difference": "2 V",
}
MORE_PARTS = {
    "hv.main_fuse": '{ part = "fuse-200a-500vdc", poles = "both", min_breaking = "900 A" }',
    "hv.cable[0].diameter": "16 mm",
    "hv.cable[0].bend_radius": "80 mm",
    "hv.cable[0].bundled": "2",
    "hv.cable[0].terminals": "95 degC",
    "hv.connector[0].name": "inverter plug",
    "hv.connector[0].at": "inverter",
    "hv.connector[0].voltage": "1000 V",
    "hv.connector[0].current": "250 A",
    "hv.connector[0].resistance": "0.3 mohm",
    "hv.connector[0].interlocked": "true",
    "hv.branch[0].fuse.min_breaking": "200 A",
    "hv.branch[0].contactor": '{ part = "contactor-500vdc-50a", poles = "both", polarised = true }',
    "hv.branch[0].bleed": "330 kohm",
    "hv.branch[0].bleed_rating": "2 W",
    "hv.branch[0].bleed_count": "2",
    "hv.branch[1].cable.terminals": "100 degC",
    "hv.branch[1].cable.bundled": "2",
    "hv.branch[2].name": "cabin heater",
    "hv.branch[2].power": "3 kW",
    "hv.branch[2].fuse": '{ rating = "15 A", voltage = "500 V", breaking = "9 kA" }',
    "hv.branch[2].contactor": BY_DATA,
    "hv.branch[2].cable.size": "4 mm^2",
    "hv.branch[2].cable.length": "2 m",
    "hv.precharge.relay": "precharge-relay-500vdc-20a",
    "hv.maker_wait": "4 min",
    "hv.bleed_count": "2",
    "hv.isolation_monitor.resistance": "2 Mohm",
}
TIMED = {"hv.precharge.timer": "0.4 s", "hv.precharge.feedback": "false"}
FAST_CHARGE = {
    "charging.inlet": "ccs 2",
    "charging.inlet_voltage": "500 V",
    "charging.inlet_current": "250 A",
    "charging.contactors": BY_DATA,
    "charging.speaks": "power line signals on the pilot",
    "charging.monitor_off_while_charging": "true",
    "charging.inlet_temperature_watched": "true",
    "charging.station.voltage": "400 V",
    "charging.station.min_voltage": "200 V",
    "charging.station.current": "150 A",
    "charging.station.power": "30 kW",
}
COOLED = {
    "cooling.by_air": "[]",
    "cooling.loop[0].parts": (
        '["pump", "dc-dc", "charger", "inverter", "motor", "pack plate", "radiator"]'
    ),
    "cooling.loop[0].drops": '["0 kPa", "6 kPa", "7 kPa", "9 kPa", "8 kPa", "12 kPa", "5 kPa"]',
    "cooling.loop[0].drops_at": "9 L/min",
    "cooling.loop[0].flow": None,
    "cooling.loop[0].min_flow": "5 L/min",
}
PILOT = {"charging.pilot": "40 %"}
HELD_BACK = {
    "drive.torque_by.pedal": "{ x = [0, 1], y = [0.1, 0.8] }",
    "drive.torque_by.state_of_charge": "{ x = [0.1, 0.9], y = [0.3, 1.0] }",
    "drive.torque_by.cell_temperature": '{ x = [0, 30], x_unit = "degC", y = [0.5, 1.0] }',
    "drive.torque_by_gear": "[0.6, 0.9, 1.0, 1.0]",
}
CHANGED: Mapping[str, tuple[str, Mapping[str, str | None]]] = {
    "two drive units": ("parcel-round", TWO_UNITS),
    "a pack of round cells": ("ridgeway", ROUND_CELLS),
    "a charger on a branch": ("ridgeway", {"charging.charger": None}),
    "two strings": ("ridgeway", TWO_STRINGS),
    "more parts of the circuit": ("ridgeway", MORE_PARTS),
    "precharge by a timer": ("ridgeway", TIMED),
    "a charger that says what it gives": (
        "ridgeway",
        {"hv.branch[0].current": None, "charging.charger.max_current": "20 A"},
    ),
    "a fast-charge inlet": ("parcel-round", FAST_CHARGE),
    "a loop through everything": ("ridgeway", COOLED),
    "a pilot that was measured": ("ridgeway", PILOT),
    "a controller that holds back": ("bakery", HELD_BACK),
}
"""Cars that say what no example does: an example, and what is changed in it."""

IN_FULL = ("two strings", "more parts of the circuit", "two drive units")
"""Cars whose circuit is written out element by element as well."""

BY_HAND = """
[[hv.element]]
name = "pump fuse"
kind = "fuse"
from = "main contactors +.minus"
current = "15 A"
voltage = "500 V"
breaking = "10 kA"

[[hv.element]]
name = "pump contactor"
kind = "contactor"
from = "pump fuse.minus"
current = "20 A"
voltage = "500 V"

[[hv.element]]
name = "pump"
kind = "load"
from = "pump contactor.minus"
to = "main contactors -.minus"
current = "6 A"
"""
"""Elements described without a part, behind the main contactors of a circuit in full."""

WHILE_LOADING = re.compile(r"format|.*\.part|accepted\[\]\..*")
"""Read before there is a car: the file's format, where a part starts from, what is accepted."""

ONLY_SHOWN = {f"car.engine_before.{key}" for key in ("power_at", "torque", "torque_at")}
"""Stand beside what the car takes now, and as points of a curve; no figure comes of them."""


class _Passed(str):
    """A path met while going through all of them: to look it up is not to ask for it."""


class Heard(Mapping[str, T]):
    """Entries by path that note which of them were asked for by name."""

    def __init__(self, entries: Mapping[str, T], asked: set[str]) -> None:
        self._entries, self.asked = entries, asked

    def __getitem__(self, path: str) -> T:
        if not isinstance(path, _Passed):
            self.asked.add(path)
        return self._entries[path]

    def __iter__(self) -> Iterator[str]:
        return map(_Passed, self._entries)

    def __len__(self) -> int:
        return len(self._entries)


@dataclass(frozen=True, eq=False)
class Listening(Car):
    """A car that notes what is asked of it; nothing in it is uncertain, so no bands are made."""

    def has(self, path: str) -> bool:
        assert isinstance(self.texts, Heard)
        self.texts.asked.add(path)
        return super().has(path)

    def uncertain(self) -> tuple[str, ...]:
        return ()


def listening(car: Car, asked: set[str]) -> Listening:
    return Listening(
        revision=car.revision,
        values=Heard(car.values, asked),
        texts=Heard(car.texts, asked),
        flags=Heard(car.flags, asked),
        numbers=Heard(car.numbers, asked),
        tables=Heard(car.tables, asked),
        part_names=Heard(car.part_names, asked),
        counts=Heard(car.counts, asked),
        accepted=car.accepted,
        assumed=car.assumed,
        dates=Heard(car.dates, asked),
    )


def changed(text: str, changes: Mapping[str, str | None]) -> str:
    for path, to in changes.items():
        text = edit(text, path, to)
    return text


@cache
def texts() -> Mapping[str, str]:
    further = {path.stem: path.read_text(encoding="utf-8") for path in FURTHER}
    extra = {name: changed(EXAMPLES[of], changes) for name, (of, changes) in CHANGED.items()}
    full = {f"{name}, in full": in_full(extra[name]) for name in IN_FULL}
    # One coil of which nothing is known leaves what all coils take unknown.
    full["every coil by its sheet"] = in_full(extra[IN_FULL[0]]).removesuffix(BY_HAND)
    return {**EXAMPLES, **extra, **full, **further}


def in_full(text: str) -> str:
    """Return a build file with its circuit written out, and a load described by hand."""
    build = load_text(text, "a car")
    return full_form_text(build, resolve(build, CATALOGUE)) + BY_HAND


@cache
def car_of(name: str) -> tuple[Listening, set[str]]:
    """Return a car and what was asked of its file when it was resolved."""
    asked: set[str] = set()
    build = load_text(texts()[name], name)
    build = replace(build, entries=Heard(build.entries, asked))
    return listening(resolve(build, CATALOGUE), asked), asked


@cache
def assessment_of(name: str) -> Assessment:
    return assess(car_of(name)[0])


def row_of(path: str) -> str:
    """Return the row of a build path; the cell of a module is the pack's."""
    row = re.sub(r"\[\d+\]", "[]", path)
    return f"{row}.".replace(f"{MODULE_CELL}.", f"{PACK_CELL}.").removesuffix(".")


@cache
def asked_for() -> frozenset[str]:
    """Return the rows that some car's assessment, or its page, asks for."""
    found: set[str] = set()
    for name in texts():
        car, asked = car_of(name)
        # What is shown of a default says nothing of whether a figure rests on it.
        assessment = replace(assessment_of(name), assumed=())
        checked = Checked(Opened(name, load_text(texts()[name], name), car), assessment)
        write_check(page_of(Console(), checked, profile_of(car, None)), TODAY)
        found |= {row_of(path) for path in asked}
    return frozenset(found)


def is_read(row: str) -> bool:
    """Tell whether a row is asked for: itself, a text of its list, or something of its part."""
    row = row_of(row)
    is_part = rows_by_path()[row].kind.startswith("part:")
    return (
        row in asked_for()
        or f"{row}[]" in asked_for()
        or (is_part and any(asked.startswith(f"{row}.") for asked in asked_for()))
    )


def test_every_entry_is_read_or_listed_as_not_used_yet():
    silent = [
        row for row in rows_by_path() if not WHILE_LOADING.fullmatch(row) and not is_read(row)
    ]
    assert [row for row in silent if kept_for(row) is None] == []


def test_nothing_reads_what_is_listed_as_not_used_yet():
    listed = [row for row in rows_by_path() if kept_for(row) is not None]
    assert [row for row in listed if is_read(row)] == []


@pytest.mark.parametrize("place", NOT_USED_YET)
def test_each_place_listed_as_not_used_yet_is_one_of_the_file(place: str):
    def covers(row: str) -> bool:
        if place.startswith("."):
            return row.endswith(place)
        return row == place or row.startswith((f"{place}.", f"{place}[]"))

    assert any(covers(row) for row in rows_by_path())


def outcome(assessment: Assessment) -> object:
    """Return the numbers and the verdicts of an assessment."""
    numbers = {name: figure.value.si for name, figure in assessment.figures.items()}
    return numbers, [
        (each.rule, each.verdict, each.value, each.limit) for each in assessment.findings
    ]


def is_moved(name: str, path: str) -> bool:
    """Tell whether a car's figures or findings change with a number of it."""
    car = car_of(name)[0]
    si = car.number(path)
    return any(
        outcome(assess(car.with_values({path: to}))) != outcome(assessment_of(name))
        for to in (0.8 * si if si else 0.05, 1.01 * si, 1.3 * si)
    )


def test_every_number_that_is_read_moves_a_figure_or_a_finding():
    places: dict[str, list[tuple[str, str]]] = {}
    for name in texts():
        for path in car_of(name)[0].values:
            if not path.startswith(f"{MODULE_CELL}."):
                places.setdefault(row_of(path), []).append((name, path))
    still = {
        row
        for row, there in places.items()
        if kept_for(row) is None and not any(is_moved(*each) for each in there)
    }
    assert still == ONLY_SHOWN


def descriptions(node: object) -> Iterator[str]:
    if isinstance(node, dict):
        if isinstance(said := node.get("description"), str):
            yield said
        for below in node.values():
            yield from descriptions(below)
    elif isinstance(node, list):
        for below in node:
            yield from descriptions(below)


def test_the_schema_says_of_each_entry_not_used_yet_what_it_is_kept_for():
    said = [each.partition(" (kept")[1:] for each in descriptions(schema())]
    told = sorted("".join(each).strip() for each in said if each[0])
    uses = (kept_for(row) for row in rows_by_path())
    assert told == sorted(in_words(use) for use in uses if use is not None)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_a_default_that_no_figure_rests_on_is_not_listed_as_assumed(name: str):
    assessment = assessment_of(name)
    listed = assumed_of(assessment)
    assert listed
    left_out = {*assessment.assumed} - {*listed}
    assert all(is_read(row_of(path)) for path in listed)
    assert not any(is_read(row_of(path)) for path in left_out)
