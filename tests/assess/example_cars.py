"""The example cars as the assessment's tests use them: as they stand, changed, and assessed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from swapwright.assess.assessment import Assessment
from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import assess
from swapwright.base.finding import SEVERITY, Finding
from swapwright.build.car import Car
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SOUND = ("ridgeway", "bakery", "parcel-round", "hill-farm")
FLAWED = "fault-finder"
TWIN = "twin"
"""The parcel round with a second, smaller drive unit on its front axle."""
SECOND_UNIT = {
    "drive.second.motor": "pm-radial-75kw",
    "drive.second.inverter": "inverter-400v-300a",
    "drive.second.gearbox": "reducer-9-1",
    "drive.second.speed_limit": "7500 rpm",
    "drive.second.axle": "front",
    "cooling.by_air": '["second inverter"]',
    "cooling.loop[0].parts": (
        '["pump", "dc-dc", "charger", "inverter", "motor", "second motor", "radiator"]'
    ),
    "drive.inverter.dc_current_limit": "200 A",
    "drive.second.inverter.dc_current_limit": "100 A",
}
STRINGS = "strings"
"""The coupe with a second string, each with its own fuses and contactors."""
SECOND_STRING = {
    "pack.strings": "2",
    "pack.boxes[0].modules": "10",
    "pack.boxes[1].modules": "14",
    "hv.string_fuse": '{ part = "fuse-200a-500vdc", poles = "both" }',
    "hv.string_contactors": '{ part = "contactor-500vdc-350a", poles = "both", polarised = false }',
    "hv.join_difference": "2 V",
}
SALVAGED = "salvaged"
"""The same with modules out of another vehicle, each measured; the last two side by side."""


def measured_modules(count: int, per_string: int) -> str:
    """Return the rows of measured modules, all alike enough to be taken."""
    rows = []
    for place in range(count):
        string = 1 + place // per_string
        rows.append(
            f'\n[[pack.tested]]\nserial = "M{place:02d}"\nstring = {string}\n'
            f'capacity = "{58.0 - 0.2 * (place % 5)} Ah"\n'
            f'resistance = "{7.9 + 0.1 * (place % 4):.1f} mohm"\n'
            f'voltage = "{29.10 + 0.01 * (place % 3):.2f} V"\ndrop = "{1 + place % 3} mV"\n'
            'insulation = "5 Mohm"\norigin = "a wagon, rear axle damage"\n'
            'history = "known and sound"\n' + ("group = 12\n" if place >= count - 2 else "")
        )
    return "".join(rows)


FAST_CONTACTORS = '{ part = "contactor-500vdc-350a", poles = "both", polarised = false }'
FAST = {
    "charging.inlet": "ccs 2",
    "charging.contactors": FAST_CONTACTORS,
    "charging.speaks": "power line signals on the pilot",
    "charging.monitor_off_while_charging": "true",
    "charging.inlet_temperature_watched": "true",
    "charging.station.voltage": "500 V",
    "charging.station.min_voltage": "200 V",
    "charging.station.current": "125 A",
    "charging.station.power": "50 kW",
}
"""A van with an inlet for fast charging, and the station it is tried at."""
VARIANTS = {TWIN: ("parcel-round", SECOND_UNIT), STRINGS: ("ridgeway", SECOND_STRING)}
ALL_CARS = (*SOUND, FLAWED, *VARIANTS, SALVAGED)
CATALOGUE = Catalogue()


@cache
def text_of(name: str) -> str:
    """Return the build file of an example car, or of one with two drive units or two strings."""
    if name == SALVAGED:
        text = changed(text_of(STRINGS), {"pack.salvaged": "true", "pack.health": "95 %"})
        return text + measured_modules(24, 12)
    if name in VARIANTS:
        of, changes = VARIANTS[name]
        return changed(text_of(of), changes)
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def changed(text: str, changes: Mapping[str, str | None]) -> str:
    """Return a build file with values changed; None takes one out."""
    for path, to in changes.items():
        text = edit(text, path, to)
    return text


def car_from(text: str) -> Car:
    """Return the car of a build file's text."""
    return resolve(load_text(text, "a car"), CATALOGUE)


@cache
def car_of(name: str) -> Car:
    """Return an example car."""
    return car_from(text_of(name))


@cache
def assessment_of(name: str) -> Assessment:
    """Return the assessment of an example car."""
    return assess(car_of(name))


def by_rule(assessment: Assessment) -> dict[str, Finding]:
    """Return the findings by rule; of a rule that judges several things one by one, the worst."""
    found: dict[str, Finding] = {}
    for finding in assessment.findings:
        other = found.get(finding.rule)
        if other is None or badness(finding.verdict) > badness(other.verdict):
            found[finding.rule] = finding
    one_by_one = {rule.id for rule in RULES if rule.over is not None}
    several = [finding.rule for finding in assessment.findings if finding.rule not in one_by_one]
    assert len(several) == len(set(several))
    return found


def badness(verdict: str) -> int:
    """Return how bad a verdict is: *met* 0, *watch* 1, *unknown* 2, *fix* 3, *stop* 4."""
    return len(SEVERITY) - 1 - SEVERITY.index(verdict)  # type: ignore[arg-type]


def worse(before: Assessment, after: Assessment) -> dict[str, str]:
    """Return the verdicts that got worse, by rule; a rule not run before counts as *met*."""
    were = by_rule(before)
    return {
        rule: finding.verdict
        for rule, finding in by_rule(after).items()
        if badness(finding.verdict) > (badness(were[rule].verdict) if rule in were else 0)
    }
