"""What a rule may ask: figures and entries by name, and the finding it states."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.finding import Finding, Sense, Verdict
from swapwright.build.asked import asked_for
from swapwright.build.car import Car
from swapwright.standards.ratings import WATCH_MARGIN


@dataclass(frozen=True)
class Context:
    """A car and its figures, as a rule sees them."""

    car: Car
    book: FigureBook
    today: date | None = None

    def value(self, name: str) -> Value:
        """Return a figure's or an entry's value; raise Missing, which becomes *unknown*."""
        return self.book.value(name)

    def number(self, name: str) -> float:
        """Return a figure's or an entry's SI number; raise Missing as `value` does."""
        return self.book.value(name).si

    def has(self, *names: str) -> bool:
        """Tell whether all these figures or entries are there."""
        return self.book.has(*names)


@dataclass(frozen=True)
class Subject:
    """One of the things a rule judges one by one: its name, its id in figures, its build path.

    ``entries`` gives the build path of one of its data by name.
    """

    name: str
    slug: str
    path: str
    entries: Callable[[str], str] = str

    def resolve(self, name: str) -> str:
        """Return a figure's or an entry's name with this subject put in.

        ``circuit.{slug}.current`` names a figure of the subject, ``:voltage`` an entry of it.
        """
        if name.startswith(":"):
            return self.entries(name[1:])
        return name.replace("{slug}", self.slug)


RuleFunction = Callable[[Context], Iterable[Finding]]
EachFunction = Callable[[Context, Subject], Iterable[Finding]]


def _nothing(context: Context) -> Iterable[Finding]:
    """Judge nothing: the rule of things judged one by one has no finding of its own."""
    return ()


@dataclass(frozen=True)
class Rule:
    """A rule with its id, the build path it speaks of, and the worst it could find.

    ``applies`` tells whether the car has what the rule judges; ``skip_reason`` says why it was not
    run where it does not apply. A rule that judges several things one by one (every fuse) lists
    them in ``over`` and judges each in ``judge_one``; one that lacks an input leaves the others
    judged.
    """

    id: str
    subject: str
    worst: Verdict
    judge: RuleFunction = _nothing
    sources: tuple[str, ...] = ()
    applies: Callable[[Car], bool] = lambda car: True
    skip_reason: str = ""
    remedy: str = ""
    over: Callable[[Context], tuple[Subject, ...]] | None = None
    judge_one: EachFunction | None = None


def margin_of(value: float, limit: float, sense: Sense) -> float | None:
    """Return (limit - value) / |limit|, positive inside; None for a limit of zero."""
    if limit == 0.0:
        return None
    inside = limit - value if sense == "at_most" else value - limit
    return inside / abs(limit)


def judged(
    rule: str,
    subject: str,
    value: Value,
    limit: Value,
    *,
    sense: Sense,
    outside: Verdict,
    text: str,
    remedy: str,
    sources: tuple[str, ...],
    figures: tuple[str, ...] = (),
    watch: float = WATCH_MARGIN.si,
) -> Finding:
    """Judge a value against a limit: *met*, *watch* near it, or ``outside`` beyond it."""
    margin = margin_of(value.si, limit.si, sense)
    inside = value.si <= limit.si if sense == "at_most" else value.si >= limit.si
    if not inside:
        verdict: Verdict = outside
    elif margin is not None and margin < watch:
        verdict = "watch"
    else:
        verdict = "met"
    return Finding(
        rule=rule,
        subject=subject,
        verdict=verdict,
        text=text,
        remedy=remedy if verdict != "met" else "",
        value=value,
        limit=limit,
        sense=sense,
        margin=margin,
        sources=sources,
        figures=figures,
    )


def unknown(rule: Rule, missing: Missing, car: Car, subject: str = "") -> Finding:
    """Return the *unknown* of a rule that lacks inputs, or whose figure could not be made.

    It asks for what a person would give: of a part nobody named yet, the part. ``subject`` is the
    build path of the one thing of several it is unknown of.
    """
    needs = tuple(dict.fromkeys(asked_for(path, car) for path in missing.paths))
    if needs:
        text = "Cannot be judged: the build does not give " + ", ".join(needs) + "."
        remedy = f"Give {needs[0]} in the build file."
    else:
        # What would put a known fault right may be the wrong thing to do here.
        text = f"Cannot be judged: {missing.reason}."
        remedy = "Put right first what keeps it from being judged."
    return Finding(
        rule=rule.id,
        subject=subject or rule.subject,
        verdict="unknown",
        text=text,
        remedy=remedy,
        could_be=rule.worst,
        sources=rule.sources,
        needs=needs,
    )
