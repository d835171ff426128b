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
    PlaceRow,
    SectionRow,
    Spans,
    words_of_state,
)
from swapwright.jobs.circuit_drawing import entry_text
from swapwright.jobs.fitting import CABLE_NOTES, COIL_NOTES, CableRow, CoilRow
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.section_words import cell_words, state_words
from swapwright.jobs.telling import tell, value_text

NOTHING_CLEARS = "nothing clears this fault"
NOTHING = "nothing"
_HEADS = ("", "what it is", "for good", "peak", "load", "allowed", "margin", "")
_PLACE_HEADS = ("", "full", "L/R", "ended by", "low", "ended by")


def write_circuit(
    console: Console, checked: Checked, view: CircuitView, profile: str, *, is_in_detail: bool
) -> None:
    """Write devices, places and sections of a circuit, and the caution."""
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: high-voltage circuit", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    console.line("design, not confirmed on the car")
    page = _Page(console, checked, profile)
    page.voltage()
    console.heading("Device by device")
    console.columns([_HEADS, *(page.device(row) for row in view.devices)])
    console.wrapped(
        "for good: current it carries hour after hour; load: of a cable its hottest conductor over "
        "the simulated runs, of a fuse the same runs over what melts it; margin: of the tightest "
        "rating, over or short where it is outside; --json names its rule",
        indent=2,
    )
    console.heading("Short circuits: the pack full and warm, then low: nearly empty and cold")
    console.columns([_PLACE_HEADS, *(page.place(row) for row in view.places)])
    page.nothing_clears(view.places)
    page.cables(view.cables)
    page.coils(view.coils)
    page.sections(view, is_in_detail=is_in_detail)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)


