"""The circuit as a graph: nodes, elements between them, and the devices elements belong to."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from types import MappingProxyType

CHASSIS = "chassis"

PACK = "pack"
DISCONNECT = "disconnect"
FUSE = "fuse"
CONTACTOR = "contactor"
PRECHARGE_RELAY = "precharge relay"
PRECHARGE_RESISTOR = "precharge resistor"
CABLE = "cable"
CONNECTOR = "connector"
BLEED = "bleed resistor"
ACTIVE_DISCHARGE = "active discharge"
LINK = "link capacitor"
Y_CAPACITOR = "y-capacitor"
LEAK = "isolation resistance"
MONITOR = "isolation monitor"
LOAD = "load"
INVERTER = "inverter"
CHARGER = "charger"
DCDC = "dc-dc"
INLET = "inlet"

KINDS = (
    PACK,
    DISCONNECT,
    FUSE,
    CONTACTOR,
    PRECHARGE_RELAY,
    PRECHARGE_RESISTOR,
    CABLE,
    CONNECTOR,
    BLEED,
    ACTIVE_DISCHARGE,
    LINK,
    Y_CAPACITOR,
    LEAK,
    MONITOR,
    LOAD,
    INVERTER,
    CHARGER,
    DCDC,
    INLET,
)

SWITCHES = frozenset({DISCONNECT, CONTACTOR, PRECHARGE_RELAY})
"""What can open. Only a disconnect is a gap a person opens and locks."""

SERIES = frozenset({FUSE, CABLE, CONNECTOR, PRECHARGE_RESISTOR}) | SWITCHES
"""What carries current along a pole."""

CONVERTERS = frozenset({LOAD, INVERTER, CHARGER, DCDC, INLET})
"""What stands between the poles and draws current, or gives it."""

ACROSS = frozenset({BLEED, ACTIVE_DISCHARGE, LINK}) | CONVERTERS
TO_CHASSIS = frozenset({Y_CAPACITOR, LEAK, MONITOR})


@dataclass(frozen=True)
class Element:
    """One element between two nodes.

    ``plus`` is the node at its plus terminal, ``minus`` the other; ``device`` names the thing it
    belongs to (a fuse in both poles is one device of two elements); ``path`` is the build path that
    describes it; ``entries`` says under which build path each of its data stands
    (``rating`` -> ``hv.main_fuse.rating``); ``share`` is the share of its string's modules that a
    pack element holds and ``string`` the number of its string, from 1.
    """

    name: str
    kind: str
    plus: str
    minus: str
    device: str
    path: str
    entries: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    share: float = 1.0
    string: int = 0
    parallel: float = 1.0

    @property
    def is_switch(self) -> bool:
        """Tell whether it can open."""
        return self.kind in SWITCHES

    def entry(self, name: str) -> str:
        """Return the build path of one of its data, or the path it would have."""
        return self.entries.get(name, f"{self.path}.{name}")


@dataclass(frozen=True)
class Device:
    """One thing of the car's circuit: a fuse, a cable pair, a converter; with its elements."""

    name: str
    kind: str
    path: str
    elements: tuple[Element, ...]

    @property
    def slug(self) -> str:
        """Return its name as it stands in figure ids."""
        return slug(self.name)

    @property
    def first(self) -> Element:
        """Return its first element, which has the device's data."""
        return self.elements[0]

    def entry(self, name: str) -> str:
        """Return the build path of one of its data."""
        return self.first.entry(name)


@dataclass(frozen=True, eq=False)
class Circuit:
    """The circuit of one car: its elements in the order they are drawn, from pack to loads.

    Two are the same only where they are one object: what is found of a circuit is kept by it.
    """

    elements: tuple[Element, ...]

    @cached_property
    def nodes(self) -> tuple[str, ...]:
        """Every node in the order of the elements, the chassis left out."""
        named = dict.fromkeys(
            node for element in self.elements for node in (element.plus, element.minus)
        )
        named.pop(CHASSIS, None)
        return tuple(named)

    @cached_property
    def devices(self) -> tuple[Device, ...]:
        """Every device, in the order of the elements."""
        groups: dict[str, list[Element]] = {}
        for element in self.elements:
            groups.setdefault(element.device, []).append(element)
        return tuple(
            Device(name, group[0].kind, group[0].path, tuple(group))
            for name, group in groups.items()
        )

    @cached_property
    def by_name(self) -> Mapping[str, Element]:
        """Every element by its name."""
        return MappingProxyType({element.name: element for element in self.elements})

    def of_kind(self, *kinds: str) -> tuple[Element, ...]:
        """Return the elements of some kinds."""
        return tuple(element for element in self.elements if element.kind in kinds)

    def devices_of(self, *kinds: str) -> tuple[Device, ...]:
        """Return the devices of some kinds."""
        return tuple(device for device in self.devices if device.kind in kinds)

    def at(self, nodes: Iterable[str]) -> tuple[Element, ...]:
        """Return the elements that touch any of some nodes."""
        wanted = set(nodes)
        return tuple(e for e in self.elements if e.plus in wanted or e.minus in wanted)


kept = lru_cache(maxsize=8)
"""Makes a function of a circuit alone keep what it gave of the last few circuits."""


_TAKEN = frozenset({"traction"})
"""What figures of the whole circuit are called by; a part of that name gets an id beside it."""


@lru_cache(maxsize=2048)
def slug(name: str) -> str:
    """Return a name as it stands in an id: lower case, words joined by underscores.

    Plus and minus are spelled out, so that the two poles of one thing stay apart.
    """
    spelled = name.lower().replace("+", " plus ").replace(" -", " minus ")
    found = re.sub(r"[^a-z0-9]+", "_", spelled).strip("_") or "unnamed"
    return f"{found}_" if found in _TAKEN else found
