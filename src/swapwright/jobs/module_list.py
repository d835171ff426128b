"""Modules that were measured: what each is taken or left for, and where it goes best."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable

from swapwright.assess.module_query import Placing, placing
from swapwright.assess.stages.salvage import TESTED
from swapwright.jobs.check import NOTHING_OPEN, OPEN, STOP, Checked, is_open
from swapwright.jobs.sheet_table import NOT_KNOWN, Table
from swapwright.jobs.telling import tell

RULES = "salvage."
CAUTION = (
    "A module holds its energy whatever is unplugged: measure and join modules as live work. "
    "Voltages alone say little of charge where the cells' curve is flat; every module goes in "
    "at the same charge."
)
_DATA = (
    ("capacity", "charge"),
    ("resistance", "resistance"),
    ("voltage", "voltage"),
    ("drop", "voltage"),
    ("insulation", "resistance"),
)


def modules_status(checked: Checked) -> int:
    """Return the exit status of what the rules of measured modules found."""
    found = [each for each in checked.assessment.findings if each.rule.startswith(RULES)]
    if any(each.verdict == "stop" for each in found):
        return STOP
    return OPEN if any(is_open(each) for each in found) else NOTHING_OPEN


def module_list(checked: Checked, profile: str, world: str = "electric") -> tuple[Table, ...]:
    """Return the tables of a car's measured modules in a person's units; none, no tables."""

    def said_of(si: float, kind: str) -> str:
        return tell(si, kind, profile, world=world)

    car = checked.opened.car
    count = car.counts.get(TESTED, 0)
    if not count:
        return ()
    said = _said(checked)
    rows, left_out = [], []
    for row in range(count):
        path = f"{TESTED}[{row}]"
        values = [(car.get(f"{path}.{name}"), kind) for name, kind in _DATA]
        told = [NOT_KNOWN if v is None else said_of(v.si, kind) for v, kind in values]
        history = car.texts.get(f"{path}.history", NOT_KNOWN)
        serial = car.texts.get(f"{path}.serial", NOT_KNOWN)
        if path in said:
            left_out.append(serial)
        rows.append((serial, *told, history, said.get(path, "yes")))
    heads = (
        *("", "capacity", "resistance", "voltage", "falls a week", "to its case", "history"),
        "taken",
    )
    wanted = checked.assessment.figures.get("salvage.wanted")
    of = "" if wanted is None else f"{count} of {wanted.value.si:.0f} were measured. "
    return (
        Table("Modules as measured", heads, tuple(rows), of + CAUTION),
        _places(placing(car, left_out), tuple(left_out), said_of),
    )


def _said(checked: Checked) -> dict[str, str]:
    """Return what the rules say of single modules, by their place in the file."""
    words: dict[str, list[str]] = defaultdict(list)
    for each in checked.assessment.findings:
        if each.rule.startswith(RULES) and each.verdict != "met" and "[" in each.subject:
            what = each.rule.removeprefix(RULES).replace("_", " ")
            words[each.subject].append(f"{what} not known" if each.verdict == "unknown" else what)
    return {path: f"no: {', '.join(rules)}" for path, rules in words.items()}


def _places(
    found: Placing, left_out: tuple[str, ...], said_of: Callable[[float, str], str]
) -> Table:
    title = "Where those that are taken go best"
    if found.lacking:
        lacking = ", ".join(found.lacking)
        return Table(title, ("", ""), (("capacity not measured", lacking),))
    rows = tuple(
        (f"string {each.string}", f"group {each.group}", each.module.serial)
        for each in found.placed
    )
    if found.short:
        note = f"{found.short} short: {', '.join(left_out)} not taken, and nothing in their place."
    else:
        so, listed = (
            said_of(capacity, "charge") for capacity in (found.capacity, found.capacity_as_listed)
        )
        note = f"Placed so the pack has {so}, as the file lists them {listed}."
    return Table(title, ("", "", "serial"), rows, note)
