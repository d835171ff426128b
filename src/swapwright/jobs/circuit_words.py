"""The circuit's rows in words: what every face writes of a device, a place, a cable, a section."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from swapwright.assess.circuit.section import SectionState
from swapwright.build.circuit.model import Device
from swapwright.build.shape import rows_by_path
from swapwright.build.unused import kept_for
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import HIGHEST, DeviceRow, PlaceRow, SectionRow, Spans
from swapwright.jobs.circuit_drawing import entry_text
from swapwright.jobs.fitting import CableRow, CoilRow
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.telling import tell, value_text

_ROW = re.compile(r"\[\d+\]")
NOTHING_CLEARS = "nothing clears this fault"
NOTHING = "nothing"
NONE = "-"
UNKNOWN = "not known"

DEVICE_HEADS = ("what it is", "for good", "peak", "load", "allowed", "margin")
DEVICE_NOTE = (
    "for good: current it carries hour after hour; load: of a cable its hottest conductor over the "
    "simulated runs, of a fuse the same runs over what melts it; margin: of the tightest rating, "
    "over or short where it is outside"
)
PLACE_TITLE = "Short circuits: the pack full and warm, then low: nearly empty and cold"
PLACE_HEADS = ("full", "L/R", "ended by", "low", "ended by")
LIVE_WORK = "Work at these places is live work however the disconnect stands."
CABLE_TITLE = "Cables to buy, lay and crimp"
CABLE_HEADS = ("size", "lost at peak", "tightest bend", "lug", "lightest")
COIL_TITLE = "Coils to wire"
COIL_HEADS = ("holding", "pulls in at", "drops out at", "cut back once closed")
SECTION_TITLE = "Section by section, none measured"
SECTION_NOTE = (
    "Contactors are no gap: one that has not been measured counts as welded. Capacitors count as "
    "charged until they have been discharged and measured. Waiting is no proof."
)


@dataclass(frozen=True)
class Cell:
    """One cell of a table: its text, and the id of the figure or the build path it is of."""

    text: str
    figure: str = ""
    path: str = ""

    def or_none(self, words: str = NONE) -> Cell:
        """Return the cell, with words in it where it is empty."""
        return self if self.text else Cell(words)


def entry_path(device: Device) -> str:
    """Return the build path at which a device is changed: its own entry, or the first of its."""
    rows = rows_by_path()
    for path in (device.path, *device.first.entries.values()):
        if _ROW.sub("[]", path) in rows:
            return path
    above = f"{_ROW.sub('[]', device.path)}."
    below = (path for path in rows if path.startswith(above) and kept_for(path) is None)
    first = next(below, above)
    return f"{device.path}.{first.removeprefix(above)}" if first != above else device.path


class CircuitWords:
    """Puts the circuit of one assessed car into words, in the units a person wants."""

    def __init__(self, checked: Checked, profile: str) -> None:
        """Take an assessed car."""
        self.checked = checked
        self.profile = profile

    def text(self, name: str) -> str:
        """Return a figure or an entry as text, empty where there is none."""
        return self.cell(name).text

    def cell(self, name: str) -> Cell:
        """Return a figure or an entry as a cell, empty where there is none."""
        figure = self.checked.assessment.figures.get(name)
        if figure is not None:
            return Cell(value_text(figure.value, figure_kind(figure), self.profile), figure=name)
        text = entry_text(self.checked.opened.car.get(name), self.profile)
        return Cell(text, path=name) if text else Cell("")

    def voltage(self, volts: float) -> str:
        """Return a voltage as text."""
        return tell(volts, "voltage", self.profile)

    def device(self, row: DeviceRow) -> tuple[Cell, ...]:
        """Return the cells of one device, under `DEVICE_HEADS`."""
        sizes = " ".join(filter(None, map(self.text, row.sizes)))
        return (
            Cell(sizes or row.device.kind),
            self.cell(row.current),
            self.cell(row.peak),
            self.cell(row.load) if row.load else Cell(""),
            self.cell(row.limit) if row.limit else Cell(""),
            Cell(self.margin(row)),
        )

    def margin(self, row: DeviceRow) -> str:
        """Return the margin of a device's tightest rating, empty where none is judged."""
        told = row.tightest
        if told is None or told.margin is None:
            return ""
        share = tell(abs(told.margin), "fraction", self.profile, digits=2)
        outside = " short" if told.sense == "at_least" else " over"
        return f"{share}{outside if told.margin < 0.0 else ''}"

    def device_title(self, row: DeviceRow) -> str:
        """Return a device's verdict and figures as one line."""
        what, current, peak, load, allowed, margin = (cell.text for cell in self.device(row))
        named = (
            ("", row.verdict or "not judged"),
            ("", "" if what == row.device.kind else what),
            ("for good ", current),
            ("peak ", peak),
            ("load ", load),
            ("allowed ", allowed),
            ("margin ", margin),
        )
        return ", ".join(f"{name}{text}" for name, text in named if text)

    def place(self, row: PlaceRow) -> tuple[Cell, ...]:
        """Return the cells of one place, under `PLACE_HEADS`."""
        slug = row.place.slug
        cells = []
        for state, fuse, reason in row.clears:
            cells.append(self.cell(f"fault.{slug}.current_{state}").or_none(UNKNOWN))
            if state == row.clears[0][0]:
                cells.append(self.cell(f"fault.{slug}.time_constant_{state}"))
            clearing = f"fault.{slug}.clearing_{state}"
            why = NOTHING if NOTHING_CLEARS in reason else reason.partition(":")[0]
            ended = Cell(f"{fuse}, {self.text(clearing)}", figure=clearing) if fuse else Cell(why)
            cells.append(ended)
        return tuple(cells)

    def nothing_clears(self, rows: Iterable[PlaceRow]) -> tuple[str, ...]:
        """Return what it means that no fuse lies before some places; nothing where one does."""
        named: dict[str, dict[str, None]] = {}
        for row in rows:
            for _, _, reason in row.clears:
                if NOTHING_CLEARS in reason:
                    named.setdefault(reason, {})[row.place.name] = None
        lines = tuple(f"{reason}: {', '.join(names)}" for reason, names in named.items())
        return (*lines, LIVE_WORK) if lines else ()

    def cable(self, row: CableRow) -> tuple[Cell, ...]:
        """Return the cells of one cable, under `CABLE_HEADS`."""
        figures = (row.size, row.drop, row.bend, row.lug, row.lightest)
        return tuple(self.cell(each).or_none() for each in figures)

    def coil(self, row: CoilRow) -> tuple[Cell, ...]:
        """Return the cells of one coil, under `COIL_HEADS`."""
        figures = (self.cell(each).or_none() for each in (row.holding, row.pull_in, row.drop_out))
        cut_back = {True: "yes", False: "no", None: UNKNOWN}[row.is_cut_back]
        return (*figures, Cell(cut_back))

    def highest(self, spans: Spans | None) -> str:
        """Return the highest voltage of a section: within it, else to the chassis; never none."""
        highest = 0.0 if spans is None else spans.between or spans.to_chassis
        return self.voltage(highest) if highest else UNKNOWN

    def spans(self, spans: Spans) -> str:
        """Return the voltages of a section: within it, after discharge, to the chassis."""
        pole = f"{self.voltage(spans.to_chassis)} to the chassis with one fault"
        if not spans.between:
            return f"{pole}; what stands within it is not known" if spans.to_chassis else UNKNOWN
        words = f"up to {self.voltage(spans.between)} within it"
        if spans.driven < spans.between:
            words += " until discharged and measured"
            if spans.driven:
                words += f" ({self.voltage(spans.driven)} after that)"
        return f"{words}, {pole}"

    def gaps(self, gaps: tuple[str, ...]) -> str:
        """Return what an open disconnect has to stand, and what it leaves; empty without one."""
        if not gaps:
            return ""
        highest = self.text(HIGHEST) or "the pack's voltage, not known"
        return (
            f"across the open {' and the open '.join(gaps)}: up to {highest}, the whole pack. Each "
            "terminal box keeps its own half; two faults to the chassis, one on each side of the "
            "gap, put the halves back in series."
        )

    def wait(self, row: SectionRow) -> Cell:
        """Return how long a section is waited for, or why there is no such time."""
        if not row.stores:
            return Cell(row.no_wait or "no time of its own")
        name = f"wait.{row.slug}.time"
        time = self.text(name)
        return (
            Cell(f"{time}, then measured", figure=name) if time else (Cell(row.no_wait or UNKNOWN))
        )

    def wait_in(self, row: SectionRow, state: SectionState) -> Cell:
        """Return how long a section is waited for in a state in which a source may reach it."""
        cell = self.wait(row)
        if not row.stores or not state.reached_by:
            return cell
        return replace(cell, text=f"once nothing reaches it: {cell.text}")

    def stranded(self, row: SectionRow) -> tuple[str, ...]:
        """Return which capacitors of a section a blown fuse leaves charged."""
        return tuple(
            f"{cut.capacitor.name}: no waiting time if the {' or the '.join(cut.fuses)} is blown"
            for cut in row.stranded
        )
