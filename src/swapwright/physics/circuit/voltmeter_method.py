"""The voltmeter method: isolation of a live pack from three readings and a known resistor.

Plus-to-chassis and minus-to-chassis are read, then the pole with the larger reading again with the
resistor across it. The leak found is that of the *other* pole: the weaker one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from swapwright.base.figure import Symbol, Working
from swapwright.physics.circuit.isolation import resistance_of_all

Pole = Literal["plus", "minus"]

RESISTOR_TOO_SMALL = "refused: the resistor is under the least ohms per volt of the pack"
NOT_NUMBERS = "refused: resistor, pack voltage and meter must be numbers above zero"
NOT_A_READING = "one reading is below zero or no number: leads swapped, or a second source"
NOTHING_SHOWN = "both poles read nothing: a dead lead, a blown meter fuse, or no leak at all"
ZERO_AFTER = "zero volts where volts were expected: a dead lead or a wrong point"
ROSE = "the voltage rose with the resistor on: another source, or the wrong pole"
DID_NOT_FALL = (
    "the voltage did not fall with the resistor on: resistor not connected, or a dead fault"
)
MORE_THAN_PACK = "the two poles add up to more than the pack: a second source, or the pack moved"
METER_DISAGREES = "the readings do not fit this meter's input resistance: prove it, read again"
METER_TOO_LOW = (
    "the poles fall short of the pack by more than a meter fit for this method draws: a dead lead, "
    "a wrong unit, another source, or a weak meter"
)
NEXT_TO_NOTHING = (
    "one pole reads next to nothing beside the other: a dead lead, a wrong unit, or that pole lies "
    "dead on the chassis; prove the lead on a known dc source"
)
BALANCED = "balanced readings: one fault at mid-pack looks like none; only the second reading tells"

_NO_ANSWER = frozenset({RESISTOR_TOO_SMALL, NOT_NUMBERS})
_CONTRADICTIONS = frozenset(
    {
        NOT_A_READING,
        NOTHING_SHOWN,
        ZERO_AFTER,
        ROSE,
        DID_NOT_FALL,
        MORE_THAN_PACK,
        METER_DISAGREES,
        METER_TOO_LOW,
    }
)


@dataclass(frozen=True)
class IsolationTest:
    """What three readings say of the isolation; the readings are kept as read, always.

    ``resistor_on`` is the pole with the larger reading, where the resistor belongs; ``weak_pole``
    the other one, whose leak is ``isolation`` [ohm], the answer of the method. ``other_leak`` is
    that of the stronger pole [ohm], ``combined`` both side by side [ohm], ``older_form`` the answer
    of the older formula [ohm], ``meter_found`` the input resistance the readings imply [ohm],
    infinite for an ideal meter. ``place`` is where a single fault would sit, as a share of the
    pack's voltage from minus; leaks at both poles look the same. ``resistor_power`` [W] and
    ``resistor_voltage`` [V] are the most the resistor sees. ``notes`` say what is wrong or to be
    known; what cannot be told is None: no leak is given from readings that contradict each other.
    """

    v_pos: float
    v_neg: float
    v_after: float
    resistor: float
    battery: float
    meter: float | None
    resistor_on: Pole | None = None
    weak_pole: Pole | None = None
    isolation: float | None = None
    other_leak: float | None = None
    combined: float | None = None
    older_form: float | None = None
    meter_found: float | None = None
    place: float | None = None
    resistor_power: float | None = None
    resistor_voltage: float | None = None
    notes: tuple[str, ...] = ()

    @property
    def is_refused(self) -> bool:
        """Tell whether the test must not be done as given."""
        return bool(_NO_ANSWER.intersection(self.notes))

    @property
    def is_contradictory(self) -> bool:
        """Tell whether the readings stop the job: treat as live, prove the meter, find why."""
        return bool(_CONTRADICTIONS.intersection(self.notes))


def isolation_two_readings(
    *, resistor: float, battery: float, before: float, after: float
) -> float:
    """Return the leak of the weaker pole by the voltmeter method.

    Exact also with a meter that draws current, as long as it is the same one for both readings.

    resistor: known, across the pole with the larger reading for the second reading [ohm]
    battery: voltage of the pack at the time [V]
    before: the larger reading, pole to chassis [V]
    after: the same with the resistor [V]
    result: resistance from the other pole to the chassis [ohm]
    source: un-r100-isolation-measurement
    """
    return resistor * battery * (1.0 / after - 1.0 / before)


def isolation_older_form(*, resistor: float, other: float, before: float, after: float) -> float:
    """Return the leak of the weaker pole by the older formula, which needs no pack voltage.

    Reads low with a meter that draws current.

    resistor: known, across the pole with the larger reading for the second reading [ohm]
    other: the smaller reading, other pole to chassis [V]
    before: the larger reading, pole to chassis [V]
    after: the same with the resistor [V]
    result: resistance from the other pole to the chassis [ohm]
    source: fmvss-305-isolation-older-form, from memory
    """
    return resistor * (1.0 + other / before) * (before - after) / after


def resistor_power(*, voltage: float, resistor: float) -> float:
    """Return the most power the test resistor takes: the whole pack across it.

    voltage: maximum working voltage [V]
    resistor: known resistor [ohm]
    result: power [W]
    source: definition-ohm
    """
    return voltage**2 / resistor


def reading_wait(*, multiples: float, leak: float, capacitance: float) -> float:
    """Return the time to wait before a pole-to-chassis reading has settled.

    multiples: time constants waited [1]
    leak: all leaks and the meter side by side [ohm]
    capacitance: of both poles to the chassis together [F]
    result: time [s]
    source: voltmeter-method-practice
    """
    return multiples * leak * capacitance


def fault_place(*, negative: float, positive: float) -> float:
    """Return where along the pack a single fault to the chassis sits.

    The meter's own current lowers both readings alike, so the place stays right.

    negative: reading minus to chassis [V]
    positive: reading plus to chassis [V]
    result: share of the pack's voltage from minus [1]
    source: kirchhoff-leaks
    """
    return negative / (negative + positive)


def isolation_from_readings(
    *,
    v_pos: float,
    v_neg: float,
    v_after: float,
    resistor: float,
    battery: float,
    min_ohms_per_volt: float,
    tolerance: float,
    min_meter: float,
    meter: float | None = None,
) -> IsolationTest:
    """Return what three readings say of the isolation, with words where they say nothing.

    v_pos, v_neg: plus and minus to chassis, without sign [V]
    v_after: the larger of the two again, with the resistor across that pole [V]
    resistor: known [ohm]
    battery: voltage of the pack at the time [V]
    min_ohms_per_volt: a smaller resistor is refused [ohm/V]
    tolerance: how far readings may differ and still agree, as a share [1]
    min_meter: least input resistance of a meter for this method, held against where none is given
        [ohm]
    meter: input resistance of the meter, to hold the readings against; None if not known [ohm]
    result: see IsolationTest
    source: un-r100-isolation-measurement; kirchhoff-leaks
    """
    as_read = IsolationTest(v_pos, v_neg, v_after, resistor, battery, meter)
    given = (resistor, battery) if meter is None else (resistor, battery, meter)
    if not all(0.0 < each < math.inf for each in given):
        return replace(as_read, notes=(NOT_NUMBERS,))
    as_read = replace(
        as_read,
        resistor_power=resistor_power(voltage=battery, resistor=resistor),
        resistor_voltage=battery,
    )
    if resistor < min_ohms_per_volt * battery:
        return replace(as_read, notes=(RESISTOR_TOO_SMALL,))
    return _solved(as_read, tolerance, min_meter)


def is_next_to_nothing(*, v_pos: float, v_neg: float, tolerance: float) -> bool:
    """Tell whether one pole reads next to nothing beside the other, and the other does not.

    v_pos, v_neg: plus and minus to chassis, without sign [V]
    tolerance: how far readings may differ and still agree, as a share [1]
    result: whether the smaller is that small a share of the larger
    source: kirchhoff-leaks
    """
    smaller, larger = sorted((v_pos, v_neg))
    return 0.0 <= smaller <= tolerance * larger and larger > 0.0


def _solved(test: IsolationTest, tolerance: float, min_meter: float) -> IsolationTest:
    """Solve readings whose resistor is large enough."""
    v_pos, v_neg, v_after = test.v_pos, test.v_neg, test.v_after
    if not all(0.0 <= each < math.inf for each in (v_pos, v_neg, v_after)):
        return replace(test, notes=(NOT_A_READING,))
    if v_pos + v_neg == 0.0:
        return replace(test, notes=(NOTHING_SHOWN,))
    if v_pos + v_neg > (1.0 + tolerance) * test.battery:
        return replace(test, notes=(MORE_THAN_PACK,))
    on: Pole = "plus" if v_pos >= v_neg else "minus"
    is_balanced = abs(v_pos - v_neg) <= tolerance * (v_pos + v_neg)
    placed = replace(
        test,
        resistor_on=on,
        weak_pole="minus" if on == "plus" else "plus",
        place=fault_place(negative=v_neg, positive=v_pos),
        notes=(BALANCED,) if is_balanced else (),
    )
    larger, smaller = max(v_pos, v_neg), min(v_pos, v_neg)
    if v_after == 0.0:
        return replace(placed, notes=(*placed.notes, ZERO_AFTER))
    if v_after >= larger:
        return replace(placed, notes=(*placed.notes, ROSE if v_after > larger else DID_NOT_FALL))
    return _with_leaks(placed, (larger, smaller), tolerance, min_meter)


def _with_leaks(
    test: IsolationTest, poles: tuple[float, float], tolerance: float, min_meter: float
) -> IsolationTest:
    """Add both leaks to a test whose readings can be solved."""
    # All conductance to the chassis during the first readings, the meter's with it: the resistor
    # lowers the reading by its own share of the sum, whatever the pack's voltage.
    larger, smaller = poles
    total = test.v_after / (test.resistor * (larger - test.v_after))
    drawn = total * (1.0 - (larger + smaller) / test.battery)
    test = replace(test, meter_found=1.0 / drawn if drawn > 1e-9 * total else math.inf)
    wrong = _meter_note(test, drawn, total=total, tolerance=tolerance, min_meter=min_meter)
    if wrong:
        return replace(test, notes=(*test.notes, wrong))
    leak = isolation_two_readings(
        resistor=test.resistor, battery=test.battery, before=larger, after=test.v_after
    )
    through = smaller * total
    other = test.battery / through if through > 0.0 else math.inf
    return replace(
        test,
        isolation=leak,
        other_leak=other,
        combined=resistance_of_all((leak, other)),
        older_form=isolation_older_form(
            resistor=test.resistor, other=smaller, before=larger, after=test.v_after
        ),
    )


def _meter_note(
    test: IsolationTest, drawn: float, *, total: float, tolerance: float, min_meter: float
) -> str:
    """Return what is wrong where the poles fall short of the pack by other than the meter draws."""
    if test.meter is not None:
        return METER_DISAGREES if abs(drawn - 1.0 / test.meter) > tolerance * total else ""
    return METER_TOO_LOW if drawn - 1.0 / min_meter > tolerance * total else ""


_RO = Symbol("resistor", "ohm", 1e4, 1e6, "known resistor")
_BATTERY = Symbol("battery", "V", 20.0, 1500.0, "voltage of the pack")
_BEFORE = Symbol("before", "V", 10.0, 1500.0, "larger reading, pole to chassis")
_AFTER = Symbol("after", "V", 1.0, 1500.0, "the same with the resistor across")
_OTHER = Symbol("other", "V", 0.0, 750.0, "smaller reading, pole to chassis")
_METHOD = "the resistor across the pole with the larger reading; Y-capacitors settled"
_TRAP = "one fault at mid-pack leaves both poles balanced; the two first readings alone hide it"

ISOLATION_TWO_READINGS = Working(
    isolation_two_readings,
    "R_o * V_b * (1/V_a - 1/V)",
    {"R_o": _RO, "V_b": _BATTERY, "V_a": _AFTER, "V": _BEFORE},
    Symbol("isolation_two_readings", "ohm", 0.0, 1e9, "isolation by the voltmeter method"),
    ("un-r100-isolation-measurement",),
    _METHOD,
    _TRAP,
    "V_a < 0.999*V",
)

ISOLATION_OLDER_FORM = Working(
    isolation_older_form,
    "R_o * (1 + V_2/V) * (V - V_a) / V_a",
    {"R_o": _RO, "V_2": _OTHER, "V": _BEFORE, "V_a": _AFTER},
    Symbol("isolation_older_form", "ohm", 0.0, 1e9, "isolation by the older formula"),
    ("fmvss-305-isolation-older-form",),
    f"{_METHOD}; an ideal meter",
    f"a meter that draws current, with which it reads low; {_TRAP}",
    "V_a < 0.999*V",
)

RESISTOR_POWER = Working(
    resistor_power,
    "V**2 / R_o",
    {"V": Symbol("voltage", "V", 20.0, 1500.0, "maximum working voltage"), "R_o": _RO},
    Symbol("resistor_power", "W", 0.0, 1e3, "power of the test resistor"),
    ("definition-ohm",),
    "the other pole has a dead fault: the whole pack stands across the resistor",
    "",
)

READING_WAIT = Working(
    reading_wait,
    "n * R * C",
    {
        "n": Symbol("multiples", "1", 3.0, 10.0, "time constants waited", "count"),
        "R": Symbol("leak", "ohm", 1e2, 1e8, "leaks and meter side by side"),
        "C": Symbol("capacitance", "F", 1e-9, 1e-4, "capacitance of both poles to the chassis"),
    },
    Symbol("reading_wait", "s", 0.0, 1e5, "wait before a reading"),
    ("voltmeter-method-practice",),
    "",
    "a monitor that moves the poles while it measures",
)

FAULT_PLACE = Working(
    fault_place,
    "V_n / (V_n + V_p)",
    {
        "V_n": Symbol("negative", "V", 1.0, 1500.0, "reading minus to chassis"),
        "V_p": Symbol("positive", "V", 1.0, 1500.0, "reading plus to chassis"),
    },
    Symbol("fault_place", "1", 0.0, 1.0, "place of the fault, from minus", "fraction"),
    ("kirchhoff-leaks",),
    "one fault, far below every other leak",
    "two leaks at different points look like one fault between them",
)

WORKINGS: tuple[Working, ...] = (
    ISOLATION_TWO_READINGS,
    ISOLATION_OLDER_FORM,
    RESISTOR_POWER,
    READING_WAIT,
    FAULT_PLACE,
)
