"""The printed procedure: every step once and in order, its cautions with it, nothing expected."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check
from swapwright.jobs.procedure_sheet import sheet_of
from swapwright.procedures.kinds import KINDS, generic_procedure, procedure_for

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def checked():
    return check(EXAMPLES / "ridgeway.toml", Catalogue(), date(2026, 11, 27))


@pytest.fixture(params=KINDS)
def procedure(request, checked):
    return procedure_for(request.param, checked.opened.car, checked.assessment)


def test_every_step_stands_on_it_once_in_order_with_its_number(procedure):
    sheet = sheet_of(procedure)
    told = [one for phase in sheet.phases for block in phase.blocks for one in block.steps]
    assert [one.step for one in told] == list(procedure.steps)
    assert [one.number for one in told] == list(range(1, len(told) + 1))


def test_steps_share_a_block_only_where_all_but_their_points_is_the_same(procedure):
    for phase in sheet_of(procedure).phases:
        for block in phase.blocks:
            for one in block.steps:
                assert one.step.phase == phase.name
                assert one.step.cautions == block.first.cautions
                assert (one.step.needs, one.step.ppe) == (block.first.needs, block.first.ppe)
                assert (one.step.who, one.step.people) == (block.first.who, block.first.people)
            assert len(block.steps) == 1 or all(one.step.reading for one in block.steps)


def test_what_is_worn_is_told_wherever_it_changes(procedure):
    worn: tuple[str, ...] = ()
    for phase in sheet_of(procedure).phases:
        for block in phase.blocks:
            worn = block.wear or worn
            assert not block.first.ppe or block.first.ppe == worn


def test_each_block_leads_to_the_sources_of_its_steps(procedure):
    sheet = sheet_of(procedure)
    for phase in sheet.phases:
        for block in phase.blocks:
            named = tuple(sheet.sources[number - 1] for number in block.refs)
            assert named == block.first.sources


def test_an_isolation_groups_its_readings_and_a_rescue_begins_with_what_is_done(checked):
    isolation = sheet_of(procedure_for("isolation", checked.opened.car, checked.assessment))
    assert any(block.is_readings for phase in isolation.phases for block in phase.blocks)
    assert not isolation.is_at_once
    assert sheet_of(generic_procedure("rescue of a person", "any")).is_at_once
