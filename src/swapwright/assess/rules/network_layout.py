"""How a network is put together: terminators, bit rates, identifiers, and who tells whom what."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from swapwright.assess.context import Context, EachFunction, Rule, Subject, judged
from swapwright.assess.rules.compare import said_of
from swapwright.assess.rules.network import NO_BUS, bus_subject, buses
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.finding import Finding, Verdict
from swapwright.build.car import Car
from swapwright.build.network import (
    BUS,
    MESSAGE,
    Bus,
    Message,
    Network,
    is_extended,
    role_of,
    roles_on,
)
from swapwright.physics.network.identifier import source_address
from swapwright.standards import network as table
from swapwright.standards.margins import NO_BAND

TERMINATION = ("iso-11898-2-2016-termination", "can-termination-band-practice")


@dataclass(frozen=True)
class _Said:
    """What a rule says where all is well, where something is wrong, what to do, and its sources."""

    inside: str
    beyond: str
    remedy: str
    sources: tuple[str, ...]


def _found(
    rule: str, subject: Subject, wrong: Iterable[str], outside: Verdict, said: _Said
) -> Finding:
    """Return a finding that is met where nothing is wrong, and else names what is."""
    names = ", ".join(wrong)
    text = f"{said.beyond} ({names})" if names else said.inside
    return Finding(
        rule=rule,
        subject=subject.path,
        verdict=outside if names else "met",
        text=said_of(subject, text) if subject.name else text,
        remedy=said.remedy if names else "",
        sources=said.sources,
    )


def _bus(context: Context, each: Subject) -> Bus:
    return next(bus for bus in context.book.network.buses if bus.path == each.path)


_TERMINATORS = _Said(
    "A terminator sits at each end of the wire, and nowhere else.",
    "The two ends of the wire do not have one terminator each of the line's resistance: every edge comes back from there and is read as a bit of its own.",
    "Fit a terminator of the line's resistance at the first and at the last node of the wire, switch off any inside a node between, and measure between the two wires with the power off.",
    ("iso-11898-2-2016-termination",),
)


def _terminators(context: Context, each: Subject) -> Iterator[Finding]:
    nodes = context.car.words(f"{each.path}.nodes")
    fitted = context.car.words(f"{each.path}.terminated_at")
    if not nodes:
        raise Missing(f"{each.path}.nodes")
    ends = [nodes[0], nodes[-1]]
    wrong = [] if sorted(fitted) == sorted(ends) else [f"ends at {' and '.join(ends)}"]
    if wrong:
        wrong.append(f"terminators at {' and '.join(fitted)}" if fitted else "no terminator")
    each_is, wanted = context.value(f"{each.path}.terminator"), table.TERMINATOR
    if fitted and abs(each_is.si - wanted.si) > table.TERMINATOR_BAND.si * wanted.si:
        wrong.append(f"terminators of {each_is.si:.0f} ohm instead of {wanted.si:.0f} ohm")
    yield _found("network.terminators", each, wrong, "fix", _TERMINATORS)


NOT_TERMINATED = "Far more than two terminators side by side: one or both are not there, or a wire is broken between."
TOO_MANY = "Less than two terminators side by side: one too many is fitted or switched on, or the wires touch."


def _termination(context: Context, each: Subject) -> Iterator[Finding]:
    measured = context.value(f"{each.path}.measured_resistance")
    is_low = measured.si < table.MIN_BUS_RESISTANCE.si
    is_high = measured.si > table.MAX_BUS_RESISTANCE.si
    if not is_low and not is_high:
        unlike = tuple(_as_listed(context, each, measured))
        if unlike:
            yield from unlike
            return
    text = "The two wires measure two terminators side by side."
    if is_low or is_high:
        text = (
            f"{TOO_MANY if is_low else NOT_TERMINATED} (Measured between the two wires, power off.)"
        )
    yield judged(
        "network.termination",
        each.path,
        measured,
        table.MIN_BUS_RESISTANCE if is_low else table.MAX_BUS_RESISTANCE,
        sense="at_least" if is_low else "at_most",
        outside="fix",
        text=said_of(each, text),
        remedy=_TERMINATORS.remedy,
        sources=TERMINATION,
        watch=NO_BAND.si,
    )


NOT_AS_LISTED = "Not what the terminators listed make side by side: the list, a terminator or the wire is not as it is thought to be."


def _as_listed(context: Context, each: Subject, measured: Value) -> Iterator[Finding]:
    """Find fault with a bus that measures as it should but not as its own list says."""
    listed = context.book.get(f"network.{each.slug}.fitted_resistance")
    if listed is None or abs(measured.si - listed) <= table.TERMINATOR_BAND.si * listed:
        return
    name = f"network.{each.slug}.fitted_resistance"
    yield judged(
        "network.termination",
        each.path,
        measured,
        context.value(name),
        sense="at_least" if measured.si < listed else "at_most",
        outside="fix",
        text=said_of(each, NOT_AS_LISTED),
        remedy="Measure each terminator by itself, and correct the list or the terminator.",
        sources=TERMINATION,
        figures=(name,),
        watch=NO_BAND.si,
    )


_BIT_RATES = _Said(
    "Every node is set to the bit rate of its bus.",
    "Two bit rates on one bus: a node at another rate destroys every frame it does not understand, and nobody hears anybody.",
    "Set every node to the bit rate of the bus; where one cannot be set, give it a bus of its own and a gateway.",
    ("can-one-bit-rate",),
)


def _bit_rates(context: Context, each: Subject) -> Iterator[Finding]:
    bus = context.value(f"{each.path}.bit_rate")
    nodes = context.car.words(f"{each.path}.nodes")
    rates = context.car.list(f"{each.path}.node_bit_rates")
    wrong = [node for node, rate in zip(nodes, rates, strict=True) if rate.si != bus.si]
    yield _found("network.bit_rates", each, wrong, "fix", _BIT_RATES)


def _identified(car: Car, network: Network, bus: Bus) -> Iterator[tuple[Message, int, bool]]:
    """Yield the messages of a bus with their identifiers; raise Missing where one has none."""
    for message in network.on(bus):
        number = int(car.number(f"{message.path}.identifier"))
        yield message, number, is_extended(car, message)


_IDENTIFIERS = _Said(
    "No identifier is sent by two.",
    "Two messages have one identifier: sent at once they break each other, and a receiver cannot tell which it got.",
    "Give one of them an identifier of its own, and tell its receivers.",
    ("iso-11898-1-2015-arbitration",),
)


def _identifiers(context: Context, each: Subject) -> Iterator[Finding]:
    network, bus = context.book.network, _bus(context, each)
    if not network.messages:
        raise Missing(MESSAGE)
    sent: dict[tuple[int, bool], list[str]] = defaultdict(list)
    for message, number, long in _identified(context.car, network, bus):
        sent[number, long].append(message.name)
    wrong = [" and ".join(names) for names in sent.values() if len(names) > 1]
    yield _found("network.identifier", each, wrong, "fix", _IDENTIFIERS)


_MIX = _Said(
    "All identifiers of the bus are of one length.",
    "Identifiers of 11 and of 29 bits share the bus. That is allowed where every node takes both; one that takes 11 only disturbs every longer frame.",
    "Look in each node's sheet whether it takes both, or put the few on a bus of their own.",
    ("can-mixed-identifiers-practice",),
)


def _mix(context: Context, each: Subject) -> Iterator[Finding]:
    network, bus = context.book.network, _bus(context, each)
    if not network.messages:
        raise Missing(MESSAGE)
    by_length: dict[bool, list[str]] = {True: [], False: []}
    for message, _, long in _identified(context.car, network, bus):
        by_length[long].append(message.name)
    fewer = min(by_length.values(), key=len)
    yield _found("network.identifier_mix", each, fewer, "watch", _MIX)


_ADDRESSES = _Said(
    "No two nodes send under one address.",
    "Two nodes send under one address: one of them gives way and falls silent, or both are taken for one.",
    "Set one of them to a free address, and tell the nodes that look for it there.",
    ("sae-j1939-81-address-claim",),
)


def _speaks_j1939(context: Context) -> tuple[Subject, ...]:
    """Return the buses of SAE J1939, and those of 29 bits that do not say they are none."""
    car, network = context.car, context.book.network
    return tuple(
        bus_subject(bus)
        for bus in network.buses
        if car.texts.get(f"{bus.path}.protocol") == "J1939"
        or (
            f"{bus.path}.protocol" not in car.texts
            and any(is_extended(car, message) for message in network.on(bus))
        )
    )


def _addresses(context: Context, each: Subject) -> Iterator[Finding]:
    car, network, bus = context.car, context.book.network, _bus(context, each)
    car.text(f"{each.path}.protocol")
    senders: dict[int, dict[str, None]] = defaultdict(dict)
    for message, number, long in _identified(car, network, bus):
        if long:
            senders[source_address(number)][car.text(f"{message.path}.sender")] = None
    wrong = [f"{' and '.join(names)}" for names in senders.values() if len(names) > 1]
    yield _found("network.address", each, wrong, "fix", _ADDRESSES)


_NETWORK = Subject("", "network", "network")
_NAMES = _Said(
    "Every message stands on a bus there is and is sent by a node on it; every terminator sits at a node.",
    "A name does not fit: what stands there is not judged with its bus.",
    "Write the name as the bus or the node has it, or add the node to its bus.",
    ("can-names-practice",),
)


def _names(context: Context) -> Iterator[Finding]:
    car, network = context.car, context.book.network
    if not network.buses:
        raise Missing(BUS)
    wrong = [
        f"{node}, terminator of {bus.name}"
        for bus in network.buses
        for node in (car.words(f"{bus.path}.terminated_at"))
        if node not in car.words(f"{bus.path}.nodes")
    ]
    for message in network.messages:
        bus_name, sender = car.text(f"{message.path}.bus"), car.text(f"{message.path}.sender")
        if message.bus is None:
            wrong.append(f"{bus_name}, bus of {message.name}")
        elif sender not in message.bus.nodes:
            wrong.append(f"{sender}, sender of {message.name}")
    yield _found("network.names", _NETWORK, wrong, "fix", _NAMES)


_SIGNALS = _Said(
    "Charger, pack controller, inverter and vehicle controller, as far as they are on a bus, are sent what they need of each other.",
    "What one node needs of another is not sent to it: the car will not drive or charge, or will do it without a limit it must obey.",
    "Find in the sender's sheet the message that tells it and list it with carries; or, where it goes by a wire of its own, name it in network.wired.",
    ("can-signals-practice",),
)


def _signals(context: Context) -> Iterator[Finding]:
    car, network = context.car, context.book.network
    wired = car.words("network.wired") if "network.wired" in car.counts else ()
    if not network.messages and not wired:
        raise Missing(MESSAGE)
    roles = network.roles() | {table.PACK, table.INVERTER}
    lacking = [
        f"{signal.name} to the {taker}"
        for signal in table.SIGNALS
        if signal.name not in wired
        and not roles.isdisjoint(signal.givers)
        and (taker := next((role for role in signal.takers if role in roles), ""))
        and not _is_sent(network, signal, taker)
    ]
    silent = [f"{each.path}.carries" for each in network.messages if each.carries is None]
    if lacking and silent:
        raise Missing(*silent)
    yield _found("network.signals", _NETWORK, lacking, "fix", _SIGNALS)


def _is_sent(network: Network, signal: table.Signal, taker: str) -> bool:
    """Tell whether a message takes a signal from who gives it to a bus of who needs it."""
    return any(
        signal.name in (message.carries or ())
        and role_of(message.sender) in signal.givers
        and message.bus is not None
        and taker in roles_on(message.bus)
        for message in network.messages
    )


def _rule(rule_id: str, judge_one: EachFunction, said: _Said, outside: Verdict) -> Rule:
    return Rule(
        id=rule_id,
        subject=BUS,
        worst=outside,
        sources=said.sources,
        skip_reason=NO_BUS,
        remedy=said.remedy,
        over=buses,
        judge_one=judge_one,
    )


RULES = (
    _rule("network.terminators", _terminators, _TERMINATORS, "fix"),
    _rule("network.termination", _termination, replace(_TERMINATORS, sources=TERMINATION), "fix"),
    _rule("network.bit_rates", _bit_rates, _BIT_RATES, "fix"),
    _rule("network.identifier", _identifiers, _IDENTIFIERS, "fix"),
    _rule("network.identifier_mix", _mix, _MIX, "watch"),
    Rule(
        id="network.address",
        subject=BUS,
        worst="fix",
        sources=_ADDRESSES.sources,
        skip_reason="no bus of SAE J1939, or of 29-bit identifiers that may be it",
        remedy=_ADDRESSES.remedy,
        over=_speaks_j1939,
        judge_one=_addresses,
    ),
    Rule(
        id="network.names",
        subject="network",
        worst="fix",
        judge=_names,
        sources=_NAMES.sources,
        remedy=_NAMES.remedy,
    ),
    Rule(
        id="network.signals",
        subject="network",
        worst="fix",
        judge=_signals,
        sources=_SIGNALS.sources,
        remedy=_SIGNALS.remedy,
    ),
)
