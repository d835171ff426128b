"""A pole on the chassis, told: voltages, what a touch meets, and the way round for a second one."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess.circuit.earth import EarthResult
from swapwright.assess.circuit.fault import NOTHING_CLEARS
from swapwright.assess.queries import earthed
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit
from swapwright.jobs.account import Account, Fact
from swapwright.jobs.telling import tell

_FELT = 1.0
"""V below which a point counts as on the chassis itself."""

BODY_NOTE = (
    "A touch is a dry hand to hand body, the most exposed twentieth of people, with no time limit "
    "named: no current here is called bearable."
)


def earth_accounts(car: Car, nodes: Mapping[str, str]) -> tuple[Account, ...]:
    """Return what one or two terminals on the chassis do, the disconnect closed and open."""
    said = " and ".join(nodes)
    circuit = circuit_of(car)
    return tuple(_account(said, circuit, each) for each in earthed(car, tuple(nodes.values())))


def _account(said: str, circuit: Circuit, result: EarthResult) -> Account:
    facts = [
        _voltage(name, volts, result.from_link.get(name)) for name, volts in result.voltages.items()
    ]
    facts += [
        Fact(f"gap.{model.slug(name)}", f"across the open {name}", volts, "voltage", _floats(volts))
        for name, volts in result.gaps.items()
    ]
    if result.between is not None and result.poles is not None:
        facts.append(Fact("poles", "from pole to pole, by the pack", result.poles, "voltage"))
    facts += [
        Fact(
            f"touch.{model.slug(each.node)}",
            f"through a body, {each.node} to chassis",
            each.current,
            "current",
            "at first, from the link" if each.node in result.from_link else "",
        )
        for each in result.touched
        if abs(each.voltage) > _FELT
    ]
    facts.append(Fact("y_energy", "in the capacitors to the chassis", result.y_energy, "energy"))
    facts += _through(result)
    if not circuit.of_kind(model.DISCONNECT):
        gap = "no disconnect"
    else:
        gap = "disconnect open" if result.is_gap_open else "disconnect closed"
    return Account(
        f"On the chassis: {said}; contactors closed or welded, {gap}",
        tuple(facts),
        notes=_notes(circuit, result),
    )


def _voltage(name: str, volts: float | None, from_link: float | None) -> Fact:
    key, label = f"voltage.{model.slug(name)}", f"{name} to chassis"
    if from_link is None:
        return Fact(key, label, volts, "voltage", _floats(volts))
    told = tell(abs(from_link), "voltage", "metric")
    link = f"up to {told} from the link until it is discharged"
    words = f"from the pack; {link}" if volts is not None else f"{_floats(volts)}; {link}"
    return Fact(key, label, volts, "voltage", words)


def _floats(volts: float | None) -> str:
    return "" if volts is not None else "floats: any voltage up to the pack's"


def _through(result: EarthResult) -> list[Fact]:
    """Return what flows through the chassis between two points on it, and what ends it."""
    if result.between is None:
        return []
    label = "through the chassis"
    if result.between <= 0.0:
        facts = [Fact("between", label, None, "", result.why)]
    else:
        facts = [
            Fact("between", label, result.between, "current"),
            _ended("ended", "ended after", result.ended, result.fuse, result.why),
        ]
    found = result.bridged
    if found is not None:
        short = "a short between the pack's terminals, by the chassis"
        facts += [
            Fact("short", short, found.current, "current"),
            _ended("short_ended", "that short ended after", found.ended, found.fuse, found.why),
        ]
    return facts


def _ended(key: str, label: str, time: float | None, fuse: str, why: str) -> Fact:
    if time is None:
        return Fact(key, label, None, "time", why)
    return Fact(key, label, time, "time", f"by the {fuse}, at the latest")


def _notes(circuit: Circuit, result: EarthResult) -> tuple[str, ...]:
    notes = []
    if result.between is None:
        notes.append(
            "One fault draws next to no current and no fuse sees it: the car drives on, and the "
            "second one does the harm. Find it now."
        )
    elif result.bridged is not None:
        notes += _bridging(circuit, result)
    elif result.beside:
        notes.append(
            f"The chassis lies beside {', '.join(result.beside)}: it takes its share of the load's "
            "current, and to open what it lies beside no longer parts the circuit."
        )
        notes += _bypassed(circuit, result)
    elif result.between <= 0.0 and result.is_gap_open:
        notes.append(
            "The open disconnect breaks the way round, but both halves now hang on the chassis: "
            "as much of the pack as stands across the gap meets whoever bridges it."
        )
    elif result.is_gap_open:
        notes.append("The open disconnect does not break this way round: it goes by the chassis.")
    if result.from_link:
        notes.append(
            "The contactors count as welded and the link as charged: open, the disconnect does not "
            "part the poles from it."
        )
    notes.append(BODY_NOTE)
    return tuple(notes)


def _bridging(circuit: Circuit, result: EarthResult) -> list[str]:
    poles = "" if result.poles is None else tell(abs(result.poles), "voltage", "metric")
    notes = [
        "The chassis bridges the gap: the car is as live as with the disconnect closed, and a fuse "
        f"in the gap is bypassed.{f' From pole to pole: {poles}.' if poles else ''}",
        *_bypassed(circuit, result),
    ]
    if result.bridged is not None and NOTHING_CLEARS in result.bridged.why:
        notes.append("A short between the pack's terminals is cleared by nothing here.")
    return notes


def _bypassed(circuit: Circuit, result: EarthResult) -> list[str]:
    fuses = [each.name for each in circuit.devices_of(model.FUSE) if each.name in result.beside]
    return [f"Bypassed, and no protection any more: {', '.join(fuses)}."] if fuses else []
