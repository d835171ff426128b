"""Whether somebody may do something, and in words why not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.procedures.competence import Standing
from swapwright.standards.competence import LEVELS
from swapwright.standards.permissions import ACTIONS


@dataclass(frozen=True)
class Permission:
    """Whether it may be done; ``reason`` says why not, empty where it may."""

    ok: bool
    reason: str = ""


def may(roles: Iterable[str], standing: Standing, action: str) -> Permission:
    """Tell whether somebody with some roles and a standing may do an action.

    Raises KeyError for an action there is not: a fault of ours.
    """
    asked = ACTIONS[action]
    if not set(roles) & set(asked.roles):
        return Permission(False, f"{action}: only as {' or '.join(asked.roles)}")
    has = -1 if standing.level is None else LEVELS.index(standing.level)
    if asked.level and has < LEVELS.index(asked.level):
        why = f" ({'; '.join(standing.lapsed)})" if standing.lapsed else ""
        return Permission(False, f"{action}: it takes the competence {asked.level}{why}")
    return Permission(True)
