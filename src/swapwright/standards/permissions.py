"""Who may do what in a shop: each action, the roles it takes, and the competence it asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

TECHNICIAN, RESPONSIBLE = "technician", "high-voltage responsible"
INSTRUCTOR, ADMIN, INSPECTOR = "instructor", "admin", "inspector"
ROLES = (TECHNICIAN, RESPONSIBLE, INSTRUCTOR, ADMIN, INSPECTOR)
"""Every role; somebody may have several. An inspector reads and changes nothing."""

_HANDS = (TECHNICIAN, RESPONSIBLE, INSTRUCTOR)
_LEADS = (RESPONSIBLE, ADMIN)
_WORKS = (TECHNICIAN, RESPONSIBLE, INSTRUCTOR, ADMIN)


@dataclass(frozen=True)
class Action:
    """One thing a person does: the roles that may, and the level of competence it takes.

    ``level`` is empty where none is asked; a step of a procedure asks for its own besides.
    """

    name: str
    roles: tuple[str, ...]
    level: str = ""


_ALL = (
    Action("read records", ROLES),
    Action("read people", ROLES),
    Action("verify the ledger", ROLES),
    Action("export a history", ROLES),
    Action("set own secret", ROLES),
    Action("report an incident", ROLES),
    Action("stop a run", ROLES),
    Action("end an absence", ROLES),
    Action("add to an incident", _WORKS),
    Action("enter a reading", ROLES),
    Action("inspect equipment", _HANDS),
    Action("withdraw equipment", _WORKS),
    Action("begin a run", _HANDS, "isolation"),
    Action("do a step", _HANDS),
    Action("hold a run", _HANDS),
    Action("hand a run over", _HANDS, "isolation"),
    Action("hang a lock", _HANDS, "aware"),
    Action("lift own lock", _HANDS),
    Action("sign", _HANDS, "isolation"),
    Action("sign as second person", _HANDS, "aware"),
    Action("accept a permit", _HANDS, "aware"),
    Action("clear a stop", (RESPONSIBLE,), "isolation"),
    Action("clear a pressed stop", _HANDS, "isolation"),
    Action("lift an abandoned lock", (RESPONSIBLE,), "isolation"),
    Action("issue a permit", (RESPONSIBLE,), "isolation"),
    Action("issue a permit for live work", (RESPONSIBLE,), "live"),
    Action("withdraw a permit", (RESPONSIBLE, INSTRUCTOR)),
    Action("close a permit", _HANDS),
    Action("grant a competence", (RESPONSIBLE,)),
    Action("withdraw a competence", _LEADS),
    Action("add equipment", _WORKS),
    Action("enter a test", _LEADS),
    Action("issue equipment", _LEADS),
    Action("return equipment", (RESPONSIBLE,)),
    Action("add a vehicle", _WORKS),
    Action("enter a revision", (RESPONSIBLE, INSTRUCTOR)),
    Action("change a car", _WORKS),
    Action("add a person", _LEADS),
    Action("give a role", (ADMIN,)),
    Action("reset a secret", (ADMIN,)),
    Action("back up", (ADMIN,)),
)

ACTIONS: Mapping[str, Action] = MappingProxyType({each.name: each for each in _ALL})
"""Name of an action -> the action. What makes a danger known is
open to everybody: a reading is never refused, though by whom it counts is another matter."""
