"""A procedure as a JSON document and back: what the record of a run keeps whole."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import Any, TypeVar, cast, get_args

from swapwright.base.errors import InputError, Problem
from swapwright.procedures.step import (
    Act,
    EnergySource,
    Expectation,
    Kind,
    Level,
    Procedure,
    Quantity,
    ReadingSpec,
    Remaining,
    Step,
)

FORMAT = 1
NAME = "procedure"

Document = Mapping[str, Any]
Made = TypeVar("Made")


def procedure_document(procedure: Procedure) -> dict[str, Any]:
    """Return a procedure as plain JSON: every field by its name, SI, with the document's format."""
    return {"format": FORMAT, **cast(dict[str, Any], _plain(asdict(procedure)))}


def procedure_of(document: Document) -> Procedure:
    """Return the procedure of a document; raise InputError where it is none of ours.

    Keys it does not know are left alone: a later program may have written them.
    """
    if document.get("format") != FORMAT:
        raise _wrong("format", str(document.get("format")), str(FORMAT))
    try:
        return _procedure(document)
    except KeyError as error:
        raise _wrong(str(error.args[0]), "", "a procedure with every field") from None
    except (TypeError, ValueError, AttributeError):
        raise _wrong("", "", "a procedure as this program writes it") from None


def _plain(thing: Any) -> Any:
    if isinstance(thing, Mapping):
        return {str(key): _plain(value) for key, value in thing.items()}
    if isinstance(thing, tuple | list):
        return [_plain(each) for each in thing]
    return thing


def _wrong(path: str, given: str, allowed: str) -> InputError:
    return InputError(Problem(NAME, path, "this is no procedure that can be read", given, allowed))


def _procedure(document: Document) -> Procedure:
    highest = document["highest"]
    return Procedure(
        kind=cast(Kind, _one_of(document, "kind", Kind)),
        car=_text(document, "car"),
        revision=_text(document, "revision"),
        mark=_text(document, "mark"),
        region=_text(document, "region"),
        is_generic=bool(document["is_generic"]),
        highest=None if highest is None else float(highest),
        is_class_b=bool(document["is_class_b"]),
        sources=_each(document, "sources", _source),
        steps=_each(document, "steps", _step),
        remaining=_each(document, "remaining", _remaining),
        no_absence=_texts(document, "no_absence"),
        cautions=_texts(document, "cautions"),
        not_covered=_texts(document, "not_covered"),
        figures=_texts(document, "figures"),
    )


def _source(row: Document) -> EnergySource:
    return EnergySource(
        _text(row, "name"), _texts(row, "elements"), _text(row, "gap"), _text(row, "words")
    )


def _remaining(row: Document) -> Remaining:
    return Remaining(_text(row, "where"), _text(row, "words"), _texts(row, "figures"))


def _step(row: Document) -> Step:
    reading, wait = row["reading"], row["wait"]
    return Step(
        id=_text(row, "id"),
        phase=_text(row, "phase"),
        act=cast(Act, _one_of(row, "act", Act)),
        title=_text(row, "title"),
        words=_text(row, "words"),
        why=_text(row, "why"),
        about=_texts(row, "about"),
        who=cast(Level, _one_of(row, "who", Level)),
        people=int(row["people"]),
        needs=_texts(row, "needs"),
        ppe=_texts(row, "ppe"),
        cautions=_texts(row, "cautions"),
        sources=_texts(row, "sources"),
        reading=None if reading is None else _reading(reading),
        wait=None if wait is None else float(wait),
        no_wait=_text(row, "no_wait"),
        photo=bool(row["photo"]),
    )


def _reading(row: Document) -> ReadingSpec:
    first, second = _texts(row, "points")
    limit, expected = row["limit"], row["expected"]
    return ReadingSpec(
        quantity=cast(Quantity, _one_of(row, "quantity", Quantity)),
        unit=_text(row, "unit"),
        points=(first, second),
        expected=Expectation(
            float(expected["low"]), float(expected["high"]), _text(expected, "words")
        ),
        limit=None if limit is None else float(limit),
        first=_text(row, "first"),
        after=float(row["after"]),
    )


def _each(row: Document, key: str, make: Callable[[Document], Made]) -> tuple[Made, ...]:
    return tuple(make(each) for each in row[key])


def _text(row: Document, key: str) -> str:
    found = row[key]
    if not isinstance(found, str):
        raise TypeError(key)
    return found


def _texts(row: Document, key: str) -> tuple[str, ...]:
    found = row[key]
    if isinstance(found, str) or not all(isinstance(each, str) for each in found):
        raise TypeError(key)
    return tuple(found)


def _one_of(row: Document, key: str, choices: object) -> str:
    found = _text(row, key)
    if found not in get_args(choices):
        raise ValueError(key)
    return found
