"""Judgements: the Finding, its verdict, and an owner's acceptance of one."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from swapwright.base.figure import Value

Verdict = Literal["stop", "fix", "watch", "met", "unknown"]
Sense = Literal["at_most", "at_least", "within"]

SEVERITY: tuple[Verdict, ...] = ("stop", "fix", "unknown", "watch", "met")


@dataclass(frozen=True)
class Acceptance:
    """An owner's signed decision to live with a *fix* or *watch*."""

    rule: str
    reason: str
    by: str
    date: datetime.date
    until: datetime.date | None = None


@dataclass(frozen=True)
class Finding:
    """One judgement: the value, the limit, the margin, why, and what to do about it.

    ``margin`` is (limit - value) / |limit|, positive inside; ``needs`` are the build paths that
    would settle an *unknown*, most telling first; ``could_be`` is the worst verdict an unknown
    allows; ``figures`` are the ids it rests on; ``also`` are the build paths of the further things
    it is said of, where one finding speaks of several.
    """

    rule: str
    subject: str
    verdict: Verdict
    text: str
    remedy: str = ""
    value: Value | None = None
    limit: Value | None = None
    sense: Sense = "at_most"
    margin: float | None = None
    could_be: Verdict | None = None
    sources: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    accepted: Acceptance | None = None
    also: tuple[str, ...] = ()
