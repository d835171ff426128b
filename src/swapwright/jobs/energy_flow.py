"""Where the energy of the city range goes, told part by part: pack, drive, road, and back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from swapwright.assess.energy_flow import EnergyFlow, city_flow
from swapwright.base.display import show
from swapwright.base.errors import Missing
from swapwright.drawing.energy_flow import Station, Stream, flow_drawing
from swapwright.jobs.check import Checked
from swapwright.jobs.telling import tell

NET = "consumption.city"
"""The figure that is what leaves the pack less what comes back."""
LEAST = 1e-9
"""Share of what is stored below which there is nothing to tell."""
_UNITS = {"metric": "Wh/km", "us": "Wh/mi", "uk": "Wh/mi"}


@dataclass(frozen=True)
class FlowRow:
    """One energy: J per metre, as a text in one unit, and as a share of what the cells gave.

    ``figure`` is the id of the figure it is, empty where it is none.
    """

    label: str
    energy: float
    text: str
    share: str
    figure: str = ""


@dataclass(frozen=True)
class FlowPart:
    """One part of the way: what enters it, from above first, and what leaves it."""

    title: str
    into: tuple[FlowRow, ...]
    out: tuple[FlowRow, ...]
    total: FlowRow
    """What enters in all; what leaves in all is the same."""


@dataclass(frozen=True)
class Flow:
    """The whole way, and the rows its parts share: from above, and back."""

    parts: tuple[FlowPart, ...]
    net: FlowRow
    given: FlowRow
    down: tuple[FlowRow, ...]
    back: tuple[FlowRow | None, ...]


def energy_flow(checked: Checked, profile: str) -> Flow | None:
    """Return where a car's energy goes on the city cycle; None where it has no city range."""
    if NET not in checked.assessment.figures:
        return None
    try:
        flow = city_flow(checked.opened.car)
    except Missing:
        return None
    if flow.stored <= 0.0:
        return None
    return _flow(flow, profile)


def _flow(flow: EnergyFlow, profile: str) -> Flow:
    def row(label: str, energy: float, figure: str = "") -> FlowRow:
        return FlowRow(
            label,
            energy,
            show(energy, "consumption", profile=profile, unit=_UNITS[profile]),
            tell(energy / flow.stored, "fraction", profile),
            figure,
        )

    def part(title: str, into: tuple[FlowRow, ...], out: tuple[FlowRow, ...]) -> FlowPart:
        given = tuple(each for each in into if abs(each.energy) > LEAST * flow.stored)
        left = [each for each in out if each.energy > LEAST * flow.stored]
        # A wind from behind drives the car: what would leave enters.
        turned = tuple(
            row(f"{each.label}, from behind", -each.energy)
            for each in out
            if each.energy < -LEAST * flow.stored
        )
        entering = (*given, *turned)
        return FlowPart(
            title, entering, tuple(left), row("in all", sum(each.energy for each in entering))
        )

    stored = row("out of the cells", flow.stored)
    out, back = row("out of the pack", flow.pack_out), row("back into the pack", flow.pack_in)
    driving = row("driving the wheels", flow.driving)
    braking = row("braking, taken by the motors", flow.recovered)
    parts = (
        part("pack", (stored, back), (row("heat in the cells", flow.pack_heat), out)),
        part(
            "inverter, motor, gears",
            (out, braking),
            (
                row("loads beside the drive", flow.auxiliaries),
                row("inverter, heat", flow.inverter),
                row("motor, heat", flow.motor),
                row("gears, heat", flow.gears),
                driving,
                back,
            ),
        ),
        part(
            "wheels and road",
            (driving,),
            (
                row("tyres", flow.tyres),
                row("air", flow.air),
                row("height gained", flow.climb),
                row("friction brakes", flow.friction),
                row("speed at the end", flow.speed),
                braking,
            ),
        ),
    )
    net = row("net, out of the pack", flow.pack_out - flow.pack_in, NET)
    return Flow(parts, net, stored, (stored, out, driving), (None, back, braking))


def flow_svg(flow: Flow, name: str) -> str:
    """Return the picture of a car's flow as an SVG file."""
    title = f"{name}: where the energy goes on the city cycle"
    return flow_drawing(tuple(_stations(flow)), title=title)


def _stations(flow: Flow) -> Iterator[Station]:
    shared = {*flow.down, *(each for each in flow.back if each is not None)}
    for part, down, back in zip(flow.parts, flow.down, flow.back, strict=True):
        off = [
            Stream(each.label, each.text, each.energy) for each in part.out if each not in shared
        ]
        off += [
            Stream(each.label, each.text, each.energy, is_inward=True)
            for each in part.into
            if each not in shared
        ]
        is_there = back is not None and back.energy > LEAST * flow.given.energy
        yield Station(
            part.title,
            Stream(down.label, down.text, down.energy),
            Stream(back.label, back.text, back.energy) if back is not None and is_there else None,
            tuple(off),
        )
