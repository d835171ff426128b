"""The wiring sheet of a network: buses and what to measure, nodes in order, messages, lines."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.build.network import Bus, Line, Message, Network, is_extended, network_of
from swapwright.jobs.check import NOTHING_OPEN, OPEN, STOP, Checked, is_open
from swapwright.jobs.sheet_table import NOT_KNOWN, Table
from swapwright.jobs.telling import tell
from swapwright.physics.network.identifier import (
    parameter_group,
    priority_key,
    source_address,
)
from swapwright.standards.network import OPEN_CUTS

RULES = "network."
MEASURE = (
    "Measure between the two wires with the power off and all plugs on. With one terminator taken "
    "off or its node unplugged the reading doubles."
)
CARRIES = "What each message carries, and when it is taken for lost"


def network_status(checked: Checked) -> int:
    """Return the exit status of what the rules of the network found."""
    found = [each for each in checked.assessment.findings if each.rule.startswith(RULES)]
    if any(each.verdict == "stop" for each in found):
        return STOP
    return OPEN if any(is_open(each) for each in found) else NOTHING_OPEN


def bus_sheet(checked: Checked, profile: str, world: str = "electric") -> tuple[Table, ...]:
    """Return the tables of a car's network in a person's units and world."""
    network = network_of(checked.opened.car)
    sheet = _Sheet(checked, profile, world)
    return (
        Table(
            "Buses",
            ("", "bit rate", "length", "longest stub", "should measure", "measured", "load"),
            tuple(map(sheet.bus, network.buses)),
            MEASURE,
        ),
        Table(
            "Nodes, in the order of the wire",
            ("bus", "", "node", "terminator", "set to"),
            tuple(row for bus in network.buses for row in sheet.nodes(bus)),
        ),
        *(
            Table(
                f"Messages of {bus.name}, the most urgent first",
                ("identifier", "message", "from", "bytes", "every", "worst", "deadline"),
                tuple(sheet.messages(network, bus)),
            )
            for bus in network.buses
        ),
        Table(CARRIES, ("", "lost after", "carries"), tuple(map(sheet.carried, network.messages))),
        Table(
            "Lines of their own",
            ("line", "for", "from", "to", "its wire broken"),
            tuple(map(sheet.line, network.lines)),
        ),
    )


class _Sheet:
    """Tells the entries and figures of one car's network."""

    def __init__(self, checked: Checked, profile: str, world: str) -> None:
        self.car = checked.opened.car
        self.figures = checked.assessment.figures
        self.profile = profile
        self.world = world

    def _tell(self, si: float, kind: str) -> str:
        return tell(si, kind, self.profile, world=self.world)

    def told(self, name: str, kind: str) -> str:
        """Return a figure or an entry as a person reads it, a question mark where it is not."""
        figure = self.figures.get(name)
        value = self.car.get(name) if figure is None else figure.value
        return NOT_KNOWN if value is None else self._tell(value.si, kind)

    def word(self, path: str) -> str:
        """Return a text of the file, a question mark where there is none."""
        return self.car.texts.get(path, NOT_KNOWN)

    def bus(self, bus: Bus) -> tuple[str, ...]:
        """Return the row of one bus."""
        at = f"network.{bus.slug}"
        return (
            bus.name,
            self.told(f"{bus.path}.bit_rate", "bit_rate"),
            self.told(f"{bus.path}.length", "length"),
            self.told(f"{bus.path}.longest_stub", "length"),
            self.told(f"{at}.expected_resistance", "resistance"),
            self.told(f"{bus.path}.measured_resistance", "resistance"),
            self.told(f"{at}.load", "fraction"),
        )

    def nodes(self, bus: Bus) -> Iterator[tuple[str, ...]]:
        """Yield the rows of the nodes of one bus."""
        path = f"{bus.path}.terminated_at"
        fitted = self.car.words(path) if path in self.car.counts else None
        rates = self.car.numbers.get(f"{bus.path}.node_bit_rates", ())
        for number, node in enumerate(bus.nodes):
            has = NOT_KNOWN if fitted is None else "yes" if node in fitted else "no"
            rate = self._tell(rates[number].si, "bit_rate") if number < len(rates) else ""
            yield bus.name, str(number + 1), node, has, rate or NOT_KNOWN

    def messages(self, network: Network, bus: Bus) -> Iterator[tuple[str, ...]]:
        """Yield the rows of the messages of one bus, the most urgent first."""
        for message in sorted(network.on(bus), key=self._key):
            at = f"network.{bus.slug}.{message.slug}"
            size = self.car.get(f"{message.path}.bytes")
            yield (
                self._identifier(message),
                message.name,
                message.sender or NOT_KNOWN,
                NOT_KNOWN if size is None else f"{size.si:.0f}",
                self.told(f"{message.path}.period", "time"),
                self.told(f"{at}.response", "time"),
                self.told(f"{at}.deadline", "time"),
            )

    def _key(self, message: Message) -> tuple[bool, tuple[int, bool, int]]:
        number = self.car.get(f"{message.path}.identifier")
        if number is None:
            return True, (0, False, 0)
        is_long = is_extended(self.car, message)
        return False, priority_key(identifier=int(number.si), is_extended=is_long)

    def carried(self, message: Message) -> tuple[str, ...]:
        """Return what a message carries, and by SAE J1939 its group and its sender's address."""
        lost = self.told(f"{message.path}.timeout", "time")
        told = ", ".join(message.carries or ()) or NOT_KNOWN
        value = self.car.get(f"{message.path}.identifier")
        if value is None or message.bus is None or not is_extended(self.car, message):
            return message.name, lost, told
        if self.car.texts.get(f"{message.bus.path}.protocol") != "J1939":
            return message.name, lost, told
        number = int(value.si)
        group, address = parameter_group(number), source_address(number)
        return message.name, lost, f"{told} (group {group}, from address {address})"

    def line(self, line: Line) -> tuple[str, ...]:
        """Return the row of one line."""
        ends = (self.word(f"{line.path}.{key}") for key in ("from", "to"))
        state = self.word(f"{line.path}.fail_state")
        broken = state if state == NOT_KNOWN else "lets go" if state == OPEN_CUTS else "holds on"
        return (line.name, line.kind, *ends, broken)

    def _identifier(self, message: Message) -> str:
        value = self.car.get(f"{message.path}.identifier")
        if value is None:
            return NOT_KNOWN
        return f"0x{int(value.si):0{8 if is_extended(self.car, message) else 3}X}"
