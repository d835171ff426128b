from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from swapwright.base.finding import Acceptance, Finding
from swapwright.base.sources import all_sources
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check, check_all, exit_status, is_open
from swapwright.jobs.grounds import WORKING_KINDS, count_by_kind, defaults_under
from swapwright.jobs.progress import Cancelled
from swapwright.jobs.sources import months, used_sources
from swapwright.jobs.working import Branch, Leaf, working_of

pytestmark = pytest.mark.arithmetic

TODAY = date(2026, 11, 25)
RIDGEWAY = Path(__file__).resolve().parents[2] / "examples" / "ridgeway.toml"


@pytest.fixture(scope="module")
def ridgeway():
    return check(RIDGEWAY, Catalogue(), TODAY)


def finding(verdict, could_be=None, accepted=None):
    return Finding("a.rule", "car", verdict, "text", could_be=could_be, accepted=accepted)


ACCEPTED = Acceptance("a.rule", "reason", "owner", TODAY)


@pytest.mark.parametrize(
    ("findings", "status"),
    [
        ((), 0),
        ((finding("met"), finding("watch")), 0),
        ((finding("fix"),), 1),
        ((finding("fix", accepted=ACCEPTED),), 0),
        ((finding("unknown", "watch"),), 0),
        ((finding("unknown", "fix"),), 1),
        ((finding("unknown", "stop"),), 1),
        ((finding("fix"), finding("stop")), 3),
    ],
)
def test_the_exit_status_is_that_of_the_worst_finding(ridgeway, findings, status):
    assessment = replace(ridgeway.assessment, findings=findings)
    assert exit_status([assessment]) == status


def test_of_several_cars_the_worst_decides(ridgeway):
    worst = replace(ridgeway.assessment, findings=(finding("stop"),))
    open_one = replace(ridgeway.assessment, findings=(finding("fix"),))
    assert exit_status([open_one, worst]) == exit_status([worst, open_one]) == 3


def test_a_stop_is_no_matter_of_acceptance():
    assert not is_open(finding("fix", accepted=ACCEPTED))
    assert is_open(finding("fix"))


def test_a_watched_check_can_be_called_off():
    def called_off(done: int, total: int) -> None:
        raise Cancelled("enough")

    with pytest.raises(Cancelled):
        check_all([RIDGEWAY], Catalogue(), TODAY, called_off)


def test_every_figure_is_counted_once(ridgeway):
    counts = count_by_kind(ridgeway.assessment)
    assert tuple(counts) == WORKING_KINDS
    assert sum(counts.values()) == len(ridgeway.assessment.figures)
    assert all(counts.values())


def test_a_default_is_seen_however_far_down(ridgeway):
    ids = ("air.density", "range.combined", "tyre.outside_diameter")
    under = defaults_under(ridgeway.assessment, ridgeway.opened.car, ids)
    assert under["air.density"]
    assert {*under["air.density"]} <= {*under["range.combined"]} <= {*ridgeway.assessment.assumed}
    assert under["tyre.outside_diameter"] == ()


def leaves(node: Branch | Leaf) -> list[Leaf]:
    if isinstance(node, Leaf):
        return [node]
    return [leaf for child in node.children for leaf in leaves(child)]


def test_a_tree_ends_in_what_was_entered_given_or_assumed(ridgeway):
    root = working_of(ridgeway, "range.combined").shown[0].root
    ends = leaves(root)
    assert {"entered", "part", "default", "standard"} <= {leaf.value.origin for leaf in ends}
    assert all(leaf.value.origin != "computed" for leaf in ends)
    assert all(leaf.line for leaf in ends if leaf.value.origin == "entered")


def test_what_moves_a_figure_most_comes_first(ridgeway):
    moved = working_of(ridgeway, "range.combined").shown[0].moved_by
    sizes = [max(abs(low), abs(high)) for _, low, high in moved]
    assert sizes == sorted(sizes, reverse=True)
    assert len(moved) > 1


def test_a_source_looked_at_long_ago_is_to_be_confirmed(ridgeway):
    assert not any(each.is_old for each in used_sources(ridgeway.assessment, TODAY))
    later = used_sources(ridgeway.assessment, date(2029, 1, 1))
    assert later
    assert all(each.is_old for each in later)
    assert {each.source.id for each in later} <= set(all_sources())


@pytest.mark.parametrize(
    ("end", "expected"),
    [(date(2026, 11, 25), 0.0), (date(2028, 11, 25), 24.0), (date(2027, 1, 25), 2.0)],
)
def test_months_are_counted_over_years(end, expected):
    assert months(TODAY, end) == expected
