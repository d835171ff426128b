"""What a procedure takes from an assessment: voltages, waits, fault currents, arcs."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from swapwright.assess.assessment import Assessment
from swapwright.assess.circuit.people import NOTHING_CLEARS, work_points
from swapwright.assess.circuit.section import sections
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.physics.circuit.discharge import time_to_voltage
from swapwright.physics.drive.motor_loss import PERMANENT_MAGNET
from swapwright.procedures.wording import listed, told
from swapwright.standards.arc_flash import MAX_ARC_TIME
from swapwright.standards.discharge import ABSENCE_VOLTAGE, DISCHARGED_VOLTAGE

HIGHEST, EMPTY = "pack.max_working_voltage", "pack.voltage_empty"
ISOLATION, PRECHARGE = "isolation.required", "precharge.time"
_PATH = re.compile(r"[a-z0-9_\[\]]+(\.[a-z0-9_\[\]]+)+")
_UNITS = {"drive": "unit", "drive.second": "unit2"}
NO_LOAD_BREAK = "It is not made to be opened under load: no current may flow when it is."
LOAD_BREAK = "Its data say that it opens under load; open it without load all the same."


def _nothing() -> Mapping[str, Any]:
    return MappingProxyType({})


@dataclass(frozen=True)
class Facts:
    """What is known of one revision beside its circuit.

    ``highest`` is its maximum working voltage V; ``lowest`` the pack's when empty, None where it is
    not known. By the slug of a section: ``waits`` s, ``no_waits`` why there is none, ``slow`` what
    may still stand there once the wait is over. By the name of an element: ``turning`` says at
    which speed a motor is a source, ``modules`` what a part of the pack holds,
    ``gaps`` whether a disconnect opens under load. ``arcs`` gives lines
    on current and arc by the slug of a place. ``min_isolation`` ohm is what the joined circuit must
    keep, ``precharged`` the share of the pack's voltage its contactor closes at, ``precharge_time``
    s how long that takes, ``low_side`` V what the 12 V side stands at while it runs,
    ``module_voltage`` V the most of one module, ``join_difference`` V how far two strings may lie
    apart when they are joined. ``figures``
    are the ids all this was read from.
    """

    highest: float
    lowest: float | None = None
    waits: Mapping[str, float] = field(default_factory=_nothing)
    no_waits: Mapping[str, str] = field(default_factory=_nothing)
    slow: Mapping[str, str] = field(default_factory=_nothing)
    turning: Mapping[str, str] = field(default_factory=_nothing)
    modules: Mapping[str, str] = field(default_factory=_nothing)
    arcs: Mapping[str, tuple[str, ...]] = field(default_factory=_nothing)
    gaps: Mapping[str, str] = field(default_factory=_nothing)
    min_isolation: float | None = None
    precharged: float | None = None
    precharge_time: float | None = None
    low_side: float | None = None
    module_voltage: float | None = None
    join_difference: float | None = None
    figures: tuple[str, ...] = ()


def facts_of(car: Car, assessment: Assessment, circuit: Circuit) -> Facts | None:
    """Return what an assessment says of a circuit; None where its highest voltage is not known."""
    highest = _number(assessment, HIGHEST)
    if highest is None:
        return None
    found = _Reader(car, assessment, circuit, highest)
    waits, no_waits, slow = found.waits()
    arcs = found.arcs()
    used = [HIGHEST, EMPTY, ISOLATION, PRECHARGE, *(f"wait.{slug}.time" for slug in waits)]
    used += [
        f"{start}.{slug}.{name}"
        for slug in arcs
        for start, name in (
            ("fault", "current_full"),
            ("arc_flash", "energy"),
            ("arc_flash", "boundary"),
            ("arc_flash", "clearing"),
        )
    ]
    return Facts(
        highest,
        _number(assessment, EMPTY),
        waits,
        no_waits,
        slow,
        found.turning(),
        found.modules(),
        arcs,
        found.gaps(),
        _number(assessment, ISOLATION),
        _entry(car, "hv.precharge.until"),
        _number(assessment, PRECHARGE),
        _entry(car, "lv.voltage"),
        found.module_voltage(),
        _entry(car, "hv.join_difference"),
        tuple(name for name in dict.fromkeys(used) if name in assessment.figures),
    )


def _number(assessment: Assessment, name: str) -> float | None:
    figure = assessment.figures.get(name)
    return None if figure is None else figure.value.si


def _entry(car: Car, path: str) -> float | None:
    value = car.get(path)
    return None if value is None else value.si


def reason(assessment: Assessment, figure_id: str) -> str:
    """Return why a figure is not there: its reason, or the entries that would give it."""
    lacking = assessment.missing.get(figure_id, ())
    if len(lacking) == 1 and not _PATH.fullmatch(lacking[0]):
        return lacking[0]
    paths = listed(lacking)
    return f"the file does not give {paths}" if paths else "the file says too little"


@dataclass(frozen=True)
class _Reader:
    car: Car
    assessment: Assessment
    circuit: Circuit
    highest: float

    def waits(self) -> tuple[Mapping[str, float], Mapping[str, str], Mapping[str, str]]:
        """Return waits, why there is none, and what may be left, by the slug of a section."""
        waits: dict[str, float] = {}
        none: dict[str, str] = {}
        slow: dict[str, str] = {}
        for section in sections(self.circuit):
            wait = _number(self.assessment, f"wait.{section.slug}.time")
            if wait is None:
                none[section.slug] = reason(self.assessment, f"wait.{section.slug}.time")
                continue
            waits[section.slug] = wait
            needed = self._to_shop_value(section.slug)
            if needed is not None and needed > wait:
                slow[section.slug] = (
                    f"with everything at its worst it takes {told(needed, 'time')} until "
                    f"{told(ABSENCE_VOLTAGE.si, 'voltage')} is reached"
                )
        return waits, none, slow

    def _to_shop_value(self, slug: str) -> float | None:
        """Return the time s a section takes to the shop's value, worst way; None where unknown."""
        ohms = _number(self.assessment, f"wait.{slug}.resistance_failed")
        farads = _number(self.assessment, f"wait.{slug}.worst_capacitance")
        if ohms is None or farads is None or self.highest <= ABSENCE_VOLTAGE.si:
            return None
        return float(
            time_to_voltage(
                resistance=ohms,
                capacitance=farads,
                voltage=self.highest,
                target=min(ABSENCE_VOLTAGE.si, DISCHARGED_VOLTAGE.si),
            )
        )

    def turning(self) -> Mapping[str, str]:
        """Return for each inverter what its motor gives while it turns."""
        found = {}
        for element in self.circuit.of_kind(model.INVERTER):
            prefix = element.path.removesuffix(".inverter")
            unit = _UNITS.get(prefix, "")
            if self.car.texts.get(f"{prefix}.motor.kind") == PERMANENT_MAGNET:
                speed = _number(self.assessment, f"{unit}.back_emf_60v_speed")
                if speed is not None:
                    found[element.name] = (
                        f"by the file its motor reaches {told(DISCHARGED_VOLTAGE.si, 'voltage')} "
                        f"dc at {told(speed, 'speed')} of road speed, and less is felt too"
                    )
                    continue
            found[element.name] = "the speed at which its motor gives a voltage is not known"
        return found

    def module_voltage(self) -> float | None:
        """Return the highest voltage V of one module, None where their number is not known."""
        in_string = _entry(self.car, "pack.modules_per_string")
        return None if in_string is None or in_string < 1.0 else self.highest / in_string

    def modules(self) -> Mapping[str, str]:
        """Return for each part of the pack how many modules it holds, and each one's voltage."""
        each = self.module_voltage()
        if each is None:
            return {}
        return {
            element.name: f"{round(element.share * self.highest / each)} modules of up to "
            f"{told(each, 'voltage')} each"
            for element in self.circuit.of_kind(model.PACK)
        }

    def arcs(self) -> Mapping[str, tuple[str, ...]]:
        """Return lines on prospective current and arc by the slug of a work point."""
        found = {}
        for place in work_points(self.circuit):
            current = _number(self.assessment, f"fault.{place.slug}.current_full")
            energy = _number(self.assessment, f"arc_flash.{place.slug}.energy")
            boundary = _number(self.assessment, f"arc_flash.{place.slug}.boundary")
            clearing = _number(self.assessment, f"arc_flash.{place.slug}.clearing")
            lines = []
            if current is not None:
                lines.append(f"prospective current {told(current, 'current')}")
            if energy is not None and boundary is not None:
                lines.append(
                    f"arc: {told(energy, 'incident_energy')} at working distance, boundary "
                    f"{told(boundary, 'length')}"
                )
            lines.append(self._ended(place.slug, clearing))
            found[place.slug] = tuple(lines)
        return found

    def _ended(self, slug: str, clearing: float | None) -> str:
        """Return what ends an arc, or that nothing does; too late counts as nothing."""
        if clearing is not None and clearing <= MAX_ARC_TIME.si:
            return f"a fuse ends it after {told(clearing, 'time')}"
        if clearing is not None:
            after = told(clearing, "time")
            return f"{NOTHING_CLEARS} in time: a fuse takes {after}; counted for {self._time(slug)}"
        name = f"arc_flash.{slug}.clearing"
        why = reason(self.assessment, name) if name in self.assessment.missing else ""
        if why.startswith(NOTHING_CLEARS):
            return f"{why}; counted for {self._time(slug)}"
        return "what ends an arc here is not known"

    def _time(self, slug: str) -> str:
        time = _number(self.assessment, f"arc_flash.{slug}.time")
        return "the longest time" if time is None else told(time, "time")

    def gaps(self) -> Mapping[str, str]:
        """Return for each service disconnect whether it opens under load, in words."""
        return {
            element.name: LOAD_BREAK
            if self.car.flags.get(element.entry("load_break"), False)
            else NO_LOAD_BREAK
            for element in self.circuit.of_kind(model.DISCONNECT)
        }
