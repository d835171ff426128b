"""Who may do what today, and why not more."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.procedures.competence import standing
from swapwright.records.people import Competence, Person
from swapwright.standards.competence import EMPLOYER, LEVELS, SERVICE, STAGES, stage

TODAY = date(2026, 11, 27)


def held(level: str, scheme=EMPLOYER, name="", since="2026-01-01", until="", **more):
    own = {"aware": "made aware", "isolation": "appointed to isolate"}
    name = name or own.get(level, "appointed for live work")
    return Competence(level, scheme, name, "letter 12", since, until, "p-9", 1, **more)


def person(*competences: Competence) -> Person:
    return Person("p-1", "Ada", competences=competences)


@pytest.mark.arithmetic
def test_the_highest_level_that_holds_counts():
    found = standing(person(held("live", until="2026-11-26"), held("isolation")), TODAY)
    assert found.level == "isolation"
    assert found.lapsed == ("live: ended on 2026-11-26",)
    assert found.covers("aware") and found.covers("isolation") and not found.covers("live")


@pytest.mark.arithmetic
def test_nobody_without_a_competence_may_do_a_thing():
    found = standing(person(), TODAY)
    assert found.level is None
    assert not any(found.covers(level) for level in LEVELS)


@pytest.mark.arithmetic
def test_the_last_day_counts_and_the_day_after_does_not():
    leap = person(held("isolation", since="2027-03-01", until="2028-02-29"))
    assert standing(leap, date(2028, 2, 29)).level == "isolation"
    assert standing(leap, date(2028, 3, 1)).level is None
    assert standing(leap, date(2027, 2, 28)).lapsed == ("isolation: from 2027-03-01 only",)


@pytest.mark.arithmetic
def test_what_was_withdrawn_or_whose_holder_left_counts_no_more():
    assert standing(person(held("live", withdrawn="accident")), TODAY).level is None
    gone = replace(person(held("live")), has_left=True)
    assert standing(gone, TODAY).level is None


@pytest.mark.arithmetic
def test_a_stage_grants_no_more_than_it_reaches():
    found = standing(person(held("live", SERVICE, "2S")), TODAY)
    assert found.level is None
    assert "does not reach that far" in found.lapsed[0]
    assert standing(person(held("isolation", SERVICE, "2S")), TODAY).level == "isolation"


# DGUV Information 209-093: S, 1S, 2S, 3S in service; E, 1E, 2E, 3E in development.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("name", "level"), [("S", "aware"), ("1S", "aware"), ("2S", "isolation"), ("3S", "live")]
)
def test_the_stages_of_service_have_their_levels(name: str, level: str):
    found = stage(SERVICE, name)
    assert found is not None and found.level == level


@pytest.mark.arithmetic
def test_each_scheme_goes_up_from_stage_to_stage():
    for scheme in {each.scheme for each in STAGES}:
        ranks = [LEVELS.index(each.level) for each in STAGES if each.scheme == scheme]
        assert ranks == sorted(ranks) and ranks[-1] == LEVELS.index("live")


@pytest.mark.property
@given(
    days=st.lists(st.tuples(st.integers(-500, 500), st.integers(0, 800)), max_size=4),
    levels=st.lists(st.sampled_from(LEVELS), min_size=4, max_size=4),
)
def test_withdrawing_a_competence_never_lets_anybody_do_more(days, levels):
    given_ = [
        held(
            level,
            since=(TODAY + timedelta(days=start)).isoformat(),
            until=(TODAY + timedelta(days=start + length)).isoformat(),
        )
        for (start, length), level in zip(days, levels, strict=False)
    ]
    before = standing(person(*given_), TODAY)
    for number in range(len(given_)):
        rest = [replace(e, withdrawn="x") if n == number else e for n, e in enumerate(given_)]
        after = standing(person(*rest), TODAY)
        assert after.level is None or before.covers(after.level)
