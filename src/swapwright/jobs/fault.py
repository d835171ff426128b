"""What happens when something in the circuit goes wrong, told from first instant to last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.assess.circuit.emptying import Emptied
from swapwright.assess.circuit.fault import NOTHING_CLEARS
from swapwright.assess.circuit.section import SectionState
from swapwright.assess.circuit.short import Borne, ShortResult
from swapwright.assess.circuit_query import section_spans
from swapwright.assess.queries import discharge_with, fault_at, number_of, welded_states
from swapwright.base.errors import InputError, Missing, Problem
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.jobs.account import Account, Fact, Moment
from swapwright.jobs.earthing import earth_accounts
from swapwright.jobs.lacking import typed
from swapwright.jobs.naming import circuit_in, elements_called, nodes_called, place_called
from swapwright.jobs.opening import Opened
from swapwright.jobs.precharging import PrechargeOrder, precharge_account
from swapwright.jobs.section_words import state_words
from swapwright.jobs.telling import tell

MOST_EARTHED = 2
_STATES = {"full": "full and warm", "low": "nearly empty and cold"}
CHARGES = tuple(_STATES)
"""The states of the pack a short is told for."""


@dataclass(frozen=True)
class FaultOrder:
    """What is to go wrong. ``at`` is a place for a dead short, the pack ``full`` or ``low``."""

    at: str | None = None
    charge: str = "full"
    welded: tuple[str, ...] = ()
    precharge: PrechargeOrder | None = None
    is_discharge: bool = False
    opened: tuple[str, ...] = ()
    earth: tuple[str, ...] = ()


def fault(opened: Opened, order: FaultOrder) -> tuple[Account, ...]:
    """Return what happens, one account for each thing asked; raise InputError where nothing is."""
    car, circuit = opened.car, circuit_in(opened.car, opened.file)
    accounts: list[Account] = []
    try:
        if order.at is not None:
            place = place_called(circuit, order.at)
            accounts.append(_short(fault_at(car, place, state=order.charge)))
        if order.welded:
            kinds = (model.CONTACTOR, model.PRECHARGE_RELAY)
            names = elements_called(circuit, "--welded", order.welded, kinds)
            accounts.append(_welded(car, names, order.welded))
        if order.precharge is not None:
            accounts.append(precharge_account(car, circuit, order.precharge, order.opened))
        if order.is_discharge:
            names = elements_called(circuit, "--open", order.opened)
            accounts += [_emptied(each, order.opened) for each in discharge_with(car, names)]
        if order.earth:
            accounts += _earthed(car, opened, order.earth)
    except Missing as missing:
        needs = ", ".join(typed(missing.paths, car))
        why = f"the build does not give {needs}" if needs else missing.reason
        problem = Problem(opened.file, "", f"what happens cannot be told: {why}")
        raise InputError(problem) from None
    if not accounts:
        allowed = "--at PLACE, --welded NAME, --precharge, --discharge or --earth TERMINAL"
        raise InputError(Problem("fault", "", "say what goes wrong", allowed=allowed))
    return tuple(accounts)


def _earthed(car: Car, opened: Opened, earth: tuple[str, ...]) -> tuple[Account, ...]:
    if len(earth) > MOST_EARTHED:
        allowed = "one terminal on the chassis, or two"
        raise InputError(Problem("--earth", "", "too many at once", str(len(earth)), allowed))
    nodes = nodes_called(circuit_in(car, opened.file), "--earth", earth)
    return earth_accounts(car, nodes)


def _short(result: ShortResult) -> Account:
    """Return the account of a dead short between the poles."""
    facts = [
        Fact("voltage", "voltage before it", result.voltage, "voltage"),
        Fact("prospective", "the pack alone would drive", result.prospective, "current"),
        Fact("time_constant", "L/R of the loop", result.time_constant, "time"),
        Fact("peak", "highest current, capacitors with it", result.peak, "current"),
        Fact("capacitor_peak", "most of it from one capacitor", result.capacitor_peak, "current"),
        Fact("capacitor_energy", "energy in the capacitors", result.capacitor_energy, "energy"),
    ]
    if result.ended is None:
        facts.append(Fact("ended", "ended after", None, "time", result.why))
    else:
        facts.append(Fact("ended", "ended after", result.ended, "time"))
    where = f"the poles joined at {result.place.name}, pack {_STATES[result.state]}"
    return Account(
        f"Dead short: {where}",
        tuple(facts),
        _moments(result),
        (("What had to bear it", tuple(f for each in result.borne for f in _borne(each))),)
        if result.borne
        else (),
        _short_notes(result),
    )


def _moments(result: ShortResult) -> tuple[Moment, ...]:
    found = [Moment(0.0, f"the poles are joined at {result.place.name}")]
    if result.capacitor_peak > 0.0:
        peak = tell(result.peak, "current", "metric")
        found.append(Moment(result.peak_time, f"{peak}: pack and link capacitors together"))
    end = result.ended
    if end is None or result.time_constant < end:
        settled = tell(result.prospective, "current", "metric")
        words = f"the pack's own current has risen to two thirds of its {settled}"
        found.append(Moment(result.time_constant, words))
    for each in result.opened:
        if each.melts is not None:
            i2t = tell(each.i2t, "joule_integral", "metric")
            found.append(Moment(each.melts, f"{each.device} has melted ({i2t}) and arcs"))
        if each.clears is not None:
            found.append(Moment(each.clears, f"{each.device} has cleared"))
    found.sort(key=lambda moment: moment.time)
    if end is None:
        found.append(Moment(result.times[-1], f"{result.why}: it goes on until something burns"))
    return tuple(found)


def _borne(each: Borne) -> tuple[Fact, ...]:
    key = model.slug(each.device)
    peak = Fact(f"{key}.peak", f"{each.device}, peak", each.peak, "current")
    if each.withstand is None:
        words = ", no withstand is known of it"
    else:
        words = f"of {tell(each.withstand, 'joule_integral', 'metric')} it bears"
    if each.lasts is not None:
        words = f"borne for {tell(each.lasts, 'time', 'metric')} only; nothing ends it by then"
        return peak, Fact(f"{key}.lasts", f"{each.device}, I2t", None, "", words)
    return peak, Fact(f"{key}.i2t", f"{each.device}, I2t", each.i2t, "joule_integral", words)


def _short_notes(result: ShortResult) -> tuple[str, ...]:
    notes = []
    if NOTHING_CLEARS in result.why:
        notes.append(
            "Nothing clears this fault. Work here is live work however the disconnect stands, and "
            "arc energy is counted for 2 s."
        )
    elif result.ended is None:
        notes.append("The fuse in its path is no protection here.")
    notes.append(
        "A fuse here melts at the middle of its make and clears on the I2t of its sheet; a slow "
        "one takes longer (`swapwright circuit` has the longest). An arc at the fault draws less."
    )
    return tuple(notes)


def _welded(car: Car, names: Sequence[str], said: Sequence[str]) -> Account:
    """Return what stays live with the key off when contactors have welded."""
    states = welded_states(car, names)
    facts = tuple(fact for each in states for fact in _section(car, each))
    return Account(
        f"Key off, welded: {', '.join(said)}; every other contactor taken as open",
        facts,
        notes=(
            "That the others are open is taken for this answer only. None counts as open on a car "
            "before it has been measured, and a second one may have welded unseen.",
            "Signs: the link holds its voltage with the key off, precharge is over at once, the "
            "pack controller reads the same on both sides of the contactor.",
        ),
    )


def _section(car: Car, state: SectionState) -> tuple[Fact, ...]:
    slug, name = state.section.slug, state.section.name
    voltage = car_voltage(car)
    told = Fact(f"{slug}.state", name, None, "", state_words(state))
    if voltage is None or not state.span:
        return (told,)
    words = "until discharged and measured" if state.rests_on_charge else ""
    highest = section_spans(state, voltage).between
    return (
        told,
        Fact(f"{slug}.span", "  highest between two points of it", highest, "voltage", words),
    )


def car_voltage(car: Car) -> float | None:
    """Return the highest voltage that can stand in a car's circuit, None where not known."""
    return number_of(car, "pack.max_working_voltage")


