"""The high-voltage circuit as a person reads it."""

from __future__ import annotations

from swapwright.build.revision import short
from swapwright.cli.console import Console
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import (
    HIGHEST,
    CircuitView,
    DeviceRow,
    SectionRow,
    words_of_state,
)
from swapwright.jobs.circuit_words import (
    CABLE_HEADS,
    CABLE_TITLE,
    COIL_HEADS,
    COIL_TITLE,
    DEVICE_HEADS,
    DEVICE_NOTE,
    PLACE_HEADS,
    PLACE_TITLE,
    SECTION_NOTE,
    SECTION_TITLE,
    UNKNOWN,
    Cell,
    CircuitWords,
)
from swapwright.jobs.fitting import CABLE_NOTES, COIL_NOTES, CableRow, CoilRow
from swapwright.jobs.section_words import cell_words, state_words


def write_circuit(
    console: Console, checked: Checked, view: CircuitView, profile: str, *, is_in_detail: bool
) -> None:
    """Write devices, places and sections of a circuit, and the caution."""
    words = CircuitWords(checked, profile)
    page = _Page(console, words)
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: high-voltage circuit", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    console.line("design, not confirmed on the car")
    console.line(f"maximum working voltage {words.text(HIGHEST) or UNKNOWN}")
    console.heading("Device by device")
    console.columns([("", *DEVICE_HEADS, ""), *(page.device(row) for row in view.devices)])
    console.wrapped(f"{DEVICE_NOTE}; --json names its rule", indent=2)
    console.heading(PLACE_TITLE)
    rows = [(row.place.name, *_texts(words.place(row))) for row in view.places]
    console.columns([("", *PLACE_HEADS), *rows])
    for line in words.nothing_clears(view.places):
        console.wrapped(line, indent=2)
    page.cables(view.cables)
    page.coils(view.coils)
    page.sections(view, is_in_detail=is_in_detail)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)


def _texts(cells: tuple[Cell, ...]) -> tuple[str, ...]:
    return tuple(cell.text for cell in cells)


class _Page:
    """One car's circuit on one console."""

    def __init__(self, console: Console, words: CircuitWords) -> None:
        self.console = console
        self.words = words

    def device(self, row: DeviceRow) -> tuple[str, ...]:
        """Return the cells of one device."""
        verdict = "" if row.verdict is None else self.console.verdict(row.verdict).strip()
        return (row.device.name, *_texts(self.words.device(row)), verdict)

    def cables(self, rows: tuple[CableRow, ...]) -> None:
        """Write what is to know of each cable before it is bought and laid."""
        if not rows:
            return
        self.console.heading(CABLE_TITLE)
        table: list[tuple[str, ...]] = [("", *CABLE_HEADS, "")]
        table += [(row.device.name, *_texts(self.words.cable(row)), row.limits) for row in rows]
        self.console.columns(table)
        for note in CABLE_NOTES:
            self.console.wrapped(note, indent=2)

    def coils(self, rows: tuple[CoilRow, ...]) -> None:
        """Write what is to know of each coil before it is wired."""
        if not rows:
            return
        self.console.heading(COIL_TITLE)
        table: list[tuple[str, ...]] = [("", *COIL_HEADS)]
        table += [(row.device.name, *_texts(self.words.coil(row))) for row in rows]
        self.console.columns(table)
        for note in COIL_NOTES:
            self.console.wrapped(note, indent=2)

    def sections(self, view: CircuitView, *, is_in_detail: bool) -> None:
        """Write what each section is, where from, and how long it is waited for."""
        rows, console = view.sections, self.console
        states = [words_of_state(state, view.gaps) for state, _ in rows[0].states] if rows else []
        console.heading(SECTION_TITLE)
        console.wrapped(", then with the ".join(states), indent=2)
        heads = [cell for words in states for cell in (words.partition(",")[0], "up to")]
        table = [("", *heads, "waiting time")]
        table += [(row.name, *self._states(row), self.words.wait(row).text) for row in rows]
        console.columns(table)
        gaps = self.words.gaps(view.gaps)
        if gaps:
            console.wrapped(gaps, indent=2)
        for row in rows:
            for line in self._lines(row, is_in_detail=is_in_detail):
                console.wrapped(line, indent=4, first=f"  {row.name}: ")
        console.wrapped(SECTION_NOTE, indent=2)

    def _lines(self, row: SectionRow, *, is_in_detail: bool) -> list[str]:
        """Return what is written of one section below the table."""
        lines = []
        if is_in_detail:
            lines += [state_words(each) for _, each in row.states]
            lines += [self.words.spans(spans) for spans in filter(None, row.spans)]
        return [*lines, *self.words.stranded(row)]

    def _states(self, row: SectionRow) -> tuple[str, ...]:
        """Return the cells of one section: for each state its word and its voltage."""
        pairs = zip(row.states, row.spans, strict=True)
        return tuple(
            cell
            for (_, each), spans in pairs
            for cell in (cell_words(each), self.words.highest(spans))
        )
