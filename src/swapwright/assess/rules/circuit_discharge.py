"""Discharge: paths that empty the link, the wait on the work card, the bleed resistor's load."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from swapwright.assess.circuit.discharge import never_emptied, stored
from swapwright.assess.circuit.section import Section
from swapwright.assess.context import Context, Rule, Subject, judged
from swapwright.assess.rules.circuit_fuse import with_figure
from swapwright.assess.rules.compare import compare_each, devices, said_of
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.standards.circuit import LEAST_PATHS
from swapwright.standards.discharge import (
    DISCHARGED_ENERGY,
    DISCHARGED_VOLTAGE,
    PASSIVE_DISCHARGE_TIME,
)
from swapwright.standards.margins import NO_BAND

NOTHING_STORED = "no section that can be waited for has a capacitor"
CARD = ("swapwright-longest-wait", "shop-wait-practice")


def _sections(
    path: str, *those: Callable[[Circuit], tuple[Section, ...]]
) -> Callable[[Context], tuple[Subject, ...]]:
    """Return what lists the sections that hold charge; a rule says 'section' of each."""

    def over(context: Context) -> tuple[Subject, ...]:
        return tuple(
            Subject(f"section {section.name}", section.slug, path)
            for each in those
            for section in each(context.book.circuit)
        )

    return over


def _with_wait(context: Context) -> tuple[Subject, ...]:
    """Return the sections that have a waiting time at all, once their best path has failed."""
    book = context.book
    return tuple(
        each for each in WAITED(context) if each.resolve("wait.{slug}.time") not in book.reasons
    )


EMPTIED, WAITED = _sections("hv.bleed", stored), _sections("shop.work_card_wait", stored)
CARRIED = _sections("shop.work_card_wait", stored, never_emptied)
"""Every section a work card might give minutes for, rightly or not."""

NO_MINUTES = "No minutes may stand on the card: it is discharged by the maker's method, as live work, for with one path failed nothing empties it any more."
PACK_WITHIN = "No minutes may stand on the card: the pack itself stands in this section, no waiting empties it, and work there is live work."


def _none_is_a_stop(rule: Rule) -> Rule:
    """Return a rule that counts paths, for which not one of them is a stop."""
    judge_one = rule.judge_one

    def judge(context: Context, each: Subject) -> Iterable[Finding]:
        for finding in judge_one(context, each) if judge_one else ():
            none = finding.value is not None and finding.value.si < 1
            yield replace(finding, verdict="stop") if none else finding

    return replace(rule, judge_one=judge, worst="stop")


def _ask_for_contactors(context: Context) -> None:
    """Raise Missing where a file in the short form does not say whether there are contactors."""
    is_drawn = bool(context.car.counts.get("hv.element", 0))
    if not is_drawn and not context.book.circuit.of_kind(model.CONTACTOR):
        raise Missing("hv.contactors")


def _no_minutes(rule: Rule) -> Rule:
    """Return a rule on the card's minutes that stops where no minutes may stand on it at all."""
    judge_one = rule.judge_one

    def judge(context: Context, each: Subject) -> Iterable[Finding]:
        paths = each.resolve("wait.{slug}.paths")
        count = context.book.get(paths)
        if each.slug in {section.slug for section in never_emptied(context.book.circuit)}:
            _ask_for_contactors(context)
            text, remedy, rests_on, limit = PACK_WITHIN, _SPLIT, _HIGHEST, DISCHARGED_VOLTAGE
        elif count is not None and count <= 1:
            text, remedy, rests_on, limit = NO_MINUTES, _SECOND_PATH, paths, LEAST_PATHS
        else:
            yield from judge_one(context, each) if judge_one else ()
            return
        is_known = context.has(rests_on)
        yield Finding(
            rule.id,
            each.path,
            "stop",
            said_of(each, text),
            remedy=remedy,
            value=context.value(rests_on) if is_known else None,
            limit=limit if is_known else None,
            sense="at_most" if limit is DISCHARGED_VOLTAGE else "at_least",
            sources=rule.sources,
            figures=(rests_on,) if is_known else (),
        )

    return replace(rule, judge_one=judge)


_SECOND_PATH = "Fit a second path that empties it, then write the longer time on the work card; until then the card names the maker's method, and no minutes."
_SPLIT = "Fit contactors in both poles between the pack and its capacitors, or treat the whole section as live work on the card."


