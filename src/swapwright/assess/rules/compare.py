"""The commonest rule: one figure against one limit."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule, Subject, judged
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.base.finding import Finding, Sense, Verdict
from swapwright.build.car import Car
from swapwright.standards.ratings import WATCH_MARGIN


def always(car: Car) -> bool:
    """Tell that a rule applies to every car."""
    return True


def has_unit(prefix: str) -> Callable[[Car], bool]:
    """Return a test that a car has this drive unit; every car has, or lacks, the first one."""

    def applies(car: Car) -> bool:
        return prefix == "drive" or car.has(f"{prefix}.motor")

    return applies


def asks_for(*paths: str) -> Callable[[Car], bool]:
    """Return a test that a car's file says anything at one of these paths."""

    def applies(car: Car) -> bool:
        return any(car.has(path) for path in paths)

    return applies


def compare(
    rule_id: str,
    *,
    subject: str,
    value: str,
    limit: str | Value,
    sense: Sense,
    outside: Verdict,
    inside_text: str,
    outside_text: str,
    remedy: str,
    sources: tuple[str, ...],
    applies: Callable[[Car], bool] = always,
    skip_reason: str = "",
    watch: Value = WATCH_MARGIN,
    confirmed: tuple[str, ...] = (),
    needs: tuple[str, ...] = (),
    declared: str = "",
    declared_text: str = "",
) -> Rule:
    """Return a rule that judges a figure or entry by name against a limit.

    ``limit`` is a name or a standard's Value; ``outside`` the verdict beyond it; ``watch`` the band
    of little margin inside it; ``confirmed`` names inputs that must be known: standing on the
    typical of their kind they leave the verdict *unknown*. ``needs`` names entries without which
    value or limit would be kinder than they may be: left out they leave it *unknown* too.
    ``declared`` is a flag on whose word the
    value stands, and ``declared_text`` then says so. Texts carry no numbers, since the finding has
    both.
    """

    def judge(context: Context) -> Iterable[Finding]:
        unsure = [name for name in confirmed if context.value(name).origin == "default"]
        if unsure:
            raise Missing(*unsure)
        unsaid = [path for path in needs if not context.car.has(path)]
        if unsaid:
            raise Missing(*unsaid)
        found = context.value(value)
        bound = limit if isinstance(limit, Value) else context.value(limit)
        inside = found.si <= bound.si if sense == "at_most" else found.si >= bound.si
        on_word = bool(declared) and context.car.flags.get(declared, False)
        within = declared_text if on_word else inside_text
        yield judged(
            rule_id,
            subject,
            found,
            bound,
            sense=sense,
            outside=outside,
            text=within if inside else outside_text,
            remedy=remedy,
            sources=sources,
            figures=(value,) if isinstance(limit, Value) else (value, limit),
            watch=band_share(watch, bound),
        )

    return Rule(
        id=rule_id,
        subject=subject,
        worst=outside,
        judge=judge,
        sources=sources,
        applies=applies,
        skip_reason=skip_reason,
        remedy=remedy,
    )


def band_share(band: Value, limit: Value) -> float:
    """Return a band of little margin as a share of its limit."""
    if band.unit == "1":
        return band.si
    return band.si / abs(limit.si) if limit.si else 0.0


def devices(*kinds: str) -> Callable[[Context], tuple[Subject, ...]]:
    """Return what lists the devices of some kinds in a car's circuit."""

    def over(context: Context) -> tuple[Subject, ...]:
        return tuple(
            Subject(device.name, device.slug, device.path, device.entry)
            for device in context.book.circuit.devices_of(*kinds)
        )

    return over


def compare_each(
    rule_id: str,
    over: Callable[[Context], tuple[Subject, ...]],
    *,
    subject: str,
    value: str,
    limit: str | Value,
    sense: Sense,
    outside: Verdict,
    inside_text: str,
    outside_text: str,
    remedy: str,
    sources: tuple[str, ...],
    skip_reason: str,
    watch: Value = WATCH_MARGIN,
    rests_on: tuple[str, ...] = (),
    place: str = "",
) -> Rule:
    """Return a rule that judges a figure of each device against a limit.

    ``value`` and ``limit`` are names as `Subject.resolve` reads them, or a standard's Value;
    ``rests_on`` names further figures and entries that carry the verdict. Texts are put behind the
    device's name; ``place`` names a looked-up figure whose row says where, put behind the text.
    """

    def judge_one(context: Context, each: Subject) -> Iterable[Finding]:
        name = each.resolve(value)
        found = context.value(name)
        bound = limit if isinstance(limit, Value) else context.value(each.resolve(limit))
        inside = found.si <= bound.si if sense == "at_most" else found.si >= bound.si
        further = () if isinstance(limit, Value) else (each.resolve(limit),)
        yield judged(
            rule_id,
            each.path,
            found,
            bound,
            sense=sense,
            outside=outside,
            text=said_of(each, inside_text if inside else outside_text) + where(context, each),
            remedy=remedy,
            sources=sources,
            figures=(name, *further, *(each.resolve(other) for other in rests_on)),
            watch=band_share(watch, bound),
        )

    def where(context: Context, each: Subject) -> str:
        figure = context.book.figures.get(each.resolve(place))
        if figure is None or not isinstance(figure.working, LookedUp):
            return ""
        return f" (Where: {figure.working.row}.)"

    return Rule(
        id=rule_id,
        subject=subject,
        worst=outside,
        sources=sources,
        skip_reason=skip_reason,
        remedy=remedy,
        over=over,
        judge_one=judge_one,
    )


def said_of(subject: Subject, text: str) -> str:
    """Return a text behind the name of what it is said of."""
    name = subject.name[:1].upper() + subject.name[1:]
    return f"{name}: {text[:1].lower()}{text[1:]}"
