"""What happened, as lines a person reads: when, what, who, and what corrects it beside it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from swapwright.jobs.shop import Shop
from swapwright.records.corrections import Correction, corrections
from swapwright.records.kinds import KINDS
from swapwright.records.reader import Reader
from swapwright.records.record import LOCAL, Json, Record

MOST_SHOWN = 500
"""Lines of a page; the ledger's own commands show the rest."""
LONGEST_SAID = 160
SHORT = 12
NOT_SAID = frozenset(
    ("build", "procedure", "data", "data_version", "signed", "clock", "device", "sequence", "proof")
)
"""Keys of a body no line shows: whole documents, and what only the program reads."""
_HASH = re.compile(r"[0-9a-f]{64}")
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?\+00:00")


@dataclass(frozen=True)
class HistoryLine:
    """One record as a line; ``subject`` names the person or item it is about, if it is about one.

    ``corrected`` says what later records say of it: it is told beside, and nothing is replaced.
    """

    number: int
    at: str
    label: str
    by: str
    subject: str
    says: str
    corrected: tuple[str, ...] = ()


def moment_words(at: datetime) -> str:
    """Return a time as the shop's clock on the wall says it, with its zone."""
    try:
        return f"{at.astimezone():%Y-%m-%d %H:%M %Z}"
    except OverflowError:
        return at.isoformat()


def day_words(on: date | None) -> str:
    """Return a day, empty where there is none."""
    return "" if on is None else on.isoformat()


def who(shop: Shop, person: str) -> str:
    """Return somebody's name; the one user where nobody logs in has none."""
    if person == LOCAL:
        return "local user"
    found = shop.people().get(person)
    return person if found is None else found.name


def lines_about(
    shop: Shop, wanted: Callable[[Reader], Sequence[Record]]
) -> tuple[HistoryLine, ...]:
    """Return the records that are wanted as lines, the latest first, and what corrects each."""
    with shop.store.reader() as reader:
        records = wanted(reader)
        told = corrections(reader.records(kinds=("record.corrected",)))
    return history_lines(shop, records[-MOST_SHOWN:], told)


def history_lines(
    shop: Shop,
    records: Iterable[Record],
    told: Mapping[int, tuple[Correction, ...]] | None = None,
) -> tuple[HistoryLine, ...]:
    """Return records as lines, the latest first."""
    names = _names(shop)
    lines = [_line(shop, each, names, (told or {}).get(each.number, ())) for each in records]
    return tuple(reversed(lines))


def _names(shop: Shop) -> Mapping[str, str]:
    """Return the names of people and equipment by id: a line never shows the id of one."""
    registers = shop.registers()
    return {
        LOCAL: "local user",
        **{each.id: each.name for each in registers.people.values()},
        **{each.id: f"{each.name} ({each.serial})" for each in registers.items.values()},
    }


def _line(
    shop: Shop, record: Record, names: Mapping[str, str], told: Iterable[Correction]
) -> HistoryLine:
    kind = KINDS.get(record.kind)
    subject = record.about.get("person") or record.about.get("item") or ""
    return HistoryLine(
        record.number,
        moment_words(record.at),
        record.kind if kind is None else kind.label,
        names.get(record.by, record.by),
        names.get(subject, ""),
        _says(record, names),
        tuple(f"record {each.number} corrects it: {each.what} ({each.reason})" for each in told),
    )


def _says(record: Record, names: Mapping[str, str]) -> str:
    return "; ".join(
        f"{key.replace('_', ' ')}: {_text(value, names)}"
        for key, value in record.body.items()
        if key not in NOT_SAID and value not in ("", None, [])
    )


def _text(value: Json, names: Mapping[str, str]) -> str:
    if isinstance(value, Mapping) and value and all(each is True for each in value.values()):
        text = f"all {len(value)} yes"
    elif isinstance(value, Mapping):
        text = ", ".join(f"{key}: {_text(each, names)}" for key, each in value.items())
    elif isinstance(value, list):
        text = ", ".join(_text(each, names) for each in value)
    elif isinstance(value, bool):
        text = "yes" if value else "no"
    elif isinstance(value, str):
        text = _plain(names.get(value, value))
    else:
        text = str(value)
    return text if len(text) <= LONGEST_SAID else f"{text[:LONGEST_SAID]} ..."


def _plain(text: str) -> str:
    """Return a hash by its beginning and a time as the clock on the wall says it."""
    if _HASH.fullmatch(text):
        return f"{text[:SHORT]} ..."
    try:
        return moment_words(datetime.fromisoformat(text)) if _TIME.fullmatch(text) else text
    except ValueError:
        return text
