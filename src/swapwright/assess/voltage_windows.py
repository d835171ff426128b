"""The windows of a car's parts in volts: what the pack has to stay within in every state."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.assess.book import FigureBook
from swapwright.base.curve import Mark
from swapwright.build.circuit import model

_ENDS = (
    ("inverter, highest running", "drive.inverter.max_voltage"),
    ("inverter, absolute maximum", "drive.inverter.absolute_max_voltage"),
    ("inverter, lowest", "drive.inverter.min_voltage"),
    ("second inverter, highest running", "drive.second.inverter.max_voltage"),
    ("second inverter, absolute maximum", "drive.second.inverter.absolute_max_voltage"),
    ("second inverter, lowest", "drive.second.inverter.min_voltage"),
    ("charger, highest", "charging.charger.max_voltage"),
    ("charger, lowest", "charging.charger.min_voltage"),
    ("dc-dc, highest", "lv.dcdc.max_voltage"),
    ("dc-dc, lowest", "lv.dcdc.min_voltage"),
    ("cells, charge end", "pack.voltage_full"),
    ("cells, lowest", "pack.voltage_empty"),
)

_RATED = (
    ("contactors", (model.CONTACTOR, model.PRECHARGE_RELAY)),
    ("fuses", (model.FUSE,)),
)
"""What breaks the pack's voltage: of each the weakest counts; a precharge relay is a contactor."""


def voltage_windows(book: FigureBook) -> tuple[Mark, ...]:
    """Return a level for each end of a part's window and for the lowest ratings that are known."""
    found = ((label, book.get(path)) for label, path in _ENDS)
    windows = (Mark(label, y=level) for label, level in found if level is not None)
    return (*windows, *_ratings(book))


def _ratings(book: FigureBook) -> Iterator[Mark]:
    """Yield the lowest dc rating of each kind; one that is unrated may bear less than it."""
    for name, kinds in _RATED:
        ratings = [book.get(each.entry("voltage")) for each in book.circuit.devices_of(*kinds)]
        known = [rating for rating in ratings if rating is not None]
        if known:
            words = "lowest rating" if len(known) == len(ratings) else "lowest rating known"
            yield Mark(f"{name}, {words}", y=min(known))
