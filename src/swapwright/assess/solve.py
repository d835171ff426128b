"""The one solve: every figure, band, finding and curve of a car, from its revision alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from swapwright.assess.assessment import SCHEMA_VERSION, Assessment
from swapwright.assess.bands import Band, bands
from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context, Rule, unknown
from swapwright.assess.curves import curves
from swapwright.assess.grounds import assumed_under, default_paths
from swapwright.assess.rules.every import RULES
from swapwright.assess.stages.breakdown import breakdown
from swapwright.assess.stages.climb import climb
from swapwright.assess.stages.cold import cold
from swapwright.assess.stages.drive import drive
from swapwright.assess.stages.match import match
from swapwright.assess.stages.pack import pack
from swapwright.assess.stages.performance import performance
from swapwright.assess.stages.ranges import ranges
from swapwright.assess.stages.road import road, tyre
from swapwright.assess.stages.weight import grip, weight
from swapwright.base.errors import Missing
from swapwright.base.figure import Figure
from swapwright.base.finding import SEVERITY, Acceptance, Finding
from swapwright.build.car import Car
from swapwright.build.shape import is_life_critical
from swapwright.standards.version import DATA_VERSION

NOT_YET = (
    ("hv", "high-voltage circuit: fuses, cables, contactors, precharge, discharge, isolation"),
    ("lv", "12 V system"),
    ("charging", "charging time, supply and signals (only its losses are counted)"),
    ("cooling", "cooling loops"),
    ("brakes", "brakes"),
    ("network", "network"),
    ("shop", "gloves, meters and shop procedures"),
)
"""Sections of a build file whose judgement has no model yet, and what is therefore not judged."""


def design(book: FigureBook) -> None:
    """Write every figure that needs no simulation."""
    for stage in (tyre, weight, road, grip, pack, drive):
        stage(book)


def assess(car: Car, *, today: date | None = None, rules: tuple[Rule, ...] = RULES) -> Assessment:
    """Return the whole assessment of a car.

    ``today`` dates acceptances that run out; without it none has.
    """
    book = FigureBook(car)
    for stage in (design, ranges, performance, climb, match, cold):
        stage(book)
    found = bands(car, book.values, design)
    breakdown(book)
    figures = {figure_id: _banded(figure, found) for figure_id, figure in book.figures.items()}
    for figure_id, band in found.items():
        if figure_id in book.values:
            book.values[figure_id] = replace(book.values[figure_id], low=band.low, high=band.high)
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


def judge(
    context: Context, rules: tuple[Rule, ...]
) -> tuple[tuple[Finding, ...], tuple[str, ...], int]:
    """Run the rules: return findings by severity, skipped rules with reasons, and the count run."""
    findings: list[Finding] = []
    skipped: list[str] = []
    run = 0
    paths = default_paths(context.book)
    for rule in rules:
        if not rule.applies(context.car):
            skipped.append(f"{rule.id}: {rule.skip_reason}")
            continue
        run += 1
        try:
            judged = tuple(rule.judge(context))
        except Missing as missing:
            judged = (unknown(rule, missing),)
        findings.extend(_grounded(rule, finding, context.book, paths) for finding in judged)
    accepted = [_accepted(finding, context.car.accepted, context.today) for finding in findings]
    order = {verdict: place for place, verdict in enumerate(SEVERITY)}
    accepted.sort(key=lambda finding: order[finding.verdict])
    return tuple(accepted), tuple(skipped), run


def _grounded(
    rule: Rule, finding: Finding, book: FigureBook, paths: Mapping[tuple[str, float], str]
) -> Finding:
    """Note the defaults a finding rests on; a life-critical one leaves it *unknown*."""
    assumed = assumed_under(book, finding.figures, paths)
    unconfirmed = tuple(path for path in assumed if is_life_critical(path))
    if unconfirmed and finding.verdict in ("met", "watch"):
        finding = unknown(rule, Missing(*unconfirmed))
    return replace(finding, assumed=assumed)


def _accepted(finding: Finding, acceptances: tuple[Acceptance, ...], today: date | None) -> Finding:
    """Mark a *fix* or *watch* as accepted by its owner; a *stop* never is."""
    if finding.verdict not in ("fix", "watch"):
        return finding
    for acceptance in acceptances:
        ended = today is not None and acceptance.until is not None and acceptance.until < today
        if acceptance.rule == finding.rule and not ended:
            return replace(finding, accepted=acceptance)
    return finding


def _banded(figure: Figure, found: Mapping[str, Band]) -> Figure:
    band = found.get(figure.id)
    if band is None:
        return figure
    return replace(figure, value=replace(figure.value, low=band.low, high=band.high))
