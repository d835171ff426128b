"""The one solve: every figure, band, finding and curve of a car, from its revision alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from swapwright.assess.assessment import SCHEMA_VERSION, Assessment
from swapwright.assess.bands import Band, bands, designed, swung
from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.context import Context, Rule, Subject, unknown
from swapwright.assess.curves import curves
from swapwright.assess.grounds import Grounds
from swapwright.assess.rules.every import RULES
from swapwright.assess.stages.brakes import brakes
from swapwright.assess.stages.breakdown import breakdown
from swapwright.assess.stages.charge import charge
from swapwright.assess.stages.climb import climb
from swapwright.assess.stages.cold import cold
from swapwright.assess.stages.cooling import cooling
from swapwright.assess.stages.cost import cost
from swapwright.assess.stages.drive import drive
from swapwright.assess.stages.low_voltage import low_voltage
from swapwright.assess.stages.match import match
from swapwright.assess.stages.network import network
from swapwright.assess.stages.pack import pack
from swapwright.assess.stages.pedal import pedal
from swapwright.assess.stages.performance import performance
from swapwright.assess.stages.ranges import arrive, ranges, set_off, side_by_side
from swapwright.assess.stages.road import road, tyre
from swapwright.assess.stages.salvage import salvage
from swapwright.assess.stages.weight import grip, weight
from swapwright.base.errors import Missing
from swapwright.base.finding import SEVERITY, Acceptance, Finding
from swapwright.build.car import Car
from swapwright.build.shape import is_life_critical
from swapwright.standards.version import DATA_VERSION

NOT_YET = (("shop", "people, gloves and meters of the shop (the workbench keeps them)"),)
"""Sections of a build file whose judgement has no model yet, and what is therefore not judged."""


DESIGN = (tyre, weight, road, grip, pack, drive)
"""The stages that need no simulation; a band goes again through those its input can touch."""

AFTER_RANGES = (performance, climb, match, cold)
"""The stages between the ranges and the circuit."""


def design(book: FigureBook) -> None:
    """Write every figure that needs no simulation."""
    for stage in DESIGN:
        stage(book)


def before_circuit(book: FigureBook) -> None:
    """Write every figure the circuit's rest on."""
    for stage in (design, ranges, *AFTER_RANGES):
        stage(book)


def systems(book: FigureBook) -> None:
    """Write the figures of the systems round the drive, which rest on all that stands before."""
    for stage in (pedal, salvage, charge, low_voltage, cooling, brakes, network, cost):
        stage(book)


def assess(car: Car, *, today: date | None = None, rules: tuple[Rule, ...] = RULES) -> Assessment:
    """Return the whole assessment of a car.

    ``today`` dates acceptances that run out; without it none has.
    """
    book = FigureBook(car)
    found = _written(book)
    for figure_id, band in found.items():
        value = book.values.get(figure_id)
        if value is not None:
            book.values[figure_id] = value.within(band.low, band.high)
    figures = {
        figure_id: replace(figure, value=book.values[figure_id]) if figure_id in found else figure
        for figure_id, figure in book.figures.items()
    }
    findings, skipped, run = judge(Context(car, book, today), rules)
    return Assessment(
        schema_version=SCHEMA_VERSION,
        revision=car.revision,
        region=car.texts.get("goals.region", ""),
        data_version=DATA_VERSION,
        name=car.texts.get("car.name", ""),
        figures=MappingProxyType(figures),
        missing=MappingProxyType(
            {key: paths or (book.reasons.get(key, ""),) for key, paths in book.missing.items()}
        ),
        findings=findings,
        curves=MappingProxyType(curves(book)),
        swings=MappingProxyType({key: band.swings for key, band in found.items()}),
        assumed=tuple(sorted({*car.assumed, *book.assumed})),
        skipped=(*skipped, *(f"{part}: {what}; not judged" for part, what in NOT_YET)),
        rules_run=run,
    )


def _written(book: FigureBook) -> Mapping[str, Band]:
    """Write every figure into a book, and return the bands.

    Long runs go on in other threads while the cars of the bands are driven: they are compiled and
    leave the interpreter to this one.
    """
    made = tuple(designed(book, DESIGN))
    with side_by_side() as pool:
        under_way = set_off(book, pool)
        short = swung(book.car, made)
        arrive(book, under_way)
    for stage in (*AFTER_RANGES, breakdown, circuit, systems):
        stage(book)
    return bands(book.values, short)


def judge(
    context: Context, rules: tuple[Rule, ...]
) -> tuple[tuple[Finding, ...], tuple[str, ...], int]:
    """Run the rules: return findings by severity, skipped rules with reasons, and the count run."""
    findings: list[Finding] = []
    skipped: list[str] = []
    run = 0
    grounds = Grounds(context.book)
    for rule in rules:
        if not rule.applies(context.car):
            skipped.append(f"{rule.id}: {rule.skip_reason}")
            continue
        subjects = rule.over(context) if rule.over is not None else None
        if subjects == ():
            skipped.append(f"{rule.id}: {rule.skip_reason}")
            continue
        run += 1
        judged = _of_each(rule, context, subjects) if subjects else _of_one(rule, context)
        findings.extend(_grounded(rule, finding, context.car, grounds) for finding in judged)
    accepted = [_accepted(finding, context.car.accepted, context.today) for finding in findings]
    order = {verdict: place for place, verdict in enumerate(SEVERITY)}
    accepted.sort(key=lambda finding: order[finding.verdict])
    return tuple(accepted), tuple(skipped), run


def _of_one(rule: Rule, context: Context) -> tuple[Finding, ...]:
    try:
        return tuple(rule.judge(context))
    except Missing as missing:
        return (unknown(rule, missing, context.car),)


def _of_each(rule: Rule, context: Context, subjects: tuple[Subject, ...]) -> tuple[Finding, ...]:
    """Judge several things one by one; what one lacks leaves the others judged."""
    judged: list[Finding] = []
    for subject in subjects:
        try:
            if rule.judge_one is not None:
                judged.extend(rule.judge_one(context, subject))
        except Missing as missing:
            judged.append(unknown(rule, missing, context.car, subject.path))
    return tuple(judged)


def _grounded(rule: Rule, finding: Finding, car: Car, grounds: Grounds) -> Finding:
    """Note the defaults a finding rests on; a life-critical one leaves it *unknown*."""
    assumed = grounds.assumed_under(finding.figures)
    unconfirmed = tuple(path for path in assumed if is_life_critical(path))
    if unconfirmed and finding.verdict in ("met", "watch"):
        unsettled = unknown(rule, Missing(*unconfirmed), car, finding.subject)
        finding = replace(unsettled, also=finding.also)
    return replace(finding, assumed=assumed) if assumed else finding


def _accepted(finding: Finding, acceptances: tuple[Acceptance, ...], today: date | None) -> Finding:
    """Mark a *fix* or *watch* as accepted by its owner; a *stop* never is."""
    if finding.verdict not in ("fix", "watch"):
        return finding
    for acceptance in acceptances:
        ended = today is not None and acceptance.until is not None and acceptance.until < today
        if acceptance.rule == finding.rule and not ended:
            return replace(finding, accepted=acceptance)
    return finding
