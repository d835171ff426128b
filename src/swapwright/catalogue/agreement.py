"""What must agree within one part: limits the right way round, tables that can be true."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from types import MappingProxyType

from swapwright.base.figure import Value
from swapwright.base.table import Line, Map

# What is wrong: the key it stands at, a sentence, what would be allowed.
Disagreement = tuple[str, str, str]

_IN_ORDER: Mapping[str, tuple[tuple[str, str], ...]] = MappingProxyType(
    {
        "cell": (
            ("min_voltage", "nominal_voltage"),
            ("nominal_voltage", "max_voltage"),
            ("discharge_continuous", "discharge_peak"),
            ("charge_continuous", "charge_peak"),
            ("resistance_ohmic", "resistance_10s"),
            ("min_discharge_temperature", "max_temperature"),
            ("min_charge_temperature", "max_temperature"),
        ),
        "motor": (
            ("continuous_power", "peak_power"),
            ("continuous_torque", "peak_torque"),
        ),
        "inverter": (
            ("min_voltage", "max_voltage"),
            ("max_voltage", "absolute_max_voltage"),
            ("phase_current_continuous", "phase_current_limit"),
        ),
        "charger": (("min_voltage", "max_voltage"),),
        "dcdc": (("min_voltage", "max_voltage"), ("full_power_to", "no_power_at")),
        "fuse": (
            ("min_breaking", "breaking"),
            ("rating", "breaking"),
            ("pre_arcing_i2t", "clearing_i2t"),
        ),
        "contactor": (("drop_out", "pull_in"), ("coil_power", "pull_in_power")),
    }
)


def disagreements(
    kind: str,
    values: Mapping[str, Value],
    numbers: Mapping[str, tuple[Value, ...]],
    tables: Mapping[str, Line | Map],
) -> Iterator[Disagreement]:
    """Yield everything in a part's own entries that contradicts another of them.

    ``values``, ``numbers`` and ``tables`` are the part's, by key.
    """
    for lower, upper in _IN_ORDER.get(kind, ()):
        if lower in values and upper in values and values[lower].si > values[upper].si:
            yield lower, f"{lower} is above {upper}", f"no more than {upper}"
    if kind == "cell":
        yield from _cell_tables(tables)
    if kind == "motor":
        yield from _envelope(tables.get("envelope"))
    if kind == "fuse":
        yield from _falls(tables, "melting", "the melting time does not fall as the current rises")
    if kind == "contactor":
        yield from _falls(tables, "overload", "the current does not fall as the time grows")
    if kind == "gearbox":
        yield from _gears(numbers.get("ratios", ()), numbers.get("use", ()))


def _cell_tables(tables: Mapping[str, Line | Map]) -> Iterator[Disagreement]:
    rest_voltage = tables.get("ocv")
    if isinstance(rest_voltage, Line) and any(a > b for a, b in pairwise(rest_voltage.y)):
        yield "ocv", "the rest voltage falls as the charge rises", "y that never falls"
    for key in ("r0", "r1", "r2"):
        table = tables.get(key)
        if isinstance(table, Map) and min(min(row) for row in table.z) <= 0.0:
            yield key, "a resistance is not above zero", "resistances above zero"


def _falls(tables: Mapping[str, Line | Map], key: str, sentence: str) -> Iterator[Disagreement]:
    curve = tables.get(key)
    if isinstance(curve, Line) and any(a <= b for a, b in pairwise(curve.y)):
        yield key, sentence, "y that falls from point to point"


def _envelope(envelope: Line | Map | None) -> Iterator[Disagreement]:
    if not isinstance(envelope, Line):
        return
    if envelope.x[0] < 0.0 or min(envelope.y) < 0.0:
        yield "envelope", "a speed or torque is below zero", "speeds and torques from zero up"


def _gears(ratios: tuple[Value, ...], use: tuple[Value, ...]) -> Iterator[Disagreement]:
    if not ratios or min(ratio.si for ratio in ratios) <= 0.0:
        yield "ratios", "a gearbox needs ratios above zero", "one ratio or more, above zero"
    if any(a.si <= b.si for a, b in pairwise(ratios)):
        yield "ratios", "the ratios do not fall", "the lowest gear (highest ratio) first"
    if any(not 1.0 <= gear.si <= len(ratios) for gear in use):
        yield "use", "a gear used is not in the gearbox", f"gears 1 to {len(ratios)}"
