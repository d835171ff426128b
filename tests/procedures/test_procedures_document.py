"""A procedure kept as a document comes back as it was; what is none is refused in words."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from procedure_cars import CARS, car, of_circuit, procedure, tangle

from swapwright.base.errors import InputError
from swapwright.procedures.document import procedure_document, procedure_of
from swapwright.procedures.kinds import KINDS, generic_procedure, procedure_for
from swapwright.procedures.step import Procedure


def kept(found: Procedure) -> Any:
    return json.loads(json.dumps(procedure_document(found), allow_nan=False))


@pytest.mark.property
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", CARS)
def test_a_procedure_of_a_car_comes_back_whole(name: str, kind: str):
    found = procedure_for(kind, *car(name))  # type: ignore[arg-type]
    assert procedure_of(kept(found)) == found


@pytest.mark.property
@pytest.mark.parametrize("kind", KINDS)
def test_a_generic_procedure_comes_back_whole(kind: str):
    found = generic_procedure(kind, "a van")  # type: ignore[arg-type]
    assert procedure_of(kept(found)) == found


@pytest.mark.property
@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6))
def test_a_procedure_of_any_circuit_comes_back_whole(seed: int):
    found = of_circuit(tangle(seed))
    assert procedure_of(kept(found)) == found


@pytest.mark.arithmetic
def test_keys_of_a_later_program_are_left_alone():
    document = kept(procedure("ridgeway"))
    document["later"] = 1
    document["steps"][0]["later"] = 1
    assert procedure_of(document) == procedure("ridgeway")


def put(document: Any, path: tuple[Any, ...], value: Any) -> Any:
    at = document
    for key in path[:-1]:
        at = at[key]
    if value is None:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return document


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("format",), 2),
        (("format",), None),
        (("kind",), "a walk"),
        (("steps",), None),
        (("steps",), 7),
        (("steps", 0, "act"), "guess"),
        (("steps", 0, "who"), "anybody"),
        (("steps", 0, "needs"), "gloves"),
        (("steps", 0, "words"), 3),
        (("steps", 0, "people"), "many"),
        (("sources", 0, "gap"), None),
    ],
    ids=lambda value: str(value).replace(" ", "_"),
)
def test_what_is_no_procedure_is_refused_in_words(path: tuple[Any, ...], value: Any):
    document = put(kept(procedure("ridgeway")), path, value)
    with pytest.raises(InputError, match="no procedure that can be read"):
        procedure_of(document)
