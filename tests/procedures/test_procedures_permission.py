"""Who may do what, role by role and action by action."""

from __future__ import annotations

import pytest

from swapwright.procedures.competence import Standing
from swapwright.procedures.permission import may
from swapwright.standards.competence import LEVELS
from swapwright.standards.permissions import ACTIONS, ROLES

pytestmark = pytest.mark.arithmetic

# T technician, R high-voltage responsible, I instructor, A admin, V inspector; then the level.
EXPECTED = """
read records                  TRIAV -
read people                   TRIAV -
verify the ledger             TRIAV -
export a history              TRIAV -
set own secret                TRIAV -
report an incident            TRIAV -
stop a run                    TRIAV -
end an absence                TRIAV -
add to an incident            TRIA. -
enter a reading               TRIAV -
inspect equipment             TRI.. -
withdraw equipment            TRIA. -
begin a run                   TRI.. isolation
do a step                     TRI.. -
hold a run                    TRI.. -
hand a run over               TRI.. isolation
hang a lock                   TRI.. aware
lift own lock                 TRI.. -
sign                          TRI.. isolation
sign as second person         TRI.. aware
accept a permit               TRI.. aware
clear a stop                  .R... isolation
clear a pressed stop          TRI.. isolation
lift an abandoned lock        .R... isolation
issue a permit                .R... isolation
issue a permit for live work  .R... live
withdraw a permit             .RI.. -
close a permit                TRI.. -
grant a competence            .R... -
withdraw a competence         .R.A. -
add equipment                 TRIA. -
enter a test                  .R.A. -
issue equipment               .R.A. -
return equipment              .R... -
add a vehicle                 TRIA. -
enter a revision              .RI.. -
change a car                  TRIA. -
add a person                  .R.A. -
give a role                   ...A. -
reset a secret                ...A. -
back up                       ...A. -
"""
ROWS = [tuple(line.rsplit(maxsplit=2)) for line in EXPECTED.strip().splitlines()]
CELLS = [
    (action, role, letters[number] != ".", level)
    for action, letters, level in ROWS
    for number, role in enumerate(ROLES)
]


def with_level(level: str | None) -> Standing:
    return Standing(level, "", () if level else ("live: ended on 2026-11-26",))


def test_every_action_is_in_the_table_and_no_other():
    assert sorted(row[0] for row in ROWS) == sorted(ACTIONS)


@pytest.mark.parametrize(
    ("action", "role", "allowed", "level"), CELLS, ids=[f"{c[0]} as {c[1]}" for c in CELLS]
)
def test_a_role_may_do_what_the_table_says_with_the_competence_it_says(
    action: str, role: str, allowed: bool, level: str
):
    least = -1 if level == "-" else LEVELS.index(level)
    for rank, has in enumerate((None, *LEVELS), start=-1):
        found = may({role}, with_level(has), action)
        assert found.ok is (allowed and rank >= least)
        assert bool(found.reason) is not found.ok


@pytest.mark.parametrize("action", ACTIONS)
def test_nobody_without_a_role_may_do_anything(action: str):
    assert not may((), with_level("live"), action).ok


def test_an_inspector_changes_nothing_but_may_raise_the_alarm():
    open_ = {name for name in ACTIONS if may({"inspector"}, with_level("live"), name).ok}
    assert open_ == {
        *("read records", "read people", "verify the ledger", "export a history"),
        *("set own secret", "report an incident", "stop a run", "end an absence"),
        "enter a reading",
    }


def test_a_competence_that_has_ended_is_told_with_the_refusal():
    found = may({"technician"}, with_level(None), "sign")
    assert "takes the competence isolation" in found.reason
    assert "ended on 2026-11-26" in found.reason
