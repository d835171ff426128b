"""The procedures of a car as jobs give them: by the name a person typed, as a document."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from swapwright.base.errors import InputError
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check
from swapwright.jobs.procedure import (
    kind_named,
    procedure_answer,
    procedure_of_car,
    procedure_status,
    procedure_without_file,
)
from swapwright.procedures.document import procedure_of

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("isolation", "isolation"),
        ("Re-Energising", "re-energising"),
        ("re energising", "re-energising"),
        ("first-energisation", "first energisation"),
        ("inside  the pack", "inside the pack"),
    ],
)
def test_a_kind_goes_by_its_name_however_it_is_typed(text: str, kind: str):
    assert kind_named(text) == kind


def test_an_unknown_kind_is_answered_with_the_nearest():
    with pytest.raises(InputError, match="did you mean: damaged vehicle"):
        kind_named("damaged vehicel")


def test_the_document_holds_the_whole_procedure():
    checked = check(EXAMPLES / "ridgeway.toml", Catalogue(), date(2026, 12, 1))
    found = procedure_of_car(checked, "isolation")
    document = json.loads(json.dumps(procedure_answer(found), allow_nan=False))
    assert procedure_of(document["procedure"]) == found
    assert document["exit_status"] == procedure_status(found) == 0


def test_a_procedure_that_cannot_end_in_absence_leaves_something_open():
    assert procedure_status(procedure_without_file("isolation", "a van")) == 1
    assert procedure_status(procedure_without_file("rescue of a person", "a van")) == 0
