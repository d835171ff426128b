"""Every kind of procedure, for a car and for one of which the file says too little."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from swapwright.assess.assessment import Assessment
from swapwright.build.car import Car
from swapwright.procedures.damaged import damaged_vehicle
from swapwright.procedures.energise import first_energisation
from swapwright.procedures.inside_pack import inside_the_pack
from swapwright.procedures.isolation import isolation
from swapwright.procedures.reenergise import re_energising
from swapwright.procedures.rescue import rescue_of_a_person
from swapwright.procedures.step import Kind, Procedure
from swapwright.procedures.subject import Subject, subject_of, unknown_subject

MADE_BY: Mapping[Kind, Callable[[Subject], Procedure]] = MappingProxyType(
    {
        "isolation": isolation,
        "first energisation": first_energisation,
        "re-energising": re_energising,
        "inside the pack": inside_the_pack,
        "damaged vehicle": damaged_vehicle,
        "rescue of a person": rescue_of_a_person,
    }
)
"""Kind of procedure -> what makes it."""

KINDS: tuple[Kind, ...] = tuple(MADE_BY)


def procedure_for(kind: Kind, car: Car, assessment: Assessment) -> Procedure:
    """Return a procedure of a car; a generic one where its file says too little."""
    return MADE_BY[kind](subject_of(car, assessment))


def generic_procedure(kind: Kind, name: str) -> Procedure:
    """Return a procedure for a car without a file: everything taken at its worst."""
    return MADE_BY[kind](unknown_subject(name))
