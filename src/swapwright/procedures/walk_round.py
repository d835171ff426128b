"""The walk round the car: the file is not the car until a qualified person has looked.

One step for each part, gap, cable and measuring point, each with a photo. What differs ends the
run: the design does not hold for this car.
"""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element, slug
from swapwright.procedures.points import MeasuringPoint
from swapwright.procedures.protection import DRY, NO_METAL
from swapwright.procedures.step import Step
from swapwright.standards import procedures as table

PHASE = "Walk round the car"
NOT_CONFIRMED = "design, not confirmed"
_UNSEEN = "Open no cover for it and touch nothing: high voltage may stand anywhere orange goes."
_WHY = "The file is not the car. What differs makes every later step wrong."
_NOT_FOUND = "A source that is not found is not opened."
_PARTS = model.CONVERTERS | {model.PACK}


def walk_round(
    circuit: Circuit, points: Iterable[MeasuringPoint], phases: Iterable[Element]
) -> tuple[Step, ...]:
    """Return the steps that confirm the car against its revision, and the signature at the end."""
    devices = circuit.devices
    return (
        *(_part(each) for each in devices if each.kind in _PARTS),
        *(_gap(each) for each in devices if each.kind == model.DISCONNECT),
        *(_cable(each) for each in devices if each.kind == model.CABLE),
        *(_point(each) for each in points),
        *(_phases(each) for each in phases),
        _labels(),
        _more("the file", _WHY),
        _sign(),
    )


def walk_without_file() -> tuple[Step, ...]:
    """Return the steps that find everything by eye, where there is no file to walk against."""
    found = (
        ("cables", "Orange cables", "Follow every orange cable from end to end, and draw it."),
        ("packs", "Packs", "Find every box that may hold cells, under covers and seats too."),
        (
            "gaps",
            "Disconnects",
            "Find every disconnect, how it opens, and whether it can be locked or taken out. One "
            "may stand in a pack you have not found yet.",
        ),
        (
            "parts",
            "Converters and inlets",
            "Find every inverter, charger, dc-dc converter, heater, compressor and inlet.",
        ),
        ("labels", "Labels", "Read every label on them, and distrust it."),
    )
    return (
        *(_step(f"walk.find.{name}", title, words, (), _NOT_FOUND) for name, title, words in found),
        _more("your drawing", _NOT_FOUND),
        Step(
            "walk.sign",
            PHASE,
            "sign",
            "What was found",
            "Sign the drawing of what was found. It confirms no design: none is there.",
            sources=(table.WALK_ROUND,),
        ),
    )


def _step(step_id: str, title: str, words: str, about: tuple[str, ...], why: str = _WHY) -> Step:
    return Step(
        step_id,
        PHASE,
        "confirm",
        title,
        words,
        why,
        about,
        ppe=(NO_METAL, DRY),
        cautions=(_UNSEEN,),
        sources=(table.WALK_ROUND,),
        photo=True,
    )


def _part(device: Device) -> Step:
    return _step(
        f"walk.part.{device.slug}",
        f"Part: {device.name}",
        f"Find the {device.name}: it is where the file has it, it is what the file says it is, its "
        "label is on it, and no cable goes to it that the file does not show.",
        tuple(each.name for each in device.elements),
    )


def _gap(device: Device) -> Step:
    return _step(
        f"walk.gap.{device.slug}",
        f"Gap: {device.name}",
        f"Find the {device.name}: it can be opened by hand without tools on live parts, it can be "
        "locked open or its part taken out and kept, its label is on it, it stands where the "
        "file has it, and a probe reaches both its sides. One for each string.",
        tuple(each.name for each in device.elements),
    )


def _cable(device: Device) -> Step:
    return _step(
        f"walk.cable.{device.slug}",
        f"Cable ends: {device.name}",
        f"Follow the {device.name} from end to end: both ends go where the file says, nothing "
        "branches off, the covering is orange and whole.",
        tuple(each.name for each in device.elements),
    )


def _point(point: MeasuringPoint) -> Step:
    return _step(
        f"walk.point.{point.slug}",
        f"Measuring point: {point.name}",
        f"Find where a probe reaches the conductors at the {point.name}: a connector or a terminal "
        "under a cover that comes off by itself. Write down which connector it is, and a bare "
        "place on the chassis beside it.",
        point.about,
    )


def _phases(unit: Element) -> Step:
    return _step(
        f"walk.phases.{slug(unit.name)}",
        f"Measuring point: motor phases at {unit.name}",
        f"Find where a probe reaches the three phases of the motor at the {unit.name}: its phase "
        "terminals, or those of the motor. Write down which.",
        (unit.name,),
    )


def _labels() -> Step:
    return _step(
        "walk.labels",
        "Labels",
        "The high-voltage signs, the label at each disconnect and the rescue sheet are on the car, "
        "can be read, and say what the file says.",
        (),
    )


def _more(what: str, why: str) -> Step:
    return _step(
        "walk.more",
        f"Anything {what} does not show",
        f"Look for what is not in {what}: a second pack, a solar panel, a power socket, a second "
        "charger, an orange cable without a name, anything wet, burnt or crushed.",
        (),
        why,
    )


def _sign() -> Step:
    return Step(
        "walk.sign",
        PHASE,
        "sign",
        "The car is as the file has it",
        "Sign that each part, gap, label, cable end and measuring point was found as the revision "
        f"has it. Until then the procedure is '{NOT_CONFIRMED}'. If anything differs, do not "
        "sign: say what, and the run ends.",
        _WHY,
        sources=(table.WALK_ROUND,),
    )
