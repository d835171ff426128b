"""Public schemes of competence at high voltage in vehicles: their stages, and what each may do.

A stage is never turned into another scheme's, nor into a level of ours by itself: the proposal
stands here, and the person responsible for high voltage grants the level.
"""

from __future__ import annotations

from dataclasses import dataclass

SERVICE, DEVELOPMENT = "DGUV Information 209-093, service", "DGUV Information 209-093, development"
QUALIFIED, EMPLOYER = "NFPA 70E", "employer's own"
_DGUV, _NFPA, _OWN = "dguv-209-093-stages", "nfpa-70e-qualified-person", "competence-own-practice"


@dataclass(frozen=True)
class Stage:
    """A stage of a scheme, what it may do, and the level of ours it may be granted at most.

    ``level`` is ``aware``, ``isolation`` or ``live``; ``months`` is how long it is usually granted
    for, counted from the day it was.
    """

    scheme: str
    name: str
    may: str
    level: str
    source: str
    months: int = 12


STAGES = (
    Stage(SERVICE, "S", "drive it, wash it, fill it up: no work", "aware", _DGUV),
    Stage(SERVICE, "1S", "work that is not electrical; parts, once isolated", "aware", _DGUV),
    Stage(SERVICE, "2S", "isolate, work on what is isolated, bring back", "isolation", _DGUV),
    Stage(SERVICE, "3S", "find faults live, open the pack", "live", _DGUV),
    Stage(DEVELOPMENT, "E", "drive and stand by: no work", "aware", _DGUV),
    Stage(DEVELOPMENT, "1E", "work that is not electrical; parts, once isolated", "aware", _DGUV),
    Stage(DEVELOPMENT, "2E", "isolate prototypes and work on them", "isolation", _DGUV),
    Stage(DEVELOPMENT, "3E", "work live on prototypes and packs", "live", _DGUV),
    Stage(QUALIFIED, "unqualified", "outside the limited approach boundary", "aware", _NFPA, 36),
    Stage(
        QUALIFIED,
        "qualified for isolating this equipment",
        "isolate and verify absence",
        "isolation",
        _NFPA,
        36,
    ),
    Stage(
        QUALIFIED,
        "qualified for live work on this equipment",
        "work inside the boundaries under a permit",
        "live",
        _NFPA,
        36,
    ),
    Stage(EMPLOYER, "made aware", "keep clear, raise the alarm", "aware", _OWN),
    Stage(EMPLOYER, "appointed to isolate", "isolate and verify absence", "isolation", _OWN),
    Stage(EMPLOYER, "appointed for live work", "work live on a permit", "live", _OWN),
)
"""Every stage, scheme by scheme, from the least to the most."""

LEVELS = ("aware", "isolation", "live")
"""Levels of ours, from the least to the most."""


def stage(scheme: str, name: str) -> Stage | None:
    """Return a scheme's stage by its name, None where there is none."""
    return next((each for each in STAGES if (each.scheme, each.name) == (scheme, name)), None)
