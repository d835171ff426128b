"""What a fitter needs of the circuit's cables and coils: sizes, bends, lugs, what holds a coil."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.base.figure import LookedUp
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device
from swapwright.jobs.lacking import reason_of

CABLE_NOTES = (
    "lightest: the thinnest standard size that bears the current for good, the simulated runs, its "
    "fuse and a short circuit where this cable lies, and what the next thinner one does not bear; "
    "it does not look at the voltage lost",
    "Lugs (common practice, no source): of the cable's own size and for fine strands, crimped with "
    "the die their maker names, one of each batch cut open or pulled; bare faces flat on each "
    "other, no washer between them, tightened to the part's own torque and marked; under load "
    "they run no hotter than here.",
    "Glands (common practice, no source): for the outer diameter this cable measures, its screen "
    "clamped all round, the cable held just behind so that nothing pulls at the gland, and the "
    "bend begun beyond it.",
)
COIL_NOTES = (
    "holding: what the coil draws once closed. A coil that is cut back draws several times as much "
    "for the moment it closes: its supply, and the interlock and stop contacts in it, carry that "
    "too, and each dip of the 12 V that opens it makes it close again under load.",
    "Coils (common practice, no source): a plain diode across a coil slows the opening, and slow "
    "contacts burn: clamp it as its maker says, and leave a coil with electronics of its own as it "
    "comes.",
)

COILS = (model.CONTACTOR, model.PRECHARGE_RELAY)


@dataclass(frozen=True)
class CableRow:
    """One cable: ids of its figures, and why the next thinner size would not do.

    ``limits`` says why there is no lightest size where ``lightest`` has no figure.
    """

    device: Device
    size: str
    drop: str
    bend: str
    lug: str
    lightest: str
    limits: str


@dataclass(frozen=True)
class CoilRow:
    """One contactor's coil: build paths of what it draws and needs, and whether it is cut back."""

    device: Device
    holding: str
    pull_in: str
    drop_out: str
    is_cut_back: bool | None


def cable_rows(assessment: Assessment, circuit: Circuit) -> tuple[CableRow, ...]:
    """Return what is to know of each cable before it is bought and laid."""
    rows = []
    for device in circuit.devices_of(model.CABLE):
        name: Callable[[str], str] = f"circuit.{device.slug}.{{}}".format
        figure = assessment.figures.get(name("lightest"))
        working = None if figure is None else figure.working
        if isinstance(working, LookedUp):
            limits = working.row
        else:
            limits = reason_of(assessment, name("lightest")) or "not known"
        rows.append(
            CableRow(
                device,
                device.entry("size"),
                name("drop"),
                name("bend_radius"),
                name("lug_temperature"),
                name("lightest"),
                limits,
            )
        )
    return tuple(rows)


def coil_rows(car: Car, circuit: Circuit) -> tuple[CoilRow, ...]:
    """Return what is to know of each coil before it is wired."""
    return tuple(
        CoilRow(
            device,
            device.entry("coil_power"),
            device.entry("pull_in"),
            device.entry("drop_out"),
            car.flags.get(device.entry("economiser")),
        )
        for device in circuit.devices_of(*COILS)
    )