def _emptied(each: Emptied, opened: Sequence[str]) -> Account:
    """Return how a section empties once its contactors are open."""
    slug = each.section.slug
    facts = [
        Fact(f"{slug}.voltage", "voltage at the start", each.voltage, "voltage"),
        Fact(f"{slug}.capacitance", "capacitance", each.capacitance, "capacitance"),
        Fact(f"{slug}.energy", "energy, all as marked", each.energy, "energy"),
    ]
    notes = []
    if each.paths:
        facts += [
            Fact(f"{slug}.to_60v", "to 60 V, all as marked", each.to_60v, "time"),
            Fact(f"{slug}.to_energy", "to 0.2 J, all as marked", each.to_energy, "time"),
        ]
        facts += [
            Fact(f"{slug}.took.{model.slug(name)}", f"taken by {name}", joules, "energy")
            for name, joules in each.took.items()
        ]
    elif each.capacitance > 0.0:
        notes.append(
            "Nothing empties this section any more: no waiting time exists. It is discharged by "
            "the maker's method, as live work."
        )
    if each.wait is None:
        facts.append(Fact(f"{slug}.wait", "waiting time", None, "time", each.no_wait))
    elif each.paths:
        words = ", everything at its worst and one path failed; not measured"
        facts.append(Fact(f"{slug}.wait", "waiting time", each.wait, "time", words))
    notes.append("Waiting is no proof: it is measured, and may rise again.")
    without = f", without {', '.join(opened)}" if opened else ""
    return Account(f"Discharge of {each.section.name}{without}", tuple(facts), notes=tuple(notes))
