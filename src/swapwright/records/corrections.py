"""Corrections: told beside the record they correct, never in place of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.records.record import Record


@dataclass(frozen=True)
class Correction:
    """What somebody says of an earlier record: what is right instead, and why.

    ``number`` is the correction's own record; ``corrects`` the earlier one's.
    """

    corrects: int
    what: str
    reason: str
    by: str
    at: str
    number: int


def corrections(records: Iterable[Record]) -> Mapping[int, tuple[Correction, ...]]:
    """Return the corrections by the number of the record they correct, in order.

    One that names no earlier record corrects nothing, and is not among them.
    """
    found: dict[int, tuple[Correction, ...]] = {}
    for each in records:
        if each.kind == "record.corrected":
            corrects = each.body["corrects"]
            if isinstance(corrects, int) and 0 < corrects < each.number:
                told = found.get(corrects, ())
                found[corrects] = (*told, _correction(each, corrects))
    return MappingProxyType(found)


def _correction(record: Record, corrects: int) -> Correction:
    return Correction(
        corrects,
        str(record.body["what"]),
        str(record.body["reason"]),
        record.by,
        record.at.isoformat(),
        record.number,
    )