def _stranded(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge what a capacitor keeps once its fuse has blown, by energy and by voltage."""
    energy = each.resolve(_KEPT)
    value, limit, figure = context.value(energy), DISCHARGED_ENERGY, energy
    highest = context.book.get(_HIGHEST)
    if value.si <= limit.si and highest is not None and highest > DISCHARGED_VOLTAGE.si:
        value, limit, figure = context.value(_HIGHEST), DISCHARGED_VOLTAGE, _HIGHEST
    inside = value.si <= limit.si
    yield judged(
        "circuit.stranded_charge",
        each.path,
        value,
        limit,
        sense="at_most",
        outside="watch",
        text=said_of(each, _KEEPS_LITTLE if inside else _KEEPS_CHARGE),
        remedy=_OWN_BLEED,
        sources=_STRANDED_SOURCES,
        figures=tuple(dict.fromkeys((figure, energy))),
        watch=NO_BAND.si,
    )


_KEPT, _HIGHEST = "circuit.{slug}.stranded_energy", "pack.max_working_voltage"
_KEEPS_LITTLE = "Keeps little charge if the fuse before it has blown."
_KEEPS_CHARGE = "Stays charged if the fuse before it has blown: no waiting time holds for it then."
_OWN_BLEED = "Fit a bleed resistor of its own behind the fuse; until then measure at it, and most of all where a fuse has blown."
_STRANDED_SOURCES = ("iso-6469-4-2015-5.2.3", "iso-6469-3-voltage-class")

_PATHS = _none_is_a_stop(
    compare_each(
        "circuit.discharge_paths",
        EMPTIED,
        subject="hv.bleed",
        value="wait.{slug}.paths",
        limit=LEAST_PATHS,
        sense="at_least",
        outside="fix",
        inside_text="Empties itself even when its most helpful path has failed.",
        outside_text="With one path failed nothing empties it: no waiting time exists, and it is discharged by the maker's method, as live work.",
        remedy="Fit a second bleed resistor beside the first, or an active discharge beside the bleed.",
        sources=("discharge-two-paths",),
        skip_reason=NOTHING_STORED,
        watch=NO_BAND,
    )
)

_CARD = _no_minutes(
    compare_each(
        "circuit.wait_card",
        with_figure(CARRIED, "wait.{slug}.least"),
        subject="shop.work_card_wait",
        value="shop.work_card_wait",
        limit="wait.{slug}.least",
        sense="at_least",
        outside="stop",
        inside_text="The work card waits long enough with every path working. A wait is no measurement.",
        outside_text="The work card does not wait until it is empty, even with every path working.",
        remedy="Write the longer time on the work card, and measure all the same.",
        sources=CARD,
        skip_reason=NOTHING_STORED,
        watch=NO_BAND,
    )
)

RULES = (
    _PATHS,
    _CARD,
    compare_each(
        "circuit.wait_failed",
        _with_wait,
        subject="shop.work_card_wait",
        value="shop.work_card_wait",
        limit="wait.{slug}.time",
        sense="at_least",
        outside="stop",
        inside_text="The work card waits long enough even with the most helpful path failed. A wait is no measurement.",
        outside_text="The work card does not wait until it is empty if its most helpful path has failed.",
        remedy="Write the longer time on the work card, and measure all the same.",
        sources=CARD,
        skip_reason="no section has a waiting time once a path has failed",
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.bleed_power",
        devices(model.BLEED),
        subject="hv.bleed",
        value="circuit.{slug}.power",
        limit=":power",
        sense="at_most",
        outside="fix",
        inside_text="Bears the highest voltage for good.",
        outside_text="Is overloaded as long as the pack is on: it burns out, and nobody notices.",
        remedy="Fit a resistor for twice that power, or more ohms with an active discharge beside it.",
        sources=("part-data-sheet",),
        skip_reason="the circuit has no bleed resistor",
    ),
    compare_each(
        "circuit.discharge_time",
        with_figure(EMPTIED, "wait.{slug}.to_60v_whole"),
        subject="hv.bleed",
        value="wait.{slug}.to_60v_whole",
        limit=PASSIVE_DISCHARGE_TIME,
        sense="at_most",
        outside="watch",
        inside_text="Falls to class A within the time most inverters are designed for.",
        outside_text="Takes longer to fall to class A than most inverters are designed for.",
        remedy="Fit a smaller bleed resistor with the watts for it, or use the inverter's active discharge.",
        sources=("bus-discharge-practice",),
        skip_reason=NOTHING_STORED,
        watch=NO_BAND,
    ),
    Rule(
        "circuit.stranded_charge",
        subject="hv.branch",
        worst="watch",
        sources=_STRANDED_SOURCES,
        skip_reason="no capacitor stands behind a fuse that would cut it off from its bleed",
        remedy=_OWN_BLEED,
        over=with_figure(devices(model.LINK), _KEPT),
        judge_one=_stranded,
    ),
)
