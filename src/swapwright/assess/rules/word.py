"""Rules that judge a word or a yes and no of the file; and those of voltage class B only."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import always
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding, Verdict
from swapwright.build.car import Car
from swapwright.standards.voltage_class import MAX_CLASS_A_DC

CLASS_A = "the pack is of voltage class A; burns and arcs matter all the same"
_VOLTAGE = "pack.max_working_voltage"


def is_said(car: Car, path: str) -> bool:
    """Return what the file says, yes or no; raise Missing where it says nothing."""
    if path not in car.flags:
        raise Missing(path)
    return car.flags[path]


def said_rule(
    rule_id: str,
    path: str,
    is_inside: Callable[[Context], bool],
    *,
    outside: Verdict,
    inside_text: str,
    outside_text: str,
    remedy: str,
    sources: tuple[str, ...],
    applies: Callable[[Car], bool] = always,
    skip_reason: str = "",
) -> Rule:
    """Return a rule that is met where a word or a flag of the file is as it should be.

    ``is_inside`` raises Missing where the file does not say.
    """

    def judge(context: Context) -> Iterable[Finding]:
        inside = is_inside(context)
        yield Finding(
            rule=rule_id,
            subject=path,
            verdict="met" if inside else outside,
            text=inside_text if inside else outside_text,
            remedy="" if inside else remedy,
            sources=sources,
        )

    return Rule(
        id=rule_id,
        subject=path,
        worst=outside,
        judge=judge,
        sources=sources,
        applies=applies,
        skip_reason=skip_reason,
        remedy=remedy,
    )


def flag(path: str) -> Callable[[Context], bool]:
    """Return a test that a file says yes at a path."""

    def is_inside(context: Context) -> bool:
        return is_said(context.car, path)

    return is_inside


def word(path: str, wanted: str) -> Callable[[Context], bool]:
    """Return a test that a file has a certain word at a path."""

    def is_inside(context: Context) -> bool:
        return context.car.text(path) == wanted

    return is_inside


def of_class_b(rule: Rule) -> Rule:
    """Return a rule that is left out for a pack known to be of voltage class A."""
    over, judge = rule.over, rule.judge

    def subjects(context: Context) -> tuple[Subject, ...]:
        voltage = context.book.get(_VOLTAGE)
        if voltage is not None and voltage <= MAX_CLASS_A_DC.si:
            return ()
        if over is not None:
            return over(context)
        return (Subject(rule.subject, rule.subject, rule.subject),)

    def judge_one(context: Context, each: Subject) -> Iterable[Finding]:
        return judge(context)

    reason = f"{rule.skip_reason}; or {CLASS_A}" if rule.skip_reason else CLASS_A
    return replace(rule, over=subjects, judge_one=rule.judge_one or judge_one, skip_reason=reason)
