"""The stages of the job: what a person enters in each, and what is judged and drawn there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.base.finding import Finding

_FIRST = re.compile(r"[A-Za-z_]+")


@dataclass(frozen=True)
class Stage:
    """One stage: what its build paths, its rules and its figures begin with, and its curves.

    A curve each thing of a kind has (a cooling loop) is named without the thing: ``curve_kind``.
    """

    slug: str
    title: str
    words: str
    sections: tuple[str, ...]
    rules: tuple[str, ...]
    curves: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()


STAGES: tuple[Stage, ...] = (
    Stage(
        "donor",
        "Donor",
        "the car as it comes: mass, axles, tyres, shape, and the engine it had",
        ("car", "conditions"),
        (),
        figures=("tyre", "air", "road"),
    ),
    Stage(
        "goals",
        "Goals",
        "what the finished car is to do, and whose rules it meets",
        ("goals", "accepted", "cost"),
        ("goals", "cost"),
        ("run.city",),
        ("range", "energy", "behind", "climb", "start_grade", "cost"),
    ),
    Stage(
        "drive",
        "Drive",
        "motor, inverter and gears, and what they do at the road",
        ("drive", "auxiliaries"),
        ("drive", "gearing", "traction", "thermal", "regen"),
        ("drive.gears", "drive.motor", "drive.force", "drive.pedal"),
        (
            *("drive", "unit", "unit2", "traction", "regen", "accel", "top_speed"),
            *("consumption", "auxiliaries"),
        ),
    ),
    Stage(
        "pack",
        "Pack",
        "cells and strings, and the voltages they reach",
        ("pack",),
        ("pack", "voltage", "current", "salvage"),
        ("pack.voltage",),
        ("pack", "current", "cold", "low", "salvage"),
    ),
    Stage(
        "high-voltage",
        "High voltage",
        "fuses, cables, contactors, precharge, discharge and isolation, and the people at them",
        ("hv", "shop"),
        ("circuit", "isolation", "insulation", "people"),
        ("circuit.coordination",),
        (
            *("circuit", "fault", "arc_flash", "precharge", "link", "wait"),
            *("isolation", "insulation", "people"),
        ),
    ),
    Stage(
        "12-v",
        "12 V",
        "what the converter and the battery feed, driven, charging, parked and after a crash",
        ("lv",),
        ("lv",),
        ("lv.reserve",),
        ("lv",),
    ),
    Stage(
        "charging",
        "Charging",
        "supply, inlet, charger and fast charging, and how long a charge takes",
        ("charging",),
        ("charging",),
        ("charging.charge", "charging.fast"),
        ("charging",),
    ),
    Stage(
        "cooling",
        "Cooling",
        "loops, flow and temperatures, and the heat of pack and cabin",
        ("cooling",),
        ("cooling",),
        ("cooling.working_point", "cooling.coolant", "cooling.fast"),
        ("cooling",),
    ),
    Stage(
        "weight",
        "Weight & brakes",
        "what comes out, what goes in, where it sits, and how it stops",
        ("mass", "brakes"),
        ("weight", "brakes"),
        ("brakes.balance",),
        figures=("weight", "mass", "brakes"),
    ),
    Stage(
        "network",
        "Network (CAN)",
        "buses, nodes and messages, and the lines that must work without them",
        ("network",),
        ("network",),
        figures=("network",),
    ),
)
"""In the order of the job; a stage stands here once its model is there."""

_BY_SECTION = {section: stage for stage in STAGES for section in stage.sections}
_BY_RULE = {prefix: stage for stage in STAGES for prefix in stage.rules}
_BY_FIGURE = {first: stage for stage in STAGES for first in stage.figures}
_ESTIMATE = "estimate."
_RANGES = "range"


def curve_kind(curve_id: str) -> str:
    """Return a curve's id without the name of the thing it is of: ``cooling.coolant``."""
    words = curve_id.split(".")
    return f"{words[0]}.{words[-1]}"


def curve_thing(curve_id: str) -> str:
    """Return the name of the thing a curve is of; empty where it is of the whole car."""
    return ".".join(curve_id.split(".")[1:-1])


def stage_called(slug: str) -> Stage | None:
    """Return the stage of a slug, None where there is none."""
    return next((stage for stage in STAGES if stage.slug == slug), None)


def stage_of_path(path: str) -> Stage:
    """Return the stage in which a build path is entered; what belongs to none, in the first."""
    found = _FIRST.match(path)
    return _BY_SECTION.get(found[0] if found else "", STAGES[0])


def stage_of_rule(rule: str) -> Stage:
    """Return the stage in which a rule's findings stand."""
    return _BY_RULE.get(rule.partition(".")[0], STAGES[0])


def stage_of_figure(figure_id: str) -> Stage:
    """Return the stage a figure belongs to, by its first word; an estimate, that of its figure."""
    first = figure_id.removeprefix(_ESTIMATE).partition(".")[0]
    return _BY_FIGURE.get(first, _BY_FIGURE[_RANGES])


def findings_of(stage: Stage, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings of a stage, in their order."""
    return tuple(each for each in findings if stage_of_rule(each.rule) is stage)
