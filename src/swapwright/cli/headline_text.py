"""The numbers a person looks at first: range, road, pack and weight."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from swapwright.cli.page import Page, some
from swapwright.jobs import headline
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.telling import both_texts, value_text

_NUMBER_AND_UNIT = re.compile(r"(\S+) ([^()]+?)( \(\S+\.\.\S+\))?")
UNKNOWN = "unknown"
EQUIVALENT = {
    "metric": "Le: litres-equivalent, the petrol that holds the same energy",
    "us": "MPGe: miles per gallon-equivalent, the gasoline that holds the same energy",
    "uk": "MPGe: miles per gallon-equivalent, the petrol that holds the same energy",
}


def write_headline(page: Page) -> None:
    """Write the headline numbers."""
    _ranges(page)
    _road(page)
    _pack(page)
    _circuit(page)
    _weight(page)


def _ranges(page: Page) -> None:
    notes = {page.note(row.range) for row in headline.RANGES if page.figure(row.range)}
    note = notes.pop() if len(notes) == 1 else ""
    page.console.heading(f"Range, new pack: {note}" if note else "Range, new pack")
    if page.lacks(row.range for row in headline.RANGES):
        return
    why: dict[str, list[str]] = {}

    def cell(figure_id: str, label: str) -> str:
        if page.figure(figure_id) is not None:
            return page.plain(figure_id)
        labels = why.setdefault(page.reason(figure_id), [])
        labels += [label] if label not in labels else []
        return UNKNOWN

    rows = []
    for row in headline.RANGES:
        if row.range == "range.at_goal_speed" and page.figure(row.range) is None:
            continue
        shown = (cell(each, row.label) for each in (row.range, row.consumption))
        fuel = page.engine_text(row.consumption)
        rows.append((row.label, *shown, fuel, *page.names(row.range)))
    for label, figure_id in headline.WALL:
        fuel = page.engine_text(figure_id)
        rows.append((label, "", cell(figure_id, label), fuel, *page.names(figure_id)))
    heads = ("", "range", "electricity", "as fuel", *page.names(""))
    page.console.columns(_with_units_above(rows, heads))
    for reason, labels in why.items():
        first = f"  {UNKNOWN}: "
        page.console.wrapped(
            f"{'; '.join(labels)}: {reason.removeprefix(first.strip())}",
            indent=len(first),
            first=first,
        )
    before = page.entry("car.engine_before.fuel", "fuel_consumption")
    if before:
        page.console.line(f"  with the engine it had: {before}")
    page.console.line(f"  {EQUIVALENT[page.profile]}")
    if page.with_names:
        page.console.line("  the electricity of each goes by consumption.city and so on")


def _with_units_above(
    rows: Sequence[tuple[str, ...]], heads: tuple[str, ...]
) -> list[tuple[str, ...]]:
    """Return rows below their heads, the unit of a column in its head where all cells share it."""
    columns = [_column(head, cells) for head, *cells in zip(heads, *rows, strict=True)]
    return list(zip(*columns, strict=True))


def _column(head: str, cells: Sequence[str]) -> list[str]:
    matches = [_NUMBER_AND_UNIT.fullmatch(cell) for cell in cells if cell not in ("", UNKNOWN)]
    units = {match[2] for match in matches if match is not None}
    if not head or len(units) != 1 or None in matches:
        return [head, *cells]
    unit = units.pop()
    return [unit, *(cell.replace(f" {unit}", "", 1) for cell in cells)]


def _road(page: Page) -> None:
    page.console.heading("On the road")
    if page.lacks(figure_id for _, figure_id in headline.ROAD):
        return
    rows = [_row(page, label, figure_id) for label, figure_id in headline.ROAD]
    power = page.car.get("car.engine_before.power")
    if power is not None:
        told = both_texts(power.si, "power", page.profile)
        rows.append(("engine it had", told, *page.names("")))
    page.console.columns(rows)
    if page.with_names:
        _notes(page, headline.ROAD)


def _notes(page: Page, rows: Iterable[tuple[str, str]]) -> None:
    """Write below a table which of its figures cannot stand as they are, and why."""
    for label, figure_id in rows:
        if page.note(figure_id):
            page.console.line(f"  {label}: {page.note(figure_id)}")


def _row(page: Page, label: str, figure_id: str) -> tuple[str, ...]:
    note = "" if page.with_names else page.note(figure_id)
    text = page.both(figure_id, label)
    return (label, f"{text}; {note}" if note else text, *page.names(figure_id))


def _pack(page: Page) -> None:
    page.console.heading("Pack")
    if page.lacks((*headline.VOLTAGES, *(figure_id for _, figure_id in headline.PACK))):
        return
    rows = [_row(page, label, figure_id) for label, figure_id in headline.PACK]
    window = [page.figure(figure_id) for figure_id in headline.VOLTAGES]
    empty, nominal, full = (
        UNKNOWN if each is None else value_text(each.value, figure_kind(each), page.profile)
        for each in window
    )
    told = f"{empty} empty, {nominal} nominal, {full} full"
    rows.append(("voltage", told, *page.names(headline.VOLTAGES[-1])))
    rows.append(_row(page, "maximum working voltage", headline.MAX_WORKING_VOLTAGE))
    counts = [page.figure(figure_id) for figure_id in headline.CELLS]
    series, parallel, cells = (None if each is None else f"{each.value.si:.0f}" for each in counts)
    if cells is not None:
        told = f"{cells}: {series} in series, {parallel} in parallel"
        rows.append(("cells", told, *page.names(headline.CELLS[-1])))
    page.console.columns(rows)
    if page.with_names:
        working_voltage = ("maximum working voltage", headline.MAX_WORKING_VOLTAGE)
        _notes(page, (*headline.PACK, working_voltage))


def _circuit(page: Page) -> None:
    """Write the strongest short circuit and the waiting times, where there is a circuit."""
    assessment = page.checked.assessment
    fault, waits = headline.strongest_fault(assessment), headline.waiting_times(assessment)
    rows = []
    if fault is not None:
        rows.append(("strongest short circuit", page.text(fault), *page.names(fault)))
    reasons: dict[str, None] = {}
    for figure_id in waits:
        section = figure_id.split(".")[1].replace("_", " ")
        told = page.text(figure_id)
        if page.figure(figure_id) is not None:
            told += ", not measured"
        elif not told.startswith(UNKNOWN):
            reasons[told] = None
            told = told.partition(":")[0]
        rows.append((f"waiting time, {section}", told, *page.names(figure_id)))
    if rows:
        page.console.heading("High voltage")
        page.console.columns(rows)
        for reason in reasons:
            page.console.wrapped(reason, indent=2)


def _weight(page: Page) -> None:
    page.console.heading("Weight")
    rows = [("", "donor", "converted", "loaded", "allowed", *page.names(""))]
    lacking: dict[str, None] = {}
    for row in headline.WEIGHTS:
        after, loaded = (
            page.text(each) if page.figure(each) else UNKNOWN for each in (row.after, row.loaded)
        )
        allowed = page.entry(row.limit, "mass") or "not given"
        names = page.names(row.after, row.loaded)
        rows.append((row.label, page.entry(row.before, "mass"), after, loaded, allowed, *names))
        for figure_id in (row.after, row.loaded):
            lacking.update(dict.fromkeys(page.needs(figure_id)))
    page.console.columns(rows)
    _notes(page, [(row.label, row.loaded) for row in headline.WEIGHTS])
    if lacking:
        page.console.wrapped(f"would give the unknown: {some(tuple(lacking))}", indent=2)
