"""The procedures of a car: the one asked for, as a document, and what its exit status says."""

from __future__ import annotations

from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.errors import InputError, Problem
from swapwright.base.nearest import nearest
from swapwright.jobs.check import NOTHING_OPEN, OPEN, Checked
from swapwright.procedures.document import procedure_document
from swapwright.procedures.kinds import KINDS, generic_procedure, procedure_for
from swapwright.procedures.step import Kind, Procedure


def kind_named(text: str) -> Kind:
    """Return the kind of procedure of a name; raise InputError where there is none."""
    wanted = " ".join(text.lower().replace("-", " ").split())
    for kind in KINDS:
        if kind.replace("-", " ") == wanted:
            return kind
    message = "there is no such procedure"
    raise InputError(
        Problem("--kind", "", message, text, ", ".join(KINDS), nearest(wanted, list(KINDS)) or "")
    )


def procedure_of_car(checked: Checked, kind: Kind) -> Procedure:
    """Return a procedure of a checked car; a generic one where its file says too little."""
    return procedure_for(kind, checked.opened.car, checked.assessment)


def procedure_without_file(kind: Kind, name: str) -> Procedure:
    """Return a procedure of a car without a file: everything taken at its worst."""
    return generic_procedure(kind, name)


def procedure_answer(procedure: Procedure) -> dict[str, Any]:
    """Return the document of `procedure --json`, expectations with it."""
    return {
        "schema_version": SCHEMA_VERSION,
        "procedure": procedure_document(procedure),
        "exit_status": procedure_status(procedure),
    }


def procedure_status(procedure: Procedure) -> int:
    """Return the exit status: open where isolation cannot lead to absence verified."""
    is_open = procedure.kind == "isolation" and bool(procedure.no_absence)
    return OPEN if is_open else NOTHING_OPEN