class _Page:
    """One car's circuit on one console."""

    def __init__(self, console: Console, checked: Checked, profile: str) -> None:
        self.console = console
        self.checked = checked
        self.profile = profile

    def text(self, name: str) -> str:
        """Return a figure or an entry as text, empty where there is none."""
        figure = self.checked.assessment.figures.get(name)
        if figure is not None:
            return value_text(figure.value, figure_kind(figure), self.profile)
        return entry_text(self.checked.opened.car.get(name), self.profile)

    def voltage(self) -> None:
        """Write the highest voltage there can be."""
        highest = self.text(HIGHEST) or "not known"
        self.console.line(f"maximum working voltage {highest}")

    def device(self, row: DeviceRow) -> tuple[str, ...]:
        """Return the cells of one device."""
        told = row.tightest
        tightest = ""
        if told is not None and told.margin is not None:
            share = tell(abs(told.margin), "fraction", self.profile, digits=2)
            outside = " short" if told.sense == "at_least" else " over"
            tightest = f"{share}{outside if told.margin < 0.0 else ''}"
        sizes = " ".join(filter(None, map(self.text, row.sizes)))
        load = self.text(row.load) if row.load else ""
        return (
            row.device.name,
            sizes or row.device.kind,
            self.text(row.current),
            self.text(row.peak),
            load,
            self.text(row.limit) if row.limit else "",
            tightest,
            "" if row.verdict is None else self.console.verdict(row.verdict).strip(),
        )

    def place(self, row: PlaceRow) -> tuple[str, ...]:
        """Return the cells of one place."""
        slug = row.place.slug
        cells = [row.place.name]
        for state, fuse, reason in row.clears:
            cells.append(self.text(f"fault.{slug}.current_{state}") or "not known")
            if state == row.clears[0][0]:
                cells.append(self.text(f"fault.{slug}.time_constant_{state}"))
            time = self.text(f"fault.{slug}.clearing_{state}")
            why = NOTHING if NOTHING_CLEARS in reason else reason.partition(":")[0]
            cells.append(f"{fuse}, {time}" if fuse else why)
        return tuple(cells)

    def nothing_clears(self, rows: tuple[PlaceRow, ...]) -> None:
        """Write what it means that no fuse lies before a place."""
        named: dict[str, dict[str, None]] = {}
        for row in rows:
            for _, _, reason in row.clears:
                if NOTHING_CLEARS in reason:
                    named.setdefault(reason, {})[row.place.name] = None
        for reason, names in named.items():
            self.console.wrapped(f"{reason}: {', '.join(names)}", indent=2)
        if named:
            self.console.wrapped(
                "Work at these places is live work however the disconnect stands.", indent=2
            )

    def cables(self, rows: tuple[CableRow, ...]) -> None:
        """Write what is to know of each cable before it is bought and laid."""
        if not rows:
            return
        self.console.heading("Cables to buy, lay and crimp")
        heads = ("", "size", "lost at peak", "tightest bend", "lug", "lightest", "")
        table: list[tuple[str, ...]] = [heads]
        for row in rows:
            figures = (row.size, row.drop, row.bend, row.lug, row.lightest)
            cells = [self.text(each) or "-" for each in figures]
            table.append((row.device.name, *cells, row.limits))
        self.console.columns(table)
        for note in CABLE_NOTES:
            self.console.wrapped(note, indent=2)

    def coils(self, rows: tuple[CoilRow, ...]) -> None:
        """Write what is to know of each coil before it is wired."""
        if not rows:
            return
        self.console.heading("Coils to wire")
        table: list[tuple[str, ...]] = [
            ("", "holding", "pulls in at", "drops out at", "cut back once closed")
        ]
        for row in rows:
            figures = [self.text(each) or "-" for each in (row.holding, row.pull_in, row.drop_out)]
            cut_back = {True: "yes", False: "no", None: "not known"}[row.is_cut_back]
            table.append((row.device.name, *figures, cut_back))
        self.console.columns(table)
        for note in COIL_NOTES:
            self.console.wrapped(note, indent=2)

    def sections(self, view: CircuitView, *, is_in_detail: bool) -> None:
        """Write what each section is, where from, and how long it is waited for."""
        rows = view.sections
        states = [words_of_state(state, view.gaps) for state, _ in rows[0].states] if rows else []
        self.console.heading("Section by section, none measured")
        self.console.wrapped(", then with the ".join(states), indent=2)
        heads = [cell for words in states for cell in (words.partition(",")[0], "up to")]
        table = [("", *heads, "waiting time")]
        table += [(row.name, *self._states(row), self._wait(row)) for row in rows]
        self.console.columns(table)
        self._gaps(view.gaps)
        for row in rows:
            if is_in_detail:
                for _, each in row.states:
                    first = f"  {row.name}: "
                    self.console.wrapped(state_words(each), indent=4, first=first)
                for spans in filter(None, row.spans):
                    first = f"  {row.name}: "
                    self.console.wrapped(self._span_words(spans), indent=4, first=first)
            for cut in row.stranded:
                words = f"no waiting time if the {' or the '.join(cut.fuses)} is blown"
                first = f"  {row.name}: "
                self.console.wrapped(f"{cut.capacitor.name}: {words}", indent=4, first=first)
        self.console.wrapped(
            "Contactors are no gap: one that has not been measured counts as welded. Capacitors "
            "count as charged until they have been discharged and measured. Waiting is no proof.",
            indent=2,
        )

    def _states(self, row: SectionRow) -> tuple[str, ...]:
        """Return the cells of one section: for each state its word and its voltage."""
        pairs = zip(row.states, row.spans, strict=True)
        return tuple(
            cell for (_, each), spans in pairs for cell in (cell_words(each), self._volts(spans))
        )

    def _volts(self, spans: Spans | None) -> str:
        """Return the highest voltage of a section: within it, else to the chassis; never none."""
        highest = 0.0 if spans is None else spans.between or spans.to_chassis
        return self._voltage(highest) if highest else "not known"

    def _voltage(self, volts: float) -> str:
        return tell(volts, "voltage", self.profile)

    def _span_words(self, spans: Spans) -> str:
        pole = f"{self._voltage(spans.to_chassis)} to the chassis with one fault"
        if not spans.between:
            return (
                f"{pole}; what stands within it is not known" if spans.to_chassis else "not known"
            )
        words = f"up to {self._voltage(spans.between)} within it"
        if spans.driven < spans.between:
            words += " until discharged and measured"
            if spans.driven:
                words += f" ({self._voltage(spans.driven)} after that)"
        return f"{words}, {pole}"

    def _gaps(self, gaps: tuple[str, ...]) -> None:
        """Write what an open disconnect has to stand, and what it leaves."""
        if not gaps:
            return
        highest = self.text(HIGHEST) or "the pack's voltage, not known"
        self.console.wrapped(
            f"across the open {' and the open '.join(gaps)}: up to {highest}, the whole pack. Each "
            "terminal box keeps its own half; two faults to the chassis, one on each side of the "
            "gap, put the halves back in series.",
            indent=2,
        )

    def _wait(self, row: SectionRow) -> str:
        if not row.stores:
            return row.no_wait or "no time of its own"
        time = self.text(f"wait.{row.slug}.time")
        return f"{time}, then measured" if time else row.no_wait or "not known"
