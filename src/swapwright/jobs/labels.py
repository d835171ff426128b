"""Labels: what is stuck on an item or hung on a car, with a QR code that leads to its page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.jobs.shop_equipment import ItemRow

QUIET = 4
"""Modules of white around a code, without which a reader does not find it."""


@dataclass(frozen=True)
class Label:
    """One label: what the item is, its number, what it says of its dates, its page and the code."""

    name: str
    kind: str
    serial: str
    said: tuple[str, ...]
    address: str
    code: str


def labels_of(rows: Iterable[ItemRow], base: str) -> tuple[Label, ...]:
    """Return the labels of items; ``base`` is the shop's own address, to which a code leads."""
    return tuple(_label(each, base) for each in rows)


def qr_svg(text: str) -> str:
    """Return a text as a QR code: an SVG in black and white that takes the size it is given."""
    import segno

    code = segno.make(text, error="m", micro=False)
    return code.svg_inline(
        border=QUIET, omitsize=True, dark="#000000", light="#ffffff", svgclass="qr", lineclass=None
    )


def _label(row: ItemRow, base: str) -> Label:
    item = row.item
    address = f"{base.rstrip('/')}/shop/equipment/{item.id}"
    said = [str(item.data["class"])] if item.kind == "gloves" and item.data.get("class") else []
    said = [f"class {each}" for each in said]
    if row.until:
        said.append(f"until {row.until}, as printed")
    else:
        said.append(row.due.state)
    return Label(item.name, item.kind, item.serial, tuple(said), address, qr_svg(address))
