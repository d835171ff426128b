"""The equipment of the shop: entered, tested, issued, looked over, taken out of use, due when."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from swapwright.base.errors import Problem
from swapwright.jobs.equipment_fields import CHECKS, FIELDS, ItemField
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import HistoryLine, lines_about, who
from swapwright.jobs.shop_typed import Typed
from swapwright.jobs.telling import tell
from swapwright.procedures.due import Due, due, is_inspected
from swapwright.records.equipment import MET, Item
from swapwright.records.record import Draft, Json
from swapwright.standards.equipment import EQUIPMENT, TEST_RULES, Interval

STRICTER = "; the stricter rule: counted from the test itself, not from the day of issue"
"""Said of what a law would let run from the day of issue: the stricter reading is the default."""
URGENCY = (
    "failed its test",
    "out of date",
    "never tested",
    "withdrawn",
    "due soon",
    "not issued",
    "in date",
    "no test asked",
)
"""States of equipment in the order a wall board tells them."""
NOT_MET = "not met"


@dataclass(frozen=True)
class ItemRow:
    """One item as a list shows it: when it is due and why, and whether it was looked over today.

    ``rules`` names the rule set the day goes by; ``holder`` who has it, in words.
    """

    item: Item
    due: Due
    until: str
    is_inspected: bool
    rules: str
    holder: str


@dataclass(frozen=True)
class ItemView:
    """Everything of one item: its data as read, what is checked before use, its history."""

    row: ItemRow
    data: tuple[tuple[str, str], ...]
    checks: tuple[str, ...]
    test: str
    history: tuple[HistoryLine, ...]


def item_rows(shop: Shop, actor: Actor) -> tuple[ItemRow, ...]:
    """Return the equipment, kind by kind."""
    shop.allow(actor, "read records")
    rows = (_row(shop, each) for each in shop.items().values())
    return tuple(sorted(rows, key=_by_kind))


def due_rows(shop: Shop, actor: Actor) -> tuple[ItemRow, ...]:
    """Return the equipment in the order it presses: what may not be used first, then by day."""
    shop.allow(actor, "read records")
    rows = (_row(shop, each) for each in shop.items().values())
    return tuple(sorted(rows, key=_by_urgency))


def item_view(shop: Shop, actor: Actor, item: str) -> ItemView | None:
    """Return one item, None where there is none of that id."""
    shop.allow(actor, "read records")
    found = shop.items().get(item)
    if found is None:
        return None
    rule = TEST_RULES.get(found.kind)
    return ItemView(
        _row(shop, found),
        tuple(_data(found)),
        CHECKS.get(found.kind, ()),
        "" if rule is None else rule.test,
        lines_about(shop, lambda reader: reader.records(item=item)),
    )


def add_item(shop: Shop, actor: Actor, given: Mapping[str, str]) -> str:
    """Enter an item with the data of its kind, and return the id."""
    shop.allow(actor, "add equipment")
    typed = Typed(given)
    kind = typed.choice("kind", EQUIPMENT)
    name, serial = typed.line("name", most=80), typed.line("serial", most=80)
    for each in shop.items().values():
        if each.kind == kind and each.serial.casefold() == serial.casefold() and serial:
            typed.refuse("serial", f"there is one of this number already: {each.name}")
    data = {each.key: _read(typed, each, shop.today()) for each in FIELDS.get(kind, ())}
    typed.done()
    key = typed.key()
    item = f"i-{key}"
    body: dict[str, Json] = {
        "kind": kind,
        "name": name,
        "serial": serial,
        "data": {name: value for name, value in data.items() if value not in ("", None)},
    }
    shop.write(Draft("item.added", actor.person, {"item": item}, body, key))
    return item


def enter_test(shop: Shop, actor: Actor, item: str, given: Mapping[str, str]) -> None:
    """Enter a test or calibration; one that failed counts at once."""
    shop.allow(actor, "enter a test")
    found = _here(shop, item)
    rule = TEST_RULES.get(found.kind)
    if rule is None:
        raise Refused(Problem("", "", f"no rule asks for a test of {found.kind}"))
    typed = Typed(given)
    body: dict[str, Json] = {
        "test": rule.test,
        "on": _since_made(typed, "on", found, shop.today()),
        "result": typed.choice("result", (MET, NOT_MET)),
        "by_whom": typed.line("by_whom"),
        "certificate": typed.line("certificate", is_needed=False),
        "note": typed.line("note", is_needed=False),
    }
    typed.done()
    shop.write(Draft("item.tested", actor.person, {"item": item}, body, typed.key()))


def issue_item(shop: Shop, actor: Actor, item: str, given: Mapping[str, str]) -> None:
    """Issue an item for use; gloves only by a test that is recent enough for that."""
    shop.allow(actor, "issue equipment")
    found = _here(shop, item)
    typed = Typed(given)
    on = _since_made(typed, "on", found, shop.today())
    to = typed.choice("to", tuple(_in_the_shop(shop)), is_needed=False)
    state = due(found, shop.today())
    if found.kind in TEST_RULES and not state.may_be_used and state.state != "not issued":
        typed.refuse("on", f"it cannot be issued: {state.state}; {state.reason}")
    typed.done()
    body: dict[str, Json] = {"on": on, "to": to}
    shop.write(Draft("item.issued", actor.person, {"item": item}, body, typed.key()))


def inspect_item(shop: Shop, actor: Actor, item: str, given: Mapping[str, str]) -> bool:
    """Enter a look before use, each check by yes or no; any no takes the item out of use.

    Returns whether all was well. It is dated today: a look of another day counts for nothing.
    """
    shop.allow(actor, "inspect equipment")
    found = _here(shop, item)
    typed = Typed(given)
    asked = CHECKS.get(found.kind, ())
    told = {words: typed.is_yes(f"check-{at}") for at, words in enumerate(asked)}
    note, key = typed.line("note", is_needed=False), typed.key()
    typed.done()
    is_met = all(told.values())
    body: dict[str, Json] = {
        "on": shop.today().isoformat(),
        "checks": dict(told),
        "result": MET if is_met else NOT_MET,
        "note": note,
    }
    drafts = [Draft("item.inspected", actor.person, {"item": item}, body, key)]
    if not is_met:
        failed = "; ".join(words for words, ok in told.items() if not ok)
        reason = {"reason": f"the look before use found not so: {failed}"}
        drafts.append(Draft("item.withdrawn", actor.person, {"item": item}, reason, f"{key[:31]}w"))
    shop.write(*drafts)
    return is_met


def withdraw_item(shop: Shop, actor: Actor, item: str, given: Mapping[str, str]) -> None:
    """Take an item out of use."""
    shop.allow(actor, "withdraw equipment")
    found = _here(shop, item)
    typed = Typed(given)
    reason = typed.line("reason")
    if found.withdrawn:
        typed.refuse("reason", f"it is out of use already: {found.withdrawn}")
    typed.done()
    shop.write(
        Draft("item.withdrawn", actor.person, {"item": item}, {"reason": reason}, typed.key())
    )


def return_item(shop: Shop, actor: Actor, item: str, given: Mapping[str, str]) -> None:
    """Bring an item back into use, with what was done to it."""
    shop.allow(actor, "return equipment")
    found = _here(shop, item)
    typed = Typed(given)
    reason = typed.line("reason")
    if not found.withdrawn:
        typed.refuse("reason", "it is not out of use")
    typed.done()
    shop.write(
        Draft("item.returned", actor.person, {"item": item}, {"reason": reason}, typed.key())
    )


def _here(shop: Shop, item: str) -> Item:
    found = shop.items().get(item)
    if found is None:
        raise Refused(Problem("", "", "there is no equipment of this id"))
    return found


def _in_the_shop(shop: Shop) -> Iterable[str]:
    return (each.id for each in shop.people().values() if not each.has_left)


def _since_made(typed: Typed, name: str, item: Item, today: date) -> str:
    """Return a day that is neither to come nor before the item was made."""
    on = typed.day(name, latest=today)
    made = str(item.data.get("made") or "")
    if on and made and on < made:
        typed.refuse(name, f"it was made after that, on {made}")
    return on


def _read(typed: Typed, field: ItemField, today: date) -> Json:
    """Return what was typed for a field of the data; days are never to come."""
    name, needed = f"data-{field.key}", field.is_needed
    if field.entry == "choice":
        return typed.choice(name, field.choices, is_needed=needed)
    if field.entry == "yes":
        return typed.choice(name, ("yes", "no"), is_needed=False)
    if field.entry == "day":
        return typed.day(name, latest=today, is_needed=needed)
    if field.entry == "line":
        return typed.line(name, is_needed=needed)
    return typed.amount(name, field.entry, field.unit, is_needed=needed)


def _data(item: Item) -> Iterable[tuple[str, str]]:
    """Yield the data of an item as label and text."""
    for field in FIELDS.get(item.kind, ()):
        value = item.data.get(field.key)
        if value is None or value == "":
            yield field.label, "not said"
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            yield field.label, tell(float(value), field.entry, "metric")
        else:
            yield field.label, str(value)


def _row(shop: Shop, item: Item) -> ItemRow:
    today = shop.today()
    found = due(item, today)
    rule = TEST_RULES.get(item.kind)
    return ItemRow(
        item,
        found,
        "" if found.until is None else found.until.isoformat(),
        is_inspected(item, today),
        "" if rule is None else _rules(rule),
        who(shop, item.issued_to) if item.issued_to else "",
    )


def _rules(rule: Interval) -> str:
    """Return what a due day goes by."""
    words = f"{rule.test}, every {rule.every} months"
    if rule.on_shelf is None:
        return words
    return f"{words}, issued by a test no older than {rule.on_shelf} months{STRICTER}"


def _by_kind(row: ItemRow) -> tuple[int, str, str]:
    kinds = EQUIPMENT
    at = kinds.index(row.item.kind) if row.item.kind in kinds else len(kinds)
    return at, row.item.name.casefold(), row.item.serial


def _by_urgency(row: ItemRow) -> tuple[int, date, tuple[int, str, str]]:
    return URGENCY.index(row.due.state), row.due.until or date.max, _by_kind(row)
