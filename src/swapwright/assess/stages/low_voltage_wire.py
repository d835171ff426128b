"""The wires of the 12 V side: what each may carry where it lies, its fuse, the voltage it loses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.physics.circuit.carried import temperature_at_current
from swapwright.physics.circuit.conductor import conductor_resistance, pair_voltage_drop
from swapwright.physics.low_voltage.wire import fuse_wanted, share_lost, wire_ampacity
from swapwright.standards import conductors as table
from swapwright.standards.low_voltage import ALONE, FUSE_SHARE, LOOM_FACTOR

AIR = "hv.working_temperature"
BY_ITSELF = table.ROUTINGS["conduit"].factor
"""The two main runs lie by themselves, in conduit."""


@dataclass(frozen=True)
class Run:
    """One wire out and back: the start of its figures' ids, its name, its entries, its current."""

    figures: str
    name: str
    size: str
    length: str
    current: str
    factor: Value


MAIN = Run(
    "lv.main",
    "the main 12 V run",
    "lv.main.size",
    "lv.main.length",
    "lv.worst_peak",
    BY_ITSELF,
)
FEED = Run(
    "lv.feed",
    "the converter's 12 V run",
    "lv.feed.size",
    "lv.feed.length",
    "lv.dcdc_current",
    BY_ITSELF,
)


def wires(book: FigureBook, loads: Mapping[int, tuple[str, str]]) -> None:
    """Write the two main runs, and the wire of every load that says something of it.

    ``loads`` gives the name of each load and where its current stands, by its row.
    """
    for run in (MAIN, FEED):
        _run(book, run)
    for row, (name, current) in loads.items():
        at = f"lv.load[{row}]"
        if book.has(f"{at}.wire") or book.has(f"{at}.length") or book.has(f"{at}.fuse"):
            run = Run(
                f"lv.load.{row}",
                f"the wire of {name}",
                f"{at}.wire",
                f"{at}.length",
                current,
                LOOM_FACTOR,
            )
            _run(book, run)


def _run(book: FigureBook, run: Run) -> None:
    """Write what a run may carry, the fuse its current wants, and the voltage it loses."""
    start = run.figures
    book.make(
        fuse_wanted,
        f"{start}.fuse_wanted",
        label=f"smallest fuse that lasts in {run.name}",
        current=run.current,
        fuse_share=FUSE_SHARE,
    )
    hottest, resistance = _ampacity(book, run), _resistance_per_length(book, run)
    if hottest is None or resistance is None:
        return
    book.make(
        temperature_at_current,
        f"{start}.temperature",
        label=f"conductor of {run.name}",
        ambient=AIR,
        max_temperature=hottest,
        current=run.current,
        ampacity=f"{start}.ampacity",
    )
    book.make(
        conductor_resistance,
        f"{start}.resistance",
        label=f"resistance of {run.name}, one way",
        resistance_per_length=resistance,
        length=run.length,
        temperature=f"{start}.temperature",
        reference_temperature=table.RESISTANCE_TEMPERATURE,
        temperature_coefficient=table.COPPER_TEMPERATURE_COEFFICIENT,
    )
    book.make(
        pair_voltage_drop,
        f"{start}.drop",
        label=f"voltage lost in {run.name}, out and back",
        current=run.current,
        resistance=f"{start}.resistance",
    )
    book.make(
        share_lost,
        f"{start}.drop_share",
        label=f"share of the voltage lost in {run.name}",
        drop=f"{start}.drop",
        voltage="lv.voltage",
    )


REST = ("ampacity", "ampacity_alone", "resistance", "drop", "drop_share")


def _ampacity(book: FigureBook, run: Run) -> Value | None:
    """Write what a run may carry; return the hottest its conductor may be."""
    with book.attempt(*(f"{run.figures}.{figure}" for figure in REST)):
        grade = table.INSULATION_CLASSES[book.car.text("lv.insulation")]
        amps = table.loom_wire_current(book.number(run.size))
        if amps is None:
            raise Missing(reason=f"no table of currents reaches the size of {run.name}")
        for figure, where, factor in (
            ("ampacity", "", run.factor),
            ("ampacity_alone", ", alone in air", ALONE),
        ):
            book.make(
                wire_ampacity,
                f"{run.figures}.{figure}",
                label=f"current {run.name} may carry for good{where}",
                rated_current=Value(amps, "A", "standard", table.LOOM_WIRE.source),
                rated_temperature=table.LOOM_WIRE.conductor_temperature,
                rated_ambient=table.LOOM_WIRE.ambient,
                max_temperature=grade.max_temperature,
                ambient=AIR,
                loom_factor=factor,
            )
        return grade.max_temperature
    return None


def _resistance_per_length(book: FigureBook, run: Run) -> Value | None:
    """Return the resistance of a run's conductor for each metre, None where no size is given."""
    size = book.get(run.size)
    if size is None:
        return None
    thicker = (row.source for row in table.CLASS_5 if row.area >= size)
    source = next(thicker, table.CLASS_5_SOURCE)
    return Value(table.class_5_resistance(size), "ohm/m", "standard", source)
